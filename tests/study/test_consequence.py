"""What failures do: states of a blade against mechanics of their own, control, and the table of it all."""

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from scipy.optimize import minimize_scalar

from bladehold.air import GRAVITY
from bladehold.sheet import parse_sheet, resolve
from bladehold.study import assess
from bladehold.study.blade_states import (
    EXTENDED,
    FOLDED,
    GONE,
    HALF,
    ROTOR,
    STATES,
    SWUNG,
    WHOLE,
    blade_states,
    hover_blade,
)
from bladehold.study.consequence import HAZARDOUS, MAJOR, MINOR, consequence_answer
from bladehold.study.control import HELD, NOT_HELD, SPINNING, NoControlError, control_answer
from bladehold.study.shape import body_of

EXAMPLES = Path(__file__).parents[2] / "examples"


def repaired():
    return (EXAMPLES / "tarn6_repaired.toml").read_text(encoding="utf-8")


def delivered():
    return (EXAMPLES / "tarn6_as_delivered.toml").read_text(encoding="utf-8")


def build_of(text):
    return resolve(parse_sheet(text), EXAMPLES)


@pytest.fixture(scope="module")
def build():
    return build_of(repaired())


@pytest.fixture(scope="module")
def blade(build):
    return hover_blade(build)


@pytest.fixture(scope="module")
def states(build, blade):
    return blade_states(build, 0.01, blade)


@pytest.fixture(scope="module")
def found(build):
    return consequence_answer(assess(build))


class TestStates:
    """A blade after a failure."""

    def test_all_are_told_and_the_first_does_nothing(self, states):
        assert tuple(states) == STATES
        assert vars(states[WHOLE]) | {"name": "", "how": ""} == vars(states[ROTOR]) | {
            "name": "",
            "how": "",
            "thrust_lost": 0.0,
            "torque_lost": 0.0,
        }

    @pytest.mark.parametrize("rpm", [1500.0, 3000.0, 4500.0])
    def test_a_lost_blade_pulls_with_its_mass_radius_and_speed_squared(self, build, states, rpm):
        body, speed = body_of(build), rpm * math.pi / 30.0
        exactly = body.mass * (body.pivot_radius + body.balance_point) * speed**2
        assert states[GONE].force_at(speed) == pytest.approx(exactly, rel=1e-14)
        assert states[GONE].thrust_lost == 1 / build.propeller.blades

    def test_a_free_blade_rests_where_its_potential_is_least(self, blade):
        """Work of the drag's moment and of the centrifugal field, without the formula of the moments."""
        speed, arm = blade.speed, np.maximum(blade.radius - blade.pivot, 0.0)
        moment = float((blade.drag * arm) @ blade.weight)

        def potential(angle):
            place = blade.pivot + blade.point * np.exp(-1j * angle)
            return -0.5 * blade.mass * speed**2 * abs(place) ** 2 - moment * angle

        least = minimize_scalar(potential, bounds=(-0.5, 1.0), method="bounded", options={"xatol": 1e-10})
        assert least.x == pytest.approx(float(blade.free.without_friction[0]), abs=1e-6)
        assert least.x > 0.0

    def test_a_swung_blade_unbalances_by_the_angle_between_it_and_the_others(self, blade, states):
        angle = states[SWUNG].angle
        ends = [blade.band.leading, blade.band.trailing]
        free = [blade.free.leading, blade.free.trailing]
        apart = max(abs(float(a - b)) for one in free for a in one for other in ends for b in other)
        assert abs(angle) == pytest.approx(apart)
        chord = 2.0 * blade.mass * blade.point * math.sin(abs(angle) / 2.0)
        assert states[SWUNG].unbalance == pytest.approx(chord, rel=1e-9)

    def test_a_folded_blade_is_mass_and_lift_in_another_place(self, build, blade, states):
        stop = build.propeller.structure.trailing_stop
        chord = 2.0 * blade.mass * blade.point * math.sin(stop / 2.0)
        assert states[FOLDED].unbalance == pytest.approx(chord, rel=1e-9)
        assert states[FOLDED].unbalance > states[GONE].unbalance  # its mass is not gone but on the wrong side
        assert 0.0 < states[FOLDED].thrust_lost < 0.5
        assert states[FOLDED].hub_moment > states[GONE].hub_moment

    def test_half_a_blade_loses_less_mass_than_lift(self, states):
        assert 0.3 < states[HALF].unbalance / states[GONE].unbalance < 0.8
        assert 0.5 < states[HALF].thrust_lost / states[GONE].thrust_lost < 0.95
        assert states[HALF].hub_moment < states[GONE].hub_moment

    def test_play_is_that_of_the_holes_and_friction_adds_to_it(self, build, blade):
        hub, screw = build.hub, build.pivot.outside_diameter
        play = hub.lug_hole - screw + hub.plate_hole - screw
        tight = blade_states(build, 0.0, blade)[EXTENDED].unbalance
        wide = replace(build, hub=replace(hub, plate_hole=hub.plate_hole + 1e-3))
        assert blade_states(wide, 0.0, blade)[EXTENDED].unbalance == pytest.approx(tight + 1e-3 * blade.mass)
        assert tight > play * blade.mass

    @pytest.mark.parametrize("plane", ["thread", "shank"])
    def test_holes_as_wide_as_the_screw_leave_no_play(self, build, blade, plane):
        """The crests of a thread touch the hole like a shank does, whatever is left to carry shear."""
        nominal = build.pivot.thread.nominal_diameter
        carries = nominal if plane == "shank" else build.pivot.thread.profile.root_diameter
        pivot = replace(build.pivot, shear_plane=plane, shear_diameter=carries)
        close = replace(build.hub, lug_hole=nominal, plate_hole=nominal)
        wide = replace(close, lug_hole=nominal + 2e-4, plate_hole=nominal + 2e-4)
        told = [
            blade_states(replace(build, pivot=pivot, hub=hub), 0.0, blade)[EXTENDED] for hub in (close, wide)
        ]
        assert "play of 0 mm" in told[0].how and "play of 0.4 mm" in told[1].how
        assert told[1].unbalance - told[0].unbalance == pytest.approx(4e-4 * blade.mass)

    def test_the_blade_carries_its_share_of_hover(self, build, blade):
        assert blade.blades * blade.thrust == pytest.approx(build.flying.used_thrust, rel=1e-3)
        assert blade.torque > 0.0

    def test_a_blade_that_does_not_fold_has_nothing_to_swing_on(self):
        rigid = build_of(repaired().replace("folding = true", "folding = false"))
        assert {SWUNG, FOLDED}.isdisjoint(blade_states(rigid))

    def test_a_balance_point_that_no_such_blade_has_is_told(self):
        odd = build_of(repaired().replace('balance_point = "102 mm"', 'balance_point = "190 mm"'))
        assert "even rod" in hover_blade(odd).remarks[0]


class TestControl:
    """Rotors lost one at a time."""

    def test_of_six_any_one_lost_leaves_hover_while_it_spins(self, build, found):
        control = found.control
        assert {one.hover for one in control.out} == {SPINNING}
        assert control.index > 0.0
        asked = max(build.aircraft.mass * GRAVITY, 6 * build.flying.used_thrust)
        assert control.weight == pytest.approx(asked)
        for at, one in enumerate(control.out):
            assert one.index == pytest.approx(0.0, abs=1e-9)
            assert one.thrust[at] == 0.0
            assert one.thrust.sum() == pytest.approx(control.weight)
            assert one.thrust.max() <= control.ceiling

    def test_of_eight_none_needs_to_spin_and_of_four_all_must(self):
        eight = repaired().replace("rotors = 6", "rotors = 8")
        assert {one.hover for one in control_answer(build_of(eight)).out} == {HELD}
        four = repaired().replace("rotors = 6", "rotors = 4").replace('mass = "26 kg"', 'mass = "14 kg"')
        assert {one.hover for one in control_answer(build_of(four)).out} <= {SPINNING, NOT_HELD}

    def test_less_lost_leaves_more(self, found):
        index = [found.control.degraded(0, share).index for share in (1.0, 0.8, 0.5, 0.2, 0.0)]
        assert index[0] == pytest.approx(found.control.index)
        assert index == sorted(index, reverse=True)

    def test_the_ceiling_is_what_the_drive_gives_at_its_reserve(self, build, found):
        from bladehold.study import drive_answer

        low = drive_answer(build).greatest[-1]
        assert found.control.ceiling == pytest.approx(low.thrust, rel=0.01)
        assert found.control.lasting == pytest.approx(low.lasting, rel=0.01)

    def test_the_hubs_that_carry_on_are_checked_at_what_they_must_give(self, build, found):
        control = found.control
        assert control.at == pytest.approx(max(one.hardest for one in control.out))
        weak = control_answer(build_of(delivered()))
        assert weak.margin < 0.0 < control.margin

    def test_without_motor_the_rating_counts_and_without_that_nothing_is_told(self):
        text = repaired()
        text = text[: text.index("[motor]")] + text[text.index("[flying]") :]
        rated = control_answer(build_of(text))
        assert rated.ceiling_from == "the maker's rating"
        unrated = "\n".join(line for line in text.splitlines() if not line.startswith("claimed_thrust"))
        with pytest.raises(NoControlError, match="claimed_thrust"):
            control_answer(build_of(unrated))

    def test_moments_close_and_shrink_with_a_rotor_lost(self, found):
        whole, lost = (found.control.moments(0, left, yaw=False) for left in (1.0, 0.0))
        assert whole[0] == pytest.approx(whole[-1])
        assert np.all(np.hypot(*lost.T) <= np.hypot(*whole.T) + 1e-9)
        assert not found.control.moments(0, 0.0, yaw=True).any()


class TestTable:
    """Failures and what follows."""

    def test_every_failure_of_the_joint_is_in_it_and_the_worst_is_first(self, found):
        members = [(row.member, row.how) for row in found.rows]
        assert len(members) == len(set(members))
        assert sum(row.loss is not None for row in found.rows) == 5
        order = [(HAZARDOUS, MAJOR, MINOR).index(row.effect) for row in found.rows]
        assert order == sorted(order)
        assert {row.effect for row in found.rows} == {HAZARDOUS, MAJOR, MINOR}
        assert all(row.because and row.noticed and row.lowers for row in found.rows)

    def test_a_screw_sheared_at_both_faces_lets_the_blade_go(self, found):
        row = next(row for row in found.rows if row.how == "sheared at both faces")
        assert (row.effect, row.state.name) == (HAZARDOUS, GONE)
        assert not found.contained
        assert "critical part" in found.rest[0]
        assert "No probability is claimed" in found.rest[1]

    def test_thicker_plates_keep_the_blade_when_its_clamp_is_lost(self):
        text = repaired().replace('plate_thickness = "4 mm"', 'plate_thickness = "5 mm"')
        thick = consequence_answer(assess(build_of(text)))
        assert thick.contained
        row = next(row for row in thick.rows if row.how == "sheared at one face")
        assert (row.effect, row.state.name) == (MAJOR, EXTENDED)
        assert row.hours * 3600.0 > thick.landing

    def test_a_lost_tie_leaves_the_blade_in_place(self, found):
        row = next(row for row in found.rows if row.member == "tie screw")
        assert (row.effect, row.state.name, row.hover) == (MINOR, WHOLE, HELD)

    def test_what_is_not_known_is_told_and_not_guessed(self):
        text = repaired()
        text = text[: text.index("[motor]")] + text[text.index("[flying]") :]
        start = text.index("[arm]")
        text = text[:start] + text[text.index("\n[", start + 1) + 1 :]
        text = "\n".join(line for line in text.splitlines() if not line.startswith("claimed_thrust"))
        bare = consequence_answer(assess(build_of(text)))
        assert bare.control is None
        assert "claimed_thrust" in bare.no_control
        assert bare.arm is None
        assert "[arm]" in bare.no_arm
        lost = next(row for row in bare.rows if row.member.startswith("motor"))
        assert (lost.hover, lost.effect) == ("", HAZARDOUS)
        assert any("the worst is taken" in line for line in bare.rest)
        assert any("without [arm]" in line for line in bare.rest)
        folded = next(row for row in bare.rows if row.state.name == FOLDED)
        assert folded.effect == HAZARDOUS
        assert any("full throttle is not known" in line for line in bare.breaches)

    def test_a_lost_rotor_is_hazardous_where_the_other_hubs_do_not_bear_its_share(self):
        weak = consequence_answer(assess(build_of(delivered())))
        assert weak.control.margin < 0.0
        row = next(row for row in weak.rows if row.member.startswith("motor"))
        assert row.hover == SPINNING
        assert row.effect == HAZARDOUS
        assert f"{weak.control.margin:+.2f}" in row.because
        strong = consequence_answer(assess(build_of(repaired())))
        assert strong.control.margin > 0.0
        other = next(row for row in strong.rows if row.member.startswith("motor"))
        assert other.effect == MAJOR
        assert "windings" in other.because
        assert strong.control.at > strong.control.lasting

    def test_what_is_left_must_last_to_a_landing(self, build):
        high = replace(build, release=replace(build.release, height=80.0))
        low = replace(build, release=replace(build.release, height=1e-9))
        rows = {
            name: next(
                row for row in consequence_answer(assess(one)).rows if row.how == "sheared at one face"
            )
            for name, one in (("high", high), ("low", low))
        }
        assert rows["high"].hours * 3600.0 < 40.0
        assert rows["high"].effect == HAZARDOUS
        assert rows["high"].because == "what is left does not last to a landing"

    def test_the_arm_of_a_lost_blade_is_that_of_its_unbalance(self, found):
        from bladehold.study.arm import arm_answer

        alone = arm_answer(found.build, found.states[GONE].unbalance)
        assert found.arm.stress.margin == pytest.approx(alone.stress.margin)
        assert found.release.unbalance == pytest.approx(found.states[GONE].unbalance)
