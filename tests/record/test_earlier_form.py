"""A record of the form before is read as ever: what was issued outlives the program that wrote it."""

import basis.record.issued as form
from basis.record.compare import compare
from basis.record.issued import Chapter, Chosen, Head, IssuedCheck, IssuedValue, Item, Part, Record, Role, TableRow, read_record, text_of

WRITTEN = """# A record of a design basis book as it was issued: one fact a line, in the order in which the book is read.
# role: role, date
record,2
project,pump-house
name,Pump house
program,0.2.0
text,ed2a79
revision,A
number,1
date,2026-03-02
note,"for approval, and to order"
role,prepared,2026-03-01
decision,wiring_choice,network,By network
item,pump,main,The large pump
item,pump,spare,
item,month,january,
item,month,july,
table,air,rule,interpolate
table,air,1000 m,pressure 898.746 hPa
chapter,plant,Plant and cautions
chapter,loads,Loads
check,test_hours,plant,fails,-0.11111111111,−11 %,50.0 h,45.0 h,,,The permit is being asked for anew.,hours_per_year_tests test_hours_max
check,pump_ok,loads,nothing to check,,,,,,no pumps,,pump_power
value,altitude,plant,0 m,0,m,given,assumed – confirm,"harbour wall, survey"
value,test_hours_max,plant,45.0 h,162000,s,default,default
value,currency,plant,EUR,EUR,choice,given,stated
value,remark,plant,,,text,given,stated
value,temperature_hourly,plant,"8760 values, digest 0a1b2c",0a1b2c3d4e5f,K,given,stated,,hour
value,air_pressure,plant,101.3 kPa,101325,Pa,formula,"assumed, from memory",,,standard_air_pressure altitude,,,f3a80c,"p_a = f(p_n, h)"
value,pump_power,loads,kW,,W,given,stated,,pump
,main,11.0,11000,,measured,"plate, read on site"
,spare,0,0,default,default
value,pump_level,loads,dB,,dB,procedure,,,pump month,pump_power,month,air,0a1b2c,L = 10·lg P
,main,−1.50 | 13\u202f800,-1.5 13800.25
,spare,12.0 | not given,12 nan
seal,e35997716a24c889246f5df92d2384187870d66fbf1bc68c2aa5e66de0a36c35
"""
READ = Record(
    Head("pump-house", "Pump house", "0.2.0", "ed2a79", "A", "1", "2026-03-02", "for approval, and to order"),
    (Role("prepared", "2026-03-01"),), (Chosen("wiring_choice", "network", "By network"),),
    (Item("pump", "main"), Item("pump", "spare"), Item("month", "january"), Item("month", "july")),
    (TableRow("air", "rule", "interpolate"), TableRow("air", "1000 m", "pressure 898.746 hPa")),
    (Chapter("plant", "Plant and cautions"), Chapter("loads", "Loads")),
    {check.id: check for check in (
        IssuedCheck("test_hours", "plant", "fails", "-0.11111111111", "−11 %", "50.0 h", "45.0 h", "", "", "hours_per_year_tests test_hours_max"),
        IssuedCheck("pump_ok", "loads", "nothing to check", "", "", "", "", "", "no pumps", "pump_power"))},
    {value.id: value for value in (
        IssuedValue("altitude", "plant", "0 m", "0", "m", "given", "assumed – confirm", note="harbour wall, survey"),
        IssuedValue("test_hours_max", "plant", "45.0 h", "162000", "s", "default", "default"),
        IssuedValue("currency", "plant", "EUR", "EUR", "choice", "given", "stated"),
        IssuedValue("remark", "plant", "", "", "text", "given", "stated"),
        IssuedValue("temperature_hourly", "plant", "8760 values, digest 0a1b2c", "0a1b2c3d4e5f", "K", "given", "stated", over="hour"),
        IssuedValue("air_pressure", "plant", "101.3 kPa", "101325", "Pa", "formula", "assumed, from memory", maker="f3a80c", how="p_a = f(p_n, h)",
                    inputs="standard_air_pressure altitude"),
        IssuedValue("pump_power", "loads", "kW", "", "W", "given", "stated", over="pump"),
        IssuedValue("pump_level", "loads", "dB", "", "dB", "procedure", "", over="pump month", maker="0a1b2c", how="L = 10·lg P", inputs="pump_power",
                    tables="air", counts="month"))},
    {"pump_power": (Part("main", "11.0", "11000", "", "measured", "plate, read on site"), Part("spare", "0", "0", "default", "default")),
     "pump_level": (Part("main", "−1.50 | 13\u202f800", "-1.5 13800.25"), Part("spare", "12.0 | not given", "12 nan"))})


def kept(folder, text: str):
    path = folder / "pump-house" / "issued" / "A.csv"
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, "utf-8")
    return path


def test_each_fact_is_read(tmp_path):
    # All that was in it but the name of an item and the remark on a check, which nothing reads: the rest field by field as it was written.
    assert read_record(kept(tmp_path, WRITTEN)) == READ


def test_written_anew_it_says_the_same_in_the_form_of_today(tmp_path):
    text = text_of(read_record(kept(tmp_path, WRITTEN)))
    assert f"\nrecord,{form.FORM}\n" in text and f"\nrecord,{form.EARLIER}\n" in WRITTEN
    assert read_record(kept(tmp_path, text)) == READ
    lines = text.splitlines()
    for line in ("default,test_hours_max,45.0 h,162000,s", "given,currency,EUR,,choice,stated", ",spare,0,,default", ",spare,12.0 | not given,12 nan"):
        assert line in lines  # what is said already is left out, and nothing else
    assert lines.index("chapter,loads,Loads") == lines.index("check,pump_ok,nothing to check,,,,,,no pumps,pump_power") - 1


def test_it_is_compared_with_one_of_today(tmp_path):
    pressure = READ.values["air_pressure"]._replace(number="101325.00000000001")
    level = (READ.parts["pump_level"][0], Part("spare", "13.0 | not given", "13 nan"))
    now = Record(*list(vars(READ).values())[:7], {**READ.values, "air_pressure": pressure}, {**READ.parts, "pump_level": level})
    found = compare(read_record(kept(tmp_path, WRITTEN)), read_record(kept(tmp_path, text_of(now))))
    ((moved,),) = (value.numbers for values in found.results.values() for value in values)
    assert (moved.id, moved.old, moved.new) == ("pump_level.spare.january", "12.0 dB", "13.0 dB")
