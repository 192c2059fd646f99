"""Figures that outlive the run: a later build takes one where all that was read for it reads the same."""

import re

import pytest
from demos import demo_copy

from basis.language import user_cache
from basis.site import figure as figures
from basis.site.build_cache import BuildCache
from basis.site.lasting import Lasting
from basis.site.page_data import PageData
from basis.site.render import OWN

BOOK = "cobble-key-exchange"
CHAPTERS = "[plant, loads, voltage, ventilation, short_circuit]"


@pytest.fixture
def project(tmp_path, monkeypatch):
    """The folder of a project of a few chapters, and a cache folder of its own."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    folder = demo_copy(BOOK, tmp_path / "projects" / BOOK)
    text = (folder / "project.yaml").read_text("utf-8")
    (folder / "project.yaml").write_text(re.sub(r"(?m)^chapters: .*$", f"chapters: {CHAPTERS}", text), "utf-8")
    return folder


@pytest.fixture
def drawn(monkeypatch, tmp_path):
    """Ids of the figures that are drawn, whichever process draws them."""
    log = tmp_path / "drawn.txt"
    plain = figures.Drawing.draw

    def noted(self, book):
        with log.open("a", encoding="utf-8") as file:
            file.write(f"{self.id}\n")
        return plain(self, book)
    monkeypatch.setattr(figures.Drawing, "draw", noted)

    def since_the_last_time():
        found = log.read_text("utf-8").split() if log.exists() else []
        log.unlink(missing_ok=True)
        return found
    return since_the_last_time


def pages(folder):
    site = BuildCache().make(folder.parent, (OWN,))
    assert not site.faults
    return site.pages


OF_CHECKS = "nearest_margins"  # drawn of margins alone, each time


def test_a_later_build_draws_what_reads_otherwise_and_no_other(project, drawn, monkeypatch):
    first = pages(project)
    every = drawn()
    assert len(set(every)) > 5
    assert pages(project) == first and set(drawn()) <= {OF_CHECKS}
    changes = (("plant.yaml", r"altitude: (\{value: )?\d+", r"altitude: \g<1>61"), ("loads.yaml", r"name: (?=[A-Z])", "name: Renamed "))
    for file, old, new in changes:
        text, path = (project / file).read_text("utf-8"), project / file
        changed = re.sub(old, new, text, count=1)
        assert changed != text
        path.write_text(changed, "utf-8")
        after = pages(project)
        anew = set(drawn()) - {OF_CHECKS}
        assert anew and anew < set(every), file
        monkeypatch.setenv(user_cache.OFF, "1")
        assert pages(project) == after, file  # as a build that keeps nothing makes them
        monkeypatch.delenv(user_cache.OFF)
        drawn()


def test_what_only_this_run_knows_is_not_kept(project):
    import basis

    book = basis.load(project)
    lasting, data = Lasting.of(book), PageData()
    assert lasting.text(data, "plain", lambda read: read["altitude"].text()) == book["altitude"].text() and list(data.lasting) == ["plain"]
    lasting.text(data, "function", lambda read: str(read.steps))  # which hold functions, known by their places in memory
    assert list(data.lasting) == ["plain"]
    lasting.keep([data])
    again = PageData()
    assert Lasting.of(book).text(again, "plain", lambda read: pytest.fail("made anew")) == book["altitude"].text()
    assert list(again.lasting) == ["plain"]


def test_another_program_keeps_its_own(project, monkeypatch):
    import basis

    book = basis.load(project)
    data = PageData()
    lasting = Lasting.of(book)
    lasting.text(data, "plain", lambda read: read["altitude"].text())
    lasting.keep([data])
    monkeypatch.setattr(user_cache, "program", lambda: "another")
    assert Lasting.of(book).before == {}
