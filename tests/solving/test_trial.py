"""One formula as a desk calculator: any inputs of the right shape give a result or a fault in words, and how well it is known."""

import json

import numpy as np
import pytest
from click.testing import CliRunner

from basis.chapters import catalogue
from basis.language.faults import Faults
from basis.language.formula import Formula
from basis.language.sources import sources
from basis.language.table import heads, table
from basis.language.terms import listed
from basis.solving.examples import drawn_inputs, running_example
from basis.solving.trial import try_formula
from basis.solving.working import lines, record
from basis.terminal.cli import main

PRODUCERS = tuple(dict.fromkeys(catalogue().producers.values()))
DRAWS = 20
HARD_TO_DRAW = {"cable_rows", "network_walk"}  # a table printed for the laying of its cable, feeders that join different buses and close no ring


def told(formula_id, **quantities):
    """What `try` says is wrong."""
    with pytest.raises(Faults) as found:
        try_formula(formula_id, quantities)
    return str(found.value)


@pytest.mark.filterwarnings("ignore")  # of SciPy, about inputs that no plant has
@pytest.mark.parametrize("producer", PRODUCERS, ids=[producer.id for producer in PRODUCERS])
def test_a_result_or_a_fault_and_nothing_else(producer):
    draw, results = np.random.default_rng(3), 0
    for _ in range(DRAWS):
        try:
            values = try_formula(producer.yields[0], drawn_inputs(producer, draw))
        except Faults as found:
            assert str(found)
            continue
        for name in producer.yields:
            json.dumps(record(values, values[name]), allow_nan=False)
            assert lines(values, values[name])
        results += 1
        if results == 2:
            return


@pytest.mark.filterwarnings("ignore")
def test_every_formula_has_an_example_that_runs():
    assert {producer.id for producer in PRODUCERS if running_example(producer.yields[0], producer) is None} <= HARD_TO_DRAW


def test_the_examples_of_the_help_run():
    for words, result in ((["air_pressure", "altitude=1600 m"], "kPa"),
                          (["element_face_area", "element_opening=item_2; item_1", "gross_area=4 m^2; 9.5 m^2"], "9.50 m²")):
        shown = CliRunner().invoke(main, ["try", *words])
        assert shown.exit_code == 0 and result in shown.output
        assert words[-1].partition("=")[2] in CliRunner().invoke(main, ["try", "--help"]).output


def test_help_on_inputs_tells_the_form_and_an_example_that_runs():
    shown = CliRunner().invoke(main, ["try", "element_face_area", "--help-inputs"]).output
    assert "element_opening='item_1, item_2 …, ';' between air elements'" in shown and "gross_area='NUMBER m^2, ';' between openings'" in shown
    name, *words = shown.partition("Example:\n  basis try ")[2].strip().split(" ", 1)
    quantities = dict(part.partition("='")[::2] for part in words[0].removesuffix("'").split("' "))
    assert name == "element_face_area" and try_formula(name, quantities)


# -- shapes ---------------------------------------------------------------------------------------------------------------

BANDS = ", ".join(["60 dB"] * 9)


def test_lists_of_lists_are_told_apart_by_their_separators():
    values = try_formula("exhaust_self_noise", {"silencer_noise_whole": f"{BANDS}; {BANDS.replace('60', '63')}"})
    assert values["silencer_noise_whole"].items == (("item_1", "item_2"), listed("band").fixed)
    assert values["silencer_noise_whole"].element("item_2", "8000_hz").number == 63
    deep = try_formula("contribution_share", {"contribution_ratio": "1 | 2, 3 | 4, 5 | 6; 7 | 8, 9 | 10, 11 | 12",
                                              "receiver_level": "11 dB, 12 dB; 13 dB, 14 dB"})
    assert deep["contribution_ratio"].number.tolist() == [[[1, 2], [3, 4], [5, 6]], [[7, 8], [9, 10], [11, 12]]]


def test_a_wrong_shape_is_a_fault():
    assert "'silencer_noise_whole' has lists of unlike length" in told("exhaust_self_noise", silencer_noise_whole=f"{BANDS}; 60 dB")
    assert "has 8 bands; expected 9 bands" in told("exhaust_self_noise", silencer_noise_whole=", ".join(["60 dB"] * 8))
    unlike = told("face_velocity", opening_airflow="1 m^3/s, 2 m^3/s", gross_area="4 m^2")
    assert "'gross_area' has 1 openings; expected 2 openings, as the other inputs" in unlike
    assert "'item_3'" in told("element_face_area", element_opening="item_3", gross_area="4 m^2; 5 m^2")
    assert "is not a number with a unit" in told("face_velocity", opening_airflow="1 m^3/s,", gross_area="4 m^2; 4 m^2")


# -- ranges ---------------------------------------------------------------------------------------------------------------

def test_outside_the_physical_range_is_a_fault():
    assert "'altitude' is 50000 m, outside its physical range" in told("air_pressure", altitude="50000 m")


def test_a_root_of_a_negative_number_is_a_fault():
    # more vapour than air: the dry air left over is negative and has no 0.7th power (ISO 3046-1 raises it to the exponent m)
    inputs = {"air_pressure": "61 kPa", "humidity_weight": "1", "vapour_pressure": "70 kPa", "reference_air_pressure": "100 kPa",
              "reference_vapour_pressure": "1 kPa", "pressure_exponent": "0.7", "reference_air_temperature": "25 degC", "set_air_temperature": "40 degC",
              "temperature_exponent": "1.2", "reference_coolant_temperature": "25 degC", "charge_coolant_temperature": "40 degC", "coolant_exponent": "1"}
    assert "'indicated_power_ratio' cannot be computed: the root or logarithm of a number" in told("indicated_power_ratio", **inputs)


def test_a_count_beyond_all_integers_is_a_number():
    # 4.5e100 kW at 90 % of 500 kW are 1e98 sets (hand calculation): a float, where Python's own rounding up makes an integer that NumPy cannot hold
    found = try_formula("required_sets", {"firm_demand_power": "4.5e100 kW", "set_site_power": "500 kW", "planned_loading": "90 %"})["required_sets"].number
    assert isinstance(found, float) and found == pytest.approx(1e98)


def test_a_result_outside_its_physical_range_is_a_fault():
    # 200 kW of 1000 kVA are 20 % (hand calculation): no transformer has that
    assert "becomes 20.0 %, outside its physical range; expected 0 % to 10 %" in told("transformer_resistance_voltage", transformer_winding_loss="200 kW",
                                                                                     transformer_rating="1000 kVA")


# -- how well it is known -------------------------------------------------------------------------------------------------

AIR = {"heat_to_room": "180 kW", "outdoor_air_density": "1.14 kg/m^3", "air_heat_capacity": "1006 J/(kg*K)"}


def test_defaults_and_their_marks_are_told():
    values = try_formula("ventilation_airflow", AIR)
    result = values["ventilation_airflow"]
    assert values["room_temperature_rise"].origin == "default" and "default" in result.marks
    shown = "\n".join(lines(values, result))
    assert "input room_temperature_rise = 10.0 K (18.0 °F (difference)) [default, common practice]" in shown and "upstream: " in shown
    given = try_formula("ventilation_airflow", {**AIR, "room_temperature_rise": "10 K"})
    assert "default" not in given["ventilation_airflow"].marks


def test_marks_of_sources_are_told():
    producer = next(one for one in PRODUCERS if isinstance(one, Formula) and any(sources()[name].mark == "from memory" for name in one.sources))
    values = try_formula(producer.id, running_example(producer.id, producer))
    assert "from memory" in values[producer.id].marks and "from memory" in "\n".join(lines(values, values[producer.id]))


def test_marks_and_sources_of_tables_are_told():
    from_memory = next(one for one in heads() if one.startswith("iec-60228-"))
    values = try_formula("conductor_area", {"conductor_table": from_memory, "conductor_size": "50 mm²"})
    assert table(from_memory).source in values["conductor_area"].source_ids
    assert any(line.startswith(f"  table {from_memory}: column area") for line in lines(values, values["conductor_area"]))


def test_a_formula_out_of_its_range_warns():
    values = try_formula("outdoor_air_density", {"air_pressure": "101 kPa", "outdoor_humidity_ratio": "0.05", "outdoor_temperature_max": "40 degC"})
    shown = lines(values, values["outdoor_air_density"])
    assert any(line.startswith("  warning Outdoor humidity ratio is outside the range for which this holds, 0 to 40 g/kg") for line in shown)


def test_inputs_of_an_arm_left_out_are_not_asked_for():
    assert told("starter_cable_drop_ratio").count("missing") == 1  # the choice alone
    assert try_formula("starter_cable_drop_ratio", {"starting_method": "air"})["starter_cable_drop_ratio"].number == 0
    assert "missing 'starter_cable_drop'" in told("starter_cable_drop_ratio", starting_method="battery")
