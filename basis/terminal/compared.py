"""A comparison as lines for a terminal and as Markdown for a pull request: verdicts first, then inputs, then results by chapter.

Writes what `basis.record.compare` has found; computes nothing.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict

from basis.chapters import catalogue
from basis.language.terms import list_key
from basis.language.words import item_words
from basis.record.compare import Cause, Comparison, Moved, MovedCheck, MovedValue, title

MOST_NUMBERS, MOST_CAUSES, MOST_VALUES = 6, 5, 40  # of one value, of one change, of one chapter; of more the rest is counted
LONGEST_COMMENT, BESIDE = 60_000, 100  # characters: forges cut at 65 536; what stands beside the rows of a table
PRESENT = "solved with the program as it is now"


def to_record(found: Comparison) -> dict:
    """All of it as plain data."""
    return {**asdict(found), "titles": [title(found.old), title(found.new)], "numbers_moved": found.moved,
            "verdicts_worse": [check.id for check in found.worse]}


def to_lines(found: Comparison) -> Iterator[str]:
    """As a person reads it in a terminal."""
    yield _head(found)
    for heading, rows in _sections(found):
        yield ""
        yield heading
        yield from (f"  {_line(*cells)}" for cells in rows)


def _line(what: str, change: str, because: str) -> str:
    told = "; ".join(filter(None, (change, because and f"because of {because}")))
    return f"{what}: {told}" if told else what


def to_markdown(found: Comparison) -> Iterator[str]:
    """As a comment on a pull request: tables, long ones folded, and those for which a comment has no room left told by their length."""
    yield f"**{_escaped(_head(found))}**"
    room = LONGEST_COMMENT
    for heading, rows in _sections(found):
        table = [f"| {' | '.join(map(_escaped, cells))} |" for cells in rows]
        room -= len("\n".join(table)) + len(heading) + BESIDE
        folded = len(rows) > MOST_NUMBERS
        yield ""
        if room < 0:
            yield f"{_escaped(heading)}: {_count(len(rows), 'row')}, too many for a comment; `basis compare` prints them"
        else:
            yield f"<details><summary>{_escaped(heading)}</summary>" if folded else f"### {_escaped(heading)}"
            yield from ("", "| What | Change | Because of |", "| --- | --- | --- |", *table, *(("", "</details>") if folded else ()))


def _escaped(text: str) -> str:
    """Text that Markdown shows as it is."""
    for sign in "\\`*_|<>[]":
        text = text.replace(sign, f"\\{sign}")
    return text


def _head(found: Comparison) -> str:
    sides = f"{found.new.name}: {title(found.old)} → {title(found.new)}"
    solved = [title(head) for head in (found.old, found.new) if head.revision and not head.number]
    how = f" ({' and '.join(solved)} {PRESENT})" if solved else ""
    if found.nothing:
        return f"{sides}{how}: {found.nothing_told}"
    return f"{sides}{how}: {_count(found.moved, 'number')}, {_count(len(found.turned), 'verdict')}"


def _count(number: int, what: str) -> str:
    return f"{number} {what}{'' if number == 1 else 's'}"


def _sections(found: Comparison) -> Iterator[tuple[str, list[tuple[str, str, str]]]]:
    """Heading and rows (what, change, because of) of each part that has any."""
    checks = {check.id: check.title for checks in catalogue().checks.values() for check in checks}
    rows = [
        ("Verdicts that turned", [_check_row(check, checks) for check in found.turned]),
        ("Chapters", [(one.new or one.old, "new" if one.new else "gone", "") for one in found.taken]),
        ("Decisions", [(one.id, f"{one.old or 'none'} → {one.new or 'none'}", "") for one in found.decisions]),
        ("Lists", [_list_row(cause) for cause in found.lists]),
        ("Inputs", _inputs(found)),
        *((f"Results: {found.chapters[chapter]}", _results(values)) for chapter, values in found.results.items()),
    ]
    yield from ((heading, part) for heading, part in rows if part)


def _check_row(check: MovedCheck, titles: dict[str, str]) -> tuple[str, str, str]:
    sides = (check.old, check.old_margin), (check.new, check.new_margin or check.why)
    words = [f"{word or 'not made'}{f' ({told})' if told else ''}" for word, told in sides]
    where = f" at {', '.join(map(item_words, check.element.split()))}" if check.element else ""
    return f"{titles.get(check.id, check.id)}{where}", " → ".join(words), _because(check.because)


def _list_row(cause: Cause) -> tuple[str, str, str]:
    changes = (f"{word} {items}" for word, items in (("new:", cause.new), ("gone:", cause.old)) if items)
    return list_key(cause.id), "; ".join(changes), ""


def _inputs(found: Comparison) -> list[tuple[str, str, str]]:
    """Those that somebody gave or that moved; what came or went with the program's own word is counted."""
    return [row for value in found.given for row in _rows(value)] + ([(found.defaults_told, "", "")] if found.defaults_told else [])


def _results(values: tuple[MovedValue, ...]) -> list[tuple[str, str, str]]:
    """The values that are shown otherwise; the others are counted."""
    seen = [value for value in values if any(one.seen for one in value.numbers)]
    rows = [row for value in seen[:MOST_VALUES] for row in _rows(value)]
    left = [f"{_count(count, 'value')} {words}" for count, words in ((max(len(seen) - MOST_VALUES, 0), "more moved"),
                                                                  (len(values) - len(seen), "moved by less than is shown")) if count]
    return [*rows, *((one, "", "") for one in left)]


def _rows(value: MovedValue) -> list[tuple[str, str, str]]:
    numbers = [one for one in value.numbers if one.seen or not one.number or one.old_standing != one.new_standing] or value.numbers
    rows = [(one.id, _change(one), _because(value.because) if place == 0 else "") for place, one in enumerate(numbers[:MOST_NUMBERS])]
    more = len(numbers) - MOST_NUMBERS
    return [*rows, (value.id, f"and {more} more", "")] if more > 0 else rows


def _change(one: Moved) -> str:
    numbers = f"{one.old or 'none'} → {one.new or 'none'}{f' ({one.change})' if one.change else ''}" if one.number else one.new
    standing = f"{one.old_standing} → {one.new_standing}" if one.old_standing and one.new_standing and one.old_standing != one.new_standing else ""
    return "; ".join(filter(None, (numbers, standing, one.noted and f"note: {one.noted}")))


def _because(causes: tuple[Cause, ...]) -> str:
    told = [_told(cause) for cause in causes[:MOST_CAUSES]]
    more = [f"{len(causes) - MOST_CAUSES} more"] if len(causes) > MOST_CAUSES else []
    return ", ".join([*told, *more])


def _told(cause: Cause) -> str:
    if cause.kind == "formula":
        if cause.old == cause.new:
            return f"the program: the working of {cause.id} is another"
        return f"the program: formula of {cause.id}, {cause.old or 'none'} → {cause.new or 'none'}"
    if cause.kind == "table":
        return f"the program: table {cause.id}, {cause.old} → {cause.new}"
    if cause.kind == "default":
        return f"{cause.id}, which the program has by default"
    if cause.kind == "list":
        return f"the list of {list_key(cause.id)}"
    if cause.kind == "program":
        return f"the program, {cause.old} → {cause.new}" if cause.old != cause.new else "the program"
    return f"chapter {cause.id}" if cause.kind == "chapter" else cause.id
