"""The facts of a new project at the terminal: an option for each, and a question for each that is left out."""

from __future__ import annotations

import sys
from functools import cached_property, partial
from typing import TYPE_CHECKING

import click

from basis.language.faults import Faults

if TYPE_CHECKING:
    from basis.guessing.draft import Draft
    from basis.guessing.facts import Fact


class FactsCommand(click.Command):
    """A command with an option for each fact. The table of facts is read when the command is used, not when the program starts."""

    def get_params(self, ctx: click.Context) -> list[click.Parameter]:
        """Its own parameters, then the facts."""
        *own, help_option = super().get_params(ctx)
        return [*own, *self._facts, help_option]

    @cached_property
    def _facts(self) -> list[click.Option]:
        from basis.guessing.facts import FACTS

        return [click.Option([fact.option], metavar="QUANTITY", help=f"{fact.question}, {fact.wanted}.") for fact in FACTS]


def drafted(slug: str, texts: dict[str, str | None]) -> Draft | None:
    """A first project from the facts that were given, and at a terminal from those that are then asked; None where there is none. Raises Faults."""
    given = {key: text for key, text in texts.items() if text is not None}
    if _terminal() and (given or click.confirm("Guess a first project from ten facts? Without them the files are forms to fill in", default=True)):
        given = _asked(given)
    elif not given:
        return None
    from basis.guessing.facts import read_facts
    from basis.guessing.first import first_guess

    return first_guess(read_facts(given), slug.replace("-", " ").capitalize())


def _asked(given: dict[str, str]) -> dict[str, str]:
    """The facts given and those answered, one by one, each checked at once; what is usual stays what nobody gave."""
    from basis.guessing.facts import FACTS, read_fact, usual

    texts, known = {}, {}
    for fact in FACTS:
        usually = usual(fact, known)
        text = given.get(fact.key) or click.prompt(f"{fact.question} [{usually}]", default="", show_default=False, value_proc=partial(_right, fact, known))
        known[fact.key] = read_fact(fact, text or usually, known)
        if text:
            texts[fact.key] = text
    return texts


def _right(fact: Fact, known: dict, answer: str) -> str:
    """The answer, if it can be read, or none; else the question stands again with what was expected."""
    from basis.guessing.facts import read_fact

    try:
        if answer:
            read_fact(fact, answer, known)
    except Faults as found:
        raise click.UsageError("; ".join(str(fault).removeprefix(f"new: {fact.option} ") for fault in found.faults)) from found
    return answer


def _terminal() -> bool:
    return sys.stdin.isatty() and sys.stdout.isatty()
