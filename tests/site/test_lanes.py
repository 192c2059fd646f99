"""Lines of a schematic: none lies on another, each reaches the parts that it joins. Held against all pairs of stretches, drawn out by hand here."""

import random
import re

from basis.site.lanes import BELOW, Line, routes, strokes, symbol_left

SIDES = (3.0, 3.0, 27.0)


def stretches(placed, rows):
    """Upright stretches by line and row: (x, from, to), read back from the path data, from above."""
    found = []
    for row in range(rows):
        for route in placed:
            drawn = strokes([route if one is route else one for one in placed], row, SIDES)
            for path in [drawn.lines.get(route.line.kind, "")]:
                upright = [tuple(map(float, one)) for one in re.findall(r"M([\d.]+) ([\d.]+)V([\d.]+)", path)]
                found += [(route.line.kind, row, x, *sorted(ends)) for x, *ends in upright]
    return set(found)


def test_no_two_lines_share_a_stretch():
    chance = random.Random(1)
    for _ in range(200):
        ids = [f"part-{number}" for number in range(chance.randint(2, 9))]
        lines = []
        for number in range(chance.randint(1, 8)):
            some = chance.sample(ids, chance.randint(2, min(4, len(ids))))
            lines.append(Line(tuple(some[:1]), tuple(some[1:]), f"kind-{number}"))
        placed = routes(ids, lines)
        lanes = [(route.lane, set(range(route.first, route.last + 1)), route.line) for route in placed if route.lane]
        assert all(not one[1] & other[1] for one in lanes for other in lanes if one[0] == other[0] and one[2] is not other[2])
        by_place: dict = {}
        for kind, row, x, top, end in stretches(placed, len(ids)):
            by_place.setdefault((row, x), []).append((kind, top, min(end, BELOW)))
        middle = symbol_left(placed) + 15
        for (_, x), found in by_place.items():
            if x != middle:  # in the axis of the symbols only lines to the next part stand, which begin and end at them
                assert len({kind for kind, *_ in found}) == 1


def test_a_line_reaches_every_part_that_it_joins_and_points_at_its_ends():
    placed = routes(["a", "b", "c", "d"], [Line(("a",), ("c", "d"), "fuel"), Line(("b",), ("c",), "air")])
    assert [(route.line.kind, route.lane) for route in placed] == [("air", 0), ("fuel", 1)]
    left = symbol_left(placed)
    drawn = [strokes(placed, row, SIDES) for row in range(4)]
    for row, one in enumerate(drawn):
        assert (f"H{left + 3:g}" in one.lines["fuel"]) == (row in (0, 2, 3))  # a tap at a, c and d, none at b, which it passes
    assert [str(BELOW) in one.lines["fuel"] for one in drawn] == [True, True, True, False]  # down to the next row, but for the last
    assert [one.heads.count("l-5-3v6z") for one in drawn] == [0, 0, 1, 1] and drawn[2].heads.count("l-3-5h6z") == 1


def test_straight_lines_need_no_lane_and_backward_ones_do():
    placed = routes(["a", "b"], [Line(("a",), ("b",), "air"), Line(("b",), ("a",), "returned")])
    assert {route.line.kind: route.lane for route in placed} == {"air": 0, "returned": 1}
