"""The trials of a chapter's page: the template filled once more with the book of each step, and of that only what differs, in a script that is loaded when
somebody asks for it.

The page itself grows by the sliders alone. Figures, comparisons of options and what the project wrote stay as issued.
"""
from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from functools import partial
from html import unescape
from os.path import commonprefix

from markupsafe import Markup

from basis.language.formula import Chapter
from basis.language.terms import terms
from basis.language.words import in_sentence
from basis.site import html
from basis.site.addresses import Addresses, Workshop
from basis.site.functions import ChapterFunctions
from basis.site.page_changes import Parts, Still, changes, numbers_in
from basis.site.page_data import PageData
from basis.site.quantities import both
from basis.site.render import function_names
from basis.solving.book import Book
from basis.solving.trials import Tried
from basis.solving.value import Value

Filled = Callable[[Addresses, ChapterFunctions], Markup]  # a page of the chapter for a book
MOST = 12_000  # bytes of the script of one input for one chapter
STILL = ("figure", "schematic", "compared")  # functions of templates of which nothing moves
TOO_MUCH = '<p class="mark">More moves here than a trial carries; this part is left out while it is on.</p>'
QUICK = "left out of this quick build"


class StepFunctions(ChapterFunctions):
    """Functions for the template of a chapter with the book of a step. What no trial moves is as issued; what this step does not move is made once. `asked`
    gets the names of all that the template asks for."""

    def __init__(self, addresses: Addresses, chapter: Chapter, asked: set[str]):
        super().__init__(addresses, chapter)
        self._asked = asked
        for name in function_names(ChapterFunctions):
            if name not in STILL:
                setattr(self, name, partial(self._made_once, name, getattr(self, name)))

    def _made_once(self, name: str, make: Callable, *asked, **said):
        self._asked.update(asked)
        if not asked or any(_is_moved(one, self._book, self._addresses.main) for one in asked):
            return make(*asked, **said)
        return self._addresses.unmoved(f"{name} {asked} {said}", lambda issued: getattr(ChapterFunctions(issued, self._chapter), name)(*asked, **said))


def _is_moved(name: str, step: Book, issued: Book) -> bool:
    """Whether a value or a verdict of this name is not the issued book's own."""
    term_id = name.partition(".")[0]
    if term_id in terms() and step.values.get(term_id) is not issued.values.get(term_id):
        return True
    return bool(issued.made_check(name)) and step.check(name) is not issued.check(name)


@dataclass(frozen=True)
class Trials:
    """The sliders of a page, the scripts that they load by name, and what stands behind the content that they move."""

    section: Markup = html.EMPTY
    files: dict[str, str] = field(default_factory=dict)
    end: Markup = html.EMPTY


def of_page(addresses: Addresses, chapter: Chapter, content: Markup, filled: Filled) -> Trials:
    """The trials that move something on the page of a chapter."""
    book = addresses.book
    if not book.project.trials:
        return Trials()
    if not book.tried:
        named = [trial.input for trial in book.project.trials if trial.input in book.upstream(chapter.id)]
        lines = [html.paragraph(f"Trial of {in_sentence(terms()[name].name)}: {QUICK}.", class_="stamp") for name in named]
        return Trials(html.join(lines))
    issued, sliders, files = Still.of(content), [], {}
    asked: set[str] = set()
    for tried in book.tried:
        moved = {place: _moved(addresses, chapter, (tried.input, place), issued, filled, asked) for place in range(len(tried.numbers))
                 if place != tried.issued and place not in tried.faults}
        if any(moved.values()) or (tried.faults and book.home.get(tried.input) == chapter.id):
            name = f"{chapter.id}-trial-{tried.input}.js"
            files[name] = _script(issued.parts, tried, book[tried.input], moved)
            sliders.append(_slider(tried, book[tried.input], name))
    return Trials(_section(sliders), files, html.span("trials-end")) if sliders else Trials()


def _moved(addresses: Addresses, chapter: Chapter, key: tuple, issued: Still, filled: Filled, asked: set[str]) -> dict:
    """What differs on the page with the book of one step. `asked`: what its template asks for, once a step that moves none of it has told; where a step moves
    none of that, nor a value, a verdict or a caution of the chapter, the page is not filled again.
    """
    book, main = addresses.book.trials[key], addresses.main
    if asked:
        own = [*book.ids_of_chapter(chapter.id), *(verdict.check.id for verdict in main.checks_of(chapter.id)),
               *(name for caution in chapter.cautions for name, _ in caution.applies)]
        if not any(_is_moved(name, book, main) for name in (*own, *asked)):
            return {}
    heard: set[str] = set()
    workshop = Workshop(addresses.workshop.notes)  # keeps nothing: the places are those of the issued book
    data = PageData(numbered=dict(addresses.data.numbered), referred=addresses.data.referred)
    step = replace(addresses, book=book, workshop=workshop, data=data)
    found = changes(issued, filled(step, StepFunctions(step, chapter, heard)))
    if not any(_is_moved(name, book, main) for name in heard):
        asked |= heard
    addresses.data.links |= step.data.links
    addresses.data.cited |= step.data.cited
    return found


# ---- the script ----

def _script(issued: Parts, tried: Tried, value: Value, moved: dict[int, dict]) -> str:
    """All that moves, by place, with what stands there at each step; nought where it is as issued. Where that is too much, the largest parts are left out."""
    while len((written := _written(issued, tried, value, moved)).encode()) > MOST:
        part = max(range(len(issued.root.children)), key=lambda part: len(str([_within(issued, part, found) for found in moved.values()])))
        whole = {("range", -1, part, 1): TOO_MUCH}
        if all(whole.items() <= found.items() for found in moved.values()):
            part, whole = None, {("range", -1, 0, len(issued.root.children)): TOO_MUCH}
        moved = {place: {at: one for at, one in found.items() if part is not None and at not in _within(issued, part, found)} | whole
                 for place, found in moved.items()}
    return written


def _within(issued: Parts, part: int, found: dict) -> dict:
    """What of the changes lies within a part of the page."""
    elements, texts = numbers_in(issued.root.children[part])
    return {at: one for at, one in found.items() if at[1] in (texts if at[0] == "text" else elements)}


def _written(issued: Parts, tried: Tried, value: Value, moved: dict[int, dict]) -> str:
    data = {"counts": [issued.elements, issued.texts], "issued": tried.issued, "name": in_sentence(value.term.name),
            "steps": [[value.shown(number, system) for system in ("si", "us")] for number in tried.numbers],
            "faults": {str(place): why for place, why in tried.faults.items()}, "text": [], "attribute": {}, "range": []}
    rows: dict[tuple, list] = {}
    for kind, *at in dict.fromkeys(at for found in moved.values() for at in found):
        said = tuple(moved[place][kind, *at] if (kind, *at) in moved.get(place, ()) else 0 for place in range(len(tried.numbers)))
        rows.setdefault((kind, at.pop() if kind == "attribute" else "", said), []).append(at if kind == "range" else at[0])
    for (kind, name, said), places in rows.items():
        row = [places if len(places) > 1 or kind == "range" else places[0], *_shortened([unescape(one) if one and kind != "range" else one for one in said])]
        (data[kind].setdefault(name, []) if name else data[kind]).append(row)
    return f"basisTrial({json.dumps(data, ensure_ascii=False, separators=(',', ':'))})\n"


def _shortened(said: list) -> list:
    """What stands at each step, behind what all of it begins with and what all of it ends with."""
    texts = [one for one in said if isinstance(one, str)]
    first = commonprefix(texts)
    last = commonprefix([one[len(first):][::-1] for one in texts])[::-1]
    return [first, last, *(one[len(first):len(one) - len(last)] if isinstance(one, str) else one for one in said)]


# ---- the sliders ----

def _section(sliders: Sequence[Markup]) -> Markup:
    told = html.paragraph(role="status")
    back = html.tag("button", "Back to the book as it stands", type="button", hidden=True)
    return html.tag("section", *sliders, told, back, class_="trials", aria_label="Trials")


def _slider(tried: Tried, value: Value, name: str) -> Markup:
    """A slider over the steps; without script there is none."""
    ident = f"trial-{tried.input}"
    issued = both(*(value.shown(tried.numbers[tried.issued], system) for system in ("si", "us")))
    field = html.void("input", type="range", id=ident, min=0, max=len(tried.numbers) - 1, value=tried.issued, autocomplete="off", data_trial=name)
    return html.tag("div", html.tag("label", f"Trial: {in_sentence(value.term.name)}", for_=ident), field, html.tag("output", issued, for_=ident))
