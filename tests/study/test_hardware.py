"""Searches of hardware: what they choose from, how they rank, and why the rest is out."""

import itertools
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sheets import delivered, repaired

from bladehold.sheet.wanted import Bush, Tie
from bladehold.study import assess
from bladehold.study import choices as c
from bladehold.study.assess import weakest
from bladehold.study.change import MisfitError
from bladehold.study.checks import STRENGTH
from bladehold.study.hardware import made, search
from bladehold.study.loads import loads_of
from bladehold.study.mass import head_volume, nut_mass, retention_mass, ring_area, screw_mass, washer_mass
from bladehold.study.situation import Situation
from bladehold.tables import UnknownName, property_class

LOADS = {make: loads_of(make()) for make in (delivered, repaired)}
THREADS, CLASSES, PLATES = ("M3", "M4", "M5"), ("8.8", "12.9"), (3.5e-3, 4e-3, 5e-3)


@pytest.fixture(scope="module")
def found():
    build = delivered()
    choices = {c.SCREW: c.screws(build, THREADS, CLASSES), c.PLATES: c.plates(build, PLATES)}
    return build, choices, search(build, choices, loads=LOADS[delivered])


def test_every_hub_is_either_held_or_out_for_a_reason(found):
    _, _, answer = found
    every = [*answer.held, *answer.out]
    assert len(every) == (len(PLATES) + 1) * (len(THREADS) * len(CLASSES) + 1)
    assert len({tuple(one.chosen.items()) for one in every}) == len(every)
    assert all(one.margin >= 0.0 and not one.reason for one in answer.held)
    assert all(one.reason and (one.margin is None or one.margin < 0.0) for one in answer.out)
    assert all(one.key in one.reason for one in answer.out if one.margin is not None)


def test_margins_are_those_of_the_whole_check(found):
    build, choices, answer = found
    for one in (answer.held[0], answer.held[-1], answer.out[0], answer.present):
        whole = assess(made(build, one.chosen, choices), LOADS[delivered])
        assert one.margin == pytest.approx(whole.margin, rel=1e-12)
        assert one.key == whole.governing.key


def test_the_lightest_comes_first_and_the_nearest_to_holding(found):
    _, _, answer = found
    added = [one.added for one in answer.held]
    assert added == pytest.approx(sorted(added), abs=1e-6) and answer.best is answer.held[0]
    margins = [one.margin for one in answer.out if one.margin is not None]
    assert margins == sorted(margins, reverse=True)


def test_the_next_smaller_of_each_axis_does_not_hold_or_is_no_lighter(found):
    """Of the lightest hub: a thinner plate, a smaller thread, a weaker class fail, all else the same."""
    _, _, answer = found
    best = answer.best
    by_choice = {tuple(one.chosen.values()): one for one in (*answer.held, *answer.out)}
    plates = ["as it is", *(f"{1e3 * t:g} mm" for t in PLATES)]
    size, name = best.chosen["screw"].split()
    smaller = [
        (plates[plates.index(best.chosen["plates"]) - 1], best.chosen["screw"]),
        (best.chosen["plates"], f"{THREADS[THREADS.index(size) - 1]} {name}"),
        (best.chosen["plates"], f"{size} 8.8"),
    ]
    for chosen in smaller:
        assert by_choice[chosen].margin < 0.0


def test_added_mass_is_the_difference_of_what_the_parts_weigh(found):
    build, choices, answer = found
    for one in answer.held:
        weight = [sum(retention_mass(b).values()) for b in (made(build, one.chosen, choices), build)]
        assert one.added == pytest.approx(weight[0] - weight[1], abs=1e-12)


def test_a_limit_of_mass_puts_the_heavier_out_and_says_by_how_much(found):
    build, choices, free = found
    most = free.held[1].added
    limited = search(build, choices, most_added=most, loads=LOADS[delivered])
    assert [one.chosen for one in limited.held] == [
        one.chosen for one in free.held if one.added <= most + 1e-9
    ]
    beyond = next(one for one in limited.out if one.chosen == free.held[-1].chosen)
    assert f"g over the {1e3 * most:.3g} g allowed" in beyond.reason
    none = search(repaired(), {c.SCREW: c.screws(repaired(), ("M4", "M5", "M6"), ("12.9",))}, most_added=0.0)
    assert none.held and all(one.added <= 1e-9 for one in none.held)


def test_holes_do_not_shrink_when_they_must_not():
    build = repaired()
    answer = search(build, {c.SCREW: c.screws(build, ("M4", "M5", "M6"), ("12.9",), keep_holes=True)})
    out = {one.chosen["screw"]: one.reason for one in answer.out}
    reason = "the holes of plates and lug are drilled for M5 and cannot shrink"
    assert out == {"M4 12.9": f"does not fit: {reason}"}


def test_a_new_bush_fills_the_lug_and_new_plates_are_drilled_anew():
    """Of M5 to M4: old plates refuse, whatever the bush; with new plates a wide enough bush will do."""
    build = repaired()
    thicker = build.hub.plate_thickness + 1e-3
    choices = {
        c.PLATES: c.plates(build, [thicker]),
        c.BUSH: c.bushes([Bush(2.5e-3, "17-4PH")]),
        c.SCREW: c.screws(build, ("M4",), ("12.9",), keep_holes=True),
    }
    answer = search(build, choices, loads=LOADS[repaired])
    reasons = {
        (one.chosen["plates"] == c.AS_IT_IS, one.chosen["bush"] == c.AS_IT_IS): one.reason
        for one in (*answer.held, *answer.out)
        if one.chosen["screw"] != c.AS_IT_IS
    }
    assert "holes of plates and lug are drilled" in reasons[True, True]
    assert "holes of plates are drilled" in reasons[True, False]
    assert "holes of lug are drilled" in reasons[False, True]
    assert "drilled" not in reasons[False, False]


def test_what_nothing_chosen_changes_is_said():
    build = delivered()
    answer = search(build, {c.TIES: c.ties(build, [Tie(1, "M3", "8.8")])}, loads=LOADS[delivered])
    assert "nothing chosen here changes it" in answer.present.reason


def test_lives_stand_beside_the_first_and_are_those_of_the_hub(found):
    from bladehold.study.life import lives_of

    build, choices, answer = found
    best = answer.best
    lives = lives_of(Situation(made(build, best.chosen, choices), LOADS[delivered]))
    assert best.hours == min(life.hours for life in lives if life.hours is not None)
    assert best.lasts == (3600.0 * best.hours >= build.flying.service_life)


def test_too_many_hubs_are_refused_with_their_number():
    build = repaired()
    everything = c.choices_of(build, {}, c.AXES)
    with pytest.raises(ValueError, match="hubs, more than 5000"):
        search(build, everything)


@pytest.mark.parametrize("axis", c.AXES)
def test_every_axis_alone_has_usual_choices_and_is_searched(axis):
    build = repaired()
    if axis == c.SCREW:
        choices = c.choices_of(build, {"thread": ("M5",), "class": ("8.8", "10.9")}, ())
    else:
        choices = c.choices_of(build, {}, (axis,))
    answer = search(build, choices, loads=LOADS[repaired])
    assert answer.axes == (axis,) and len(answer.held) + len(answer.out) == len(choices[axis]) + 1
    assert any(one.changes == 1 and one.margin is not None for one in (*answer.held, *answer.out))


def test_bushes_and_ties_come_and_go():
    bare = delivered()
    bushed = c.bushes([Bush(1e-3, "17-4PH")])[0].make(bare)
    assert bushed.hub.bush_diameter == pytest.approx(bare.hub.lug_hole + 2e-3)
    with pytest.raises(MisfitError, match="holes do not shrink"):
        c.bushes([Bush(0.0)])[0].make(bushed)
    assert c.bushes([Bush(0.0)])[0].make(bare) is bare
    with pytest.raises(MisfitError, match="nothing of the lug"):
        c.bushes([Bush(7e-3, "17-4PH")])[0].make(bare)
    tied = c.ties(bare, [Tie(2, "M4", "8.8")])[0].make(bare)
    assert tied.ties.count == 2 and tied.hub.spacer_diameter == pytest.approx(8e-3)
    assert tied.ties.screw.tightening.torque == 0.0
    assert c.ties(tied, [Tie(0)])[0].make(tied).ties.count == 0


def test_wrong_names_are_refused_with_the_nearest():
    with pytest.raises(ValueError, match="did you mean plates"):
        c.choices_of(repaired(), {}, ("plate",))
    with pytest.raises(UnknownName):
        c.screws(repaired(), ("M7",))
    with pytest.raises(UnknownName):
        c.materials(repaired(), c.PLATE_MATERIAL, ("cheese",))


def test_what_the_hub_has_already_is_no_choice_of_its_own():
    build = repaired()
    assert c.plates(build, [build.hub.plate_thickness, 5e-3])[0].words == "5 mm"
    assert not c.lugs(build, [build.hub.lug_thickness])
    names = [one.words for one in c.materials(build, c.LUG_MATERIAL)]
    assert build.hub.lug_material.name not in names and len(names) > 3


@settings(max_examples=12, deadline=None)
@given(st.floats(3.2e-3, 6e-3), st.floats(1.05, 1.5), st.sampled_from(["8.8", "10.9"]))
def test_thicker_plates_and_stronger_screws_never_lose(thickness, more, name):
    """Of what they are for. Thicker plates lengthen the pin's arm: its own margin may well fall."""
    build = delivered()
    plates = tuple(rule for rule in STRENGTH if rule.key.startswith("hub plates: bending between"))
    screw = tuple(rule for rule in STRENGTH if rule.key.startswith("pivot screw: shear, tension"))

    def margin(build, rules):
        return weakest(Situation(build, LOADS[delivered]), rules)[0]

    thin, thick = (c.plates(build, [t])[0].make(build) for t in (thickness, more * thickness))
    assert margin(thick, plates) >= margin(thin, plates)
    weak, strong = (c.screws(thin, ("M4",), (one,))[0].make(thin) for one in (name, "12.9"))
    assert margin(strong, screw) > margin(weak, screw)


def test_masses_of_plain_bodies():
    assert ring_area(2.0, 1.0) == pytest.approx(np.pi * 0.75)
    # M4 socket: a cylinder 7 x 4 mm less a hexagon of 3 mm, 2 mm deep.
    assert head_volume("M4", "socket") == pytest.approx(np.pi / 4 * 7**2 * 4e-9 - np.sqrt(3) / 2 * 9 * 2e-9)
    # M4 nut: 0.81 g per piece in common tables (mark: memory).
    assert 1e3 * nut_mass("M4", "hexagon") == pytest.approx(0.81, rel=0.05)
    assert 1e3 * washer_mass("M4") == pytest.approx(7.85e-3 * np.pi / 4 * (81 - 4.3**2) * 0.8)


def test_mass_grows_with_length_and_a_titanium_screw_is_lighter():
    build = repaired()
    screw = build.pivot
    assert screw_mass(screw, 0.03) > screw_mass(screw, 0.02)
    light = replace(screw, strength=property_class("Ti-6Al-4V"))
    assert screw_mass(light, 0.03) / screw_mass(screw, 0.03) == pytest.approx(4430 / 7850)
    both = retention_mass(build)
    assert set(both) == {"pivot screw", "hub plates", "blade lug", "bush", "tie screws", "mounting screws"}
    more = retention_mass(replace(build, propeller=replace(build.propeller, blades=3)))
    for part, mass in both.items():
        ratio = 1.0 if part == "mounting screws" else 1.5
        assert more[part] == pytest.approx(ratio * mass)


def test_choices_are_named_once():
    build = repaired()
    for several in (c.screws(build), c.plates(build), c.lugs(build), c.ties(build), c.bushes()):
        names = [one.words for one in several]
        assert len(set(names)) == len(names)
    for one, other in itertools.pairwise(c.plates(build)):
        assert one.make(build).hub.plate_thickness < other.make(build).hub.plate_thickness
