"""Makers' data sheets, typed once: `equipment/<name>.yaml` beside the folder of the projects. A project, an option or an item that uses one has its values
where it gives none itself.
"""

from __future__ import annotations

import posixpath
from dataclasses import dataclass, field
from pathlib import Path

from basis.language.faults import nearest_name
from basis.language.terms import lists_by_key, terms
from basis.reading import schema
from basis.reading.folder import EQUIPMENT, REFUSED, Folder, sheets_beside
from basis.reading.schema import read_fields
from basis.reading.yaml_nodes import Node, read_nodes


@dataclass(frozen=True)
class Sheet:
    """A data sheet: its file, the same as shown, and its keys. `source`: the document that it was typed from."""

    path: Path
    shown: str
    source: str
    keys: dict[str, Node]


@dataclass
class Shelf:
    """The data sheets that one project uses, each read once."""

    folder: Folder
    sheets: dict[str, Sheet | None] = field(default_factory=dict)  # by name; None: cannot be read

    def sheet(self, named: Node, faults: list) -> Sheet | None:
        """The sheet that an entry of `use` names, or None after adding what is wrong."""
        name = named.text(faults)
        if name is None:
            return None
        if name not in self.sheets:
            self.sheets[name] = self._read(name, named, faults)
        return self.sheets[name]

    @property
    def read(self) -> tuple[Sheet, ...]:
        """Those that could be read."""
        return tuple(sheet for sheet in self.sheets.values() if sheet)

    def of(self, node: Node) -> Sheet | None:
        """The sheet in which a node stands; None in the project's own text."""
        return next((sheet for sheet in self.read if sheet.shown == node.file), None)

    def _read(self, name: str, named: Node, faults: list) -> Sheet | None:
        known = self._names()
        if name not in known:
            expected = f"one of {', '.join(known)}" if known else f"a file in the folder {EQUIPMENT} beside that of the projects"
            named.fault(faults, f"no data sheet '{name}'", expected, nearest_name(name, known))
            return None
        path = sheets_beside(self.folder.path) / f"{name}.yaml"
        shown = posixpath.normpath(self.folder.show(f"../../{EQUIPMENT}/{path.name}"))
        root = read_nodes(path, shown, faults)
        if root is None:
            return None
        keys = read_fields(schema.EQUIPMENT.called(f"data sheet '{name}'"), root, faults)
        for key in [key for key in keys if key not in schema.EQUIPMENT.by_key and key not in terms() and key not in lists_by_key()]:
            keys.pop(key).fault(faults, f"unknown key '{key}'", "a term or a list of items", nearest_name(key, (*terms(), *lists_by_key())))
        source = keys["source"].data if "source" in keys else ""
        return Sheet(path, shown, source, {key: node for key, node in keys.items() if key not in schema.EQUIPMENT.by_key})

    def _names(self) -> list[str]:
        try:
            return [path.stem for path in sheet_files(self.folder.path) if path.is_file()]
        except REFUSED:
            return []


def sheet_files(folder: Path) -> list[Path]:
    """Every data sheet that a project in this folder may use, in order of name."""
    return sorted(sheets_beside(folder).glob("*.yaml"))
