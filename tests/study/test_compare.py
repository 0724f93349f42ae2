"""Builds side by side: every row is what each answers alone, and nothing that differs is lost."""

from dataclasses import replace

import numpy as np
import pytest
from sheets import delivered, repaired

from bladehold.air import GRAVITY
from bladehold.study import assess, drive_answer, limit
from bladehold.study.compare import FATIGUES, GROUPS, LESS, MORE, Entry, Row, asked_of, compare
from bladehold.study.flight_limit import flight_limits
from bladehold.study.joint import joint_answer
from bladehold.study.mass import retention_mass

BUILDS = (delivered(), repaired())


@pytest.fixture(scope="module")
def asked():
    return tuple(asked_of(build) for build in BUILDS)


@pytest.fixture(scope="module")
def found(asked):
    return compare(asked)


def row(found, name):
    return next(one for one in found.rows if one.name == name)


def test_a_build_beside_itself_differs_nowhere(asked):
    twice = compare([asked[1], asked[1]])
    assert twice.rows and not twice.differing and all(one.best is None for one in twice.rows)
    assert twice.holds == (True, True)


def test_rows_are_what_each_build_answers_alone(found):
    for at, build in enumerate(BUILDS):
        alone, joint = assess(build), joint_answer(build)
        assert row(found, "smallest margin").entries[at].number == alone.margin
        for part, check in alone.by_part().items():
            if check.level != "fatigue":
                assert row(found, part).entries[at].number == check.margin
        for life in joint.lives:
            assert row(found, f"{life.part}: {life.mode}").entries[at].number == life.hours
        held = limit(build).lowest
        assert row(found, "steady thrust held").entries[at].number == pytest.approx(held.thrust / GRAVITY)
        for part in limit(build).parts:
            entry = row(found, f"steady thrust held by the {part.part}").entries[at]
            assert entry.number == pytest.approx(part.thrust / GRAVITY)
        fast = flight_limits(build).speed.speed
        assert row(found, "level speed at the sheet's load factor").entries[at].number == fast
        motor = drive_answer(build)
        assert row(found, "hover alone").entries[at].number == pytest.approx(motor.hover_endurance / 60)
        weight = 1e3 * sum(retention_mass(build).values())
        assert row(found, "of one rotor").entries[at].number == pytest.approx(weight)
        assert row(found, "of the aircraft").entries[at].number == pytest.approx(6 * weight)
        width = joint.tightness.as_built.torque_width
        assert row(found, "window of torque, greatest over least").entries[at].number == width
        for loss in joint.losses:
            how = "one lost" if loss.how.startswith("one of") else loss.how.partition(":")[0]
            name = f"{loss.member}, {how}: smallest margin left"
            weak = loss.weakest
            assert row(found, name).entries[at].number == (None if weak is None else weak.margin)
    assert found.holds == (False, True) and found.names == tuple(build.name for build in BUILDS)


def test_margins_of_fatigue_are_the_smallest_of_each_part(found):
    rows = {one.name: one for one in found.rows if one.group == FATIGUES}
    for at, build in enumerate(BUILDS):
        lasting = [check for check in assess(build).checks if check.level == "fatigue"]
        for part in {check.part for check in lasting}:
            entry = rows[part].entries[at]
            assert entry.number == min(check.margin for check in lasting if check.part == part)
    assert rows["hub plates"].entries[1].number < 0.0 and found.lasts == (False, False)
    assert rows["tie screws"].entries[0].absent


def test_the_loss_of_one_of_more_ties_is_the_same_question(asked):
    more = replace(repaired(), ties=replace(repaired().ties, count=3))
    both = compare([asked[1], asked_of(more)])
    ties = [one for one in both.rows if one.name.startswith("tie screw, ")]
    assert len(ties) == 3 and not any(entry.absent for one in ties for entry in one.entries)


def test_every_group_is_there_and_every_answer_of_each_build(asked, found):
    assert [*dict.fromkeys(one.group for one in found.rows)] == list(GROUPS)
    for at, one in enumerate(asked):
        for key, entry in one.answers.items():
            same = next(r for r in found.rows if (r.group, r.name) == (key.group, key.name))
            assert same.entries[at] == entry
    ties = row(found, "tie screws")
    assert ties.differs and ties.entries[0].absent and ties.entries[1].number is not None


def test_what_one_cannot_answer_stands_there_with_the_reason():
    still = replace(repaired(), drive=None)
    fixed = replace(repaired(), propeller=replace(repaired().propeller, folding=False))
    answers = compare([asked_of(repaired()), asked_of(still), asked_of(fixed)])
    power = row(answers, "power in hover")
    assert "[motor] or [battery]" in power.entries[1].absent and power.entries[0].number > 0.0
    window = row(answers, "window of torque, greatest over least")
    assert window.entries[2].absent == "the blades do not fold"
    # Roots that only friction holds turn at the first drag.
    share = row(answers, "hardest thrust held, of the rating").entries[2]
    assert share.number == 0.0 and share.text == "clamped root fails unloaded"
    assert not window.entries[0].absent


@pytest.mark.parametrize(
    ("better", "numbers", "best"),
    [
        (MORE, (1.0, 2.0, None), 1),
        (LESS, (1.0, 2.0, 3.0), 0),
        (MORE, (2.0, 2.0, 1.0), None),
        (MORE, (1.0, np.inf, 2.0), 1),
        (MORE, (1.0, None, None), None),
        ("", (1.0, 2.0, 3.0), None),
    ],
)
def test_the_better_one_is_marked_and_ties_are_none(better, numbers, best):
    entries = tuple(Entry(absent="none") if n is None else Entry(n) for n in numbers)
    assert Row("group", "name", "", better, entries).best == best


def test_words_differ_though_numbers_agree():
    assert Row("g", "n", "", MORE, (Entry(1.0, "a"), Entry(1.0, "b"))).differs
    assert not Row("g", "n", "", MORE, (Entry(1.0, "a"), Entry(1.0 + 1e-12, "a"))).differs
    assert Row("g", "n", "", MORE, (Entry(1.0), Entry(absent="none"))).differs


def test_one_build_is_nothing_to_compare(asked):
    with pytest.raises(ValueError, match="2 or more"):
        compare(asked[:1])
