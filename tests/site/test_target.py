"""Nothing of the user's is lost: which folders a build refuses to replace, and what is left after a kill at every step of the swap."""

import os
import resource
import shutil
import signal
import subprocess
import sys
from pathlib import Path

import pytest
from building import ROOT, built
from click.testing import CliRunner
from mkdocs.exceptions import Abort

from basis.language.faults import Faults
from basis.site import target
from basis.terminal.cli import main

# A build that writes one word; it is killed just before the system does its step of the number given, of those that change the folder.
KILLED = """
import os, signal, sys
from pathlib import Path
from basis.site import target

folder, word, last = Path(sys.argv[1]), sys.argv[2], int(sys.argv[3])
steps = 0

def watch(event, arguments):
    global steps
    changes = event in ("os.rename", "os.mkdir", "os.remove", "os.rmdir") or event == "open" and isinstance(arguments[1], str) and arguments[1] != "r"
    if changes and str(folder) in str(arguments[0]) or changes and event in ("os.remove", "os.rmdir"):
        steps += 1
        if steps == last:
            os.kill(os.getpid(), signal.SIGKILL)

sys.addaudithook(watch)
with target.replaced(folder / "site") as new:
    (new / "deep").mkdir()
    (new / "deep/page.html").write_text(word)
    (new / "index.html").write_text(word)
    target.finish(new)
"""
WAITS = """
import sys, time
from pathlib import Path
from basis.site import target

with target.replaced(Path(sys.argv[1])):
    print("in", flush=True)
    time.sleep(60)
"""


def write(site: Path, word: str) -> None:
    with target.replaced(site) as new:
        (new / "deep").mkdir()
        (new / "deep/page.html").write_text(word)
        (new / "index.html").write_text(word)
        target.finish(new)


def words(site: Path) -> set:
    return {(site / name).read_text() for name in ("index.html", "deep/page.html")}


def tree(folder: Path) -> dict:
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


@pytest.fixture
def here(tmp_path, monkeypatch):
    """The working folder of a person: two chapters of one project, notes, own templates."""
    project = tmp_path / "projects/trial"
    project.mkdir(parents=True)
    shutil.copy(ROOT / "projects/cobble-key-exchange/plant.yaml", project)
    (project / "project.yaml").write_text("name: Trial\ninvented: true\nchapters: [plant]\n")
    (tmp_path / "docs").mkdir()
    (tmp_path / "docs/notes.txt").write_text("years of work")
    (tmp_path / "templates").mkdir()
    (tmp_path / "link").symlink_to("projects")
    monkeypatch.chdir(tmp_path)
    return tmp_path


# ---- what is refused ----

@pytest.mark.parametrize("site", [".", "..", "/", "projects", "projects/trial", "projects/new", "projects/trial/new", "templates", "templates/new", "docs",
                                  "link", "link/new", "docs/../projects", "docs/notes.txt", "docs/notes.txt/new", ROOT / "templates", ROOT / "basis"])
def test_a_folder_that_a_build_must_not_replace_is_refused_and_untouched(here, site):
    before, names = tree(here), sorted(path.name for path in here.rglob("*"))
    told = CliRunner().invoke(main, ["build", "--site", str(site)])
    assert told.exit_code == 1 and len(told.stderr.splitlines()) == 2 and "Traceback" not in told.output, told.output
    assert tree(here) == before and sorted(path.name for path in here.rglob("*")) == names


def test_templates_are_kept_free_even_while_there_are_none(here):
    (here / "templates").rmdir()
    assert "which the book is made from" in CliRunner().invoke(main, ["build", "--site", "templates"]).stderr


def test_plain_mkdocs_refuses_the_same_folders_before_it_empties_them(here, caplog):
    before = tree(here)
    for site in ("docs", "templates", "templates/new"):
        with pytest.raises(Abort):
            built(here / "projects", here / site)
    assert tree(here) == before and "this program did not make it" in caplog.text and "which the book is made from" in caplog.text


def test_what_is_put_into_a_book_later_is_not_lost(here):
    assert CliRunner().invoke(main, ["build"]).exit_code == 0
    (here / "site/notes.txt").write_text("by hand")
    (here / "site/trial/.DS_Store").write_text("by the system")
    told = CliRunner().invoke(main, ["build"])
    assert told.exit_code == 1 and "site/notes.txt: was not put there by this program" in told.stderr
    with pytest.raises(Abort):
        built(here / "projects", here / "site")
    assert (here / "site/notes.txt").read_text() == "by hand"
    (here / "site/notes.txt").unlink()
    assert CliRunner().invoke(main, ["build"]).exit_code == 0 and CliRunner().invoke(main, ["build", "--site", "site/inner"]).exit_code == 1


def test_absent_empty_and_own_folders_are_built_into_by_either_command(here):
    (here / "empty").mkdir()
    (here / "elsewhere").mkdir()
    (here / "away").symlink_to("elsewhere")
    for site in ("site", "empty", "new/deep", "away", "site"):
        assert CliRunner().invoke(main, ["build", "--site", site]).exit_code == 0, site
    first = tree(here / "site")
    built(here / "projects", here / "site")  # over a book of `basis build`, and back
    assert tree(here / "site") == first
    assert CliRunner().invoke(main, ["build"]).exit_code == 0
    assert tree(here / "site") == first == tree(here / "elsewhere") and (here / "away").is_symlink()
    assert first[target.MARK].decode().splitlines()[1:] == sorted(set(first) - {target.MARK})


# ---- what is left after a kill, a full disk, a refusal ----

def test_after_a_kill_at_any_step_the_last_good_book_is_there_and_nothing_else(tmp_path):
    step, seen = 0, set()
    while True:
        step += 1
        folder = tmp_path / str(step)
        write(folder / "site", "old")
        done = subprocess.run([sys.executable, "-c", KILLED, str(folder), "new", str(step)], cwd=ROOT)
        with pytest.raises(ZeroDivisionError), target.replaced(folder / "site") as aside:
            assert words(folder / "site") <= {"old", "new"}
            (aside / "half").write_text("a page")
            1 / 0  # the next build fails: the last good book stays
        assert words(folder / "site") in ({"old"}, {"new"})
        seen |= words(folder / "site")
        assert sorted(path.name for path in folder.iterdir()) == ["site"]
        assert target.refusals(folder / "site", ()) == []
        if done.returncode == 0:
            break
        assert done.returncode == -signal.SIGKILL
    assert step > 15 and seen == {"old", "new"}


def test_a_kill_between_the_renames_is_mended_by_a_build_that_fails(here):
    assert CliRunner().invoke(main, ["build"]).exit_code == 0
    good = tree(here / "site")
    (here / "site").rename(here / ".site-old")
    target.begin(here / ".site-new")
    (here / ".site-new/index.html").write_text("half")
    (here / ".site-lock").touch()
    (here / "projects/trial/plant.yaml").write_text("altitude: 3 kg\n")
    assert CliRunner().invoke(main, ["build"]).exit_code == 1
    assert tree(here / "site") == good and not list(here.glob(".site-*"))


def test_a_folder_of_the_user_where_a_build_does_its_work_is_left_alone(tmp_path):
    for name in (".site-new", ".site-old"):
        (tmp_path / name).mkdir()
        (tmp_path / name / "mine").write_text("mine")
        with pytest.raises(Faults, match="did not make it"), target.replaced(tmp_path / "site"):
            pass
        assert tree(tmp_path) == {f"{name}/mine": b"mine"} and not (tmp_path / "site").exists()
        shutil.rmtree(tmp_path / name)


def test_a_second_build_says_that_another_is_at_work_and_a_killed_one_lets_go(tmp_path):
    other = subprocess.Popen([sys.executable, "-c", WAITS, str(tmp_path / "site")], cwd=ROOT, stdout=subprocess.PIPE, text=True)
    try:
        assert other.stdout.readline() == "in\n"
        with pytest.raises(Faults, match="another build of this site is at work"):
            write(tmp_path / "site", "mine")
    finally:
        other.kill()
        other.wait()
    write(tmp_path / "site", "mine")
    assert words(tmp_path / "site") == {"mine"} and not list(tmp_path.glob(".site-*"))


def test_a_disk_that_takes_no_more_is_one_line_and_leaves_the_last_book(here):
    assert CliRunner().invoke(main, ["build"]).exit_code == 0
    good = tree(here / "site")
    done = subprocess.run([sys.executable, "-m", "basis", "build"], cwd=here, capture_output=True, text=True, env={**os.environ, "PYTHONPATH": str(ROOT)},
                          preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (3000, 3000)))
    assert done.returncode == 1 and "File too large" in done.stderr and len(done.stderr.splitlines()) == 2, done.stderr
    assert tree(here / "site") == good and not list(here.glob(".site-*"))


def test_a_step_that_the_system_refuses_is_one_line_and_leaves_the_last_book(here, monkeypatch):
    assert CliRunner().invoke(main, ["build"]).exit_code == 0
    good, rename = tree(here / "site"), Path.rename

    def refuses(path, where):
        if path.name == ".site-new":
            raise PermissionError(13, "Permission denied", str(path))
        return rename(path, where)
    monkeypatch.setattr(Path, "rename", refuses)
    told = CliRunner().invoke(main, ["build"])
    assert told.exit_code == 1 and "Permission denied" in told.stderr and len(told.stderr.splitlines()) == 2
    assert tree(here / "site") == good and not list(here.glob(".site-*"))


def test_a_parent_that_cannot_hold_a_folder_is_one_line(here):
    (here / "loop").symlink_to("loop")
    for site in ("/proc/site", "loop", "loop/new", "x" * 5000):  # not even root may write there
        told = CliRunner().invoke(main, ["build", "--site", site])
        assert told.exit_code == 1 and "the operating system refuses" in told.stderr and len(told.stderr.splitlines()) == 2, (site, told.output)
