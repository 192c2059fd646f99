"""Long lists in the browser: terms, assumptions, formulas from memory and options filter by chapter, sort by their heads, and tell how many are left."""

import pytest
from accessibility import faults

from basis.solving.verdict_words import WORDS

BOOK = "larkmere-hospital"


def seen(page, box):
    return box.locator("tbody tr:visible").count()


def test_terms_are_found_by_chapter_and_word_through_all_their_tables(open_page):
    page = open_page(f"{BOOK}/terms.html")
    box = page.locator(".schedule").first
    every = seen(page, box)
    assert every > 1000 and box.get_by_role("searchbox").count() == 1
    box.get_by_label("Chapter").select_option(label="8 Fuel")
    fuel = seen(page, box)
    assert box.locator("h2:visible").all_inner_texts() == ["Fuel"] and 50 < fuel < 300
    box.get_by_role("searchbox").fill("day tank kelvin")
    left = seen(page, box)
    assert 0 < left < fuel and box.locator("output").inner_text() == f"{left} of {every}"
    assert all("day tank" in text.lower() and "kelvin" in text.lower() for text in box.locator("tbody tr:visible").all_inner_texts())
    box.get_by_role("searchbox").fill("")
    box.get_by_label("Chapter").select_option("")
    assert seen(page, box) == every and box.locator("output").inner_text() == ""


def test_assumptions_filter_by_chapter_and_sort_by_keyboard(open_page):
    page = open_page(f"{BOOK}/assumptions.html")
    box = page.locator(".schedule").first
    every = seen(page, box)
    box.get_by_label("Chapter").select_option(label="17 Cables as installed")
    assert 0 < seen(page, box) < every
    assert all("cables" in href for href in box.locator("tbody tr:visible th a").evaluate_all("links => links.map(one => one.getAttribute('href'))"))
    head = box.locator("thead th").first
    head.get_by_role("button").press("Enter")
    assert head.get_attribute("aria-sort") == "ascending"
    names = [name.split(",")[0] for name in box.locator("tbody tr:visible th").all_inner_texts()]
    assert len(names) > 3 and names == sorted(names, key=str.lower)
    head.get_by_role("button").press("Enter")
    assert head.get_attribute("aria-sort") == "descending"


def test_what_is_assumed_is_picked_by_the_worst_check_on_it_and_sorted_by_it(open_page):
    page = open_page(f"{BOOK}/assumptions.html")
    for box in page.locator(".schedule").all():
        box.get_by_label("Verdict").select_option("fails")
        words = box.locator("tbody tr:visible td:nth-child(2)").all_inner_texts()
        assert 0 < len(words) and all("fails" in word for word in words)
        box.get_by_label("Verdict").select_option("")
    box = page.locator(".schedule").first
    box.locator("thead th").nth(1).get_by_role("button").press("Enter")
    words = box.locator("tbody td:nth-child(2)").all_inner_texts()
    assert words == sorted(words, key=[*WORDS, "none"].index) and len(set(words)) > 2


def test_checks_are_picked_by_what_they_rest_on(open_page):
    box = open_page(f"{BOOK}/checks.html").locator(".schedule")
    every = box.locator("tbody tr:visible").count()
    for word in ("assumed", "common practice", "none"):
        box.get_by_label("Rests on").select_option(word)
        marks = box.locator("tbody tr:visible td:nth-child(3)").all_inner_texts()
        assert 0 < len(marks) < every and all(word in mark or word == "none" and "assumed" not in mark for mark in marks)


def test_checks_that_tell_options_apart_are_picked_by_chapter_and_verdict(open_page):
    box = open_page(f"{BOOK}/options.html").locator(".schedule:has(th[data-pick='Verdict'])").first
    every = box.locator("tbody tr:visible").count()
    box.get_by_label("Chapter").select_option(index=1)
    assert 0 < box.locator("tbody tr:visible").count() < every
    box.get_by_label("Chapter").select_option("")
    box.get_by_label("Verdict").select_option("tight")
    assert 0 < box.locator("tbody tr:visible").count() < every


def test_formulas_are_picked_by_how_they_are_known(open_page):
    page = open_page(f"{BOOK}/assumptions.html")
    box = page.locator(".schedule:has(th[data-pick='How known'])")
    box.get_by_label("How known").select_option("from memory")
    assert 0 < seen(page, box) and set(box.locator("tbody tr:visible td:nth-child(3)").all_inner_texts()) == {"from memory"}


def test_what_differs_between_options_is_picked_by_chapter(open_page):
    page = open_page(f"{BOOK}/options.html")
    box = page.locator(".schedule:has(table.values)").first
    every = seen(page, box)
    box.get_by_label("Chapter").select_option(label="17 Cables as installed")
    assert 0 < seen(page, box) < every and f"of {every}" in box.locator("output").inner_text()


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing_in_filtered_terms(open_page, scheme):
    page = open_page(f"{BOOK}/terms.html", scheme=scheme)
    page.locator(".schedule select").first.select_option(index=3)
    assert faults(page) == []
