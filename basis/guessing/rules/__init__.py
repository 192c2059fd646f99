"""The rules of first guesses, a module a subject; `all_rules` lists them. Nothing is registered: the folder is read."""

from __future__ import annotations

from functools import lru_cache
from importlib import import_module
from pathlib import Path

from basis.guessing.rule import Rule


@lru_cache(maxsize=1)
def all_rules() -> dict[str, Rule]:
    """Every rule by name, by module and as written. Raises ValueError where two have one name."""
    found: dict[str, Rule] = {}
    for path in sorted(Path(__file__).parent.glob("[a-z]*.py")):
        for made in vars(import_module(f"{__name__}.{path.stem}")).values():
            if isinstance(made, Rule):
                if made.name in found:
                    raise ValueError(f"two rules '{made.name}'")
                found[made.name] = made
    return found
