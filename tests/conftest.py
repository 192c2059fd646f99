"""Fixtures: the demo books, solved once a session, the demo site, built once a session, and a real browser to open it in."""

import os
import shutil
import tempfile
from pathlib import Path

import pytest
from demos import demo_copy

import basis

try:
    import fcntl
except ImportError:  # Windows: each runner makes the site for itself
    fcntl = None

ROOT = Path(__file__).parent.parent
CHROMIUM = shutil.which("chromium") or "/usr/bin/chromium"
QUIET = ["--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"]
if "PYTEST_XDIST_WORKER" not in os.environ:  # what the tests keep for later runs is not the user's
    KEPT = tempfile.TemporaryDirectory()
    os.environ["XDG_CACHE_HOME"] = KEPT.name
SLUGS = ("cobble-key-exchange", "high-tarn-waterworks", "larkmere-hospital")


@pytest.fixture(scope="session")
def books():
    """Slug -> Book of each demo project."""
    return {slug: basis.load(ROOT / "projects" / slug) for slug in SLUGS}


@pytest.fixture
def trial(monkeypatch, tmp_path):
    """Solves project text with a chapter of given text, on a small catalogue of its own."""
    from trial_project import solver  # here, as the loading of what few tests need

    return solver(monkeypatch, tmp_path)


@pytest.fixture(scope="session")
def site(tmp_path_factory):
    """Folder of the built demo site."""
    from building import built  # here, so that tests without a site do not wait for MkDocs

    with (Path(os.environ["XDG_CACHE_HOME"]) / "site.lock").open("w") as lock:
        if fcntl:
            fcntl.flock(lock, fcntl.LOCK_EX)  # the first of several test runners makes the books, the others take them as they are kept
        return built(ROOT / "projects", tmp_path_factory.mktemp("site"))


@pytest.fixture(scope="module")  # not longer: two modules may not hold the driver at one time
def browser():
    """A real browser; without one on the machine its tests are skipped."""
    if not Path(CHROMIUM).exists():
        pytest.skip("no Chromium on this machine; until a browser is installed")
    from playwright.sync_api import sync_playwright  # here, so that tests without a browser do not load its driver

    with sync_playwright() as playwright:
        opened = playwright.chromium.launch(executable_path=CHROMIUM, args=QUIET)
        yield opened
        opened.close()


@pytest.fixture
def open_page(browser, site):
    """Opens a page of the folder; closes all, and asks whether anything left the folder or went wrong."""
    contexts, trouble = [], []

    def open_(address: str, width: int = 1280, height: int = 900, scheme: str = "light", script: bool = True):
        context = browser.new_context(offline=True, viewport={"width": width, "height": height}, color_scheme=scheme, java_script_enabled=script)
        contexts.append(context)
        page = context.new_page()
        page.on("request", lambda request: trouble.append(request.url) if not request.url.startswith(("file:", "data:", "blob:")) else None)
        page.on("pageerror", lambda error: trouble.append(str(error)))
        page.on("console", lambda message: trouble.append(message.text) if message.type == "error" else None)
        page.goto(f"{site.as_uri()}/{address}")
        return page
    yield open_
    for context in contexts:
        context.close()
    assert trouble == []


def demo_books(folder: Path, chapters: str) -> dict:
    """Slug -> Book of each demo project with some of its chapters only, from copies in a folder."""
    found = {}
    for project in sorted((ROOT / "projects").iterdir()):
        copy = folder / project.name
        demo_copy(project.name, copy)
        lines = [line for line in (copy / "project.yaml").read_text("utf-8").splitlines() if not line.startswith("chapters:")]
        (copy / "project.yaml").write_text("\n".join(lines) + f"\nchapters: [{chapters}]\n", encoding="utf-8")
        found[project.name] = basis.load(copy)
    return found
