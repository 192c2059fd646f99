"""Readers of hourly weather against pvlib's readers and the files that come with it, and against files that people get wrong."""

import math
import os
from pathlib import Path

import numpy as np
import pvlib
import pytest
from pytest import approx

from basis.language.faults import Faults
from basis.physics.weather import DAYS, HOURS, read_hourly
from basis.reading.project import read

PVLIB = Path(pvlib.__file__).parent / "data"
PROJECTS = Path(__file__).parents[2] / "projects"
HEAD_TMY3 = '000000,"TRIAL",--,0.0,0.0,0.0,0\nDate (MM/DD/YYYY),Time (HH:MM),Dry-bulb (C)\n'
HEAD_EPW = ("LOCATION,Trial,-,-,-,0,0,0,0,0\nDESIGN CONDITIONS,0\nTYPICAL/EXTREME PERIODS,0\nGROUND TEMPERATURES,0\n"
            "HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0\nCOMMENTS 1,\nCOMMENTS 2,\nDATA PERIODS,1,1,Data,Monday, 1/ 1,12/31\n")
# Climates of the demo projects: mean, yearly, daily, two slow waves, all in degrees Celsius; invented.
INVENTED = {"larkmere-hospital/weather.epw": (10.6, 9.2, 4.0, 2.9, 2.0), "high-tarn-waterworks/weather.csv": (4.4, 12.8, 5.4, 4.3, 3.4),
            "cobble-key-exchange/weather.epw": (26.8, 2.7, 2.6, 0.7, 0.5)}


def celsius(path):
    return np.array(read_hourly(path, path.name)) - 273.15


def times():
    return [(month, day, hour) for month, days in enumerate(DAYS, start=1) for day in range(1, days + 1) for hour in range(1, 25)]


def tmy3(change=lambda rows: rows):
    rows = change([[f"{month:02d}/{day:02d}/1999", f"{hour:02d}:00", "5.0"] for month, day, hour in times()])
    return HEAD_TMY3 + "\n".join(",".join(row) for row in rows) + "\n"


def epw(change=lambda rows: rows):
    rows = change([["1999", str(month), str(day), str(hour), "0", "?", "5.0"] for month, day, hour in times()])
    return HEAD_EPW + "\n".join(",".join(row) for row in rows) + "\n"


def with_text(place, text):
    def change(rows):
        rows[place][-1] = text
        return rows
    return change


def fault_of(tmp_path, text, name="weather.csv"):
    path = tmp_path / name
    path.write_bytes(text) if isinstance(text, bytes) else path.write_text(text, "utf-8")
    with pytest.raises(Faults) as found:
        read_hourly(path, f"trial/{name}")
    assert all(fault.file == f"trial/{name}" for fault in found.value.faults)
    return found.value.faults


# ---- against pvlib ----

@pytest.mark.parametrize("name", ("723170TYA.CSV", "703165TY.csv"))
def test_tmy3_hour_by_hour(name):
    # pvlib 0.16 read_tmy3 on the national TMY3 files in its wheel
    data, _ = pvlib.iotools.read_tmy3(PVLIB / name, coerce_year=1999, map_variables=True)
    assert celsius(PVLIB / name) == approx(data["temp_air"].to_numpy(), abs=1e-9)


def test_greensboro():
    # T46, by pvlib from 723170TYA.CSV: 8760 h, -16.7 to 35.6, mean 14.42 °C; 38 537 K·h below 15 °C, 42 841 below 16 °C, 4091 h below 15 °C
    found = celsius(PVLIB / "723170TYA.CSV")
    assert (len(found), found.min(), found.max()) == (8760, approx(-16.7), approx(35.6))
    assert found.mean() == approx(14.42, abs=0.005)
    below = [np.maximum(0, base - found).sum() for base in (15, 16)]
    assert below == approx([38_537, 42_841], abs=0.5) and (found < 15).sum() == 4091


def test_sand_point():
    # T47, by pvlib from 703165TY.csv: -10.6 to 19.4, mean 4.42 °C; 92 814 K·h below 15 °C, 101 494 below 16 °C
    found = celsius(PVLIB / "703165TY.csv")
    assert (found.min(), found.max(), found.mean()) == (approx(-10.6), approx(19.4), approx(4.42, abs=0.005))
    assert [np.maximum(0, base - found).sum() for base in (15, 16)] == approx([92_814, 101_494], abs=0.5)


def test_epw_hour_by_hour(tmp_path):
    # the Greensboro year written as EPW with all its 35 fields, read by pvlib's read_epw and by ours
    wanted = celsius(PVLIB / "723170TYA.CSV")
    rows = [",".join(["1999", str(month), str(day), str(hour), "60", "?9", f"{number:.1f}", *["0"] * 28]) for (month, day, hour),
            number in zip(times(), wanted)]
    path = tmp_path / "greensboro.epw"
    path.write_text(HEAD_EPW + "\n".join(rows) + "\n")
    data, _ = pvlib.iotools.read_epw(path)
    assert celsius(path) == approx(data["temp_air"].to_numpy(), abs=1e-9)
    assert celsius(path) == approx(wanted, abs=0.0501)


# ---- the invented years of the demo projects ----

@pytest.mark.parametrize("name", INVENTED)
def test_invented_years_follow_the_formula_that_they_state(name):
    mean, yearly, daily, wave, swell = INVENTED[name]
    n = np.arange(HOURS)
    wanted = (mean - yearly * np.cos(2 * np.pi * (n - 480) / HOURS) - daily * np.cos(2 * np.pi * (n % 24 - 4) / 24)
              + wave * np.sin(2 * np.pi * n / 127) + swell * np.sin(2 * np.pi * n / 211))
    assert celsius(PROJECTS / name) == approx(wanted, abs=0.0501)
    assert "nvented" in (PROJECTS / name).read_text().splitlines()[0] or "INVENTED" in (PROJECTS / name).read_text().splitlines()[0]


def test_tmy3_file_of_a_project_is_read_by_pvlib_too():
    data, meta = pvlib.iotools.read_tmy3(PROJECTS / "high-tarn-waterworks/weather.csv", coerce_year=2001, map_variables=True)
    assert data["temp_air"].to_numpy() == approx(celsius(PROJECTS / "high-tarn-waterworks/weather.csv"), abs=1e-9)
    assert meta["altitude"] == 1600


# ---- files that people get wrong ----

WRONG = {
    "empty": ("", 0, "is empty"),
    "another file": ("altitude: 60 m\nplace: x\n", 1, "neither an EPW nor a TMY3"),
    "a file of one line": ("altitude: 60 m", 1, "neither an EPW nor a TMY3"),
    "binary": (b"LOCATION,x\n\0\n", 2, "is not text"),
    "missing column": (tmy3().replace("Dry-bulb (C)", "Dew-point (C)"), 2, "no column 'Dry-bulb (C)'"),
    "degrees Fahrenheit in the head": (tmy3().replace("Dry-bulb (C)", "Dry-bulb (F)"), 2, "no column 'Dry-bulb (C)'"),
    "no time": (tmy3().replace("Time (HH:MM)", "Hour"), 2, "no column 'Time (HH:MM)'"),
    "hour left out": (tmy3(lambda rows: rows[:100] + rows[101:]), 103, "gap or a repeat: month 1, day 5, hour 6"),
    "hour twice": (tmy3(lambda rows: rows[:100] + [rows[99]] + rows[100:]), 103, "gap or a repeat: month 1, day 5, hour 4"),
    "half a year": (tmy3(lambda rows: rows[:4380]), 4382, "holds 4380 hours"),
    "a year and a day": (tmy3(lambda rows: rows + rows[:24]), 8786, "holds 8784 hours"),
    "leap year": (tmy3(lambda rows: rows[:1416] + [["02/29/2000", f"{hour:02d}:00", "5.0"] for hour in range(1, 25)] + rows[1416:]), 1419, "29 February"),
    "no date": (tmy3(lambda rows: [*rows[:5], ["5", *rows[5][1:]], *rows[6:]]), 8, "no date and hour"),
    "short row": (tmy3(lambda rows: [*rows[:5], rows[5][:2], *rows[6:]]), 8, "a row of 2 fields"),
    "missing temperature": (tmy3(with_text(7, "-9900")), 10, "has no temperature"),
    "text": (tmy3(with_text(7, "cold")), 10, "'cold' is not a number"),
    "not finite": (tmy3(with_text(7, "nan")), 10, "'nan' is not a number"),
    "Fahrenheit by its size": (tmy3(with_text(7, "77.0")), 10, "77 °C is beyond"),
    "Fahrenheit by its jump": (tmy3(with_text(7, "41.0")), 10, "jumps from 5 to 41"),
    "EPW without data periods": (epw().replace("DATA PERIODS", "DATA"), 1, "without the line DATA PERIODS"),
    "EPW by the half hour": (epw().replace("DATA PERIODS,1,1", "DATA PERIODS,1,2"), 8, "1 periods with 2 records"),
    "EPW missing temperature": (epw(with_text(0, "99.9")), 9, "has no temperature (99.9"),
    "EPW short row": (epw(lambda rows: [rows[0][:6], *rows[1:]]), 9, "a row of 6 fields"),
    "EPW leap year": (epw(lambda rows: rows[:1416] + [["2000", "2", "29", str(hour), "0", "?", "5.0"] for hour in range(1, 25)] + rows[1416:]), 1425,
                      "29 February"),
    "EPW without hours": (epw(lambda rows: []), 0, "holds 0 hours"),
    "EPW sorted by date": (epw(lambda rows: rows[24:] + rows[:24]), 9, "gap or a repeat"),
}


@pytest.mark.parametrize("case", WRONG)
def test_each_wrong_file_names_its_line(tmp_path, case):
    text, line, what = WRONG[case]
    fault = fault_of(tmp_path, text)[0]
    assert (fault.line, what in fault.what) == (line, True), fault
    assert fault.expected


@pytest.mark.parametrize("celsius_all, celsius_one, what", (
    # World Meteorological Organization: −89.2 °C at Vostok in 1983, 56.7 °C at Death Valley in 1913; neither is refused, a little beyond both is
    (-89.2, -89.2, ""), (56.7, 56.7, ""), (-80.0, -90.5, "-90.5 °C is beyond the records"), (50.0, 60.5, "60.5 °C is beyond the records"),
    # our own bound for a file in the wrong unit or order: 25 K within an hour are let pass, more are not
    (5.0, 30.0, ""), (5.0, 30.5, "jumps from 5 to 30.5"), (5.0, -20.0, ""), (5.0, -20.5, "jumps from 5 to -20.5")))
def test_temperatures_that_are_refused(tmp_path, celsius_all, celsius_one, what):
    text = tmy3(lambda rows: [[*row[:2], str(celsius_all if place != 7 else celsius_one)] for place, row in enumerate(rows)])
    if what:
        assert what in fault_of(tmp_path, text)[0].what
    else:
        (tmp_path / "year.csv").write_text(text)
        assert celsius(tmp_path / "year.csv")[7] == approx(celsius_one)


def test_the_field_of_the_temperature_is_named(tmp_path):
    # EPW format: year, month, day, hour, minute, flags, dry-bulb temperature
    assert fault_of(tmp_path, WRONG["EPW short row"][0])[0].expected == "dry-bulb temperature as field 7"


def test_what_is_nearest(tmp_path):
    assert fault_of(tmp_path, WRONG["degrees Fahrenheit in the head"][0])[0].nearest == "Dry-bulb (F)"
    assert fault_of(tmp_path, WRONG["Fahrenheit by its size"][0])[0].nearest == "77 °F is 25.0 °C"  # hand: (77 - 32)/1.8


def test_many_wrong_rows_are_counted_not_listed(tmp_path):
    faults = fault_of(tmp_path, tmy3(lambda rows: [[*row[:2], "-9900"] for row in rows]))
    assert len(faults) == 11 and "8750 more rows" in faults[-1].what


def test_a_very_large_file_is_not_read(tmp_path):
    fault = fault_of(tmp_path, b"LOCATION," + b"x" * 5_200_000)[0]
    assert "5.2 MB" in fault.what and fault.line == 0 and fault.expected.startswith("at most 5 MB")
    assert "5.0 MB" in fault_of(tmp_path, b"LOCATION,".ljust(5_000_001, b"x"))[0].what
    assert "DATA PERIODS" in fault_of(tmp_path, b"LOCATION,".ljust(5_000_000, b"x"))[0].what  # five million bytes are read


def test_months_of_different_years_and_a_byte_order_mark(tmp_path):
    path = tmp_path / "w.csv"
    path.write_text("\ufeff" + tmy3().replace("02/01/1999", "02/01/1988"), "utf-8")
    assert celsius(path) == approx(np.full(8760, 5.0))


# ---- in a project ----

@pytest.fixture
def folder(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    made = tmp_path / "projects" / "trial"
    made.mkdir(parents=True)
    (made / "weather.csv").write_text(tmy3())
    return made


def faults_of(folder, text):
    (folder / "warmth.yaml").write_text(text)
    with pytest.raises(Faults) as found:
        read("projects/trial")
    return found.value.faults


def test_a_given_holds_the_hours_with_file_and_line(folder):
    (folder / "warmth.yaml").write_text('name: Trial\noutdoor_temperature_hourly: {file: weather.csv, note: "trial", standing: assumed}\n')
    given = read("projects/trial").givens[("outdoor_temperature_hourly", "")]
    assert (len(given.data), given.written, given.file, given.line) == (8760, "weather.csv", "projects/trial/warmth.yaml", 2)
    assert given.note == "trial" and given.standing.startswith("assumed")
    assert hash(given) and math.isclose(given.data[0], 278.15)


def test_a_name_alone_will_do(folder):
    (folder / "warmth.yaml").write_text("outdoor_temperature_hourly: weather.csv\n")
    assert read("projects/trial").givens[("outdoor_temperature_hourly", "")].written == "weather.csv"


def test_faults_of_the_file_come_with_those_of_the_project(folder):
    (folder / "weather.csv").write_text(WRONG["missing temperature"][0])
    faults = faults_of(folder, "altitud: 3 m\noutdoor_temperature_hourly: {file: weather.csv}\n")
    assert [(fault.file, fault.line) for fault in faults] == [("projects/trial/warmth.yaml", 1), ("projects/trial/weather.csv", 10)]


@pytest.mark.parametrize("text, what", (
    ("outdoor_temperature_hourly: {file: wether.csv}\n", "file 'wether.csv' of 'outdoor_temperature_hourly' is not there"),
    ("outdoor_temperature_hourly: {value: 5 degC}\n", "unknown key 'value'"),
    ("outdoor_temperature_hourly: {note: x}\n", "'outdoor_temperature_hourly' without file"),
    ("outdoor_temperature_hourly: [5 degC, 6 degC]\n", "a list stands here"),
    ("outdoor_temperature_hourly: {file: ../secret.csv}\n", "outside the project folder"),
    ("outdoor_temperature_hourly: {file: /etc/passwd}\n", "outside the project folder"),
    ("altitude: {file: weather.csv}\n", "unknown key 'file'"),
))
def test_wrong_ways_to_name_the_file(folder, text, what):
    (folder.parent / "secret.csv").write_text(tmy3())
    faults = faults_of(folder, text)
    assert any(what in fault.what for fault in faults), faults


def test_nearest_file(folder):
    assert faults_of(folder, "outdoor_temperature_hourly: {file: wether.csv}\n")[0].nearest == "weather.csv"


def test_a_link_that_leaves_the_folder(folder, tmp_path):
    (tmp_path / "secret.csv").write_text(tmy3())
    os.symlink(tmp_path / "secret.csv", folder / "linked.csv")
    assert "outside the project folder" in faults_of(folder, "outdoor_temperature_hourly: {file: linked.csv}\n")[0].what
