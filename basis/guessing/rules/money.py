"""Prices for comparisons on the first day; no owner is held to them."""

from basis.guessing.rule import rule

KWH = 3.6e6
PRICES = {"USD": 0.15, "EUR": 0.22}  # bought energy, a kWh


@rule(ask=True)
def currency(frequency):
    """The rules know prices in USD, for 60 Hz, and in EUR, for 50 Hz."""
    return "USD" if frequency > 55 else "EUR"


@rule(spread="0.08 to 0.35", source="from-memory", ask=True)
def energy_price(currency):
    """0.15 USD/kWh or 0.22 EUR/kWh; the tariff decides."""
    return PRICES[currency] / KWH
