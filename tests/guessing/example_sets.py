"""Three invented sets of facts, small and low, middling, large and high up, for which the numbers of the rules were worked out apart."""

from basis.guessing.facts import BY_KEY, read_facts


def texts(*values):
    """Facts as they are typed, in their order."""
    return dict(zip(BY_KEY, values, strict=True))


TEXTS = {
    "A": texts("1", "500 kW", "60 Hz", "480 V", "50 m", "-10 degC", "35 degC", "400 kW", "60 m", "60 dBA"),
    "B": texts("2", "1000 kW", "50 Hz", "400 V", "500 m", "-20 degC", "38 degC", "900 kW", "100 m", "50 dBA"),
    "C": texts("3", "2000 kW", "60 Hz", "4160 V", "1600 m", "-25 degC", "40 degC", "3200 kW", "200 m", "50 dBA")}
COLD_YARD = texts("3", "1600 kW", "60 Hz", "480 V", "1450 m", "-31 degC", "35 degC", "2600 kW", "85 m", "45 dBA")


def facts_of(name):
    return read_facts(TEXTS[name])
