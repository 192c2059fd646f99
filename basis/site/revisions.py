"""The page of revisions: what has been issued and when, what changed from each issue to the next and since the last, and because of what.

Shows what `basis.record` has found; computes nothing.
"""
from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from markupsafe import Markup, escape

from basis.chapters import catalogue
from basis.language.formula import Check
from basis.language.terms import list_key, terms
from basis.language.words import in_sentence, item_words
from basis.record.causes import Cause
from basis.record.compare import Comparison, MovedCheck, MovedValue, title
from basis.record.history import MOST_CHECKS, NOT_MADE, Course, History, courses
from basis.record.issued import Head, IssuedCheck
from basis.record.moved import Moved
from basis.site import html
from basis.site.addresses import Addresses
from basis.site.functions import BookFunctions
from basis.site.kept import kept
from basis.site.numbering import caption, figure_title
from basis.site.paired import paired
from basis.site.quantities import as_issued, both, both_of, difference_read_back
from basis.site.sheet import verdict_word
from basis.solving.since import Was
from basis.solving.verdict_words import WORDS

MOST_NUMBERS, MOST_CAUSES, MOST_VALUES = 4, 4, 30  # of one value, of one change, of one chapter; of more the rest is counted
LONG = 12  # rows of a table beyond which it is folded
NOW = "as it stands"
FIRST = (" writes every number, verdict and decision as it stands now into a sealed record beside the project's text. Commit the two together. "
         "From then on this page tells what has changed since, and because of what.")


class RevisionFunctions(BookFunctions):
    """Functions for the page of revisions."""

    def __init__(self, addresses: Addresses, history: History):
        super().__init__(addresses)
        self._history = history

    def issues(self) -> Markup:
        """Every issue, the newest first, above them the book as it stands."""
        if not self._history.records:
            command = html.tag("code", f'basis issue {self._book.project.slug} A --note "for review"')
            return html.paragraph("Nothing of this book has been issued yet. ", command, FIRST)
        rows = [(self._data.link(f"#{_anchor(record.head)}", record.head.revision) if place else record.head.revision, record.head.date, record.head.note,
                 html.join([html.tag("div", f"{role.role} {role.date}") for role in record.roles]) or "none given", _tally(record.checks.values()))
                for place, record in enumerate(self._history.records)]
        present = (self._data.link(f"#{_anchor(self._history.now.head)}", NOW), "–", "not issued", "–", _tally(self._history.now.checks.values()))
        heads = ("Revision", "Date", "Note", "Roles", "Checks")
        return html.table(caption(self._addresses, "Issues and the book as it stands"), heads, [present, *reversed(rows)], "words issues")

    def margins(self) -> Markup:
        """The margins of the checks that matter most over the issues, as a figure and as a table."""
        found = [self._in_both(course) for course in courses(self._history)]
        if not found:
            return html.paragraph("Nothing to draw: no verdict has turned between the issues and now, and no margin that is tight or short has moved.")
        titles = tuple(_check_title(course.check) for course in found)
        picture = kept(self._addresses, ("figure", "margins"), lambda addresses: _drawn(found, titles), found, titles)
        title = figure_title(self._addresses, "Margins over the issues", "margins", "figure-margins")
        return html.tag("figure", html.scroll_box(picture, "Margins over the issues"), html.tag("figcaption", title, ". ", MEANING),
                        _courses_table(self._addresses, found), class_="drawing", id=self._data.place("figure-margins"))

    def _in_both(self, course: Course) -> Course:
        """The same with margins in both systems."""
        return replace(course, stands=tuple(replace(stand, shown=_margin(self._addresses, course.check, stand.shown)) for stand in course.stands))

    def changes(self) -> Markup:
        """What has changed since the last issue, then from each issue to the next, the newest first."""
        if not self._history.records:
            return html.EMPTY
        made, later = [], frozenset()
        for found in (self._history.since, *reversed(self._history.steps)):
            made.append(_comparison(self._addresses, found, later))
            later |= _moved_ids(found)
        return html.join(made)


MEANING = (f"At most {MOST_CHECKS} checks, a row each: first those that turned, then those that fail or are tight and moved. Each row has its own scale; the "
           "dashed line is where nothing is left of the margin. A cross fails, a triangle is tight, a disc holds.")


def _drawn(found: Sequence[Course], titles: Sequence[str]) -> Markup:
    from basis.site.timeline import timeline  # here, since loading matplotlib takes a quarter of a second

    return Markup(timeline.svg((found, titles)))


def _courses_table(addresses: Addresses, found: Sequence[Course]) -> Markup:
    heads = ["Check", *(stand.state or NOW for stand in found[0].stands)]
    rows = [(_check_name(addresses, course.check), *(_stood(stand.verdict, both_of(stand.shown)) for stand in course.stands)) for course in found]
    return html.tag("details", html.tag("summary", "The numbers of this figure"), html.table("", heads, rows, "words", "Margins over the issues"))


def _tally(checks: Iterable[IssuedCheck]) -> Markup:
    counts = Counter(check.verdict for check in checks)
    return html.join([html.tag("div", verdict_word(word), f" {counts[word]}") for word in WORDS if counts[word]])


def _anchor(head: Head) -> str:
    return f"to-{head.revision}" if head.number else "since"


# ---- one comparison ----


def _moved_ids(found: Comparison) -> frozenset[str]:
    return frozenset(one.id for value in found.values for one in value.numbers)


def _comparison(addresses: Addresses, found: Comparison, later: frozenset[str]) -> Markup:
    """What one state has changed against the one before it; `later`: ids of numbers that have moved again since."""
    heading = f"From revision {found.old.revision} to {found.new.revision}" if found.new.number else f"Since revision {found.old.revision}"
    return html.join([addresses.data.heading(heading, _anchor(found.new)), html.paragraph(_head(found)), *_sections(addresses, found, later), _rest(found)])


def _rest(found: Comparison) -> Markup:
    """Where the results stand that the page leaves out."""
    if not any(not value.asked for values in found.results.values() for value in values):
        return html.EMPTY
    command = " ".join(("basis compare", found.old.project, found.old.revision, found.new.revision)).strip()
    return html.paragraph("Of a chapter in which many values moved, those stand here that a check or another chapter takes. All of them: ",
                          html.tag("code", command), ".")


def _head(found: Comparison) -> str:
    sides = f"Between {title(found.old)} and {title(found.new)}"
    if found.nothing:
        return f"{sides} {found.nothing_told}."
    return f"{sides} {_count(found.moved, 'number')} and {_count(len(found.turned), 'verdict')} differ."


def _count(number: int, what: str) -> str:
    return f"{number} {what}{'' if number == 1 else 's'}"


def _sections(addresses: Addresses, found: Comparison, later: frozenset[str]) -> Iterator[Markup]:
    """Verdicts that turned, decisions, lists, inputs, results by chapter; what has nothing to say is left out."""
    yield _part("Verdicts that turned", ("Check", "Before", "After", "Because of"), [_check_row(addresses, check) for check in found.turned])
    yield _part("Chapters", ("Chapter", "Change"), [(one.new or one.old, "new" if one.new else "gone") for one in found.taken], "words")
    yield _part("Decisions", ("Decision", "Before", "After"), [_decision_row(addresses, one) for one in found.decisions])
    yield _part("Lists", ("List", "New", "Gone"), [(list_key(cause.id), _items(addresses, cause.id, cause.new), _items(addresses, cause.id, cause.old))
                                                   for cause in found.lists], "words")
    yield _part("Inputs", ("Input", "Before", "After", "Change", "Note"), _inputs(addresses, found, later))
    for chapter, values in found.results.items():
        count = sum(one.seen for value in values for one in value.numbers)
        yield _part(f"Results: {found.chapters[chapter]}, {_count(count, 'number')}", ("Result", "Before", "After", "Change", "Because of"),
                    _result_rows(addresses, values, later), folded=True)


def _part(name: str, heads: Sequence[str], rows: Sequence, class_: str = "words changes", folded: bool = False) -> Markup:
    """A table under its name; folded where it is long."""
    if not rows:
        return html.EMPTY
    table = html.table("", heads, rows, class_, name)
    if folded or len(rows) > LONG:
        return html.tag("details", html.tag("summary", name), table, class_="folded")
    return html.heading(3, name) + table


def _check_row(addresses: Addresses, check: MovedCheck) -> tuple:
    where = f", {_item_names(addresses, check)}" if check.element else ""
    old = _stood(check.old, both_of(_margin(addresses, check.id, check.old_margin)))
    why = html.tag("div", check.why) if check.why and not check.new_margin else html.EMPTY
    new = _stood(check.new, both_of(_margin(addresses, check.id, check.new_margin))) + why
    return _check_name(addresses, check.id) + where, old, new, _because(addresses, check.because)


def _margin(addresses: Addresses, check_id: str, text: str) -> str:
    """A margin that was shown of a check, in both systems."""
    made = _made(addresses, check_id)
    value = addresses.book.values.get(made.value) if made else None
    return paired(text, difference_read_back(value, text)) if value else text


def _item_names(addresses: Addresses, check: MovedCheck) -> str:
    known = _known(check.id)
    axes = terms()[known.value].axes if known else ()
    return ", ".join(addresses.item_name(*pair) for pair in zip(axes, check.element.split())) or ", ".join(map(item_words, check.element.split()))


def _stood(word: str, margin: Markup | str) -> Markup:
    return (verdict_word(word) if word in WORDS else escape(word or NOT_MADE)) + (html.small(" ", margin) if margin else html.EMPTY)


def _items(addresses: Addresses, axis: str, ids: str) -> str:
    return ", ".join(addresses.item_name(axis, item) for item in ids.split(", ")) if ids else "–"


def _decision_row(addresses: Addresses, one: Moved) -> tuple:
    decision = next((known for known in addresses.book.project.decisions if known.id == one.id), None)
    name = addresses.data.link(f"options.html#decision-{one.id}", decision.name) if decision else escape(item_words(one.id))
    return name, one.old or "none", one.new or "none"


def _inputs(addresses: Addresses, found: Comparison, later: frozenset[str]) -> list[tuple]:
    """Those that somebody gave or that moved; what came or went with the program's own word is counted."""
    rows = [row for value in found.given for row in _input_rows(addresses, value, later)]
    return rows + ([(found.defaults_told, "", "", "", "")] if found.defaults_told else [])


def _input_rows(addresses: Addresses, value: MovedValue, later: frozenset[str]) -> list[tuple]:
    return [(*_sides(addresses, one, one.id in later), _noted(one)) for one in value.numbers[:MOST_NUMBERS]] + _more(addresses, value, len(value.numbers))


def _noted(one: Moved) -> Markup:
    """The note of an input and, where it is another, its standing."""
    standing = one.old_standing and one.new_standing and one.old_standing != one.new_standing
    return html.join(filter(None, (one.noted, f"was {one.old_standing}, is {one.new_standing}" if standing else "")), "; ") or escape("–")


def _result_rows(addresses: Addresses, values: Sequence[MovedValue], later: frozenset[str]) -> list[tuple]:
    """The values that are shown otherwise, of many those that a check or another chapter takes; the others are counted."""
    seen = [value for value in values if any(one.seen for one in value.numbers)]
    asked = [value for value in seen if value.asked or len(seen) <= LONG]
    rows = [row for value in asked[:MOST_VALUES] for row in _value_rows(addresses, value, later)]
    left = ((len(asked) - MOST_VALUES, "more of these"), (len(seen) - len(asked), "that only this chapter takes"),
            (len(values) - len(seen), "moved by less than is shown"))
    return [*rows, *((f"{_count(count, 'value')} {words}", "", "", "", "") for count, words in left if count > 0)]


def _value_rows(addresses: Addresses, value: MovedValue, later: frozenset[str]) -> list[tuple]:
    seen = [one for one in value.numbers if one.seen]
    because = _because(addresses, value.because)
    rows = [(*_sides(addresses, one, one.id in later), "″" if place else because) for place, one in enumerate(seen[:MOST_NUMBERS])]
    return rows + _more(addresses, value, len(seen))


def _more(addresses: Addresses, value: MovedValue, count: int) -> list[tuple]:
    left = count - MOST_NUMBERS
    return [(_plain_name(addresses, value.id), html.small(f"and {left} more"), "", "", "")] if left > 0 else []


def _sides(addresses: Addresses, one: Moved, gone: bool) -> tuple:
    """Name, number before, number after, change. The later number leads to its working; where that shows another by now, `gone`, as a link among words."""
    address = _address(addresses, one.id) if one.new else ""
    value = addresses.book.values.get(one.id.partition(".")[0])
    old, new = (as_issued(addresses, value, Was(*side)) if value and side[0] else side[0] for side in zip((one.old, one.new), one.in_si))
    change = both(one.change, difference_read_back(value, one.change)) if value else one.change
    after = html.link(address, new, class_=None if gone else "n") if address else escape(new or "none")
    return _plain_name(addresses, one.id), old or "none", after, change or ("–" if one.number else "only what is said of it")


# ---- names and links, as far as the present book has what is named ----


def _address(addresses: Addresses, value_id: str) -> str:
    """Where the working of a value or element stands; nothing where the present book has it no more."""
    term_id, *ids = value_id.split(".")
    value = addresses.book.values.get(term_id)
    if value is None:
        return ""
    return addresses.address(value_id if len(ids) == len(value.axes) and all(one in along for one, along in zip(ids, value.items)) else term_id)


def _name(addresses: Addresses, value_id: str) -> Markup:
    """The same with a link to its working."""
    name, address = _plain_name(addresses, value_id), _address(addresses, value_id)
    return html.link(address, name) if address else escape(name)


def _plain_name(addresses: Addresses, value_id: str) -> str:
    """The name of a value and of the items of its element."""
    term_id, *ids = value_id.split(".")
    if term_id not in terms():
        return value_id  # of a program that knew more, or other, quantities
    return ", ".join([terms()[term_id].name, *(addresses.item_name(*pair) for pair in zip(terms()[term_id].axes, ids))])


def _known(check_id: str) -> Check | None:
    """A check of the program, whether the present book makes it or not; None where the program has it no more."""
    return next((check for checks in catalogue().checks.values() for check in checks if check.id == check_id), None)


def _check_title(check_id: str) -> str:
    known = _known(check_id)
    return known.title if known else item_words(check_id)


def _made(addresses: Addresses, check_id: str) -> Check | None:
    """A check of the present book; None where it makes it no more."""
    try:
        return addresses.book.check(check_id).check
    except KeyError:
        return None


def _check_name(addresses: Addresses, check_id: str) -> Markup:
    made = _made(addresses, check_id)
    return html.link(addresses.check_address(made), made.title) if made else escape(_check_title(check_id))


# ---- because of ----


def _because(addresses: Addresses, causes: Sequence[Cause]) -> Markup:
    told = [_told(addresses, cause) for cause in causes[:MOST_CAUSES]]
    more = [f"{len(causes) - MOST_CAUSES} more"] if len(causes) > MOST_CAUSES else []
    return html.join([*told, *more], ", ")


def _told(addresses: Addresses, cause: Cause) -> Markup:
    match cause.kind:
        case "formula" if cause.old == cause.new:
            return escape("the program: another working of ") + _name(addresses, cause.id)
        case "formula":
            return escape("the program: ") + _name(addresses, cause.id) + f", formula {cause.old or 'none'} → {cause.new or 'none'}"
        case "table":
            return escape(f"the program: table {cause.id}, {cause.old} → {cause.new}")
        case "default":
            return _name(addresses, cause.id) + ", which the program has by default"
        case "list":
            return escape(f"the list of {list_key(cause.id)}")
        case "chapter":
            titles = {chapter.id: in_sentence(chapter.title) for chapter in catalogue().chapters}
            return escape(f"the chapter on {titles.get(cause.id, item_words(cause.id))}")
        case "program":
            return escape(f"the program, {cause.old} → {cause.new}" if cause.old != cause.new else "the program")
    return _name(addresses, cause.id)
