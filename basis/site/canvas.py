"""Where a figure is drawn: matplotlib's SVG renderer, which measures a text by its letters instead of setting it.

Words are set by the browser, in the page's own font; here only their room matters, and setting each text took an eighth of the
time of a figure.
"""
from __future__ import annotations

import io
import warnings
from functools import lru_cache
from unicodedata import east_asian_width

from matplotlib.backends.backend_mixed import MixedModeRenderer
from matplotlib.backends.backend_svg import RendererSVG
from matplotlib.figure import Figure
from matplotlib.font_manager import FontProperties
from matplotlib.textpath import TextToPath

from basis.site.paired import sides

POINTS = 72  # of an inch: the unit of our SVG


def draw(figure: Figure) -> str:
    """The figure as the SVG that matplotlib writes, without a date."""
    buffer = io.StringIO()
    figure.dpi = POINTS
    width, height = figure.get_size_inches()
    page = _Renderer(width * POINTS, height * POINTS, buffer, image_dpi=POINTS, metadata={"Date": None})
    renderer = MixedModeRenderer(figure, width, height, POINTS, page)
    figure.draw(renderer)
    renderer.finalize()
    return buffer.getvalue()


class _Renderer(RendererSVG):
    """matplotlib asks for the room of a text several times for each figure; the sum of its letters differs by the kerning only."""

    def get_text_width_height_descent(self, s, prop, ismath):
        """Width, height and depth below the line of a text, in points."""
        if ismath:
            return super().get_text_width_height_descent(s, prop, ismath)
        size, weight = prop.get_size_in_points(), prop.get_weight()
        height, descent = _line(weight)
        wide = max(sum([_advance(letter, weight) for letter in side]) for side in sides(s))
        return size * wide, size * height, size * descent


@lru_cache(maxsize=1024)
def _advance(letter: str, weight) -> float:
    """Room that a letter takes along the line, in ems; one that this font lacks stands in the reader's font, in which a wide letter is a square."""
    if east_asian_width(letter) in "WF":
        return 1.0
    with warnings.catch_warnings():
        warnings.filterwarnings("ignore", message="Glyph .* missing from")
        return _measured(f"|{letter}|", weight)[0] - _measured("||", weight)[0]


@lru_cache(maxsize=8)
def _line(weight) -> tuple[float, float]:
    """Height of a line and how far it goes below the letters' foot, in ems."""
    return _measured("lp", weight)[1:]


def _measured(text: str, weight) -> tuple[float, float, float]:
    return TextToPath().get_text_width_height_descent(text, FontProperties(size=1, weight=weight), False)
