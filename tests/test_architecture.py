"""The code base held to its own rules: who may import whom, how long a module may be, where outside libraries live."""

import ast
import re
from pathlib import Path

from each import of_each

ROOT = Path(__file__).parent.parent
BASIS = ROOT / "basis"
MODULES = sorted(path for path in BASIS.rglob("*.py"))
# Rooms of the program: each may import what stands to its left, and within itself whatever makes no circle.
ROOMS = ("language", "physics", "chapters", "reading", "guessing", "solving", "record", "export", "site", "terminal")
DOORS = ("__init__", "__main__", "benchmark")  # they open the rooms, and measure them
LONGEST = 400
DAYS = ("days", "calendar", "workbook")  # modules that count or write days of the calendar; none asks which it is


def area(path: Path) -> str:
    parts = path.relative_to(BASIS).with_suffix("").parts
    return parts[0]


def imports_of(path: Path) -> set[str]:
    found = set()
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
            found |= {node.module} | {f"{node.module}.{alias.name}" for alias in node.names}
    return found


def name_of(path: Path) -> str:
    """The dotted name of a module or of a package."""
    return ".".join(path.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__")


NAMES = {name_of(path): path for path in MODULES}


def ours(path: Path) -> set[str]:
    """Dotted names of our modules that a module imports."""
    return imports_of(path) & set(NAMES) - {"basis", name_of(path)}


@of_each(MODULES)
def test_import_direction(path):
    own = area(path)
    if own in DOORS:
        return
    allowed = ROOMS[: ROOMS.index(own) + 1]
    assert {name.split(".")[1] for name in ours(path)} <= set(allowed), f"{own} imports {ours(path)}"


def test_guesses_are_for_new_projects_only():
    users = {area(path) for path in MODULES if any(name.startswith("basis.guessing") for name in ours(path))}
    assert users <= {"guessing", "terminal"}, "a number of a book is never guessed behind its reader's back"


def test_no_circles():
    done, open_ = set(), []

    def visit(name):
        assert name not in open_, " imports ".join([*open_[open_.index(name):], name])
        if name not in done:
            open_.append(name)
            for other in sorted(ours(NAMES[name])):
                visit(other)
            open_.pop()
            done.add(name)
    for name in NAMES:
        visit(name)


@of_each(sorted((BASIS / "chapters").glob("*/*.py")))
def test_chapters_are_leaves(path):
    folder = f"basis.chapters.{path.parent.name}"
    assert all(name.startswith(("basis.language", "basis.physics", folder)) for name in ours(path)), "chapters meet through Terms"


@of_each(sorted((BASIS / "chapters").glob("*/chapter.py")))
def test_a_chapter_tells_what_stands_in_its_other_modules(path):
    told = set(re.findall(r"\b[a-z_]+\.py\b", ast.get_docstring(ast.parse(path.read_text("utf-8")))))
    assert told == {other.name for other in path.parent.glob("*.py")} - {"__init__.py", "terms.py", path.name}


def test_the_rooms_stand_in_the_developers_table():
    rows = [line.split("`")[1] for line in (ROOT / "DEVELOPERS.md").read_text("utf-8").splitlines() if line.startswith("| `basis/")]
    assert [row for row in rows if row.strip("/").count("/") == 1] == [f"basis/{room}/" for room in ROOMS] + ["basis/benchmark/"]


@of_each(MODULES)
def test_outside_libraries_have_one_home(path):
    tops = {name.split(".")[0] for name in imports_of(path)}
    if area(path) not in ("site", "benchmark"):
        assert not tops & {"mkdocs", "jinja2", "matplotlib", "markdown", "markupsafe"}
    if path.stem != "units" and area(path) != "benchmark":
        assert "pint" not in tops
    clocks = {"time", "datetime"} - ({"datetime"} if path.stem in DAYS else set())
    assert not tops & {"requests", "urllib", "socket", "http", "random", *clocks} or area(path) in ("site", "benchmark",
        "terminal"), "no network, clock or chance in a calculation"
    assert path.stem not in DAYS or not re.search(r"today|now\(", path.read_text("utf-8"))


@of_each(MODULES)
def test_modules_are_short_and_say_what_they_are_for(path):
    text = path.read_text("utf-8")
    if path.stem != "terms" or area(path) != "chapters":
        assert len(text.splitlines()) <= LONGEST
    assert ast.get_docstring(ast.parse(text)), "no docstring"


@of_each(MODULES)
def test_no_catch_all(path):
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.ExceptHandler):
            names = {name.id for name in ast.walk(node.type) if isinstance(name, ast.Name)} if node.type else {"bare"}
            assert not names & {"bare", "Exception", "BaseException"}, f"line {node.lineno}"


def test_every_chapter_has_terms_template_sources_and_tests():
    from basis.chapters import catalogue

    for chapter in catalogue().chapters:
        for path in (f"basis/chapters/{chapter.id}/terms.py", f"templates/{chapter.id}.md.j2", f"basis/chapters/{chapter.id}/sources.yaml",
                     f"tests/chapters/{chapter.id}/test_{chapter.id}.py"):
            assert (ROOT / path).exists(), path


def test_importing_the_package_is_cheap():
    assert imports_of(BASIS / "__init__.py") == {"basis.solving.solve", "basis.solving.solve.load"}
