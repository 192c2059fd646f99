"""From a Book to its finished pages, and from all books to the page that lists them."""
from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

from markupsafe import Markup

from basis.chapters import catalogue
from basis.language.faults import Fault, Faults
from basis.language.formula import Chapter
from basis.site import atlas as atlases
from basis.site import drawings, exports, frame, html, parts, search, workers
from basis.site.atlas import WORKINGS, Atlas, Workshop, option_page, working_page, workings
from basis.site.frame import Page, Surround
from basis.site.functions import ChapterFunctions
from basis.site.overview import OverviewFunctions, ShelfFunctions, Summary, summary
from basis.site.render import Converted, Layout, convert, fill, layout, misspelt
from basis.solving.book import Book, Value

ENDING = ".md.j2"
OVERVIEWS = {"front": "index.html", "options": "options.html", "checks": "checks.html", "self_tests": "self-tests.html", "assumptions": "assumptions.html",
             "sources": "sources.html", "terms": "terms.html"}
CITED = re.compile(r'href="sources\.html#source-([^"]+)"')
TITLES = {"options": "Options side by side", "checks": "Checks", "self_tests": "Self-tests of the program",
          "assumptions": "Open assumptions", "sources": "Sources", "terms": "Terms and symbols"}


@dataclass(frozen=True)
class BookPages:
    """All pages and data files of one book by address, and its line on the page of all books."""

    pages: dict[str, Page]
    files: dict[str, str]
    summary: Summary


def layouts(folders: tuple[Path, ...]) -> dict[str, Layout]:
    """Every template that there is, checked and compiled. Raises Faults of all of them."""
    wanted = dict.fromkeys((*OVERVIEWS, *WORKINGS, "option"), OverviewFunctions) | {"books": ShelfFunctions}
    chapters = {name.removesuffix(ENDING): ChapterFunctions for name in sorted(path.name for path in folders[-1].glob(f"*{ENDING}"))}
    every = [list((chapters | wanted).items())]
    converted = workers.each(lambda some: [(name, _converted(name + ENDING, folders, functions)) for name, functions in some], every, beside=True)
    catalogue()  # this process reads the formulas while a copy turns templates into code
    found, faults = {}, misspelt(folders)
    for name, made in (one for _, some in converted for one in some):
        if isinstance(made, Converted):
            found[name] = layout(made)
        else:
            faults += made
    if faults:
        raise Faults(faults)
    return found


def _converted(name: str, folders: tuple[Path, ...], functions: type) -> Converted | tuple[Fault, ...]:
    try:
        return convert(name, folders, functions)
    except Faults as wrong:
        return wrong.faults


def of_book(book: Book, ready: dict[str, Layout], workshop: Workshop) -> BookPages:
    """All pages of one book. Raises Faults of all its templates. `workshop` keeps what is made once."""
    around = frame.of_book(book)
    ahead = drawings.ahead(book) if workshop.helped else ()  # copies of this process draw while it makes the pages without figures
    made = _all(make for makers in (_sheet_makers, _overview_makers, _option_makers) for make in makers(around, ready, workshop))
    for drawn in ahead:
        workshop.drawn.update(drawn)
    made += _all(_chapter_makers(around, ready, workshop))
    cited = {source_id for page in made for source_id in CITED.findall(page.body)}
    made += _all([lambda: _overview(around, "sources", OverviewFunctions(atlases.of_book(book, OVERVIEWS["sources"], workshop), cited=cited), ready)])
    atlas = atlases.of_book(book, workshop=workshop)
    files = {f"{book.project.slug}/search.js": search.script(atlas)} | exports.files(atlas)
    return BookPages({page.address: page for page in made}, files, summary(book, frame.text(book, "place")))


def _all(makers: Iterable[Callable[[], Page]]) -> list[Page]:
    """Pages of all makers. Raises Faults of all of them."""
    made, faults = [], []
    for make in makers:
        try:
            made.append(make())
        except Faults as wrong:
            faults += wrong.faults
    if faults:
        raise Faults(faults)
    return made


def _chapter_makers(around: Surround, ready: dict[str, Layout], workshop: Workshop) -> Iterable:
    for chapter in around.book.chapters:
        yield lambda chapter=chapter: _chapter_page(around, atlases.of_book(around.book, f"{chapter.id}.html", workshop), chapter, ready.get(chapter.id))


def _sheet_makers(around: Surround, ready: dict[str, Layout], workshop: Workshop) -> Iterable:
    for chapter in around.book.chapters:
        for kind, values in workings(around.book, chapter.id).items():
            atlas = atlases.of_book(around.book, working_page(chapter.id, kind), workshop)
            yield lambda chapter=chapter, kind=kind, values=values, atlas=atlas: _working_page(around, atlas, chapter, kind, values, ready[kind])


def _overview_makers(around: Surround, ready: dict[str, Layout], workshop: Workshop) -> Iterable:
    for name in OVERVIEWS:
        if name != "sources":  # it lists what the other pages cite
            functions = OverviewFunctions(atlases.of_book(around.book, OVERVIEWS[name], workshop))
            yield lambda name=name, functions=functions: _overview(around, name, functions, ready)


def _overview(around: Surround, name: str, functions: OverviewFunctions, ready: dict[str, Layout]) -> Page:
    return frame.page(around, OVERVIEWS[name], name, TITLES.get(name, around.book.project.name), fill(ready[name], functions))


def _option_makers(around: Surround, ready: dict[str, Layout], workshop: Workshop) -> Iterable:
    for decision in around.book.project.decisions:
        for option in decision.options:
            if option.id != decision.chosen:
                atlas = atlases.of_option(around.book, decision, option, option_page(decision.id, option.id), workshop)
                yield lambda atlas=atlas: _option_page(around, atlas, ready["option"])


def _chapter_page(around: Surround, atlas: Atlas, chapter: Chapter, layout: Layout | None) -> Page:
    """The chapter as its template tells it, then what every chapter has: checks, cautions, what is open, the way to the sheet."""
    if layout is None:
        raise Faults([Fault(chapter.id + ENDING, 0, "no such template", f"the text of chapter '{chapter.id}'")])
    content = fill(layout, ChapterFunctions(atlas, chapter))
    content += _not_told(atlas, chapter, content) + _added(atlas, chapter)
    return frame.page(around, f"{chapter.id}.html", "chapter", chapter.title, content)


def _not_told(atlas: Atlas, chapter: Chapter, content: Markup) -> Markup:
    """Decisions about Terms of this chapter that its template has not placed."""
    return html.join([parts.compared(atlas, decision, chapter, ()) for decision in atlas.book.decisions_of(chapter.id)
                      if f'id="decision-{decision.id}"' not in content])


def _added(atlas: Atlas, chapter: Chapter) -> Markup:
    """Sections that every chapter has; one with nothing to say is left out."""
    book, own = atlas.book, {check.id for check in catalogue().checks[chapter.id]}
    values = book.of_chapter(chapter.id)
    rest = parts.upstream(book, values)
    sections = (
        ("Checks", "checks", parts.checks_table(atlas, [verdict for verdict in book.checks if verdict.check.id in own])),
        ("Outside the range of a formula", "out-of-range", parts.warnings(atlas, values)),
        ("Cautions", "cautions", parts.cautions(chapter.cautions)),
        ("Still assumed here", "still-assumed", parts.assumptions_table(atlas, [given for given in book.assumptions() if given.term in rest])),
        ("Working", "working", html.paragraph("Every number of this chapter, with formula, inputs and source: ", parts.working_links(book, chapter), ".")),
    )
    return html.join([html.heading(2, title, id=anchor) + inner for title, anchor, inner in sections if inner])


def _working_page(around: Surround, atlas: Atlas, chapter: Chapter, kind: str, values: Sequence[Value], layout: Layout) -> Page:
    return frame.page(around, working_page(chapter.id, kind), "sheet", f"{chapter.title}: {WORKINGS[kind].lower()}",
                      fill(layout, OverviewFunctions(atlas, values)))


def _option_page(around: Surround, atlas: Atlas, layout: Layout) -> Page:
    decision, option = atlas.option
    shown = [value for value_id, value in atlas.book.values.items() if value_id in atlas.moved]
    content = html.paragraph(html.tag("strong", "Gives up: "), option.gives_up or "not stated") + fill(layout, OverviewFunctions(atlas, shown))
    return frame.page(around, option_page(decision.id, option.id), "option", f"{decision.name}: {option.name}, working", content)


def index(summaries: Sequence[Summary], ready: dict[str, Layout]) -> Page:
    """The page of all books."""
    searched = [f"{one.slug}/search.js" for one in summaries]
    return frame.outer_page("index.html", "books", "Design basis books", fill(ready["books"], ShelfFunctions(summaries)), searched)


def fault_page(address: str, faults: Iterable[Fault]) -> Page:
    """What stands in place of a page while the text of its project is wrong."""
    lines = [html.tag("code", f"{fault.file}:{fault.line}" if fault.line else fault.file) + " " + _told(fault) for fault in faults]
    content = html.paragraph("The book is not up to date. Save the corrected file and this page comes back.") + html.bullets(lines, class_="faults")
    return frame.outer_page(address, "faults", "What is wrong in the project text", Markup(content))


def _told(fault: Fault) -> str:
    return "; ".join(part for part in (fault.what, f"expected {fault.expected}" if fault.expected else "", f"nearest: {fault.nearest}" if fault.nearest
                                       else "") if part)
