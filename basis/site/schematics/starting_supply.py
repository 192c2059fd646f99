"""What starts the sets and what keeps it ready: charger and battery, compressor and receivers."""
from __future__ import annotations

from basis.site.lanes import Line
from basis.site.schematic import Part, Plan, amount, items, known, schematic, through, word
from basis.solving.book import Book


@schematic("Starting supply and charging")
def starting_supply(book: Book) -> Plan:
    """From above: what keeps the store full, the store, and what it turns. A battery that does not start the engine still feeds its controls. All is that of
    one set."""
    method = word(book, "starting_method")
    if not method:
        return Plan(none="no way of starting is stated")
    by_battery, by_air = method in ("battery", "both"), method in ("air", "both")
    battery = [_charger(by_battery), _battery(by_battery)] if known(book, "battery_capacity") or by_battery else []
    cranked = [*_cable(book), _starters(book)] if by_battery else []
    air = [_compressor(), _receivers()] if by_air else []
    controls = [Part("controls", "panel", "Controls of the set", (("standing current", "standing_current"),))] if battery else []
    parts = [*([Part("supply", "supply", "Station supply")] if battery or air else []), *battery, *controls, *cranked, *air, _engine(), _load(book)]
    return Plan(tuple(parts), _lines([part.id for part in battery], [part.id for part in controls], [part.id for part in cranked], [part.id for part in air]))


def _lines(battery: list[str], controls: list[str], cranked: list[str], air: list[str]) -> tuple[Line, ...]:
    fed = tuple(some[0] for some in (battery, air) if some)
    lines = [Line(("supply",), fed, "power"), *through("power", *([[one]] for one in battery)), *through("pressure", *([[one]] for one in air))]
    if battery:
        lines.append(Line((battery[-1],), (*controls, *cranked[:1]), "power"))
    lines += through("power", *([[one]] for one in cranked))
    lines += [Line((cranked[-1],), ("engine",), "power")] if cranked else []
    lines += [Line((air[-1],), ("engine",), "pressure")] if air else []
    return (*lines, Line(("engine",), ("load",), "power"))


def _charger(cranks: bool) -> Part:
    recharge = (("recharges all starts in", "recharge_time_after_start"),) if cranks else ()
    return Part("charger", "charger", "Charger", (("gives", "charger_site_current"), ("needed", "charger_current_required"), ("floats at", "float_voltage"),
                                                   *recharge))


def _battery(cranks: bool) -> Part:
    starts = (("starts", "starts_available"), ("asked", "starts_required")) if cranks else ()
    return Part("battery", "battery", "Battery", (
        ("", "battery_type"), ("batteries", "battery_units"), ("strings", "battery_strings"), ("voltage", "starting_voltage"),
        ("capacity", "battery_capacity"), ("at", "battery_temperature"), *starts))


def _cable(book: Book) -> list[Part]:
    shown = (("", "starter_cable_size"), ("length", "starter_cable_length"), ("drop", "starter_cable_drop"))
    return [Part("cable", "cable", "Starter cable", shown)] if known(book, "starter_cable_drop") or known(book, "starter_cable_length") else []


def _starters(book: Book) -> Part:
    return Part("starters", "motor", "Starters" if amount(book, "starters_per_set") > 1 else "Starter",
                (("number", "starters_per_set"), ("draw", "cranking_current"), ("at", "starter_voltage"), ("least", "starter_voltage_min")))


def _compressor() -> Part:
    return Part("compressor", "compressor", "Compressor", (("free air", "compressor_free_air"), ("recharges in", "air_recharge_time")))


def _receivers() -> Part:
    return Part("receivers", "vessel", "Air receivers", (("number", "air_receivers"), ("each", "receiver_volume"), ("full at", "receiver_pressure_max"),
                                                          ("starts down to", "receiver_pressure_min"), ("starts", "air_starts"), ("asked", "starts_required")))


def _engine() -> Part:
    return Part("engine", "engine", "Engine", (("a crank", "crank_time"), ("cranks in a cycle", "cranks_per_cycle")))


def _load(book: Book) -> Part:
    """The set on load; the times are a sum over stages, of which some must be listed."""
    staged = (("after", "start_time"), ("with a second crank", "start_time_second_crank")) if items(book, "start_stage") else ()
    return Part("load", "set", "Set on load", (*staged, ("allowed", "start_time_max")))
