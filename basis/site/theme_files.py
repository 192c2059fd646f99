"""The files that every page loads: the theme's style sheets, ours, and our scripts."""
from __future__ import annotations

from pathlib import Path

import material

THEME = Path(__file__).parent / "theme"
SCRIPTS = ("trial.js", "theme.js", "basis.js", "follow.js", "tables.js", "keyboard.js")  # the first counts what is there before others add to it
PRINTED = "print.css"  # for paper


def sheets_of_theme() -> list[Path]:
    """The theme's, whose names hold their digests, in the order in which they count."""
    theirs = Path(material.__file__).parent / "templates/assets/stylesheets"
    return [path for name in ("main", "palette") for path in sorted(theirs.glob(f"{name}.*.css"))]


def own_sheets() -> list[Path]:
    """Ours, in the order in which they count."""
    return sorted((THEME / "assets").glob("*.css"), key=lambda path: (path.name == PRINTED, path.name != "basis.css", path.name))
