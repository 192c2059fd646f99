"""The folders of projects; in that of one which files are read, what would be passed over, and files that a given names.

What the operating system refuses is a Fault at the file.
"""

from __future__ import annotations

import os
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from basis.language import user_cache
from basis.language.faults import Fault, Faults, nearest_name, printable

EQUIPMENT = "equipment"  # the folder of data sheets, beside that of the projects
SLUG = re.compile(r"[A-Za-z0-9_-]{1,60}")  # the folder of a project; so an id of a decision, a requirement, a question
TEXT = re.compile(r"\.ya?ml(?=$|[^a-z0-9])", re.IGNORECASE)  # within a name
REFUSED = (OSError, ValueError, RuntimeError)  # by the system; a NUL in a name; a loop of links


@dataclass(frozen=True)
class Folder:
    """A project folder: where it is, and how its files are named in faults."""

    path: Path
    shown: str

    @property
    def slug(self) -> str:
        """Its name, also of one written as a dot; of a link its own, since two may lead to the same place."""
        return os.path.basename(os.path.abspath(self.path))

    def show(self, name: str) -> str:
        """The name of one of its files in faults."""
        return f"{self.shown}/{printable(name)}"

    def file(self, name: str) -> tuple[Path | None, str]:
        """The file that a given names; or none, and why: it lies outside, it is not there, nothing can have that name."""
        try:
            path = self.path / name
            if not path.resolve().is_relative_to(self.path.resolve()):
                return None, "lies outside the project folder"
            return (path, "") if path.is_file() else (None, "is not there")
        except REFUSED:
            return None, "is no name of a file"

    def nearest(self, name: str) -> str:
        """The file in it, other than YAML, whose name is most like `name`."""
        return nearest_name(name, [other.name for other in self.path.iterdir() if other.suffix != ".yaml"])


def projects_in(folder: Path, shown: str) -> list[str]:
    """Names of the projects in a folder: every folder in it that is not hidden, and what links to nothing. Raises Faults without any."""
    try:
        if not folder.is_dir():
            raise Faults([Fault(shown, 0, "no such folder", "a folder that holds project folders; `basis new NAME` makes one")])
        found = sorted(path.name for path in folder.iterdir() if (path.is_dir() or not path.exists()) and not path.name.startswith("."))
    except REFUSED as refused:
        raise Faults([Fault(shown, 0, f"cannot be read: {reason(refused)}", "a folder that you may read")]) from None
    if not found:
        raise Faults([Fault(shown, 0, "holds no project", "a project folder; `basis new NAME` makes one")])
    return found


def sheets_beside(folder: Path) -> Path:
    """The folder of the data sheets that the project in a folder may use; of a link that beside which the link stands."""
    return Path(os.path.abspath(folder)).parent.parent / EQUIPMENT


def digest_of_text(folder: Path) -> str:
    """Digest of the program and of all that it reads of a project: every file in its folder, also issued records and weather, and all data sheets.

    Raises OSError for what may not be read.
    """
    files = ((str(path.relative_to(place)), path.read_bytes() if path.is_file() else b"\0")
             for place in (folder, sheets_beside(folder)) for path in sorted(place.rglob("*")))
    return user_cache.digest_of_files(f"{user_cache.program()}\0{folder}", files)


def project_files(folder: Folder, faults: list) -> list[Path]:
    """Its *.yaml files in order of name; a fault for each file that looks like project text and is not read. Raises Faults without any."""
    try:
        if not folder.path.is_dir():
            raise Faults([Fault(folder.shown, 0, "no such project folder", "a folder with *.yaml files")])
        if not SLUG.fullmatch(folder.slug):
            faults.append(Fault(folder.shown, 0, f"a project cannot be called '{folder.slug}'", "letters, digits, _ and -, at most 60"))
        entries = sorted(path for path in folder.path.iterdir() if not path.name.startswith("."))
    except REFUSED as refused:
        raise Faults([Fault(folder.shown, 0, f"cannot be read: {reason(refused)}", "a folder that you may read")]) from None
    paths = [path for path in entries if _is_read(folder, path, faults)]
    if not paths and not faults:
        raise Faults([Fault(folder.shown, 0, "holds no *.yaml file", "at least project.yaml")])
    return paths


def _is_read(folder: Folder, path: Path, faults: list) -> bool:
    """Whether it is project text; a fault when it looks like it and is not."""
    try:
        trouble = next(_troubles(folder.path.resolve(), path), None)
    except REFUSED as refused:
        trouble = f"cannot be read: {reason(refused)}", "a file that you may read", ""
    if trouble:
        faults.append(Fault(folder.show(path.name), 0, *trouble))
    return not trouble and path.suffix == ".yaml"


def _troubles(root: Path, path: Path) -> Iterator[tuple[str, str, str]]:
    """What is wrong, what was expected, what is nearest."""
    if path.is_dir():
        if inner := next((inner for inner in sorted(path.rglob("*")) if _is_text(inner)), None):
            yield f"is a folder; '{printable(inner.relative_to(path).as_posix())}' in it is not read", "all files in the project folder itself", ""
    elif _is_text(path):
        if path.suffix != ".yaml":
            yield "is not read", "the ending .yaml, or one without yaml for a copy that is to be left alone", printable(f"{TEXT.split(path.name)[0]}.yaml")
        elif not path.exists():
            yield "is a link to nothing", "a file", ""
        elif not path.resolve().is_relative_to(root):
            yield "is a link that leaves the project folder", "a file inside the folder", ""
        elif not path.is_file():
            yield "is not a plain file", "a text file", ""
        elif printable(path.name) != path.name:
            yield "has a name that is not text", "a name in UTF-8", ""


def _is_text(path: Path) -> bool:
    """Whether it looks like project text, by a slip of an editor too: air.YAML, air.yml, air.yaml.txt, air.yaml~."""
    return bool(TEXT.search(path.name))


def reason(refused: Exception) -> str:
    """Why the system refused, in its own words."""
    return (getattr(refused, "strerror", None) or str(refused)).lower()
