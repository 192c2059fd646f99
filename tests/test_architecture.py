"""The code base held to its own rules: who may import whom, how long a module may be, where outside libraries live."""

import ast
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
BASIS = ROOT / "basis"
MODULES = sorted(path for path in BASIS.rglob("*.py"))
# Each may import what stands to its left.
ORDER = ["faults", "words", "units", "weather", "terms", "sources", "table", "maths", "notation", "compiled", "standing", "formula", "pipe", "footing",
         "network", "chapters", "folder", "yaml_nodes", "givens", "project",
         "book", "again", "verdicts", "chances", "emptiness", "trouble", "lacking", "binding", "solve", "spelled", "working", "trial", "examples", "starter",
         "compare", "site", "cli"]
LONGEST = 400


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


def ours(path: Path) -> set[str]:
    return {name.split(".")[1] for name in imports_of(path) if name.startswith("basis.")} & set(ORDER)


@pytest.mark.parametrize("path", MODULES, ids=lambda path: path.relative_to(ROOT).as_posix())
def test_import_direction(path):
    own = area(path)
    if own in ("__init__", "__main__", "benchmark"):
        return
    allowed = ORDER[: ORDER.index(own) + 1]
    assert ours(path) <= set(allowed), f"{own} imports {ours(path) - set(allowed)}"


@pytest.mark.parametrize("path", sorted((BASIS / "chapters").glob("[!_]*.py")), ids=lambda path: path.stem)
def test_chapters_are_leaves(path):
    assert ours(path) <= {"formula", "maths", "table", "terms", "compiled", "pipe", "footing", "network", "faults"}, ours(path)
    assert not any(name.startswith("basis.chapters") for name in imports_of(path)), "chapters meet through Terms"


@pytest.mark.parametrize("path", MODULES, ids=lambda path: path.relative_to(ROOT).as_posix())
def test_outside_libraries_have_one_home(path):
    tops = {name.split(".")[0] for name in imports_of(path)}
    if area(path) not in ("site", "benchmark"):
        assert not tops & {"mkdocs", "jinja2", "matplotlib", "markdown", "markupsafe"}
    if path.stem != "units" and area(path) != "benchmark":
        assert "pint" not in tops
    assert not tops & {"requests", "urllib", "socket", "http", "random", "time", "datetime"} or area(path) in ("site", "benchmark",
        "cli"), "no network, clock or chance in a calculation"


@pytest.mark.parametrize("path", MODULES, ids=lambda path: path.relative_to(ROOT).as_posix())
def test_modules_are_short_and_say_what_they_are_for(path):
    text = path.read_text("utf-8")
    if area(path) != "terms" or path.stem == "__init__":
        assert len(text.splitlines()) <= LONGEST
    assert ast.get_docstring(ast.parse(text)), "no docstring"


@pytest.mark.parametrize("path", MODULES, ids=lambda path: path.relative_to(ROOT).as_posix())
def test_no_catch_all(path):
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.ExceptHandler):
            names = {name.id for name in ast.walk(node.type) if isinstance(name, ast.Name)} if node.type else {"bare"}
            assert not names & {"bare", "Exception", "BaseException"}, f"line {node.lineno}"


def test_every_chapter_has_terms_template_sources_and_tests():
    from basis.chapters import catalogue

    for chapter in catalogue().chapters:
        for path in (f"basis/terms/{chapter.id}.py", f"templates/{chapter.id}.md.j2", f"basis/data/sources/{chapter.id}.yaml", f"tests/test_{chapter.id}.py"):
            assert (ROOT / path).exists(), path


def test_importing_the_package_is_cheap():
    assert imports_of(BASIS / "__init__.py") == {"basis.solve", "basis.solve.load"}
