"""Pages of help: how to read a book, write a project, add a chapter, take data out. Made from the tables that the program itself goes by."""
from __future__ import annotations

import inspect
import json
from dataclasses import fields

from markupsafe import Markup, escape

from basis.chapters import catalogue
from basis.export.book_data import schema_text
from basis.language.maths import ARGUMENTS, UNIT_NAMES
from basis.language.sources import HOW_KNOWN, sources
from basis.language.terms import Term, homes, listed, lists_by_key, terms
from basis.language.units import KINDS, pretty
from basis.language.words import item_words
from basis.reading import schema
from basis.reading.givens import word_wanted
from basis.reading.schema import STANDING_MEANINGS, Table
from basis.site import frame, html, parts
from basis.site.frame import Page
from basis.site.functions import ChapterFunctions
from basis.site.page_data import PageData
from basis.site.quantities import both, symbol
from basis.site.render import Layout, fill
from basis.site.sheet import verdict_word
from basis.solving.value import MARKS
from basis.solving.verdict_words import WORDS

HELP = {"how_to_read": ("how-to-read.html", "How to read a book"), "how_to_write": ("how-to-write.html", "How to write a project"),
        "how_to_add": ("how-to-add-a-chapter.html", "How to add a chapter"),
        "how_to_take": ("how-to-take.html", "How to take data out of a book")}  # template -> address and title
TABLES = (schema.PROJECT, schema.VALUE, schema.HOURLY, schema.ITEM, schema.DECISION, schema.OPTION, schema.REQUIREMENT, schema.QUESTION, schema.TRIAL,
          schema.EQUIPMENT)


def pages_of_help(ready: dict[str, Layout]) -> list[Page]:
    """The pages of help; the same for all books."""
    return [_page(ready[name], address, title) for name, (address, title) in HELP.items()]


def _page(layout: Layout, address: str, title: str) -> Page:
    data = PageData()
    return frame.outer_page(address, "help", title, fill(layout, HelpFunctions(data), data), data, way=data.link("index.html", "All books"))


class HelpFunctions:
    """Functions for the pages of help."""

    def __init__(self, data: PageData):
        self._data = data

    def verdict_meanings(self) -> Markup:
        """What each verdict means."""
        return html.table("", ("Verdict", "What it means"), [(verdict_word(word), meaning) for word, meaning in WORDS.items()], "words", "Verdicts")

    def tight_meaning(self) -> Markup:
        """When a check that holds is called tight."""
        return parts.tight_rule()

    def mark_meanings(self) -> Markup:
        """What each mark behind a number means."""
        return html.table("", ("Mark", "What it means"), [(html.span("mark", mark), meaning) for mark, meaning in MARKS.items()], "words", "Marks")

    def standing_meanings(self) -> Markup:
        """What a project may say of its own input."""
        rows = [(html.tag("code", word), meaning) for word, meaning in STANDING_MEANINGS.items()]
        return html.table("", ("Standing", "What it means"), rows, "words", "Standings")

    def known_meanings(self) -> Markup:
        """How a source may be known."""
        return html.table("", ("How known", "What it means"), list(HOW_KNOWN.items()), "words", "How a source is known")

    def fields(self) -> Markup:
        """The keys of everything that is not a quantity."""
        return html.join([html.heading(3, _titled(table.entry), id=self._data.place(f"fields-{_anchor(table.entry)}")) + _fields(table) for table in TABLES])

    def lists(self) -> Markup:
        """Every list that a project may keep."""
        rows = [(html.tag("code", key), item_words(one.axis), self._data.link(f"#of-{_home(one.axis)}", _chapter_title(_home(one.axis))))
                for key, one in lists_by_key().items()]
        return html.table("", ("Key", "One entry for each", "Chapter"), rows, "words", "Lists")

    def input_keys(self) -> Markup:
        """Every quantity that a project may give, by chapter."""
        made = []
        for chapter in catalogue().chapters:
            rows = [_input_row(term) for term in catalogue().inputs if homes()[term.id] == chapter.id]
            if rows:
                table = html.table("", ("Key", "What it is", "Written as", "Where it is not given"), rows, "words", f"Inputs of {chapter.title}")
                made.append(self._data.heading(chapter.title, f"of-{chapter.id}")
                            + html.tag("details", html.tag("summary", f"{len(rows)} input{'s' if len(rows) > 1 else ''}"), table))
        return html.join(made)

    def data_keys(self) -> Markup:
        """The keys of a book as JSON, as its schema has them."""
        whole = json.loads(schema_text())
        described = [("The file", whole), *((one["description"].rstrip("."), one) for one in whole["$defs"].values() if "properties" in one)]
        return html.join([html.heading(3, label, id=self._data.place(f"keys-{_anchor(label)}")) + _keys_of(one, label) for label, one in described])

    def term_facts(self) -> Markup:
        """What may be said of a Term."""
        return html.paragraph(escape("A Term has the fields "), html.join([html.tag("code", one.name) for one in fields(Term)], ", "),
                              escape(". ")) + _docstring(Term)

    def formula_words(self) -> Markup:
        """What a formula may call, and the units that it may divide by."""
        calls = html.join([html.tag("code", name) for name in sorted(ARGUMENTS)], ", ")
        units = html.join([html.tag("code", name) for name in UNIT_NAMES], ", ")
        return html.paragraph("Functions: ", calls, ".") + html.paragraph("Units: ", units, ".")

    def kinds(self) -> Markup:
        """The kinds that keep apart what has one dimension but not one meaning."""
        return html.paragraph(html.join([html.tag("code", kind) for kind in KINDS if kind], ", "), ".")

    def template_functions(self) -> Markup:
        """What the template of a chapter may call."""
        rows = [(html.tag("code", f"{name}{_signature(function)}"), (inspect.getdoc(function) or "").split("\n\n")[0])
                for name, function in inspect.getmembers(ChapterFunctions, inspect.isfunction) if not name.startswith("_")]
        return html.table("", ("Function", "What it places"), rows, "words", "Functions of templates")


def _keys_of(schema: dict, label: str) -> Markup:
    rows = [(html.tag("code", key), one["description"]) for key, one in schema["properties"].items()]
    return html.table("", ("Key", "What it means"), rows, "words", label)


def _titled(entry: str) -> str:
    return entry.removeprefix("the ").removeprefix("an ").removeprefix("a ").capitalize()


def _anchor(entry: str) -> str:
    return _titled(entry).lower().replace(" ", "-")


def _fields(table: Table) -> Markup:
    rows = [(html.tag("code", field.key), field.meaning, html.tag("code", field.example) if field.example else "–", "yes" if field.required else "–")
            for field in table.fields]
    beside = html.paragraph(f"Beside these: {table.more}.") if table.more else html.EMPTY
    return html.table("", ("Key", "Meaning", "Example", "Needed"), rows, "words", f"Keys of {table.entry}") + beside


def _home(axis: str) -> str:
    """The chapter of the first Term that runs over the axis."""
    return next((homes()[term.id] for term in terms().values() if axis in term.axes), "plant")


def _chapter_title(chapter_id: str) -> str:
    return next(chapter.title for chapter in catalogue().chapters if chapter.id == chapter_id)


def _input_row(term: Term) -> tuple:
    where = html.small(f" {listed(term.own_axes[0]).key}") if term.own_axes else html.EMPTY
    sign = escape(", ") + symbol(term.symbol) if term.symbol else html.EMPTY
    what = html.tag("strong", term.name) + sign + (f". {term.meaning}" if term.meaning else "")
    return html.tag("code", term.id) + where, what, _written_as(term), _otherwise(term)


def _written_as(term: Term) -> str | Markup:
    if term.is_text or term.fixed_axis == "hour":
        return word_wanted(term)
    plain = "a day such as 2026-11-20" if term.kind == "date" else "a plain number"
    unit = " or ".join(dict.fromkeys(pretty(one, "EUR") or plain for one in (term.si_unit, term.us_unit)))
    many = f", one for each {item_words(term.fixed_axis)}" if term.fixed_axis else ""
    return html.join((unit, ", ", both(term.range_in("si"), term.range_in("us")), many))


def _otherwise(term: Term) -> str:
    if term.default is not None:
        return f"{term.default}, by {sources()[term.source].citation}"
    return "computed" if term.either else "undecided" if term.optional else "must be given"


def _signature(function) -> str:
    names = [name for name in inspect.signature(function).parameters if name != "self"]
    return f"({', '.join(names)})"


def _docstring(described: type) -> Markup:
    parts = (inspect.getdoc(described) or "").split("\n\n")
    return html.join([html.paragraph(" ".join(part.split())) for part in parts])
