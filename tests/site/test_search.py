"""The search of a book: sixty and more queries as people type them, answered by the script that the pages run; keyboard, speech, size, phone."""

import gzip
import json
import re

import pytest
from accessibility import faults

from basis.site import prose, render
from basis.site.page_data import PageData

L, H, C = "larkmere-hospital", "high-tarn-waterworks", "cobble-key-exchange"
LARGEST = 90_000  # bytes of the index of a book, gzipped

# What an engineer or an inspector types, written down from reading the three books before the scores were set: book, query, and where the first answer
# stands (beginnings of addresses, several where each would be right).
QUERIES = (
    # names of values
    (L, "ventilation airflow", "ventilation-sheet.html#ventilation_airflow ventilation-sheet.html#design_ventilation_airflow"),
    (L, "site power", "loads-sheet.html#set_site_power"),
    (C, "required sets", "loads-sheet.html#required_sets"),
    (L, "usable fuel", "fuel-sheet.html#usable_fuel"),
    (H, "back pressure", "exhaust-sheet.html#exhaust_back_pressure exhaust-sheet.html#exhaust_chosen_back_pressure checks.html#check-back_pressure"),
    (L, "neutral resistor current", "earthing-inputs.html#neutral_resistor_current"),
    (H, "net present cost", "cost-sheet.html#cost_net_present cost-sheet.html#cost_held"),
    (C, "natural frequency", "isolation-sheet.html#natural_frequency"),
    (L, "subtransient reactance", "short_circuit-inputs.html#subtransient_reactance"),
    (H, "peak current", "short_circuit-sheet.html#peak_current short_circuit-sheet.html#largest_peak_current"),
    (C, "battery capacity", "starting-inputs.html#battery_unit_capacity starting-sheet.html#battery_capacity"),
    (L, "autonomy at full load", "fuel-sheet.html#full_load_autonomy checks.html#check-autonomy_at_full_load"),
    (C, "altitude", "plant-inputs.html#altitude"),
    (H, "volume of a day tank", "fuel-inputs.html#day_tank_volume"),
    (L, "set_site_power", "loads-sheet.html#set_site_power"),
    (L, "inertia", "loads-inputs.html#inertia_constant"),
    (H, "max outdoor temperature", "plant-inputs.html#outdoor_temperature_max"),
    # symbols
    (L, "x\"d", "short_circuit-inputs.html#subtransient_reactance"),
    (C, "f_n", "isolation-sheet.html#natural_frequency"),
    (L, "P_site", "loads-sheet.html#set_site_power"),
    (H, "Δp_exh", "exhaust-sheet.html#exhaust_back_pressure"),
    # units
    (L, "kVA", "loads-sheet.html loads-inputs.html"),
    (C, "dBA", "noise"),
    (L, "g/kWh", "loads-inputs.html#specific_fuel_consumption"),
    (H, "rpm", "loads-inputs.html#engine_speed"),
    (L, "m3/s", "ventilation"),
    (H, "cfm", "ventilation"),
    (H, "gal", "fuel"),
    (L, "Ah", "starting"),
    # pages
    (L, "checks", "checks.html"),
    (H, "options", "options.html"),
    (L, "open assumptions", "assumptions.html"),
    (L, "requirements", "compliance.html"),
    (H, "questions", "questions.html"),
    (C, "symbols", "terms.html"),
    (L, "short circuit", "short_circuit.html"),
    (C, "fuel", "fuel.html"),
    (H, "noise", "noise.html"),
    (L, "cooling inputs", "cooling-inputs.html"),
    (L, "exhaust calculation sheet", "exhaust-sheet.html"),
    # codes and numbers of paragraphs
    (L, "NFPA 110", "sources.html#source-nfpa-110 sources.html#source-emergency-stop"),
    (H, "nfpa110", "sources.html#source-nfpa-110 sources.html#source-emergency-stop"),
    (L, "IEC 60909", "sources.html#source-iec-60909"),
    (C, "ISO 8528", "sources.html#source-iso-8528"),
    (L, "ISO 9613-2", "sources.html#source-iso-9613"),
    (L, "R-13", "compliance.html#requirement-R-13"),
    (L, "Q-03", "questions.html#question-Q-03"),
    # plurals
    (L, "silencers", "noise exhaust"),
    (H, "load steps", "dips.html#load-steps loads-inputs.html dips"),
    (C, "day tanks", "fuel"),
    (L, "breaking capacities", "checks.html#check-breaker_breaking short_circuit"),
    # one wrong letter
    (L, "ventlation", "ventilation.html"),
    (H, "exaust", "exhaust.html"),
    (C, "altitud", "plant-inputs.html#altitude"),
    (L, "recirculatoin", "ventilation-inputs.html#recirculation_fraction"),
    (L, "comissioning", "commissioning.html"),
    # words of the prose
    (L, "missing blanket", "ventilation.html#what-the-room-must-get-rid-of"),
    (H, "soot unburnt fuel light load", "loads.html#the-quiet-hours"),
    (H, "earthquake", "foundation.html#earthquake"),
    (L, "black start", "station_supply.html#black-start"),
    # items, checks, and words of the trade that the book says otherwise
    (L, "operating theatres", "loads-inputs.html"),
    (L, "terrace", "noise"),
    (H, "muffler insertion loss", "noise-sheet.html#silencer_insertion_loss"),
    (H, "grounding", "earthing.html"),
    (C, "genset rating", "loads"),
    (L, "door force", "ventilation"),
)


def asked(page, query: str) -> list[dict]:
    """What the page's own script finds."""
    page.get_by_role("combobox").fill(query)
    page.wait_for_selector("#found li")
    return page.evaluate("[...document.querySelectorAll('#found li a')].map(a => ({at: a.href.split('/').slice(-1)[0], told: a.innerText}))")


@pytest.fixture
def opened(open_page):
    """A book's cover with the search field in focus and the index loaded."""
    def open_(slug: str, **how):
        page = open_page(f"{slug}/index.html", **how)
        with page.expect_event("requestfinished", lambda request: request.url.endswith("search-index.js")):
            page.get_by_role("combobox").focus()
        return page
    return open_


@pytest.mark.parametrize("slug", [L, H, C])
def test_each_query_finds_the_right_page_first(opened, slug):
    page, wrong = opened(slug), []
    for book, query, places in QUERIES:
        if book == slug:
            first = asked(page, query)[0]
            if not first["at"].startswith(tuple(places.split())):
                wrong.append((query, first, places))
    assert not wrong and len(QUERIES) > 60


def test_every_place_that_is_found_is_there(opened, site):
    """Of a sample of all kinds: the page is there and has the anchor."""
    page, anchors = opened(L), {}
    for query in ("heat", "R-1", "NFPA", "battery", "sets", "set", "west", "limit", "voltage", "what", "options"):
        for one in asked(page, query):
            file, _, anchor = one["at"].partition("#")
            if file not in anchors:
                anchors[file] = set(re.findall(r' id="([^"]+)"', (site / L / file).read_text("utf-8")))
            assert not anchor or anchor in anchors[file], one


def test_what_is_found_shows_its_value_in_the_units_chosen_and_its_chapter(opened):
    page = opened(L)
    told = asked(page, "altitude")[0]["told"].split("\n")
    assert told[:2] == ["Altitude", "60.0 m"] and told[2].startswith("Plant and cautions")
    page.get_by_role("button", name="US customary").click()
    assert asked(page, "altitude")[0]["told"].split("\n")[1] == "197 ft"  # 60 m / 0.3048 m/ft = 196.85 ft
    said = next(one for one in asked(page, "usual year") if one["at"] == "plant.html#hours-life-and-money")
    assert "In a usual year a set runs 26.0 h" in said["told"]  # the project gives 18 h of tests and 8 h of outages
    assert next(one for one in asked(page, "breaking capacity") if one["at"].startswith("checks"))["told"].split("\n")[1] in ("holds", "tight", "fails")


def test_the_list_is_worked_by_keyboard_and_spoken(opened):
    page = opened(L)
    field, status = page.get_by_role("combobox"), page.locator(".find [role=status]")
    assert field.get_attribute("aria-expanded") == "false"
    asked(page, "battery")
    assert field.get_attribute("aria-expanded") == "true" and re.fullmatch(r"The best 12 of \d+ found", status.inner_text())
    options = page.get_by_role("option")
    assert options.count() == 12
    field.press("ArrowDown")
    field.press("ArrowDown")
    assert field.get_attribute("aria-activedescendant") == options.nth(1).get_attribute("id") and options.nth(1).get_attribute("aria-selected") == "true"
    field.press("ArrowUp")
    field.press("ArrowUp")
    assert field.get_attribute("aria-activedescendant") == options.nth(11).get_attribute("id")
    field.press("Escape")
    assert field.get_attribute("aria-expanded") == "false" and not page.locator("#found").is_visible() and field.input_value() == "battery"
    asked(page, "zzqqxx")
    assert status.inner_text() == "Nothing found" and page.locator("#found").inner_text() == "Nothing found"
    asked(page, "checks")
    field.press("Enter")
    page.wait_for_url(re.compile(r"/checks\.html$"))


def test_the_index_is_loaded_at_focus_only(open_page):
    asked_for = []
    page = open_page(f"{L}/plant.html")
    page.on("request", lambda request: asked_for.append(request.url) if request.url.endswith(".js") else None)
    page.wait_for_timeout(200)
    assert not asked_for
    page.get_by_role("combobox").focus()
    page.wait_for_function("document.querySelector('script[src$=\"search-index.js\"]')")
    assert [url.rpartition("/")[2] for url in asked_for] == ["search.js", "search-index.js"]


@pytest.mark.parametrize(("width", "scheme"), [(390, "light"), (1280, "dark")])
def test_the_open_list_is_fit_for_a_phone_and_for_speech(opened, width, scheme):
    page = opened(H, width=width, scheme=scheme)
    asked(page, "fuel")
    page.get_by_role("combobox").press("ArrowDown")
    box = page.locator("#found").bounding_box()
    assert 0 <= box["x"] and box["x"] + box["width"] <= width
    assert faults(page, within=".find", thin=False) == []


def test_the_index_is_small(site):
    for slug in (L, H, C):
        assert len(gzip.compress((site / slug / "search-index.js").read_bytes(), 9)) < LARGEST, slug


def test_what_a_template_says_is_noted_where_it_says_it():
    """Words of the arm that stands, under their heading; a number of a value by its id, of other tags nothing."""
    text = ("Air {{ value('air') }} enters{% if on() %} by <em>two</em> ways{% else %} not{% endif %}.\n\n## Heat & cold\n\n- Warm {{ table('x') }} pipes\n\n"
            "{{ table('y') }}\n\n## Bare\n\n{{ table('y') }}\n")
    said = {}
    for on in (True, False):
        data, jinja = PageData(), render.environment()
        made = jinja.from_string(prose.noted(prose.to_html(text))).render(value=lambda name: "7 m", table=lambda name: "…", on=lambda: on, **prose.noting(data))
        assert "7 m" in made and "note" not in made
        said[on] = data.said
    assert said[True] == {"": "Air {air} enters by two ways", "heat-cold": "Warm … pipes", "bare": ""}
    assert said[False][""] == "Air {air} enters not"


def test_the_index_says_what_the_prose_says(site, books):
    """Every number that the prose names by its place is the one that the sentence means."""
    text = (site / L / "search-index.js").read_text("utf-8")
    index = json.loads(text[len("basisIndex("):-3])
    names = index["values"][1].split("\n")
    plant = next(page for page in index["pages"] if page[0] == "plant.html")
    lead = next(words for anchor, heading, words in plant[3] if not heading)
    assert [names[int(place)] for place in re.findall(r"\{(\d+)\}", lead)] == [
        books[L][name].term.name for name in ("altitude", "outdoor_temperature_max", "outdoor_temperature_min")]
