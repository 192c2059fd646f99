"""What `check` prints: what asks for something, with ids that `show` opens, and one line of counts for each project."""

import json
import re
import shutil

import click
import pytest
from click.testing import CliRunner
from conftest import ROOT

from basis.terminal.checks import ASKING, Checked, check_lines, check_record, told_of
from basis.terminal.cli import main
from basis.terminal.opening import opened

NAMED = re.compile(r" \[(\w+): ([\w.]+)\]$")


def test_only_what_asks_for_something_is_told_with_ids_that_open(books):
    for book in books.values():
        title, *rows, counts = check_lines(Checked([told_of(book)], []))
        asking = [one for one in book.checks if one.word in ASKING]
        assert len(rows) == len(asking) and book.project.slug in title
        for row in rows:
            check_id, value_id = NAMED.search(row).groups()
            assert book.check(check_id).word in row
            assert all(opened(name, book) for name in (check_id, value_id))
        for word in {one.word for one in book.checks}:
            assert f"{sum(one.word == word for one in book.checks)} {word}" in counts
        assert book.still_open in counts


def test_what_is_worst_stands_first(books):
    for book in books.values():
        words = [click.unstyle(row).split()[0] for row in list(check_lines(Checked([told_of(book)], [])))[1:-1]]
        assert words == sorted(words, key=ASKING.index)


def test_all_of_it(books):
    for book in books.values():
        told = "\n".join(check_lines(Checked([told_of(book)], []), everything=True))
        assert all(verdict.check.title in told for verdict in book.checks) and all(one.told in told for one in book.not_read)


def test_of_a_chapter(books):
    book = next(iter(books.values()))
    found = Checked([told_of(book)], [], ("ventilation",), ASKING)
    assert [one["check"] for one in check_record(found)["projects"][0]["checks"]] == [one.check.id for one in book.checks_of("ventilation")]
    assert [one["record"]["check"] for one in found.against] == [one.check.id for one in book.checks_of("ventilation") if one.word in ASKING]


@pytest.fixture
def two(tmp_path, monkeypatch):
    """A folder of a team with two small projects."""
    for slug in ("one", "two"):
        (tmp_path / "projects" / slug).mkdir(parents=True)
        shutil.copy(ROOT / "projects/cobble-key-exchange/plant.yaml", tmp_path / "projects" / slug)
        (tmp_path / "projects" / slug / "project.yaml").write_text(f"name: {slug}\ninvented: true\nchapters: [plant]\n")
    monkeypatch.chdir(tmp_path)
    return lambda *words: CliRunner().invoke(main, ["check", "--fail-on", "never", *words])


def test_projects_and_chapters_are_chosen(two):
    def slugs(*words):
        return [one["project"] for one in json.loads(two("--json", *words).stdout)["projects"]]

    assert slugs() == ["one", "two"] and slugs("two") == slugs("--project", "two") == ["two"] and slugs("two", "--project", "one") == ["two", "one"]
    assert "nearest: plant" in two("--chapter", "plan").stderr and two("--chapter", "plan").exit_code == 1
    assert two("--chapter", "plant").exit_code == 0
    assert "; in the whole book open: " in two("--chapter", "plant").stdout and "whole book" not in two().stdout  # what is open is not counted by chapter
