"""What a record says of the formula or procedure of a value: how it is written, and a digest of that, which moves with the program alone."""

from __future__ import annotations

from functools import lru_cache

from basis.chapters import catalogue
from basis.language import notation, user_cache
from basis.language.formula import Formula, Procedure
from basis.solving.digest import of_maker

SHORT = 6  # characters of a digest: two states of one value agree by chance once in sixteen million


def told_of(value_id: str, maker: Formula | Procedure | None) -> tuple[str, str]:
    """Digest and words of what makes a value; both blank where nothing does."""
    if not maker:
        return "", ""
    return of_program()[value_id] if catalogue().producers.get(value_id) is maker else _made(value_id, maker)


@lru_cache(maxsize=1)
def of_program() -> dict[str, tuple[str, str]]:
    """Of each value that this program can compute."""
    kept = user_cache.of_program("makers", lambda: {value_id: _made(value_id, maker) for value_id, maker in catalogue().producers.items()})
    return {value_id: tuple(told) for value_id, told in kept.items()}


def _made(value_id: str, maker: Formula | Procedure) -> tuple[str, str]:
    how = notation.text(value_id, maker.expression) if isinstance(maker, Formula) else maker.equation
    return of_maker(maker)[:SHORT], " ".join(how.split())
