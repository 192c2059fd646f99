"""What runs keep for later runs: the same answer from what was kept, and nothing read that is not sound."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from basis.chapters import catalogue
from basis.language import formula, terms, user_cache
from basis.language.sources import sources

ROOT = Path(__file__).parent.parent.parent
DATA = {"word": "ß", "numbers": [1, 2.5, None]}


@pytest.fixture
def place(tmp_path, monkeypatch):
    """An empty cache folder of the user."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    monkeypatch.delenv(user_cache.OFF, raising=False)
    return tmp_path / "cache" / "design-basis-book"


def only(place: Path) -> Path:
    (path,) = place.iterdir()
    return path


def test_what_was_kept_is_recalled_under_its_name_and_digest_alone(place):
    user_cache.keep("trial", "a1", DATA)
    assert user_cache.recall("trial", "a1") == DATA
    assert user_cache.recall("trial", "a2") is None and user_cache.recall("other", "a1") is None
    only(place).rename(place / "trial-a2.kept")
    assert user_cache.recall("trial", "a2") is None  # the seal is of its name too


DAMAGE = {"cut": lambda text: text[:-1], "changed": lambda text: text[:-6] + bytes([text[-6] ^ 1]) + text[-5:], "empty": lambda text: b"",
          "garbage": lambda text: b"\x80" + text}


@pytest.mark.parametrize("damage", DAMAGE.values(), ids=DAMAGE)
def test_a_damaged_file_is_not_read_and_is_kept_anew(place, damage):
    user_cache.keep("trial", "a1", DATA)
    only(place).write_bytes(damage(only(place).read_bytes()))
    assert user_cache.recall("trial", "a1") is None
    user_cache.keep("trial", "a1", DATA)
    assert user_cache.recall("trial", "a1") == DATA


def test_what_others_may_write_is_not_read(place):
    user_cache.keep("trial", "a1", DATA)
    only(place).chmod(0o666)
    assert user_cache.recall("trial", "a1") is None
    only(place).chmod(0o600)
    assert user_cache.recall("trial", "a1") == DATA
    place.chmod(0o777)
    assert user_cache.recall("trial", "a1") is None
    user_cache.keep("trial", "a2", DATA)
    assert only(place).name == "trial-a1.kept"


def test_what_another_user_owns_is_not_read(place, monkeypatch):
    user_cache.keep("trial", "a1", DATA)
    monkeypatch.setattr(os, "getuid", lambda: 4711)
    assert user_cache.recall("trial", "a1") is None


def test_where_nothing_can_be_written_nothing_is_kept_and_nothing_told(place, monkeypatch):
    place.parent.mkdir()
    place.write_text("a file where the folder would be")
    user_cache.keep("trial", "a1", DATA)
    assert user_cache.recall("trial", "a1") is None
    monkeypatch.setenv(user_cache.OFF, "1")
    assert user_cache.folder() is None and user_cache.recall("trial", "a1") is None


def test_a_disk_that_refuses_leaves_nothing_half_written(place, monkeypatch):
    def refuse(*paths):
        raise OSError("no room")
    user_cache.keep("trial", "a1", DATA)
    monkeypatch.setattr(os, "replace", refuse)
    user_cache.keep("trial", "a2", DATA)
    assert only(place).name == "trial-a1.kept"


def test_what_was_not_asked_for_longest_goes_first(place, monkeypatch):
    for number, name in enumerate(("a1", "a2", "a3")):
        user_cache.keep("trial", name, DATA)
        os.utime(place / f"trial-{name}.kept", (number, number))
    monkeypatch.setattr(user_cache, "LARGEST", 3 * only_size(place))
    assert user_cache.recall("trial", "a1") == DATA  # which makes it the youngest
    user_cache.keep("trial", "a4", DATA)
    assert sorted(path.name for path in place.iterdir()) == ["trial-a1.kept", "trial-a3.kept", "trial-a4.kept"]


def only_size(place: Path) -> int:
    (size,) = {path.stat().st_size for path in place.iterdir()}
    return size


def test_another_program_does_not_read_what_this_one_kept(tmp_path):
    shutil.copytree(ROOT / "basis", tmp_path / "basis", ignore=shutil.ignore_patterns("site", "__pycache__"))
    code = "from basis.language import user_cache; print(user_cache.program())"
    digests = []
    for folder, change in ((ROOT, None), (tmp_path, "basis/chapters/plant/sources.yaml"), (tmp_path, "basis/chapters/plant/terms.py"), (tmp_path, None)):
        if change:
            with (tmp_path / change).open("a", encoding="utf-8") as file:
                file.write("\n# one more line\n")
        digests.append(subprocess.run([sys.executable, "-c", code], cwd=folder, capture_output=True, text=True, check=True).stdout)
    assert len(set(digests)) == 3 and digests[2] == digests[3]


def test_files_that_change_while_the_program_runs_are_not_kept_under_its_digest(place, monkeypatch):
    user_cache.program()
    monkeypatch.setattr(user_cache, "digest_of_program", lambda: "another")
    user_cache.keep_of_program("trial", DATA)
    assert not place.exists() and user_cache.recall_of_program("trial") is None


SHOWN = """
from basis.chapters import catalogue
from basis.language.formula import Formula
from basis.language.sources import sources
from basis.language.terms import homes, lists_by_axis, terms
import ast
print(terms(), homes(), lists_by_axis(), sources(), catalogue().checks)
for one in catalogue().producers.values():
    if isinstance(one, Formula):
        print(one.id, one.parameters, one.tested, one.counts, one.looks_up, ast.dump(one.expression))
"""


def test_terms_sources_and_formulas_from_what_was_kept_are_those_of_the_files(place):
    first, second = (subprocess.run([sys.executable, "-c", SHOWN], cwd=ROOT, capture_output=True, text=True, check=True).stdout for _ in range(2))
    assert {path.name.partition("-")[0] for path in place.iterdir()} == {"formulas", "sources", "terms"}
    assert first == second and "ventilation_airflow" in second


def test_two_runs_at_once(place):
    runs = [subprocess.Popen([sys.executable, "-c", SHOWN], cwd=ROOT, stdout=subprocess.PIPE, text=True) for _ in range(2)]
    assert len({run.communicate()[0] for run in runs}) == 1 and all(run.returncode == 0 for run in runs)
    assert {path.suffix for path in place.iterdir()} == {".kept"}


def test_a_formula_whose_code_is_not_what_was_kept_is_examined(monkeypatch):
    made = catalogue().producers["air_pressure_ratio"]
    wrong = {"code": "of other code", "written": "air_pressure * 2", "tested": [], "counts": []}
    monkeypatch.setattr(formula, "known_formulas", lambda: {f"{made.module}.{made.id}": wrong})
    again = formula.formula(source=made.sources)(made.run)
    assert formula.ast.dump(again.expression) == formula.ast.dump(made.expression)


def test_all_that_terms_and_sources_hold_is_plain_data():
    for one in (*terms.terms().values(), *terms.lists_by_axis().values()):
        assert type(one)(**terms._tuples(user_cache.json.loads(user_cache.json.dumps(terms._stated(one))))) == one
    assert sources()


def test_what_is_found_from_what_was_kept_is_what_was_found_anew(place):
    first, second = (subprocess.run([sys.executable, "-m", "basis", "find", "louvre", "velocity", "--json"], cwd=ROOT, capture_output=True, text=True,
                                    check=True).stdout for _ in range(2))
    assert first == second and '"id": "face_velocity"' in first
    assert any(path.name.startswith("entries-") for path in place.iterdir())
