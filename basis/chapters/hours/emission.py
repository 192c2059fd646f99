"""Crankcase breather and running hours, second part: what a year of the ledger puts into the air, by shaft energy and by fuel.

Factors are means over the load range; starts, when an engine smokes most, are not counted apart.
"""

from basis.language.formula import check, formula
from basis.language.maths import lookup, sum_over


@formula(source=("npi-engines", "ap-42-large", "ap-42-small"))
def pollutant_factor(emission_table, pollutant_species, fuel_sulphur):
    """Factor of the table for this species; that of sulphur dioxide follows the sulphur in the fuel. A certificate or data sheet wins.

    Example: emission_table=ap-42-diesel-over-600-hp, pollutant_species=[nitrogen_oxides] give [14.6 g/kWh] (AP-42, table 3.4-1, from memory).
    """
    return (lookup(emission_table, "factor", pollutant_species)
            + lookup(emission_table, "sulphur_factor", pollutant_species) * fuel_sulphur)


@formula(source="emission-by-energy")
def record_pollutant_mass(record_shaft_energy, pollutant_factor, record_treatment_share, pollutant_reduction):
    """Mass from one kind of running: shaft energy times factor, less what treatment takes out while it is hot enough to work.

    Example: record_shaft_energy=[150000 kWh], pollutant_factor=[14.6 g/kWh] give [[2190 kg]] (hand calculation).
    """
    return record_shaft_energy * pollutant_factor * (1 - record_treatment_share * pollutant_reduction)


@formula(source="emission-by-energy")
def pollutant_mass(record_pollutant_mass):
    """Mass from all running of a year: outages count in the air, whatever a permit counts."""
    return sum_over("running_record", record_pollutant_mass)


@formula(source="definition")
def record_pollutant_share(record_pollutant_mass, pollutant_mass):
    """Which running to change first.

    Example: record_pollutant_mass=[[2190 kg]], pollutant_mass=[2920 kg] give [[75 %]] (hand calculation).
    """
    return record_pollutant_mass / pollutant_mass if pollutant_mass > 0 else 0


@formula(source="emission-by-energy")
def pollutant_mass_untreated(record_shaft_energy, pollutant_factor):
    """Mass of a year if the treatment never worked."""
    return sum_over("running_record", record_shaft_energy * pollutant_factor)


@formula(source="npi-engines")
def pollutant_fuel_factor(emission_table, pollutant_species, fuel_sulphur):
    """Factor of the same table by volume of fuel; not given where the table prints none.

    Example: emission_table=npi-2008-diesel-over-450-kw, pollutant_species=[nitrogen_oxides] give [52.6 kg/m^3] (National Pollutant Inventory manual, 2008).
    """
    return (lookup(emission_table, "fuel_factor", pollutant_species)
            + lookup(emission_table, "fuel_sulphur_factor", pollutant_species) * fuel_sulphur)


@formula(source="emission-by-fuel")
def pollutant_mass_by_fuel(annual_fuel, pollutant_fuel_factor):
    """The year again, from the fuel burnt, before treatment. A wide gap to the first figure points at the load or at the factor.

    Example: annual_fuel=24 m^3, pollutant_fuel_factor=[52.6 kg/m^3] give [1262 kg] (hand calculation).
    """
    return annual_fuel * pollutant_fuel_factor


@formula(source="sulphur-balance")
def sulphur_dioxide_by_balance(annual_fuel, fuel_density, fuel_sulphur, sulphur_to_dioxide_ratio):
    """Sulphur dioxide from the sulphur that was bought: no engine can put out more, and none puts out much less.

    Example: annual_fuel=24 m^3, fuel_density=850 kg/m^3, fuel_sulphur=10 ppm give 0.408 kg (hand calculation).
    """
    return annual_fuel * fuel_density * fuel_sulphur * sulphur_to_dioxide_ratio


@formula(source="potential-to-emit")
def pollutant_potential(installed_sets, engine_shaft_power, potential_hours, pollutant_factor):
    """What the plant could put out in the hours that a permit office counts with, all sets at full load and without treatment.

    Example: installed_sets=1, engine_shaft_power=74 hp, pollutant_factor=[0.031 lb/(hp*h)] give [1147 lb] (hand calculation).
    """
    return installed_sets * engine_shaft_power * potential_hours * pollutant_factor


mass_in_year = check("pollutants_in_year", "pollutant_mass", limit="pollutant_mass_max", safe="below", source="project",
                     title="Mass of pollutants in a year")
potential = check("potential_to_emit", "pollutant_potential", limit="pollutant_potential_max", safe="below", source="project",
                  title="Potential to emit")
