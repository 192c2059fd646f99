"""Damages the text of a demo project as people and editors do, one wound a tree, and says what came of it.

    python tests/damage.py [COUNT] [SEED] [SLUG]

Allowed are Faults, each with a file of the project, and a book. Anything else is printed with its wound, and the exit code is 1. A tree that
showed a trace once stays in the corpus of test_damage.py.
"""

import json
import random
import re
import sys
import tempfile
import traceback
from pathlib import Path

from demos import demo_copy

import basis
from basis.language.faults import Faults
from basis.terminal.checks import Checked, check_record, told_of

ROOT = Path(__file__).parent.parent
LINE = re.compile(r"(?P<head> *(?:- )?(?:\{id: \w+, )?)(?P<key>[\w]+): (?P<value>[^\n#]+)")
QUANTITY = re.compile(r"(?P<number>-?\d+(?:\.\d+)?) ?(?P<unit>[A-Za-z%][\w%/^*()²³·]*)?")
ODD_VALUES = ("", "[]", "{}", "~", "nan", "-.inf", "''", "yes", "[1, 2]", "{value: }", "{value: [], unit: m}", "{a: {b: c}}", "[[1], [2]]", "9" * 400,
              "3 m^", "3 km^400", "3 " + "(" * 400, "1,5 m", "−5 degC", "0", "-1", "1e308", "1e-300", "5 %", "45 deg", "3 dB", "2.5", "| \n  a\n  b", "&a x",
              "*a", "!!python/name:os.system", "@x", "{value: 180 kW, unit: hp}", "{value: 1, plus_minus: 10 %}", "{value: 1 m, plus_minus: -3}",
              "{file: /etc/passwd}", '"a\\0b"', "x" * 5000, "a: b: c")
FACTORS = (0, -1, 1e-9, 1e-3, 1.7, 1e3, 1e9)
ODD_IDS = ("[a]", "{a: b}", "", "é", "A b", "../x", "x" * 100, "1.5", "none")
KEYS = ("id", "name", "remarks", "chapters", "decisions", "currency", "installed_sets", "altitude", "loads", "x", "<<", "?", "bands", "value")


def wounds(files: dict[str, str], chance: random.Random) -> dict[str, str | None]:
    """File -> its damaged text, or None where it is gone."""
    name = chance.choice(sorted(files))
    lines = files[name].splitlines()
    wound = chance.choice((_value, _value, _scaled, _scaled, _scaled, _key, _line, _line, _file, _id, _flow, _bytes))
    return {name: wound(lines, chance)}


def _places(lines: list[str]) -> list[int]:
    return [at for at, line in enumerate(lines) if LINE.match(line)]


def _value(lines, chance):
    at = chance.choice(_places(lines) or [0])
    return "\n".join([*lines[:at], LINE.sub(lambda found: f"{found['head']}{found['key']}: {chance.choice(ODD_VALUES)}", lines[at], count=1), *lines[at + 1:]])


def _scaled(lines, chance):
    """One quantity of the text times a factor, its unit kept."""
    text = "\n".join(lines)
    found = [one for one in QUANTITY.finditer(text) if one["unit"]]
    if not found:
        return text
    one = chance.choice(found)
    return text[:one.start("number")] + f"{float(one['number']) * chance.choice(FACTORS):g}" + text[one.end("number"):]


def _key(lines, chance):
    at = chance.choice(_places(lines) or [0])
    odd = chance.choice((*KEYS, "k" * 5000, *(LINE.match(lines[one])["key"] for one in _places(lines))))
    return "\n".join([*lines[:at], LINE.sub(lambda found: f"{found['head']}{odd}: {found['value']}", lines[at], count=1), *lines[at + 1:]])


def _line(lines, chance):
    """A line lost, doubled, moved in or out, or put elsewhere."""
    at, to = chance.randrange(len(lines)), chance.randrange(len(lines))
    line, rest = lines[at], [*lines[:at], *lines[at + 1:]]
    changed = chance.choice(([], [line, line], [f"  {line}"], [line[2:]], [f"- {line}"], [f"\t{line}"]))
    return "\n".join([*lines[:at], *changed, *lines[at + 1:]] if chance.random() < 0.8 else [*rest[:to], line, *rest[to:]])


def _file(lines, chance):
    text = "\n".join(lines)
    return chance.choice((None, "", text[: chance.randrange(len(text))], f"{text}\n{text}", f"- {text}", "#" + text.replace("\n", "\n#"),
                          text.replace("\n", "")))


def _id(lines, chance):
    """An id written otherwise where it stands first: what refers to it finds nothing."""
    text = "\n".join(lines)
    found = list(re.finditer(r"id: (\w+)", text))
    if not found:
        return text
    one, other = chance.choice(found), chance.choice(found)
    return text[:one.start(1)] + chance.choice((*ODD_IDS, f"{one[1]}_2", other[1])) + text[one.end(1):]


def _flow(lines, chance):
    """A bracket, brace, comma, colon or quote lost or doubled."""
    text = "\n".join(lines)
    found = [one.start() for one in re.finditer(r"[\[\]{},:\"]", text)]
    at = chance.choice(found or [0])
    return text[:at] + chance.choice(("", text[at] * 2, chance.choice("[]{},:\"'|>&*"))) + text[at + 1:]


def _bytes(lines, chance):
    text = "\n".join(lines)
    at = chance.randrange(len(text))
    return text[:at] + chance.choice(("\x00", "\x07", "\x85", "\u2028", "\ufeff", "\udcff", "\u202e", "\U0001f600", "é", "−", "\t", "\r")) + text[at + 1:]


def outcome(folder: Path) -> str:
    """Nothing when the tree is told of in words or is a book; else the trace."""
    try:
        book = basis.load(folder)
    except Faults as found:
        odd = [fault for fault in found.faults if not fault.file.startswith(folder.as_posix()) or "\n" in str(fault) or len(str(fault)) > 1500]
        str(found).encode("utf-8")
        return f"odd fault: {odd[0]!r}" if odd else ""
    except Exception:
        return traceback.format_exc()
    json.dumps(check_record(Checked([told_of(book)], [])), allow_nan=False)
    return ""


def main(count: int = 200, seed: int = 1, slug: str = "high-tarn-waterworks") -> int:
    """Damage that many trees."""
    files = {path.name: path.read_text("utf-8") for path in (ROOT / "projects" / slug).glob("*.yaml")}
    bad = 0
    with tempfile.TemporaryDirectory() as place:
        folder = demo_copy(slug, Path(place) / "projects" / slug)
        for number in range(count):
            wounded = wounds(files, random.Random(seed * 100_000 + number))
            for name, text in (files | wounded).items():
                (folder / name).unlink(missing_ok=True) if text is None else (folder / name).write_bytes(text.encode("utf-8", "surrogateescape"))
            if trouble := outcome(folder):
                bad += 1
                (name, text), = wounded.items()
                changed = [f"{name}:{at}: {line[:160]}" for at, line in enumerate((text or "").splitlines(), start=1) if line not in files[name].splitlines()]
                print(f"--- tree {number}\n" + "\n".join(changed[:4]) + f"\n{trouble[-1800:]}", flush=True)
    print(f"{bad} of {count} trees gave neither faults in words nor a book")
    return bool(bad)


if __name__ == "__main__":
    sys.exit(main(*(int(one) for one in sys.argv[1:3]), *sys.argv[3:4]))
