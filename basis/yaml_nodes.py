"""One YAML file as nodes that know their line, or faults. Refuses what no project needs: aliases, tags, deep nesting.

Values stay text: what a scalar means is decided by the Term it belongs to, so `no`, `12:30` and `010` keep their letters.
May import faults only.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import yaml

from basis.faults import Fault

MAX_BYTES = 2_000_000
MAX_DEPTH = 12
_Loader = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


@dataclass(frozen=True)
class Node:
    """A scalar, mapping or sequence with its place. `data` is text, pairs of (key, Node), or Nodes."""

    kind: str
    data: object
    file: str
    line: int

    @property
    def pairs(self) -> tuple:
        """Pairs of a mapping."""
        return self.data

    def mapping(self, faults: list) -> tuple:
        """Pairs of (key, Node); a fault and nothing when it is no mapping."""
        return self._as("mapping", "keys with values, such as `id: north_1`", faults) or ()

    def sequence(self, faults: list) -> tuple:
        """Nodes of a list; a fault and nothing when it is no list."""
        return self._as("sequence", "a list, each entry beginning with `-`", faults) or ()

    def text(self, faults: list) -> str | None:
        """The scalar's text; a fault and None when it is no scalar."""
        return self._as("scalar", "one value", faults)

    def _as(self, kind: str, expected: str, faults: list):
        if self.kind == kind:
            return self.data
        faults.append(Fault(self.file, self.line, f"a {self.kind} stands here", expected))
        return None


def read_nodes(path: Path, shown: str, faults: list) -> Node | None:
    """The top mapping of the file, or None after adding its faults."""
    text = _text_of(path, shown, faults)
    if text is None:
        return None
    try:
        if not _refused(text, shown, faults):
            root = yaml.compose(text, Loader=_Loader)
            if root is None:
                faults.append(Fault(shown, 1, "the file is empty", "keys with values"))
            elif not isinstance(root, yaml.MappingNode):
                faults.append(Fault(shown, root.start_mark.line + 1, "the file is not a mapping", "keys with values, such as `altitude: 60 m`"))
            else:
                return _node(root, shown, faults)
    except yaml.MarkedYAMLError as trouble:
        faults.append(_syntax_fault(trouble, text, shown))
    except yaml.reader.ReaderError as trouble:
        line = text.count("\n", 0, trouble.position) + 1
        faults.append(Fault(shown, line, f"a character that YAML does not allow (number {trouble.character})", "plain text"))
    return None


def _text_of(path: Path, shown: str, faults: list) -> str | None:
    size = path.stat().st_size
    if size > MAX_BYTES:
        faults.append(Fault(shown, 0, f"is {size / 1e6:.1f} MB", f"at most {MAX_BYTES / 1e6:.0f} MB of project text"))
        return None
    raw = path.read_bytes()
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as trouble:
        faults.append(Fault(shown, raw.count(b"\n", 0, trouble.start) + 1, "is not UTF-8 text", "the file saved as UTF-8"))
        return None


def _refused(text: str, shown: str, faults: list) -> bool:
    """Whether the stream of events holds something that is not accepted; found without building anything."""
    depth = documents = 0
    for event in yaml.parse(text, Loader=_Loader):
        line = event.start_mark.line + 1
        depth += isinstance(event, yaml.CollectionStartEvent) - isinstance(event, yaml.CollectionEndEvent)
        documents += isinstance(event, yaml.DocumentStartEvent)
        if isinstance(event, yaml.AliasEvent) or getattr(event, "anchor", None):
            faults.append(Fault(shown, line, f"anchor or alias '{event.anchor}'", "the values written out"))
            return True
        if getattr(event, "tag", None) not in (None, "!"):
            faults.append(Fault(shown, line, f"tag '{event.tag}'", "plain text, numbers with units, lists and keys"))
            return True
        if depth > MAX_DEPTH or documents > 1:
            what = f"nesting deeper than {MAX_DEPTH}" if depth > MAX_DEPTH else "a second document"
            faults.append(Fault(shown, line, what, "keys and lists of items"))
            return True
    return False


def _syntax_fault(trouble: yaml.MarkedYAMLError, text: str, shown: str) -> Fault:
    lines = text.splitlines()
    marks = [mark.line + 1 for mark in (trouble.problem_mark, trouble.context_mark) if mark]
    line = next((line for line in marks if line <= len(lines)), 0)  # at the end of the text, where it began says more
    if 0 < line <= len(lines) and "\t" in lines[line - 1][: len(lines[line - 1]) - len(lines[line - 1].lstrip())]:
        return Fault(shown, line, "a tab in the indentation", "spaces")
    return Fault(shown, line, f"YAML cannot be read: {trouble.problem}", "`key: value` lines; quote a text that holds `: ` or `#`")


def _node(node, shown: str, faults: list, line: int = 0) -> Node:
    """The node with the line of its key, so that a fault points at the word that a person searches for."""
    line = line or node.start_mark.line + 1
    if isinstance(node, yaml.ScalarNode):
        return Node("scalar", node.value, shown, line)
    if isinstance(node, yaml.SequenceNode):
        return Node("sequence", tuple(_node(entry, shown, faults) for entry in node.value), shown, line)
    pairs: dict[str, Node] = {}
    for key_node, value in node.value:
        key_line = key_node.start_mark.line + 1
        key = key_node.value if isinstance(key_node, yaml.ScalarNode) else "?"
        if key in pairs:
            faults.append(Fault(shown, key_line, f"key '{key}' stands twice", "one place", f"line {pairs[key].line}"))
            continue
        pairs[key] = _node(value, shown, faults, key_line)
    return Node("mapping", tuple(pairs.items()), shown, line)
