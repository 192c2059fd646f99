"""What the pages have in place of the theme's script: light or dark, what is folded open where a link leads into it and on paper. In a real browser."""

import gzip

import pytest

BOOK = "larkmere-hospital"
SCRIPTS = 40_000  # bytes of all scripts of the site as sent, without what a book loads when it is asked for
SCHEME = "document.body.dataset.mdColorScheme"


@pytest.mark.parametrize(("asked", "scheme", "other"), [("light", "default", "slate"), ("dark", "slate", "default")])
def test_a_page_is_as_the_system_asks_until_the_reader_chooses(open_page, site, asked, scheme, other):
    page = open_page(f"{BOOK}/fuel.html", scheme=asked)
    assert page.evaluate(SCHEME) == scheme
    button = page.get_by_role("button", name="Dark page")
    assert button.get_attribute("aria-pressed") == str(asked == "dark").lower()
    button.click()
    assert page.evaluate(SCHEME) == other and button.get_attribute("aria-pressed") == str(asked == "light").lower()
    page.goto(f"{site.as_uri()}/{BOOK}/exhaust.html")
    assert page.evaluate(SCHEME) == other
    page.emulate_media(color_scheme="light" if asked == "dark" else "dark")  # what was chosen stays
    assert page.evaluate(SCHEME) == other


def test_a_page_follows_the_system_while_it_is_open(open_page):
    page = open_page(f"{BOOK}/fuel.html")
    page.emulate_media(color_scheme="dark")
    page.wait_for_function(f"{SCHEME} === 'slate'")
    assert page.get_by_role("button", name="Dark page").get_attribute("aria-pressed") == "true"


def test_a_link_opens_what_is_folded_round_its_place(open_page):
    page = open_page(f"{BOOK}/fuel.html")
    assert page.evaluate("document.querySelectorAll('details[open]').length") == 0
    page.evaluate("document.querySelector('.drawing details table').id = 'within'; location.hash = 'within'")
    page.wait_for_function("document.querySelector('#within').closest('details').open")
    assert page.evaluate("document.querySelectorAll('details[open]').length") == 1


def test_all_is_open_on_paper_and_folded_again_after(open_page):
    page = open_page(f"{BOOK}/fuel.html")
    page.evaluate("document.querySelector('details').open = true; dispatchEvent(new Event('beforeprint'))")
    assert page.evaluate("document.querySelectorAll('details').length") > 1 and page.evaluate("document.querySelectorAll('details:not([open])').length") == 0
    page.evaluate("dispatchEvent(new Event('afterprint'))")
    assert page.evaluate("document.querySelectorAll('details[open]').length") == 1


def test_side_lists_scroll_by_themselves(open_page):
    page = open_page(f"{BOOK}/fuel.html", height=500)
    page.mouse.wheel(0, 3000)
    page.wait_for_function("scrollY > 2000")
    last = page.locator(".md-sidebar--primary a").last
    last.focus()
    assert last.evaluate("one => { const box = one.getBoundingClientRect(); return box.bottom <= innerHeight && box.top >= 0 }")
    assert page.evaluate("scrollY") > 2000


def test_without_a_script_the_page_is_light_and_has_no_button_that_does_nothing(open_page):
    page = open_page(f"{BOOK}/fuel.html", scheme="dark", script=False)
    assert not page.locator("button.half").is_visible() and not page.locator("button.opener").is_visible()


def test_all_scripts_of_the_site_together_are_small(site):
    scripts = [path for path in site.rglob("*.js") if path.relative_to(site).parts[0] == "assets"]
    assert {path.name for path in scripts} == {"book.js", "search.js"}
    assert sum(len(gzip.compress(path.read_bytes(), 9)) for path in scripts) < SCRIPTS / 2
