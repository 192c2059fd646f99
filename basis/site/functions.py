"""What the template of a chapter may call. Each function places Values or asks a verdict; none computes."""
from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from markupsafe import Markup, escape

from basis.chapters import catalogue
from basis.language.faults import nearest_name
from basis.language.formula import Chapter
from basis.language.sources import sources
from basis.language.terms import lists_by_axis, terms
from basis.site import dates, drawings, exports, html, numbering, parts, schematics, tables
from basis.site.addresses import Addresses
from basis.site.quantities import absent, number, shown
from basis.site.render import Refused
from basis.site.schematic import shown as drawn_as_schematic
from basis.site.sheet import cited
from basis.solving.lacking import told, told_shortly
from basis.solving.value import Value
from basis.solving.verdict import Verdict
from basis.solving.verdict_words import NOTHING


class BookFunctions:
    """Functions over a whole book, for any page of it."""

    def __init__(self, addresses: Addresses):
        self._addresses, self._book, self._data = addresses, addresses.book, addresses.data

    # ---- placing Values ----

    def value(self, value_id: str) -> Markup:
        """One number with unit, linked to its working."""
        found = self._find(value_id)
        if found is None:
            return absent(self._why(value_id))
        if found.axes:
            raise Refused(f"'{value_id}' runs over {' and '.join(found.axes)}",
                          f"one element, such as {value_id}.{'.'.join(found.elements()[0]) if found.elements() else 'item'}, or a table")
        return number(self._addresses, found)

    def lacking(self, value_id: str) -> Markup:
        """What somebody has to write so that a value can be computed: name, key and file of each."""
        self._known(value_id)
        return absent(told(self._book, self._book.undecided.get(value_id, ())))

    def signed(self, value_id: str, more: str, less: str, same: str) -> Markup:
        """A number that may be negative, without its sign after the words for its side: `saves` 175 USD, `costs` 175 USD more is `less`."""
        found = self._plain(value_id)
        if found is None:
            return absent(self._why(value_id))
        if found.shown(abs(found.number)) == found.shown(0.0):
            return escape(same)
        return escape(f"{more if found.number > 0 else less} ") + number(self._addresses, replace(found, number=abs(found.number)))

    def text(self, value_id: str) -> Markup:
        """A text or a choice in words, linked to where it is given."""
        found = self._find(value_id)
        if found is None:
            return absent(self._why(value_id))
        if not found.term.is_text or found.axes:
            raise Refused(f"'{value_id}' is no text or choice", f'value("{value_id}")')
        if found.term.unit == "text":
            return shown(self._addresses, found)
        return number(self._addresses, found)

    def table(self, *value_ids: str) -> Markup:
        """Plain values, one a row; what is not there is left out."""
        return tables.rows(self._addresses, [found for name in value_ids if (found := self._plain(name))])

    def items(self, axis: str, *value_ids: str) -> Markup:
        """One row an item of the axis, one column a value."""
        found = self._along(axis, value_ids)
        return exports.schedule(self._addresses, axis, found) if found else html.EMPTY

    def items_with(self, axis: str, *value_ids: str) -> Markup:
        """The same for those items alone of which the first value is known; nothing where there is none."""
        found = self._along(axis, value_ids)
        known = self._known_items(axis, found)
        return tables.of_items(self._addresses, axis, found, only=known) if known else html.EMPTY

    def readings(self, axis: str, *value_ids: str) -> Markup:
        """The same in groups, each of which starts with a value that no formula yields. Groups with one item alone stand together, a row a quantity."""
        groups: list[list[str]] = []
        for name in value_ids:
            if groups and name in catalogue().producers:
                groups[-1].append(name)
            else:
                groups.append([name])
        tables_of = [self._along(axis, group) for group in groups if self._find(group[0])]
        known = [(found, items) for found in tables_of if (items := self._known_items(axis, found))]
        single = [value.element(items[0]) for found, items in known if len(items) == 1 for value in found]
        several = [tables.of_items(self._addresses, axis, found, only=items) for found, items in known if len(items) > 1]
        return html.join([tables.of_elements_apart(self._addresses, axis, single), *several])

    def _known_items(self, axis: str, found: Sequence[Value]) -> list[str]:
        """Items of which the first of some values is known."""
        return [item for item in self._items(axis) if found and found[0].element(item).number == found[0].element(item).number]

    def _along(self, axis: str, value_ids: Sequence[str]) -> list[Value]:
        if axis not in lists_by_axis():
            raise Refused(f"unknown axis '{axis}'", "a named axis", nearest_name(axis, lists_by_axis()))
        found = [value for name in value_ids if (value := self._find(name))]
        if wrong := [value.id for value in found if value.axes != (axis,)]:
            raise Refused(f"{wrong} does not run over '{axis}' alone", "values over that axis")
        return found

    def calendar(self, *value_ids: str) -> Markup:
        """A link to a calendar file with the days of these values."""
        found = [value for name in value_ids if (value := self._find(name))]
        if wrong := [value.id for value in found if value.term.kind != "date" or not value.axes]:
            raise Refused(f"{wrong} holds no days of items", "values of kind date over an axis")
        return dates.calendar(self._addresses, found)

    def caption(self, words: str) -> Markup:
        """Number and caption of a table that is written in the text, right above it; it says what the table holds."""
        found = numbering.caption(self._addresses, escape(words))
        return html.tag("caption", found.words, id=found.anchor) if isinstance(found, html.Caption) else html.tag("caption", found)

    def bands(self, *value_ids: str) -> Markup:
        """Items by bands, one table a value. Along one list only, each item leads to its own working: that is `items`."""
        found = [value for name in value_ids if (value := self._find(name))]
        if wrong := [value.id for value in found if len(value.axes) < 2 and value.axes != ("band",)]:
            raise Refused(f"{wrong} runs neither over bands nor over two axes", 'items("axis", "…") or table("…")')
        return tables.of_several(self._addresses, found)

    def headline(self, *value_ids: str) -> Markup:
        """The figures by which a plant is known, as many as there are."""
        found = [value for name in value_ids if (value := self._plain(name))]
        return parts.headline(self._addresses, found)

    def source(self, source_id: str) -> Markup:
        """A citation."""
        if source_id not in sources():
            raise Refused(f"unknown source '{source_id}'", "the id of a source", nearest_name(source_id, sources()))
        return cited(self._addresses, sources()[source_id])

    def measured_inputs(self) -> Markup:
        """Every input of the book that was measured, as written, with file, line and note."""
        pairs = [(given, None) for given in self._book.measured]
        none = html.paragraph("No input of this book is measured yet.")
        return parts.givens_table(self._addresses, pairs, "Measured", "Measured inputs") or none

    # ---- verdicts ----

    def check(self, check_id: str, plural: bool = False) -> Markup:
        """The verdict of a check with its margin; `plural` after more than one thing: "anchors hold"."""
        return parts.verdict_inline(self._addresses, self._verdict(check_id), plural)

    def test_sheet(self, *check_ids: str) -> Markup:
        """What is read in a test against what is designed, one check a row with room for the reading; checks of chapters left out are left out too."""
        named = [name for name in check_ids if self._book.made_check(name) or name not in catalogue().chapter_of]
        return parts.test_sheet(self._addresses, [self._verdict(name) for name in named])

    def remark(self, check_id: str) -> Markup:
        """What the project says about the outcome of a check."""
        said = self._verdict(check_id).remark
        return html.span("remark", said) if said else html.EMPTY

    def holds(self, check_id: str) -> bool:
        """Whether the check holds with a comfortable margin."""
        return self._verdict(check_id).word == "holds"

    def tight(self, check_id: str) -> bool:
        """Whether the check holds with little margin."""
        return self._verdict(check_id).word == "tight"

    def fails(self, check_id: str) -> bool:
        """Whether the check fails."""
        return self._verdict(check_id).word == "fails"

    def undecided(self, check_id: str) -> bool:
        """Whether the check has no verdict: an input is missing, or there is nothing to check."""
        return not self._verdict(check_id).decided

    def nothing(self, check_id: str, term_id: str = "") -> bool:
        """Whether there is nothing to check; with the id of a Term, because of what that says."""
        verdict = self._verdict(check_id)
        return verdict.word == NOTHING and (not term_id or term_id in [*(value.id for value in verdict.beside), *(term.id for term in verdict.sized)])

    # ---- asking ----

    def choice(self, term_id: str, word: str) -> bool:
        """Whether a choice has this word, that of any item where each has its own."""
        if term_id not in terms():
            raise Refused(f"unknown value '{term_id}'", "the id of a choice", nearest_name(term_id, terms()))
        if terms()[term_id].choices and word not in terms()[term_id].choices:
            raise Refused(f"'{word}' is no choice of '{term_id}'", ", ".join(terms()[term_id].choices), nearest_name(word, terms()[term_id].choices))
        found = self._book.values.get(term_id)
        return found is not None and (word in found.number if found.axes else found.number == word)

    def has(self, value_id: str) -> bool:
        """Whether the book has a value, and it exists."""
        found = self._find(value_id)
        return found is not None and found.exists

    def given(self, value_id: str) -> bool:
        """Whether the project itself gives the value."""
        found = self._find(value_id)
        return found is not None and bool(found.givens)

    def listed(self, axis: str) -> bool:
        """Whether the project lists any item along the axis."""
        return bool(self._items(axis))

    def has_chapter(self, chapter_id: str) -> bool:
        """Whether the book has a chapter."""
        known = [chapter.id for chapter in catalogue().chapters]
        if chapter_id not in known:
            raise Refused(f"unknown chapter '{chapter_id}'", "the id of a chapter", nearest_name(chapter_id, known))
        return chapter_id in [chapter.id for chapter in self._book.chapters]

    def several(self, axis: str) -> bool:
        """Whether the project lists more than one item along the axis."""
        return len(self._items(axis)) > 1

    def _items(self, axis: str) -> tuple[str, ...]:
        if axis not in lists_by_axis():
            raise Refused(f"unknown axis '{axis}'", "a named axis", nearest_name(axis, lists_by_axis()))
        return self._book.items.get(axis, ())

    # ---- looking up ----

    def _known(self, value_id: str) -> None:
        term_id = value_id.partition(".")[0]
        if term_id not in terms():
            raise Refused(f"unknown value '{term_id}'", "the id of a Term", nearest_name(term_id, terms()))

    def _find(self, value_id: str) -> Value | None:
        self._known(value_id)
        term_id, *ids = value_id.split(".")
        found = self._book.values.get(term_id)
        if found is None or not ids:
            return found
        if len(ids) != len(found.axes):
            raise Refused(f"'{term_id}' runs over {found.axes}, not {ids}", "one item for each axis")
        known = all(item in along for item, along in zip(ids, found.items))
        return found.element(*ids) if known else None

    def _plain(self, value_id: str) -> Value | None:
        found = self._find(value_id)
        if found is not None and found.axes:
            raise Refused(f"'{value_id}' runs over {' and '.join(found.axes)}", 'items("axis", "…") or bands("…")')
        return found

    def _why(self, value_id: str) -> str:
        missing = self._book.undecided.get(value_id.partition(".")[0], ())
        return f"not known ({told_shortly(self._book, missing)})" if missing else "not part of this design"

    def _verdict(self, check_id: str) -> Verdict:
        try:
            return self._book.check(check_id)
        except KeyError:
            known = [verdict.check.id for verdict in (*self._book.checks, *self._book.self_tests)]
            raise Refused(f"unknown check '{check_id}'", "the id of a check of this book", nearest_name(check_id, known)) from None


class ChapterFunctions(BookFunctions):
    """Functions for the template of one chapter."""

    def __init__(self, addresses: Addresses, chapter: Chapter):
        super().__init__(addresses)
        self._chapter = chapter

    def compared(self, *value_ids: str) -> Markup:
        """Every decision that sets a Term of this chapter: chosen, why, these values side by side where they differ, what each option gives up."""
        for value_id in value_ids:
            self._known(value_id)
        return self._addresses.unmoved(f"compared {value_ids}", lambda issued: html.join(
            [parts.compared(issued, decision, self._chapter, value_ids) for decision in issued.book.decisions_of(self._chapter.id)]))

    def verdicts(self) -> Markup:
        """The line of verdicts of this chapter."""
        return parts.tally(self._addresses, self._own_verdicts())

    def figure(self, figure_id: str) -> Markup:
        """A figure of this chapter with the table of its numbers."""
        return self._addresses.unmoved(f"figure {figure_id}", lambda issued: drawings.figure(issued, self._chapter.id, figure_id))

    def schematic(self, schematic_id: str) -> Markup:
        """A schematic of the plant."""
        if schematic_id not in schematics.known():
            raise Refused(f"unknown schematic '{schematic_id}'", "one of the schematics", nearest_name(schematic_id, schematics.known()))
        return self._addresses.unmoved(f"schematic {schematic_id}", lambda issued: drawn_as_schematic(issued, schematics.schematic_of(schematic_id)))

    def see(self, shown: str) -> Markup:
        """In brackets the number of the table or figure of this page that shows this first, such as (Table 4.2); nothing where none does.

        `shown` is the id of a figure, of a schematic or of a value in a table.
        """
        known = [*terms(), *schematics.known(), *drawings.figures_of(self._chapter.id)]
        if shown not in known:
            raise Refused(f"unknown figure or value '{shown}'", "what a figure or table of this chapter shows", nearest_name(shown, known))
        return numbering.see(self._data, shown)

    def _own_verdicts(self) -> tuple[Verdict, ...]:
        return self._book.checks_of(self._chapter.id)

