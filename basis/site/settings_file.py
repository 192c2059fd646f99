"""The mkdocs.yml that comes with the program. Apart from what builds with it, since a new project is given a copy and needs no MkDocs for that."""
from __future__ import annotations

from pathlib import Path

IN_THE_WHEEL = Path(__file__).parent / "mkdocs.yml"
IN_A_CHECKOUT = Path(__file__).parent.parent.parent / "mkdocs.yml"


def packaged() -> Path:
    """Where it is: in the package, or in a checkout, where the wheel has not been made, beside it."""
    return IN_THE_WHEEL if IN_THE_WHEEL.is_file() else IN_A_CHECKOUT
