"""What can be compared: issued revisions, commits of a repository made here, the text as it stands; and what is said where git has no answer."""

import os
import subprocess

import pytest
from small_project import PLANT, issued, written

from basis.language.faults import Faults
from basis.record.compare import compare, title
from basis.record.sides import sides_of

OLD, NEW = "hours_per_year_outages: 30 h", "hours_per_year_outages: 37 h"
WHO = {"GIT_AUTHOR_NAME": "a role", "GIT_AUTHOR_EMAIL": "role@invalid", "GIT_COMMITTER_NAME": "a role", "GIT_COMMITTER_EMAIL": "role@invalid",
       "GIT_AUTHOR_DATE": "2026-02-03T12:00:00Z", "GIT_COMMITTER_DATE": "2026-02-03T12:00:00Z",
       "GIT_CONFIG_GLOBAL": os.devnull, "GIT_CONFIG_SYSTEM": os.devnull}


def git(place, *words: str) -> str:
    return subprocess.run(["git", "-C", str(place), *words], env=os.environ | WHO, capture_output=True, text=True, check=True).stdout


@pytest.fixture
def repository(tmp_path):
    """A repository with the small project at tag v1, and with longer outages in the commit after it; the text as it stands is not committed."""
    top = tmp_path / "team"
    place = written(top / "projects")
    git(top, "init", "-q")
    git(top, "add", ".")
    git(top, "commit", "-qm", "first")
    git(top, "tag", "v1")
    (place / "plant.yaml").write_text(PLANT.replace(OLD, NEW), "utf-8")
    git(top, "commit", "-qam", "longer outages")
    (place / "plant.yaml").write_text(PLANT.replace(OLD, "hours_per_year_outages: 44 h"), "utf-8")
    return place


def hours(record) -> str:
    return record.values["running_hours_per_year"].shown


def told(place, *names: str) -> str:
    with pytest.raises(Faults) as found:
        sides_of(place, names)
    (fault,) = found.value.faults
    assert fault.expected
    return str(fault)


def test_commits_are_read_without_touching_the_work_tree(repository):
    before = git(repository, "status", "--porcelain"), git(repository, "rev-parse", "HEAD"), (repository / "plant.yaml").read_bytes()
    assert [hours(side) for side in sides_of(repository, ("v1", "HEAD"))] == ["70.0 h", "77.0 h"]  # by hand: 40 + 30, 40 + 37
    assert [hours(side) for side in sides_of(repository, ("HEAD",))] == ["77.0 h", "84.0 h"]
    assert (git(repository, "status", "--porcelain"), git(repository, "rev-parse", "HEAD"), (repository / "plant.yaml").read_bytes()) == before


def test_within_a_hook_of_git(repository, monkeypatch):
    monkeypatch.setenv("GIT_DIR", ".git")  # as git sets it for a hook, for the top of the work tree
    monkeypatch.setenv("GIT_INDEX_FILE", ".git/index")
    assert hours(sides_of(repository, ("v1",))[0]) == "70.0 h"


def test_a_commit_is_named_with_its_day(repository):
    old, new = sides_of(repository, ("v1",))
    short = git(repository, "rev-parse", "--short", "v1").strip()
    assert title(old.head) == f"commit v1 ({short}) of 2026-02-03" and title(new.head) == "the text as it stands"
    assert title(sides_of(repository, (short,))[0].head) == f"commit {short} of 2026-02-03"


def test_the_last_issue_stands_where_nothing_is_named(repository):
    issued(repository, "A")
    (repository / "plant.yaml").write_text(PLANT, "utf-8")
    issued(repository, "B")
    (repository / "plant.yaml").write_text(PLANT.replace(OLD, NEW), "utf-8")
    assert [hours(side) for side in sides_of(repository, ())] == ["70.0 h", "77.0 h"]
    assert [hours(side) for side in sides_of(repository, ("A",))] == ["84.0 h", "77.0 h"]
    assert [hours(side) for side in sides_of(repository, ("A", "B"))] == ["84.0 h", "70.0 h"]
    assert [hours(side) for side in sides_of(repository, ("v1", "A"))] == ["70.0 h", "84.0 h"]


def test_issued_and_solved_again_is_the_same(repository):
    issued(repository, "A")
    assert compare(*sides_of(repository, ("A",))).nothing


def test_issues_of_a_commit_are_left_aside(repository):
    issued(repository, "A")
    git(repository, "add", ".")
    git(repository, "commit", "-qm", "issue A")
    assert hours(sides_of(repository, ("HEAD",))[0]) == "84.0 h"


def test_nothing_issued(tmp_path):
    assert told(written(tmp_path)) == "compare pump-house: nothing has been issued; expected `basis issue` first, or a commit to compare with"


def test_an_unknown_commit(repository):
    issued(repository, "rev-1")
    words = "is neither an issued revision nor a commit or tag that git has here; expected one of rev-1, or a commit"
    assert told(repository, "rev-2") == f"compare pump-house: 'rev-2' {words}; nearest: rev-1"
    assert told(repository, "--help") == f"compare pump-house: '--help' {words}"
    assert told(repository, "v1^{tree}") == f"compare pump-house: 'v1^{{tree}}' {words}"
    assert told(repository, "0" * 40) == f"compare pump-house: '{'0' * 40}' {words}"


def test_a_commit_that_a_shallow_clone_does_not_have(repository, tmp_path):
    first = git(repository, "rev-parse", "v1").strip()
    git(tmp_path, "clone", "-q", "--depth", "1", repository.parents[1].as_uri(), "shallow")
    place = tmp_path / "shallow" / "projects" / "pump-house"
    assert hours(sides_of(place, ("HEAD",))[0]) == "77.0 h"
    words = told(place, first)
    assert f"'{first}' is neither an issued revision nor a commit or tag that git has here" in words
    assert words.endswith("or a commit; this clone is shallow, `git fetch --unshallow --tags` brings the others")


def test_a_commit_without_the_project(repository):
    place = written(repository.parent, name="boiler-house")
    assert told(place, "v1") == "compare boiler-house: commit 'v1' does not hold this project; expected a commit in which its folder is there"


def test_outside_a_repository(tmp_path):
    assert told(written(tmp_path), "v1").startswith("compare pump-house: 'v1' is no issued revision, and git knows no repository here: fatal: not a git")


def test_without_git(repository, monkeypatch):
    issued(repository, "A")
    monkeypatch.setenv("PATH", "")
    assert told(repository, "v1") == ("compare pump-house: 'v1' is no issued revision, and there is no git here to look for a commit; expected one of A")
    assert hours(sides_of(repository, ("A",))[0]) == "84.0 h"  # issues need no git


def test_faults_of_an_old_text_name_the_commit(repository):
    (repository / "plant.yaml").write_text(PLANT.replace("altitude", "altitud"), "utf-8")
    git(repository, "commit", "-qam", "a slip")
    short = git(repository, "rev-parse", "--short", "HEAD").strip()
    (repository / "plant.yaml").write_text(PLANT, "utf-8")
    with pytest.raises(Faults) as found:
        sides_of(repository, ("HEAD",))
    assert f"{short}:projects/pump-house/plant.yaml:1: unknown key 'altitud'; expected" in str(found.value) and "/tmp" not in str(found.value)
    assert "compare pump-house: the text at 'HEAD' is not sound for this program; expected a commit whose text is" in str(found.value)


def test_files_beside_and_below_the_text_are_there(repository):
    (repository / "data").mkdir()
    (repository / "data" / "notes.txt").write_bytes(b"line\n\nwith blank lines\n")
    (repository / "link.txt").symlink_to("/etc/hostname")
    git(repository, "add", ".")
    git(repository, "commit", "-qm", "more files")
    assert hours(sides_of(repository, ("HEAD",))[0]) == "84.0 h"
