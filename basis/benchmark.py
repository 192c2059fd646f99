"""Benchmark: `python -m basis.benchmark [formulas|site|serve|all]`. Prints ratios measured in one run; never a test.

Formulas: one compiled chain against the same chain in pint quantities (case by case, and over arrays) and against NumPy
written by hand. Site: the demo projects, copied 1 to 10 times, against bare MkDocs + Material given the same content as
Markdown and as finished HTML. Serve: saved YAML to refreshed page with 3 and 30 projects.
"""

from __future__ import annotations

import gc
import re
import resource
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import numpy as np

from basis import load, units
from basis.chapters import catalogue
from basis.compiled import Step, chain, result_names
from basis.terms import terms

CHAIN = ("air_pressure", "set_rated_apparent_power", "set_rated_current", "door_force")
ROWS: list[tuple[str, str, str]] = []


def row(what: str, result: str, against: str) -> None:
    """One line of the table."""
    print(f"| {what} | {result} | {against} |", flush=True)


def best(function, repeats: int = 7, number: int = 1) -> float:
    """Shortest time of one call, in seconds."""
    found = []
    gc.disable()
    for _ in range(repeats):
        start = time.perf_counter()
        for _ in range(number):
            function()
        found.append((time.perf_counter() - start) / number)
    gc.enable()
    return min(found)


# -- formulas ---------------------------------------------------------------------------------------------------------

def cooling_chain():
    """A chain of four formulas that feed one another, its inputs, and the same in pint and in NumPy by hand."""
    producers = catalogue().producers
    ids = ("air_pressure", "air_pressure_ratio", "set_rated_apparent_power", "set_rated_current")
    steps = tuple(Step((name,), producers[name].expression) for name in ids)
    inputs = tuple(dict.fromkeys(parameter for name in ids for parameter in producers[name].parameters if parameter not in ids))
    return ids, steps, inputs


def bench_formulas() -> None:
    """Chains: plain floats against pint; arrays against NumPy by hand; samples of a whole book."""
    ids, steps, inputs = cooling_chain()
    values = {"altitude": 1600.0, "set_rated_power": 1.64e6, "set_rated_power_factor": 0.8, "generating_voltage": 11e3}
    values |= {name: float(terms()[name].default_data()) for name in inputs if name not in values}
    run = chain(steps, inputs, terms())
    one = best(lambda: run(*(values[name] for name in inputs)), number=2000)
    quantities = {name: units.quantity(values[name], terms()[name].unit) for name in inputs}
    runs = [(name, catalogue().producers[name]) for name in ids]

    def in_pint():
        have = dict(quantities)
        for name, formula in runs:
            have[name] = formula.run(*(have[parameter] for parameter in formula.parameters))
        return have
    slow = best(in_pint, number=50)
    row("chain of four formulas, one case", f"{one * 1e6:.2f} µs; {slow / one:.0f} times faster", f"pint quantities, case by case ({slow * 1e6:.0f} µs)")
    sampled = chain(steps, inputs, terms(), sampled=True)
    for cases in (1000, 1_000_000):
        _bench_arrays(cases, inputs, values, sampled, in_pint, quantities, slow)
    _bench_book()


def _bench_arrays(cases, inputs, values, sampled, in_pint, quantities, slow) -> None:
    draw = np.random.default_rng(1)
    arrays = {name: np.asarray(values[name]) for name in inputs} | {"altitude": draw.uniform(0, 3000, cases), "set_rated_power": draw.uniform(1e5, 3e6, cases)}
    number = max(1, 20_000 // cases)
    ours = best(lambda: sampled(*(arrays[name] for name in inputs)), number=number)

    def by_hand():
        a = arrays
        pressure = a["standard_air_pressure"] * (1 - a["standard_lapse_rate"] * a["altitude"] / a["standard_air_temperature"]) ** (
            a["standard_gravity"] / (a["standard_lapse_rate"] * a["standard_air_gas_constant"]))
        ratio = pressure / a["standard_air_pressure"]
        apparent = a["set_rated_power"] / a["set_rated_power_factor"]
        return pressure, ratio, apparent, apparent / (np.sqrt(3) * a["generating_voltage"])
    hand = best(by_hand, number=number)
    before = dict(quantities)
    quantities.update({name: units.quantity(arrays[name], terms()[name].unit) for name in ("altitude", "set_rated_power")})
    pint_arrays = best(in_pint, repeats=3)
    quantities.clear()
    quantities.update(before)
    row(f"same chain, {cases:,} cases", f"{ours * 1e3:.3f} ms; {ours / hand:.2f} times NumPy by hand", f"NumPy by hand ({hand * 1e3:.3f} ms)")
    row(f"same chain, {cases:,} cases", f"{pint_arrays / ours:.1f} times faster", "pint over arrays")
    row(f"same chain, {cases:,} cases", f"{slow * cases / ours:,.0f} times faster", f"pint case by case, scaled up ({slow * cases:.1f} s)")


def _bench_book(samples: int = 1_000_000, block: int = 2000) -> None:
    """A whole book sampled in blocks: ten inputs vary, every formula runs; procedures sit it out."""
    book = load(Path("projects") / "larkmere-hospital")
    steps, inputs = book.program
    solved = best(lambda: load(Path("projects") / "larkmere-hospital"), repeats=5)
    row("a whole book: read, order, run, all options", f"{solved * 1e3:.0f} ms", f"{len(book.values)} values, {len(book.options)} options")
    drawn = {name: data for name, data in inputs.items() if isinstance(data, float) and not name.startswith("number_of_") and data > 0}
    vary = sorted(name for name in drawn if not terms()[name].constant and terms()[name].kind != "temperature")[:10]
    kept = _without_procedures(steps)
    run = chain(kept, tuple(inputs), terms(), sampled=True)
    draw = np.random.default_rng(2)

    def one_block():
        arrays = {name: np.asarray(data) if isinstance(data, float) else data for name, data in inputs.items()}
        arrays |= {name: drawn[name] * draw.uniform(0.999, 1.001, block) for name in vary}
        with np.errstate(all="ignore"):
            return run(*arrays.values())
    took = best(one_block, repeats=3)
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    row(f"{samples:,} samples of a whole book, in blocks of {block:,}", f"{took * samples / block:.0f} s (scaled from a block), peak {peak:.0f} MB",
        f"{len(kept)} of {len(steps)} steps, the rest are procedures or need them")


def _without_procedures(steps):
    lost, kept = set(), []
    for step in steps:
        if step.procedure or step.merged or set(step.needs) & lost:
            lost |= set(result_names((step,)))
        else:
            kept.append(step)
    return tuple(kept)


# -- site -------------------------------------------------------------------------------------------------------------

def copies(into: Path, count: int) -> Path:
    """`count` project folders: the demo projects in turn, under other names."""
    demo = sorted(path for path in Path("projects").iterdir() if path.is_dir())
    projects = into / "projects"
    for number in range(count):
        source = demo[number % len(demo)]
        shutil.copytree(source, projects / (source.name if number < len(demo) else f"{source.name}-{number}"))
    shutil.copytree("templates", into / "templates", dirs_exist_ok=True)
    return projects


def timed(command: list[str], folder: Path) -> tuple[float, float]:
    """Wall and user seconds of a command."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    start = time.perf_counter()
    done = subprocess.run(command, cwd=folder, capture_output=True, text=True)
    wall = time.perf_counter() - start
    if done.returncode:
        raise SystemExit(done.stderr[-2000:])
    return wall, resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime - before.ru_utime


def bench_site() -> None:
    """Whole builds of 3, 30 and 100 projects, and bare MkDocs + Material on the same content."""
    found = {}
    for count in (3, 30, 100):
        with tempfile.TemporaryDirectory() as name:
            folder = Path(name)
            copies(folder, count)
            wall, user = timed([sys.executable, "-m", "basis", "build", "--config", str(Path("mkdocs.yml").absolute())], folder)
            pages = [path for path in (folder / "site").rglob("*.html")]
            size = sum(path.stat().st_size for path in (folder / "site").rglob("*") if path.is_file())
            found[count] = (wall, user, len(pages), size)
            mean = sum(path.stat().st_size for path in pages) / len(pages) / 1024
            row(f"build, {count} projects", f"{wall:.1f} s; {len(pages)} pages, {mean:.0f} KB a page, {size / count / 1e6:.2f} MB a project", "calculation and figures included")
            if count in (3, 30):
                _bench_bare(folder, count, wall)
    for low, high in ((3, 30), (30, 100)):
        growth = np.log(found[high][0] / found[low][0]) / np.log(found[high][2] / found[low][2])
        row(f"growth of time from {low} to {high} projects", f"exponent {growth:.2f}", "time against pages")


BARE = "site_name: Bare\nuse_directory_urls: false\ndocs_dir: docs\ntheme:\n  name: material\n  font: false\nplugins: [search]\nmarkdown_extensions: [attr_list, md_in_html, tables]\n"


def _bench_bare(folder: Path, count: int, ours: float) -> None:
    """The same pages through MkDocs + Material, as Markdown and as finished HTML in a Markdown file."""
    for kind, convert in (("Markdown", markdown_of), ("finished HTML", lambda html: f"<div>\n{html}\n</div>\n")):
        bare = folder / f"bare-{kind.split()[0].lower()}"
        for page in (folder / "site").rglob("*.html"):
            if page.name == "404.html":
                continue
            target = bare / "docs" / page.relative_to(folder / "site").with_suffix(".md")
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_text(convert(main_part(page.read_text("utf-8"))), "utf-8")
        (bare / "mkdocs.yml").write_text(BARE)
        wall, _ = timed([sys.executable, "-m", "mkdocs", "build", "-q"], bare)
        row(f"build, {count} projects", f"{wall / ours:.1f} times faster", f"bare MkDocs + Material, same content as {kind}, nothing computed or drawn ({wall:.1f} s)")


def main_part(html: str) -> str:
    """What stands in the article of a finished page."""
    found = re.search(r"<article[^>]*>(.*)</article>", html, re.DOTALL)
    return found[1] if found else ""


def markdown_of(html: str) -> str:
    """Finished HTML as an author would have written it: headings, paragraphs, lists and tables in Markdown, the rest as raw HTML."""
    text = re.sub(r"\s*\n\s*", " ", html)
    for level in range(1, 5):
        text = re.sub(rf"<h{level}[^>]*id=\"([^\"]*)\"[^>]*>(.*?)</h{level}>", rf"\n\n{'#' * level} \2 {{#\1}}\n\n", text)
        text = re.sub(rf"<h{level}[^>]*>(.*?)</h{level}>", rf"\n\n{'#' * level} \1\n\n", text)
    text = re.sub(r"<table[^>]*>(.*?)</table>", lambda found: _markdown_table(found[1]), text)
    text = re.sub(r"<a [^>]*href=\"([^\"]*)\"[^>]*>(.*?)</a>", r"[\2](\1)", text)
    text = re.sub(r"</?(?:section|div|p|ul|ol|dl|figure|figcaption|article|header|footer|nav)\b[^>]*>", "\n\n", text)
    text = re.sub(r"<li[^>]*>", "\n- ", text)
    text = re.sub(r"<dt[^>]*>", "\n\n**", text)
    text = re.sub(r"</dt>", "**: ", text)
    text = re.sub(r"</?(?:li|dd|strong|em|small)\b[^>]*>", "", text)
    return re.sub(r"\n{3,}", "\n\n", text)


def _markdown_table(inner: str) -> str:
    rows = [[re.sub(r"\|", "\\|", cell.strip()) for cell in re.findall(r"<t[hd][^>]*>(.*?)</t[hd]>", line)] for line in re.findall(r"<tr[^>]*>(.*?)</tr>", inner)]
    rows = [cells for cells in rows if cells]
    if not rows:
        return ""
    width = max(map(len, rows))
    lines = ["| " + " | ".join(cells + [""] * (width - len(cells))) + " |" for cells in rows]
    return "\n\n" + "\n".join([lines[0], "|" + " --- |" * width, *lines[1:]]) + "\n\n"


# -- serve ------------------------------------------------------------------------------------------------------------

def bench_serve() -> None:
    """Saved YAML to pages on disk, as the plugin does it in `serve`; the server's poll of at most half a second comes on top."""
    for count in (3, 30):
        with tempfile.TemporaryDirectory() as name:
            projects = copies(Path(name), count)
            target = next(path for path in sorted((projects / "larkmere-hospital").glob("*.yaml")) if "altitude:" in path.read_text("utf-8"))
            row(f"saved YAML to rewritten pages, {count} projects", f"{refreshed(projects, target):.2f} s", "without the server's poll of 0.5 s at the most")


def refreshed(projects: Path, target: Path) -> float:
    """Seconds from a changed altitude to rewritten pages, best of three."""
    from mkdocs.commands.build import build
    from mkdocs.config import load_config

    settings = load_config("mkdocs.yml", docs_dir=str(projects), site_dir=str(projects.parent / "site"))
    plugin = settings.plugins["basis"]
    plugin.on_startup(command="serve", dirty=False)
    build(settings)
    text, found = target.read_text("utf-8"), []
    for metres in (61, 62, 63):
        target.write_text(re.sub(r"altitude: .*", f"altitude: {metres} m", text), "utf-8")
        start = time.perf_counter()
        if not plugin.refresh():
            raise SystemExit("a changed number needed a whole build")
        found.append(time.perf_counter() - start)
    return min(found)


def main(argv: list[str]) -> None:
    """Run the parts named, or all."""
    wanted = set(argv) or {"all"}
    print("| what | result | against |\n| --- | --- | --- |")
    for name, part in (("formulas", bench_formulas), ("site", bench_site), ("serve", bench_serve)):
        if wanted & {name, "all"}:
            part()


if __name__ == "__main__":
    main(sys.argv[1:])
