"""What is asked of a value or check, as it is told where that stands: open questions about it, and the requirements that it answers."""
from __future__ import annotations

from markupsafe import Markup, escape

from basis.reading.register import Question, Requirement
from basis.site import html
from basis.site.addresses import Addresses


def facts(addresses: Addresses, name: str) -> list[tuple[str, Markup]]:
    """Of a value or check by its id: what is open about it, and what it answers."""
    return [("Open question", told(addresses, one)) if isinstance(one, Question) else ("Answers", _required(addresses, one))
            for one in addresses.main.asked_of(name)]


def lines(addresses: Addresses, name: str) -> Markup:
    """The same under the title of a check."""
    return html.join([html.tag("div", f"{title}: ", fact, class_="from") for title, fact in facts(addresses, name)])


def told(addresses: Addresses, one: Question) -> Markup:
    """A question with who asked and when, leading to its place among the questions."""
    return escape(f"{one.text} ({one.role}, {one.date}; ") + addresses.data.link(f"questions.html#{anchor(one)}", one.id) + ")"


def _required(addresses: Addresses, one: Requirement) -> Markup:
    return escape("requirement ") + addresses.data.link(f"compliance.html#{anchor(one)}", one.id)


def anchor(one: Requirement | Question) -> str:
    """Anchor of a requirement or a question on its page."""
    return f"{'question' if isinstance(one, Question) else 'requirement'}-{one.id}"
