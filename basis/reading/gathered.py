"""What has been gathered so far while the folder of one project is read."""

from __future__ import annotations

from dataclasses import dataclass, field

from basis.reading.equipment import Shelf
from basis.reading.folder import Folder
from basis.reading.register import REGISTERS
from basis.reading.yaml_nodes import Node


@dataclass
class Scope:
    """Where keys are gathered: the project as a whole, or one option."""

    givens: dict = field(default_factory=dict)
    items: dict = field(default_factory=dict)  # axis -> one list of ids for each file that has them
    names: dict = field(default_factory=dict)  # axis -> id -> name as given
    places: dict = field(default_factory=dict)  # what may stand once -> its node
    option: bool = False


@dataclass
class Reading:
    """What has been gathered so far while one folder is read."""

    folder: Folder
    shelf: Shelf
    faults: list = field(default_factory=list)
    whole: Scope = field(default_factory=Scope)
    remarks: dict = field(default_factory=dict)
    decisions: list = field(default_factory=list)
    registers: dict = field(default_factory=lambda: {name: [] for name in REGISTERS})
    trials: list = field(default_factory=list)
    options: list = field(default_factory=list)  # scopes
    plain: dict = field(default_factory=dict)
    item_places: dict = field(default_factory=dict)
    allowed: dict = field(default_factory=dict)  # axis -> terms that may be given there
    uses: list = field(default_factory=list)  # (scope, axis, item, entry of `use`)
    unread: bool = False  # whether a file, or an item of a list, could not be taken in: what refers to it is not at fault

    def overrides(self, scope: Scope, key, node: Node) -> bool:
        """Whether the project itself says what a data sheet says too."""
        first = scope.places.get(key)
        return first is not None and self.shelf.of(node) is not None and self.shelf.of(first) is None

    def once(self, scope: Scope, key, node: Node, what: str) -> bool:
        """Whether it stands for the first time; a fault, with the place of the first, when not."""
        first = scope.places.setdefault(key, node)
        if first is not node:
            node.fault(self.faults, f"{what} is given twice", "one place", f"{first.file}:{first.line}")
        return first is node
