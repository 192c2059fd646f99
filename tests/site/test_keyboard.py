"""The keyboard on a narrow page, as of 200 % zoom at 1280 pixels, on a phone and on a desk: no stop off the screen, a drawer that opens by a button, focus that
is seen, boxes that take the focus only where they scroll. In a real browser."""

import pytest

BOOK = "larkmere-hospital"
WIDTHS = [390, 640, 1200, 1280]  # a phone; 1280 at 200 %; the widest with a drawer, and none
STOP = """() => {
  const one = document.activeElement, box = one.getBoundingClientRect(), style = getComputedStyle(one), beside = one.nextElementSibling;
  if (one === document.body) return null;
  return {what: one.outerHTML.slice(0, 120), in: box.right > 0 && box.left < innerWidth && style.visibility === "visible", checkbox: one.type === "checkbox"};
}"""


def stops(page, most: int = 60) -> list[dict]:
    """What the tab key reaches, from the first on."""
    found = []
    for _ in range(most):
        page.keyboard.press("Tab")
        if (stop := page.evaluate(STOP)) is None:
            break
        found.append(stop)
    return found


@pytest.mark.parametrize("width", WIDTHS)
def test_no_stop_is_off_the_screen(open_page, width):
    page = open_page(f"{BOOK}/ventilation.html", width=width)
    found = stops(page)
    assert len(found) > 30
    assert [one["what"] for one in found if not one["in"] or one["checkbox"]] == []


@pytest.mark.parametrize("width", WIDTHS[:3])
def test_the_drawer_opens_by_a_button_and_shuts_by_escape(open_page, width):
    page = open_page(f"{BOOK}/ventilation.html", width=width)
    opener, side = page.get_by_role("button", name="Contents"), page.locator(".md-sidebar--primary a").first
    assert opener.get_attribute("aria-expanded") == "false" and not side.is_visible()
    opener.focus()
    page.keyboard.press("Enter")
    assert opener.get_attribute("aria-expanded") == "true" and side.is_visible()
    assert page.evaluate("document.activeElement.closest('.md-sidebar--primary') !== null")
    assert all("md-content" not in one["what"] for one in stops(page, 5)) and page.evaluate("document.querySelector('.md-content').inert")
    page.keyboard.press("Escape")
    assert opener.get_attribute("aria-expanded") == "false" and opener.evaluate("one => one === document.activeElement")
    assert not page.evaluate("document.querySelector('.md-content').inert")


def test_a_wide_page_has_no_drawer(open_page):
    page = open_page(f"{BOOK}/ventilation.html", width=1280)
    assert not page.locator("button.opener").is_visible() and page.locator(".md-sidebar--primary a").first.is_visible()


@pytest.mark.parametrize("address", ["loads-sheet.html", "noise.html", "checks.html"])
@pytest.mark.parametrize("width", [390, 1280])
def test_a_box_takes_the_focus_only_where_it_scrolls(open_page, width, address):
    page = open_page(f"{BOOK}/{address}", width=width)
    boxes = page.evaluate("document.querySelectorAll('.wide[role], .working[role]').length")
    assert boxes > 0
    page.wait_for_function("""() => [...document.querySelectorAll(".wide[role], .working[role]")].every(
      one => !one.checkVisibility() || (one.scrollWidth > one.clientWidth + 1) === one.hasAttribute("tabindex"))""")  # fonts come late


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_focus_is_seen_in_the_search_box_and_on_buttons(open_page, scheme):
    page = open_page(f"{BOOK}/index.html", width=640, scheme=scheme)
    for wanted in (page.get_by_role("combobox"), page.get_by_role("button", name="US customary"), page.get_by_role("button", name="Contents")):
        wanted.focus()
        page.keyboard.press("Shift+Tab")
        page.keyboard.press("Tab")
        line, width, colour = wanted.evaluate("""one => {
          const style = getComputedStyle(one);
          return [style.outlineStyle, parseFloat(style.outlineWidth), style.outlineColor];
        }""")
        assert line != "none" and width >= 2 and colour != "rgba(0, 0, 0, 0)"
