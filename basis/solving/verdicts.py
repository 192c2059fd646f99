"""Checks decided: a value against its limit, with margin and the worst element."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from basis.language.days import DAY_SECONDS
from basis.language.formula import GIVEN, SOME, Chapter
from basis.language.terms import terms
from basis.solving.value import Value
from basis.solving.verdict import SAME, Verdict
from basis.solving.verdict_words import NOTHING

# The one rule for tight: less than this is left to the limit. Kinds whose margin is a difference have their own, in SI.
TIGHT_SHARE = 0.05
TIGHT_DIFFERENCES = {"level": 3.0, "temperature": 2.0, "temperature difference": 2.0, "date": 30 * DAY_SECONDS}
TIGHT = (f"A check that holds is tight when less than {100 * TIGHT_SHARE:g} % of the limit is left, of a level less than {TIGHT_DIFFERENCES['level']:g} dB, "
         "of a temperature less than ", f", of a date less than {TIGHT_DIFFERENCES['date'] / DAY_SECONDS:g} days. Where "
         "whole numbers, settings or sizes of a series are compared the limit is met or not, and nothing is tight.")  # the number of a temperature between


def verdict_of(check, values: dict, missing: dict, remark: str, unlisted: tuple = ()) -> Verdict:
    """The verdict of one check; undecided, and why, when its value or limit is not there.

    `unlisted`: axes without items on which alone its value rests. There is then nothing to check, and nothing passes; what fails still fails.
    """
    if beside := choices_beside(check, values):
        return Verdict(check, NOTHING, beside=beside, remark=remark)
    found = _compared(check, values, missing, remark)
    unknown = [root for name, words in check.applies if words == SOME and name not in values for root in missing.get(name, ())]
    if unknown and found.decided and found.word != "fails":  # whether there is any of it to check is not known
        return Verdict(check, "undecided", missing=tuple(dict.fromkeys(unknown)), remark=remark)
    if unlisted and found.word != "fails":
        return Verdict(check, NOTHING, unlisted=unlisted, remark=remark)
    return replace(found, choices=tuple(values[name] for name, words in check.applies if name in values and words != GIVEN)) if found.decided else found


def little(verdict: Verdict) -> float:
    """What is called little of the margin of a check, by which margins of different kinds are compared; nought where there is no such measure."""
    return TIGHT_SHARE if verdict.relative else TIGHT_DIFFERENCES.get(verdict.value.term.kind, 0.0)


def nearness(verdict: Verdict) -> float:
    """The margin of a decided check in parts of what is called little; endless where the limit is just met or not, and where there is no such measure."""
    if verdict.check.exact and verdict.word != "fails" or not little(verdict):
        return -np.inf if verdict.word == "fails" else np.inf
    return verdict.margin / little(verdict)


def nearest_first(verdicts) -> list[Verdict]:
    """Checks that have a distance to their limit, the one that has least left first; those that fail before all."""
    return sorted((one for one in verdicts if one.decided and nearness(one) < np.inf), key=nearness)


def speaks(data, words: tuple):
    """Whether a choice is one of the words, or a number is not nought; for each element of either. What may be given says nothing by its number."""
    if words == GIVEN:
        return np.ones(np.shape(data), dtype=bool)
    return np.asarray(data) != 0 if words == SOME else np.isin(np.asarray(data, dtype=object).astype(str), words)


def cautions_of(chapter: Chapter, values: dict) -> tuple[str, ...]:
    """Cautions of a chapter that are true of this plant. One whose condition is not known is told: a caution too many hurts nobody."""
    return tuple(one.text for one in chapter.cautions if all(name not in values or speaks(values[name].number, words).any() for name, words in one.applies))


def choices_beside(check, values: dict) -> tuple[Value, ...]:
    """Values of the choices by which a check means nothing, for any element or for all."""
    known = [(values[name], words) for name, words in check.applies if name in values and np.size(values[name].number)]  # a list without items says nothing
    plain = tuple(choice for choice, words in known if not speaks(choice.number, words).any())
    applying = _applying(check, values)
    if plain or applying.any() or not applying.size:
        return plain
    return tuple(choice for choice, _ in known)


def _applying(check, values: dict):
    """For each element of the checked value, or for all as one, whether the check means anything."""
    axes = terms()[check.value].axes
    found = np.array(True)
    for name, words in check.applies:
        if name in values:
            choice = values[name]
            found = found & _spread(speaks(choice.number, words), choice.axes, axes)
    return found


def judged(check, values: dict):
    """For each element of the checked value, or for all as one, whether it was held against its limit."""
    value, limit = values[check.value], values[check.limit]
    margins = _margins(check, value, limit, relative=False)
    return _applying(check, values) & ~np.isnan(margins) & ~_held_by_itself(check, values, margins)


def sized_for(check, values: dict) -> tuple:
    """For each value that the book computes so that a check holds: its axes, and for each element whether it is computed."""
    return tuple((value.axes, _computed(value)) for value in _sized(check, values))


def worst_of_samples(check, values: dict, results: dict, relative: bool, sized: tuple) -> np.ndarray:
    """The smallest margin in each sample. `results` by name: of what was run again, with samples first. `sized`: see `sized_for`.

    An element that means nothing, does not exist or holds by itself counts as endlessly safe; one that cannot be told makes the sample untold, unless
    another fails.
    """
    axes = terms()[check.value].axes
    value, limit = (_sampled(results.get(name, values[name].number), terms()[name].axes, axes) for name in (check.value, check.limit))
    with np.errstate(all="ignore"):
        margins = np.subtract(*((limit, value) if check.safe == "below" else (value, limit)), dtype=float)
        margins = margins / np.abs(limit) if relative else margins
    safe = [np.isnan(data) for name, data in ((check.value, value), (check.limit, limit)) if terms()[name].absent]
    safe += [~_sampled(speaks(results.get(name, values[name].number), words), terms()[name].axes, axes) for name, words in check.applies if name in values]
    safe += [_sampled(computed, own_axes, axes) & (margins >= -SAME) for own_axes, computed in sized]
    for one in safe:
        margins = np.where(one, np.inf, margins)
    flat = margins.reshape(len(margins), -1)
    lowest = np.fmin.reduce(flat, axis=1, initial=np.inf)
    return np.where(lowest < -SAME, lowest, np.minimum.reduce(flat, axis=1, initial=np.inf))


def _sampled(data, axes: tuple, wanted: tuple):
    """An array with samples first, or one for all samples, ready to stand beside one over all of the wanted axes."""
    data = np.asarray(data)
    data = data[None] if data.ndim == len(axes) else data
    return data[(slice(None), *(slice(None) if axis in axes else None for axis in wanted))]


def _held_by_itself(check, values: dict, margins):
    """For each element of the checked value whether it is within its limit because what it rests on was computed for that."""
    axes = terms()[check.value].axes
    return np.any([_spread(_computed(value), value.axes, axes) & (margins >= -SAME) for value in _sized(check, values)], axis=0)


def _sized(check, values: dict) -> list[Value]:
    """Values on which what is checked rests, in the arms that run, and which the book computes so that it holds where they are not given."""
    asked = [name for name, words in check.applies if words == GIVEN]
    above = _above((check.value, check.limit), values) if asked else ()
    return [values[name] for name in asked if name in above and _computed(values[name]).any()]


def _computed(value: Value):
    """For each element whether the book computes it."""
    given = [value.producer is None or bool(value.element(*ids).givens) for ids in value.elements()]
    return ~np.array(given, dtype=bool).reshape(np.shape(value.number))


def _above(names: tuple, values: dict) -> set[str]:
    """Ids of these values and of all on which they rest in the arms that run."""
    found, to_see = set(), list(names)
    while to_see:
        if (name := to_see.pop()) in values and name not in found:
            found.add(name)
            to_see += values[name].inputs
    return found


def _compared(check, values: dict, missing: dict, remark: str) -> Verdict:
    known = values.get(check.value)
    if known is not None and np.size(known.number) and known.nowhere(known.number).all():  # whatever its limit may be
        return Verdict(check, NOTHING, absent=(known.term,), remark=remark)
    absent = [name for name in (check.value, check.limit) if name not in values]
    if absent:
        roots = tuple(dict.fromkeys(root for name in absent for root in missing.get(name, (name,))))
        return Verdict(check, "undecided", missing=roots, remark=remark)
    value, limit = values[check.value], values[check.limit]
    relative = value.term.kind not in TIGHT_DIFFERENCES and not np.any(np.asarray(limit.number) == 0)
    absent = value.nowhere(value.number) | _spread(limit.nowhere(limit.number), limit.axes, value.axes)
    if absent.all() and absent.size:
        return Verdict(check, NOTHING, absent=tuple(side.term for side in (value, limit) if side.term.absent), remark=remark)
    margins = np.where(_applying(check, values) & ~absent, _margins(check, value, limit, relative), np.inf)
    alone = _held_by_itself(check, values, margins)
    if alone.any() and (alone | (margins == np.inf)).all():
        return Verdict(check, NOTHING, sized=tuple(value.term for value in _sized(check, values)), remark=remark)
    margins = np.where(alone, np.inf, margins)
    if np.all(np.isnan(margins)):
        return Verdict(check, "undecided", missing=_blank(value, limit), remark=remark)
    place = int(np.nanargmin(margins))
    margin, ids = float(np.ravel(margins)[place]), value.elements()[place]
    limit_ids = [item for axis, item in zip(value.axes, ids) if axis in limit.axes]
    tight = TIGHT_SHARE if relative else TIGHT_DIFFERENCES.get(value.term.kind, 0.0)
    word = "fails" if margin < -SAME else "tight" if margin < tight and not check.exact else "holds"
    if word != "fails" and np.any(np.isnan(margins)):
        return Verdict(check, "undecided", missing=_blank_elements(value, limit, margins), remark=remark)
    return Verdict(check, word, margin, relative, value.element(*ids), limit.element(*limit_ids), " ".join(ids), remark=remark)


def failing_elements(check, values: dict) -> tuple[tuple[str, ...], ...]:
    """Ids of every element that fails a check; one empty tuple for a plain value that fails."""
    value, limit = values[check.value], values[check.limit]
    margins = np.ravel(np.where(_applying(check, values), _margins(check, value, limit, relative=False), np.inf))
    return tuple(ids for ids, margin in zip(value.elements(), margins) if margin < -SAME)


def _margins(check, value: Value, limit: Value, relative: bool):
    bound = _spread(np.asarray(limit.number, dtype=float), limit.axes, value.axes)
    margins = (bound - np.asarray(value.number)) * (1 if check.safe == "below" else -1)
    return margins / np.abs(bound) if relative else margins


def _spread(data, axes: tuple, wanted: tuple):
    """An array over some of the wanted axes, ready to stand beside one over all of them."""
    return data[tuple(slice(None) if axis in axes else None for axis in wanted)] if axes and axes != wanted else data


def _blank_elements(value: Value, limit: Value, margins) -> tuple[str, ...]:
    """Elements that cannot be judged, by the side that is not given there: a check never passes on the rest alone."""
    found = []
    for ids, margin in zip(value.elements(), np.ravel(margins)):
        if np.isnan(margin):
            limit_ids = [item for axis, item in zip(value.axes, ids) if axis in limit.axes]
            side, side_ids = (limit, limit_ids) if np.isnan(limit.element(*limit_ids).number) else (value, ids)
            found.append(".".join((side.id, *side_ids)))
    return tuple(dict.fromkeys(found))


def _blank(value: Value, limit: Value) -> tuple[str, ...]:
    return tuple(side.id for side in (value, limit) if np.all(np.isnan(np.asarray(side.number)))) or (value.id,)
