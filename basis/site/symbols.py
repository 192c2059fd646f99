"""The symbols and lines of schematics and of the one-line diagram: one small library. Shapes follow the usual form of ISO 14617 (pipes, vessels, machines) and
IEC 60617 (electrical) where these have one, with the flow from above; what they do not have, such as a receiver of sound, is drawn plainly.

A symbol stands in a square of 24 by 24, its axis at x = 12. Everything is a line in the colour of the text.
"""
from __future__ import annotations

from dataclasses import dataclass

SIDE = 24.0


@dataclass(frozen=True)
class Symbol:
    """What it stands for, in words; path data of its lines and of what is filled; letters in it; where it reaches left, up and down."""

    word: str
    lines: str
    filled: str = ""
    letters: str = ""
    left: float = 3.0
    top: float = 3.0
    bottom: float = 21.0

    @property
    def sides(self) -> tuple[float, float, float]:
        """Left, top, bottom."""
        return self.left, self.top, self.bottom


CIRCLE = "M3 12a9 9 0 1 0 18 0a9 9 0 1 0-18 0"
WAVE = "M8 16.5q2-2.5 4 0q2 2.5 4 0"  # of alternating current
BOX = "M3 5H21V19H3z"

SYMBOLS = {
    # air
    "outdoors": Symbol("open air", "M3 8q3-4 6 0t6 0t6 0M3 16q3-4 6 0t6 0t6 0", top=5, bottom=19),
    "louvre": Symbol("louvre", "M3 7H21V17H3zM4 15l4-6M9 15l4-6M14 15l4-6", top=7, bottom=17),
    "mesh": Symbol("mesh or screen", "M3 12h3M8 12h3M13 12h3M18 12h3M3 6v12M21 6v12", top=12, bottom=12),
    "silencer": Symbol("silencer", "M4 2H20V22H4zM9 6v7M15 11v7", left=4, top=2, bottom=22),
    "damper": Symbol("damper", "M4 3v18M20 3v18M7 16L17 8", "M10.5 12a1.5 1.5 0 1 0 3 0a1.5 1.5 0 1 0-3 0", left=4, top=8, bottom=16),
    "filter": Symbol("filter", "M4 4H20V20H4zM5 18l2-2M9 14l2-2M13 10l2-2M17 6l2-2", left=4, top=4, bottom=20),
    "duct": Symbol("duct", "M6 2v20M18 2v20", left=6, top=10, bottom=10),
    "resistance": Symbol("restriction", "M4 3q8 9 0 18M20 3q-8 9 0 18", left=7, top=9, bottom=9),
    "fan": Symbol("fan", f"{CIRCLE}M12 12q-4-4 0-7q4 3 0 7M12 12q4 4 0 7q-4-3 0-7"),
    "radiator": Symbol("radiator", "M3 6H21V18H3zM6.6 6v12M10.2 6v12M13.8 6v12M17.4 6v12", top=6, bottom=18),
    "room": Symbol("room", "M3 21V10L12 3L21 10V21z"),
    # machines
    "engine": Symbol("engine", "M4 3H20V21H4zM8 6v6h8v-6M12 9l2 8M10 17a2 2 0 1 0 4 0a2 2 0 1 0-4 0", left=4),
    "set": Symbol("generating set", f"{CIRCLE}{WAVE}", letters="G"),
    "motor": Symbol("motor", CIRCLE, letters="M"),
    "ac_motor": Symbol("motor for alternating current", f"{CIRCLE}{WAVE}", letters="M"),
    # liquids and gas
    "tank": Symbol("tank, vented", "M3 5V20H21V5M3 10H21", "M12 10l-2.5-4h5z", top=10, bottom=20),
    "vessel": Symbol("vessel under pressure", "M7 8a5 5 0 0 1 10 0V16a5 5 0 0 1-10 0z", left=7),
    "pump": Symbol("pump", CIRCLE, "M7 8H17L12 21z"),
    "compressor": Symbol("compressor", f"{CIRCLE}M5 6.5L9 20.5M19 6.5L15 20.5"),
    "valve": Symbol("valve", "M6 3H18L6 21H18z"),
    "check_valve": Symbol("check valve", "M6 5H18L12 17zM6 17H18", top=5, bottom=17),
    "cooler": Symbol("heat exchanger", f"{CIRCLE}M12 3v3l-5 3l10 6l-5 3v3"),
    "pipe": Symbol("pipe", "M12 2V22M9 9l6-3M9 18l6-3", left=12, top=2, bottom=22),
    "bellows": Symbol("bellows", "M7 4H17M7 20H17M9 4l-3 3l3 3l-3 3l3 3l-3 3M15 4l3 3l-3 3l3 3l-3 3l3 3", left=6, top=4, bottom=20),
    "outlet": Symbol("outlet", "M8 3V21M16 3V21M5 21H8M16 21H19", left=8, top=10, bottom=21),
    # electrical
    "supply": Symbol("supply", "M4 4H20V20H4zM4 4L20 20M20 4L4 20", left=4, top=4, bottom=20),
    "transformer": Symbol("transformer with two windings", "M5.5 7.75a6.5 6.5 0 1 0 13 0a6.5 6.5 0 1 0-13 0"
                          "M5.5 16.25a6.5 6.5 0 1 0 13 0a6.5 6.5 0 1 0-13 0", left=5.5, top=1.25, bottom=22.75),
    "circuit_breaker": Symbol("circuit-breaker", "M12 20L7 9.5M10 5.5L14 9.5M14 5.5L10 9.5", left=7, top=7.5, bottom=20),
    "charger": Symbol("charger", "M3 3H21V21H3zM3 21L21 3M5 8q1.5-2 3 0t3 0M14 16h5M14 18.5h5"),
    "battery": Symbol("battery", "M3 7H21M8 10.5H16M3 14H21M8 17.5H16", top=7, bottom=17.5),
    "heater": Symbol("heater", "M3 7H21V17H3zM7.5 7v10M12 7v10M16.5 7v10", top=7, bottom=17),
    "panel": Symbol("switchgear or control panel", "M4 3H20V21H4zM4 8H20", left=4),
    "cable": Symbol("cable", "M12 2V22M9.5 13l5-3", left=12, top=2, bottom=22),
    # buildings and sound
    "wall": Symbol("wall", "M3 8H21V16H3zM5 16l4-8M11 16l4-8M17 16l4-8", top=8, bottom=16),
    "door": Symbol("door", "M3 18H8M16 18H21M8 18V8A10 10 0 0 1 16 18", top=8, bottom=18),
    "leak": Symbol("air through gaps", "M3 12H9M15 12H21M12 4v16M9 16l3 4l3-4", top=4, bottom=20),
    "ground": Symbol("ground", "M3 9H21M5 9l-2 5M10 9l-2 5M15 9l-2 5M20 9l-2 5", top=9, bottom=9),
    "source": Symbol("source of sound", "M5 9H9L14 4V20L9 15H5zM17 8q3 4 0 8", left=5, top=4, bottom=20),
    "barrier": Symbol("barrier", "M10 21V4H14V21M3 21H21", left=3, top=4, bottom=21),
    "receiver": Symbol("receiver of sound", "M8 12a5 5 0 1 1 9 3q-2 2-2 4q-1 3-4 2M10.5 12a2.5 2.5 0 0 1 5 0", left=8, top=7),
    "distance": Symbol("distance in the open", "M3 12H21M6 9l-3 3l3 3M18 9l3 3l-3 3", top=12, bottom=12),
}

LINES = {  # kind -> what runs there
    "air": "air", "across": "air across", "coolant": "coolant", "fuel": "fuel", "returned": "what returns", "gas": "exhaust gas", "power": "electrical supply",
    "pressure": "compressed air", "signal": "signals by wire", "network": "network", "heat": "heat", "sound": "sound",
}
