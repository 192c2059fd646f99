"""The file of one chapter for a beginner: what is needed, what is usual, fine points. Keys that hang on a choice stand under that choice.

Headings, order and words are those of the Terms and lists. A line that begins with `#key` is not in force until its # is taken away.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property

from basis.guessing.draft import Draft, Written
from basis.language.terms import Term, UsualDecision, UsualOption, homes, list_homes, listed, terms, usual_decisions
from basis.language.words import item_words
from basis.reading import schema
from basis.reading.givens import DAY_WANTED, word_wanted
from basis.solving.asked import asked_by_formulas, asked_in
from basis.solving.hanging import hanging_in, lists_needed, words_of
from basis.terminal import yaml_text
from basis.terminal.samples import Samples, item_ids, rows_of, table_of_rows
from basis.terminal.yaml_text import UNBROKEN, commented, prose, remarked

SCHEMA_LINE = "# yaml-language-server: $schema=../project.schema.json"
PARTS = {"Needed": "Without a value for each of these there is no book.",
         "Usual": "What most plants say: choices, data that the checks ask for, lists.",
         "Fine points": "What stands by default or is computed; give it where yours is another."}
NEEDED, USUAL, FINE = PARTS
NOTHING = "Nothing: this file may stay as it is."
LONG = 40  # letters of what may be written, beyond which it stands on lines of its own


@dataclass(frozen=True)
class StarterFile:
    """The text of one chapter's file in a book of some chapters, with the values and items of a draft.

    there: keys that stand already in another file of the project, with the name of the file; they are not asked for again.
    """

    chapter: str
    title: str
    book: tuple[str, ...]
    draft: Draft = field(default_factory=Draft)
    titles: dict = field(default_factory=dict)  # of all chapters
    there: dict = field(default_factory=dict)  # (term id, item) -> file
    only: frozenset | None = None  # ids of the Terms that are not written elsewhere; all of this file, if none

    @cached_property
    def terms(self) -> tuple[Term, ...]:
        """Inputs that stand in this file."""
        if self.only is not None:
            return tuple(terms()[name] for name in self.only)
        return tuple(terms()[name] for name, chapter in asked_in(self.book).items() if chapter == self.chapter)

    @cached_property
    def samples(self) -> Samples:
        """Samples in the currency of the draft."""
        given = self.draft.written.get(("currency", ""))
        return Samples(given.text if given else self.draft.currency, self.draft.items)

    @cached_property
    def axes(self) -> list[str]:
        """Lists of which something is said here."""
        return list(dict.fromkeys(term.own_axes[0] for term in self.terms if term.own_axes))

    def text(self) -> str:
        """The whole file."""
        lines = [SCHEMA_LINE, f"# {self.title}", "# A line that begins with #key is not in force: take its # away to use it.", ""]
        for name, meaning in PARTS.items():
            blocks = list(self._blocks(name))
            if blocks or name == NEEDED:
                lines += [f"# ---- {name} {'-' * (yaml_text.WIDTH - 10 - len(name))}", f"# {meaning if blocks else NOTHING}", ""]
                lines += [line for block in blocks for line in (*block, "")]
        if self.there:
            given = [f"{key} in {file}" for (key, item), file in self.there.items() if not item]
            lines += prose(f"Asked for here too, and given already: {', '.join(given)}.") if given else []
        return "\n".join(lines).rstrip() + "\n"

    def _blocks(self, part: str) -> Iterator[list[str]]:
        plain = [term for term in self.terms if not term.own_axes and (term.id, "") not in self.there]
        tree = _Tree(plain, self)
        for chapter in sorted({self._home(term) for term in plain}, key=lambda one: one != self.chapter):
            tops = [term for term in plain if self._home(term) == chapter and tree.is_top(term) and tree.part(term) == part]
            if tops and chapter != self.chapter:
                where = f"may stand in {chapter}.yaml too" if chapter in self.book else "was not in this book when this file was begun"
                yield prose(f"This chapter needs what follows from the chapter '{self.titles[chapter]}', which {where}.")
            for term in tops:
                yield list(self._entry(term, tree))
        for axis in self.axes:
            one = _List(self, axis)
            if one.part() == part:
                yield one.lines()
        if part == USUAL:
            if decisions := [one for one in usual_decisions()[self.chapter] if any(name in asked_in(self.book) for name in one.options[0].sets)]:
                yield list(self._decisions(decisions))

    def _home(self, term: Term) -> str:
        return homes()[term.id]

    def _entry(self, term: Term, tree: _Tree, indent: str = "") -> Iterator[str]:
        """A key with what hangs on it."""
        yield from self.key(term, indent, tree)
        for words, hanging in tree.below(term).items():
            yield from prose(f"-- With {term.id} {said_words(term, words)}:", indent)
            for one in hanging:
                yield from self._entry(one, tree, indent)

    def key(self, term: Term, indent: str, tree: _Tree, item: str = "", place: int = 0, needed: bool | None = None) -> list[str]:
        """Meaning, form and value of one key: as the draft has it, blank where it is needed, else a sample that is not in force."""
        lines = [*prose(f"{term.name}: {term.meaning}" if term.meaning else f"{term.name}.", indent), *self._form(term, indent, tree)]
        given = self.draft.written.get((term.id, item))
        if given:
            return [*lines, *self.given(term, given, indent)]
        needed = tree.is_needed(term) if needed is None else needed
        form = form_of(term) if needed else form_of_sample(term)
        if len(form) > LONG:
            lines += prose(f"{form[:1].upper()}{form[1:]}.", indent)
        form = form if len(form) <= LONG else ""
        if needed:
            return [*lines, *remarked([f"{indent}{term.id}:"], form, indent)]
        remark = ", ".join(filter(None, (tree.remark(term), form)))
        key = yaml_text.key_lines(term.id, self.samples.of(term, place), indent)
        lines += remarked([f"{indent}#{line[len(indent):]}" for line in key], remark, indent)
        return lines

    def given(self, term: Term, given: Written, indent: str) -> list[str]:
        """A value of the draft with what is said of it."""
        said = {"file" if term.fixed_axis == "hour" else "value": given.text, "note": given.note, "standing": given.standing}
        said = {key: text for key, text in said.items() if text}
        return yaml_text.key_lines(term.id, said if len(said) > 1 else given.text, indent)

    def _form(self, term: Term, indent: str, tree: _Tree) -> list[str]:
        """What more somebody must know who writes it: the order of a list of numbers, the rows of a table, choices that stand elsewhere."""
        lines = []
        if term.fixed_axis and term.fixed_axis != "hour":
            lines += prose(f"In the order: {', '.join(map(item_words, listed(term.fixed_axis).fixed))}.", indent)
        if rows := rows_of(term):
            lines += prose(f"A row as the table prints it; {table_of_rows(term)} has: {', '.join(row.replace(' ', UNBROKEN) for row in rows)}.", indent)
        if not tree.is_needed(term) and (other := [f"{choice.id} {said_words(choice, words)}{tree.file_of(choice)}" for choice, words in tree.elsewhere(term)]):
            lines += prose(f"Read only with {' and with '.join(other)}.", indent)
        return lines

    def _decisions(self, decisions: list[UsualDecision]) -> Iterator[str]:
        """Usual decisions with their options written out."""
        yield from prose(f"Decisions: {schema.PROJECT.by_key['decisions'].meaning} The book solves every option and shows them side by side; what an "
                         "option sets stands before the same key elsewhere.")
        lines = ["decisions:"]
        for one in decisions:
            pairs = {"id": one.id, "name": one.name, "chosen": one.options[0].id, "reason": schema.DECISION.by_key["reason"].meaning}
            lines += [line for key, text in pairs.items() for line in yaml_text.key_lines(key, text, "    ")] + ["    options:"]
            for option in one.options:
                pairs = {"id": option.id, "name": option.name, "gives_up": option.gives_up}
                lines += [line for key, text in pairs.items() for line in yaml_text.key_lines(key, text, "        ")] + ["        with:"]
                lines += self._sets(option)
        dashed = [_dashed(line) for line in lines]
        yield from commented(dashed)


    def _sets(self, option: UsualOption) -> Iterator[str]:
        """What an option sets: keys, and of a list the row of its first item."""
        rows: dict[str, dict] = {}
        for name, text in option.sets.items():
            if axes := terms()[name].own_axes:
                rows.setdefault(axes[0], {})[name] = text
            else:
                yield from yaml_text.key_lines(name, text, "          ")
        for axis, row in rows.items():
            item = next(iter(self.draft.items.get(axis) or item_ids(axis)))
            yield from (f"          {listed(axis).key}:", f"            - id: {item}")
            yield from (line for name, text in row.items() for line in yaml_text.key_lines(name, text, "              "))


def _dashed(line: str) -> str:
    """The first key of an entry carries its dash."""
    return line.replace("    id:", "  - id:", 1) if line.lstrip().startswith("id:") else line


def said_words(choice: Term, words: tuple[str, ...]) -> str:
    """The words of a choice in a sentence; those that it must not have where these are fewer."""
    others = [word for word in words_of(choice) if word not in words]
    return f"other than {' or '.join(others)}" if len(others) < len(words) and len(words) > 2 else " or ".join(words)


def form_of(term: Term) -> str:
    """What may be written: words, or units."""
    if rows_of(term):
        return "a row of its table"
    if term.is_text or term.unit == "reference" or term.fixed_axis == "hour":
        return word_wanted(term)
    if term.kind == "date":
        return DAY_WANTED
    return f"in {' or '.join(_units(term))}" if _units(term) else "a whole number" if term.whole else "a plain number"


def form_of_sample(term: Term) -> str:
    """The same beside a sample, which shows one unit and the form of a number."""
    is_number = not term.is_text and term.fixed_axis != "hour"
    return "" if is_number and len(_units(term)) < 2 else form_of(term)


def _units(term: Term) -> list[str]:
    return [unit.replace("cur", "currency") for unit in dict.fromkeys((term.si_unit, term.us_unit)) if unit != "1"]


@dataclass
class _Tree:
    """Which keys of one block stand under which choice of the same block."""

    block: list
    file: StarterFile

    @cached_property
    def _hanging(self) -> dict:
        return hanging_in(self.file.book)

    @cached_property
    def _here(self) -> dict:
        return {term.id: term for term in self.block}

    def conditions(self, term: Term) -> dict:
        """Choices on which it hangs, with the words; of an element, those of other lists do not count."""
        found = {terms()[name]: words for name, words in self._hanging.get(term.id, {}).items()}
        return {choice: words for choice, words in found.items() if not choice.own_axes or choice.own_axes == term.own_axes or not term.own_axes}

    def parent(self, term: Term) -> Term | None:
        """The choice of this block under which it stands: the last of those on which it hangs."""
        if self.is_needed(term):
            return None
        order = list(self._here)
        found = [choice for choice in self.conditions(term) if choice.id in self._here and order.index(choice.id) < order.index(term.id)]
        return max(found, key=lambda choice: order.index(choice.id), default=None)

    def is_top(self, term: Term) -> bool:
        """Whether it stands under no choice."""
        return self.parent(term) is None

    def below(self, choice: Term) -> dict[tuple, list]:
        """Words -> what stands under the choice."""
        found: dict[tuple, list] = {}
        for term in self.block:
            if self.parent(term) == choice:
                found.setdefault(self.conditions(term)[choice], []).append(term)
        return found

    def is_needed(self, term: Term) -> bool:
        """Whether there is no book without it, as far as the draft and the defaults of choices tell."""
        if not term.required or term.id not in asked_by_formulas(self.file.book):
            return False
        return all(choice.own_axes or self._word(choice) in words for choice, words in self.conditions(term).items())

    def _word(self, choice: Term) -> str | None:
        given = self.file.draft.written.get((choice.id, ""))
        return given.text if given else choice.default

    def elsewhere(self, term: Term) -> list[tuple[Term, tuple]]:
        """Conditions that its place in this file does not show."""
        above, said, one = set(), {}, self.parent(term)
        while one is not None:
            above.add(one)
            said |= self.conditions(one)
            one = self.parent(one)
        return [(choice, words) for choice, words in self.conditions(term).items() if choice not in above and said.get(choice) != words]

    def file_of(self, choice: Term) -> str:
        """Where the choice stands, unless it is here."""
        file = asked_in(self.file.book).get(choice.id, self.file.chapter)
        return "" if file == self.file.chapter else f" in {file}.yaml"

    def part(self, term: Term) -> str:
        """The part of the file."""
        given = (term.id, "") in self.file.draft.written
        return NEEDED if self.is_needed(term) else USUAL if given or term.required or _is_usual(term) else FINE

    def remark(self, term: Term) -> str:
        """Why it need not be written."""
        if term.required:
            return "then needed" if term.id in asked_by_formulas(self.file.book) else "optional"
        return "default" if term.default is not None else "normally computed" if term.either else "optional"


def _is_usual(term: Term) -> bool:
    return term.optional and not term.either or term.unit == "choice" and not term.table


@dataclass
class _List:
    """A list: its rows as the draft has them, or two samples that are not in force."""

    file: StarterFile
    axis: str

    @cached_property
    def terms(self) -> list[Term]:
        """What is said of an item here."""
        return [term for term in self.file.terms if term.own_axes == (self.axis,)]

    @cached_property
    def tree(self) -> _Tree:
        """Keys under choices."""
        return _Tree(self.terms, self.file)

    def part(self) -> str:
        """The part of the file: needed where there is no book without an item, and what is said here of an item is among it."""
        return NEEDED if self._is_needed() or self._is_said() else USUAL

    def _is_needed(self) -> bool:
        return self.axis in lists_needed(self.file.book) and (self.owner() == self.file.chapter or any(term.required for term in self.terms))

    def _is_said(self) -> bool:
        items = self.file.draft.items.get(self.axis, {})
        said = any((term.id, item) in self.file.draft.written for term in self.terms for item in items)
        return bool(items) and (said or self.owner() == self.file.chapter or any(term.required for term in self.terms))

    def lines(self) -> list[str]:
        """Heading and rows."""
        items = self.file.draft.items.get(self.axis, {})
        words = listed(self.axis).key.replace("_", " ")
        owner = self.owner()
        lines = prose(f"{words.capitalize()}: one entry for each {item_words(self.axis)}." if owner == self.file.chapter else
                      f"{words.capitalize()}: what this chapter asks of each {item_words(self.axis)}; ids and names as in {owner}.yaml.")
        if not items:
            first, second = item_ids(self.axis)
            taught = [f"{listed(self.axis).key}:", *self._taught(first, _named(first), 0, blank=self._is_needed())]
            return [*lines, *(taught if self._is_needed() else commented(taught)), *commented(self._short(second))]
        first, *others = items
        rows = self._taught(first, items[first], 0, blank=True)
        for item in others:
            rows += self._filled(item, items[item])
        block = [f"{listed(self.axis).key}:", *rows]
        return [*lines, *(block if self._is_said() else commented(block))]

    def owner(self) -> str:
        """The chapter in whose file the items have their names: that which declares the list, or the first that says something of them."""
        saying = [asked_in(self.file.book)[term.id] for term in map(terms().get, asked_in(self.file.book)) if term.own_axes == (self.axis,)]
        saying = saying if self.file.only is None else [*saying, self.file.chapter]
        home = list_homes()[self.axis]
        return home if home in saying else min(saying, key=self.file.book.index) if self.file.book else saying[0]

    def _head(self, item: str, name: str) -> list[str]:
        owns = self.owner() == self.file.chapter
        return [f"  - id: {item}", *(yaml_text.key_lines("name", name, "    ") if owns and name else ())]

    def _taught(self, item: str, name: str, place: int, blank: bool) -> list[str]:
        """An item with every key explained: first what is needed, then what hangs on choices and the rest."""
        lines = self._head(item, name)
        for part in PARTS:
            for term in self.terms:
                if self._part(term) == part and self.tree.is_top(term) and (term.id, item) not in self.file.there:
                    lines += self._entry(term, item, place, blank)
        return lines

    def _part(self, term: Term) -> str:
        return NEEDED if term.required else USUAL if _is_usual(term) else FINE

    def _entry(self, term: Term, item: str, place: int, blank: bool) -> list[str]:
        lines = self.file.key(term, "    ", self.tree, item, place, needed=blank and self.tree.is_needed(term))
        if not blank and term.required:
            lines[-1] = lines[-1].replace("    #", "    ", 1).replace("  # then needed, ", "  # ").removesuffix("  # then needed")
        for words, hanging in self.tree.below(term).items():
            lines += prose(f"-- With {term.id} {said_words(term, words)}:", "    ")
            lines += [line for one in hanging for line in self._entry(one, item, place, blank)]
        return lines

    def _short(self, item: str) -> list[str]:
        """A second sample on one line: what is needed, or else what is most usual."""
        asked = [term for term in self.terms if term.required] or [term for term in self.terms if term.optional][:2] or self.terms[:2]
        named = {"name": _named(item)} if self.owner() == self.file.chapter else {}
        return yaml_text.row({"id": item, **named, **{term.id: self.file.samples.of(term, 1) for term in asked}})

    def _filled(self, item: str, name: str) -> list[str]:
        """A further item of the draft: its values, and blanks for what is needed."""
        lines = self._head(item, name)
        for term in self.terms:
            if given := self.file.draft.written.get((term.id, item)):
                lines += self.file.given(term, given, "    ")
            elif self.tree.is_needed(term) and (term.id, item) not in self.file.there:
                lines.append(f"    {term.id}:")
        return lines


def _named(item: str) -> str:
    return item.replace("_", " ").capitalize()
