"""All faults of a text are told at once: what is missing beside what is wrong."""

import pytest

import basis
from basis.language.faults import Faults

CABLE = """name: Trial
chapters: [cables]
set_rated_power: 1600 kW
installed_sets: 1
power_frequency: 60 Hz
generating_voltage: 480 V
conductor_table: nec-ch9-table-8-copper
cables:
  - {id: feeder, cable_current: 300 A, cable_voltage: 480 V, cable_size: 401 kcmil, cable_ampacity_table: nec-310-16-copper-90,
     cable_termination_limit: not_limiting, cable_ambient_temperature: 30 degC, cable_length: 150 ft}
"""


def book_of(folder, text: str):
    folder.mkdir(exist_ok=True)
    (folder / "project.yaml").write_text(text, encoding="utf-8")
    return basis.load(folder)


def test_what_is_missing_is_told_beside_what_is_wrong(tmp_path):
    """A size that its table does not hold, and no number of parallels: one run tells both."""
    with pytest.raises(Faults) as found:
        book_of(tmp_path / "cable", CABLE)
    told = " ".join(map(str, found.value.faults))
    assert "has no row 401 kcmil" in told and "missing 'cable_parallel' of 'feeder'" in told
