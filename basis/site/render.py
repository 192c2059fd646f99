"""Templates: found in folders, checked against the rules, turned from Markdown to HTML once, then filled per project.

A template sees functions and nothing else. Autoescape is on, an unknown name is a Fault, a number that is not a Value is
refused.
"""
from __future__ import annotations

import inspect
import marshal
import os
from dataclasses import dataclass
from pathlib import Path

import jinja2
import jinja2.nodes
from markupsafe import Markup

from basis.language import digests
from basis.language.faults import Fault, Faults, nearest_name, of_system
from basis.site import prose, rules
from basis.site.page_data import PageData

PACKAGED = Path(__file__).resolve().parent.parent / "templates"
OWN = PACKAGED if PACKAGED.is_dir() else PACKAGED.parent.parent / "templates"  # of a checkout, where the wheel has not been made


class Refused(Exception):
    """A template asked for something that is not there; becomes a Fault with the template's line."""

    def __init__(self, what: str, expected: str = "", nearest: str = ""):
        super().__init__(what)
        self.what, self.expected, self.nearest = what, expected, nearest


@dataclass(frozen=True)
class Converted:
    """A template that keeps the rules, as HTML: plain data, which a later run may take where the template is the same."""

    name: str
    file: str
    html: str
    lines: dict
    places: dict
    digest: str

    @property
    def plain(self) -> list:
        """All of it, as JSON hands it back."""
        return [self.name, self.file, self.html, list(map(list, self.lines.items())), self.places, self.digest]

    @classmethod
    def of_plain(cls, plain: list) -> Converted:
        """The same again."""
        name, file, html, lines, places, told = plain
        return cls(name, file, html, dict(lines), places, told)


@dataclass(frozen=True)
class Layout:
    """A template ready to be filled: its file, the compiled HTML, the line in the file for a line of the HTML, and for each id and link written in it."""

    name: str
    file: str
    filled_by: jinja2.Template
    lines: dict
    places: dict
    digest: str = ""  # of the template as written and its place

    def line(self, made: int) -> int:
        """Line of the template as written for a line of the HTML made from it."""
        earlier = [number for number in self.lines if number <= made]
        return self.lines[max(earlier)] if earlier else 0


def template_folders(projects: Path) -> tuple[Path, ...]:
    """Where templates are looked up, first match wins: beside the projects, then those that come with the program."""
    return tuple(folder for folder in dict.fromkeys(template_places(projects)) if folder.is_dir())


def template_places(projects: Path) -> tuple[Path, ...]:
    """Where such folders may stand, whether or not they are there."""
    return projects.absolute().parent / "templates", OWN


def find(name: str, folders: tuple[Path, ...]) -> Path | None:
    """What stands under the name of this template, or None: a folder or a link to nothing is told when it is read."""
    return next((folder / name for folder in folders if os.path.lexists(folder / name)), None)


def environment() -> jinja2.Environment:
    """Jinja as strict as it goes."""
    return jinja2.Environment(undefined=jinja2.StrictUndefined, autoescape=True, finalize=_only_text, trim_blocks=True, lstrip_blocks=True)


def _only_text(value):
    if isinstance(value, str):
        return value
    raise Refused(f"a template places {value!r}, which is no Value", 'value("…") or text("…")')


def convert(name: str, folders: tuple[Path, ...], functions: type) -> Converted:
    """Read and check one template for the functions of a class. Raises Faults with every breach of the rules."""
    path = find(name, folders)
    if path is None:
        raise Faults([Fault(name, 0, "no such template", f"a file in {' or '.join(folder.as_posix() for folder in folders)}")])
    file, jinja = shown_path(path).as_posix(), environment()
    source = _text(path, file)
    tree = rules.parsed(jinja, source, file)
    if found := rules.breaches(tree, file) or _unknown_calls(tree, file, functions):
        raise Faults(found)
    html = prose.to_html(source)
    rules.parsed(jinja, html, file)  # Markdown may have taken a tag for a part of its own
    return Converted(name, file, prose.noted(html), prose.lines_of(source, html), prose.written_in(source, html), digests.digest(file, source))


def code_of(made: Converted) -> bytes:
    """The template as code, in a form that goes from one process to another."""
    return marshal.dumps(environment().compile(made.html, name=made.name, filename=made.file))


def _text(path: Path, file: str) -> str:
    try:
        return path.read_text(encoding="utf-8")
    except UnicodeDecodeError as wrong:
        raise Faults([Fault(file, wrong.object.count(b"\n", 0, wrong.start) + 1, "is not UTF-8 text", "the file saved as UTF-8")]) from wrong
    except OSError as refused:
        raise Faults([of_system(refused, file)]) from refused


def misspelt(folders: tuple[Path, ...]) -> list[Fault]:
    """Files of a team's folder that are meant as templates and replace none."""
    known = sorted(path.name for path in folders[-1].glob("*.j2"))
    meant = [path for folder in folders[:-1] for path in sorted(folder.iterdir()) if not path.name.startswith((".", "#")) and not path.name.endswith("~")]
    return [Fault(shown_path(path).as_posix(), 0, "replaces no template of the program", "the name of one", nearest) for path in meant
            if path.name not in known and ((nearest := nearest_name(path.name, known)) or ".j2" in path.name)]


def layout(made: Converted, code: bytes) -> Layout:
    """The template ready to be filled, with its code."""
    jinja = environment()
    return Layout(made.name, made.file, jinja.template_class.from_code(jinja, marshal.loads(code), jinja.globals), made.lines, made.places, made.digest)


def shown_path(path: Path) -> Path:
    """The path as people write it: from the working folder where possible."""
    return path.relative_to(Path.cwd()) if path.is_relative_to(Path.cwd()) else path


def function_names(functions: type) -> tuple[str, ...]:
    """Names of the functions that a template may call: the public methods of the class."""
    return tuple(name for name, thing in inspect.getmembers(functions, inspect.isfunction) if not name.startswith("_"))


def _unknown_calls(tree: jinja2.nodes.Template, file: str, functions: type) -> list[Fault]:
    known, found = function_names(functions), []
    for name, arguments, named, line in rules.calls(tree):
        if name not in known:
            found.append(Fault(file, line, f"unknown function '{name}'", "a function that templates may call", nearest_name(name, known)))
        elif problem := _wrong_arguments(getattr(functions, name), arguments, named):
            _, *takes = inspect.signature(getattr(functions, name)).parameters
            found.append(Fault(file, line, f"{name}(…): {problem}", f"{name}({', '.join(takes)})"))
    return found


def _wrong_arguments(function, arguments: tuple, named: dict) -> str:
    try:
        inspect.signature(function).bind(None, *arguments, **named)
    except TypeError as wrong:
        return str(wrong)
    return ""


def fill(layout: Layout, functions, data: PageData) -> Markup:
    """The layout filled for one page by the functions of an object; what the template itself writes is noted in the data. Raises Faults."""
    names = {name: getattr(functions, name) for name in function_names(type(functions))}
    try:
        return Markup(layout.filled_by.render(names | prose.noting(data)))
    except Refused as wrong:
        fault = Fault(layout.file, layout.line(_template_line(wrong, layout.file)), wrong.what, wrong.expected, wrong.nearest)
    except jinja2.UndefinedError as wrong:
        fault = Fault(layout.file, layout.line(_template_line(wrong, layout.file)), str(wrong), "a name that templates know")
    raise Faults([fault])


def _template_line(wrong: Exception, file: str) -> int:
    """Line of the HTML template at which an exception passed through it."""
    line, frame = 0, wrong.__traceback__
    while frame is not None:
        if frame.tb_frame.f_code.co_filename == file:
            line = frame.tb_lineno
        frame = frame.tb_next
    return line
