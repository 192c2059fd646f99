"""Requirements and questions as readers see them: the matrix of what answers what, the questions, and what is open where a value or check stands."""
from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from markupsafe import Markup, escape

from basis.chapters import catalogue
from basis.language.terms import terms
from basis.language.words import in_sentence
from basis.reading.register import Question
from basis.reading.schema import ANSWERED, OPEN, WITHDRAWN
from basis.record.history import Issue
from basis.record.issuing import ROLES
from basis.record.requirements import NO_VERDICT, UNANSWERED, Answer, answers
from basis.site import exports, html, tables
from basis.site.addresses import Addresses
from basis.site.asked import anchor, told
from basis.site.numbering import caption
from basis.site.quantities import margin, number
from basis.site.sheet import verdict_head, verdict_word
from basis.solving.verdict_words import NOTHING

WORDS = ("fails", UNANSWERED, "undecided", "tight", "holds", NOTHING, NO_VERDICT)  # most urgent first
NAMED = WORDS[:3]  # of these the tally gives the requirements
SIGNED = ("prepared", "checked", "approved")  # roles with a line to sign, dated or not
TITLES = {OPEN: "Open", ANSWERED: "Answered", WITHDRAWN: "Withdrawn"}
NO_REQUIREMENT, NO_QUESTION = "The project lists no requirement.", "The project records no question."
HEADS = ("Requirement", "Code", "Edition", "Clause", "In the project's words", "Chapter", "Answered by", "Verdict", "Margin", "Why", "Evidence")


# ---- requirements ----

def tally(addresses: Addresses, names: bool = True) -> Markup:
    """How many requirements stand under each word; and, on the page that holds them, which want attention."""
    found = answers(addresses.book)
    counts = Counter(one.word for one in found)
    lines = [verdict_word(word) + f": {counts[word]} of {len(found)}" + (_which(addresses, word, found) if names and word in NAMED else "")
             for word in WORDS if counts[word]]
    return html.bullets(lines, class_="tally") or html.paragraph(NO_REQUIREMENT)


def _which(addresses: Addresses, word: str, found: Iterable[Answer]) -> Markup:
    return escape(" – ") + html.join([addresses.data.link(f"#{anchor(one.requirement)}", one.requirement.id) for one in found if one.word == word], ", ")


def matrix(addresses: Addresses) -> Markup:
    """Every requirement with what answers it; sorts and filters, and stands beside the page as CSV."""
    found = answers(addresses.book)
    heads = ("No.", html.tag("th", "Code, edition, clause", data_pick="Code"), "Requirement", html.tag("th", "Chapter", data_pick="Chapter"), "Answered by",
             verdict_head(words=WORDS), "Evidence")
    table = html.table(caption(addresses, "Requirements and what answers each"), heads, [_row(addresses, one) for one in found], "words matrix")
    return exports.schedule_of_words(addresses, "compliance.csv", table, HEADS, [_cells(one) for one in found], "Requirements: this table as CSV")


def _row(addresses: Addresses, one: Answer) -> Markup:
    asked, clause = one.requirement, _clause(one)
    order = [chapter.id for chapter in addresses.book.chapters]
    place = order.index(one.chapter.id) if one.chapter and one.chapter.id in order else len(order)
    left = html.small(" ", margin(one.verdict)) if one.verdict and one.verdict.margin_text else html.EMPTY
    why = html.tag("div", one.why, class_="from") if one.why else html.EMPTY
    return html.row((asked.id, html.tag("td", one.code, html.tag("div", clause, class_="from"), data_word=one.code), asked.text,
                     html.tag("td", _chapter(addresses, one), data_key=place), _by(addresses, one),
                     html.cell(verdict_word(one.word) + left + why), asked.evidence or "–"),
                    id=addresses.data.place(anchor(asked)))


def _clause(one: Answer) -> str:
    return ", ".join((one.edition or "edition not stated", one.requirement.clause or "no clause named"))


def _chapter(addresses: Addresses, one: Answer) -> Markup:
    if one.chapter is None:
        return escape("the book as a whole")
    return addresses.data.link(f"{one.chapter.id}.html", one.chapter.title) if one.chapter in addresses.book.chapters else escape(one.chapter.title)


def _by(addresses: Addresses, one: Answer) -> Markup:
    """What answers a requirement, linked; of a check the number and its limit, of a value its number, where there is one."""
    asked = one.requirement
    if asked.chapter:
        return _chapter(addresses, one)
    if one.verdict and one.verdict.value:
        sides = html.join([number(addresses, one.verdict.value), *([number(addresses, one.verdict.limit)] if one.verdict.limit else [])],
                          " ≤ " if one.verdict.check.safe == "below" else " ≥ ")
        return _about(addresses, asked.check) + html.tag("div", sides, class_="from")
    if one.value is not None and not one.value.axes and one.answered:
        return _about(addresses, asked.value) + html.tag("div", number(addresses, one.value), class_="from")
    return _about(addresses, asked.check or asked.value) if asked.check or asked.value else escape(asked.statement or "–")


def _cells(one: Answer) -> tuple[str, ...]:
    """The same row as plain text."""
    asked = one.requirement
    by = " ".join(part for part in ("statement" if asked.statement else "", asked.check, asked.value, asked.statement) if part)
    return (asked.id, one.code, one.edition, asked.clause, asked.text, one.chapter.title if one.chapter else "", by, one.word,
            one.verdict.margin_text.removeprefix("+") if one.verdict else "", one.why, asked.evidence)


# ---- questions ----

def questions(addresses: Addresses) -> Markup:
    """All questions, open ones first, then by day."""
    found = sorted(addresses.book.project.questions, key=lambda one: one.date)
    made = []
    for state, title in TITLES.items():
        if own := [one for one in found if one.state == state]:
            heads = ("No.", "Asked", "About", "Question", "Answer" if state != OPEN else "To be answered in")
            rows = [html.row((one.id, _asked(one), _about(addresses, one.about), one.text, _answer(one)), id=addresses.data.place(anchor(one))) for one in own]
            made.append(addresses.data.heading(title, f"state-{state}") + html.table(caption(addresses, f"{title} questions"), heads, rows, "words questions"))
    return html.join(made) or html.paragraph(NO_QUESTION)


def _asked(one: Question) -> Markup:
    return html.tag("time", one.date, datetime=one.date) + html.tag("div", one.role, class_="from")


def _answer(one: Question) -> Markup:
    return html.tag("code", tables.place(one)) if one.state == OPEN else escape(one.answer or "–")


def of_chapter(addresses: Addresses, chapter_id: str) -> Markup:
    """Open questions about values and checks of a chapter."""
    found = sorted(addresses.book.open_questions_of(chapter_id), key=lambda one: one.date)
    return html.bullets([_about(addresses, one.about) + ": " + told(addresses, one) for one in found])


def _about(addresses: Addresses, name: str) -> Markup:
    """A check or a value by its name, leading to where it stands; in words where it is not part of this book."""
    term_id, *ids = name.split(".")
    if check := addresses.book.made_check(name):
        return html.link(addresses.check_address(check), check.title)
    if term_id not in terms():
        return escape(_check_title(name))
    term, value = terms()[term_id], addresses.book.values.get(term_id)
    of = ", ".join(addresses.item_name(axis, item) for axis, item in zip(term.axes, ids))
    title = f"{term.name}, {of}" if of else term.name
    there = value is not None and all(item in along for item, along in zip(ids, value.items))
    return html.link(addresses.address(name), title) if there else escape(title)


def _check_title(check_id: str) -> str:
    return next(check.title for group in catalogue().checks.values() for check in group if check.id == check_id)


# ---- the front page ----

def lines_to_sign(addresses: Addresses, issue: Issue | None) -> Markup:
    """A line for each role to be signed on paper, with the days that the last issue gives; the book may have moved since, which is said."""
    days = {role: [one.date for one in issue.roles if one.role == role] if issue else [] for role in ROLES}
    since = addresses.book.since
    of = f"Issue {issue.head.revision} of {issue.head.date}{f'; this book: {since.told}' if since else ''}" if issue else "Nothing is issued yet"
    rows = [(role.capitalize(), day, "") for role in ROLES for day in days[role] or ([""] if role in SIGNED else [])]
    return html.table(f"To be signed on paper. {of}.", ("Role", "Day", "Signature"), rows, "words signing", "To be signed on paper")


def summary(addresses: Addresses) -> Markup:
    """How the requirements stand and how many questions are open."""
    counts = Counter(one.state for one in addresses.book.project.questions)
    asked = ", ".join(f"{counts[state]} {in_sentence(title)}" for state, title in TITLES.items() if counts[state])
    told_of = html.paragraph("Questions: ", addresses.data.link("questions.html", asked), ".") if asked else html.paragraph(NO_QUESTION)
    return tally(addresses, names=False) + told_of
