"""Every arm of every template with the condition under which its sentences stand, and a book that renders it.

    python tests/template_arms.py [template ...]

prints them for reading: is each sentence true under exactly this condition, for a plant that nobody here drew? Arms are found in the templates,
and what a plant must be to reach one is made from its condition, so nothing here is a list to be kept.
"""

import math
import re
import sys
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path

from jinja2 import nodes
from markupsafe import Markup

from basis.chapters import catalogue
from basis.language.faults import Faults
from basis.language.table import families
from basis.language.terms import Term, listed, lists_by_axis, terms
from basis.reading import project
from basis.reading.givens import Given
from basis.reading.project import Project
from basis.site import addresses as addressing
from basis.site import render
from basis.site.functions import ChapterFunctions
from basis.site.overview import OverviewFunctions
from basis.solving.book import Book
from basis.solving.solve import solve
from basis.solving.verdict import Verdict
from basis.solving.verdict_words import NOTHING

ROOT = Path(__file__).parent.parent
TEMPLATES = ROOT / "templates"
MARK = "⟦{}⟧"
MISSING = re.compile(r"missing '(\w+)'(?: of '(\w+)')?")
WORDS = {"holds": ("holds",), "tight": ("tight",), "fails": ("fails",), "undecided": ("undecided", NOTHING), "nothing": (NOTHING,)}  # function -> words


@dataclass(frozen=True)
class Arm:
    """A stretch of a template that stands under a condition: its own, and those of the arms round it and before it."""

    template: str
    line: int
    conditions: tuple[tuple[nodes.Expr, bool], ...]  # each with whether it must hold
    words: str = field(compare=False)

    @property
    def told(self) -> str:
        """The condition as text."""
        return " and ".join(_text(test) if wanted else f"not ({_text(test)})" for test, wanted in self.conditions)


def arms_of(name: str) -> tuple[list[Arm], nodes.Template]:
    """All arms of a template in order, and its tree with a mark at the head of each."""
    tree = render.environment().parse((TEMPLATES / f"{name}.md.j2").read_text("utf-8"))
    found: list[Arm] = []
    tree.body = list(_walk(name, tree.body, (), found))
    return found, tree


def _walk(name: str, body: list, above: tuple, found: list[Arm]) -> Iterator:
    for node in body:
        if isinstance(node, nodes.If):
            before = above
            for arm in (node, *node.elif_):
                arm.body = _arm(name, arm.lineno, arm.body, (*before, (arm.test, True)), found)
                before = (*before, (arm.test, False))
            if node.else_:
                node.else_ = _arm(name, node.else_[0].lineno, node.else_, before, found)
        yield node


def _arm(name: str, line: int, body: list, conditions: tuple, found: list[Arm]) -> list:
    place = len(found)
    found.append(Arm(name, line, conditions, _words(body)))
    marked = nodes.Output([nodes.TemplateData(MARK.format(place))])
    return [marked, *_walk(name, body, conditions, found)]


def _words(body: list) -> str:
    """The sentences of an arm without those of the arms inside it."""
    shown = []
    for node in body:
        if isinstance(node, nodes.If):
            shown.append("[…]")
        elif isinstance(node, nodes.Output):
            shown += [part.data if isinstance(part, nodes.TemplateData) else f"{{{_text(part)}}}" for part in node.nodes]
    return " ".join("".join(shown).split())


def _text(node: nodes.Node) -> str:
    match node:
        case nodes.Call():
            return f"{node.node.name}({', '.join(_text(arg) for arg in node.args)})"
        case nodes.Const():
            return str(node.value)
        case nodes.Or():
            return f"{_text(node.left)} or {_text(node.right)}"
        case nodes.And():
            return f"{_text(node.left)} and {_text(node.right)}"
        case nodes.Not():
            return f"not {_text(node.node)}"
    return type(node).__name__


class Rendering:
    """Templates that tell which of their arms a book renders."""

    def __init__(self, names: list[str]):
        jinja = render.environment()
        self.arms, self.filled_by = {}, {}
        for name in names:
            self.arms[name], tree = arms_of(name)
            self.filled_by[name] = jinja.template_class.from_code(jinja, jinja.compile(tree, name, name), jinja.globals)

    def rendered(self, name: str, book: Book) -> set[Arm]:
        """Arms of a template that stand on the page of a book. Raises Refused when a function cannot give what the template asks."""
        functions = _functions(name, book)
        names = {one: getattr(functions, one) for one in render.function_names(type(functions))} | {"figure": lambda _: Markup("")}
        text = self.filled_by[name].render(names)
        return {arm for place, arm in enumerate(self.arms[name]) if MARK.format(place) in text}


def _functions(name: str, book: Book):
    chapter = next((one for one in book.chapters if one.id == name), None)
    here = addressing.of_book(book, f"{name}.html")
    return ChapterFunctions(here, chapter) if chapter else OverviewFunctions(here)


# ---- a plant for each arm ----

@dataclass(frozen=True)
class Wish:
    """One thing that a condition asks of a plant: a function of templates with its arguments, and the answer wanted."""

    function: str
    arguments: tuple[str, ...]
    wanted: bool


def wishes(conditions: tuple) -> list[tuple[Wish, ...]]:
    """The ways in which all conditions of an arm can be met, each as the answers that it wants."""
    ways = [()]
    for test, wanted in conditions:
        ways = [(*way, *more) for way in ways for more in _ways(test, wanted)]
    return ways


def _ways(test: nodes.Expr, wanted: bool) -> list[tuple[Wish, ...]]:
    match test:
        case nodes.Not():
            return _ways(test.node, not wanted)
        case nodes.Or() | nodes.And():
            left, right = _ways(test.left, wanted), _ways(test.right, wanted)
            return left + right if isinstance(test, nodes.Or) == wanted else [(*one, *other) for one in left for other in right]
    return [(Wish(test.node.name, tuple(arg.value for arg in test.args), wanted),)]


def plants(read: Project, book: Book, way: tuple[Wish, ...]) -> Iterator[Project]:
    """The project changed so that what its text decides is as wished; several where it is not known which input decides."""
    changed = [read]
    for term_id in dict.fromkeys(wish.arguments[0] for wish in way if wish.function == "choice"):
        words = [word for word in terms()[term_id].choices
                 if all((word == wish.arguments[1]) == wish.wanted for wish in way if wish.function == "choice" and wish.arguments[0] == term_id)]
        changed = [_with(one, dict.fromkeys(_keys(term_id, one), word)) for one in changed for word in words] or [_without(one, {term_id}) for one in changed]
    for wish in way:
        changed = [other for one in changed for other in _changed(one, book, wish)]
    yield from changed


def _keys(term_id: str, read: Project) -> list[tuple[str, str]]:
    """Where a Term is given: of each item of its list, if it has one."""
    axes = terms()[term_id].own_axes
    return [(term_id, item) for item in read.items.get(axes[0], ())] if axes else [(term_id, "")]


def _changed(read: Project, book: Book, wish: Wish) -> list[Project]:
    match wish:
        case Wish("nothing", (_, term_id), True):
            return [_with(read, {(term_id, ""): one}) for one in terms()[term_id].choices or (0.0,)]
        case Wish("given" | "has", (term_id,), True):
            known = term_id in book or any(name == term_id for name, _ in read.givens)
            return [read, *_with_noughts(read, term_id)] if known and wish.function == "has" else _given_too(read, book, term_id)
        case Wish("given", (term_id,), False):
            return [_without(read, {term_id})]
        case Wish("several", (axis,), False):
            return [_no_more_than(1, read, axis)]
        case Wish("listed", (axis,), False):
            return [_no_more_than(0, read, axis)]
        case Wish("requires", (), False):
            return [replace(read, requirements=())]
        case Wish("asks", (), False):
            return [replace(read, questions=())]
        case Wish("has", (value_id,), False):
            return [_without(read, {name}) for name in _optional_above(book, value_id)] or [read]
    return [read]


def _with(read: Project, words: dict) -> Project:
    found = {key: Given(*key, word, str(word), f"{read.folder}/project.yaml", 1) for key, word in words.items()}
    return replace(read, givens=read.givens | found)


def _with_noughts(read: Project, value_id: str) -> list[Project]:
    """The project with nought for each count from which a value is computed."""
    producer = catalogue().producers.get(value_id)
    return [_with(read, {(name, ""): 0.0}) for name in (producer.parameters if producer else ()) if terms()[name].whole and not terms()[name].axes]


def _given_too(read: Project, book: Book, term_id: str) -> list[Project]:
    term, value = terms()[term_id], book.values.get(term_id)
    if value is not None and value.elements():
        return [_with(read, {(term_id, ids[0] if ids else ""): value.element(*ids).number for ids in value.elements()})]
    if not term.own_axes:
        return [_with(read, {(term_id, ""): _plausible(term, read.items)})]
    axis = term.own_axes[0]
    items = read.items.get(axis) or ("one",)
    given = {(term_id, item): _plausible(term, read.items, 60.0) for item in items}
    return [replace(_with(read, given), items=read.items | {axis: items}, names=read.names | {axis: dict.fromkeys(items, "One")})]


def _plausible(term: Term, items: dict, number: float = 1.0):
    """Something that may be given for a Term: its default, its first word or item, or a number within its range."""
    if term.refers_to:
        return next(iter(items[term.refers_to]), "one")
    if term.default is not None:
        return term.default_data()
    if term.is_text:
        return (term.choices or families().get(term.table, ("Some words",)))[0]
    low, high = (-math.inf if term.low is None else term.low), (math.inf if term.high is None else term.high)
    number = min(max(number, low), high)
    return (number,) * len(listed(term.fixed_axis).fixed) if term.fixed_axis else number


def _without(read: Project, names: set) -> Project:
    return replace(read, givens={key: given for key, given in read.givens.items() if key[0] not in names})


def _no_more_than(count: int, read: Project, axis: str) -> Project:
    items = read.items.get(axis, ())
    gone = set(items[count:])
    own = {term.id for term in terms().values() if term.own_axes[:1] == (axis,)}
    pointing = {term.id for term in terms().values() if term.refers_to == axis}
    givens = {key: replace(given, data=items[0]) if key[0] in pointing and given.data in gone else given for key, given in read.givens.items()
              if not (key[0] in own and key[1] in gone) and not (key[0] in pointing and not count)}
    return replace(read, givens=givens, items=read.items | {axis: items[:count]}, requirements=(), questions=())  # which may name an item that is gone


def _optional_above(book: Book, value_id: str) -> list[str]:
    """Inputs that may be missing, nearest first, on which a value rests."""
    found, waiting = {}, [value_id.partition(".")[0]]
    seen = set(waiting)
    for name in waiting:
        value = book.values.get(name)
        if value is None:
            continue
        if value.givens and value.term.optional:
            found[name] = None
        waiting += [one for one in value.inputs if one not in seen and not seen.add(one)]
    return list(found)[:8]


def judged(book: Book, way: tuple[Wish, ...]) -> Book:
    """The book with verdicts as wished: any limit may be given, so any word may stand."""
    def as_wished(verdict: Verdict) -> Verdict:
        asked = [wish for wish in way if wish.function in WORDS and wish.arguments[0] == verdict.check.id]
        fit = [word for word in ("fails", "holds", "tight", "undecided", NOTHING) if all((word in WORDS[wish.function]) == wish.wanted for wish in asked)]
        return verdict if verdict.word in fit or not fit else _judged(verdict, fit[0])
    return replace(book, checks=tuple(map(as_wished, book.checks)))


def _judged(verdict: Verdict, word: str) -> Verdict:
    if word == "undecided":
        return Verdict(verdict.check, word, missing=(verdict.check.limit,))
    if word == NOTHING:
        return Verdict(verdict.check, word, unlisted=("load",))
    return replace(verdict, word=word) if verdict.decided else Verdict(verdict.check, word, remark="A remark.")


@dataclass
class Search:
    """Looks for a book that renders an arm, among the demo projects changed as its condition asks."""

    rendering: Rendering
    reads: dict[str, Project]
    books: dict[str, Book]
    solved: dict = field(default_factory=dict)

    def found(self, arm: Arm) -> str:
        """What the plant is that renders the arm; empty when none was found."""
        for way in wishes(arm.conditions):
            for slug, read in self.reads.items():
                for plant in plants(read, self.books[slug], way):
                    book = self._book(slug, plant, arm.template)
                    if book is not None and arm in self.rendering.rendered(arm.template, judged(book, way)):
                        return f"{slug} with {', '.join(f'{one.function}({chr(44).join(one.arguments)}) {one.wanted}' for one in way)}"
        return ""

    def _book(self, slug: str, plant: Project, chapter_id: str) -> Book | None:
        before = self.reads[slug].givens
        if plant is self.reads[slug]:
            return self.books[slug]
        key = (slug, chapter_id, tuple(sorted((name, str(given.data)) for name, given in plant.givens.items() if before.get(name) is not given)),
               tuple(sorted(name for name in before if name not in plant.givens)), tuple(map(len, plant.items.values())))
        if key not in self.solved:
            self.solved[key] = _solved(plant, chapter_id)
        return self.solved[key]


def _solved(plant: Project, chapter_id: str) -> Book | None:
    """The chapter alone where it can be, else the whole book; nothing where the text is then at fault."""
    for chapters in ((chapter_id,), ()) if chapter_id in [one.id for one in catalogue().chapters] else ((),):
        if book := _with_what_is_asked(replace(plant, chapters=chapters)):
            return book
    return None


def _with_what_is_asked(plant: Project, tries: int = 4) -> Book | None:
    """The plant solved, with something plausible for each input that it turns out to need."""
    for _ in range(tries):
        try:
            return solve(plant)
        except Faults as found:
            asked = [MISSING.match(fault.what) for fault in found.faults]
            if None in asked:
                return None
            plant = _with(plant, {(one[1], one[2] or ""): _plausible(terms()[one[1]], plant.items) for one in asked})
    return None


def template_names() -> list[str]:
    """Templates with arms."""
    return [name for path in sorted(TEMPLATES.glob("*.md.j2")) if "{% if" in path.read_text("utf-8") for name in [path.name.partition(".")[0]]]


def demo_search(names: list[str]) -> tuple[Search, dict[Arm, str]]:
    """The search over the demo projects, and the arms that these render as they are."""
    rendering = Rendering(names)
    reads = {path.name: project.read(path) for path in sorted((ROOT / "projects").iterdir())}
    search = Search(rendering, {slug: _as_chosen(read) for slug, read in reads.items()}, {slug: solve(read) for slug, read in reads.items()})
    return search, {arm: slug for slug, book in search.books.items() for name in names for arm in rendering.rendered(name, book)}


def _as_chosen(read: Project) -> Project:
    """The project with its chosen options only, written as if there had been no others."""
    chosen = [next(option for option in decision.options if option.id == decision.chosen) for decision in read.decisions]
    items = {axis: tuple(dict.fromkeys(item for one in (read, *chosen) for item in one.items.get(axis, ()))) for axis in lists_by_axis()}
    return replace(read, decisions=(), givens={key: given for one in (read, *chosen) for key, given in one.givens.items()},
                   items={axis: ids for axis, ids in items.items() if ids})


def main() -> None:
    """Print every arm with its condition, its sentences and the plant that renders it."""
    names = sys.argv[1:] or template_names()
    search, found = demo_search(names)
    every = [arm for name in names for arm in search.rendering.arms[name]]
    for arm in every:
        found[arm] = found.get(arm) or search.found(arm)
        print(f"{arm.template}:{arm.line}  IF {arm.told}\n    [{found[arm] or 'NO PLANT'}]\n    {arm.words}\n")
    print(len(every), "arms,", sum(not found[arm] for arm in every), "rendered by no plant")


if __name__ == "__main__":
    main()
