"""Speed, alternator, fuel and heat, size of the engine, air and exhaust, reactances and times of a set."""

from math import log10, sqrt

from basis.guessing.rule import Rule, quantity, row, rows, rule

KW, BAR, LITRE, HOUR, MINUTE = 1e3, 1e5, 1e-3, 3600.0, 60.0
FUEL_DENSITY, FUEL_HEAT = 840.0, 42.7e6  # kg/m³, J/kg
LINES = {0.25: (1.7, 0.0802), 0.5: (2.1, 0.1356), 0.75: (2.7, 0.1947), 1.0: (1.2, 0.2680)}  # L/h and L/h per kW of set power, by share of load
POINTS = {"quarter": 0.25, "half": 0.5, "three_quarters": 0.75, "full": 1.0}
CYLINDERS = ((18 * LITRE, 6), (55 * LITRE, 12), (95 * LITRE, 16))  # up to this displacement
LOW_VOLTAGE = 1000.0  # V


@rule(source="definition")
def engine_speed(frequency):
    """Four poles: speed is half the frequency, 30 f in r/min."""
    return frequency / 2


@quantity()
def rated_apparent_power(set_power):
    """Set power over a power factor of 0.8."""
    return set_power / 0.8


@quantity(source="definition")
def rated_current(rated_apparent_power, voltage):
    """S/(√3 U)."""
    return rated_apparent_power / (sqrt(3) * voltage)


@rule(spread="±1 point", source="from-memory", digits=4)
def alternator_efficiency(set_power):
    """0.930 + 0.026 lg(P/100 kW), at most 0.970."""
    return min(0.930 + 0.026 * log10(set_power / (100 * KW)), 0.970)


@quantity(spread="±2 %")
def shaft_power(set_power, alternator_efficiency):
    """P/η, and 0.03 P for the fan of the radiator on the set."""
    return set_power / alternator_efficiency + 0.03 * set_power


@rows("fuel_points", spread="−12/+3 %", source="fuel-by-size", digits=4, valid={"set_power": (100 * KW, 2250 * KW)})
def fuel_curve(set_power, burn):
    """L/h at 25, 50, 75 and 100 % load: 1.7 + 0.0802 P, 2.1 + 0.1356 P, 2.7 + 0.1947 P, 1.2 + 0.2680 P, with P in kW."""
    return {name: row(name.replace("_", " ").capitalize() + " load", fuel_point_load=share * set_power, fuel_point_rate=burn[share])
            for name, share in POINTS.items()}


@quantity(source="fuel-by-size")
def burn(set_power):
    """Fuel of a set in m³/s by share of load."""
    return {share: (fixed + slope * set_power / KW) * LITRE / HOUR for share, (fixed, slope) in LINES.items()}


@quantity(source="fuel-by-size")
def burn_at_load(burn, load, set_power, sets_needed):
    """Fuel of one of the sets needed, at its share of the load: straight lines between the points, the first one held below a quarter."""
    share = min(load / sets_needed / set_power, 1.0)
    low, high = next(((low, high) for low, high in ((0.25, 0.5), (0.5, 0.75), (0.75, 1.0)) if share <= high))
    return burn[low] + (burn[high] - burn[low]) * (share - low) / (high - low)


@rule(spread="−12/+3 %", source="fuel-by-size")
def specific_fuel_consumption(burn, shaft_power):
    """Fuel of full load over shaft power, fan included, at 0.84 kg/L."""
    return burn[1.0] * FUEL_DENSITY / shaft_power


@quantity()
def fuel_heat(burn):
    """Fuel of full load at 0.84 kg/L and 42.7 MJ/kg."""
    return burn[1.0] * FUEL_DENSITY * FUEL_HEAT


@rule(spread="±4 points")
def jacket_heat_share():
    """Jacket and oil take 15 % of the fuel heat, so that the balance closes."""
    return 0.15


@rule(spread="±3 points")
def charge_air_heat_share():
    """Charge air gives off 8.5 % of the fuel heat, so that the balance closes."""
    return 0.085


@rule(spread="±1.5 points")
def engine_heat_share():
    """4 % of the fuel heat is radiated, so that the balance closes."""
    return 0.04


@quantity()
def jacket_and_oil(fuel_heat, jacket_heat_share):
    """Heat to jacket and oil."""
    return fuel_heat * jacket_heat_share


@quantity()
def charge_air(fuel_heat, charge_air_heat_share):
    """Heat of the charge air."""
    return fuel_heat * charge_air_heat_share


@quantity()
def radiated(fuel_heat, engine_heat_share):
    """Heat radiated by the engine."""
    return fuel_heat * engine_heat_share


@quantity()
def room_heat(radiated, set_power, alternator_efficiency):
    """Radiated heat and the loss of the alternator."""
    return radiated + set_power * (1 / alternator_efficiency - 1)


@quantity(spread="±15 %", source="from-memory")
def cylinder_pressure(set_power):
    """18 + 3 lg(P/200 kW) bar, held to 14 to 23."""
    return min(max(18 + 3 * log10(set_power / (200 * KW)), 14), 23) * BAR


@rule(spread="±20 %", source="from-memory")
def engine_displacement(shaft_power, cylinder_pressure, engine_speed):
    """Shaft power over half the speed and a mean effective pressure of 18 + 3 lg(P/200 kW) bar, held to 14 to 23."""
    return 2 * shaft_power / (cylinder_pressure * engine_speed)


@rule(spread="one class", source="from-memory")
def engine_cylinders(engine_displacement):
    """Up to 18 L 6 in line, to 55 L 12, to 95 L 16, above 20 in V."""
    return float(next((count for most, count in CYLINDERS if engine_displacement <= most), 20))


@rule(spread="5.2 to 6.8")
def combustion_air_ratio():
    """5.6 kg of air for each kWh at the shaft."""
    return 5.6 / (KW * HOUR)


@quantity()
def combustion_air(combustion_air_ratio, shaft_power):
    """Mass of air that an engine draws."""
    return combustion_air_ratio * shaft_power


@quantity()
def exhaust_mass(combustion_air, burn):
    """Air and fuel."""
    return combustion_air + burn[1.0] * FUEL_DENSITY


@quantity()
def exhaust_heat_to_25(exhaust_mass):
    """Exhaust mass times 1.08 kJ/(kg·K) times 465 K."""
    return exhaust_mass * 1080 * (490 - 25)


@rule(spread="±4 points")
def exhaust_heat_share(exhaust_heat_to_25, fuel_heat):
    """Exhaust of 5.6 kg/kWh and the fuel, cooled from 490 to 25 °C at 1.08 kJ/(kg·K), over fuel heat."""
    return exhaust_heat_to_25 / fuel_heat


@rule(spread="430 to 550 °C")
def exhaust_temperature_rated():
    """490 °C at full load."""
    return 490 + 273.15


@rule(spread="5 to 10 kPa", ask=True)
def exhaust_back_pressure_max():
    """6.7 kPa; the limit is the maker's."""
    return 6700.0


@rule(source="from-memory", ask=True)
def combustion_intake_restriction_max():
    """6.2 kPa with a dirty filter, 3.7 with a clean one; the limit is the maker's."""
    return 6200.0


def _reactance(term_id: str, low: float, high: float, spread: str, source: str, more: str = "") -> Rule:
    """One figure for machines of low voltage, one for those above."""
    def run(voltage):
        return low if voltage <= LOW_VOLTAGE else high
    run.__name__, run.__doc__ = term_id, f"{low:.2g} up to 1 kV, {high:.2g} above, on the rating of the set{more}."
    return rule(spread=spread, source=source)(run)


subtransient = _reactance("subtransient_reactance", 0.12, 0.15, "0.08 to 0.20", "reactances-by-size",
                          "; breaker duty rests on the low end of the spread, dips on the high end")
transient = _reactance("transient_reactance", 0.18, 0.22, "0.12 to 0.30", "reactances-by-size")
synchronous = _reactance("synchronous_reactance", 2.8, 2.2, "1.5 to 3.5", "reactances-by-size")
negative_sequence = _reactance("negative_sequence_reactance", 0.15, 0.18, "0.10 to 0.24", "from-memory")
zero_sequence = _reactance("zero_sequence_reactance", 0.04, 0.06, "0.02 to 0.10", "from-memory")


def _time_constant(term_id: str, seconds: float, more: str = "") -> Rule:
    """One figure for all machines."""
    def run():
        return seconds
    run.__name__, run.__doc__ = term_id, f"{seconds:g} s{more}."
    return rule(spread="±50 %", source="from-memory")(run)


subtransient_decay = _time_constant("subtransient_time_constant", 0.015)
transient_decay = _time_constant("transient_time_constant", 0.10)
armature_decay = _time_constant("armature_time_constant", 0.03)
field_decay = _time_constant("field_time_constant", 2.5, " with the stator open")


@rule(spread="±40 %", source="from-memory")
def inertia_constant(set_power):
    """0.60 + 0.25 lg(P/100 kW) s on the rating, engine and alternator together."""
    return 0.60 + 0.25 * log10(set_power / (100 * KW))


@rule(spread="2.5 to 3.5", ask=True)
def sustained_current_ratio():
    """3 with an excitation support; nought without."""
    return 3.0


@rule(ask=True)
def field_forcing_time():
    """10 s with an excitation support."""
    return 10.0


@rule(spread="0.05 to 0.2 s")
def fuel_delay():
    """0.10 s of dead time of the fuel."""
    return 0.10


@rule()
def sharing_mode():
    """Isochronous sharing."""
    return "isochronous"


@rows("sharing_sets", spread="droop 0 to 5 %, reactive droop 2 to 4 %")
def sharing(sets):
    """Stand-by droop 4 %, reactive droop 3 %."""
    return {f"set_{place}": row(f"Set {place}", sharing_droop=0.04, sharing_voltage_droop=0.03, sharing_trim=0.0)
            for place in range(1, int(sets) + 1)}
