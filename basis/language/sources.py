"""Source: where a formula, constant, table or limit is from, and how it is known. Reads sources.yaml of this room, of the first guesses and of each chapter."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

import yaml

from basis.language import user_cache

KINDS = ("standard", "manual", "handbook", "paper", "law", "common practice", "project decision", "physics")
HOW_KNOWN = {
    "read": "Somebody here has read the text itself.",
    "read in a reproduction": "The value was seen where somebody else reproduces the text.",
    "derived": "It follows from physics or from the definition of the quantity.",
    "from memory": "Nobody here has read the text.",
    "not applicable": "There is no text to read, such as of what is common practice or the project's own decision.",
}
HERE = Path(__file__).parent


@dataclass(frozen=True)
class Source:
    """A citation. `how_known` says whether anybody read the text; readers see it wherever the number is shown."""

    id: str
    kind: str
    title: str
    edition: str = ""
    clause: str = ""
    how_known: str = "from memory"
    note: str = ""

    @property
    def citation(self) -> str:
        """Title, edition and clause in one line."""
        return ", ".join(part for part in (self.title, self.edition, self.clause) if part)

    @property
    def mark(self) -> str:
        """The short word that travels with every number that rests on this source; empty for a source that was read."""
        if self.how_known == "from memory":
            return "from memory"
        return "common practice" if self.kind == "common practice" else ""


@lru_cache(maxsize=1)
def sources() -> dict[str, Source]:
    """All sources by id. Raises ValueError for a double id or an unknown kind or standing."""
    return {facts["id"]: Source(**facts) for facts in user_cache.of_program("sources", lambda: [vars(one) for one in _read().values()])}


def _read() -> dict[str, Source]:
    found: dict[str, Source] = {}
    for path in (HERE / "sources.yaml", HERE.parent / "guessing/sources.yaml", *sorted(HERE.parent.glob("chapters/*/sources.yaml"))):
        entries = yaml.load(path.read_text("utf-8"), Loader=getattr(yaml, "CSafeLoader", yaml.SafeLoader)) or {}
        for source_id, facts in entries.items():
            source = Source(id=source_id, **{key: str(value) for key, value in facts.items()})
            if source_id in found or source.kind not in KINDS or source.how_known not in HOW_KNOWN:
                raise ValueError(f"{path.name}: source '{source_id}' is double, or of unknown kind '{source.kind}' or standing '{source.how_known}'")
            found[source_id] = source
    return found
