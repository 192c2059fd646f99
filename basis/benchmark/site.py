"""The demo projects, copied, against bare MkDocs + Material given the same content; and a saved file to rewritten pages."""

from __future__ import annotations

import compileall
import json
import os
import re
import resource
import shutil
import subprocess
import sys
import tempfile
import time
from itertools import product
from pathlib import Path

import numpy as np

from basis.benchmark.measure import row
from basis.reading.folder import EQUIPMENT
from basis.site.element_rows import put_together

EDITS = {  # what is edited -> file, the text before the number, numbers in turn
    "the volume of a tank": ("fuel.yaml", "day_tank_volume: {value: ", ("1501", "1502", "1503")),
    "the altitude, which moves nearly everything": ("plant.yaml", "altitude: {value: ", ("61", "62", "63")),
}


def copies(into: Path, count: int) -> Path:
    """`count` project folders: the demo projects in turn, under other names."""
    demo = sorted(path for path in Path("projects").iterdir() if path.is_dir())
    projects = into / "projects"
    for number in range(count):
        source = demo[number % len(demo)]
        name = source.name if number < len(demo) else f"{source.name}-{number}"
        shutil.copytree(source, projects / name, ignore=None if name == source.name else shutil.ignore_patterns("issued"))  # a record is of one project
    shutil.copytree(EQUIPMENT, into / EQUIPMENT, dirs_exist_ok=True)
    shutil.copytree("templates", into / "templates", dirs_exist_ok=True)
    return projects


def timed(command: list[str], folder: Path) -> tuple[float, float]:
    """Wall and user seconds of a command; what it keeps for later runs stands in the folder."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    start = time.perf_counter()
    done = subprocess.run(command, cwd=folder, capture_output=True, text=True, env=os.environ | {"XDG_CACHE_HOME": str(folder / "kept")})
    wall = time.perf_counter() - start
    if done.returncode:
        raise SystemExit(done.stderr[-2000:])
    return wall, resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime - before.ru_utime


def built(folder: Path, *options: str, again: bool = False) -> tuple[float, float]:
    """Wall and user seconds of `basis build` in a folder, `options` of the command besides; the first one there, or `again` after an edit."""
    if again:
        edited(folder / "projects" / "larkmere-hospital")
    else:
        shutil.rmtree(folder / "kept", ignore_errors=True)
    return timed([sys.executable, "-m", "basis", "build", "--config", str(Path("mkdocs.yml").absolute()), *options], folder)


def edited(project: Path) -> None:
    """Another number for the volume of a tank."""
    file, before, numbers = next(iter(EDITS.values()))
    text = (project / file).read_text("utf-8")
    number = next(one for one in numbers if before + one not in text)
    (project / file).write_text(re.sub(re.escape(before) + r"[\d.]+", before + number, text), "utf-8")


def bench_site() -> None:
    """Whole builds of 3, 30 and 100 projects, and bare MkDocs + Material on the same content."""
    compileall.compile_dir("basis", quiet=1)  # as installing does with both sides
    found = {}
    for count in (3, 30, 100):
        with tempfile.TemporaryDirectory() as name:
            folder = Path(name)
            copies(folder, count)
            wall, user = built(folder)
            later, _ = built(folder, again=True)
            pages = list((folder / "site").rglob("*.html"))
            size = sum(path.stat().st_size for path in (folder / "site").rglob("*") if path.is_file())
            found[count] = (wall, user, len(pages), size)
            mean = sum(path.stat().st_size for path in pages) / len(pages) / 1024
            row(f"build, {count} projects", f"{wall:.1f} s; {len(pages)} pages, {mean:.0f} KB a page, {size / count / 1e6:.2f} MB a project",
                "calculation and figures included")
            row(f"sheets, {count} projects", "{:.0f} values a page, {:.0f} KB for 40 values".format(*weight_of_sheets(pages)),
                "formula, numbers put in, elements and all that stands round them")
            if count == 30:
                row(f"site layer, {count} projects", f"{1e3 * layer(folder) / len(pages):.1f} ms a page", "MkDocs and the theme, once the content is there")
            if count == 3:
                quick = {"--quick, the first": built(folder, "--quick")[0], "--quick, after an edit": built(folder, "--quick", again=True)[0]}
                _bench_bare(folder, count, quick | {"with turning points and trials, the first": wall, "the same after an edit": later})
    for low, high in ((3, 30), (30, 100)):
        growth = np.log(found[high][0] / found[low][0]) / np.log(found[high][2] / found[low][2])
        row(f"growth of time from {low} to {high} projects", f"exponent {growth:.2f}", "time against pages")


def weight_of_sheets(pages: list[Path]) -> tuple[float, float]:
    """Mean number of values on pages that show working, and the KB that such a page takes for forty of them."""
    texts = [path.read_text("utf-8") for path in pages if path.stem.endswith(("-sheet", "-inputs")) or path.stem.startswith("option-")]
    values = sum(text.count("<section ") for text in texts)
    return values / len(texts), 40 * sum(map(len, texts)) / values / 1024


def layer(folder: Path) -> float:
    """Seconds from finished content to pages on disk."""
    from mkdocs.commands.build import build
    from mkdocs.config import load_config

    from basis.site.render import template_folders

    settings = load_config("mkdocs.yml", docs_dir=str(folder / "projects"), site_dir=str(folder / "site-again"))
    settings.plugins["basis"].cache.make(Path(settings.docs_dir), template_folders(Path(settings.docs_dir)))  # kept: the build finds it ready
    start = time.perf_counter()
    build(settings)
    return time.perf_counter() - start


BARE = ("site_name: Bare\nuse_directory_urls: false\ndocs_dir: docs\ntheme:\n  name: material\n  font: false\n"
        "plugins: [search]\nmarkdown_extensions: [attr_list, md_in_html, tables]\n")


KINDS = {  # of the same content -> a page of ours and what stands in its article, as a bare page
    "Markdown": lambda page, html: markdown_of(with_all_workings(page, html)),
    "Markdown, of workings only what stands open": lambda page, html: markdown_of(html),
    "finished HTML": lambda page, html: f"<div>\n{with_all_workings(page, html)}\n</div>\n"}


def _bench_bare(folder: Path, count: int, ours: dict[str, float]) -> None:
    """The same pages through MkDocs + Material, as Markdown and as finished HTML in a Markdown file. `ours`: seconds of our builds by kind."""
    for number, (kind, convert) in enumerate(KINDS.items()):
        bare = folder / f"bare-{number}"
        for page in (folder / "site").rglob("*.html"):
            if page.name == "404.html":
                continue
            target = bare / "docs" / page.relative_to(folder / "site").with_suffix(".md")
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_text(convert(page, main_part(page.read_text("utf-8"))), "utf-8")
        (bare / "mkdocs.yml").write_text(BARE)
        wall, _ = timed([sys.executable, "-m", "mkdocs", "build", "-q"], bare)
        for name, seconds in ours.items():
            row(f"build, {count} projects, {name}", f"{seconds:.1f} s; {wall / seconds:.1f} times faster",
                f"bare MkDocs + Material, same content as {kind}, nothing computed or drawn ({wall:.1f} s)")


def main_part(html: str) -> str:
    """What stands in the article of a finished page."""
    found = re.search(r"<article[^>]*>(.*)</article>", html, re.DOTALL)
    return found[1] if found else ""


def with_all_workings(page: Path, html: str) -> str:
    """The content of a sheet with the working of every element. Our page puts it together from a file beside it when a reader opens the element; written down
    it is a table in the entry of the value.
    """
    file = page.with_suffix(".js")
    if not file.is_file():
        return html
    values, axes = json.loads(file.read_text("utf-8").removeprefix("basisRows(").removesuffix(");\n"))
    for name, value in values.items():
        start, entry, rest = html.partition(f'<section id="{name}">')
        inside, end, after = rest.partition("</section>")
        elements = product(*[axes[axis][1].values() for axis in value["axes"]])
        lines = [f"<tr><th>{', '.join(element)}</th><td>{put_together(value['forms'], row)}</td></tr>" for element, row in zip(elements, value["rows"]) if row]
        html = f"{start}{entry}{inside}<table><tr><th>Element</th><th>Working</th></tr>{''.join(lines)}</table>{end}{after}"
    return html


def markdown_of(html: str) -> str:
    """Finished HTML as an author would have written it: headings, paragraphs, lists and tables in Markdown, the rest as raw HTML.

    The address of an entry stands at its heading and that of a row in its first cell, so that the same links lead to the same places.
    """
    text = re.sub(r"\s*\n\s*", " ", html)
    text = re.sub(r'<section id="([^"]*)"><h3>', r'<h3 id="\1">', text)
    text = re.sub(r'<tr id="([^"]*)"><th>', r'<tr><th><span id="\1"></span>', text)
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
    rows = [[re.sub(r"\|", "\\|", cell.strip()) for cell in re.findall(r"<t[hd][^>]*>(.*?)</t[hd]>", line)]
            for line in re.findall(r"<tr[^>]*>(.*?)</tr>", inner)]
    rows = [cells for cells in rows if cells]
    if not rows:
        return ""
    width = max(map(len, rows))
    lines = ["| " + " | ".join(cells + [""] * (width - len(cells))) + " |" for cells in rows]
    return "\n\n" + "\n".join([lines[0], "|" + " --- |" * width, *lines[1:]]) + "\n\n"


def bench_serve() -> None:
    """Saved YAML to pages on disk, as the plugin does it in `serve`; the server's poll of at most half a second comes on top."""
    for count in (3, 30):
        with tempfile.TemporaryDirectory() as name:
            projects = copies(Path(name), count)
            whole, _ = built(Path(name))
            for edited, (file, pattern, numbers) in EDITS.items():
                seconds = refreshed(projects, projects / "larkmere-hospital" / file, pattern, numbers)
                row(f"saved YAML to rewritten pages, {count} projects", f"{seconds:.2f} s; 1/{whole / seconds:.0f} of a whole build ({whole:.1f} s)",
                    f"{edited}; without the server's poll of 0.5 s at the most")


def refreshed(projects: Path, target: Path, before: str, numbers: tuple[str, ...]) -> float:
    """Seconds from a changed number to rewritten pages, best of several."""
    from mkdocs.commands.build import build
    from mkdocs.config import load_config

    from basis.site.build_cache import uncollected

    settings = load_config("mkdocs.yml", docs_dir=str(projects), site_dir=str(projects.parent / "site"))
    plugin = settings.plugins["basis"]
    plugin.on_startup(command="serve", dirty=False)
    build(settings)
    text, found = target.read_text("utf-8"), []
    for number in numbers:
        changed = re.sub(re.escape(before) + r"[\d.]+", before + number, text)
        if changed == text:
            raise SystemExit(f"{target.name} has no '{before}'")
        target.write_text(changed, "utf-8")
        with uncollected():  # as `serve` does it, which looks for what is no longer needed when the pages are there
            start = time.perf_counter()
            if not plugin.refresh():
                raise SystemExit("a changed number needed a whole build")
            found.append(time.perf_counter() - start)
    target.write_text(text, "utf-8")
    plugin.on_shutdown()
    return min(found)
