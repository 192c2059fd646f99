"""Takes each demo project and changes one thing at a time: a key, a list or a file left out, a list emptied, a choice turned, an id renamed, a
count set to one. Each must give faults with their place, or a sound book in which nothing came to hold because something was taken away.

Slow as a whole, so it is run by hand: `python tests/variations.py [--pages] [slug ...]`. `tests/test_variations.py` runs a part of it.
"""

from __future__ import annotations

import copy
import json
import math
import re
import shutil
import sys
import tempfile
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
import yaml

ROOT = Path(__file__).parent.parent
sys.path[:0] = [str(ROOT)]

import basis  # noqa: E402
from basis.cli import _check_record  # noqa: E402
from basis.faults import Faults  # noqa: E402
from basis.project import read  # noqa: E402
from basis.solve import solve  # noqa: E402
from basis.table import families  # noqa: E402
from basis.terms import AXES, terms  # noqa: E402

LISTS = {key: axis for axis, key in AXES.items()}
POOR, GOOD = ("fails", "undecided", "nothing to check"), ("holds", "tight")
ODD_TEXT = re.compile(r"\bnan\b|\{\{|\(\s*\)|\.\s\.|,\s*[.,;]|\s[.,;](?=\s|$)|: \.|\binf\b")  # what a sentence shows when a part of it is missing


@dataclass(frozen=True)
class Variation:
    """One change of a project: what it is, how it is made in a copy of the text (file -> data), and whether it only takes something away.

    `default`: a default then stands in; a verdict that it turns must say so by its mark.
    """

    name: str
    change: Callable[[dict], None]
    takes: bool
    default: bool = False


def text_of(folder: Path) -> dict:
    """File -> its data, with every scalar as it is written."""
    return {path.name: yaml.load(path.read_text("utf-8"), Loader=yaml.BaseLoader) for path in sorted(folder.glob("*.yaml"))}


def variations(text: dict) -> Iterator[Variation]:
    """Every variation of a project's text."""
    for file, data in text.items():
        if file != "project.yaml":
            yield Variation(f"without {file}", lambda tree, file=file: tree.pop(file), True)
        for key, value in data.items():
            yield from _of_key(file, key, value)
    yield from _renamed(text)


def _of_key(file: str, key: str, value) -> Iterator[Variation]:
    yield Variation(f"{file}: without {key}", lambda tree: tree[file].pop(key), True, _has_default(key))
    if isinstance(value, list) and key not in terms():
        yield Variation(f"{file}: {key} empty", lambda tree: tree[file].update({key: []}), True)
        for place, item in enumerate(value):
            if isinstance(item, dict) and key in LISTS:
                yield from _of_item(file, key, place, item)
    elif key in terms():
        yield from _turned(f"{file}: {key}", key, value, lambda tree: tree[file], key)


def _has_default(key: str) -> bool:
    return key in terms() and terms()[key].default is not None


def _of_item(file: str, key: str, place: int, item: dict) -> Iterator[Variation]:
    where = f"{file}: {key}[{item.get('id', place)}]"
    yield Variation(f"{where} left out", lambda tree: tree[file][key].pop(place), False)
    for inner in item:
        if inner not in ("id", "name"):
            yield Variation(f"{where} without {inner}", lambda tree, inner=inner: tree[file][key][place].pop(inner), True, _has_default(inner))
            yield from _turned(f"{where}.{inner}", inner, item[inner], lambda tree: tree[file][key][place], inner)


def _turned(where: str, term_id: str, value, holder: Callable, key: str) -> Iterator[Variation]:
    """A choice set to each of its other words, a count set to one."""
    term, written = terms().get(term_id), value.get("value") if isinstance(value, dict) else value
    if term is None:
        return
    words = (families().get(term.table, ()) if term.table else term.choices) if term.unit == "choice" else ("1",) if term.whole else ()
    for word in words:
        if word != written:
            yield Variation(f"{where} = {word}", lambda tree, word=word: holder(tree).update({key: word}), False)


def _renamed(text: dict) -> Iterator[Variation]:
    """Each item, decision and option under another id, with what refers to it."""
    for key in sorted({key for data in text.values() for key in data if key in LISTS}):
        for item in dict.fromkeys(item["id"] for data in text.values() for item in data.get(key) or () if isinstance(item, dict) and "id" in item):
            yield Variation(f"{key}: {item} renamed", lambda tree, key=key, item=item: _rename(tree, LISTS[key], item), False)
    for file, data in text.items():
        for place, decision in enumerate(data.get("decisions") or ()):
            def this(tree, file=file, place=place):
                return tree[file]["decisions"][place]
            yield Variation(f"{file}: decision {decision['id']} renamed", lambda tree, this=this: this(tree).update({"id": "another_choice"}), False)
            yield Variation(f"{file}: options of {decision['id']} renamed", lambda tree, this=this: _rename_options(this(tree)), False)


def _rename(node, axis: str, old: str) -> None:
    for holder in [node] if isinstance(node, dict) else node if isinstance(node, list) else []:
        for key, value in holder.items() if isinstance(holder, dict) else ():
            term = terms().get(key)
            if term is not None and term.unit == "reference" and term.refers_to == axis:
                _rename_reference(holder, key, old)
            elif LISTS.get(key) == axis:
                for item in value:
                    if isinstance(item, dict) and item.get("id") == old:
                        item["id"] = f"{old}_x"
            _rename(value, axis, old)


def _rename_reference(holder: dict, key: str, old: str) -> None:
    if holder[key] == old:
        holder[key] = f"{old}_x"
    elif isinstance(holder[key], dict) and holder[key].get("value") == old:
        holder[key]["value"] = f"{old}_x"


def _rename_options(decision: dict) -> None:
    for option in decision["options"]:
        if decision["chosen"] == option["id"]:
            decision["chosen"] = f"{option['id']}_x"
        option["id"] = f"{option['id']}_x"


class Trial:
    """A demo project, its book as it stands, and a folder to try variations of it in."""

    def __init__(self, folder: Path, aside: Path):
        self.folder, self.aside, self.text = folder, aside, text_of(folder)
        self.before = {verdict.check.id: verdict.word for verdict in basis.load(folder).checks}

    def book_of(self, variation: Variation):
        """The book of a variation. Raises Faults."""
        copied = self.aside / self.folder.name
        shutil.rmtree(copied, ignore_errors=True)
        shutil.copytree(self.folder, copied, ignore=shutil.ignore_patterns("*.yaml"))
        tree = copy.deepcopy(self.text)
        variation.change(tree)
        for file, data in tree.items():
            (copied / file).write_text(yaml.safe_dump(data, allow_unicode=True, sort_keys=False, width=1000) if data else "# nothing here\n", encoding="utf-8")
        project = read(copied)
        chosen = [replace(one, options=tuple(option for option in one.options if option.id == one.chosen)) for one in project.decisions]
        return solve(replace(project, decisions=tuple(chosen)))  # the other options would be solved in vain

    def wrong_with(self, variation: Variation, pages: Callable | None = None) -> list[str]:
        """What is wrong with the outcome of a variation, in words; nothing if all is well."""
        try:
            book = self.book_of(variation)
        except Faults as found:
            return [f"a fault without its place: {fault}" for fault in found.faults if not fault.file or not (fault.line or "missing" in fault.what)]
        except Exception as trouble:  # whatever it is, a person would have seen a stack trace
            return [f"{type(trouble).__name__}: {trouble}"]
        wrong = [*_numbers_wrong(book), *(self._passed(book, variation.default) if variation.takes else ())]
        return wrong + (_pages_wrong(book, pages) if pages else [])

    def _passed(self, book, default: bool) -> list[str]:
        return [f"{verdict.check.id} {self.before[verdict.check.id]} before, {verdict.word} now" for verdict in book.checks
                if verdict.word in GOOD and self.before.get(verdict.check.id) in POOR and not (default and "default" in verdict.marks)]


def _numbers_wrong(book) -> list[str]:
    found = [f"{value.id} is NaN and not told as missing" for value in book.values.values()
             if not value.axes and isinstance(value.number, float) and math.isnan(value.number) and not value.term.absent]
    found += [f"{value.id} is infinite" for value in book.values.values() if not value.term.is_text and np.any(np.isinf(np.asarray(value.number, dtype=float)))]
    try:
        json.dumps(_check_record([book], [], []), allow_nan=False)
    except ValueError as trouble:
        found.append(f"check --json: {trouble}")
    return found


def _pages_wrong(book, pages: Callable) -> list[str]:
    found = []
    for address, text in pages(book).items():
        found += [f"{address}: …{text[max(0, odd.start() - 60):odd.end() + 20]}…" for odd in ODD_TEXT.finditer(text)]
    return found


def page_texts() -> Callable:
    """A function from a Book to its pages' running texts by address; templates are read once."""
    from reading import read

    from basis.site import pages
    from basis.site.atlas import Made, Workshop
    from basis.site.render import template_folders

    ready = pages.layouts(template_folders(ROOT / "projects"))
    def texts(book) -> dict[str, str]:
        made = pages.of_book(book, ready, Workshop({}, Made()))
        return {address: " ".join(part.text for part in read(page.body).all("p")) for address, page in made.pages.items()}
    return texts


def main(arguments: list[str]) -> int:
    """Print what is wrong and count it."""
    slugs = [one for one in arguments if not one.startswith("--")] or sorted(path.name for path in (ROOT / "projects").iterdir() if path.is_dir())
    pages, tried, bad = page_texts() if "--pages" in arguments else None, 0, 0
    with tempfile.TemporaryDirectory() as aside:
        for slug in slugs:
            trial = Trial(ROOT / "projects" / slug, Path(aside))
            for variation in variations(trial.text):
                tried += 1
                wrong = trial.wrong_with(variation, pages)
                bad += bool(wrong)
                for line in wrong:
                    print(f"{slug}, {variation.name}: {line}", flush=True)
    print(f"{bad} of {tried} variations have an outcome that is not allowed")
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
