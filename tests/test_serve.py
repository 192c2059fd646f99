"""While someone edits: a save rewrites only what changed, faults become pages, the next save recovers, and nothing is drawn in vain."""

import os
import re
import shutil
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from pathlib import Path

import pytest
from mkdocs.commands.build import build
from mkdocs.config import load_config
from test_site import ROOT, built, trial

from basis.site.plugin import BasisPlugin
from basis.site.render import template_folders
from basis.site.shelf import Shelf

ALTITUDE = re.compile(r"^altitude: .*$", re.MULTILINE)


@pytest.fixture
def edited(tmp_path):
    """A built trial project with the plugin as `serve` holds it: (folder of projects, site folder, plugin)."""
    os.environ.setdefault("NO_MKDOCS_2_WARNING", "1")
    projects, site = trial(tmp_path), tmp_path / "site"
    config = load_config(str(ROOT / "mkdocs.yml"), docs_dir=str(projects), site_dir=str(site))
    plugin: BasisPlugin = config.plugins["basis"]
    plugin.on_startup(command="serve", dirty=False)
    build(config, serve_url="http://127.0.0.1:8000/")
    return projects, site, plugin


def set_altitude(projects: Path, text: str) -> None:
    path = projects / "trial/plant.yaml"
    path.write_text(ALTITUDE.sub(f"altitude: {text}", path.read_text("utf-8")), "utf-8")


def contents(site: Path) -> dict:
    return {path.relative_to(site): path.read_bytes() for path in site.rglob("*") if path.is_file()}


def test_a_quick_rebuild_gives_the_pages_of_a_whole_one(edited, tmp_path):
    projects, site, plugin = edited
    set_altitude(projects, "1234 m")
    assert plugin.refresh()
    whole = built(projects, tmp_path / "whole")
    quick = contents(site)
    assert b"1234 m" in quick[Path("trial/plant-inputs.html")]
    assert {path for path, data in contents(whole).items() if quick[path] != data} == set()


def test_a_save_rewrites_only_pages_that_changed(edited):
    projects, site, plugin = edited
    before = {path: path.stat().st_mtime_ns for path in site.rglob("*.html")}
    path = projects / "trial/plant.yaml"
    path.write_text(path.read_text("utf-8") + "# a comment at the end changes no page\n", "utf-8")
    assert plugin.refresh()
    assert {path for path in before if path.stat().st_mtime_ns != before[path]} == set()
    set_altitude(projects, "70 m")
    assert plugin.refresh()
    changed = {path.name for path in before if path.stat().st_mtime_ns != before[path]}
    assert "plant-inputs.html" in changed and "404.html" not in changed


def test_faults_stand_on_the_pages_of_their_project_and_go_with_the_next_save(edited):
    projects, site, plugin = edited
    good = contents(site)
    set_altitude(projects, "70 kg")
    assert plugin.refresh()
    for name in ("index.html", "trial/index.html", "trial/loads.html"):
        html = (site / name).read_text("utf-8")
        assert "is of the wrong dimension" in html and "trial/plant.yaml:" in html, name
    shutil.copy(ROOT / "projects/cobble-key-exchange/plant.yaml", projects / "trial/plant.yaml")
    assert plugin.refresh()
    assert contents(site) == good


def test_a_new_project_asks_for_a_whole_build(edited):
    projects, _, plugin = edited
    shutil.copytree(projects / "trial", projects / "second")
    assert not plugin.refresh()


def test_a_fault_in_a_template_is_told_with_its_line(edited):
    projects, site, plugin = edited
    (projects.parent / "templates").mkdir()
    (projects.parent / "templates/plant.md.j2").write_text("The plant.\n\nIt stands at 60 m, {{ valeu('altitude') }}.\n", "utf-8")
    assert plugin.refresh()
    assert "templates/plant.md.j2:3" in (site / "trial/plant.html").read_text("utf-8")


def test_an_unchanged_project_is_neither_solved_nor_rendered_again(tmp_path):
    projects, shelf = trial(tmp_path), Shelf(keep=True)
    folders = template_folders(projects)
    first = shelf.make(projects, folders)
    kept = shelf.kept["trial"]
    second = shelf.make(projects, folders)
    assert shelf.kept["trial"] is kept and first.pages["trial/index.html"] is second.pages["trial/index.html"]
    path = projects / "trial/plant.yaml"
    path.write_text(path.read_text("utf-8") + "# a comment\n", "utf-8")
    shelf.make(projects, folders)
    assert shelf.kept["trial"] is not kept
    again = shelf.kept["trial"].parts
    assert kept.parts.drawn and kept.parts.entries
    assert all(again.drawn[name] is picture for name, picture in kept.parts.drawn.items())  # no number in them has changed
    assert all(again.entries[place] is entry for place, entry in kept.parts.entries.items())


def free_port() -> int:
    with socket.socket() as one:
        one.bind(("127.0.0.1", 0))
        return one.getsockname()[1]


def test_mkdocs_serve_shows_faults_and_recovers(tmp_path):
    projects, port = trial(tmp_path), free_port()
    shutil.copy(ROOT / "mkdocs.yml", tmp_path)
    with open(tmp_path / "log", "w") as log:
        served = subprocess.Popen([sys.executable, "-m", "mkdocs", "serve", "-a", f"127.0.0.1:{port}"], cwd=tmp_path, stdout=log, stderr=log,
                                  env={**os.environ, "NO_MKDOCS_2_WARNING": "1"})

        def waits_for(text: str, seconds: float) -> bool:
            end = time.monotonic() + seconds
            while time.monotonic() < end:
                try:
                    with urllib.request.urlopen(f"http://127.0.0.1:{port}/trial/plant-inputs.html", timeout=5) as answer:
                        if text in answer.read().decode():
                            return True
                except (urllib.error.URLError, ConnectionError):
                    pass  # not up yet
                time.sleep(0.1)
            return False
        try:
            assert waits_for("Altitude", 60), (tmp_path / "log").read_text()
            set_altitude(projects, "1234 m")
            assert waits_for("1234 m", 20)
            set_altitude(projects, "1234 kg")
            assert waits_for("is of the wrong dimension", 20)
            set_altitude(projects, "567 m")
            assert waits_for("567 m", 20)
        finally:
            served.terminate()
            served.wait(10)
