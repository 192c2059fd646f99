"""Copies of the demo projects, with the data sheets that they use."""

import shutil
from pathlib import Path

ROOT = Path(__file__).parent.parent


def demo_copy(slug: str, place: Path) -> Path:
    """A copy of a demo project at `place`, without its issues, with the data sheets beside the folder in which it lies."""
    shutil.copytree(ROOT / "equipment", place.parent.parent / "equipment", dirs_exist_ok=True)
    return shutil.copytree(ROOT / "projects" / slug, place, ignore=shutil.ignore_patterns("issued"))
