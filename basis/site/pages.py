"""From a Book to its finished pages, and from all books to the page that lists them."""
from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from importlib import import_module
from pathlib import Path

from markupsafe import Markup

from basis.chapters import catalogue
from basis.export.files import data_files, packed
from basis.language import user_cache
from basis.language.digests import digest
from basis.language.faults import Fault, Faults
from basis.language.formula import Chapter
from basis.record import makers
from basis.record.history import History, Issue
from basis.site import addresses as addressing
from basis.site import exports, figures, follow, frame, html, parts, registers, search_index, trial_pages, worker_processes, working
from basis.site.addresses import WORKINGS, Addresses, Workshop, option_page, working_page, workings
from basis.site.frame import Page, Surround
from basis.site.functions import BookFunctions, ChapterFunctions
from basis.site.help import HELP, HelpFunctions
from basis.site.kept import kept
from basis.site.lasting import Lasting
from basis.site.numbering import GENERAL, referred
from basis.site.overview import OverviewFunctions, ShelfFunctions, Summary, summary
from basis.site.page_data import PageData
from basis.site.read_tracker import Answers, TrackedBook
from basis.site.render import Converted, Layout, code_of, convert, fill, layout, misspelt, shown_path
from basis.site.revisions import RevisionFunctions
from basis.site.trial_pages import Trials
from basis.solving.book import Book
from basis.solving.turning import Turning, begun
from basis.solving.verdicts import cautions_of

ENDING = ".md.j2"
KEPT = "templates"  # what they become is kept from run to run
OVERVIEWS = {"front": "index.html", "options": "options.html", "governs": "governs.html", "checks": "checks.html", "compliance": "compliance.html",
             "questions": "questions.html", "self_tests": "self-tests.html", "assumptions": "assumptions.html", "revisions": "revisions.html",
             "sources": "sources.html", "terms": "terms.html"}
NEEDED = ("basis.site.margins", "scipy.integrate", "icalendar")  # by every book; with matplotlib most of a second
RANKED = ("front", "governs", "assumptions")  # pages that show turning points
AT_HOME = ("chapter", *RANKED, "revisions")  # kinds that this process makes itself where it has a companion: about half of the work, and what waits for others
Turned = Callable[[], tuple[Turning, ...] | None]  # waits for the search for turning points, where there is one
SHARES = 20  # of the search for turning points, where several processors take part


def not_searched() -> None:
    """Of a book whose turning points are not asked for."""


@dataclass(frozen=True)
class BookPages:
    """All pages and data files of one book by address, and its line on the page of all books."""

    pages: dict[str, Page]
    files: dict[str, str | bytes]
    summary: Summary


def load_what_books_need() -> None:
    """Formulas, libraries and figures: loaded before there are copies of this process that make books, once for all of them. What rests on the formulas alone
    is made meanwhile and kept.
    """
    catalogue()
    kept = worker_processes.each(lambda make: bool(make()), (makers.of_program, working.of_program), beside=True)
    for name in NEEDED:
        import_module(name)
    for chapter in figures.modules():
        figures.figures_of(chapter)
    list(kept)


def layouts(folders: tuple[Path, ...], meanwhile: Callable[[], None] = load_what_books_need) -> dict[str, Layout]:
    """Every template that there is, checked and compiled by copies of this process, which does something else meanwhile. Raises Faults of all of them."""
    wanted = dict.fromkeys((*OVERVIEWS, *WORKINGS, "option"), OverviewFunctions) | dict.fromkeys(HELP, HelpFunctions) \
        | {"revisions": RevisionFunctions, "books": ShelfFunctions}
    chapters = {name.removesuffix(ENDING): ChapterFunctions for name in sorted(path.name for path in folders[-1].glob(f"*{ENDING}"))}
    every, key = list((chapters | wanted).items()), _of_templates(folders)
    known = user_cache.recall(KEPT, key) or {}
    converted = worker_processes.each(lambda one: _converted(one[0] + ENDING, folders, one[1], known.get(one[0])), every, beside=True)
    meanwhile()
    converted = {name: made for (name, _), made in converted}
    faults = misspelt(folders) + [fault for _, _, wrong in converted.values() for fault in wrong]
    if faults:
        raise Faults(faults)
    if not known:
        user_cache.keep(KEPT, key, {name: made.plain for name, (made, _, _) in converted.items()})
    return {name: layout(*converted[name][:2]) for name, _ in every}


def _of_templates(folders: tuple[Path, ...]) -> str:
    """Digest of the program and of all templates, each with its place."""
    files = [path for folder in folders for path in sorted(folder.iterdir()) if path.is_file()]
    return digest(user_cache.program(), user_cache.digest_of_paths(files), *(shown_path(path).as_posix() for path in files))


def _converted(name: str, folders: tuple[Path, ...], functions: type, known: list | None) -> tuple[Converted | None, bytes, tuple[Fault, ...]]:
    """A template and its code, or what is wrong with it; `known` is what an earlier run made of it."""
    try:
        made = Converted.of_plain(known) if known else convert(name, folders, functions)
        return made, code_of(made), ()
    except Faults as wrong:
        return None, b"", wrong.faults


@dataclass(frozen=True)
class Content:
    """What the making of one page yields: its content, the files that it links to, and the sources that it cites."""

    html: Markup
    files: dict[str, str]
    cited: frozenset[str]


@dataclass(frozen=True)
class Sketch:
    """A page before it is made: its place among the others, what fills its template, and what follows the template."""

    addresses: Addresses
    kind: str
    title: str
    layout: Layout | None
    functions: Callable[[Addresses], BookFunctions]
    before: Callable[[Addresses], Markup] = lambda addresses: html.EMPTY
    after: Callable[[Addresses], Markup] = lambda addresses: html.EMPTY
    chapter: Chapter | None = None  # of which it is the page
    given: tuple = ()  # what it shows beside what it reads of the book

    @property
    def name(self) -> str:
        """Of the page, in its book."""
        return self.addresses.here


Tried = tuple[tuple[Page, Content] | None, tuple[Fault, ...]]  # a page with its content, or what is wrong with its template


def of_book(book: Book, ready: dict[str, Layout], workshop: Workshop, history: History = History(), turned: Turned = not_searched) -> BookPages:
    """All pages of one book. Raises Faults of all its templates. `workshop` keeps what is made once, `history` is what has been issued of it, `turned` its
    turning points."""
    around = frame.of_book(book)
    if not workshop.keep:
        workshop = replace(workshop, lasting=Lasting.of(book))
    read = _tracked(book, workshop)
    made = _all(around, _sketches(read, ready, workshop, history, turned()), workshop)
    cited = frozenset().union(*(content.cited for _, content in made))
    made.append(page(around, _overview(read, "sources", ready, workshop, cited)))
    if workshop.lasting:
        workshop.lasting.keep(one.data for one, _ in made)
    told = search_index.told(book, [one for one, _ in made])
    shown = follow.shown_on(book, (one for one, _ in made))
    plain = addressing.of_book(book, workshop=workshop)  # nearly every save moves what these two tell: made anew sooner than asked whether they must be
    files = {f"{book.project.slug}/search-index.js": search_index.script(plain, told), f"{book.project.slug}/graph.js": follow.script(plain, shown)}
    for _, content in made:
        files |= content.files
    if workshop.data:
        data = packed(data_files(book, addressing.of_book(book)))
        files |= {f"{book.project.slug}/{name}": content for name, content in data.items()}
    return BookPages({one.address: one for one, _ in made}, files, summary(book))


def beside(book: Book, ready: dict[str, Layout], workshop: Workshop, history: History) -> dict[str, Tried]:
    """The pages of one book that its companion makes, by name."""
    around, sketches = frame.of_book(book), _sketches(_tracked(book, workshop), ready, workshop, history)
    return {sketch.name: _tried(around, sketch) for sketch in sketches if sketch.kind not in AT_HOME}


def _tracked(book: Book, workshop: Workshop) -> Book:
    """The book, which notes what is read of it where what is made will be asked for again."""
    return TrackedBook(book, Answers(book, workshop.asked)) if workshop.keep else book


def names_in_order(book: Book, working: bool) -> list[str]:
    """The pages of a book in the order in which they are read from front to back; `working`: with those of the working of each chapter."""
    after = [working_page(chapter.id, kind) for chapter in book.chapters for kind in workings(book, chapter.id)] if working else []
    return [OVERVIEWS["front"], *(f"{chapter.id}.html" for chapter in book.chapters), *(address for address, _ in GENERAL), *after]


def contents(book: Book, ready: dict[str, Layout], workshop: Workshop, history: History, working: bool) -> list[tuple[Sketch, Content]]:
    """What these pages hold, without what stands round them. Raises Faults of the template that is wrong first."""
    turned = search(book, workshop)
    sketches = [*_chapter_sketches(book, ready, workshop), *(_working_sketches(book, ready, workshop) if working else ()),
                *_overview_sketches(book, ready, workshop, turned(), history), revisions_sketch(book, history, ready, workshop)]
    made = [(sketch, _content(sketch.addresses, sketch)) for sketch in sketches]
    last = _overview(book, "sources", ready, workshop, frozenset().union(*(content.cited for _, content in made)))
    return [*made, (last, _content(last.addresses, last))]


def _sketches(book: Book, ready: dict[str, Layout], workshop: Workshop, history: History, turned: tuple[Turning, ...] | None = None) -> list[Sketch]:
    """Every page of a book but the sources, which list what the others cite."""
    return [*_chapter_sketches(book, ready, workshop), *_working_sketches(book, ready, workshop), *_overview_sketches(book, ready, workshop, turned, history),
            revisions_sketch(book, history, ready, workshop), *_option_sketches(book, ready, workshop)]


def _all(around: Surround, sketches: Sequence[Sketch], workshop: Workshop) -> list[tuple[Page, Content]]:
    """All pages with their content. Raises Faults of all of them."""
    if workshop.helped:
        done = {sketch.name: made for sketch, made in worker_processes.each(lambda sketch: _tried(around, sketch), sketches)}
    else:
        done = {sketch.name: _tried(around, sketch) for sketch in sketches if sketch.kind in AT_HOME}
        done |= workshop.beside()
        done |= {sketch.name: _tried(around, sketch) for sketch in sketches if sketch.name not in done}
    if faults := [fault for sketch in sketches for fault in done[sketch.name][1]]:
        raise Faults(faults)
    return [done[sketch.name][0] for sketch in sketches]


def _tried(around: Surround, sketch: Sketch) -> Tried:
    try:
        return page(around, sketch), ()
    except Faults as wrong:
        return None, wrong.faults


def page(around: Surround, sketch: Sketch) -> tuple[Page, Content]:
    """A page with its content. Raises Faults of its template."""
    if sketch.layout is None:
        raise Faults([Fault(sketch.addresses.here.replace(".html", ENDING), 0, "no such template", f"the text of chapter '{sketch.title}'")])
    content = kept(sketch.addresses, ("content", sketch.addresses.here), lambda addresses: _content(addresses, sketch), sketch.layout.digest, *sketch.given)
    return frame.page(around, sketch.addresses, sketch.kind, sketch.title, content.html), content


def _content(addresses: Addresses, sketch: Sketch) -> Content:
    content = _filled(addresses, sketch, sketch.functions(addresses))
    trials = Trials()
    if sketch.chapter:
        trials = trial_pages.of_page(addresses, sketch.chapter, content, lambda step, functions: _filled(step, sketch, functions))
    files = exports.files(addresses) | {f"{addresses.main.project.slug}/{name}": script for name, script in trials.files.items()}
    return Content(trials.section + content + trials.end, files, frozenset(addresses.data.cited))


def _filled(addresses: Addresses, sketch: Sketch, functions: BookFunctions) -> Markup:
    """The template with what stands before and after it."""
    content = sketch.before(addresses) + fill(sketch.layout, functions, addresses.data)
    return referred(content + sketch.after(addresses), addresses.data)


def _chapter_sketches(book: Book, ready: dict[str, Layout], workshop: Workshop) -> Iterator[Sketch]:
    for chapter in book.chapters:
        yield chapter_sketch(addressing.of_book(book, f"{chapter.id}.html", workshop), chapter, ready.get(chapter.id))


def chapter_sketch(addresses: Addresses, chapter: Chapter, layout: Layout | None) -> Sketch:
    """The page of a chapter."""
    return Sketch(addresses, "chapter", chapter.title, layout, lambda addresses: ChapterFunctions(addresses, chapter),
                  after=lambda addresses: _not_told(addresses, chapter) + _added(addresses, chapter), chapter=chapter)


def _working_sketches(book: Book, ready: dict[str, Layout], workshop: Workshop) -> Iterator[Sketch]:
    for chapter in book.chapters:
        for kind, ids in workings(book, chapter.id).items():
            yield Sketch(addressing.of_book(book, working_page(chapter.id, kind), workshop), "sheet", f"{chapter.title}: {WORKINGS[kind].lower()}", ready[kind],
                         lambda addresses, ids=ids: OverviewFunctions(addresses, ids), given=ids)


def search(book: Book, workshop: Workshop) -> Turned:
    """The turning points of a book, where they are asked for: their search begins at once where copies of this process may help. What was found for its last
    state, by this program or by an earlier run, is taken where nothing that counts has changed.
    """
    if not workshop.turning:
        return not_searched
    place = digest(user_cache.program(), book.project.slug)
    if not workshop.turned:
        workshop.turned.update(user_cache.recall("turning", place) or {})
    before = set(workshop.turned)
    rest = begun(book, workshop.turned, _spread if workshop.helped else map, workshop.searched)

    def ended() -> tuple[Turning, ...]:
        found = rest()
        if set(workshop.turned) != before:
            user_cache.keep("turning", place, workshop.turned)
        return found
    return ended


def _spread(work: Callable, items: Sequence) -> Iterator:
    """Work for every item, in shares of which each processor takes several, so that it can be told how far the work is."""
    shares = [items[number::SHARES] for number in range(min(SHARES, len(items)))]
    return (one for _, done in worker_processes.each(lambda share: [work(item) for item in share], shares, beside=True) for one in done)


def _overview_sketches(book: Book, ready: dict[str, Layout], workshop: Workshop, turned: tuple[Turning, ...] | None,
                       history: History) -> Iterator[Sketch]:
    for name in OVERVIEWS:
        if name not in ("sources", "revisions"):  # of which one lists what the other pages cite, and one asks for more than the book
            yield _overview(book, name, ready, workshop, turned=turned if name in RANKED else None,
                            issue=history.issue if name == "front" else None)


def _overview(book: Book, name: str, ready: dict[str, Layout], workshop: Workshop, cited: frozenset = frozenset(),
              turned: tuple[Turning, ...] | None = None, issue: Issue | None = None) -> Sketch:
    return Sketch(addressing.of_book(book, OVERVIEWS[name], workshop), name, _title(book, name), ready[name],
                  lambda addresses: OverviewFunctions(addresses, cited=cited, turned=turned, issue=issue), given=(cited, turned, issue))


def _title(book: Book, name: str) -> str:
    return dict(GENERAL).get(OVERVIEWS[name], book.project.name)


def revisions_sketch(book: Book, history: History, ready: dict[str, Layout], workshop: Workshop) -> Sketch:
    """The page of what has been issued and what changed since."""
    return Sketch(addressing.of_book(book, OVERVIEWS["revisions"], workshop), "revisions", _title(book, "revisions"), ready["revisions"],
                  lambda addresses: RevisionFunctions(addresses, history), given=(history, history.now and history.now.checks))


def _option_sketches(book: Book, ready: dict[str, Layout], workshop: Workshop) -> Iterator[Sketch]:
    for decision in book.project.decisions:
        for option in decision.options:
            if option.id != decision.chosen:
                yield option_sketch(addressing.of_option(book, decision, option, option_page(decision.id, option.id), workshop), ready["option"])


def option_sketch(addresses: Addresses, layout: Layout) -> Sketch:
    """The page with the working of an option that is not chosen."""
    decision, option = addresses.option
    return Sketch(addresses, "option", f"{decision.name}: {option.name}, working", layout, _option_functions,
                  before=lambda addresses: html.paragraph(html.tag("strong", "Gives up: "), option.gives_up or "not stated"), given=(decision, option))


def _option_functions(addresses: Addresses) -> OverviewFunctions:
    return OverviewFunctions(addresses, [value_id for value_id in addresses.book.values if value_id in addresses.moved])


def _not_told(addresses: Addresses, chapter: Chapter) -> Markup:
    """Decisions about Terms of this chapter that its template has not placed."""
    return addresses.unmoved("decisions", lambda issued: html.join([parts.compared(issued, decision, chapter, ()) for decision in
                                                                    issued.book.decisions_of(chapter.id) if f"decision-{decision.id}" not in issued.data.ids]))


def _added(addresses: Addresses, chapter: Chapter) -> Markup:
    """Sections that every chapter has; one with nothing to say is left out. What somebody wrote or asks no trial moves."""
    book = addresses.book
    sections = (
        ("Checks", "checks", parts.checks_table(addresses, book.checks_of(chapter.id))),
        ("Open questions", "open-questions", addresses.unmoved("questions", lambda issued: registers.of_chapter(issued, chapter.id))),
        ("Outside the range of a formula", "out-of-range", parts.warnings(addresses, book.of_chapter(chapter.id))),
        ("Cautions", "cautions", parts.cautions(cautions_of(chapter, book.values))),
        ("Still assumed here", "still-assumed", addresses.unmoved("assumed", lambda issued: _assumed(issued, chapter))),
        ("Working", "working", addresses.unmoved("working", lambda issued: html.paragraph(
            "Every number of this chapter, with formula, inputs and source: ", parts.working_links(issued, chapter), "."))),
    )
    return html.join([addresses.data.heading(title, anchor) + inner for title, anchor, inner in sections if inner])


def _assumed(addresses: Addresses, chapter: Chapter) -> Markup:
    rest = addresses.book.upstream(chapter.id)
    return parts.assumptions_table(addresses, [given for given in addresses.book.assumptions() if given.term in rest])


def index(summaries: Sequence[Summary], ready: dict[str, Layout]) -> Page:
    """The page of all books."""
    searched = [f"{one.slug}/" for one in summaries]
    data = PageData()
    return frame.outer_page("index.html", "books", "Design basis books", fill(ready["books"], ShelfFunctions(summaries, data), data), data, searched)


def fault_page(address: str, faults: Iterable[Fault]) -> Page:
    """What stands in place of a page while the text of its project is wrong."""
    lines = [html.tag("code", f"{fault.file}:{fault.line}" if fault.line else fault.file) + " " + _told(fault) for fault in faults]
    content = html.paragraph("The book is not up to date. Save the corrected file and this page comes back.") + html.bullets(lines, class_="faults")
    return frame.outer_page(address, "faults", "What is wrong in the project text", Markup(content), PageData())


def _told(fault: Fault) -> str:
    return "; ".join(part for part in (fault.what, f"expected {fault.expected}" if fault.expected else "", f"nearest: {fault.nearest}" if fault.nearest
                                       else "") if part)
