"""After the switch to US units nothing on the pages of a book is told in an SI unit that has a US counterpart, but what is quoted: project text as typed, texts
of sources, tables and formulas, and the working, whose numbers are put in as the program computes, in SI. Units and quotes are derived from Terms and book."""

import re
from dataclasses import fields, is_dataclass, replace
from functools import cache

from page_tree import read
from variations import chance_of_tree

from basis.chapters import catalogue
from basis.language import units
from basis.language.sources import sources
from basis.language.table import heads, table
from basis.language.terms import terms
from basis.language.words import as_sentence
from basis.site import parts, sheet
from basis.site.addresses import of_book
from basis.site.figures import figures_of
from basis.solving.value import written_shown
from basis.solving.working import said

BOOK = "larkmere-hospital"
WORKING = ".working, code, math, .spoken, :not(u-was) > i, sub"  # formulas and numbers put in; file names; symbols
SEEN = """quoted => {
  document.querySelectorAll("details").forEach(one => { one.open = true });
  const words = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT), found = [], hidden = new Map();
  const isHidden = one => {
    if (!one || one === document.body) return false;
    if (!hidden.has(one)) hidden.set(one, getComputedStyle(one).display === "none" || isHidden(one.parentElement));
    return hidden.get(one);
  };
  while (words.nextNode()) {
    const one = words.currentNode, parent = one.parentElement;
    if (one.data.trim() && !["SCRIPT", "STYLE", "TITLE"].includes(parent.tagName) && !parent.closest(quoted) && !isHidden(parent))
      found.push([one.data, Boolean(parent.closest("a.n, svg, u-us, .verdict + small"))]);
  }
  return found;
}"""


@cache
def si_units() -> tuple[str, ...]:
    """Units, as readers see them, that some Term shows in SI only where it has another for US readers, and that none which may differ from plant to plant shows
    in both: kilowatts are US units too."""
    numbers = [term for term in terms().values() if not term.is_text]
    alike = {term.si_unit for term in numbers if term.si_unit == term.us_unit and not term.constant}
    return tuple(sorted({units.pretty(term.si_unit) for term in numbers if term.si_unit != term.us_unit and term.si_unit not in alike}, key=len, reverse=True))


@cache
def in_si() -> re.Pattern:
    """A number with such a unit, or such a unit behind a comma or by itself, as heads and axes have it."""
    names, long = ("|".join(map(re.escape, found)) for found in (si_units(), [unit for unit in si_units() if len(unit) > 1]))
    return re.compile(rf"(?:\d[\s\u202f]?(?:{names})|, (?:{names})|^(?:{long})(?=$|[ ,]))(?![\w/·²³⁻])")


def texts(one):
    """Every text in a thing made of dataclasses, maps and rows."""
    if isinstance(one, str):
        yield one
    elif is_dataclass(one) and not isinstance(one, type):
        for part in fields(one):
            yield from texts(getattr(one, part.name))
    elif isinstance(one, dict):
        yield from texts(tuple(one.items()))
    elif isinstance(one, (tuple, list, set, frozenset)):
        for part in one:
            yield from texts(part)


def quotes(book) -> tuple[set[str], set[str], set[str]]:
    """Whole texts that stand on pages as somebody wrote them; words of tables and constants of equations, which stand alone; and quantities as typed, which
    are so short that they are quotes in some places only."""
    written = {*texts(book.project), *texts(tuple(sources().values())), *texts(tuple((one.name, one.meaning) for one in terms().values()))}
    written |= {text for source in sources().values() for text in (source.citation, as_sentence(source.note))}
    written |= {table(name).title for name in heads()}
    words, typed = set(), set()
    for one in (book, *book.options.values()):
        for value in one.values.values():
            written |= {*said(value), getattr(value.producer, "equation", "")}
            given = [one for first in value.givens.values() for one in (first, first.over) if one]
            typed |= {written_shown(value.term, one.written, value.currency) for one in given}
            if value.term.is_text:  # a word of a table, such as the size of a conductor
                words |= {value.shown(word) for word in texts(value.number.tolist() if value.axes else value.number)} - {""}
            elif value.term.constant and not value.two_systems:
                words.add(value.text())
    written |= {one.title for checks in catalogue().checks.values() for one in checks}
    written |= {text for chapter in book.chapters for one in figures_of(chapter.id).values() for text in (one.title, one.meaning)}
    listed = {f"{units.pretty(one.si_unit)}, {units.pretty(one.us_unit)}" for one in terms().values() if not one.is_text}  # where both units of a Term stand
    plain = {text for text in (" ".join(text.split()) for text in written) if in_si().search(text)}
    long = {text for text in plain if not re.fullmatch(r"[-−\d.\s]+\S+", text)}
    return long | {word for word in words if len(word) > 8}, words | listed, {text for text in typed | plain - long if in_si().search(text)}


def left_in_si(seen, long, alone, short) -> list[str]:
    """Texts that show an SI unit once the quotes in them are taken away. A number of the book, in a link or a drawing, is no quote."""
    found, longest_first = [], sorted(long, key=len, reverse=True)
    quoted = re.compile("|".join(rf"(?<![\w.]){re.escape(quote)}(?!\w)" for quote in sorted(short, key=len, reverse=True)))
    for text, is_number in seen:
        text = " ".join(text.split())
        if not in_si().search(text) or text.strip(" ,").split(" × ")[-1] in alone:
            continue
        for quote in longest_first:
            text = "" if text in quote and len(text) > 12 else text.replace(quote, "")
        if not is_number:
            text = quoted.sub("", text)
        if in_si().search(text):
            found.append(text)
    return found


def test_no_page_tells_an_si_unit_after_the_switch(open_page, site, books):
    quoted = quotes(books[BOOK])
    page, found = open_page(f"{BOOK}/index.html"), {}
    page.get_by_role("button", name="US customary").click()
    paths = sorted((site / BOOK).glob("*.html"))
    sheets = [path for path in paths if path.stem.endswith(("-sheet", "-inputs")) or path.stem.startswith("option-")]
    for path in [path for path in paths if path not in sheets] + chance_of_tree(BOOK).sample(sheets, len(sheets) // 2):  # others whenever something changes
        page.goto(path.as_uri())
        assert page.evaluate("document.documentElement.dataset.units") == "us"
        if left := left_in_si(page.evaluate(SEEN, WORKING), *quoted):
            found[path.name] = left[:5]
    assert found == {}


def test_a_range_that_is_left_is_told_in_both_systems_in_the_chapter_and_at_the_working(books):
    book = books["larkmere-hospital"]
    doubtful = replace(book["exhaust_gas_heat"], outside=("exhaust_temperature",))
    addresses = of_book(replace(book, values={**book.values, doubtful.id: doubtful}), "exhaust.html")
    for page in (parts.warnings(addresses, [doubtful]), sheet.entry(addresses, doubtful)):
        told = next(one for one in read(page).all("u-us") if "outside the range" in one.text)
        # the formula holds from 573.15 to 873.15 K; by hand 300 and 600 times 1.8 and 32 more
        assert "572 to 1112 °F" in re.sub(r"(?<=\d)\s(?=\d{3})", "", told.text), told.text


def test_what_is_of_one_kind_is_told_in_one_unit():
    """Heat of an engine stands in several chapters and in one drawing; electric power is told in kilowatts, power at a shaft in horsepower."""
    heats = {term.us_unit for term in terms().values() if term.kind == "heat flow" and term.si_unit == "kW"}
    assert heats == {"MBH"}
    shafts = {term.id for term in terms().values() if term.us_unit == "hp"}
    assert shafts == {"engine_rated_power", "engine_shaft_power", "motor_shaft_power", "motor_group_power"}
    assert {units.pretty(one) for one in ("gal", "gpm", "gal/h", "USD/gal")} == {"gal", "gal/min", "gal/h", "USD/gal"}
