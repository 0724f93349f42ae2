"""What each failure does: to the blade, the rotor, the arm, the aircraft and whoever stands around, in one
table.

In the pattern of a propeller's safety analysis (14 CFR 35.15): every failure that can be foreseen, its
effect, how it is noticed, what makes it less likely or less bad. No probability is claimed: what is known of
one hub does not carry one.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from bladehold.sheet.build import Build
from bladehold.study.arm import ArmAnswer, NoArmError, arm_answer
from bladehold.study.arm_model import arm_model
from bladehold.study.assess import Assessment
from bladehold.study.blade_states import (
    EXTENDED,
    FOLDED,
    GONE,
    HALF,
    ROTOR,
    SWUNG,
    WHOLE,
    BladeState,
    blade_states,
    hover_blade,
)
from bladehold.study.control import HELD, NOT_HELD, SPINNING, ControlAnswer, NoControlError, control_answer
from bladehold.study.failsafe import LEAVES, MOUNTING, PIVOT, STAYS, Loss, losses
from bladehold.study.release import ReleaseAnswer, release_answer
from bladehold.study.situation import Situation

HAZARDOUS, MAJOR, MINOR = "hazardous", "major", "minor"
"""As 14 CFR 35.15 has effects of a propeller's failures (mark: memory): hazardous where a major portion is
released, where the unbalance is excessive or the aircraft cannot be held up; major where thrust or control is
lost in part; minor else.
"""
STANDS = "rotor stopped"
_PARTLY = frozenset({SWUNG, FOLDED, ROTOR, STANDS})
_PULLS = frozenset({WHOLE, EXTENDED, SWUNG})
"""States in which the rotor goes on pulling."""
_BLADE, _STOPPED = "blade", "motor or controller"


@dataclass(frozen=True, eq=False)
class Consequence:
    """One failure and what follows.

    member, how - what fails, and how; state - of the blade, at its worst in all flight, in_hover - its name
    in hover; arm - shaken by it, None without [arm] or unbalance; hover - HELD, SPINNING or NOT_HELD with
    that rotor stopped, "" where it is not known; effect - HAZARDOUS, MAJOR or MINOR, because - why; noticed -
    how and when; lowers - what makes it less likely or less bad; hours - that what is left lasts, None where
    it is not told; loss - of the joint, None for what is no screw's.
    """

    member: str
    how: str
    state: BladeState
    in_hover: str
    arm: ArmAnswer | None
    hover: str
    effect: str
    because: str
    noticed: str
    lowers: str
    hours: float | None
    loss: Loss | None


@dataclass(frozen=True, eq=False)
class ConsequenceAnswer:
    """What failures do: rows - the worst first; states - of a blade, by name; control - None where it cannot
    be told, and no_control - why; arm - with the unbalance of a lost blade, None without [arm], no_arm - why;
    release; landing - time from the height of the sheet at its speed of descent, s; rest - residual risk in
    sentences; breaches - ranges left and guesses.
    """

    assessment: Assessment
    rows: tuple[Consequence, ...]
    states: dict[str, BladeState]
    control: ControlAnswer | None
    no_control: str
    arm: ArmAnswer | None
    no_arm: str
    release: ReleaseAnswer
    landing: float
    rest: tuple[str, ...]
    breaches: tuple[str, ...]

    @property
    def build(self) -> Build:
        """The build it is about."""
        return self.assessment.build

    @property
    def worst(self) -> Consequence:
        """The failure with the worst effect."""
        return self.rows[0]

    @property
    def contained(self) -> bool:
        """Whether no single failure of a screw that leaves anything to hold is hazardous.

        A pivot screw sheared through leaves nothing: no hub with one screw a blade survives that, so it says
        nothing of this one. It stands in the table, and makes the screw a critical part.
        """
        return all(
            row.effect != HAZARDOUS for row in self.rows if row.loss is not None and row.loss.remaining
        )


def consequence_answer(found: Assessment, lost: tuple[Loss, ...] | None = None) -> ConsequenceAnswer:
    """Return what every failure that is foreseen does to a build.

    Arguments: found - its assessment; lost - what the loss of each member does, where that is known already.
    Errors: ValueError from the rotor when a thrust cannot be reached.
    """
    build, loads = found.build, found.loads
    lost = losses(Situation(build, loads)) if lost is None else lost
    wobble = max((loss.wobble for loss in lost if loss.wobble is not None), default=0.0)
    blade = hover_blade(build)
    states = blade_states(build, wobble, blade)
    control, no_control = _control(build)
    arms, no_arm = _arms(build, states, found)
    release = release_answer(build, loads, None if control is None else control.full_throttle)
    landing = build.release.height / max(build.flying.descent_speed, 1e-9)
    rows = sorted(_rows(build, lost, states, arms, _stopped(control), landing), key=_badness)
    told = [*blade.remarks, *release.breaches, *(arms[GONE].breaches if arms else ())]
    return ConsequenceAnswer(
        assessment=found,
        rows=tuple(rows),
        states=states,
        control=control,
        no_control=no_control,
        arm=arms.get(GONE),
        no_arm=no_arm,
        release=release,
        landing=landing,
        rest=tuple(_rest(build, rows, control, no_arm)),
        breaches=tuple(dict.fromkeys(told)),
    )


@dataclass(frozen=True)
class _Stopped:
    """What hover is with the worst rotor stopped: HELD, SPINNING, NOT_HELD, "" where not known; weak - why
    the others do not bear it, "" where they do; warm - what their windings say, "" where they last.
    """

    hover: str
    weak: str
    warm: str


def _stopped(control: ControlAnswer | None) -> _Stopped:
    if control is None:
        return _Stopped("", "", "")
    weak = warm = ""
    if control.margin is not None and control.margin < 0.0:
        check = f"{control.part} {control.margin:+.2f}"
        weak = f"the hubs of the other rotors do not hold what hover then asks: {check}"
    if control.at > control.lasting:
        warm = "; the motors' windings grow too hot, whether before a landing is not looked at"
    return _Stopped(control.worst.hover, weak, warm)


def _control(build: Build) -> tuple[ControlAnswer | None, str]:
    try:
        return control_answer(build), ""
    except NoControlError as error:
        return None, str(error)


def _arms(build: Build, states: dict[str, BladeState], found: Assessment) -> tuple[dict[str, ArmAnswer], str]:
    """The arm shaken by every state that unbalances the rotor, and why there is none."""
    if build.arm is None:
        return {}, str(NoArmError())
    model = arm_model(build, build.arm)
    return {
        name: arm_answer(build, state.unbalance, found.loads, model)
        for name, state in states.items()
        if state.unbalance > 0.0
    }, ""


def _rows(
    build: Build,
    lost: tuple[Loss, ...],
    states: dict[str, BladeState],
    arms: dict[str, ArmAnswer],
    stopped: _Stopped,
    landing: float,
) -> Iterator[Consequence]:
    effects = _Effects(stopped, landing, states[GONE].unbalance)
    for loss in lost:
        worst, hover = (_state(loss, outcome) for outcome in (loss.in_all_flight, loss.in_hover))
        yield _judged(
            build,
            _row(states, arms, worst, stopped, loss.member, loss.how, loss),
            states[hover].name,
            effects,
        )
    if FOLDED in states:
        how = "held folded: bent lug, debris, a start that was not straight"
        yield _judged(build, _row(states, arms, FOLDED, stopped, _BLADE, how, None), FOLDED, effects)
    for name, how in ((HALF, "broken at half its span"), (GONE, "lug or root broken")):
        yield _judged(build, _row(states, arms, name, stopped, _BLADE, how, None), name, effects)
    still = {STANDS: replace(states[ROTOR], name=STANDS, how="it stands or turns with the wind")}
    row = _row(still, {}, STANDS, stopped, _STOPPED, "the rotor stops", None)
    yield _judged(build, row, STANDS, effects)


def _state(loss: Loss, outcome: str) -> str:
    """State of the blade, or of the rotor, after a loss."""
    if outcome == STAYS:
        return EXTENDED if loss.member == PIVOT else WHOLE
    if outcome == LEAVES:
        return ROTOR if loss.member == MOUNTING else GONE
    return SWUNG


def _row(
    states: dict[str, BladeState],
    arms: dict[str, ArmAnswer],
    name: str,
    stopped: _Stopped,
    member: str,
    how: str,
    loss: Loss | None,
) -> Consequence:
    # A blade that does not fold has nothing to swing on.
    state = states[name if name in states else EXTENDED]
    hover = HELD if state.name in _PULLS else stopped.hover
    hours = None if loss is None else loss.hours
    return Consequence(
        member, how, state, state.name, arms.get(state.name), hover, "", "", "", "", hours, loss
    )


def _judged(build: Build, row: Consequence, in_hover: str, effects: _Effects) -> Consequence:
    """A row with its effect, how it is noticed and what lowers it."""
    effect, because = effects.of(row)
    return replace(
        row,
        in_hover=in_hover,
        effect=effect,
        because=because,
        noticed=_noticed(build, row),
        lowers=_lowers(build, row),
    )


@dataclass(frozen=True)
class _Effects:
    """What effects are judged by: hover with a rotor stopped; landing - time to it, s; lost - unbalance of a
    lost blade, kg*m. What is not known is taken at its worst.
    """

    stopped: _Stopped
    landing: float
    lost: float

    def of(self, row: Consequence) -> tuple[str, str]:
        """How bad a row is, and why."""
        thrown = row.loss is not None and LEAVES in (row.loss.in_hover, row.loss.in_all_flight)
        shaken = row.arm is not None and float(row.arm.stress.margin[row.arm.hover]) < 0.0
        unknown = row.arm is None and row.state.unbalance >= self.lost
        ends = row.hours is not None and row.hours * 3600.0 < self.landing
        out = row.state.name not in _PULLS
        weak, warm = (self.stopped.weak, self.stopped.warm) if out else ("", "")
        asked = (
            (thrown or row.state.name in {HALF, GONE}, HAZARDOUS, "a blade or a major part of one is thrown"),
            (shaken, HAZARDOUS, "the arm does not hold the unbalance at the speed of hover"),
            (
                unknown,
                HAZARDOUS,
                "it unbalances as much as a lost blade, and whether the arm holds is not known without [arm]",
            ),
            (row.hover == NOT_HELD, HAZARDOUS, "hover is not held without that rotor"),
            (row.hover == "", HAZARDOUS, "whether hover is held is not known"),
            (weak != "", HAZARDOUS, weak),
            (ends, HAZARDOUS, "what is left does not last to a landing"),
            (
                row.hover == SPINNING,
                MAJOR,
                f"hover is held, but the aircraft spins about its upright axis{warm}",
            ),
            (row.state.name in _PARTLY, MAJOR, f"thrust, balance or control is lost in part{warm}"),
            (row.state.name == EXTENDED, MAJOR, "the blade hangs, with play, on what is left of its hold"),
            (True, MINOR, "the blade stays where it is; land, and do not start again"),
        )
        return next((effect, because) for applies, effect, because in asked if applies)


def _noticed(build: Build, row: Consequence) -> str:
    """How and when a failure shows."""
    words = []
    if row.loss is not None and row.state.name in {WHOLE, EXTENDED}:
        seen = (
            "seen and felt as play before a flight"
            if build.hub.inspectable
            else ("NOT seen without taking the hub apart; play may be felt")
        )
        words.append(seen)
    if row.arm is not None:
        measure = float(row.arm.measure[:, row.arm.hover].max())
        words.append(
            f"in hover the controller's signal shakes by {measure:.2g} m/s^2 by the published filter: to it "
            f"{row.arm.feels(row.arm.hover)}"
        )
    elif row.state.unbalance > 0.0:
        words.append("in flight as vibration; how much is not known without [arm]")
    if row.state.thrust_lost > 0.0:
        words.append("at once, by sound and attitude")
    return "; ".join(words)


def _lowers(build: Build, row: Consequence) -> str:
    """What makes a failure less likely or less bad."""
    words = []
    if row.loss is not None:
        words.append(row.loss.advice)
        if row.member == PIVOT and build.ties.screw is None:
            words.append("tie screws beside the pivot hold the plates when its clamp is lost")
        if row.loss.in_all_flight != STAYS:
            words.append("a larger margin or a second load path; renewal before its life ends")
    elif row.member == _BLADE:
        words.append("looking at lug, root and edges before each flight; renewal after any strike")
        words.append("nobody in the plane of the rotor")
    else:
        words.append("watching motor current and warmth; a controller that gives up yaw to stay up")
    if row.arm is not None and float(row.arm.stress.margin.min()) < 0.0:
        words.append("staying away from the speeds at which the arm resonates")
    return "; ".join(words)


_ORDER = (HAZARDOUS, MAJOR, MINOR)


def _badness(row: Consequence) -> tuple[int, float]:
    return _ORDER.index(row.effect), -row.state.unbalance


def _rest(build: Build, rows: list[Consequence], control: ControlAnswer | None, no_arm: str) -> Iterator[str]:
    """Residual risk in sentences that claim no more than is known."""
    bad = [row for row in rows if row.loss is not None and row.effect == HAZARDOUS]
    if bad:
        named = "; ".join(dict.fromkeys(f"{row.member}, {row.how}" for row in bad))
        yield (
            f"A single failure is hazardous: {named}. 14 CFR 35.15 and 35.16 ask 1e-8 per flight hour of "
            "each such failure, or that the part is made, kept and renewed as a critical part; nothing "
            "computed here shows the former."
        )
    else:
        yield (
            "No single failure of a screw that is looked at here is hazardous; blades and motors may still "
            "fail."
        )
    yield (
        "No probability is claimed. To show 1e-7 per hour at 90 % confidence would take 2.3e7 hours without "
        "a failure; the chance of breaking tells how strength and load scatter, not how parts are made or "
        "mistreated."
    )
    yield (
        "Not looked at: two failures at once, fire, electrics, wind, what the controller does after a "
        "failure, the motor's bearings and screws while it shakes, people beyond the distances told."
    )
    if control is None:
        yield "Whether the aircraft stays up with a rotor lost is not known: the worst is taken."
    if no_arm:
        yield "Whether the arm holds the unbalance of a lost or folded blade is not known without [arm]."
    if build.loss_assumptions:
        keys = ", ".join(item.key for item in build.loss_assumptions)
        yield f"Assumed for this alone: {keys}."
