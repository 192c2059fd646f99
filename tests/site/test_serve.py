"""While someone edits: a save rewrites only what changed, faults become pages, the next save recovers, and nothing is drawn in vain."""

import contextlib
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
from building import ROOT, built
from click.testing import CliRunner
from mkdocs.commands.build import build
from mkdocs.config import load_config
from mkdocs.exceptions import ConfigurationError
from mkdocs.livereload import LiveReloadServer
from test_site import trial

from basis.site import worker_processes
from basis.site.build_cache import BuildCache
from basis.site.plugin import BasisPlugin
from basis.site.render import template_folders
from basis.terminal.cli import main

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
    yield projects, site, plugin
    plugin.on_shutdown()


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
    projects, cache = trial(tmp_path), BuildCache(keep=True)
    folders = template_folders(projects)
    first = cache.make(projects, folders)
    kept = cache.kept["trial"]
    parts = dict(kept.parts)
    second = cache.make(projects, folders)
    assert cache.kept["trial"] is kept and first.pages["trial/index.html"] is second.pages["trial/index.html"]
    path = projects / "trial/plant.yaml"
    path.write_text(path.read_text("utf-8") + "# a comment\n", "utf-8")
    cache.make(projects, folders)
    assert cache.kept["trial"] is not kept
    assert {"figure", "entry", "content", "framed"} <= {place[0] for place in parts}
    assert all(cache.kept["trial"].parts[place] is part for place, part in parts.items())  # nothing that they show has changed


def free_port() -> int:
    with socket.socket() as one:
        one.bind(("127.0.0.1", 0))
        return one.getsockname()[1]


def test_requests_are_answered_after_a_rebuild_that_failed(edited, monkeypatch):
    projects, site, plugin = edited
    for failure in (OSError(28, "No space left on device"), ConfigurationError("a bad mkdocs.yml"), ZeroDivisionError("a mistake of the program")):
        def refresh(failure=failure):
            raise failure
        monkeypatch.setattr(plugin, "refresh", refresh)
        server = LiveReloadServer(lambda: None, "127.0.0.1", 0, str(site))
        plugin.on_serve(server, config=plugin.built["config"], builder=lambda: None)
        server._wanted_epoch += 1  # as MkDocs does before it rebuilds; requests wait until the other number is the same
        if isinstance(failure, ZeroDivisionError):
            with pytest.raises(ZeroDivisionError):
                server.builder()
        else:
            server.builder()  # told in one line
        assert server._visible_epoch == server._wanted_epoch
        server.server_close()


def test_basis_serve_goes_on_whatever_is_saved(tmp_path):
    projects, port = trial(tmp_path), free_port()
    (projects / "trial/project.yaml").write_text("name: Trial\ninvented: true\nchapters: [plant]\n", "utf-8")
    shutil.copy(ROOT / "mkdocs.yml", tmp_path)
    settings = (tmp_path / "mkdocs.yml").read_text("utf-8")
    with open(tmp_path / "log", "w") as log:
        served = subprocess.Popen([sys.executable, "-m", "basis", "serve", "--port", str(port)], cwd=tmp_path, stdout=log, stderr=log,
                                  env={**os.environ, "PYTHONPATH": str(ROOT)})

        def told(text: str, page: str = "index.html") -> bool:
            """Whether the page comes to say so; no request may wait for ever."""
            end = time.monotonic() + 120
            while time.monotonic() < end:
                try:
                    with urllib.request.urlopen(f"http://127.0.0.1:{port}/{page}", timeout=60) as answer:
                        if text in answer.read().decode():
                            return True
                except urllib.error.HTTPError:
                    pass  # the page is not there yet
                except urllib.error.URLError as refused:
                    assert isinstance(refused.reason, ConnectionRefusedError), refused  # not up yet
                time.sleep(0.2)
            return False

        def logged(text: str) -> bool:
            end = time.monotonic() + 120
            while time.monotonic() < end and text not in (tmp_path / "log").read_text():
                time.sleep(0.1)
            return text in (tmp_path / "log").read_text()
        try:
            assert told("Trial"), (tmp_path / "log").read_text()
            (tmp_path / "mkdocs.yml").write_text("site_name: [\n")
            assert logged("not rebuilt:") and told("Trial")
            (tmp_path / "mkdocs.yml").write_text(settings + "# as before\n")
            (projects / "trial").rename(projects / "index.html")
            assert told("a project cannot be called")
            (projects / "index.html").rename(projects / "trial")
            assert told("Altitude", "trial/plant-inputs.html")
            (projects / "trial/plant.yaml").rename(tmp_path / "plant.yaml")
            (projects / "trial/plant.yaml").symlink_to("/proc/self/mem")
            assert told("is a link that leaves the project folder")
            shutil.rmtree(projects)
            assert told("is a link that leaves the project folder")  # with nothing left to read it still answers
            assert "Traceback" not in (tmp_path / "log").read_text()
        finally:
            served.terminate()
            served.wait(10)


@pytest.mark.parametrize("words, told", [(("--port", "99999"), "not in the range"), (("--projects", "nowhere"), "nowhere: no such folder"),
                                         (("--config", "bare.yml"), "bare.yml: does not name this program")])
def test_what_cannot_be_served_is_told_in_a_line(tmp_path, monkeypatch, words, told):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "projects/trial").mkdir(parents=True)
    (tmp_path / "bare.yml").write_text("site_name: Bare\n")
    done = CliRunner().invoke(main, ["serve", *words])
    assert done.exit_code in (1, 2) and told in done.stderr and "Traceback" not in done.output


def test_a_port_that_is_taken_is_told_in_a_line_before_anything_is_built(tmp_path):
    projects = trial(tmp_path)
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        done = CliRunner().invoke(main, ["serve", "--projects", str(projects), "--port", str(taken.getsockname()[1])])
    assert done.exit_code == 1 and "Address already in use" in done.stderr and len(done.stderr.splitlines()) == 2


def children(process: int) -> list[int]:
    """Numbers of the processes that this one has begun and that are still there."""
    found = []
    for name in filter(str.isdigit, os.listdir("/proc")):
        with contextlib.suppress(OSError):  # it has ended
            found += [int(name)] if int(Path(f"/proc/{name}/stat").read_text().rpartition(")")[2].split()[1]) == process else []
    return found


def gone(process: int | None) -> bool:
    """Whether it ends by itself soon."""
    end = time.monotonic() + 30
    while process and Path(f"/proc/{process}").exists() and time.monotonic() < end:
        time.sleep(0.05)
    return not process or not Path(f"/proc/{process}").exists()


def test_mkdocs_serve_shows_faults_and_recovers(tmp_path):
    projects, port = trial(tmp_path), free_port()
    shutil.copy(ROOT / "mkdocs.yml", tmp_path)
    with open(tmp_path / "log", "w") as log:
        served = subprocess.Popen([sys.executable, "-m", "mkdocs", "serve", "-a", f"127.0.0.1:{port}"], cwd=tmp_path, stdout=log, stderr=log,
                                  env={**os.environ, "NO_MKDOCS_2_WARNING": "1"})

        def waits_for(text: str) -> bool:
            end = time.monotonic() + 120  # far more than it takes: other tests run beside this one
            while time.monotonic() < end:
                try:
                    with urllib.request.urlopen(f"http://127.0.0.1:{port}/trial/plant-inputs.html", timeout=5) as answer:
                        if text in answer.read().decode():
                            return True
                except OSError:
                    pass  # not up yet, or busy
                time.sleep(0.1)
            return False
        try:
            assert waits_for("Altitude"), (tmp_path / "log").read_text()
            set_altitude(projects, "1234 m")
            assert waits_for("1234 m")
            set_altitude(projects, "1234 kg")
            assert waits_for("is of the wrong dimension")
            set_altitude(projects, "567 m")
            assert waits_for("567 m")
            (companion,) = children(served.pid) if sys.platform == "linux" and worker_processes.processors() > 1 else [None]
        finally:
            served.terminate()
            served.wait(10)
    assert gone(companion)
