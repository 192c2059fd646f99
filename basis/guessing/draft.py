"""A Draft: a project before its text is written. What is given or guessed, each as it will stand in YAML with its note and standing; items of lists;
keys of the project; files beside the text.

Nothing is written that does not exist: a Term, a list or a key of a project that is none is an error of the programmer, at once.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from basis.language import units
from basis.language.terms import Term, listed, terms
from basis.reading.schema import PROJECT, STANDINGS

DIGITS = 3  # of a guess


@dataclass(frozen=True)
class Written:
    """A value as it stands in YAML: a number with its unit, a word, or a list `[1 m, 2 m]`; note and standing may be empty."""

    text: str
    note: str = ""
    standing: str = ""


@dataclass
class Draft:
    """written: by (Term id, item id; "" for a plain Term). items: by axis, id -> name. project: by key of a project. files: name -> text.

    us: whether numbers that are guessed are written in US customary units. currency: that of prices that are guessed.
    """

    us: bool = False
    currency: str = "EUR"
    written: dict[tuple[str, str], Written] = field(default_factory=dict)
    items: dict[str, dict[str, str]] = field(default_factory=dict)
    project: dict[str, str] = field(default_factory=dict)
    files: dict[str, str] = field(default_factory=dict)

    def say(self, key: str, text: str) -> None:
        """Give a key of the project as a whole, such as its name. Raises KeyError where a project has no such key."""
        self.project[PROJECT.by_key[key].key] = text

    def add(self, axis: str, item: str, name: str) -> None:
        """Add an item to the list of that axis. Raises KeyError where there is no such list, ValueError where its items are fixed."""
        if listed(axis).fixed:
            raise ValueError(f"the items of '{axis}' are those of the book")
        self.items.setdefault(axis, {})[item] = name

    def write(self, term_id: str, text: str, note: str = "", standing: str = "", item: str = "") -> None:
        """Give a value as text. Raises KeyError for a Term, an item or a standing that is none; ValueError where no project may give the Term so."""
        term = terms()[term_id]
        if term.constant or len(term.own_axes) != bool(item):
            raise ValueError(f"'{term_id}' runs over {term.own_axes or 'nothing'} and is written for '{item}'")
        if item and item not in self.items.get(term.own_axes[0], {}):
            raise KeyError(f"'{term_id}' of '{item}', which is no item of {term.own_axes[0]}")
        if standing and standing not in STANDINGS:
            raise KeyError(standing)
        self.written[(term_id, item)] = Written(text, note, standing)

    def guess(self, term_id: str, data, note: str, item: str = "", digits: int = DIGITS) -> None:
        """Give an assumed value in SI: a number, a word, or one of these for each item of the Term's fixed list, None where it is not given."""
        self.write(term_id, self.as_text(terms()[term_id], data, digits), note, "assumed", item)

    def as_text(self, term: Term, data, digits: int = DIGITS) -> str:
        """SI data as it is written: rounded, in the unit in which the Term is shown."""
        if isinstance(data, (tuple, list)):
            return f"[{', '.join('not given' if one is None else self.as_text(term, one, digits) for one in data)}]"
        if isinstance(data, str):
            return data
        unit = (term.us_unit if self.us else term.si_unit).replace("cur", self.currency)
        number = units.from_si(float(data), unit)
        return f"{float(f'{number:.{digits}g}') + 0.0:.12g} {'' if unit == '1' else unit}".strip()
