"""Fixtures: the demo books, solved once a session."""

from pathlib import Path

import pytest

import basis

ROOT = Path(__file__).parent.parent
SLUGS = ("cobble-key-exchange", "high-tarn-waterworks", "larkmere-hospital")


@pytest.fixture(scope="session")
def books():
    """Slug -> Book of each demo project."""
    return {slug: basis.load(ROOT / "projects" / slug) for slug in SLUGS}
