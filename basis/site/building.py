"""The commands' way to MkDocs: build into a folder aside and swap it in, so that a failed build leaves the last good book.

Works in any folder that holds `projects/`: a mkdocs.yml there is used, else the packaged one.
"""
from __future__ import annotations

import logging
import os
import socket
from collections.abc import Callable
from pathlib import Path

from mkdocs.commands.build import build as mkdocs_build
from mkdocs.commands.serve import serve as mkdocs_serve
from mkdocs.config import load_config

from basis.language.faults import Fault, Faults, of_system
from basis.reading.folder import projects_in
from basis.site import target
from basis.site.plugin import TURNING
from basis.site.render import template_folders, template_places
from basis.site.settings_file import packaged

HERE = "127.0.0.1"


def config_file(given: Path | None) -> Path:
    """The mkdocs.yml to use: the one given, the one here, or the packaged one. Raises Faults when the given one is not there."""
    if given and not given.is_file():
        raise Faults([Fault(given.as_posix(), 0, "no such file", "a mkdocs.yml")])
    here = Path("mkdocs.yml")
    return given or (here if here.is_file() else packaged())


def build_site(projects: Path, site: Path, config: Path | None = None, progress: Callable[[str], None] = lambda slug: None,
               quick: bool = False, searched: Callable[[str, int, int], None] = lambda slug, done, count: None, data: bool = False) -> Path:
    """Build the book of all projects into `site` and return its first page. Raises Faults; what was in `site` then stays.

    `progress` is called with the name of each project that has been solved and drawn. `quick`: without the search for turning points.
    `searched` is called with a project, how many of its numbers have been moved in that search, and how many there are. `data`: with each book as data.
    """
    _quiet_theme_notice()
    if found := target.refusals(site, (projects, *template_places(projects.absolute()))):
        raise Faults(found)
    try:
        with target.replaced(site) as aside:
            settings = _settings(config_file(config), projects, aside)
            settings.plugins.on_startup(command="build", dirty=False)
            plugin = settings.plugins["basis"]
            plugin.cache.turning, plugin.cache.searched, plugin.cache.data = not quick, searched, data
            made = plugin.cache.make(projects, template_folders(projects.absolute()), progress)
            if made.faults:
                raise Faults(made.faults)
            mkdocs_build(settings)
    except OSError as refused:
        raise Faults([of_system(refused, site.as_posix())]) from refused
    return site.absolute() / "index.html"


def _settings(file: Path, projects: Path, site: Path):
    """What MkDocs makes of its file. Raises Faults when this program has no part in it."""
    try:
        settings = load_config(str(file), docs_dir=str(projects.absolute()), site_dir=str(site))
    except UnicodeDecodeError as wrong:
        raise Faults([Fault(file.as_posix(), 0, "is not UTF-8 text", "the file saved as UTF-8")]) from wrong
    if "basis" not in settings.plugins:
        raise Faults([Fault(file.as_posix(), 0, "does not name this program", "`- basis` in the list `plugins`")])
    return settings


def serve_site(projects: Path, port: int, config: Path | None = None, turning: bool = False) -> None:
    """Serve the book on this machine and rebuild it at each save, until stopped. Raises Faults when the port cannot be used. `turning`: with turning
    points, which a save that moves them searches anew.
    """
    _quiet_theme_notice()
    logging.basicConfig(level=logging.INFO, format="%(message)s")
    projects_in(projects, projects.as_posix())
    try:
        socket.create_server((HERE, port)).close()  # before the build, which takes a while
    except OSError as refused:
        raise Faults([of_system(refused, f"port {port}")]) from refused
    file = config_file(config)
    settings = _settings(file, projects, Path("site"))
    mkdocs_serve(config_file=str(file), docs_dir=str(projects.absolute()), dev_addr=f"{HERE}:{port}", extra={**settings.extra, TURNING: turning})


def _quiet_theme_notice() -> None:
    """The theme prints a notice about MkDocs 2 at each build; this project pins MkDocs below 2, so it says nothing new."""
    os.environ.setdefault("NO_MKDOCS_2_WARNING", "1")
