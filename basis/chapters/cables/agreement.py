"""Cables as installed, third part: what another chapter knows of the same cable too. Words cannot be handed on from there, so what follows from them is
held together: the cable of a set against the one that was worked out for it, a feeder against that of the fault study.
"""

from basis.language.formula import check, formula
from basis.language.maths import pick

OF_A_SET = {"voltage_chapter": ("in_this_book",), "cable_current_from": ("set",)}


@formula(source="definition")
def cable_feeder_gap(cable_route_from, cable_feeder, feeder_resistance_per_length, cable_resistance_20):
    """A cable that is a feeder of the fault study has one conductor in both: its size is typed at each, since they look it up in tables of their own.

    Example: cable_route_from=[feeder], cable_feeder=[item_1], feeder_resistance_per_length=[0.0754 ohm/km], cable_resistance_20=[0.0991 ohm/km] give [31.4 %]
    (hand calculation).
    """
    return abs(cable_resistance_20 / pick(cable_feeder, feeder_resistance_per_length) - 1) if cable_route_from == "feeder" else 0


set_length = check("set_cable_length", "cable_length", limit="generator_cable_length", safe="below", source="definition", exact=True,
                   title="Cables of the sets no longer than the one that was worked out", applies=OF_A_SET)
set_conductor = check("set_cable_conductor", "cable_conductor_area", limit="conductor_area", safe="above", source="definition", exact=True,
                      title="Conductors of the sets' cables no smaller than those that were worked out", applies=OF_A_SET)
set_capacity = check("set_cable_capacity", "cable_capacity", limit="generator_cable_capacity", safe="above", source="definition", exact=True,
                     title="Cables of the sets carry no less than the one that was worked out", applies=OF_A_SET)
set_drop = check("set_cable_drop", "cable_voltage_drop_ratio", limit="generator_cable_voltage_drop_ratio", safe="below", source="definition", exact=True,
                 title="Cables of the sets drop no more than the one that was worked out", applies=OF_A_SET)
set_drop_allowed = check("set_cable_drop_allowed", "cable_voltage_drop_max", limit="generator_cable_voltage_drop_max", safe="below", source="definition",
                         exact=True, title="Cables of the sets may drop no more than the one that was worked out", applies=OF_A_SET)
set_diameter = check("set_cable_diameter", "cable_diameter", limit="cable_outer_diameter", safe="below", source="definition", exact=True,
                     title="Cables of the sets no thicker than the one for which room was found", applies={**OF_A_SET, "cable_dimension": ("data_sheet",)})
set_withstand = check("set_cable_withstand", "cable_withstand", limit="short_circuit_withstand", safe="above", source="definition", exact=True,
                      title="Cables of the sets bear no less fault current than the one that was worked out", applies=OF_A_SET)
as_feeder = check("cable_as_feeder", "cable_feeder_gap", limit="cable_feeder_gap_max", safe="below", source="definition",
                  title="Conductor of a cable as in the fault study", applies={"cable_route_from": ("feeder",)})
