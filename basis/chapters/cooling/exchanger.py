"""Cooling, third part: an exchanger between the engine and a remote radiator that stands too high, or too far, for the engine's own coolant.

The radiators then have a circuit of their own, with pump and tank; its cap is taken to be like that of the engine's loop. Left out: its margin to boiling,
which is larger than the engine's by what the exchanger takes, and the short pipes between engine and exchanger.
"""

from basis.chapters.cooling.chapter import REMOTE
from basis.language.formula import check, formula
from basis.language.maths import count_over, not_given, sum_over

BEHIND = REMOTE | {"radiator_circuit": ("behind_exchanger",)}


@formula(source="definition")
def radiator_circuit_flow(radiator_placement, radiator_circuit, loop_flow, exchanger_radiator_flow):
    """Flow through the core of the loop: the engine's own coolant, or that of the circuit behind the exchanger."""
    return (loop_flow if radiator_circuit == "direct" else exchanger_radiator_flow) if radiator_placement == "remote" else loop_flow


@formula(source="definition")
def exchanger_difference(radiator_placement, radiator_circuit, exchanger_rated_difference):
    """What an exchanger takes from the temperature at which the radiator works. The coolant of the engine goes straight through the core without one."""
    return (0 if radiator_circuit == "direct" else exchanger_rated_difference) if radiator_placement == "remote" else 0


@formula(source="hydrostatics")
def exchanger_pressure(radiator_placement, radiator_circuit, coolant_cold_density, standard_gravity, loop_radiator_height, loop_cap_pressure,
                       circulation_pump_pressure):
    """Pressure on the exchanger's plates and gaskets: the column up to the radiator, the cap on top of it, and the pump, which may stand in front.

    Example: radiator_placement=remote, radiator_circuit=behind_exchanger, coolant_cold_density=1070 kg/m^3, loop_radiator_height=[50 m],
    loop_cap_pressure=[70 kPa], circulation_pump_pressure=[150 kPa] give [745 kPa] (hand calculation).
    """
    return ((coolant_cold_density * standard_gravity * loop_radiator_height + loop_cap_pressure + circulation_pump_pressure
             if radiator_circuit == "behind_exchanger" else 0) if radiator_placement == "remote" else 0)


@formula(source="definition")
def circulation_pump_pressure_needed(radiator_placement, radiator_circuit, loop_pipe_drop, loop_core_drop, exchanger_radiator_drop):
    """What the pump of the radiator's circuit must overcome. Height does not count: what goes up comes down in a closed loop."""
    return ((loop_pipe_drop + loop_core_drop + exchanger_radiator_drop
             if radiator_circuit == "behind_exchanger" else 0) if radiator_placement == "remote" else 0)


@formula(source="pump-power")
def circulation_pump_power(radiator_placement, radiator_circuit, exchanger_radiator_flow, circulation_pump_pressure, circulation_pump_efficiency):
    """Electric power of the pump of one circuit of one set; none where the engine's own pump moves the coolant.

    Example: radiator_placement=remote, radiator_circuit=behind_exchanger, exchanger_radiator_flow=[20 L/s], circulation_pump_pressure=[150 kPa],
    circulation_pump_efficiency=50 % give [6.0 kW] (hand calculation).
    """
    return ((exchanger_radiator_flow * circulation_pump_pressure / circulation_pump_efficiency
             if radiator_circuit == "behind_exchanger" else 0) if radiator_placement == "remote" else 0)


@formula(source="definition")
def circulation_pumps_power(radiator_placement, radiator_circuit, installed_sets, circulation_pump_power):
    """Power of these pumps with all installed sets running. Behind an exchanger there are some, whether their loops are listed or not."""
    return (((installed_sets * sum_over("coolant_loop", circulation_pump_power) if count_over("coolant_loop") > 0 else not_given)
             if radiator_circuit == "behind_exchanger" else 0) if radiator_placement == "remote" else 0)


@formula(source="definition")
def radiator_auxiliary_power(radiator_fans_power, circulation_pumps_power):
    """What the remote radiators take of the power of the sets. Without it they do not cool, so it must be there as soon as a set runs."""
    return radiator_fans_power + circulation_pumps_power


@formula(source="definition")
def radiator_circuit_volume(radiator_placement, radiator_circuit, loop_pipe_bore, loop_pipe_length, loop_radiator_volume):
    """Coolant of the circuit behind the exchanger: its pipes and core."""
    return ((3.141592653589793 / 4 * loop_pipe_bore ** 2 * loop_pipe_length + loop_radiator_volume
             if radiator_circuit == "behind_exchanger" else 0) if radiator_placement == "remote" else 0)


@formula(source=("ufgs-15133a", "expansion-reserve", "mass-conserved"))
def radiator_circuit_tank_needed(radiator_placement, radiator_circuit, expansion_tank_share, radiator_circuit_volume, coolant_cold_density, coolant_density,
                                 expansion_reserve):
    """Tank of that circuit, by the same rule as that of the engine. The circuit stays cooler than the engine's, which is left out on the safe side.

    Example: radiator_placement=remote, radiator_circuit=behind_exchanger, expansion_tank_share=15 %, radiator_circuit_volume=[600 L],
    coolant_cold_density=1078 kg/m^3, coolant_density=[1026 kg/m^3], expansion_reserve=3 % give [90 L] (hand calculation).
    """
    return ((radiator_circuit_volume * max(expansion_tank_share, coolant_cold_density / coolant_density - 1 + expansion_reserve)
             if radiator_circuit == "behind_exchanger" else 0) if radiator_placement == "remote" else 0)


exchanger_check = check("exchanger_rating", "exchanger_pressure", limit="exchanger_pressure_max", safe="below", source="exchanger-maker",
                        title="Pressure in the exchanger", applies=BEHIND)
circulation_check = check("circulation_pump", "circulation_pump_pressure", limit="circulation_pump_pressure_needed", safe="above", source="project",
                          title="Pump of the radiators' circuit", applies=BEHIND)
tank_check = check("radiator_circuit_tank", "radiator_circuit_tank_volume", limit="radiator_circuit_tank_needed", safe="above", source="ufgs-15133a",
                   title="Expansion tank of the radiators' circuit", applies=BEHIND)
