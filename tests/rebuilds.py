"""Saves random edits of a project one after another, rebuilds after each as `serve` does, and compares every page and file with a whole build.

`python tests/rebuilds.py [--edits 100] [--seed 1] [--chapters plant,loads] [slug ...]`; `tests/site/test_rebuild.py` runs a small one.
"""

from __future__ import annotations

import argparse
import copy
import os
import random
import sys
import tempfile
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

ROOT = Path(__file__).parent.parent
sys.path[:0] = [str(ROOT), str(ROOT / "tests")]

import yaml  # noqa: E402
from demos import demo_copy  # noqa: E402
from variations import Variation, _written, text_of, variations  # noqa: E402

import basis  # noqa: E402
from basis.chapters import catalogue  # noqa: E402
from basis.language.terms import lists_by_key, terms  # noqa: E402
from basis.language.user_cache import OFF  # noqa: E402
from basis.record.issuing import issue  # noqa: E402
from basis.site.build_cache import BuildCache, Site  # noqa: E402
from basis.site.read_tracker import fingerprint  # noqa: E402
from basis.site.render import OWN  # noqa: E402


class Desk:
    """A project of one folder, with templates of its own, that somebody edits; and the cache of who serves it."""

    def __init__(self, slug: str, aside: Path, chapters: tuple[str, ...] = (), accompanied: bool = True):
        self.folder, self.templates = aside / "projects" / slug, aside / "templates"
        demo_copy(slug, self.folder)
        self.templates.mkdir()
        self.text = text_of(self.folder)
        if chapters:
            self.text["project.yaml"]["chapters"] = list(chapters)
        self.save(self.text)
        book = basis.load(self.folder)
        issue(book, book["revision"].number, "2026-03-02", "before all edits")  # so that every edit brings marks
        self.cache = BuildCache(keep=True, accompanied=accompanied)
        self.rebuilt()

    def save(self, text: dict) -> None:
        """Write the project's files."""
        for path in self.folder.glob("*.yaml"):
            path.unlink()
        for file, data in text.items():
            (self.folder / file).write_text(data if isinstance(data, str) else _written(data), "utf-8")

    def rebuilt(self) -> Site:
        """The site as `serve` makes it after a save."""
        return self.cache.make(self.folder.parent, (self.templates, OWN))

    def whole(self) -> Site:
        """The site as a new build makes it that takes nothing from earlier ones."""
        os.environ[OFF] = "1"
        try:
            return BuildCache().make(self.folder.parent, (self.templates, OWN))
        finally:
            del os.environ[OFF]

    def tried(self, edit: Variation) -> list[str]:
        """What differs after an edit between a rebuild and a whole build; an edit that brings faults is taken back."""
        text = copy.deepcopy(self.text)
        edit.change(text)
        self.save(text)
        rebuilt, whole = self.rebuilt(), self.whole()
        if rebuilt.faults or whole.faults:
            self.save(self.text)
            return [] if set(rebuilt.faults) == set(whole.faults) else [f"faults: {rebuilt.faults} and {whole.faults}"]
        self.text = text
        kept, anew = self.cache.kept[self.folder.name].solution.book, basis.load(self.folder)
        return differing(rebuilt.pages, whole.pages) + differing(rebuilt.files, whole.files) + unlike(kept, anew)

    def edit_template(self, chance: random.Random) -> None:
        """Add a sentence to the text of a chapter."""
        name = chance.choice(sorted(path.name for path in OWN.glob("*.md.j2") if path.stem.removesuffix(".md") in {one.id for one in catalogue().chapters}))
        place = self.templates / name
        place.write_text((place if place.exists() else OWN / name).read_text("utf-8") + f"\nSentence {chance.random()}.\n", "utf-8")


def unlike(one, other, where: str = "") -> list[str]:
    """What two books, and the books of their options, do not have in common."""
    wrong = [f"{where}{name}: {one.values[name].number} and {other.values[name].number}" for name in one.values
             if name in other and one.values[name].digest != other.values[name].digest]
    wrong += [f"{where}{part}" for part in ("home", "undecided", "items", "names") if getattr(one, part) != getattr(other, part)]
    wrong += [f"{where}order of values"] if list(one.values) != list(other.values) else []
    wrong += [f"{where}{a.check.id}" for a, b in zip((*one.checks, *one.self_tests), (*other.checks, *other.self_tests)) if fingerprint(a) != fingerprint(b)]
    for key, book in one.options.items():
        wrong += unlike(replace(book, options={}), replace(other.options[key], options={}), f"{key}: ")
    return wrong


def differing(one: dict, other: dict) -> list[str]:
    """Addresses of what is not the same."""
    return [f"{address}: {_first_difference(str(one.get(address)), str(other.get(address)))}" for address in sorted(one.keys() | other.keys())
            if one.get(address) != other.get(address)]


def _first_difference(one: str, other: str) -> str:
    place = next((place for place, (a, b) in enumerate(zip(one, other)) if a != b), min(len(one), len(other)))
    return f"{one[max(0, place - 60):place + 60]!r} where a whole build has {other[max(0, place - 60):place + 60]!r}"


def edits(text: dict, chance: random.Random) -> Iterator[Variation]:
    """One edit of each sort, in an order of chance, for a project as it stands."""
    every = list(variations(text))
    sorts = [_number, _number, _number, _word("note"), _word("name"), _word("reason"), _word("gives_up"), _word("standing"), _word("text"), _word("evidence"),
             _word("answer"), _answered, _order, _currency, _remark, _lines, *[lambda text, chance: chance.choice(every)] * 4]
    chance.shuffle(sorts)
    for sort in sorts:
        if (found := sort(text, chance)) is not None:
            yield found


def _holders(node) -> Iterator[dict]:
    """Every mapping of a tree."""
    if isinstance(node, dict):
        yield node
        for one in node.values():
            yield from _holders(one)
    elif isinstance(node, list):
        for one in node:
            yield from _holders(one)


def _changed(name: str, text: dict, chance: random.Random, places: Callable, change: Callable) -> Variation | None:
    """A change of one of the places that a tree has; the same place is found again in its copy."""
    count = len(places(text))
    if not count:
        return None
    place = chance.randrange(count)
    return Variation(f"{name} {place}", lambda tree: change(*places(tree)[place]), False)


def _number(text: dict, chance: random.Random) -> Variation | None:
    """A number a little larger."""
    def places(tree):
        return [(holder, key) for holder in _holders(tree) for key, value in holder.items()
                if isinstance(value, str) and value[:1].isdigit() and (key in terms() or key == "value") and value.split()[0].replace(".", "", 1).isdigit()]

    def change(holder, key):
        number, *unit = holder[key].split(maxsplit=1)
        holder[key] = " ".join([f"{float(number) * 1.01:.6g}" if "." in number or unit else str(int(number) + 1), *unit])
    return _changed("a number", text, chance, places, change)


def _word(key: str) -> Callable:
    def edit(text: dict, chance: random.Random) -> Variation | None:
        def places(tree):
            return [(holder,) for holder in _holders(tree) if isinstance(holder.get(key), str)]

        def change(holder):
            holder[key] = ("stated" if holder[key] == "assumed" else "assumed") if key == "standing" else f"{holder[key]} anew"
        return _changed(key, text, chance, places, change)
    return edit


def _answered(text: dict, chance: random.Random) -> Variation | None:
    """An open question is answered, or an answered one open again."""
    def places(tree):
        return [(holder,) for holder in _holders(tree) if holder.get("state") in ("open", "answered")]

    def change(question):
        if question["state"] == "open":
            question.update({"state": "answered", "answer": "So it is."})
        else:
            question.pop("answer")
            question["state"] = "open"
    return _changed("an answer", text, chance, places, change)


def _order(text: dict, chance: random.Random) -> Variation | None:
    """Two items of a list change places."""
    def places(tree):
        return [(holder[key],) for holder in _holders(tree) for key in holder
                if key in lists_by_key() and isinstance(holder[key], list) and len(holder[key]) > 1]

    def change(items):
        items[0], items[-1] = items[-1], items[0]
    return _changed("order", text, chance, places, change)


def _currency(text: dict, chance: random.Random) -> Variation:
    def change(tree):
        for file, data in tree.items():
            written = data if isinstance(data, str) else _written(data)
            new = "NOK" if "EUR" in written else "EUR"
            tree[file] = written.replace("EUR", new).replace("USD", new).replace("GBP", new)
    return Variation("currency", change, False)


def _remark(text: dict, chance: random.Random) -> Variation:
    check = chance.choice(sorted(check.id for checks in catalogue().checks.values() for check in checks if not check.order))
    return Variation(f"remark on {check}", lambda tree: tree["project.yaml"].setdefault("remarks", {}).update({check: f"Said {chance.random()}."}), False)


def _lines(text: dict, chance: random.Random) -> Variation:
    """All lines of a file move down."""
    file = chance.choice(sorted(text))
    return Variation(f"a line before {file}", lambda tree: tree.update({file: "# moved\n" + _written(tree[file])}), False)


def run(desk: Desk, count: int, chance: random.Random) -> list[str]:
    """What went wrong in `count` edits, in words."""
    wrong, done = [], 0
    while done < count:
        desk.text = {file: yaml.load(data, Loader=yaml.BaseLoader) if isinstance(data, str) else data for file, data in desk.text.items()}
        edit = next(edits(desk.text, chance))
        if chance.random() < 0.06:
            desk.edit_template(chance)
        wrong += [f"{edit.name}: {one}" for one in desk.tried(edit)]
        done += 1
    desk.cache.end()
    return wrong


def main() -> int:
    """Print what differs."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("slugs", nargs="*", default=["larkmere-hospital"])
    asked.add_argument("--edits", type=int, default=100)
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--chapters", default="")
    args = asked.parse_args()
    wrong = []
    for slug in args.slugs:
        with tempfile.TemporaryDirectory() as aside:
            wrong += run(Desk(slug, Path(aside), tuple(filter(None, args.chapters.split(",")))), args.edits, random.Random(args.seed))
    print("\n".join(wrong) or f"{args.edits} edits of {', '.join(args.slugs)}: every rebuild is as a whole build")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
