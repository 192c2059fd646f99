"""Labels of a drawing: lines of text broken at their spaces, the room that they take, and a place where they touch nothing. Lengths are in points."""
from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import zip_longest

from matplotlib.font_manager import FontProperties
from matplotlib.textpath import TextToPath

from basis.site.paired import paired, sides

TEXT, LINE = 8.0, 9.8  # letters, one line of text
WRAP = {"bus": 82.0, "transformer": 66.0, "feeder": 72.0, "part": 58.0}  # where text is broken
Box = tuple[float, float, float, float]  # left, bottom, right, top


@dataclass(frozen=True)
class Label:
    """Lines of text with the room that they take, and for each the id of the value to which it leads, if it leads anywhere."""

    lines: tuple[str, ...] = ()
    width: float = 0.0
    values: tuple[str, ...] = ()

    @property
    def height(self) -> float:
        """Height of all lines."""
        return LINE * len(self.lines)


def label(kind: str, *paragraphs: str | tuple[str, str]) -> Label:
    """A label of several paragraphs, each broken at its spaces where it would grow too wide; empty ones are left out. A paragraph is text, or text and the
    id of the value that it shows."""
    told = [(one, "") if isinstance(one, str) else one for one in paragraphs]
    found = [(line, value_id) for text, value_id in told if text for line in _broken_in_both(text, WRAP[kind])]
    lines = tuple(line for line, _ in found)
    return Label(lines, max(map(_width, lines), default=0.0), tuple(value_id for _, value_id in found))


def _width(text: str) -> float:
    return max(map(_width_of_side, sides(text)))


@lru_cache(maxsize=1024)
def _width_of_side(text: str) -> float:
    return TextToPath().get_text_width_height_descent(text, FontProperties(family="DejaVu Sans", size=TEXT), False)[0]


def _broken_in_both(text: str, limit: float) -> list[str]:
    """The lines of a text, each system broken by itself."""
    lines = [_broken(side, limit) for side in sides(text)]
    return [paired(*pair) for pair in zip_longest(*lines, fillvalue="")] if len(lines) > 1 else lines[0]


def _broken(text: str, limit: float) -> list[str]:
    lines: list[str] = []
    for word in text.split(" "):
        if lines and _width(f"{lines[-1]} {word}") <= limit:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    return lines


def clear_place(boxes: Sequence[Box], taken: Sequence[Box], frame: Box) -> int | None:
    """Which of the boxes is the first that lies in the frame and touches none of those taken."""
    def clear(box: Box) -> bool:
        inside = frame[0] <= box[0] and frame[1] <= box[1] and box[2] <= frame[2] and box[3] <= frame[3]
        return inside and not any(box[0] < other[2] and other[0] < box[2] and box[1] < other[3] and other[1] < box[3] for other in taken)
    return next((place for place, box in enumerate(boxes) if clear(box)), None)
