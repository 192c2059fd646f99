"""What somebody has to write so that a value or check can be decided: the key, the item, the file. Never a computed value that waits itself."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from basis.language.compiled import Step, chain, count_name, given_name
from basis.language.faults import ItemTroubles, OutOfTable
from basis.language.terms import listed, lists_by_axis, lists_by_key, terms
from basis.language.words import in_sentence, item_words
from basis.solving.asked import file_of, file_of_list
from basis.solving.book import Book
from basis.solving.trouble import Places


@dataclass(frozen=True)
class Lack:
    """A key that is not given: of a list, of an item, or by itself; the name of the quantity, and where it is to be written."""

    key: str
    of: str
    name: str
    file: str
    line: int

    @property
    def told(self) -> str:
        """As a person reads it: what it is, then what to write."""
        return f"{self.name} ({self.key}{f' of {self.of}' if self.of else ''})" if self.name else f"{self.key}"


def lacks(book: Book, missing: Iterable[str]) -> tuple[Lack, ...]:
    """What to write for ids that are not given."""
    places = Places(book.project.folder, book.project.files, book.project.givens, book.items, book.project.item_places, book.project.chapters)
    return tuple(dict.fromkeys(_lack(one, places, book) for one in missing))


def _lack(missing: str, places: Places, book: Book) -> Lack:
    term_id, _, item = missing.partition(".")
    if term_id in lists_by_key():
        axis = lists_by_key()[term_id].axis
        name = f"more {item_words(term_id)}" if book.items[axis] else ""  # those that are listed do not reach
        return Lack(term_id, "", name, file_of_list(axis, book.project.chapters), 0)
    term = terms()[term_id]
    _, line = places.of(term, item)
    own = term.own_axes[0] if term.own_axes else ""
    of = book.names.get(own, {}).get(item) or item_words(item) if item else listed(own).key if own else ""
    return Lack(term_id, of, in_sentence(term.name), file_of(term, book.project.chapters), line if item else 0)


def told(book: Book, missing: Iterable[str]) -> str:
    """What to write in a sentence: name, key and file."""
    return f"not given: {_by_file(lacks(book, missing))}"


def told_shortly(book: Book, missing: Iterable[str]) -> str:
    """The same within running text: names only, and of many the first."""
    first, *rest = [lack.name or item_words(lack.key) for lack in lacks(book, missing)]
    return f"not given: {first}" + (f" and {len(rest)} more" if len(rest) > 1 else f" and {rest[0]}" if rest else "")


def _by_file(found: Iterable[Lack]) -> str:
    files: dict[str, list[str]] = {}
    for lack in found:
        files.setdefault(lack.file, []).append(lack.told)
    return "; ".join(f"{', '.join(names)} in {file}" for file, names in files.items())


FILLINGS = (1.0, 50.0)  # what is tried for numbers that are not given: two, since a scale may begin above the one or end below the other


@dataclass
class Roots:
    """From a result that is not a number to the inputs that are not given. `results` of a run by name; `absent`: what had to be left out, and why."""

    steps: dict[str, Step]  # by what they yield
    results: dict
    items: dict
    absent: dict
    found: dict = field(default_factory=dict)
    whole: dict = field(default_factory=dict)
    wait: dict = field(default_factory=dict)

    @cached_property
    def _counts(self) -> tuple[str, ...]:
        return tuple(map(count_name, lists_by_axis()))

    def _filled(self, name: str, filling: float):
        """A result with the filling for every number that is not given."""
        if (name, filling) not in self.whole:
            data = np.asarray(self.results[name])
            self.whole[name, filling] = np.where(np.isnan(data), filling, data) if data.dtype.kind == "f" else self.results[name]
        return self.whole[name, filling]

    def waits(self, term_id: str) -> np.ndarray:
        """For each element of a result whether it is no number because something is not given; one that would be none in any case does not exist."""
        if term_id not in self.wait:
            self.wait[term_id] = self._waits(term_id, np.isnan(self.results[term_id]))
        return self.wait[term_id]

    def _waits(self, term_id: str, blank: np.ndarray) -> np.ndarray:
        step, term = self.steps.get(term_id), terms()[term_id]
        if not term.absent:
            return blank & (step is not None or not term.lacking)
        if step is None or step.procedure:  # what a procedure makes of a blank is its own answer
            return np.zeros_like(blank)
        waiting = {need: self.waits(need) for need in step.needs if need in self.results and np.asarray(self.results[need]).dtype.kind == "f"}
        if not any(one.any() for one in waiting.values()):
            return np.zeros_like(blank)
        found = np.zeros_like(blank)
        for filling in FILLINGS:
            tried = self._tried(step, term_id, {need: np.where(one, filling, self.results[need]) for need, one in waiting.items()})
            found = found if tried is None else found | ~np.isnan(tried)
        return blank & found

    def of(self, wanted: str) -> tuple[str, ...]:
        """Ids of the inputs, with the item where it is one of a list, or keys of lists without items, that keep `wanted` from being a number."""
        if wanted not in self.found:
            self.found[wanted] = (wanted,)  # if it comes back to itself nothing else is to blame
            self.found[wanted] = self._of(wanted) or (wanted,)
        return self.found[wanted]

    def _of(self, wanted: str) -> tuple[str, ...]:
        term_id, *ids = wanted.split(".")
        if term_id in self.absent:
            return tuple(dict.fromkeys(root for one in self.absent[term_id] for root in self._input(one)))
        step = self.steps.get(term_id)
        if step is None:
            return self._input(wanted)
        if not ids and (blank := self._blank_items(term_id)):
            return self._of_all(dict.fromkeys(root for item in blank for root in self.of(f"{term_id}.{item}")))
        if terms()[term_id].absent and self._stays_blank(step, "", term_id, ids):
            return ()  # whatever were given: it does not exist
        found = [root for need in self._blamed(step, term_id, ids) for root in self.of(self._element(step, need, term_id, ids))]
        return tuple(dict.fromkeys(found)) or self._empty(term_id, step) or self._too_short(term_id, step)

    def _input(self, wanted: str) -> tuple[str, ...]:
        if wanted in lists_by_key():
            return (wanted,)
        term = terms()[wanted.partition(".")[0]]
        if "." in wanted or not term.own_axes:
            return (wanted,)
        if not self.items[term.own_axes[0]]:
            return (listed(term.own_axes[0]).key,)
        blank = self._blank_items(term.id) if term.id in self.results else ()
        return self._of_all(f"{term.id}.{item}" for item in blank) or (term.id,)

    def _of_all(self, roots: Iterable[str]) -> tuple[str, ...]:
        """The same roots, a key that every item of its list lacks told once, without them."""
        found = tuple(roots)
        every = {name for name in {root.partition(".")[0] for root in found if "." in root}
                 if all(f"{name}.{item}" in found for item in self.items[terms()[name].axes[0]])}
        return tuple(dict.fromkeys(root.partition(".")[0] if root.partition(".")[0] in every else root for root in found))

    def _blank_items(self, term_id: str) -> list[str]:
        """Ids of the items for which there is no number."""
        axes = terms()[term_id].axes
        items = self.items[axes[0]] if axes and not listed(axes[0]).fixed else ()
        blanks = _blanks(self.results[term_id])
        return [item for item, one in zip(items, blanks) if np.any(one)] if np.shape(blanks)[:1] == (len(items),) else []  # one number may stand for all

    def _empty(self, term_id: str, step: Step) -> tuple[str, ...]:
        axes = dict.fromkeys(axis for name in (term_id, *step.needs) for axis in terms()[name].axes if not listed(axis).fixed and not self.items[axis])
        return tuple(listed(axis).key for axis in axes)

    def _too_short(self, term_id: str, step: Step) -> tuple[str, ...]:
        """Lists of which a procedure takes all items at once, where it lacks nothing else: a curve whose points end before what is asked of it, elements of
        which none belongs to an item of another list.
        """
        axes = dict.fromkeys(axis for name in step.needs for axis in terms()[name].own_axes[:1]) if step.procedure else ()
        served = {terms()[name].refers_to for name in step.needs} | set(terms()[term_id].axes)
        return tuple(listed(axis).key for axis in axes if axis not in served)

    def _element(self, step: Step, need: str, term_id: str, ids: list[str]) -> str:
        """The element of a need that stands beside an element of the result: of the same item, or of the one to which the item refers."""
        own, other = terms()[need].axes, terms()[term_id].axes
        if not ids or not own or listed(own[0]).fixed:
            return need
        if own[0] == other[0]:
            return f"{need}.{ids[0]}"
        references = [name for name in step.needs if (terms()[name].refers_to, *terms()[name].axes[:1]) == (own[0], other[0])]
        place = int(self.results[references[0]][self.items[other[0]].index(ids[0])]) if len(references) == 1 else -1
        return f"{need}.{self.items[own[0]][place]}" if place >= 0 else need

    def _place(self, name: str, term_id: str, ids: list[str]) -> tuple:
        """Index of the elements of `name` that stand beside an element of the result."""
        known = dict(zip(terms()[term_id].axes, ids))
        return tuple(self.items[axis].index(known[axis]) if axis in known else slice(None) for axis in terms()[name].axes)

    def _blank(self, need: str, term_id: str, ids: list[str]) -> bool:
        if need not in self.results:
            return need in self.absent
        return bool(np.any(_blanks(np.asarray(self.results[need])[self._place(need, term_id, ids)])))

    def _blamed(self, step: Step, term_id: str, ids: list[str]) -> list[str]:
        """Needs that keep the result from being a number. Of a procedure: references to nothing only where no number is missing."""
        blank = [need for need in step.needs if self._blank(need, term_id, ids)]
        if step.procedure:
            blank = [need for need in blank if need not in self.results or np.asarray(self.results[need]).dtype.kind != "i"] or blank
        return [need for need in blank if self._is_to_blame(step, need, term_id, ids)] if len(blank) > 1 or not step.procedure else blank

    def _is_to_blame(self, step: Step, need: str, term_id: str, ids: list[str]) -> bool:
        if need not in self.results or np.asarray(self.results[need]).dtype.kind not in "fi":
            return True
        return self._stays_blank(step, need, term_id, ids)

    def _stays_blank(self, step: Step, need: str, term_id: str, ids: list[str]) -> bool:
        """Whether the result stays no number when everything but this need is filled in; not known is taken for yes of a need, for no of none."""
        return all(self._stays_blank_with(filling, step, need, term_id, ids) for filling in FILLINGS)

    def _stays_blank_with(self, filling: float, step: Step, need: str, term_id: str, ids: list[str]) -> bool:
        result = self._tried(step, term_id, {name: self._filled(name, filling) for name in step.needs if name in self.results and name != need})
        return bool(need) if result is None else bool(np.any(_blanks(result[self._place(term_id, term_id, ids)])))

    def _tried(self, step: Step, term_id: str, other: dict) -> np.ndarray | None:
        """What a step yields of one Term with other data for some of its needs; None where it cannot be computed."""
        data = {name: self.results[name] for name in (*step.needs, *self._counts) if name in self.results} | other
        if step.merged:
            data[given_name(term_id)] = self.results[given_name(term_id)]
        try:
            with np.errstate(all="ignore"):
                return np.asarray(_run_alone(step, term_id, data))
        except (ArithmeticError, ValueError, OutOfTable, ItemTroubles):
            return None


def _run_alone(step: Step, term_id: str, data: dict):
    """What a step yields of one Term from these data."""
    if step.procedure:
        return step.procedure.run(*(data[name] for name in step.needs))[0][step.yields.index(term_id)]
    (result,) = chain((step,), tuple(data), terms())(*data.values())
    return result


def _blanks(data):
    """Where data is not given: no number, no text, a reference to nothing."""
    data = np.asarray(data)
    if data.dtype.kind in "OU":
        return data == ""
    return data == -1 if data.dtype.kind == "i" else np.isnan(data)
