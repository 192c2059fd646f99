"""One compiled chain against the same chain in pint quantities (case by case, and over arrays) and in NumPy written by hand."""

from __future__ import annotations

import resource
from pathlib import Path

import numpy as np

from basis import load
from basis.benchmark.measure import best, row
from basis.chapters import catalogue
from basis.language import units
from basis.language.compiled import Step, chain, result_names
from basis.language.terms import terms


def rating_chain():
    """A chain of four formulas that feed one another, its inputs, and the same in pint and in NumPy by hand."""
    producers = catalogue().producers
    ids = ("air_pressure", "air_pressure_ratio", "set_rated_apparent_power", "set_rated_current")
    steps = tuple(Step((name,), producers[name].expression) for name in ids)
    inputs = tuple(dict.fromkeys(parameter for name in ids for parameter in producers[name].parameters if parameter not in ids))
    return ids, steps, inputs


def bench_formulas() -> None:
    """Chains: plain floats against pint; arrays against NumPy by hand; samples of a whole book."""
    ids, steps, inputs = rating_chain()
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
    steps, inputs = book.steps, book.inputs
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
