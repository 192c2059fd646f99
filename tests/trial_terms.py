"""A few Terms and a helper to define formulas on them, for tests of the core that must not lean on a chapter."""

import sys
from functools import lru_cache

from basis.language import terms
from basis.language.terms import Term

TRIAL = (
    Term("trial_area", "A", "m^2", "Area", "", shown=("m^2", "ft^2"), axes=("opening",), low=0),
    Term("trial_room_area", "A_r", "m^2", "Area of room", "", axes=("heat_source",)),
    Term("trial_free_area", "A_f", "m^2", "Free area", "", axes=("opening",), either=True),
    Term("trial_place", "", "reference", "Place", "", axes=("opening",), refers_to="heat_source"),
    Term("trial_picked", "A_p", "m^2", "Picked area", "", axes=("opening",)),
    Term("trial_flow", "q", "m^3/s", "Flow", "", shown=("m^3/s", "ft^3/min")),
    Term("trial_length", "l", "m", "Length", ""),
    Term("trial_time", "t", "s", "Time", ""),
    Term("trial_velocity", "v", "m/s", "Velocity", "", axes=("opening",)),
    Term("trial_total", "A_t", "m^2", "Total area", ""),
    Term("trial_running_total", "A_Σ", "m^2", "Running total", "", axes=("opening",)),
    Term("trial_largest", "A_max", "m^2", "Largest", ""),
    Term("trial_mean", "A_m", "m^2", "Mean area", ""),
    Term("trial_level", "L", "dB", "Level", "", axes=("opening", "band"), kind="level"),
    Term("trial_weight", "w", "dB", "Weight", "", axes=("band",), kind="level", default="-39.4, -26.2, -16.1, -8.6, -3.2, 0, 1.2, 1, -1.1",
         source="definition"),
    Term("trial_sum", "L_A", "dB", "Sum", "", axes=("opening",), kind="level"),
    Term("trial_all", "L_all", "dB", "Sum of all", "", kind="level"),
    Term("trial_mode", "", "choice", "Mode", "", choices=("short", "long")),
    Term("trial_way", "", "choice", "Way", "", choices=("up", "down"), default="up", source="common-practice"),
    Term("trial_kind", "", "choice", "Kind of opening", "", choices=("grille", "door"), axes=("opening",)),
    Term("trial_long_only", "l_l", "m", "Needed by long only", ""),
    Term("trial_result", "l_r", "m", "Result", ""),
    Term("trial_limit", "v_lim", "m/s", "Limit", "", optional=True),
    Term("trial_item_limit", "v_i", "m/s", "Limit of an item", "", axes=("opening",), optional=True),
    Term("trial_factor", "η", "1", "Factor", "", default="0.5", source="common-practice"),
    Term("trial_hot", "T_1", "K", "Hot", "", kind="temperature", shown=("degC", "degF"), low=200, high=400),
    Term("trial_cold", "T_2", "K", "Cold", "", kind="temperature", shown=("degC", "degF")),
    Term("trial_rise", "ΔT", "K", "Rise", "", kind="temperature difference", shown=("K", "delta_degF")),
    Term("trial_rise_max", "ΔT_max", "K", "Limit of the rise", "", kind="temperature difference", shown=("K", "delta_degF")),
    Term("trial_active", "P", "W", "Active", "", kind="active power", shown=("kW",)),
    Term("trial_apparent", "S", "W", "Apparent", "", kind="apparent power", shown=("kVA",)),
    Term("trial_ratio", "λ", "1", "Ratio", ""),
)
KNOWN = {term.id: term for term in TRIAL}


def patch(monkeypatch):
    """Make the trial Terms known to every module of the core beside the real ones; what the solving room keeps of the real Terms is left alone meanwhile."""
    real, homes = terms.terms(), terms.homes()
    merged = {**real, **KNOWN}
    modules = [module for name, module in sys.modules.items() if name.startswith("basis.") and module is not terms]
    keeping = {id(one): lru_cache(one.__wrapped__) for module in modules if module.__name__.startswith("basis.solving.")
               for one in vars(module).values() if hasattr(one, "cache_clear") and one.__module__ == module.__name__}
    for module in modules:
        if vars(module).get("terms") is terms.terms:
            monkeypatch.setattr(module, "terms", lambda: merged)
        if vars(module).get("homes") is terms.homes:
            monkeypatch.setattr(module, "homes", lambda: {**homes, **dict.fromkeys(KNOWN, "plant")})
        for name, one in [(name, one) for name, one in vars(module).items() if id(one) in keeping]:
            monkeypatch.setattr(module, name, keeping[id(one)])
