"""One formula as a desk calculator: any inputs of the right shape give a result or a fault in words, and how well it is known."""

import json
import re
import shlex
from operator import attrgetter

import numpy as np
import pytest
from click.testing import CliRunner
from each import chapter_of, of_each

from basis.chapters import catalogue
from basis.language.faults import Faults
from basis.language.formula import Formula
from basis.language.sources import sources
from basis.language.table import heads, table
from basis.language.terms import listed, terms
from basis.solving.examples import drawn_inputs, running_example
from basis.solving.trial import cells_of, maker, try_formula
from basis.solving.value import Value
from basis.solving.working import lines, record, with_digits
from basis.terminal.cli import main
from basis.terminal.trying import inputs_lines, listing, tried, tried_lines, tried_record

PRODUCERS = tuple(dict.fromkeys(catalogue().producers.values()))
DRAWS = 20


def told(formula_id, **quantities):
    """What `try` says is wrong."""
    with pytest.raises(Faults) as found:
        try_formula(formula_id, quantities)
    return str(found.value)


@pytest.mark.filterwarnings("ignore")  # of SciPy, about inputs that no plant has
@of_each(PRODUCERS, attrgetter("id"), chapter_of)
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
@of_each(PRODUCERS, attrgetter("id"), chapter_of)
def test_the_example_of_the_help_on_inputs_runs_as_a_shell_reads_it(producer):
    shown = list(inputs_lines(producer.id))
    basis, command, name, *words = shlex.split(shown[-1])
    assert (basis, command, name, shown[-2]) == ("basis", "try", producer.id, "Example:")
    quantities = dict(word.partition("=")[::2] for word in words)
    values, results = tried(name, quantities, 17)
    assert {value.id for value in results} == set(producer.yields) and set(quantities) <= {line.partition("=")[0] for line in shown}
    facts = json.loads(json.dumps(tried_record(values, results), allow_nan=False))
    assert [{one["id"] for one in result["inputs"]} for result in facts] == [set(values) - set(producer.yields)] * len(facts)
    assert tried_lines(values, results)


def test_the_examples_of_the_help_run():
    for words, result in ((["air_pressure", "altitude=1600 m"], "kPa"),
                          (["element_face_area", "element_opening=[item_2, item_1]", "gross_area=[4 m^2, 9.5 m^2]"], "9.50 m²")):
        shown = CliRunner().invoke(main, ["try", *words])
        assert shown.exit_code == 0 and result in shown.output
        assert words[-1].partition("=")[2] in CliRunner().invoke(main, ["try", "--help"]).output


def test_help_on_inputs_tells_the_form_and_an_example_that_runs():
    shown = CliRunner().invoke(main, ["try", "element_face_area", "--help-inputs"]).output
    assert "element_opening='[WORD, …] for each of the air elements: item_1, item_2 …'" in shown and "gross_area='[NUMBER m^2, …] for each of the openings'" \
        in shown
    name, *words = shown.partition("Example:\n  basis try ")[2].strip().split(" ", 1)
    quantities = dict(part.partition("='")[::2] for part in words[0].removesuffix("'").split("' "))
    assert name == "element_face_area" and try_formula(name, quantities)


# -- shapes ---------------------------------------------------------------------------------------------------------------

BANDS = ", ".join(["60 dB"] * 9)


def test_lists_of_lists_are_written_as_such():
    values = try_formula("exhaust_self_noise", {"silencer_noise_whole": f"[[{BANDS}], [{BANDS.replace('60', '63')}]]"})
    assert values["silencer_noise_whole"].items == (("item_1", "item_2"), listed("band").fixed)
    assert values["silencer_noise_whole"].element("item_2", "8000_hz").number == 63
    deep = try_formula("contribution_share", {"contribution_ratio": "[[[1, 2], [3, 4], [5, 6]], [[7, 8], [9, 10], [11, 12]]]",
                                              "receiver_level": "[[11 dB, 12 dB], [13 dB, 14 dB]]"})
    assert deep["contribution_ratio"].number.tolist() == [[[1, 2], [3, 4], [5, 6]], [[7, 8], [9, 10], [11, 12]]]


def test_a_wrong_shape_is_a_fault():
    assert "'silencer_noise_whole' has lists of unlike length" in told("exhaust_self_noise", silencer_noise_whole=f"[[{BANDS}], [60 dB]]")
    assert "has 8 bands; expected 9 bands" in told("exhaust_self_noise", silencer_noise_whole=f"[[{BANDS.removesuffix(', 60 dB')}]]")
    unlike = told("face_velocity", opening_airflow="[[1 m^3/s, 2 m^3/s]]", gross_area="[4 m^2]")
    assert "'gross_area' has 1 opening; expected 2 openings, as the other inputs" in unlike
    assert "'item_3'" in told("element_face_area", element_opening="[item_3]", gross_area="[4 m^2, 5 m^2]")
    assert "in which a bracket or an item is missing" in told("face_velocity", opening_airflow="[[1 m^3/s,]]", gross_area="[4 m^2, 4 m^2]")


@pytest.mark.parametrize("written, said", [
    ("4 m^2", "is not written as a list; expected [NUMBER m^2, …] for each of the openings"),
    ("4 m^2; 5 m^2", "is not written as a list"),
    ("[4 m^2; 5 m^2]", "has 1 opening; expected 2"),
    ("[[4 m^2], [5 m^2]]", "has lists where single values are asked"),
    ("[4 m^2, 5 m^2", "in which a bracket is missing"), ("[4 m^2, 5 m^2]]", "in which a bracket"), ("[4 m^2][5 m^2]", "a bracket or an item is missing"),
    ("[4 m^2] 5 m^2", "in which a comma is missing"), ("[]", "in which a bracket or an item is missing"), ("[4 m^2,, 5 m^2]", "item is missing"),
    ("", "is not written as a list")])
def test_no_shape_is_guessed(written, said):
    assert said in told("face_velocity", opening_airflow="[[1 m^3/s, 2 m^3/s]]", gross_area=written)


def test_a_list_where_one_value_is_asked_is_a_fault_and_so_is_one_where_lists_are():
    assert "'altitude' is written as a list, and it is one value" in told("air_pressure", altitude="[1600 m]")
    assert "has no list of bands for each item" in told("exhaust_self_noise", silencer_noise_whole=f"[{BANDS}]")


def test_words_with_commas_or_brackets_stand_in_quotes():
    assert cells_of('["1, 2", "[3]", plain]', ("opening",)).tolist() == ["1, 2", "[3]", "plain"]


def test_the_number_of_items_is_asked_for_where_nothing_tells_it():
    # paths = sources x receivers (hand calculation): nought of either was once taken in silence
    assert "missing 'receivers'" in told("sound_paths", sound_sources="3") and "missing 'sound_sources'" in told("sound_paths")
    assert try_formula("sound_paths", {"sound_sources": "3", "receivers": "4"})["sound_paths"].number == 12
    assert "'receivers' is 'four'; expected how many there are" in told("sound_paths", sound_sources="3", receivers="four")
    assert "'openings' is not an input" in told("sound_paths", openings="3")


PROCEDURE = next(one for one in PRODUCERS if one.id == "mount_loads")


def test_a_procedure_is_tried_by_its_own_name_and_by_what_it_yields():
    procedures = [one for one in PRODUCERS if not isinstance(one, Formula) and one.id not in one.yields]
    assert len(procedures) > 20
    assert maker("mount_loads", catalogue()) is PROCEDURE is maker(PROCEDURE.yields[1], catalogue())
    assert "'altitude' is an input: no formula yields it" in told("altitude") and "see: basis find altitude" in told("altitude")


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
    assert "becomes 20.0 %, outside its physical range; expected 0 % to 10 %" in told("transformer_resistance_voltage", transformer_winding_loss="[200 kW]",
                                                                                     transformer_rating="[1000 kVA]")


# -- how well it is known -------------------------------------------------------------------------------------------------

AIR = {"heat_to_room": "[180 kW]", "outdoor_air_density": "1.14 kg/m^3", "air_heat_capacity": "1006 J/(kg*K)"}


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
    values = try_formula(producer.id, running_example(producer))
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


# -- what a checker is told -----------------------------------------------------------------------------------------------

def test_the_list_holds_every_formula_and_procedure():
    assert {name for _, name, _, _ in listing()} == {one.id for one in PRODUCERS}
    shown = CliRunner().invoke(main, ["try", "--list"])
    assert shown.exit_code == 0 and re.search(r"(?m)^  mount_loads +procedure ", shown.output) and re.search(r"(?m)^  air_pressure +formula ", shown.output)


def test_docstring_range_and_default_are_told_as_in_the_book():
    rise = next(line for line in inputs_lines("ventilation_airflow") if line.startswith("room_temperature_rise="))
    assert rise == "room_temperature_rise='NUMBER K': Temperature rise allowed in room; 0.5000 K to 60 K; holds for 3 to 25 K; default 10 K, common practice"
    values = try_formula("ventilation_airflow", AIR)
    shown = lines(values, values["ventilation_airflow"])
    assert any(line.startswith("  Outdoor air that carries the heat of the room") for line in shown)
    assert "  holds for Temperature rise allowed in room 3 to 25 K" in shown


def test_full_digits():
    # 180 kW / (1.14 kg/m³ x 1006 J/(kg K) x 11 K) = 180000/12615.24 = 14.268456248... m³/s (hand calculation)
    words = ["try", "ventilation_airflow", *(f"{name}={text}" for name, text in AIR.items()), "room_temperature_rise=11 K"]
    assert "14.26845625 m³/s" in CliRunner().invoke(main, [*words, "--digits", "10"]).output


def test_full_digits_of_levels():
    # two equal levels of 60 dB sum to 60 + 10 lg 2 = 63.0103 dB (hand calculation)
    term = next(term for term in terms().values() if term.kind == "level" and not term.axes)
    level = Value(term.id, term, 60 + 10 * np.log10(2), "given")
    assert level.text(unit=False) == "63.0" and with_digits({"": level}, 7)[""].text(unit=False) == "63.0103"
    assert [Value(term.id, term, number, "given").text(unit=False) for number in (-0.04, -0.06)] == ["0.0", "−0.1"]


def test_another_constant_than_that_of_the_book_is_told():
    """A project may not give one; who tries it is told."""
    tried = [try_formula("air_pressure", {"altitude": "1600 m", "standard_gravity": one})["air_pressure"] for one in ("9.80665 m/s^2", "10 m/s^2")]
    assert [one.warnings() for one in tried] == [(), ("Standard gravity is a constant of the book, 9.80665 m/s², and here another",)]
