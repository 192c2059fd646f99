"""Standby warmth, third part: energy bought, wear of elements, cost, and what makes the difference between one way and another.

Savings are counted against one way that the project names, and again with each mechanism taken away that could make a warm room
cheaper.
"""

from basis.language.formula import SOME, check, formula
from basis.language.maths import h, max_over, min_over, nothing, pick

# Energy, wear and cost of each way


@formula(source="definition")
def heating_heat_total(heating_block_energy, heating_room_heat):
    """All heat put in. With the same room it never falls when the room is made warmer: what leaves must be put in."""
    return heating_block_energy + heating_room_heat


@formula(source="definition")
def heating_room_energy(heating_room_heat, heating_room_efficiency):
    """Energy bought for room heat; a heat pump buys less than it gives."""
    return heating_room_heat / heating_room_efficiency


@formula(source="definition")
def heating_energy(heating_block_energy, heating_room_energy):
    """Energy bought for blocks and room."""
    return heating_block_energy + heating_room_energy


@formula(source="element-life")
def heating_element_life(element_cycles_rated, heating_heater_cycles):
    """Rated cycles over the cycles of a year, capped at a hundred years. Hours at temperature and dry starts wear as well and are not counted.

    Example: element_cycles_rated=100000, heating_heater_cycles=[25000] give [4 years] (hand calculation).
    """
    return 8760 * h * element_cycles_rated / max(heating_heater_cycles, element_cycles_rated / 100)


@formula(source="element-life")
def heating_replacements(installed_sets, elements_per_set, heating_heater_cycles, element_cycles_rated):
    """Elements that are expected to fail in a year, all sets.

    Example: installed_sets=3, elements_per_set=2, heating_heater_cycles=[25000], element_cycles_rated=100000 give [1.5] (hand calculation).
    """
    return installed_sets * elements_per_set * heating_heater_cycles / element_cycles_rated


@formula(source="heating-price")
def heating_energy_cost(energy_price, heating_block_energy, heating_block_price_factor, heating_room_energy, heating_room_price_factor):
    """Energy at the price of its own contract.

    Example: energy_price=0.20 cur/kWh, heating_block_energy=[50000 kWh], heating_room_energy=[10000 kWh], heating_room_price_factor=[0.5] give [11000 cur]
    (hand calculation).
    """
    return energy_price * (heating_block_energy * heating_block_price_factor + heating_room_energy * heating_room_price_factor)


@formula(source="element-life")
def heating_wear_cost(heating_replacements, element_replacement_cost):
    """Elements replaced in a year, with coolant and labour."""
    return heating_replacements * element_replacement_cost


@formula(source="definition")
def heating_running_cost(heating_energy_cost, heating_wear_cost):
    """What a year costs once it is built."""
    return heating_energy_cost + heating_wear_cost


@formula(source="present-worth")
def heating_yearly_cost(heating_running_cost, heating_first_cost, voltage_annuity_factor):
    """Running cost, and first cost as an even payment over the life of the project.

    Example: heating_running_cost=[1000 cur], heating_first_cost=[12462 cur], voltage_annuity_factor=12.462 give [2000 cur] (hand calculation).
    """
    return heating_running_cost + heating_first_cost / voltage_annuity_factor


# The same with one mechanism taken away

@formula(source="heating-price")
def heating_cost_joined(energy_price, heating_block_energy_joined, heating_block_price_factor, heating_room_heat_joined, heating_room_efficiency,
                        heating_room_price_factor, installed_sets, elements_per_set, heating_heater_cycles_joined, element_cycles_rated,
                        element_replacement_cost):
    """Running cost if no heat of a block went past the room: the loss straight to outdoors is led through the room air instead."""
    return energy_price * (heating_block_energy_joined * heating_block_price_factor
                           + heating_room_heat_joined / heating_room_efficiency * heating_room_price_factor) + (
        installed_sets * elements_per_set * heating_heater_cycles_joined / element_cycles_rated * element_replacement_cost)


@formula(source="heating-price")
def heating_cost_one_efficiency(energy_price, heating_block_energy, heating_block_price_factor, heating_room_heat, heating_room_price_factor,
                                heating_wear_cost):
    """Running cost if room heat took as much energy as it gives, like a resistance heater."""
    return energy_price * (heating_block_energy * heating_block_price_factor + heating_room_heat * heating_room_price_factor) + heating_wear_cost


@formula(source="heating-price")
def heating_cost_one_price(energy_price, heating_energy, heating_wear_cost):
    """Running cost if all energy were bought at the one price of the project."""
    return energy_price * heating_energy + heating_wear_cost


@formula(source="heating-price")
def heating_cost_no_wear(heating_energy_cost):
    """Running cost if elements lasted for ever."""
    return heating_energy_cost


@formula(source="heating-price")
def heating_cost_heat_only(energy_price, heating_block_energy_joined, heating_room_heat_joined):
    """With all four taken away only the heat that leaves the room counts: conductance times the difference to outdoors, hour by hour."""
    return energy_price * (heating_block_energy_joined + heating_room_heat_joined)


@formula(source="definition")
def heating_saving(heating_case_base, heating_running_cost):
    """Saved against the way compared with; below nought it costs more."""
    return pick(heating_case_base, heating_running_cost) - heating_running_cost


@formula(source="definition")
def heating_saving_joined(heating_case_base, heating_cost_joined):
    """Saved when no heat goes past the room. The distance to the full saving is what the loss straight to outdoors makes."""
    return pick(heating_case_base, heating_cost_joined) - heating_cost_joined


@formula(source="definition")
def heating_saving_one_efficiency(heating_case_base, heating_cost_one_efficiency):
    """Saved when room heat is no more efficient than block heat."""
    return pick(heating_case_base, heating_cost_one_efficiency) - heating_cost_one_efficiency


@formula(source="definition")
def heating_saving_one_price(heating_case_base, heating_cost_one_price):
    """Saved when all energy has one price."""
    return pick(heating_case_base, heating_cost_one_price) - heating_cost_one_price


@formula(source="definition")
def heating_saving_no_wear(heating_case_base, heating_cost_no_wear):
    """Saved when wear costs nothing."""
    return pick(heating_case_base, heating_cost_no_wear) - heating_cost_no_wear


@formula(source="definition")
def heating_saving_heat_only(heating_case_base, heating_cost_heat_only):
    """Saved by heat alone. A room held warmer with the same fabric can only cost more here; a tighter one still saves."""
    return pick(heating_case_base, heating_cost_heat_only) - heating_cost_heat_only


# The curve over set points

@formula(source="definition")
def trial_heat_total(trial_block_energy, trial_room_heat):
    """All heat put in at this set point. It never falls as the set point rises."""
    return trial_block_energy + trial_room_heat


@formula(source="heating-price")
def trial_block_cost(energy_price, trial_block_energy, heating_case_chosen, heating_block_price_factor):
    """Blocks at this set point: a warmer room takes some of their work off them."""
    return energy_price * trial_block_energy * pick(heating_case_chosen, heating_block_price_factor)


@formula(source="heating-price")
def trial_room_cost(energy_price, trial_room_heat, heating_case_chosen, heating_room_price_factor, heating_room_efficiency):
    """Room heat at this set point."""
    return energy_price * trial_room_heat * pick(heating_case_chosen, heating_room_price_factor) / pick(heating_case_chosen, heating_room_efficiency)


@formula(source="element-life")
def trial_wear_cost(installed_sets, elements_per_set, trial_heater_cycles, element_cycles_rated, element_replacement_cost):
    """Wear at this set point. Switching is busiest where heaters are on half of the time."""
    return installed_sets * elements_per_set * trial_heater_cycles / element_cycles_rated * element_replacement_cost


@formula(source="definition")
def trial_running_cost(trial_block_cost, trial_room_cost, trial_wear_cost):
    """What a year costs at this set point."""
    return trial_block_cost + trial_room_cost + trial_wear_cost


@formula(source="definition")
def heating_cost_least(trial_running_cost):
    """Bottom of the curve."""
    return min_over("set_point", trial_running_cost)


@formula(source="definition")
def set_point_cheapest(set_point_trial, trial_running_cost, heating_cost_least):
    """Set point at the bottom of the curve, the lowest one if several cost the same. At an end of the range the true bottom may lie beyond it."""
    return min_over("set_point", set_point_trial if trial_running_cost <= heating_cost_least else max_over("set_point", set_point_trial))


@formula(source="definition")
def set_point_excess(heating_case_chosen, heating_set_point, heating_running_cost, heating_cost_least):
    """What the chosen way costs above the bottom of its curve, where it heats the room. Below nought it lies beyond the range that was tried."""
    return (pick(heating_case_chosen, heating_running_cost) / heating_cost_least - 1
            if pick(heating_case_chosen, heating_set_point) > 0 and heating_cost_least > 0 else nothing)


# The chosen way

@formula(source="definition")
def blocks_energy_held(heating_case_chosen, heating_block_energy):
    """Energy of heaters and pumps in the way that is built; the station supply counts the same."""
    return pick(heating_case_chosen, heating_block_energy)


@formula(source="definition")
def room_energy_held(heating_case_chosen, heating_room_energy):
    """Energy for room heat in the way that is built; the station supply counts it where it feeds the room heaters."""
    return pick(heating_case_chosen, heating_room_energy)


@formula(source="definition")
def heating_cost_held(heating_case_chosen, heating_yearly_cost):
    """Whole yearly cost of the way that is built."""
    return pick(heating_case_chosen, heating_yearly_cost)


@formula(source="definition")
def heating_compared(heating_case_base, heating_case_chosen):
    """Whether the chosen way is held against another one."""
    return 1 if heating_case_base != heating_case_chosen else 0


@formula(source="definition")
def heating_cost_base(heating_case_base, heating_case_chosen, heating_yearly_cost):
    """Whole yearly cost of the way that the chosen one is compared with, where that is another."""
    return pick(heating_case_base, heating_yearly_cost) if heating_case_base != heating_case_chosen else nothing


@formula(source="definition")
def heating_saving_held(heating_case_chosen, heating_saving):
    """Saved in a year by the way that is built, first cost not counted."""
    return pick(heating_case_chosen, heating_saving)


@formula(source="definition")
def heating_saving_held_joined(heating_case_chosen, heating_saving_joined):
    """Saved by the way that is built if no heat went past the room."""
    return pick(heating_case_chosen, heating_saving_joined)


@formula(source="definition")
def heating_saving_held_one_efficiency(heating_case_chosen, heating_saving_one_efficiency):
    """Saved by the way that is built if room heat were no more efficient than block heat."""
    return pick(heating_case_chosen, heating_saving_one_efficiency)


@formula(source="definition")
def heating_saving_held_one_price(heating_case_chosen, heating_saving_one_price):
    """Saved by the way that is built if all energy had one price."""
    return pick(heating_case_chosen, heating_saving_one_price)


@formula(source="definition")
def heating_saving_held_no_wear(heating_case_chosen, heating_saving_no_wear):
    """Saved by the way that is built if elements lasted for ever."""
    return pick(heating_case_chosen, heating_saving_no_wear)


@formula(source="definition")
def heating_saving_held_heat_only(heating_case_chosen, heating_saving_heat_only):
    """Saved by the way that is built by heat alone."""
    return pick(heating_case_chosen, heating_saving_heat_only)


cost_check = check("heating_cost", "heating_cost_held", limit="heating_cost_base", safe="below", source="project",
                   title="Chosen way costs no more than the one compared with", exact=True, applies={"heating_compared": SOME})
curve_check = check("set_point", "set_point_excess", limit="set_point_excess_max", safe="below", source="set-point-excess",
                    title="Set point near the cheapest", exact=True)
