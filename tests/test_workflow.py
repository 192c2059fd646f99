"""The example workflow: its commands, taken out of the file and run in a git repository of their own; and that it may do no more than it must."""

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest
import yaml
from small_project import issued, written

ROOT = Path(__file__).parent.parent
WORKFLOW = yaml.safe_load((ROOT / ".github" / "workflows" / "book.yml").read_text("utf-8"))
JOBS = WORKFLOW["jobs"]
STEPS = [(job, step) for job, told in JOBS.items() for step in told["steps"]]
COMPARE, CHECK = ("check", "Compare with the main branch"), ("check", "Check the text, the issued records and the design")
COMMENT = ("comment", "Comment the comparison")
GOOD = "hours_per_year_tests: {value: 40 h"


class Desk:
    """A repository on a disk, what stands for the forge's commands, and the steps of the workflow."""

    def __init__(self, place: Path):
        self.place, self.stubs = place / "repository", place / "stubs"
        (self.place / "projects").mkdir(parents=True)
        self.stubs.mkdir()
        self.stub("python", 'echo "python $*" >>"$CALLS"')
        self.stub("gh", 'echo "gh $*" >>"$CALLS"\ncase "$*" in *--edit-last*) [ -e "$COMMENTED" ] ;; *) touch "$COMMENTED" ;; esac')
        (self.stubs / "basis").symlink_to(Path(sys.executable).parent / "basis")
        files = {"HOME": place, "CALLS": place / "calls", "COMMENTED": place / "commented", "GITHUB_STEP_SUMMARY": place / "summary.md"}
        self.environment = {"PATH": f"{self.stubs}:{os.environ['PATH']}", "PULL_REQUEST": "7", "NO_COLOR": "1", **WORKFLOW["env"]}
        self.environment |= {name: str(path) for name, path in files.items()}
        self.git("init", "-q", "-b", "main")

    def stub(self, name: str, lines: str) -> None:
        (self.stubs / name).write_text(f"#!/bin/sh\n{lines}\n")
        (self.stubs / name).chmod(0o755)

    def git(self, *words: str) -> None:
        told = ["-c", "user.name=test", "-c", "user.email=test@invalid", "-c", "commit.gpgsign=false"]
        subprocess.run(["git", *told, *words], cwd=self.place, check=True, capture_output=True, env=self.environment)

    def committed(self, message: str) -> None:
        self.git("add", "-A")
        self.git("commit", "-q", "-m", message)

    def pull_request(self, *edits: tuple[str, str], name: str = "pump-house") -> None:
        """What the forge checks out for one: its merge into the main branch."""
        self.git("checkout", "-q", "-b", "change")
        written(self.place / "projects", *edits, name=name)
        self.committed("a change")
        self.git("checkout", "-q", "main")
        self.git("merge", "-q", "--no-ff", "-m", "merge", "change")

    def run(self, job: str, name: str) -> subprocess.CompletedProcess:
        """A step as the forge runs it: bash that stops at the first command that fails."""
        (step,) = (step for step in JOBS[job]["steps"] if step.get("name") == name)
        return subprocess.run(["bash", "--noprofile", "--norc", "-e", "-o", "pipefail", "-c", step["run"]], cwd=self.place, env=self.environment,
                              capture_output=True, text=True)

    def text(self, name: str) -> str:
        return (self.place / name).read_text("utf-8")

    @property
    def calls(self) -> list[str]:
        return Path(self.environment["CALLS"]).read_text("utf-8").splitlines()


@pytest.fixture
def desk(tmp_path):
    """The small project, issued as A and committed on the main branch."""
    made = Desk(tmp_path)
    issued(written(made.place / "projects"))
    made.committed("issue A")
    return made




def test_a_verdict_that_got_worse_is_in_the_comment_and_fails_the_check(desk):
    desk.pull_request((GOOD, "hours_per_year_tests: {value: 60 h"))
    done = desk.run(*COMPARE)
    assert done.returncode == 0, done.stderr
    # By hand: of 50 h that are allowed 40 h leave a fifth, 60 h are a fifth too many.
    told = desk.text("comparison.md")
    assert "holds (+20 %) → fails (−20 %)" in told and "Verdicts that turned" in told
    assert Path(desk.environment["GITHUB_STEP_SUMMARY"]).read_text("utf-8") == told
    assert sorted(path.name for path in desk.place.iterdir()) == [".git", "comparison.md", "projects"]
    assert desk.run(*CHECK).returncode == 3


def test_what_changes_nothing_is_told_in_a_line(desk):
    desk.pull_request(('note: "harbour wall"', 'note: "harbour  wall"'))
    assert desk.run(*COMPARE).returncode == 0 and desk.text("comparison.md").strip()
    assert desk.run(*CHECK).returncode == 0


def test_a_new_project_and_one_that_cannot_be_compared(desk):
    desk.pull_request(name="well-house")
    (desk.place / "projects" / "pump-house" / "plant.yaml").write_text("altitude: high\n", "utf-8")
    assert desk.run(*COMPARE).returncode == 0
    told = desk.text("comparison.md")
    assert "**well-house** is new." in told and "**pump-house** cannot be compared:" in told and "    projects/pump-house/plant.yaml:1:" in told
    assert desk.run(*CHECK).returncode == 1


def test_a_record_edited_by_hand_fails_the_check(desk):
    path = desk.place / "projects" / "pump-house" / "issued" / "A.csv"
    path.write_text(path.read_text("utf-8").replace("holds", "tight"), "utf-8")
    done = desk.run(*CHECK)
    assert done.returncode == 1 and "was changed after it was issued" in done.stderr


def test_a_comparison_without_room_keeps_the_line_of_each_project(desk):
    desk.pull_request((GOOD, "hours_per_year_tests: {value: 45 h"))
    (desk.stubs / "basis").unlink()
    desk.stub("basis", 'echo "**Pump house: 2 numbers**"; for line in $(seq 9000); do echo "| a row |"; done')
    assert desk.run(*COMPARE).returncode == 0
    assert desk.text("comparison.md") == "**Pump house: 2 numbers**\n\nAll of it stands in the summary of the run.\n"


def test_the_comment_is_written_once_and_then_kept_up_to_date(desk):
    (desk.place / "comparison.md").write_text("told", "utf-8")
    assert desk.run(*COMMENT).returncode == 0 and desk.run(*COMMENT).returncode == 0
    assert [call.replace("gh pr comment 7 --body-file comparison.md", "").strip() for call in desk.calls] == ["--edit-last", "", "--edit-last"]


def test_the_book_is_built_where_it_is_published_from(desk):
    assert desk.run("build", "Install the program").returncode == 0 and desk.calls == ["python -m pip install --quiet ."]
    done = desk.run("build", "Build the book")
    (upload,) = (step for step in JOBS["build"]["steps"] if "upload-pages" in step.get("uses", ""))
    assert done.returncode == 0 and (desk.place / upload["with"]["path"] / "pump-house" / "revisions.html").is_file(), done.stderr


def test_every_command_has_been_run_here():
    assert {(job, step["name"]) for job, step in STEPS if "run" in step} == {
        COMPARE, CHECK, COMMENT, ("check", "Install the program"), ("build", "Install the program"), ("build", "Build the book")}


def test_it_may_do_no_more_than_it_must():
    assert WORKFLOW["permissions"] == {}
    assert {job: told["permissions"] for job, told in JOBS.items()} == {
        "check": {"contents": "read"}, "comment": {"pull-requests": "write"}, "build": {"contents": "read"}, "publish": {"pages": "write", "id-token": "write"}}
    used = [step["uses"] for _, step in STEPS if "uses" in step]
    assert used and all(re.fullmatch(r"actions/[a-z-]+@v\d+", one) for one in used)
    # What others wrote reaches no command but by way of the environment, and no job that may write runs it.
    assert not [step for _, step in STEPS if "${{" in step.get("run", "")]
    assert all(not step.get("uses", "").startswith("actions/checkout") for job, step in STEPS if "write" in JOBS[job]["permissions"].values())
    assert all(step["with"]["persist-credentials"] is False for _, step in STEPS if step.get("uses", "").startswith("actions/checkout"))


def test_it_publishes_from_the_main_branch_alone():
    triggers = WORKFLOW[True]  # a reader of YAML 1.1 takes `on` for true
    assert triggers == {"pull_request": {"branches": ["main"]}, "push": {"branches": ["main"]}}
    assert JOBS["build"]["if"] == "github.event_name == 'push'" and JOBS["publish"]["needs"] == "build" and JOBS["build"]["needs"] == "check"
