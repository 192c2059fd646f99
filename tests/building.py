"""Builds a site for the tests as `mkdocs build` does."""

import os
from pathlib import Path

from mkdocs.commands.build import build
from mkdocs.config import load_config

ROOT = Path(__file__).parent.parent


def built(projects: Path, into: Path, config: Path = ROOT / "mkdocs.yml") -> Path:
    """Build the site of a folder of projects."""
    os.environ.setdefault("NO_MKDOCS_2_WARNING", "1")
    settings = load_config(str(config), docs_dir=str(projects), site_dir=str(into))
    settings.plugins.on_startup(command="build", dirty=False)
    build(settings)
    return into
