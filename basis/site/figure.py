"""How a figure is declared and drawn: the decorator `figure`, one drawing style, and the way from matplotlib to inline SVG.

A figure reads Values of a Book and returns a matplotlib Figure. It computes nothing that a reader may want to follow.
Colours are a closed list: on the page each becomes the text colour or a CSS variable, so that the figure follows light and
dark, and line styles, markers and hatches tell series apart without colour.
"""
from __future__ import annotations

import math
import re
from collections.abc import Callable, Sequence
from contextlib import AbstractContextManager
from dataclasses import dataclass
from html import escape

import matplotlib
from cycler import cycler
from matplotlib.axes import Axes
from matplotlib.axis import Axis
from matplotlib.figure import Figure
from matplotlib.ticker import FuncFormatter

from basis.language import units
from basis.site import paired
from basis.site.canvas import draw
from basis.site.paired import SI, US, as_spans, longest, unit_of
from basis.site.ticks import CHARACTER as CHARACTER_WIDTH
from basis.site.ticks import Unticked, lighten

INK = "#1b1b1b"        # text, axes, the one curve that matters
FAINT = "#8c8c8c"      # grid, help lines
FILL = "#c9c9c9"       # bars and areas
PAPER = "#fdfdfd"      # what hides something behind it
ALERT = "#b3261e"      # a limit, and what is beyond it
ON_PAPER = {"facecolor": PAPER, "edgecolor": "none", "pad": 1.0}  # under a text that lines would run through
BESIDE = 6.0  # points between a bar and its number
TO_VALUE = "value:"
TICKS = 5
LETTERS, LARGEST = 9.0, 16.0  # of the smallest letters on a screen, in CSS pixels: never under the first, unless a figure asks for more; not above the second
SERIES = ("#1d5a96", "#8a4b00", "#2d6a2d", "#6b3fa0", "#7a6a00", "#005f66")
DASHES = ("-", "--", "-.", ":", (0, (6, 1, 1, 1, 1, 1)), (0, (1, 1)))
MARKERS = ("o", "s", "^", "D", "v", "x")
HATCHES = ("", "////", "\\\\\\\\", "xxxx", "----", "||||")  # lines only: dots would be thousands of small circles

ON_PAGE = {
    INK: "currentColor",
    FAINT: f"var(--figure-faint,{FAINT})",
    FILL: f"var(--figure-fill,{FILL})",
    PAPER: f"var(--figure-paper,{PAPER})",
    ALERT: f"var(--figure-alert,{ALERT})",
    **{colour: f"var(--figure-{number},{colour})" for number, colour in enumerate(SERIES, start=1)},
    "#000000": "currentColor",
    "#ffffff": f"var(--figure-paper,{PAPER})",
}

STYLE = {
    "text.parse_math": False,  # names come from projects, and a dollar sign in them is a dollar sign
    "svg.fonttype": "none", "svg.hashsalt": "basis", "path.simplify": True,
    "figure.facecolor": "none", "axes.facecolor": "none", "savefig.facecolor": "none", "savefig.edgecolor": "none",
    "figure.subplot.left": 0.14, "figure.subplot.right": 0.97, "figure.subplot.bottom": 0.17, "figure.subplot.top": 0.94,
    "font.family": "sans-serif", "font.sans-serif": ["DejaVu Sans"], "font.size": 8.5,
    "axes.titlesize": 8.5, "axes.labelsize": 8.5, "xtick.labelsize": 8, "ytick.labelsize": 8, "legend.fontsize": 8,
    "text.color": INK, "axes.edgecolor": INK, "axes.labelcolor": INK, "xtick.color": INK, "ytick.color": INK,
    "axes.linewidth": 0.8, "axes.spines.top": False, "axes.spines.right": False, "axes.axisbelow": True,
    "axes.prop_cycle": cycler(color=SERIES) + cycler(linestyle=DASHES),
    "axes.grid": True, "grid.color": FAINT, "grid.linewidth": 0.4, "grid.alpha": 0.6,
    "lines.linewidth": 1.6, "lines.markersize": 4, "lines.color": INK,
    "patch.edgecolor": INK, "patch.facecolor": FILL, "patch.linewidth": 0.8, "hatch.color": INK, "hatch.linewidth": 0.6,
    "legend.frameon": False, "axes.formatter.useoffset": False, "axes.formatter.limits": (-6, 9), "axes.unicode_minus": True,
}
BACKENDS = ("backend", "backend_fallback")  # settings of matplotlib that no figure of ours asks for, and that are looked for when they are read


def _in_our_style() -> AbstractContextManager:
    """matplotlib as it comes, in our style: what a user has set for his own figures (matplotlibrc) is none of ours, and the same book is the same bytes."""
    own = {key: plain for key, plain in matplotlib.rcParamsDefault.items() if key not in BACKENDS and matplotlib.rcParams[key] != plain}
    return matplotlib.rc_context(own | STYLE)


@dataclass(frozen=True)
class Drawing:
    """A figure of a chapter: its id, title, the Terms tabled below it, the function that draws it from a Book, its meaning in words, and how high its
    smallest letters are on a screen at least. The first Term is what it shows: without a number in it there is nothing to draw. `also`: Terms that it shows
    and tables too where the book has them."""

    id: str
    title: str
    terms: tuple[str, ...]
    function: Callable
    meaning: str
    letters: float = LETTERS
    also: tuple[str, ...] = ()

    def draw(self, book) -> Figure:
        """Draw from the Values of a book, in our style."""
        with _in_our_style():
            return self.function(book)

    def svg(self, book) -> str:
        """The drawn figure as inline SVG, its ids behind its own."""
        return to_svg(self.draw(book), f"figure-{self.id}", self.title, self.letters)


def figure(id: str, *, title: str, terms: Sequence[str] = (), letters: float = LETTERS, also: Sequence[str] = ()) -> Callable[[Callable], Drawing]:
    """Declare a figure. The docstring of the function tells in words what the figure shows, for those who cannot see it.

    `letters`: a figure with more words than lines may ask for larger ones on a phone than others have. `also`: Terms of chapters that may be left out.
    """
    def declare(function: Callable) -> Drawing:
        meaning = " ".join((function.__doc__ or "").split())
        return Drawing(id, title, tuple(terms), function, meaning, letters, tuple(also))
    return declare


# ---- Values as numbers for drawing ----

def numbers(value):
    """The number or array of a Value in the SI unit in which its Term is shown."""
    return units.from_si(value.number, value.term.si_unit)


told = paired.told  # a number as a figure writes it


def axis_name(value, words: str = "") -> str:
    """Name and unit for an axis, `Ventilation airflow, m³/s`; other `words` where an axis carries more than one value."""
    name, unit = words or value.term.name, unit_of(value)
    return f"{name}, {unit}" if unit else name


def leads_to(value_id: str) -> str | None:
    """What a text of a figure has as its `url` to lead to the working of a value; the page puts the address there."""
    return f"{TO_VALUE}{value_id}" if value_id else None


# ---- axes in our style: to be called inside a figure function ----

def new_axes(width: float = 5.0, height: float = 2.9, rows: int = 1, columns: int = 1, **options) -> tuple[Figure, Axes]:
    """A Figure (size in inches) and its Axes; with several rows or columns an array of Axes, as matplotlib gives it."""
    drawn = Figure(figsize=(width, height))
    axes = drawn.subplots(rows, columns, subplot_kw={"axes_class": Unticked}, **options)
    for one in ([axes] if isinstance(axes, Axes) else axes.flat):
        one.locator_params(nbins=TICKS)  # fewer marks read better in a small figure, and are drawn faster
    return drawn, axes


def series(number: int) -> dict:
    """Colour, line style and marker of the series of this number, from 0: differs in each, so colour is never alone."""
    at = number % len(SERIES)
    return {"color": SERIES[at], "linestyle": DASHES[at], "marker": MARKERS[at]}


def filled(number: int) -> dict:
    """Face, edge and hatch of the bars or areas of this number, from 0."""
    at = number % len(HATCHES)
    return {"facecolor": FILL if at == 0 else PAPER, "edgecolor": INK, "hatch": HATCHES[at]}


def name_axes(axes: Axes, x: str = "", y: str = "") -> None:
    """Write the quantity and unit along each axis, such as `Airflow, m³/s`."""
    axes.set_xlabel(x)
    axes.set_ylabel(y)


def marks(axis: Axis, places: Sequence[float], names: Sequence[str]) -> None:
    """Marks at these places of an axis with these names."""
    axis.set_ticks(places, names)


def grouped(number: float) -> str:
    """A number of an axis, thin spaces between thousands."""
    return (f"{number:,.0f}" if abs(number) >= 1000 else f"{number:g}").replace(",", "\u202f").replace("-", "\N{MINUS SIGN}")


def group_thousands(*axes: Axis) -> None:
    """Write the marks of these axes with thin spaces between thousands."""
    for axis in axes:
        axis.set_major_formatter(FuncFormatter(lambda mark, _: grouped(mark)))


def bars(axes: Axes, names: Sequence[str], numbers: Sequence[float], number: int = 0, left=None) -> None:
    """Level bars, first name on top, each name beside its bar. `left` stacks them on earlier bars."""
    places = range(len(names))
    axes.barh(places, numbers, left=left, height=0.62, **filled(number))
    marks(axes.yaxis, places, names)
    axes.yaxis.set_tick_params(length=0, gridOn=False)
    _room_for_names(axes, names)
    if not axes.yaxis_inverted():
        axes.invert_yaxis()


def _room_for_names(axes: Axes, names: Sequence[str]) -> None:
    """Move the left edge of the axes so that the longest name fits, up to half of the figure."""
    most = max(map(longest, names), default=0)
    width = axes.figure.get_size_inches()[0] * 72
    left = (CHARACTER_WIDTH * STYLE["ytick.labelsize"] * most + 10) / width
    axes.figure.subplots_adjust(left=min(max(left, STYLE["figure.subplot.left"]), 0.5))


def write_at_bar(axes: Axes, start: float, end: float, place: int, text: str, limit: float | None = None) -> None:
    """A number behind a level bar; where the upright line of a limit stands in its way it goes before the bar, and where that has no room behind the line.

    To be called when the axes have their range.
    """
    wide = CHARACTER_WIDTH * STYLE["font.size"] * longest(text)

    def across(at: float) -> float:  # in points
        return axes.transData.transform((at, 0.0))[0] * 72 / axes.figure.dpi

    def clear(at: float, aside: float) -> bool:
        left = across(at) + (aside if aside > 0 else aside - wide)
        return left > across(axes.get_xlim()[0]) and not left - BESIDE < across(limit) < left + wide + BESIDE
    at, aside = max(start, end), BESIDE
    if limit is not None and not clear(at, aside):
        at, aside = (min(start, end), -BESIDE) if clear(min(start, end), -BESIDE) else (limit, BESIDE)
    axes.annotate(text, (at, place), xytext=(aside, 0), textcoords="offset points", va="center", ha="left" if aside > 0 else "right", color=INK, bbox=ON_PAPER)


LIMIT = "limit"  # marks the name of an upright limit, above which a legend goes


def limit_line(axes: Axes, at: float, text: str, upright: bool = False) -> None:
    """A heavy dashed line at a limit with its name written at the line; `upright` for a limit along the x axis."""
    if upright:
        axes.axvline(at, color=ALERT, linewidth=1.4, linestyle=(0, (5, 2)))
        axes.annotate(text, (at, 1.0), xycoords=("data", "axes fraction"), xytext=(0, 2), textcoords="offset points",
                      color=ALERT, va="bottom", ha="center", gid=LIMIT)  # above the axes: inside, it would lie on a bar
    else:
        axes.axhline(at, color=ALERT, linewidth=1.4, linestyle=(0, (5, 2)))
        axes.annotate(text, (1.0, at), xycoords=("axes fraction", "data"), xytext=(0, 3), textcoords="offset points",
                      color=ALERT, ha="right")


def point(axes: Axes, x: float, y: float, text: str) -> None:
    """A marked point with its name beside it, such as an operating point."""
    axes.plot([x], [y], marker="o", markersize=6, color=INK, linestyle="none", zorder=5)
    axes.annotate(text, (x, y), xytext=(6, 6), textcoords="offset points")


def legend(axes: Axes, **options) -> None:
    """A legend above the axes, so that it covers no data; the figure grows where it has no room for it."""
    above_limit = any(text.get_gid() == LIMIT for text in axes.texts)
    options = {"loc": "lower left", "bbox_to_anchor": (0.0, 1.0), "ncols": 3, "borderaxespad": 1.8 if above_limit else 0.2} | options
    made = axes.legend(**options)
    if options["loc"] == "lower left":
        rows = math.ceil(len(made.get_texts()) / options["ncols"])
        _grow(axes, STYLE["legend.fontsize"] * (options["borderaxespad"] + 2 * made.borderpad + rows + (rows - 1) * made.labelspacing))


def _grow(axes: Axes, above: float) -> None:
    """Make the figure higher where there are fewer points than these above the axes; matplotlib leaves out what lies beyond its edge."""
    drawn = axes.figure
    width, height = drawn.get_size_inches()
    more = above / 72 - (1 - axes.get_position().y1) * height
    if more > 0:
        higher, parts = height + more, drawn.subplotpars
        drawn.set_size_inches(width, higher)
        drawn.subplots_adjust(bottom=parts.bottom * height / higher, top=parts.top * height / higher)


# ---- from matplotlib to the page ----

PROLOGUE = re.compile(r"^.*?(?=<svg)", re.DOTALL)
METADATA = re.compile(r"<metadata>.*?</metadata>", re.DOTALL)
STYLES = re.compile(r"<defs>\s*<style.*?</style>\s*</defs>", re.DOTALL)
OPENING = re.compile(r"<svg[^>]*>")
COLOUR = re.compile("|".join(map(re.escape, ON_PAGE)))
ID = re.compile(r'id="([^"]+)"')
SYSTEM = re.compile(f'id="({SI}|{US})"')
REFERRED = re.compile(r'(?:url\(#|href="#)([^)"]+)')
DECIMALS = re.compile(r"(\d+\.\d\d)\d+")
PATH_DATA = re.compile(r' d="([^"]*)"')
FAMILY = re.compile(r"font-family: [^;\"]*;? ?")
UNSEEN = re.compile(r'<path d="[^"]*"(?: clip-path="[^"]*")? style="fill: none"/>|<g ?/>')
# what has an id is used elsewhere, without a group round it
ALIKE = re.compile(r'<(?:use|path) (?!id=)[^>]*?style="([^"]*)"/>(?:<(?:use|path) (?!id=)[^>]*?style="\1"/>)+')
GAPS = re.compile(r">\s+<")
TEXT = re.compile(r'<text style="([^"]*)"([^>]*)>(.*?)</text>', re.DOTALL)
IDLE = re.compile(r' transform="rotate\(-0 [^"]*"|; text-anchor: start|; fill: currentColor')  # what a text has anyhow
SIZE = re.compile(r"([\d.]+)px")
TAG = re.compile(r"<[^>]+>")
MARGIN = 3.0             # points kept free around the outermost text


def to_svg(drawn: Figure, prefix: str, title: str, letters: float = LETTERS) -> str:
    """Inline SVG of a drawn figure: text stays text, colours follow the page, every id begins with `prefix`.

    The view box grows until the outermost text fits, so that a long name is never cut off. The widths between which the figure can be read go with it.
    """
    text = _saved(drawn)
    text = STYLES.sub("", METADATA.sub("", PROLOGUE.sub("", text)))
    text = PATH_DATA.sub(lambda found: f' d="{" ".join(found[1].split())}"', text)
    text = GAPS.sub("><", TAG.sub(lambda tag: DECIMALS.sub(r"\1", tag[0]), text))  # in places only: words keep their digits
    text = _own_ids(SYSTEM.sub(r'class="\1"', text), prefix)
    text = FAMILY.sub("", UNSEEN.sub("", COLOUR.sub(lambda found: ON_PAGE[found[0]], text)))
    text = ALIKE.sub(_alike_once, text)
    width, height = (inches * 72 for inches in drawn.get_size_inches())
    left, top, width, height = _view_box(text, width, height)
    role = "graphics-document" if f'"{TO_VALUE}' in text else "img"  # of an image nobody who listens could follow a link
    opening = (f'<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" role="{role}" '
               f'aria-labelledby="{prefix}-title" viewBox="{left} {top} {width} {height}" '
               f'style="{_widths(text, width, letters)}" fill="currentColor" stroke-linejoin="round">'
               f'<title id="{prefix}-title">{escape(title)}</title>')
    text = TEXT.sub(lambda found: IDLE.sub("", found[0]), text)
    return as_spans(OPENING.sub(lambda _: opening, text, count=1).strip())


def _saved(drawn: Figure) -> str:
    """What matplotlib writes, with our marks along the axes."""
    with _in_our_style():
        lighten(drawn)
        return draw(drawn)


def _own_ids(text: str, prefix: str) -> str:
    """Number the ids that something refers to, behind the prefix, and drop the rest, so that two figures on a page never clash."""
    own = {name: f"{prefix}-{number}" for number, name in enumerate(dict.fromkeys(REFERRED.findall(text)), start=1)}
    text = ID.sub(lambda found: f'id="{own[found[1]]}"' if found[1] in own else "", text)
    return REFERRED.sub(lambda found: found[0].removesuffix(found[1]) + own[found[1]], text).replace("<g >", "<g>")


def _alike_once(run: re.Match) -> str:
    """A run of elements in one style, the style said once round them."""
    style = f' style="{run[1]}"'
    return f"<g{style}>{run[0].replace(style, '')}</g>"


def _widths(text: str, width: int, letters: float) -> str:
    """The least and the largest width on a screen, for the style sheet: by the smallest letters of the figure."""
    smallest = min((float(SIZE.search(style)[1]) for style, _, _ in TEXT.findall(text)), default=STYLE["font.size"])
    return f"--least:{math.ceil(width * letters / smallest)}px;--most:{math.floor(width * LARGEST / smallest)}px"


def _view_box(text: str, width: float, height: float) -> tuple[int, int, int, int]:
    """View box of the figure in whole points, widened to hold all of its text: left, top, width, height."""
    left, top, right, bottom = 0.0, 0.0, width, height
    for style, place, content in TEXT.findall(text):
        found = _text_box(style, place, TAG.sub("", content))
        if found:
            left, top = min(left, found[0] - MARGIN), min(top, found[1] - MARGIN)
            right, bottom = max(right, found[2] + MARGIN), max(bottom, found[3] + MARGIN)
    return round(left), round(top), round(right - left), round(bottom - top)


def _text_box(style: str, place: str, content: str) -> tuple[float, float, float, float] | None:
    """Rough box of one text element: left, top, right, bottom; None when it holds no text of its own."""
    size = SIZE.search(style)
    at = re.search(r'x="(-?[\d.]+)" y="(-?[\d.]+)"', place) or re.search(r"translate\((-?[\d.]+) (-?[\d.]+)\)", place)
    if not (size and at and content.strip()):
        return None
    x, y, high = float(at[1]), float(at[2]), float(size[1])
    wide = CHARACTER_WIDTH * high * longest(content)
    start = {"middle": -wide / 2, "end": -wide}.get(_anchor(style), 0.0)
    if re.search(r"rotate\(-?90", place):
        return x - high, y - start - wide, x, y - start
    return x + start, y - high, x + start + wide, y + 0.25 * high


def _anchor(style: str) -> str:
    """Which end of the text stands at its place."""
    found = re.search(r"text-anchor: (\w+)", style)
    return found[1] if found else "start"
