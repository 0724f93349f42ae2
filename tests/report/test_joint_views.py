"""The joint in words, tables and plain data: no more cheerful than the study, nothing cut."""

import io
import json
import math
import re
from dataclasses import replace

import numpy as np
import pytest
from joint_builds import VARIANTS, build_of
from rich.console import Console

from bladehold.cautions import CAUTIONS, INVENTED
from bladehold.report.data import as_json
from bladehold.report.joint import show_joint, window
from bladehold.report.joint_data import joint_csv_rows, joint_data
from bladehold.report.joint_words import (
    crew_sentence,
    gap_sentence,
    headline,
    lasting,
    life_sentence,
    loss_sentence,
    reasons,
    sentences,
    setting_sentence,
    stiffness_sentence,
    tightness_sentence,
)
from bladehold.study import joint_answer
from bladehold.study.failsafe import LEAVES, STAYS, SWINGS
from bladehold.study.joint import POINTS
from bladehold.study.words import span

NAMES = list(VARIANTS)
AGAIN = (
    "Strength and life here are those of the sheet's torque: put the new one into the sheet and check again."
)


@pytest.fixture(scope="module")
def answers():
    return {name: joint_answer(build_of(text)) for name, text in VARIANTS.items()}


def flat(text):
    return re.sub(r"\s+", " ", text)


def shown(found, width):
    out = io.StringIO()
    console = Console(file=out, width=width, highlight=False, markup=False, emoji=False)
    show_joint(console, found)
    return out.getvalue()


def altered(found, **changes):
    """The answer with things changed in its tightness."""
    return replace(found, tightness=replace(found.tightness, **changes))


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("width", [80, 108])
def test_nothing_is_cut_at_any_width(answers, name, width):
    text = shown(answers[name], width)
    assert max(len(line.rstrip()) for line in text.splitlines()) <= width
    assert "…" not in text
    words = flat(text)
    for sentence in (headline(answers[name]), *sentences(answers[name]), *CAUTIONS, INVENTED):
        assert flat(sentence) in words


@pytest.mark.parametrize("name", NAMES)
def test_every_number_of_the_clevis_is_in_the_table(answers, name):
    found = answers[name]
    text = shown(found, 108)
    points = found.curve.points
    for state in (points.tight, points.loose):
        for at, point in enumerate(POINTS):
            row = f"{point} {points.moment[at]:.2f} {state.screw_tension[at]:.0f}"
            assert row in flat(text)


@pytest.mark.parametrize("name", NAMES)
def test_parts_come_in_order(answers, name):
    text = flat(shown(answers[name], 108))
    titles = ["The clevis at limit load", "Life by part", "One member lost", "Facts about the hub", "Assumed"]
    if answers[name].tightness is not None:
        titles[1:1] = ["Friction moment of the pivot", "Windows at"]
    # The sentences above the tables name some of these things, too.
    places = [text.rindex(title) for title in titles]
    assert places == sorted(places)
    assert text.index(CAUTIONS[0]) > places[-1]


@pytest.mark.parametrize("name", NAMES)
def test_the_headline_is_never_more_cheerful_than_what_it_rests_on(answers, name):
    found = answers[name]
    assert ("DOES NOT HOLD" in headline(found)) is (not found.holds) is bool(reasons(found))
    bad = (
        not found.assessment.holds
        or any(life.hours is not None and life.hours < found.service_hours for life in found.lives)
        or (found.tightness is not None and found.tightness.as_built.width < 1.0)
        or found.set_right is False
    )
    assert found.holds is not bad


def test_a_build_that_serves_in_all_holds_and_says_what_is_weakest(answers):
    found = answers["sprung"]
    assert found.holds and found.can_be_set and found.set_right
    weak = found.assessment.governing
    assert f"{weak.part}, {weak.mode}" in headline(found) and "MARGINAL" in headline(found)
    assert setting_sentence(found) is None
    ample = replace(found.build.policy, marginal=0.01)
    strong = replace(found, assessment=replace(found.assessment, build=replace(found.build, policy=ample)))
    assert "HOLDS in all that is checked" in headline(strong)


def test_one_short_life_or_a_tightness_that_does_not_serve_is_enough_to_fail(answers):
    found = answers["sprung"]
    short = replace(found, lives=(replace(found.lives[0], hours=found.service_hours - 1.0),))
    assert not short.holds and "life 299 h of the 300 h wanted" in headline(short)
    assert "makes the joint hold" not in crew_sentence(short) and "not make" in crew_sentence(short)
    narrow = replace(found.tightness.ways[0], torque_width=0.9, pull_width=0.9)
    lost = altered(found, ways=(narrow, *found.tightness.ways[1:]))
    assert not lost.holds and "as built no tightness of the pivot serves" in headline(lost)
    loose = found.build.pivot.tightening
    sheet = replace(found.build.pivot, tightening=replace(loose, torque=0.2))
    build = replace(found.build, pivot=sheet)
    slack = replace(found, assessment=replace(found.assessment, build=build))
    assert slack.set_right is False and not slack.holds
    assert "0.2 N·m, is not within 0.81 to 1.25 N·m" in setting_sentence(slack)


def test_no_torque_serves_is_said_as_it_is(answers):
    found = answers["repaired"]
    assert found.tightness.verdict.startswith("no torque serves")
    assert flat(found.tightness.verdict.replace("N*m", "N·m")) in tightness_sentence(found)
    crew = crew_sentence(found)
    assert crew.startswith("For the crew: by no torque; at 20 °C")
    now = found.tightness.as_built
    assert f"reads {now.pull_least:.2f} to {now.pull_greatest:.2f} N" in crew
    assert "does not make the joint hold" in crew


def test_the_crew_is_given_a_torque_within_its_window(answers):
    found = answers["sprung"]
    now = found.tightness.as_built
    torque = float(re.search(r"to (\d+\.\d+) N·m, within", crew_sentence(found))[1])
    assert now.torque_least < torque < now.torque_greatest
    assert f"running torque and all. {AGAIN}" in crew_sentence(found)


def test_a_setting_that_is_not_the_sheet_s_must_be_checked_again(answers):
    """Of a torque that differs and of a pull, but not of the sheet's own torque or where nothing serves."""
    sprung = answers["sprung"]
    assert crew_sentence(sprung).endswith(AGAIN) and crew_sentence(answers["repaired"]).endswith(AGAIN)
    now = sprung.tightness.as_built
    best = math.sqrt(now.torque_least * now.torque_greatest)
    same = replace(sprung.build.pivot, tightening=replace(sprung.build.pivot.tightening, torque=best))
    build = replace(sprung.build, pivot=same)
    kept = replace(sprung, assessment=replace(sprung.assessment, build=build))
    assert f"to {best:.2f} N·m" in crew_sentence(kept) and "check again" not in crew_sentence(kept)
    assert "check again" not in crew_sentence(altered(sprung, governing=None))
    assert "check again" not in crew_sentence(answers["clamped"])
    assert "count on no tightening" in crew_sentence(answers["no torque"])


def test_a_stiff_joint_is_told_without_an_exponent(answers):
    found = replace(answers["repaired"], stiffness=1362.4)
    assert "Stiffness against flapping 1 360 N·m/rad" in stiffness_sentence(found)
    assert "flapping 86.3 N·m/rad" in stiffness_sentence(replace(found, stiffness=86.31))


def test_how_a_life_was_found_is_told_in_words(answers):
    text = flat(shown(answers["repaired"], 200))
    assert "VDI 2230, thread rolled before heat treatment" in text
    assert "vdi-rolled" not in text and "ekvall" not in text


def test_lives_after_a_loss_are_said_to_be_those_of_new_parts(answers):
    assert "lasts (new parts)" in flat(shown(answers["repaired"], 200))


def test_where_nothing_serves_as_built_the_change_that_would_is_named(answers):
    found = answers["repaired"]
    first, *others = found.tightness.ways
    closed = replace(first, torque_width=0.5, pull_width=0.5)
    best = found.tightness.best_by_torque
    crew = crew_sentence(altered(found, ways=(closed, *others)))
    assert "no torque and no pull serves as it is built" in crew and f"With {best.name}" in crew
    assert f"{best.torque_least:.2f} to {best.torque_greatest:.2f} N·m at 20 °C" in crew
    by_pull = [replace(way, torque_width=min(way.torque_width, 0.9)) for way in others]
    assert "at the tip at 20 °C" in crew_sentence(altered(found, ways=(closed, *by_pull)))
    none = [replace(way, torque_width=0.9, pull_width=0.9) for way in others]
    assert "nor with any change tried" in crew_sentence(altered(found, ways=(closed, *none)))
    assert "nor with any change tried" in crew_sentence(altered(found, governing=None))


def test_bounds_that_all_break_give_no_window(answers):
    found = altered(answers["sprung"], governing=None)
    assert found.can_be_set is False and found.set_right is None and not found.holds
    assert "no tightness serves" in tightness_sentence(found) and setting_sentence(found) is None


def test_a_setting_that_is_not_known_is_told(answers):
    assert "neither torque nor measured friction" in setting_sentence(answers["no torque"])
    assert answers["no torque"].set_right is None
    assert "0.91 N at the tip" in setting_sentence(answers["repaired"])


def test_pivots_without_a_tightness_say_why(answers):
    assert "the blades do not fold" in tightness_sentence(answers["clamped"])
    assert "tighten the pivot screw to 0.9 N·m" in crew_sentence(answers["clamped"])
    assert "nothing clamps the pivot" in tightness_sentence(answers["circlip"])
    assert "no torque of the pivot to give" in crew_sentence(answers["circlip"])
    for name in ("clamped", "circlip"):
        assert answers[name].can_be_set is None and "Windows" not in shown(answers[name], 80)


def test_gaping_is_told_with_least_and_greatest_preload(answers):
    curve = answers["sprung"].curve
    said = gap_sentence(answers["sprung"])
    assert f"{curve.first_gap:.2f} N·m under the greatest preload ({curve.preload_greatest:.0f} N)" in said
    assert f"{curve.first_gap_least:.2f} N·m under the least ({curve.preload_least:.0f} N)" in said
    assert "to nothing under the least (0 N)" in gap_sentence(answers["repaired"])
    # Clamped over the gap the plates bend, so the ends stand open before there is any load.
    curve = answers["repaired"].curve
    stand = 1e3 * max(float(curve.tight.upper_opening[0]), float(curve.tight.lower_opening[0]))
    assert curve.opens_at == 0.0 and f"stand {stand:.3f} mm open" in gap_sentence(answers["repaired"])
    text = VARIANTS["no ties"].replace('gap = "0.05 mm"', 'gap = "0 mm"')
    even = joint_answer(build_of(text))
    opens = even.curve.opens_at
    assert 0.0 < opens < even.curve.limit
    assert f"their faces gape from {opens:.2f} N·m on" in gap_sentence(even)
    shut = np.zeros_like(even.curve.tight.upper_opening)
    still = replace(even.curve, tight=replace(even.curve.tight, upper_opening=shut, lower_opening=shut))
    assert still.opens_at is None and "bend" not in gap_sentence(replace(even, curve=still))


def test_the_life_told_is_the_shortest_and_what_is_not_checked_is_named(answers):
    for found in answers.values():
        least = min((one for one in found.lives if one.hours is not None), key=lambda one: one.hours)
        assert f"{least.part} ({least.mode})" in life_sentence(found)
    circlip = answers["circlip"]
    assert "Not checked: pivot screw (thread)" in life_sentence(circlip)
    assert [life.hours is None for life in circlip.lives].index(True) == len(circlip.lives) - 1
    assert "– not checked" in shown(circlip, 108)
    endless = [replace(life, hours=math.inf) for life in circlip.lives if life.hours is not None]
    assert "No damage by fatigue" in life_sentence(replace(circlip, lives=tuple(endless)))
    only = tuple(life for life in circlip.lives if life.hours is None)
    assert "No life could be computed" in life_sentence(replace(circlip, lives=only))


def test_lost_members_are_told_by_the_worst_of_all_flight(answers):
    for found in answers.values():
        said = loss_sentence(found)
        words = {LEAVES: "the blade LEAVES: ", SWINGS: "the blade swings loose: ", STAYS: "the blade stays: "}
        for loss in found.losses:
            part = said.partition(words[loss.in_all_flight])[2].partition(";")[0]
            assert f"{loss.member} ({loss.how.partition(':')[0]})" in part
    assert "pivot screw (sheared at one face)" in loss_sentence(answers["as delivered"]).partition(";")[0]


def test_how_long_what_is_left_lasts_is_never_nothing(answers):
    loss = next(one for one in answers["repaired"].losses if one.hours is not None)
    for spent, words in (
        (1e-4, "under a minute"),
        (0.02, "1.2 min"),
        (40.26, "40.3 h"),
        (10_690.0, "10 700 h"),
    ):
        assert lasting(replace(loss, hours=spent)) == f"{words}: {loss.hours_part}"
    assert lasting(replace(loss, hours=math.inf)) == "no damage"


def test_several_screws_fail_and_one_screw_fails(answers):
    found = answers["as delivered"]
    assert f"the {found.weakest.part} fails: " in headline(found)
    checks = (replace(found.weakest, part="mounting screws"), *found.assessment.checks[1:])
    several = replace(found, assessment=replace(found.assessment, checks=checks))
    assert "the mounting screws fail: " in headline(several)


def test_windows_and_hours_in_words():
    assert window(0.5, 1.25, 2.5) == "0.50 to 1.25"
    assert window(2.0, 1.0, 0.5) == "none: 2.00 > 1.00"
    assert window(math.inf, 1.0, 0.0) == window(1.0, 0.0, 0.0) == "none"
    assert [span(value) for value in (0.004, 0.02, 0.65, 1.449, 73.11, 999.7, 1351.9, 160248.7, 7.9e6)] == [
        "under a minute",
        "1.2 min",
        "39 min",
        "1.45 h",
        "73.1 h",
        "1 000 h",
        "1 350 h",
        "160 000 h",
        "over 1e6 h",
    ]


@pytest.mark.parametrize("name", NAMES)
def test_data_is_whole_plain_and_the_study_s(answers, name):
    found = answers[name]
    data = json.loads(as_json(joint_data(found)))
    assert data["holds"] is found.holds and data["sentence"] == headline(found)
    assert data["sentences"] == sentences(found) and data["reasons"] == reasons(found)
    assert data["clamped"]["load_factor"] == pytest.approx(found.stack.load_factor)
    assert data["flap_stiffness_Nm_per_rad"] == pytest.approx(found.stiffness)
    assert data["first_gap_Nm"] == pytest.approx(found.curve.first_gap)
    assert [row["point"] for row in data["clevis"]] == [*POINTS, *POINTS]
    tight = found.curve.points.tight
    assert [row["screw_tension_N"] for row in data["clevis"][:4]] == pytest.approx(tight.screw_tension)
    assert len(data["curve"]) == len(joint_csv_rows(found)) == 2 * found.curve.moment.size
    for row, life in zip(data["lives"], found.lives, strict=True):
        assert (row["part"], row["mode"], row["checked"]) == (life.part, life.mode, life.hours is not None)
        finite = life.hours is not None and math.isfinite(life.hours)
        assert row["life_h"] == (pytest.approx(life.hours) if finite else None)
    for row, loss in zip(data["losses"], found.losses, strict=True):
        assert (row["in_hover"], row["in_all_flight"]) == (loss.in_hover, loss.in_all_flight)
        assert row["advice"] == loss.advice and len(row["remaining"]) == len(loss.remaining)
    assert [row["finding"] for row in data["facts"]] == [fact.finding for fact in found.facts]
    assert data["cautions"] == [INVENTED, *CAUTIONS]
    if found.tightness is None:
        assert data["tightness"] is None
    else:
        assert data["tightness"]["verdict"] == found.tightness.verdict
        widths = [way.torque_width for way in found.tightness.ways]
        assert [row["torque_width"] for row in data["tightness"]["ways"]] == pytest.approx(widths)
        given = data["tightness"]["with_the_torque_of_the_sheet"]
        assert (given is None) is (found.tightness.moment_least is None)


def test_a_speed_that_is_never_reached_is_null(answers):
    data = json.loads(as_json(joint_data(altered(answers["repaired"], straightens_at=math.inf))))
    assert data["tightness"]["straightens_at_rad_s"] is None
