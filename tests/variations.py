"""Takes each demo project and changes one thing at a time: a key, a list or a file left out, a list emptied, an item alone or twice, a choice or a
decision turned, a count set anew, an id renamed, names or notes left out. Each must give faults with their place, or a sound book in which nothing came
to hold because something was taken away, and in which other names changed no number and no verdict.

Slow as a whole, so it is run by hand: `python tests/variations.py [--pages] [--sample COUNT SEED] [--part 1/2] [--only WORDS] [slug ...]`.
`tests/test_variations.py` runs a part of it.
"""

from __future__ import annotations

import argparse
import copy
import hashlib
import json
import math
import random
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
from basis.language.faults import Faults  # noqa: E402
from basis.language.table import families  # noqa: E402
from basis.language.terms import lists_by_key, terms  # noqa: E402
from basis.reading.project import read  # noqa: E402
from basis.solving.solve import solve  # noqa: E402
from basis.terminal.checks import Checked, check_record, told_of  # noqa: E402

READ = {"p", "li", "h1", "h2", "h3", "h4", "td", "th", "caption", "figcaption", "dt", "dd", "summary"}  # elements whose text is read on a page
POOR, GOOD = ("fails", "undecided", "nothing to check"), ("holds", "tight")
ODD_TEXT = re.compile(r"\bnan\b|\{\{|\(\s*\)|\.\s\.|,\s*[.,;]|\s[.,;](?=\s|$)|: \.|\binf\b")  # what a sentence shows when a part of it is missing

# A plant without the one is another plant, of which the other is true.
TRUE_OF_ANOTHER = {
    "silencers": "noise_low_frequency",  # without them the upper octaves are louder by far and the lower stand out less; the limit then fails
    "air_elements": "noise_low_frequency",  # the same
    "cable_current_margin": "cable_capacity_ok",  # the margin that the project gives for all its circuits is then that of this one
    "feeders": "breaker_making",  # a ring whose link is not there carries less; a board that nothing reaches any more is a fault
}


@dataclass(frozen=True)
class Variation:
    """One change of a project: what it is, how it is made in a copy of the text (file -> data), and whether it only takes something away.

    `default`: a default, or a formula, then stands in; a verdict that it turns must rest on a default on which it did not rest, and say so by its mark.
    `back`: new id -> old id; given, where other words only are written, so that every number and verdict must stay as it was.
    """

    name: str
    change: Callable[[dict], None]
    takes: bool
    default: bool = False
    back: dict | None = None


def chance_of_tree(name: str) -> random.Random:
    """Chance for a test of this name: the same for the same tree of files, another for another."""
    tree = hashlib.sha256(name.encode())
    files = [path for folder in ("basis", "templates", "projects") for path in (ROOT / folder).rglob("*.*")]
    for path in sorted(path for path in files if path.suffix in (".py", ".j2", ".yaml")):
        tree.update(path.read_bytes())
    return random.Random(tree.digest())


def text_of(folder: Path) -> dict:
    """File -> its data, with every scalar as it is written."""
    return {path.name: yaml.load(path.read_text("utf-8"), Loader=yaml.BaseLoader) for path in sorted(folder.glob("*.yaml"))}


def _written(data) -> str:
    return yaml.safe_dump(data, allow_unicode=True, sort_keys=False, width=1000) if data else "# nothing here\n"


def variations(text: dict) -> Iterator[Variation]:
    """Every variation of a project's text."""
    for file, data in text.items():
        if file != "project.yaml":
            yield Variation(f"without {file}", lambda tree, file=file: tree.pop(file), True)
        for key, value in data.items():
            yield from _of_key(file, key, value)
        yield Variation(f"{file}: without notes", lambda tree, file=file: tree.update({file: _without(tree[file], "note")}), False, back={})
        yield Variation(f"{file}: without names of items", lambda tree, file=file: _unname(tree[file]), False, back={})
    yield from _renamed(text)
    yield from _of_decisions(text)


def _of_key(file: str, key: str, value) -> Iterator[Variation]:
    yield Variation(f"{file}: without {key}", lambda tree: tree[file].pop(key), True, _has_default(key))
    if isinstance(value, list) and key not in terms():
        yield Variation(f"{file}: {key} empty", lambda tree: tree[file].update({key: []}), True)
        if key in lists_by_key():
            yield from _of_list(file, key, value)
    elif key in terms():
        yield from _turned(f"{file}: {key}", key, value, lambda tree: tree[file], key)


def _of_list(file: str, key: str, items: list) -> Iterator[Variation]:
    """Other counts of items, and what may be done to each."""
    if len(items) > 1:
        yield Variation(f"{file}: {key}, the first alone", lambda tree: tree[file].update({key: items[:1]}), False)
    yield Variation(f"{file}: {key}, the last twice", lambda tree: tree[file][key].append(items[-1] | {"id": "one_more", "name": "One more"}), False)
    for place, item in enumerate(items):
        yield from _of_item(file, key, place, item)


def _has_default(key: str) -> bool:
    return key in terms() and (terms()[key].default is not None or terms()[key].either)


def _without(node, left_out: str):
    """A tree of text without a key, wherever it stands."""
    if isinstance(node, dict):
        return {key: _without(value, left_out) for key, value in node.items() if key != left_out}
    return [_without(one, left_out) for one in node] if isinstance(node, list) else node


def _unname(data: dict) -> None:
    for key in data.keys() & lists_by_key().keys():
        for item in data[key]:
            item.pop("name", None)


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
    words = (families().get(term.table, ()) if term.table else term.choices) if term.unit == "choice" else ("0", "1", "2") if term.whole else ()
    for word in words:
        if word != written:
            yield Variation(f"{where} = {word}", lambda tree, word=word: holder(tree).update({key: word}), False)


def _renamed(text: dict) -> Iterator[Variation]:
    """Each item, decision and option under another id, with what refers to it."""
    for key in sorted({key for data in text.values() for key in data if key in lists_by_key()}):
        for item in dict.fromkeys(item["id"] for data in text.values() for item in data.get(key) or () if isinstance(item, dict) and "id" in item):
            yield Variation(f"{key}: {item} renamed", lambda tree, key=key, item=item: _rename(tree, lists_by_key()[key].axis, item), False,
                            back={f"{item}_x": item})


def _of_decisions(text: dict) -> Iterator[Variation]:
    """Each decision and its options under other ids, each option chosen, and what each option gives left out."""
    for file, data in text.items():
        for place, decision in enumerate(data.get("decisions") or ()):
            def this(tree, file=file, place=place):
                return tree[file]["decisions"][place]
            where, options = f"{file}: decision {decision['id']}", [option["id"] for option in decision["options"]]
            yield Variation(f"{where} renamed", lambda tree, this=this: this(tree).update({"id": "another_choice"}), False,
                            back={"another_choice": decision["id"]})
            yield Variation(f"{where}, options renamed", lambda tree, this=this: _rename_options(this(tree)), False,
                            back={f"{one}_x": one for one in options})
            for option in options:
                if option != decision["chosen"]:
                    yield Variation(f"{where}, {option} chosen", lambda tree, this=this, option=option: this(tree).update({"chosen": option}), False)
            yield from _of_options(where, decision, this)


def _of_options(where: str, decision: dict, this: Callable) -> Iterator[Variation]:
    """What the chosen option gives left out, and its lists emptied; another option is read, but its book is not made here."""
    place = [option["id"] for option in decision["options"]].index(decision["chosen"])
    for key, value in (decision["options"][place].get("with") or {}).items():
        def given(tree):
            return this(tree)["options"][place]["with"]
        yield Variation(f"{where}, chosen without {key}", lambda tree, key=key, given=given: given(tree).pop(key), True, _has_default(key))
        if isinstance(value, list) and key not in terms():
            yield Variation(f"{where}, chosen with {key} empty", lambda tree, key=key, given=given: given(tree).update({key: []}), True)
        elif key in terms():
            yield from _turned(f"{where}, chosen with {key}", key, value, given, key)


def _rename(node, axis: str, old: str) -> None:
    for holder in [node] if isinstance(node, dict) else node if isinstance(node, list) else []:
        for key, value in holder.items() if isinstance(holder, dict) else ():
            term = terms().get(key)
            if term is not None and term.unit == "reference" and term.refers_to == axis:
                _rename_reference(holder, key, old)
            elif key in lists_by_key() and lists_by_key()[key].axis == axis:
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
        self.written = {file: _written(data) for file, data in self.text.items()}
        self.book = book = basis.load(folder)
        self.before, self.outcome = {verdict.check.id: verdict.word for verdict in book.checks}, outcome_of(book, {})

    def book_of(self, variation: Variation):
        """The book of a variation. Raises Faults."""
        copied = self.aside / "projects" / self.folder.name
        shutil.copytree(ROOT / "equipment", self.aside / "equipment", dirs_exist_ok=True)
        shutil.rmtree(copied, ignore_errors=True)
        shutil.copytree(self.folder, copied, ignore=shutil.ignore_patterns("*.yaml"))
        tree = copy.deepcopy(self.text)
        variation.change(tree)
        for file, data in tree.items():
            (copied / file).write_text(self.written[file] if data == self.text[file] else _written(data), encoding="utf-8")
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
        wrong = [*_numbers_wrong(book), *(self._passed(book, variation) if variation.takes else ())]
        wrong += self._moved(book, variation.back) if variation.back is not None else ()
        return wrong + (_pages_wrong(book, pages) if pages else [])

    def _passed(self, book, variation: Variation) -> list[str]:
        excused = {check for key, check in TRUE_OF_ANOTHER.items() if key in variation.name.split()}
        return [f"{verdict.check.id} {self.before[verdict.check.id]} before, {verdict.word} now" for verdict in book.checks
                if verdict.word in GOOD and self.before.get(verdict.check.id) in POOR and verdict.check.id not in excused
                and not (variation.default and "default" in verdict.marks and defaults_under(book, verdict.check) - defaults_under(self.book, verdict.check))]

    def _moved(self, book, back: dict) -> list[str]:
        now = outcome_of(book, back)
        return [f"{key} was {self.outcome.get(key)}, now {now.get(key)}" for key in sorted(self.outcome.keys() | now.keys())
                if self.outcome.get(key) != now.get(key)]


def defaults_under(book, check) -> set[tuple[str, str]]:
    """What stands in by default under the value, the limit and the choices of a check: (Term id, id of the item or nothing).

    Where some items of a value are given and the rest computed, what is computed does not count for those given.
    """
    found, seen, waiting = set(), set(), [(name, frozenset()) for name in (check.value, check.limit, *dict(check.applies))]
    while waiting:
        name, beside = waiting.pop()
        value = book.values.get(name)
        if value is None or (name, beside) in seen:
            continue
        seen.add((name, beside))
        axes, needless = value.term.own_axes, beside | set(value.givens if value.inputs else ())
        waiting += [(used, needless if axes[:1] == book.values[used].term.own_axes[:1] else frozenset()) for used in value.inputs if used in book.values]
        if value.origin in ("default", "given") and value.term.default is not None:
            found |= {(name, item) for item in (value.items[0] if axes else ("",)) if item not in value.givens and item not in beside}
    return found


def outcome_of(book, back: dict) -> dict:
    """All values and verdicts of a book in words, under the old ids."""
    def old(text: str) -> str:
        for new, was in back.items():
            text = re.sub(rf"\b{re.escape(new)}\b", was, text)
        return text
    found = {value.id: old(f"{np.asarray(value.number).tolist()}, {sorted(value.marks)}") for value in book.values.values()}
    return found | {verdict.check.id: old(f"{verdict.word}, {verdict.margin}, {verdict.element}, {verdict.missing}, {verdict.marks}, {verdict.unlisted}")
                    for verdict in (*book.checks, *book.self_tests)}


def _numbers_wrong(book) -> list[str]:
    found = [f"{value.id} is NaN and not told as missing" for value in book.values.values()
             if not value.axes and isinstance(value.number, float) and math.isnan(value.number) and not value.term.absent]
    found += [f"{value.id} is infinite" for value in book.values.values() if not value.term.is_text and np.any(np.isinf(np.asarray(value.number, dtype=float)))]
    try:
        json.dumps(check_record(Checked([told_of(book)], [])), allow_nan=False)
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
    from page_tree import read

    from basis.site import pages
    from basis.site.addresses import Workshop
    from basis.site.render import template_folders

    ready = pages.layouts(template_folders(ROOT / "projects"))
    def texts(book) -> dict[str, str]:
        made = pages.of_book(book, ready, Workshop())
        return {address: "\n".join(part.text for part in read(page.body) if part.tag in READ) for address, page in made.pages.items()}
    return texts


def main(arguments: list[str]) -> int:
    """Print what is wrong and count it."""
    asked = _asked(arguments)
    slugs = asked.slugs or sorted(path.name for path in (ROOT / "projects").iterdir() if path.is_dir())
    pages, tried, bad = page_texts() if asked.pages else None, 0, 0
    part, parts = map(int, asked.part.split("/"))
    with tempfile.TemporaryDirectory() as aside:
        for slug in slugs:
            trial = Trial(ROOT / "projects" / slug, Path(aside))
            every = [one for one in variations(trial.text) if not asked.only or any(words in one.name for words in asked.only)]
            drawn = random.Random(asked.sample[1]).sample(every, min(asked.sample[0], len(every))) if asked.sample else every
            for variation in drawn[part - 1::parts]:
                tried += 1
                wrong = trial.wrong_with(variation, pages)
                bad += bool(wrong)
                for line in wrong:
                    print(f"{slug}, {variation.name}: {line}", flush=True)
    print(f"{bad} of {tried} variations have an outcome that is not allowed")
    return 1 if bad else 0


def _asked(arguments: list[str]) -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("slugs", nargs="*")
    parser.add_argument("--pages", action="store_true", help="make the pages too, and read them")
    parser.add_argument("--sample", nargs=2, type=int, metavar=("COUNT", "SEED"), help="so many of each project, drawn")
    parser.add_argument("--part", default="1/1", help="the first of two parts: 1/2")
    parser.add_argument("--only", action="append", metavar="WORDS", help="those with these words in their name, such as voltage.yaml; may be repeated")
    return parser.parse_args(arguments)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
