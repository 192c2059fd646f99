"""Books that outlive the run: a later build takes one as it was made where program, templates and text are the same, and makes it anew where any is not."""

import re
import shutil

import pytest
from demos import demo_copy

import basis
from basis.language import user_cache
from basis.record.issuing import issue
from basis.site import build_cache
from basis.site.build_cache import BuildCache
from basis.site.render import OWN

BOOK, OTHER = "cobble-key-exchange", "other-exchange"


@pytest.fixture
def projects(tmp_path, monkeypatch):
    """A folder with two projects of a few chapters, templates of a team beside it, and a cache folder of its own."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    monkeypatch.chdir(tmp_path)
    folder = demo_copy(BOOK, tmp_path / "projects" / BOOK)
    text = (folder / "project.yaml").read_text("utf-8")
    (folder / "project.yaml").write_text(re.sub(r"(?m)^chapters: .*$", "chapters: [plant, loads]", text), "utf-8")
    shutil.copytree(folder, folder.with_name(OTHER))
    issue(basis.load(folder), "A", "2026-03-02", "for the tests")
    (tmp_path / "templates").mkdir()
    return folder.parent


@pytest.fixture
def solved(monkeypatch, tmp_path):
    """Projects that are solved, whichever process solves them."""
    log, plain = tmp_path / "solved.txt", build_cache.solution

    def noted(project, before=None):
        with log.open("a", encoding="utf-8") as file:
            file.write(f"{project.slug}\n")
        return plain(project, before=before)
    monkeypatch.setattr(build_cache, "solution", noted)

    def since_the_last_time():
        found = sorted(log.read_text("utf-8").split()) if log.exists() else []
        log.unlink(missing_ok=True)
        return found
    return since_the_last_time


def built(projects, **how):
    made = BuildCache(lasting=True, **how).make(projects, (projects.parent / "templates", OWN))
    assert not made.faults
    return made


def test_a_later_build_makes_only_the_book_whose_text_has_changed(projects, solved, monkeypatch):
    first = built(projects)
    assert solved() == [BOOK, OTHER]
    assert built(projects) == first and solved() == []
    path = projects / OTHER / "plant.yaml"
    path.write_text(re.sub(r"altitude: (\{value: )?\d+", r"altitude: \g<1>61", path.read_text("utf-8")), "utf-8")
    after = built(projects)
    assert solved() == [OTHER] and after.pages[f"{OTHER}/plant.html"] != first.pages[f"{OTHER}/plant.html"]
    monkeypatch.setenv(user_cache.OFF, "1")
    assert built(projects) == after  # as a build that keeps nothing makes it
    assert solved() == [BOOK, OTHER]


CHANGES = {
    "a template of the team": lambda projects: (projects.parent / "templates" / "plant.md.j2").write_text("Only this.\n", "utf-8"),
    "a file that is no project text": lambda projects: (projects / BOOK / "hours.csv").write_text("1\n", "utf-8"),
    "a comment": lambda projects: (projects / BOOK / "plant.yaml").open("a", encoding="utf-8").write("# read over\n"),
    "a record that went": lambda projects: shutil.rmtree(projects / BOOK / "issued"),
}


@pytest.mark.parametrize("what", CHANGES)
def test_whatever_a_book_may_rest_on_has_it_made_anew(projects, solved, what):
    built(projects)
    solved()
    CHANGES[what](projects)
    built(projects)
    assert BOOK in solved()


def test_a_record_that_somebody_edited_is_told_all_the_same(projects):
    built(projects)
    path = projects / BOOK / "issued" / "A.csv"
    path.write_text(path.read_text("utf-8").replace("for the tests", "for the rests"), "utf-8")
    made = BuildCache(lasting=True).make(projects, (OWN,))
    assert any("was changed after it was issued" in fault.what for fault in made.faults)


def test_quick_whole_and_moved_books_are_told_apart(projects, solved, monkeypatch):
    quick = built(projects)
    whole = built(projects, turning=True)
    assert whole.pages[f"{BOOK}/governs.html"] != quick.pages[f"{BOOK}/governs.html"]
    solved()
    monkeypatch.chdir(projects)
    built(projects, turning=True)
    assert solved() == [BOOK, OTHER]  # what a book says of files, it may say from where the program runs


def test_a_book_with_files_that_are_no_text_is_made_each_time(projects, solved):
    first = built(projects, data=True)
    assert any(isinstance(content, bytes) for content in first.files.values())
    solved()
    assert built(projects, data=True) == first and solved() == [BOOK, OTHER]


def test_only_who_asks_for_them_gets_books_of_earlier_runs(projects, solved):
    built(projects)
    solved()
    BuildCache().make(projects, (projects.parent / "templates", OWN))
    assert solved() == [BOOK, OTHER]


def test_a_text_that_was_saved_while_its_book_was_made_is_made_anew(projects, solved, monkeypatch):
    plain, path = build_cache.history_of, projects / OTHER / "plant.yaml"
    text = path.read_text("utf-8")

    def saved_meanwhile(book, before=None):
        if book.project.slug == OTHER:
            path.write_text(f"{text}# saved\n", "utf-8")
        return plain(book, before)
    with monkeypatch.context() as meanwhile:
        meanwhile.setattr(build_cache, "history_of", saved_meanwhile)
        built(projects)
    path.write_text(text, "utf-8")  # as it was when the book was begun
    solved()
    built(projects)
    assert solved() == [OTHER]
