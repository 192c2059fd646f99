"""Finding a thing by a word: values, formulas, procedures, checks, tables, sources and input keys by id, name, symbol and meaning.

Words near the one asked for count as well, for less: a plural, one wrong letter, the beginning of a longer word. Reads what the chapters declare, no project.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import asdict, dataclass, field

from basis.chapters import Catalogue, catalogue
from basis.language import units, user_cache
from basis.language.faults import Fault, Faults, nearest_name
from basis.language.formula import Formula, Procedure
from basis.language.sources import sources
from basis.language.table import heads, table
from basis.language.terms import Term, homes, lists_by_key, terms
from basis.reading.schema import PROJECT, VALUE, Field, Table

PLACE = "find"
SHOWN = 20  # of many, the best
# How well a word of a thing fits the word asked for.
SAME, PLURAL, BEGINS, WITHIN, NEAR = 1.0, 0.9, 0.6, 0.35, 0.3
SHORTEST = 4  # letters of a word of which one may be wrong, or that may stand within another
# How much it counts where the word stands.
OF_ID, OF_NAME, OF_SYMBOL, OF_MEANING, OF_CHAPTER = 30.0, 28.0, 40.0, 6.0, 5.0
WHOLE = 200.0  # the words asked for are the id or the name itself
COVERED = 10.0  # they are all words of the name
OF_KIND = {"source": 0.3, "table": 0.7}  # what one opens for its own sake counts whole
WORD = re.compile(r"[^\W_]+")
PRIMES = str.maketrans({'"': "″", "'": "′", "_": "", "{": "", "}": ""})


@dataclass(frozen=True)
class Entry:
    """One thing that can be found, and the words by which it is."""

    kind: str
    id: str
    name: str
    symbol: str = ""
    unit: str = ""
    chapter: str = ""
    meaning: str = field(default="", repr=False)

    @property
    def tried(self) -> bool:
        """Whether `try` runs it."""
        return self.kind in ("formula", "procedure", "value")

    @property
    def line(self) -> str:
        """What stands behind its kind and id."""
        return f"{self.name}{f' [{self.unit}]' if self.unit else ''}{f', {self.chapter}' if self.chapter else ''}"


def entries(known: Catalogue | None = None) -> Iterator[Entry]:
    """Everything that can be found. In this order stand things that fit equally well."""
    known = known or catalogue()
    for chapter in known.chapters:
        yield Entry("chapter", chapter.id, chapter.title, chapter=chapter.id)
    yield from (_of_term(term, known) for term in terms().values())
    for chapter_id, checks in known.checks.items():
        yield from (Entry("check", one.id, one.title, unit=_unit(terms()[one.value]), chapter=chapter_id, meaning=f"{one.value} {one.limit}") for one in checks)
    for chapter_id, made in known.formulas.items():
        yield from (Entry("procedure", one.id, name_of(one), chapter=chapter_id, meaning=f"{one.doc} {one.equation}")
                    for one in made if not isinstance(one, Formula) and one.id not in terms())
    for one in lists_by_key().values():
        yield Entry("list", one.key, f"List of {one.key.replace('_', ' ')}", chapter=_chapter_of_list(one.axis))
    yield from (Entry("key", one.key, one.meaning.rstrip("."), meaning=" ".join(one.of.by_key) if one.of else "") for _, one in project_keys().values())
    for table_id, path in heads().items():
        used = table(table_id)
        yield Entry("table", table_id, used.title, chapter=path.parent.parent.name, meaning=f"{used.note} {' '.join(used.columns)}")
    citing = _citing(known)
    yield from (Entry("source", one.id, one.citation, chapter=", ".join(citing.get(one.id, ())), meaning=one.note) for one in sources().values())


def _of_program() -> list[Entry]:
    """Everything that can be found in this program."""
    return [Entry(**facts) for facts in user_cache.of_program("entries", lambda: [vars(one) for one in entries()])]


def project_keys() -> dict[str, tuple[Table, Field]]:
    """Keys of a project, and of what may be said of a value, that are neither Terms nor lists of items, each with the table that declares it."""
    return {one.key: (declared, one) for declared in (PROJECT, VALUE) for one in declared.fields}


def _of_term(term: Term, known: Catalogue) -> Entry:
    producer = known.producers.get(term.id)
    kind = "formula" if isinstance(producer, Formula) else "value" if producer else "constant" if term.constant else "input"
    return Entry(kind, term.id, term.name, term.symbol, _unit(term), known.chapter_of.get(term.id, homes()[term.id]),
                 f"{term.meaning} {' '.join(term.choices)} {producer.doc if producer else ''}")


def name_of(producer: Formula | Procedure) -> str:
    """The name of a formula, or of what a procedure yields."""
    first, *rest = [terms()[name].name for name in producer.yields]
    return f"{first} and {len(rest)} more" if len(rest) > 1 else f"{first}, {rest[0]}" if rest else first


def _unit(term: Term) -> str:
    if term.is_text:
        return ""
    return " or ".join(dict.fromkeys(filter(None, (units.pretty(unit, "currency") for unit in (term.si_unit, term.us_unit)))))


def _chapter_of_list(axis: str) -> str:
    return next((homes()[term.id] for term in terms().values() if term.own_axes == (axis,)), "")


def _citing(known: Catalogue) -> dict[str, tuple[str, ...]]:
    """Source id -> the chapters whose formulas, checks and Terms cite it."""
    found: dict[str, dict] = {}
    held = [(chapter_id, one) for some in (known.formulas, known.checks) for chapter_id, own in some.items() for one in own]
    cited = [(chapter_id, source_id) for chapter_id, one in held for source_id in one.sources]
    for chapter_id, source_id in (*cited, *((homes()[term.id], term.source) for term in terms().values() if term.source)):
        found.setdefault(source_id, {})[chapter_id] = None
    return {source_id: tuple(chapters) for source_id, chapters in found.items()}


def find(words: Iterable[str], known: Catalogue | None = None) -> list[Entry]:
    """Things that fit all the words, or as many of them as any does, the best first. Raises Faults when nothing fits any."""
    asked = [word for text in words for word in text.split()]
    parts = [part for word in asked for part in WORD.findall(word.lower()) or [word]]
    symbols = {part: word for word in asked for part in WORD.findall(word.lower()) or [word]}
    index = _Index(list(entries(known)) if known else _of_program())
    fits = [index.fits(part, symbols[part]) for part in dict.fromkeys(parts)]
    scored: dict[int, list] = {}
    for found in fits:
        for place, score in found.items():
            scored.setdefault(place, []).append(score)
    if not scored:
        raise Faults([Fault(PLACE, 0, f"nothing is called '{' '.join(asked)}', and no meaning holds the word", "a word of an id, a name, a symbol or a meaning",
                            nearest_name(asked[0] if asked else "", index.words), "basis try --list")])
    most = max(map(len, scored.values()))
    ranks = {place: index.score(place, scores, parts) for place, scores in scored.items() if len(scores) == most}
    return [index.entries[place] for place in sorted(ranks, key=lambda place: (-ranks[place], len(index.entries[place].id.split("_")), place))]


class _Index:
    """Words of all things -> the things that have them, and what that counts."""

    def __init__(self, entries: list[Entry]):
        self.entries = entries
        self.words: dict[str, dict[int, float]] = {}
        for place, entry in enumerate(entries):
            for text, weight in ((entry.chapter, OF_CHAPTER), (entry.meaning, OF_MEANING), (entry.name, OF_NAME), (entry.id, OF_ID)):
                for word in WORD.findall(text.lower()):
                    have = self.words.setdefault(word, {})
                    have[place] = max(weight, have.get(place, 0.0))

    def fits(self, part: str, symbol: str) -> dict[int, float]:
        """Place of each thing that fits a word -> how well. `symbol`: the word as it was typed."""
        found: dict[int, float] = {}
        for word, places in self.words.items():
            if share := alike(part, word):
                for place, weight in places.items():
                    found[place] = max(share * weight, found.get(place, 0.0))
        for place, entry in enumerate(self.entries):
            whole, base = entry.symbol.translate(PRIMES), entry.symbol.partition(",")[0].translate(PRIMES)
            if entry.symbol and symbol.translate(PRIMES) in (whole, base):
                found[place] = max(OF_SYMBOL * (SAME if symbol.translate(PRIMES) == whole else PLURAL), found.get(place, 0.0))
        return found

    def score(self, place: int, scores: list[float], parts: list[str]) -> float:
        """How well a thing fits all that was asked."""
        entry = self.entries[place]
        whole = WORD.findall(entry.id.lower()) == parts or WORD.findall(entry.name.lower()) == parts
        covered = min(1.0, len(parts) / len(WORD.findall(entry.name) or parts))
        return (sum(scores) + COVERED * covered) * OF_KIND.get(entry.kind, 1.0) + (WHOLE if whole else 0.0)


def alike(asked: str, word: str) -> float:
    """How well a word fits the one asked for, from nought to one."""
    if asked == word:
        return SAME
    if _singular(asked) == _singular(word):
        return PLURAL
    if len(asked) < SHORTEST:
        return BEGINS if len(asked) > 2 and word.startswith(asked) else 0.0
    if word.startswith(asked):
        return BEGINS
    if one_letter_apart(asked, word) or one_letter_apart(_singular(asked), _singular(word)):
        return NEAR
    return WITHIN if asked in word else 0.0


def _singular(word: str) -> str:
    """A word without the ending of its plural: `batteries` -> `battery`, `losses` -> `loss`, `openings` -> `opening`."""
    if len(word) < SHORTEST or word.endswith("ss"):
        return word
    if word.endswith("ies"):
        return f"{word[:-3]}y"
    if word.endswith(("sses", "xes", "ches", "shes")):
        return word[:-2]
    return word.removesuffix("s")


def one_letter_apart(one: str, other: str) -> bool:
    """Whether one letter is wrong, missing, too many, or two that stand beside each other are swapped. Words of fewer letters than four are not near."""
    if min(len(one), len(other)) < SHORTEST or abs(len(one) - len(other)) > 1:
        return False
    start = next((place for place, (a, b) in enumerate(zip(one, other)) if a != b), min(len(one), len(other)))
    left, right = one[start:], other[start:]
    if len(left) == len(right):
        return left[1:] == right[1:] or left[2:] == right[2:] and left[:2] == right[1::-1]
    return left[1:] == right if len(left) > len(right) else left == right[1:]


def find_lines(found: list[Entry], all_of_them: bool = False) -> Iterator[str]:
    """The things as lines: kind, id, name, unit, chapter; of many the best."""
    shown = found if all_of_them else found[:SHOWN]
    widest = max(len(one.id) for one in shown)
    yield from (f"{one.kind:<9}  {one.id:<{widest}}  {one.line}" for one in shown)
    if len(found) > len(shown):
        yield f"and {len(found) - len(shown)} more, with --all"


def find_record(found: list[Entry]) -> list[dict]:
    """The things as plain data."""
    return [{**{key: part for key, part in asdict(one).items() if key != "meaning"}, "try": one.tried} for one in found]
