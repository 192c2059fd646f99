"""The figures of the chapters, one module a chapter with the chapter's own name.

Found by listing this folder; importing a module registers nothing.
"""
from __future__ import annotations

from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from basis.site.figure import Drawing

FOLDER = Path(__file__).parent


def figures_of(chapter: str) -> dict[str, Drawing]:
    """Figures of one chapter by id, in the order in which the module defines them; empty if it has none."""
    from basis.site.figure import Drawing  # here, since loading matplotlib takes a quarter of a second, and most commands draw nothing

    if not (FOLDER / f"{chapter}.py").is_file():
        return {}
    module = import_module(f"{__name__}.{chapter}")
    found = [thing for thing in vars(module).values() if isinstance(thing, Drawing)]
    return {drawing.id: drawing for drawing in found}


def modules() -> list[str]:
    """Names of the chapters that have figures, sorted."""
    return sorted(path.stem for path in FOLDER.glob("*.py") if path.stem != "__init__")
