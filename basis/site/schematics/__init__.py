"""The schematics of the plant, one module each with its own name: `air_path.py` has the function `air_path`.

Found by listing this folder; importing a module registers nothing.
"""
from __future__ import annotations

from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from basis.site.schematic import Schematic

FOLDER = Path(__file__).parent


def known() -> list[str]:
    """Ids of all schematics, sorted."""
    return sorted(path.stem for path in FOLDER.glob("*.py") if path.stem != "__init__")


def schematic_of(schematic_id: str) -> Schematic:
    """The schematic of this id. Raises KeyError."""
    if schematic_id not in known():
        raise KeyError(schematic_id)
    return getattr(import_module(f"{__name__}.{schematic_id}"), schematic_id)
