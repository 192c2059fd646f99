"""Ordering, missing inputs, options, standing and verdicts, on a small catalogue of its own."""

import pytest
from trial_project import CHAPTER, PROJECT

from basis.language.faults import Faults
from basis.language.maths import FormulaError
from basis.solving.working import lines, record


def told(trial, *changes, chapter=CHAPTER, project=PROJECT):
    for old, new in changes:
        assert old in project
        project = project.replace(old, new)
    with pytest.raises(Faults) as found:
        trial(project, chapter)
    return found.value.faults


def test_values_and_their_trace(trial):
    book = trial()
    velocity = book["trial_velocity"]
    assert velocity.number.tolist() == [3.0, 2.0] and velocity.inputs == ("trial_flow", "trial_area")
    assert book["trial_velocity.north"].text() == "3.00 m/s" and book["trial_area"].used_by == ("trial_velocity", "trial_total")
    assert book["trial_total"].number == 10.0 and book["trial_mean"].left_over == (0.0, "residual of area, m²")
    assert book["trial_result"].number == pytest.approx(3.048 * 0.5)
    assert "trial_velocity" in book and "nothing" not in book
    assert repr(book["trial_result"]) == "<trial_result = 1.52 m (computed; upstream: assumed, common practice, default)>"
    assert "10 ft" in repr(book["trial_length"].given)


def test_standing_travels_downstream(trial):
    book = trial()
    assert book["trial_result"].mark == "assumed" and book["trial_total"].mark == "from memory" and book["trial_mean"].mark == "from memory"
    assert book["trial_velocity"].mark == "" and book["trial_factor"].mark == "common practice"
    assert [given.term for given in book.assumptions()] == ["trial_length"]


def test_assumptions_stand_by_file_and_line_and_those_of_one_line_in_the_order_of_the_book(books):
    for book in books.values():
        order = list(book.values)
        places = [(given.file, given.line, order.index(given.term)) for given in book.assumptions()]
        assert places == sorted(places)


LEFT_OPEN = CHAPTER + '''
@formula(source="physics")
def trial_free_area(trial_kind, trial_area):
    """Half of a grille; of a door the project must say."""
    return trial_area / 2 if trial_kind == "grille" else not_given
'''
KINDS = PROJECT.replace("trial_area: 4 m^2", "trial_area: 4 m^2, trial_kind: grille").replace("trial_area: 6 m^2", "trial_area: 6 m^2, trial_kind: door")


def test_what_a_formula_leaves_to_the_project_is_given_or_a_fault(trial):
    """An arm that is `not_given`: the item of which it is true must give the value; the others may."""
    told_of = told(trial, chapter=LEFT_OPEN, project=KINDS)
    assert [(fault.what, fault.line) for fault in told_of] == [("missing 'trial_free_area' of 'south'", 7)]
    book = trial(KINDS.replace("trial_kind: door", "trial_kind: door, trial_free_area: 5 m^2"), LEFT_OPEN)
    assert book["trial_free_area"].number.tolist() == [2.0, 5.0]


def test_the_arm_that_is_not_taken_needs_nothing(trial):
    assert "trial_long_only" not in trial().values
    faults = told(trial, ("trial_mode: short", "trial_mode: long"))
    assert any("missing 'trial_long_only' (needed by trial_result)" in fault.what for fault in faults)


def test_check_names_the_worst_element(trial):
    verdict = trial().check("velocity")
    assert (verdict.word, verdict.element) == ("fails", "north") and verdict.margin == pytest.approx(-0.1 / 2.9)
    assert verdict.remark == "larger louvre on order" and verdict.margin_text == "−3.4 %"
    assert trial(PROJECT.replace("2.9 m/s", "3.05 m/s")).check("velocity").word == "tight"
    assert trial(PROJECT.replace("2.9 m/s", "4 m/s")).check("velocity").word == "holds"


def test_a_check_without_its_limit_is_undecided(trial):
    verdict = trial(PROJECT.replace("trial_limit: 2.9 m/s\n", "")).check("velocity")
    assert (verdict.word, verdict.missing) == ("undecided", ("trial_limit",))


def test_a_limit_missing_for_one_item_leaves_the_check_undecided(trial):
    per_item = CHAPTER.replace('limit="trial_limit"', 'limit="trial_item_limit"')
    text = PROJECT.replace("trial_area: 4 m^2}", "trial_area: 4 m^2, trial_item_limit: 5 m/s}")
    verdict = trial(text, per_item).check("velocity")
    assert (verdict.word, verdict.missing) == ("undecided", ("trial_item_limit.south",))
    failing = trial(text.replace("trial_item_limit: 5 m/s", "trial_item_limit: 1 m/s"), per_item).check("velocity")
    assert (failing.word, failing.element) == ("fails", "north")


def test_a_check_over_an_empty_list_has_nothing_to_check(trial):
    empty = PROJECT.replace("  - {id: north, trial_area: 4 m^2}\n  - {id: south, trial_area: 6 m^2}\n", "").replace("openings:\n", "")
    for text in (empty, empty.replace("trial_limit: 2.9 m/s\n", "")):  # that no limit is given makes no difference
        verdict = trial(text).check("velocity")
        assert (verdict.word, verdict.unlisted, verdict.missing, verdict.margin_text) == ("nothing to check", ("opening",), (), "")
        assert not verdict.decided and verdict.nothing_text == "no openings listed" and verdict.remark == "larger louvre on order"
    one = empty.replace("trial_limit:", "openings: [{id: north, trial_area: 6 m^2}]\ntrial_limit:")
    assert trial(one).check("velocity").word == "holds" and trial(one).check("velocity").decided  # hand: 12/6 = 2 m/s against 2.9 m/s
    assert trial(one.replace("trial_limit: 2.9 m/s\n", "")).check("velocity").word == "undecided"


SHARE = CHAPTER + '''
@formula(source="physics")
def trial_ratio(trial_area, trial_length):
    """Share."""
    return sum_over("opening", trial_area) / trial_length ** 2
share = check("share", "trial_ratio", limit="trial_factor", safe="below", source="project", title="Share")
'''


def test_what_rests_on_an_empty_list_alone_does_not_pass(trial):
    empty = PROJECT.replace("  - {id: north, trial_area: 4 m^2}\n  - {id: south, trial_area: 6 m^2}\n", "").replace("openings:\n", "")
    verdict = trial(empty, SHARE).check("share")
    assert (verdict.word, verdict.unlisted, verdict.missing) == ("nothing to check", ("opening",), ())  # nought below a half would have held
    failing = trial(empty, SHARE.replace('limit="trial_factor", safe="below"', 'limit="trial_factor", safe="above"')).check("share")
    assert failing.word == "fails"  # nothing where something is asked for is a fail, not nothing to check


APPLIES = CHAPTER.replace('title="Velocity")', 'title="Velocity", applies={"%s": %s})')


def test_a_check_means_nothing_where_a_choice_says_otherwise(trial):
    held = trial(chapter=APPLIES % ("trial_mode", ("short",))).check("velocity")
    assert held.word == "fails" and held.beside == ()
    aside = trial(PROJECT.replace("trial_limit: 2.9 m/s\n", ""), APPLIES % ("trial_mode", ("long",))).check("velocity")
    assert (aside.word, aside.nothing_text, aside.missing) == ("nothing to check", "mode: short", ()) and aside.value is None


def test_a_choice_of_each_item_says_which_items_are_judged(trial):
    text = PROJECT.replace("trial_area: 4 m^2}", "trial_area: 4 m^2, trial_kind: door}").replace("trial_area: 6 m^2}", "trial_area: 6 m^2, trial_kind: grille}")
    assert trial(text, APPLIES % ("trial_kind", ("door",))).check("velocity").element == "north"
    one = trial(text, APPLIES % ("trial_kind", ("grille",))).check("velocity")
    assert (one.word, one.element) == ("holds", "south")  # 12/6 = 2 m/s by hand; the 3 m/s of the door are not judged
    none = trial(text.replace("grille", "door"), APPLIES % ("trial_kind", ("grille",))).check("velocity")
    assert (none.word, none.nothing_text) == ("nothing to check", "kind of opening: door")


def test_a_check_means_nothing_where_a_number_is_nought(trial):
    by_number = APPLIES % ("trial_limit", ("some",))
    assert trial(chapter=by_number).check("velocity").word == "fails"
    none = trial(PROJECT.replace("trial_limit: 2.9 m/s", "trial_limit: 0 m/s"), by_number).check("velocity")
    assert (none.word, none.nothing_text) == ("nothing to check", "limit: 0 m/s")


SIZED = CHAPTER.replace("trial_area):", "trial_free_area):", 1).replace("/ trial_area", "/ trial_free_area").replace(
    'title="Velocity")', 'title="Velocity", applies={"trial_free_area": ("given",)})') + '''
@formula(source="definition")
def trial_free_area(trial_flow, trial_limit):
    """As large as the limit asks for."""
    return trial_flow / trial_limit
'''


def test_what_is_computed_so_that_a_check_holds_has_nothing_to_check(trial):
    verdict = trial(chapter=SIZED).check("velocity")
    assert (verdict.word, verdict.missing, [term.id for term in verdict.sized]) == ("nothing to check", (), ["trial_free_area"])
    assert verdict.nothing_text == "free area not given (trial_free_area of openings in plant.yaml), and as computed it holds by itself"


def test_of_items_those_are_judged_whose_size_is_given(trial):
    text = PROJECT.replace("trial_area: 4 m^2}", "trial_area: 4 m^2, trial_free_area: 5 m^2}")
    verdict = trial(text, SIZED).check("velocity")
    assert (verdict.word, verdict.element) == ("holds", "north")  # 12/5 = 2.4 m/s by hand; south is just at the limit, and would be tight
    assert trial(text.replace("5 m^2", "4 m^2"), SIZED).check("velocity").word == "fails"  # 3 m/s


def test_what_fails_although_it_is_computed_for_the_check_fails(trial):
    small = SIZED.replace("return trial_flow / trial_limit", "return trial_flow / trial_limit / 2")
    assert trial(chapter=small).check("velocity").word == "fails"


def test_a_size_on_which_the_arm_that_runs_does_not_rest_says_nothing(trial):
    other = SIZED.replace("def trial_velocity(trial_flow, trial_free_area)", "def trial_velocity(trial_flow, trial_free_area, trial_area, trial_mode)").replace(
        "/ trial_free_area", '/ (trial_free_area if trial_mode == "long" else trial_area)')
    assert trial(chapter=other).check("velocity").word == "fails"
    assert trial(PROJECT.replace("2.9", "3.2"), other).check("velocity").word == "holds"


def test_a_condition_that_cannot_hold_is_a_programmers_mistake(trial):
    for name, words in (("trial_flow", ("short",)), ("trial_flow", ("given",)), ("trial_mode", ("shorter",)), ("trial_mode", "short"),
                        ("trial_kin", ("door",))):
        with pytest.raises(FormulaError, match="velocity"):
            trial(chapter=APPLIES % (name, repr(words)))


def test_self_tests_are_kept_apart(trial):
    book = trial(chapter=CHAPTER.replace('title="Velocity")', 'title="Velocity", self_test=True)'))
    assert book.checks == () and [one.word for one in book.self_tests] == ["fails"] and book.check("velocity").check.self_test


def test_a_verdict_carries_the_mark_of_its_limit(trial):
    chapter = CHAPTER + 'ratio = check("ratio", "trial_result", limit="trial_length", safe="below", source="project", title="Result")\n'
    verdict = trial(chapter=chapter).check("ratio")
    assert verdict.limit_mark == "assumed" and verdict.marks == ("assumed", "common practice", "default")


def test_a_verdict_carries_the_mark_of_the_choice_by_which_it_is_asked(trial):
    assert trial().check("velocity").marks == ()
    asked = trial(chapter=APPLIES % ("trial_way", ("up",))).check("velocity")
    assert (asked.word, asked.limit_mark, asked.marks) == ("fails", "", ("common practice", "default"))
    aside = trial(chapter=APPLIES % ("trial_way", ("down",))).check("velocity")
    assert (aside.word, aside.nothing_text, aside.marks) == ("nothing to check", "way: up by default", ("common practice", "default"))
    given = trial(PROJECT.replace("trial_mode", "trial_way: up\ntrial_mode"), APPLIES % ("trial_way", ("down",))).check("velocity")
    assert (given.nothing_text, given.marks) == ("way: up", ())


def test_a_result_outside_its_physical_range_is_a_fault_that_names_its_formula(trial):
    over = SHARE.replace('return sum_over("opening", trial_area) / trial_length ** 2', 'return 1 - sum_over("opening", trial_area) / trial_length ** 2')
    faults = told(trial, chapter=over)  # by hand: 1 − 10 m² / (3.048 m)² = −0.0764
    assert [str(fault) for fault in faults] == ["projects/trial/project.yaml:4: 'trial_ratio' comes out as −0.07639, outside its physical range "
                                                "(by 'trial_ratio', of trial_length = 3.048 m); expected at least 0; see: basis show trial_ratio"]
    assert trial(PROJECT.replace("10 ft", "12 ft"), over)["trial_ratio"].number > 0


def test_what_follows_from_a_result_outside_its_range_is_not_told_again(trial):
    over = SHARE.replace("return trial_flow / trial_area", "return -trial_flow / trial_area") + '''
@formula(source="physics")
def trial_time(trial_length, trial_velocity):
    """Time."""
    return trial_length / max_over("opening", trial_velocity)
'''
    faults = told(trial, chapter=over)
    assert len(faults) == 1 and "'trial_velocity.north' comes out as −3 m/s" in faults[0].what
    assert "id: north" in PROJECT.splitlines()[faults[0].line - 1]


def test_chances_beside_something_undecided(trial):
    chapter = CHAPTER + '''
@formula(source="physics")
def trial_largest(trial_area):
    """Largest."""
    return max_over("opening", trial_area)
@formula(source="physics")
def trial_ratio(trial_largest, trial_length):
    """Ratio."""
    return trial_largest / trial_length ** 2
@formula(source="physics")
def trial_long_only(trial_length, trial_ratio):
    """Either."""
    return max(trial_length, trial_length * trial_ratio)
near = check("near", "trial_result", limit="trial_length", safe="below", source="project", title="Near")
far = check("far", "trial_long_only", limit="trial_length", safe="below", source="project", title="Far")
'''
    empty = PROJECT.replace("  - {id: north, trial_area: 4 m^2}\n  - {id: south, trial_area: 6 m^2}\n", "").replace("openings:\n", "")
    book = trial(empty.replace("note: paced out", "note: paced out, plus_minus: 1 ft"), chapter)
    assert book.check("near").samples and not book.check("far").samples and not book.check("far").decided


def test_missing_input_of_an_item_names_the_item(trial):
    fault = told(trial, ("{id: south, trial_area: 6 m^2}", "{id: south}"))[0]
    assert "missing 'trial_area' of 'south' (needed by trial_velocity)" in fault.what


def test_a_circle_is_told_with_its_members(trial):
    circle = CHAPTER.replace('"""Total."""\n    return sum_over("opening", trial_area)', '"""Total."""\n    return trial_mean').replace(
        "def trial_total(trial_area)", "def trial_total(trial_mean)")
    assert any("trial_total → half" in f.what or "trial_total → trial_mean → trial_total" in f.what for f in told(trial, chapter=circle))


def test_what_cannot_be_computed_is_a_fault_with_its_inputs(trial):
    fault = told(trial, ("trial_area: 4 m^2", "trial_area: 0 m^2"))[0]
    assert "'trial_velocity' cannot be computed" in fault.what and "trial_flow = 12 m³/s" in fault.what


def test_outside_its_range_a_value_carries_a_warning(trial):
    book = trial(PROJECT.replace("12 m^3/s", "120 m^3/s"))
    assert "outside the range" in book["trial_velocity"].warnings()[0] and not trial()["trial_velocity"].warnings()


OPTIONS = PROJECT + """decisions:
  - id: size
    chosen: small
    reason: it fits
    options:
      - {id: small, with: {}}
      - id: large
        with:
          openings: [{id: north, trial_area: 8 m^2}, {id: west, trial_area: 2 m^2}]
          trial_mode: long
          trial_long_only: 7 m
"""


def test_options_are_solved_beside_the_chosen_one(trial):
    book = trial(OPTIONS)
    large = book.options[("size", "large")]
    assert book.options[("size", "small")]["trial_total"].number == 10.0 == book["trial_total"].number
    assert large["trial_total"].number == 16.0 and large.items["opening"] == ("north", "south", "west") and large["trial_result"].number == 7.0


def test_a_fault_in_an_option_names_it(trial):
    faults = told(trial, ("          trial_long_only: 7 m\n", ""), project=OPTIONS)
    assert len(faults) == 1 and "(in option 'large')" in faults[0].what


def test_working_has_every_part(trial):
    book = trial()
    text = "\n".join(lines(book.values, book["trial_result"]))
    for part in ("Result", "l_r = l · η if Mode = short; l_l otherwise", "l_r = 10.0\u00a0ft" if False else "l_r = 3.05\u00a0m · 0.500", "= 1.52 m",
                 "input trial_length",
                 "source Derived from first principles"):
        assert part in text, text
    facts = record(book.values, book["trial_length"])
    assert facts["givens"][0]["line"] == 4 and facts["givens"][0]["note"] == "paced out" and facts["standing"] == "assumed – confirm"


def test_two_formulas_for_one_term_are_refused(trial):
    with pytest.raises(ValueError, match="twice"):
        trial(chapter=CHAPTER + CHAPTER.split('"Trial", order=1)')[1].replace("def half", "def half2").replace("velocity = ",
            "v2 = ").replace('check("velocity"', 'check("v2"')
              .replace('@formula(source="physics", valid={"trial_flow": (0, 100)})\ndef trial_velocity', '@formula(source="physics")\ndef trial_velocity')
              .replace('yields=("trial_mean",)', 'yields=("trial_mean",)'))
