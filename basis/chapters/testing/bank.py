"""Exercise and tests, the load bank: its steps, power, cable, air, and noise beside the sets at the neighbour."""

from basis.language.formula import check, formula
from basis.language.maths import log10, m, max_over, nothing, pick, s, sqrt, sum_over


@formula(source="definition")
def bank_step_load(bank_step_ratio, set_rated_power):
    """Load of a set in each step. Example: bank_step_ratio=[75 %], set_rated_power=1500 kW give [1125 kW] (hand calculation)."""
    return bank_step_ratio * set_rated_power


@formula(source="load-rule-lowest")
def bank_step_lowest(bank_step_load):
    """Lowest load of each step: as planned until there is a log, which then decides."""
    return 1 * bank_step_load


@formula(source="test-balance")
def bank_step_power(bank_step_load, yearly_building_load):
    """What the bank takes beside the building.

    Example: bank_step_load=[625 kW], yearly_building_load=340 kW give [285 kW] (hand calculation).
    """
    return max(0, bank_step_load - yearly_building_load)


@formula(source="definition")
def bank_step_reactive(bank_step_power, bank_power_factor):
    """Reactive power that the bank takes in each step: without it the alternator and its regulator are not proved at their rating.

    Example: bank_step_power=[1500 kW], bank_power_factor=0.8 give [1125 kvar] (hand calculation).
    """
    return bank_step_power * sqrt(1 - bank_power_factor ** 2) / bank_power_factor


@formula(source="test-balance")
def yearly_run_time(bank_step_time):
    """Time of all steps."""
    return sum_over("bank_step", bank_step_time)


@formula(source="test-balance")
def yearly_run_energy(bank_step_load, bank_step_time):
    """Energy of one set in one run. Example: bank_step_load=[1125 kW], bank_step_time=[60 min] give 1125 kWh (hand calculation)."""
    return sum_over("bank_step", bank_step_load * bank_step_time)


@formula(source="test-balance")
def yearly_run_ratio(yearly_run_energy, set_rated_power, yearly_run_time):
    """Mean load of the run over rated power; none without steps.

    Example: yearly_run_energy=1500 kWh, set_rated_power=1500 kW, yearly_run_time=90 min give 66.7 % (hand calculation).
    """
    return yearly_run_energy / (set_rated_power * max(1 * s, yearly_run_time))


# ---- the bank ----

@formula(source="definition")
def bank_voltage(generating_voltage):
    """Voltage at the bank: that of the sets, unless the project says that a transformer stands between."""
    return 1 * generating_voltage


@formula(source="bank-overvoltage")
def bank_voltage_max(bank_rated_voltage, bank_overvoltage_ratio):
    """Voltage that the bank bears. Example: bank_rated_voltage=400 V, bank_overvoltage_ratio=10 % give 440 V (hand calculation)."""
    return bank_rated_voltage * (1 + bank_overvoltage_ratio)


@formula(source="load-bank-resistor")
def bank_power(bank_rated_power, bank_voltage, bank_rated_voltage):
    """Power at the voltage that it sees: a bank made for a higher voltage gives much less.

    Example: bank_rated_power=100 kW, bank_voltage=415 V, bank_rated_voltage=480 V give 74.75 kW (hand calculation).
    """
    return bank_rated_power * (bank_voltage / bank_rated_voltage) ** 2


@formula(source="definition")
def bank_power_needed(bank_step_power):
    """Power that the bank must take in its greatest step."""
    return max_over("bank_step", bank_step_power)


@formula(source="definition")
def bank_current(bank_power_needed, bank_power_factor, bank_voltage):
    """Current in each phase of the bank's cable. Example: bank_power_needed=750 kW, bank_power_factor=1, bank_voltage=480 V give 902 A (hand calculation)."""
    return bank_power_needed / (sqrt(3) * bank_power_factor * bank_voltage)


@formula(source="steady-flow-energy")
def bank_airflow(bank_power_needed, outdoor_air_density, air_heat_capacity, bank_air_rise):
    """Air that carries the heat of the bank away.

    Example: bank_power_needed=1500 kW, outdoor_air_density=1.1 kg/m^3, air_heat_capacity=1005 J/(kg*K), bank_air_rise=40 K give 33.9 m^3/s (hand calculation).
    """
    return bank_power_needed / (outdoor_air_density * air_heat_capacity * bank_air_rise)


@formula(source="bank-point-source")
def bank_level(bank_sound_power, bank_distance):
    """Level of the bank alone at the neighbour. Example: bank_sound_power=100 dBA, bank_distance=10 m give 72 dBA (hand calculation)."""
    return bank_sound_power - 20 * log10(bank_distance / m) - 8


@formula(source="definition")
def bank_receiver_distance(test_noise_chapter, bank_x, receiver_x, bank_y, receiver_y):
    """From the bank to each receiver in the plan of the noise chapter; no nearer than a metre.

    Example: test_noise_chapter=in_this_book, bank_x=0 m, receiver_x=[30 m], bank_y=0 m, receiver_y=[40 m] give [50 m] (hand calculation).
    """
    return max(1 * m, sqrt((bank_x - receiver_x) ** 2 + (bank_y - receiver_y) ** 2)) if test_noise_chapter == "in_this_book" else nothing


@formula(source="bank-point-source")
def bank_receiver_level(bank_sound_power, bank_receiver_distance):
    """Level of the bank alone at each receiver.

    Example: bank_sound_power=100 dBA, bank_receiver_distance=[10 m] give [72 dBA] (hand calculation).
    """
    return bank_sound_power - 20 * log10(bank_receiver_distance / m) - 8


@formula(source="sound-energy")
def test_receiver_level(test_noise_chapter, test_running_case, receiver_level, bank_receiver_level):
    """Sets that run in the test and the bank together.

    Example: test_noise_chapter=in_this_book, test_running_case=item_1, receiver_level=[[60 dBA]], bank_receiver_level=[60 dBA] give [63.0 dBA] (hand
    calculation).
    """
    return (10 * log10(10 ** (pick(test_running_case, receiver_level) / 10) + 10 ** (bank_receiver_level / 10))
            if test_noise_chapter == "in_this_book" else nothing)


@formula(source="project")
def test_level_limit(test_noise_chapter, test_limit_period, level_limit):
    """Limit of the hours in which the test is run, at each receiver."""
    return pick(test_limit_period, level_limit) if test_noise_chapter == "in_this_book" else nothing


ON_BANK = {"test_load_way": ("bank_bought", "bank_hired")}

bank_enough = check("bank_enough", "bank_power", limit="bank_power_needed", safe="above", source="load-bank-resistor", title="Power of the load bank",
                    applies=ON_BANK)
bank_bears = check("bank_bears_voltage", "bank_voltage_max", limit="bank_voltage", safe="above", source="bank-overvoltage", exact=True, self_test=True,
                   title="The bank is made for the voltage that it sees", applies=ON_BANK,
                   fault="a bank made for that voltage, or bank_voltage behind the transformer that stands between")
bank_cable = check("bank_cable", "bank_current", limit="bank_cable_ampacity", safe="below", source="project", title="Cable of the load bank", applies=ON_BANK)
bank_noise = check("bank_noise", "bank_level", limit="bank_level_max", safe="below", source="bank-point-source",
                   title="Noise of the load bank alone, the sets not computed in this book", applies={**ON_BANK, "test_noise_chapter": ("not_in_this_book",)})
test_noise = check("test_noise", "test_receiver_level", limit="test_level_limit", safe="below", source="sound-energy",
                   title="Noise of the load bank and the sets at neighbours", applies={**ON_BANK, "test_noise_chapter": ("in_this_book",)})
