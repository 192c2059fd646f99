"""One formula by itself: quantities from the command line in, its working out. The engineer's desk calculator."""

from __future__ import annotations

import re

import numpy as np

from basis.chapters import Catalogue
from basis.chapters import catalogue as all_chapters
from basis.language import units
from basis.language.compiled import Step, chain, count_name, result_names
from basis.language.faults import Fault, Faults, ItemTroubles, OutOfTable, find_command, nearest_name
from basis.language.formula import Formula, Procedure
from basis.language.maths import decided, names_in
from basis.language.standing import cited, outside_range, source_marks
from basis.language.table import families
from basis.language.terms import Term, listed, lists_by_axis, lists_by_key, terms
from basis.solving.trouble import why
from basis.solving.value import Value, written_shown

PLACE = "try"
ABSENT = "not given"
MOST_ITEMS = 99  # that a reference or a number of items may name
PARTS = re.compile(r'"[^"]*"|[\[\],]|[^\[\],"]+')  # of a written list: words in quotes, brackets and commas, what stands between them


def try_formula(formula_id: str, quantities: dict[str, str], catalogue: Catalogue | None = None) -> dict[str, Value]:
    """Values of the inputs and of all results of a formula or procedure by id; inputs left out take the default of their Term.

    `formula_id` is its own or that of one of its results. `quantities` maps ids of its inputs to text such as "180 kW"; for a Term over items it is a
    list, "[4 m^2, 9.5 m^2]", over two axes a list of lists. An item that a reference names is written item_1, item_2 and so on. How many items a list
    has of which only the number is asked is given under the key of the list. Inputs of an arm that the choices leave out are not asked for. Raises Faults:
    unknown formula or input, missing input, wrong unit, shape or range, or a result that does not exist.
    """
    return _Trial(maker(formula_id, catalogue or all_chapters()), quantities).values()


def makers(catalogue: Catalogue) -> dict[str, Formula | Procedure]:
    """Formulas and procedures by their ids and by those of what they yield."""
    return {one.id: one for own in catalogue.formulas.values() for one in own} | catalogue.producers


def maker(name: str, catalogue: Catalogue) -> Formula | Procedure:
    """The formula or procedure of that id, or that yields it. Raises Faults."""
    known = makers(catalogue)
    if name not in known:
        why = f"'{name}' is an input: no formula yields it" if name in terms() else f"no formula or procedure '{name}'"
        raise Faults([Fault(PLACE, 0, why, "the id of a formula, a procedure or a result", nearest_name(name, known), find_command(name))])
    return known[name]


def written_form(term: Term) -> str:
    """How an input is written for `try`: unit or words; a list, or lists in a list, where it runs over items."""
    one = f"one of {', '.join(words_of(term))}" if words_of(term) else "item_1, item_2 …" if term.unit == "reference" else "a text" if term.is_text \
        else f"NUMBER {term.si_unit}" if term.si_unit != "1" else "NUMBER"
    if not term.axes:
        return one
    absent = f", '{ABSENT}' where there is none" if term.optional else ""
    if term.is_text:
        return f"{_brackets(term.axes, 'WORD')}{_along(term)}: {one}{absent}"
    return f"{_brackets(term.axes, one)}{_along(term)}{absent}"


def _brackets(axes: tuple, one: str) -> str:
    """`[[NUMBER dB, …], …]`"""
    return f"[{_brackets(axes[1:], one)}, …]" if axes else one


def _along(term: Term) -> str:
    """` for each receiver, in it for each of 9 bands`"""
    return " for each " + ", in it for each ".join(f"of {len(listed(axis).fixed)} {_key_words(axis)}" if listed(axis).fixed else f"of the {_key_words(axis)}"
                                                   for axis in term.axes)


def _number_of(count: int, axis: str) -> str:
    return f"{count} {axis.replace('_', ' ') if count == 1 else _key_words(axis)}"


def _key_words(axis: str) -> str:
    return listed(axis).key.replace("_", " ")


def words_of(term: Term) -> tuple[str, ...]:
    """The words that a Term may have; none when any text will do."""
    return families().get(term.table, ()) if term.table else term.choices


class _Trial:
    """One run of one formula: what was written, the items that it names, and what is wrong with it."""

    def __init__(self, producer, quantities: dict[str, str]):
        self.producer, self.quantities = producer, quantities
        self.help = f"basis try {producer.id} --help-inputs"
        self.faults: list[Fault] = []
        self.items: dict[str, tuple[str, ...]] = {axis: one.fixed for axis, one in lists_by_axis().items() if one.fixed}

    def values(self) -> dict[str, Value]:
        data = self.data = self._data()
        if self.faults:
            raise Faults(self.faults)
        results = self._results(data)
        found = {name: self._input_value(name, data[name]) for name in data}
        return found | {name: self._computed_value(name, results, found) for name in self.producer.yields}

    # -- what was written ---------------------------------------------------------------------------------------------

    def _data(self) -> dict:
        parameters = self.producer.parameters
        counted = {listed(axis).key: axis for axis in self._axes() if not listed(axis).fixed}
        for name in self.quantities:
            if name not in parameters and name not in counted:
                self._fault(f"'{name}' is not an input of '{self.producer.id}'", ", ".join((*parameters, *self._asked_counts())),
                            nearest_name(name, (*parameters, *counted)))
        for key, axis in counted.items():
            if key in self.quantities:
                self.items[axis] = _numbered(self._count(key, self.quantities[key]))
        cells = {name: self._cells(terms()[name], self.quantities[name]) for name in parameters if name in self.quantities}
        if not self._name_items(cells):
            raise Faults(self.faults)  # how many items there are is unknown
        data = {name: self._read(terms()[name], found) for name, found in cells.items()}
        asked = self._asked(data)
        data |= {name: self._default(terms()[name]) for name in asked if name not in data}
        return {name: data[name] for name in parameters if name in data}

    def _axes(self) -> tuple[str, ...]:
        """Axes over which anything of the formula runs, or whose items it counts."""
        named = (*self.producer.parameters, *self.producer.yields)
        return tuple(dict.fromkeys((*(axis for name in named for axis in terms()[name].axes), *getattr(self.producer, "counts", ()))))

    def _asked_counts(self) -> tuple[str, ...]:
        """Keys of the lists of which the formula asks only how many items they have."""
        return counts_asked(self.producer)

    def _count(self, key: str, text: str) -> int:
        if text.strip().isdecimal() and int(text) <= MOST_ITEMS:
            return int(text)
        return self._wrong(f"'{key}' is '{text}'", f"how many there are: a whole number up to {MOST_ITEMS}", "", 0)

    def _cells(self, term: Term, text: str) -> np.ndarray | None:
        """The texts of the elements in the shape of the Term's axes; None after a Fault when it is written in another."""
        try:
            return cells_of(text, term.axes)
        except ValueError as trouble:
            return self._wrong(f"'{term.id}' {trouble}", written_form(term), "", None)

    def _name_items(self, cells: dict) -> bool:
        """Name the items of each axis: as many as were given, or as a reference names. False when what was given does not agree."""
        if self.faults and any(found is None for found in cells.values()):
            return False
        before = len(self.faults)
        for name, found in cells.items():
            for axis, length in zip(terms()[name].axes, found.shape):
                if len(self.items.setdefault(axis, _numbered(length))) != length:
                    others = "" if listed(axis).fixed else ", as the other inputs"
                    self._fault(f"'{name}' has {_number_of(length, axis)}", f"{_number_of(len(self.items[axis]), axis)}{others}")
        for name, found in cells.items():
            term = terms()[name]
            if term.unit == "reference" and term.refers_to not in self.items:
                numbers = [int(text.removeprefix("item_")) for text in found.ravel() if text.removeprefix("item_").isdecimal()]
                self.items[term.refers_to] = _numbered(min(max(numbers, default=0), MOST_ITEMS))
        for key in self._asked_counts():
            if lists_by_key()[key].axis not in self.items:
                self._fault(f"missing '{key}'", f"{key}='NUMBER', how many there are")
        for axis in {axis for name in self.producer.yields for axis in terms()[name].axes}:
            self.items.setdefault(axis, _numbered(1))  # nothing that was given runs over it: one item stands for all
        return len(self.faults) == before

    def _read(self, term: Term, cells: np.ndarray):
        found = [self._one(term, text) for text in cells.ravel()]
        if not term.axes:
            return found[0]
        kind = int if term.unit == "reference" else object if term.is_text else float
        return np.array(found, dtype=kind).reshape(cells.shape)

    def _one(self, term: Term, text: str):
        if text == ABSENT and term.optional and term.axes:
            return -1 if term.unit == "reference" else "" if term.is_text else np.nan
        if term.unit == "reference":
            items = self.items[term.refers_to]
            return items.index(text) if text in items else self._wrong(f"'{term.id}' is '{text}'", ", ".join(items[:20]), nearest_name(text, items), -1)
        if term.is_text:
            words = words_of(term)
            return text if not words or text in words else self._wrong(f"'{term.id}' is '{text}'", "one of " + ", ".join(words), nearest_name(text, words), "")
        try:
            number, unit_text = units.split_number(text)
            value = units.to_si(number, unit_text, term.unit, term.kind_asked)
        except units.UnitError as trouble:
            return self._wrong(f"'{term.id}': {trouble.what}", trouble.expected, trouble.nearest, np.nan)
        if term.outside(value):
            return self._wrong(f"'{term.id}' is {text}, outside its physical range", term.range_text, "", np.nan)
        if term.whole and not float(value).is_integer():
            return self._wrong(f"'{term.id}' is {text}, and it is a count", "a whole number", "", np.nan)
        return value

    def _wrong(self, what: str, expected: str, nearest: str, instead):
        self._fault(what, expected, nearest)
        return instead

    def _fault(self, what: str, expected: str = "", nearest: str = "") -> None:
        self.faults.append(Fault(PLACE, 0, what, expected, nearest, self.help))

    def _default(self, term: Term):
        """The default, for as many items as the other inputs have."""
        known = all(axis in self.items for axis in term.axes)
        if term.default is None or not known:
            self._fault(f"missing '{term.id}' ({term.name})", f"{term.id}='{written_form(term)}'")
            return None
        data = term.default_data()
        shape = tuple(len(self.items[axis]) for axis in term.axes)
        return np.broadcast_to(np.array(data, dtype=object if term.is_text else float), shape) if term.axes else data

    def _asked(self, data: dict) -> tuple:
        """Inputs of the arms that the choices leave: of all arms while a choice is missing."""
        self.expression = None if isinstance(self.producer, Procedure) else self.producer.expression
        if not getattr(self.producer, "tested", ()):
            return self.producer.parameters
        for name in self.producer.tested:
            if name not in data:
                data[name] = self._default(terms()[name])
        if any(not data[name] for name in self.producer.tested):
            return ()  # which arm runs is unknown: its inputs are not asked for
        self.expression = decided(self.expression, {name: data[name] for name in self.producer.tested if terms()[name].unit == "choice"})
        return (*self.producer.tested, *names_in(self.expression))

    # -- the run ------------------------------------------------------------------------------------------------------

    def _results(self, data: dict) -> dict:
        producer, step = self.producer, self._step()
        inputs = data | {count_name(axis): float(len(self.items.get(axis, ()))) for axis in lists_by_axis()}
        if isinstance(producer, Procedure):
            inputs[f"run_{producer.id}"] = producer.run
        try:
            with np.errstate(all="ignore"):
                results = dict(zip(result_names((step,)), chain((step,), tuple(inputs), terms())(*inputs.values())))
        except OutOfTable as trouble:
            raise Faults([Fault(PLACE, 0, trouble.what, trouble.expected, trouble.nearest)]) from trouble
        except ItemTroubles as found:
            raise Faults([Fault(PLACE, 0, f"'{trouble.term}', {self._item(trouble)}: {trouble.what}", trouble.expected, trouble.nearest)
                          for trouble in found.troubles]) from found
        except (ArithmeticError, ValueError) as trouble:
            raise Faults([Fault(PLACE, 0, f"'{producer.id}' cannot be computed: {why(trouble)}", "inputs for which it is defined")]) from trouble
        for name in producer.yields:
            self._check_result(terms()[name], results[name])
        if self.faults:
            raise Faults(self.faults)
        return results

    def _step(self) -> Step:
        yields = self.producer.yields
        return Step(yields, procedure=self.producer) if isinstance(self.producer, Procedure) else Step(yields, self.expression)

    def _item(self, trouble) -> str:
        axes = terms()[trouble.term].axes
        return self.items[axes[0]][trouble.item] if axes and isinstance(trouble.item, (int, np.integer)) else str(trouble.item)

    def _check_result(self, term: Term, result) -> None:
        if term.is_text:
            return
        if np.any(np.isinf(result)) or (not term.axes and np.isnan(result)):
            self._fault(f"'{term.id}' has no finite value", "inputs for which it is defined")
        elif term.outside(result):
            worst = next(number for number in np.ravel(result) if term.outside(float(number)))
            shown = f"{units.format_si(float(worst), term.si_unit)} {units.pretty(term.si_unit)}".strip()
            self._fault(f"'{term.id}' becomes {shown}, outside its physical range", term.range_text)

    # -- Values -------------------------------------------------------------------------------------------------------

    def _input_value(self, name: str, data) -> Value:
        term = terms()[name]
        given = name in self.quantities
        own = set() if given else source_marks((term.source,)) | (set() if term.constant else {"default"})
        return self._value(term, data, origin="given" if given else "constant" if term.constant else "default", own_marks=frozenset(own), marks=frozenset(own))

    def _computed_value(self, name: str, results: dict, inputs: dict) -> Value:
        producer = self.producer
        numbers = {used: value.number for used, value in inputs.items()} | {name: results[name]}
        read = cited(self._step(), producer, inputs) if getattr(producer, "looks_up", False) else producer.sources
        own = frozenset(source_marks(read))
        facts = {"origin": "formula"}
        if isinstance(producer, Procedure):
            facts = {"origin": "procedure", "residual": (results[f"residual_of_{producer.id}"], results[f"note_of_{producer.id}"])}
        return self._value(terms()[name], results[name], producer=producer, inputs=tuple(inputs), cited=tuple(read), own_marks=own,
                           marks=own.union(*(value.marks for value in inputs.values())), outside=outside_range(producer, numbers),
                           remarks=tuple(self._other_constants()), **facts)

    def _other_constants(self) -> list[str]:
        """Constants of the book for which something else was written."""
        asked = [terms()[name] for name in self.producer.parameters if name in self.quantities and terms()[name].constant]
        return [f"{term.name} is a constant of the book, {written_shown(term, term.default)}, and here another" for term in asked
                if not np.array_equal(self.data[term.id], term.default_data())]

    def _value(self, term: Term, data, **facts) -> Value:
        along = tuple(self.items[axis] for axis in term.axes)
        number = data if term.is_text or term.axes else float(data)
        if term.axes and not term.is_text:
            number = np.broadcast_to(data, tuple(len(ids) for ids in along))
        if term.unit == "reference":
            names = np.array([*self.items[term.refers_to], ""], dtype=object)  # place -1 refers to none
            number = names[data] if term.axes else names[int(data)]
        return Value(term.id, term, number, items=along, axes=term.axes, **facts)


def _numbered(count: int) -> tuple[str, ...]:
    return tuple(f"item_{number + 1}" for number in range(count))


def counts_asked(producer) -> tuple[str, ...]:
    """Keys of the lists whose items a formula counts and over which none of its inputs without a default runs."""
    along = {axis for name in producer.parameters if terms()[name].default is None for axis in terms()[name].axes}
    return tuple(listed(axis).key for axis in getattr(producer, "counts", ()) if axis not in along and not listed(axis).fixed)


def cells_of(text: str, axes: tuple) -> np.ndarray:
    """The texts of the elements of a written list, in its shape: one text without axes, `[a, b]` over one, `[[a, b], [c, d]]` over two.

    A text that holds a comma or a bracket stands in double quotes. Raises ValueError with what is wrong with the shape.
    """
    if not axes:
        if text.strip().startswith("["):
            raise ValueError("is written as a list, and it is one value")
        return np.array(text.strip().strip('"'), dtype=object)
    found = _read_list(text)
    lengths, level = [], [found]
    for axis in axes:
        if any(not isinstance(one, list) for one in level):
            raise ValueError("is not written as a list" if level is found or level == [found] else f"has no list of {_key_words(axis)} for each item")
        if len({len(one) for one in level}) > 1:
            raise ValueError("has lists of unlike length")
        lengths.append(len(level[0]))
        level = [part for one in level for part in one]
    if any(isinstance(one, list) for one in level):
        raise ValueError("has lists where single values are asked")
    cells = np.empty(len(level), dtype=object)
    cells[:] = level
    return cells.reshape(lengths)


def _read_list(text: str):
    """The list that a text writes, of texts and lists; the text itself where it writes none. Raises ValueError for brackets that do not close."""
    if not text.strip().startswith("["):
        return text.strip()
    open_lists: list[list] = [[]]
    filled = False  # whether something stands since the last comma or opening bracket
    for part in filter(str.strip, PARTS.findall(text)):
        if part == "[" and not filled:
            open_lists.append([])
        elif part in ",]" and len(open_lists) > 1 and filled:
            if part == "]":
                closed = open_lists.pop()
                open_lists[-1].append(closed)
            filled = part == "]"
            continue
        elif part in "[],":
            raise ValueError(f"is written '{text.strip()}', in which a bracket or an item is missing")
        elif filled:
            raise ValueError(f"is written '{text.strip()}', in which a comma is missing")
        else:
            open_lists[-1].append(part.strip().strip('"'))
            filled = True
    if len(open_lists) > 1 or len(open_lists[0]) != 1 or not isinstance(open_lists[0][0], list):
        raise ValueError(f"is written '{text.strip()}', in which a bracket is missing")
    return open_lists[0][0]
