"""The cover of a book: title block, one-line diagram, the figures of the plant, how its checks stand, what has changed and what is open. One screen."""
from __future__ import annotations

from collections.abc import Iterable, Sequence

from markupsafe import Markup, escape

from basis.reading.schema import OPEN
from basis.record.history import Issue
from basis.site import drawings, frame, governs, html, parts
from basis.site.addresses import Addresses
from basis.site.asked import anchor
from basis.site.sheet import verdict_word
from basis.solving.turning import Turning
from basis.solving.value import Value, written_shown
from basis.solving.verdict import Verdict
from basis.solving.verdict_words import URGENT
from basis.solving.verdicts import nearness

WORST, POINTS, TURNED = 5, 4, 3  # checks, open points and turned verdicts shown here; all stand on their own pages
FIELDS = (("Document", "document_number"), ("Revision", "revision"))  # of every drawing
MORE_FIELDS = (("Date", "revision_date"), ("Place", "place"))


def cover(addresses: Addresses, values: Sequence[Value], turned: Sequence[Turning] | None, issue: Issue | None) -> Markup:
    """All of it. `values`: the figures of the plant; `turned`: turning points, where they were searched; `issue`: the last one."""
    book = addresses.book
    link = addresses.data.link
    made = (title_block(addresses, issue), _diagram(addresses), _part("The plant in figures", parts.headline(addresses, values), class_="figures"),
            html.tag("div", _part("Checks", parts.tally(addresses, book.checks, names=False), link("checks.html", "all checks")),
                     _part(*_changed(addresses), link("revisions.html", "revisions"))),
            _part("What wants attention first", _worst(addresses)),
            _part("First to settle" if turned is not None else "Some that is open", _open(addresses, turned or ()),
                  link("assumptions.html", "all that is open")))
    return html.tag("div", *made, class_="cover")


def title_block(addresses: Addresses, issue: Issue | None) -> Markup:
    """The block of a drawing: document, revision and date as the project has them, the last issue, its roles with their days, and the state, computed."""
    book = addresses.book
    pairs = [(name, frame.text(book, term) or "none given") for name, term in FIELDS]
    pairs += [(name, text) for name, term in MORE_FIELDS if (text := frame.text(book, term))]
    pairs += [("Last issue", f"{issue.head.revision} of {issue.head.date}, {issue.head.note}" if issue else "none")]
    pairs += [(role.role.capitalize(), role.date or "no day") for role in (issue.roles if issue else ())]
    pairs += [("State", frame.state(addresses.data, book, book.since.told if book.since else ""))]
    return html.tag("dl", *[html.tag("div", html.tag("dt", name), html.tag("dd", text)) for name, text in pairs], class_="block")


def _part(title: str, content: Markup, more: Markup | None = None, class_: str = "") -> Markup:
    """A part of the cover under its name, with the way to the rest."""
    if not content:
        return html.EMPTY
    return html.tag("div", html.tag("h2", title), content, html.paragraph(more, class_="more") if more else None, class_=f"part {class_}".strip())


def _diagram(addresses: Addresses) -> Markup:
    """The sets on their bus as a one-line diagram, with the way to the one in full; nothing where loads and sets are not in the book, or not known."""
    picture = drawings.picture_of(addresses, "loads", "one_line")
    if not picture:
        return html.EMPTY
    network = drawings.is_drawn(addresses.book, "short_circuit", "network_one_line")
    more = addresses.data.link("short_circuit.html" if network else "loads.html", "the network" if network else "loads and sets")
    return html.tag("div", picture, html.paragraph(more, class_="more"), class_="diagram")


def worst(checks: Iterable[Verdict]) -> list[Verdict]:
    """Checks that want attention, most urgent first; of those that fail and those that are tight the one that is furthest gone."""
    return sorted((one for one in checks if one.word in URGENT), key=lambda one: (URGENT.index(one.word), nearness(one) if one.decided else 0.0))


def _worst(addresses: Addresses) -> Markup:
    lines = [html.join([html.link(addresses.check_address(one.check), one.check.title), " ", parts.verdict_inline(addresses, one)])
             for one in worst(addresses.book.checks)[:WORST]]
    return html.bullets(lines) or html.paragraph("No check fails, is undecided or tight.")


def _changed(addresses: Addresses) -> tuple[str, Markup]:
    """How the book stands to its last issue, under a name that says so, or the verdicts that are other than at the issue from which it is marked."""
    since, last = addresses.book.since, "Since the last issue"
    if since is None:
        return last, html.paragraph("Not issued yet.")
    turned = [(now, was) for check, (was, _) in since.verdicts.items() if (now := addresses.book.check(check)).word != was]
    lines = [html.join([html.link(addresses.check_address(now.check), now.check.title), ": was ", verdict_word(was), ", now ", verdict_word(now.word)])
             for now, was in turned[:TURNED]]
    more = [f"and {len(turned) - TURNED} more"] if len(turned) > TURNED else []
    if lines:
        return last if since.base == since.issue else f"Since issue {since.base}", html.bullets([*lines, *more])
    return last, html.paragraph(f"{since.told[:1].upper()}{since.told[1:]}.")


def _open(addresses: Addresses, turned: Sequence[Turning]) -> Markup:
    """Open questions, then what is assumed: where turning points are known, what turns a verdict soonest first."""
    book = addresses.book
    asked = [one for one in book.project.questions if one.state == OPEN][:POINTS]
    pairs = governs.ranked([(given, governs.of_given(given, turned)) for given in book.assumptions() if given.term in book.values])[:POINTS - len(asked)]
    lines = [addresses.data.link(f"questions.html#{anchor(one)}", f"{one.id}: {one.text}") for one in asked]
    lines += [html.join([parts.given_name(addresses, given), f", {written_shown(book.values[given.term].term, given.written)}", _turns(addresses, one)])
              for given, one in pairs]
    return html.bullets(lines) or html.paragraph("Nothing that the project gives is marked as assumed.")


def _turns(addresses: Addresses, one: Turning | None) -> Markup:
    return escape("; turns a verdict at ") + governs.turning_point(addresses, one) if one and one.turns else html.EMPTY
