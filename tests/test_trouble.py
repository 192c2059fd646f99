"""What could not be computed is told where it can be mended; and what the compiled formulas do with nothing, or with one rule for all items."""

import numpy as np
import pytest

from basis.compiled import Step, chain, extreme
from basis.faults import Faults, ItemTrouble, ItemTroubles
from basis.givens import Given
from basis.project import read
from basis.solve import solve
from basis.trouble import Places


def places():
    givens = {("bus_voltage", "ring"): Given("bus_voltage", "ring", 11e3, "11 kV", "p/net.yaml", 7),
              ("feeder_to_bus", "link"): Given("feeder_to_bus", "link", "ring", "ring", "p/net.yaml", 12),
              ("altitude", ""): Given("altitude", "", 3.0, "3 m", "p/plant.yaml", 2)}
    return Places("p", ("net.yaml", "plant.yaml", "project.yaml"), givens, {"bus": ("board", "ring"), "feeder": ("link",)})


@pytest.mark.parametrize(("trouble", "told"), [
    (ItemTrouble("bus_voltage", 1, "is odd", "another", "10 kV"), "p/net.yaml:7: 'bus_voltage' of 'ring': is odd; expected another; nearest: 10 kV"),
    (ItemTrouble("bus_voltage", "ring", "is odd"), "p/net.yaml:7: 'bus_voltage' of 'ring': is odd"),
    (ItemTrouble("feeder_from_bus", 0, "is odd"), "p/net.yaml:12: 'feeder_from_bus' of 'link': is odd"),  # the item's own line
    (ItemTrouble("bus_voltage", 0, "is odd"), "p/project.yaml: 'bus_voltage' of 'board': is odd"),  # nothing of the item is given
    (ItemTrouble("altitude", "", "is odd"), "p/plant.yaml:2: 'altitude': is odd"),
])
def test_a_trouble_is_told_where_it_is_given(trouble, told):
    assert str(places().fault(trouble)) == told


def test_nearest_given_of_several_terms():
    assert places().nearest(("feeder_to_bus", "bus_voltage")) == ("p/net.yaml", 7) and places().nearest(("energy_price",)) == ("p/project.yaml", 0)


def test_troubles_read_as_one_sentence():
    assert str(ItemTroubles([ItemTrouble("altitude", "", "is odd"), ItemTrouble("altitude", "", "is even")])) == "is odd; is even"


def test_the_largest_of_nothing_is_not_given():
    assert np.isnan(extreme(np.max, np.zeros(0), -1)) and np.isnan(extreme(np.min, np.zeros((3, 0)), -1)).all()
    assert extreme(np.max, np.zeros((0, 2)), -2).shape == (2,) and extreme(np.max, np.array([[1.0, 2.0]]), -1).tolist() == [2]


def test_a_formula_of_no_axis_is_one_rule_for_all_items():
    from basis.chapters.short_circuit import bus_voltage
    from basis.terms import terms

    inputs = ("generating_voltage", "given_bus_voltage", "number_of_bus")
    run = chain((Step(("bus_voltage",), bus_voltage.expression, merged=True),), inputs, terms())
    assert run(480.0, np.array([np.nan, 11e3, np.nan]), 3.0)[0].tolist() == [480, 11e3, 480]
    sampled = chain((Step(("bus_voltage",), bus_voltage.expression),), inputs[::2], terms(), sampled=True)
    assert sampled(np.array([400.0, 480.0]), 2.0)[0].tolist() == [[400, 400], [480, 480]]


def test_all_troubles_of_a_procedure_are_told_together(tmp_path):
    (tmp_path / "project.yaml").write_text("""name: two mistakes
chapters: [short_circuit]
power_frequency: 50 Hz
generating_voltage: 400 V
alternator_rated_apparent_power: 1 MVA
installed_sets: 1
conductor_table: iec-60228-copper
running_cases: [{id: all, sets_out: 0}]
buses: [{id: board}, {id: lost, bus_voltage: 400 V}, {id: gone, bus_voltage: 400 V}]
generators: [{id: set_1, generator_bus: board}]
""")
    with pytest.raises(Faults) as found:
        solve(read(tmp_path))
    assert [fault.what.split("'")[3] for fault in found.value.faults] == ["gone", "lost"]
