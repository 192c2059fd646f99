"""Templates: what they may not do, Markdown and Jinja together, faults with the template's own line; links."""

from collections import Counter

import pytest

from basis.language.faults import Faults
from basis.site import html, links, prose, render, rules
from basis.site.addresses import option_page
from basis.site.page_data import PageData

ENVIRONMENT = render.environment()


def told(source: str) -> list[str]:
    return [f"{fault.line} {fault.what}" for fault in rules.breaches(rules.parsed(ENVIRONMENT, source, "t.md.j2"), "t.md.j2")]


# ---- rules ----

@pytest.mark.parametrize("source, what", [
    ('{{ value("a") * 2 }}', "template multiplies"),
    ('{{ value("a") - value("b") }}', "template subtracts"),
    ('{{ -value("a") }}', "template negates"),
    ('{{ value("a") ** value("b") }}', "template raises to a power"),
    ('{{ value("a") | round }}', "template filters"),
    ('{% filter upper %}x{% endfilter %}', "template filters"),
    ('{{ value("a") ~ " kW" }}', "template glues parts with ~"),
    ('{% if value("a") > value("b") %}x{% endif %}', "template compares"),
    ('{% if value("a") is number %}x{% endif %}', "template tests"),
    ('{{ value("a").number }}', "template reads an attribute"),
    ('{{ names["a"] }}', "template reads an item"),
    ("{% include 'plant.md.j2' %}", "template uses include"),
    ("{% import 'plant.md.j2' as plant %}", "template uses import"),
    ("{% for one in several('set') %}x{% endfor %}", "template uses for"),
    ("{% set a = 'b' %}", "template uses assign"),
    ("{% macro a() %}x{% endmacro %}", "template uses macro"),
    ("{% block a %}x{% endblock %}", "template uses block"),
    ("{% autoescape false %}x{% endautoescape %}", "template switches escaping on or off"),
    ("{{ ['a'] }}", "template uses list"),
    ("{{ lipsum }}", "template names 'lipsum' without calling it"),
    ("{% if holds %}x{% endif %}", "template names 'holds' without calling it"),
    ("{{ value(lipsum) }}", "value(…) is not given words in quotes alone"),
    ("{{ value(value) }}", "value(…) is not given words in quotes alone"),
    ("{{ check('a', plural=holds) }}", "check(…) is not given words in quotes alone"),
    ("{{ table(*several) }}", "table(…) is not given words in quotes alone"),
    ("{{ value(none) }}", "value(…) is not given words in quotes alone"),
    ("{{ 5 }}", "template holds the number 5"),
    ("{{ 0.8 }}", "template holds the number 0.8"),
])
def test_a_template_may_not_compute(source, what):
    assert f"3 {what}" in told(f"first line\n\n{source}\n")


@pytest.mark.parametrize("prose_text", ["about 12 kW", "the 3 sets", "at 0.8 lagging", "in 2024", "a 24-hour run", "50 Hz", "10%"])
def test_a_number_may_not_be_typed_in_prose(prose_text):
    assert any("typed in prose" in line and line.startswith("2 ") for line in told(f"Fine.\nHere is {prose_text} to see.\n"))


@pytest.mark.parametrize("prose_text", ["NFPA 110", "IEC 60909-0:2016", "ISO 8528-5", "clause 4.2", "table 5", "2024-03-01", "class G3", "N+1 sets", "m³/s",
                                        "CO₂"])
def test_names_clauses_and_dates_may_hold_digits(prose_text):
    assert told(f"As in {prose_text}, see there.\n") == []


def test_every_breach_is_told_at_once():
    assert len(told('{{ 5 }}\n{{ value("a") * value("b") }}\nabout 7 m\n')) == 3


def test_a_template_that_cannot_be_read_is_a_fault_with_its_line():
    with pytest.raises(Faults) as found:
        told("one\n\n{% if %}\n")
    assert found.value.faults[0].line == 3 and "cannot be read" in found.value.faults[0].what


# ---- Markdown and Jinja ----

def test_block_tags_on_their_own_lose_the_paragraph():
    made = prose.to_html('{% if holds("a") %}\n\nIt holds.\n\n{% else %}\n\nIt *fails*.\n\n{% endif %}\n')
    assert made == '{% if holds("a") %}\n<p>It holds.</p>\n{% else %}\n<p>It <em>fails</em>.</p>\n{% endif %}'


def test_a_block_function_loses_the_paragraph_and_a_value_keeps_it():
    assert prose.to_html('{{ verdicts() }}\n\n{{ value("a_b_c") }}\n') == '{{ verdicts() }}\n<p>{{ value("a_b_c") }}</p>'


def test_markdown_does_not_touch_what_stands_in_a_tag():
    assert '{{ value("a_b_c") }} and {{ value("d_e_f") }}' in prose.to_html('{{ value("a_b_c") }} and {{ value("d_e_f") }}')


def test_an_anchor_of_a_heading_has_no_jinja_in_it():
    assert prose.to_html('## Air for {{ text("x") }}\n') == '<h2 id="air-for">Air for {{ text("x") }}</h2>'


def test_empty_paragraphs_go():
    text = "A.\n\n{% if given('x') %}One.{% endif %} {% if given('y') %}Two.{% endif %}\n\nB {% if given('x') %}and C{% endif %}.\n"
    jinja = render.environment()
    filled = jinja.from_string(prose.noted(prose.to_html(text)))
    assert [filled.render(given=lambda name: name in known, **prose.noting(PageData())).split() for known in ((), ("x", "y"))] == [
        ["<p>A.</p>", "<p>B", ".</p>"], ["<p>A.</p>", "<p>One.", "Two.</p><p>B", "and", "C.</p>"]]


def test_what_a_template_writes_is_noted():
    data = PageData()
    filled = render.environment().from_string(prose.noted(prose.to_html('## Heat & *air*\n\n{% if on() %}\n\n## Left\n\n[There](a.html#b)\n\n{% endif %}\n')))
    assert filled.render(on=lambda: False, **prose.noting(data)).split("\n")[0] == '<h2 id="heat-air">Heat &amp; <em>air</em></h2>'
    assert (data.ids, data.links, data.headings) == ({"heat-air": 1}, set(), {"heat-air": "Heat &amp; <em>air</em>"})
    assert 'href="a.html#b"' in filled.render(on=lambda: True, **prose.noting(data))
    assert data.links == {"a.html#b"} and list(data.headings) == ["heat-air", "left"]


# ---- filling ----

class Functions:
    def value(self, value_id: str):
        if value_id == "missing":
            raise render.Refused("unknown value 'missing'", "the id of a Term", "missed")
        return html.link("#x", value_id, class_="n")

    def holds(self, check_id: str) -> bool:
        return True

    def count(self):
        return 3


def layout(folder, source: str) -> render.Layout:
    (folder / "t.md.j2").write_text(source, "utf-8")
    made = render.convert("t.md.j2", (folder,), Functions)
    return render.layout(made, render.code_of(made))


def test_a_layout_is_filled(tmp_path):
    assert render.fill(layout(tmp_path, 'It is {{ value("<a>") }}.\n'), Functions(), PageData()) == '<p>It is <a href="#x" class="n">&lt;a&gt;</a>.</p>'


def test_a_number_that_is_no_value_is_refused_with_its_line(tmp_path):
    with pytest.raises(Faults) as found:
        render.fill(layout(tmp_path, "One.\n\nTwo.\n\nThree {{ count() }}.\n"), Functions(), PageData())
    (fault,) = found.value.faults
    assert fault.line == 5 and "3, which is no Value" in fault.what


def test_what_is_not_there_is_a_fault_with_its_line(tmp_path):
    source = '# Head\n\n- a\n- b\n\n{% if holds("a") %}\n\n{{ value("b") }}\n\n{{ value("missing") }}\n\n{% endif %}\n'
    with pytest.raises(Faults) as found:
        render.fill(layout(tmp_path, source), Functions(), PageData())
    assert found.value.faults[0].line == 10 and found.value.faults[0].nearest == "missed"


def test_an_unknown_function_and_wrong_arguments_are_faults_even_in_a_branch_not_taken(tmp_path):
    with pytest.raises(Faults) as found:
        layout(tmp_path, '{% if holds("a") %}\n{% else %}\n{{ valeu("b") }}\n{{ value("a", "b") }}{{ value("a", plural=true) }}\n{% endif %}\n')
    first, second, third = found.value.faults
    assert (first.line, first.nearest) == (3, "value") and second.line == third.line == 4 and "value(…)" in second.what and "plural" in second.what + third.what
    assert "'str'" not in second.expected and second.expected.startswith("value(value_id")  # what to write, not a signature of Python's


def test_a_tag_that_markdown_takes_for_its_own_is_a_fault(tmp_path):
    with pytest.raises(Faults) as found:
        layout(tmp_path, 'Words.\n\n{% if holds("a") %}\n\n[a]: {% endif %}\n')
    assert "cannot be read" in found.value.faults[0].what


def test_a_template_that_is_not_text_is_a_fault_with_its_line(tmp_path):
    (tmp_path / "t.md.j2").write_bytes(b"Words.\n\nK\xfchler\n")
    with pytest.raises(Faults) as found:
        render.convert("t.md.j2", (tmp_path,), Functions)
    assert (found.value.faults[0].line, found.value.faults[0].what) == (3, "is not UTF-8 text")


def test_a_misspelt_template_is_a_fault_with_the_nearest_name(tmp_path):
    for name in ("ventilaton.md.j2", "plant.md", "own.j2", "cables.md.j2", "README.md", "notes.txt", ".plant.md.j2.swp", "plant.md.j2~"):
        (tmp_path / name).write_text("Words.\n", "utf-8")
    found = {(fault.file.rpartition("/")[2], fault.nearest) for fault in render.misspelt((tmp_path, render.OWN))}
    assert found == {("ventilaton.md.j2", "ventilation.md.j2"), ("plant.md", "plant.md.j2"), ("own.j2", "")}


def test_a_missing_template_names_where_it_was_looked_for(tmp_path):
    with pytest.raises(Faults) as found:
        render.convert("none.md.j2", (tmp_path,), Functions)
    assert tmp_path.name in found.value.faults[0].expected


# ---- HTML ----

def test_text_is_escaped_and_markup_is_not():
    assert html.tag("p", "<b> & \"c\"", html.tag("i", "d"), title='"x"') == '<p title="&#34;x&#34;">&lt;b&gt; &amp; &#34;c&#34;<i>d</i></p>'


def test_attributes_that_are_off_are_left_out():
    assert html.tag("ul", id=None, hidden=True, open=False, aria_label="a", class_="b") == '<ul hidden aria-label="a" class="b"></ul>'


# ---- links ----

def page(ids=(), links=()):
    """What was noted of a page."""
    return PageData(Counter(ids), set(links))


def test_the_link_checker_finds_what_is_dead():
    pages = {"a/one.html": page("xx", ("two.html#y", "two.html#z", "three.html", "https://example.org", "search.js", "#nowhere")),
             "a/two.html": page("y", ("../index.html",)), "index.html": page()}
    found = {(one.address, one.what, one.expected) for one in links.broken(pages, {"a/search.js"})}
    assert found == {("a/one.html", what, expected) for what, expected in (
        ("id 'x' stands 2 times on the page", "one"), ("dead anchor two.html#z", "an id on a/two.html"), ("dead link three.html", "a page that is built"),
        ("link to https://example.org leaves the site", "a page of the book"), ("dead anchor #nowhere", "an id on a/one.html"))}


def test_a_broken_page_is_blamed_on_the_template_that_wrote_it_and_else_on_the_program():
    pages = {"one.html": page(("checks", "checks"), ("gone.html",))}
    source = "Words.\n\n## Checks\n\n[There](gone.html)\n"
    written = {place: ("t.md.j2", line) for place, line in prose.written_in(source, prose.to_html(source)).items()}
    with pytest.raises(Faults) as found:
        links.check(pages, (), written)
    assert {(fault.file, fault.line, fault.what) for fault in found.value.faults} == {
        ("t.md.j2", 0, "id 'checks' stands 2 times on the page"), ("t.md.j2", 5, "dead link gone.html")}
    with pytest.raises(links.BrokenPages, match="one.html: dead link gone.html"):
        links.check(pages, (), {"checks": ("t.md.j2", 0)})


def test_two_options_never_share_a_page():
    assert option_page("tank", "large-round") != option_page("tank-large", "round")
