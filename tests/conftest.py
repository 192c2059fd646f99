"""Fixtures: the demo books, solved once a session, and the demo site, built once a session."""

from pathlib import Path

import pytest

import basis

ROOT = Path(__file__).parent.parent
SLUGS = ("cobble-key-exchange", "high-tarn-waterworks", "larkmere-hospital")


@pytest.fixture(scope="session")
def books():
    """Slug -> Book of each demo project."""
    return {slug: basis.load(ROOT / "projects" / slug) for slug in SLUGS}


@pytest.fixture(scope="session")
def site(tmp_path_factory):
    """Folder of the built demo site."""
    from test_site import built  # here, so that tests without a site do not wait for MkDocs

    return built(ROOT / "projects", tmp_path_factory.mktemp("site"))
