"""The retention joint in sentences: how it stands, how to set it, how long it lasts, what a loss does."""

from __future__ import annotations

import math

from bladehold.study import JointAnswer
from bladehold.study.assess import MARGINAL
from bladehold.study.checks.parts import verb
from bladehold.study.failsafe import LEAVES, SOON, STAYS, SWINGS, Loss
from bladehold.study.flight_life import LifeAnswer
from bladehold.study.life import MemberLife
from bladehold.study.tightness import Bound, Tightness, Way
from bladehold.study.words import figures, span

KELVIN = 273.15
NOT_CHECKED = "not checked"
NO_DAMAGE = "no damage"
_BALANCE = "a spring balance at the blade tip, square to the blade, reads"


def celsius(kelvin: float) -> str:
    """Return a temperature (K) in whole degrees."""
    return f"{kelvin - KELVIN:.0f} °C"


def hours(life: MemberLife) -> str:
    """Return a life in words: as `span` says it, "no damage" or "not checked"."""
    if life.hours is None:
        return NOT_CHECKED
    if not math.isfinite(life.hours):
        return NO_DAMAGE
    return span(life.hours)


def reasons(found: JointAnswer) -> list[str]:
    """Return why the joint does not hold, one reason each; empty where it does."""
    texts = []
    weak, least = found.weakest, found.shortest
    if weak.margin < 0.0:
        fails = verb(weak.part, "fails", "fail")
        texts.append(f"the {weak.part} {fails}: {weak.mode} ({weak.level}), margin {weak.margin:+.2f}")
    if found.short_lives and least is not None:
        more = len(found.short_lives) - 1
        also = f", and {more} more end{'s' if more == 1 else ''} early" if more else ""
        wanted = span(found.service_hours)
        texts.append(f"{least.part} ({least.mode}): life {hours(least)} of the {wanted} wanted{also}")
    if found.can_be_set is False:
        texts.append("as built no tightness of the pivot serves")
    elif found.set_right is False:
        texts.append("the tightness of the sheet does not serve")
    return texts


def headline(found: JointAnswer) -> str:
    """Return whether the joint holds, in one sentence, and why not or what is weakest."""
    listed = reasons(found)
    if listed:
        return f"{found.build.name}: the joint DOES NOT HOLD: {'; '.join(listed)}."
    weak = found.assessment.governing
    how = f"the weakest is the {weak.part}, {weak.mode} ({weak.level}), margin {weak.margin:+.2f}"
    little = found.assessment.verdict == MARGINAL
    return (
        f"{found.build.name}: the joint {'is MARGINAL' if little else 'HOLDS in all that is checked'}: {how}."
    )


def stiffness_sentence(found: JointAnswer) -> str:
    """Return what the clevis is to screw and blade."""
    measured = "measured" if found.build.hub.flap_stiffness is not None else "without preload, in hover"
    return (
        f"Stiffness against flapping {figures(found.stiffness)} N·m/rad ({measured}); while the faces are "
        f"shut, the pivot screw takes {found.stack.load_factor:.0%} of what pulls along it."
    )


def gap_sentence(found: JointAnswer) -> str:
    """Return at which flap moments the faces gape, against those of flight."""
    curve = found.curve
    reach = f"flight reaches {curve.limit:.2f} N·m ({curve.hardest})"
    if curve.preload_greatest <= 0.0:
        return f"Without preload the faces gape at any flap moment; {reach}."
    shut = f"{curve.first_gap:.2f} N·m" if curve.first_gap > 0.0 else "no flap moment at all"
    least = f"{curve.first_gap_least:.2f} N·m" if curve.first_gap_least > 0.0 else "nothing"
    text = (
        f"Stiff plates would stay shut to {shut} under the greatest preload "
        f"({curve.preload_greatest:.0f} N), to {least} under the least ({curve.preload_least:.0f} N); "
        f"{reach}."
    )
    if curve.opens_at is None:
        return text
    if curve.opens_at > 0.0:
        return f"{text} The plates bend: their faces gape from {curve.opens_at:.2f} N·m on."
    wide = 1e3 * float(curve.tight.upper_opening[0])
    return f"{text} The plates bend: clamped over the gap, the ends of the faces stand {wide:.2g} mm open."


def tightness_sentence(found: JointAnswer) -> str:
    """Return whether a torque serves, as the study says it."""
    if found.tightness is None:
        folds = found.build.propeller.folding
        why = "nothing clamps the pivot" if folds else "the blades do not fold"
        return f"No tightness of the pivot is asked for: {why}."
    said = found.tightness.verdict.replace("N*m", "N·m")
    return f"Tightness: {said}."


def setting_sentence(found: JointAnswer) -> str | None:
    """Return what the sheet's own setting comes to where it does not serve or is not known."""
    tight = found.tightness
    if tight is None or found.set_right:
        return None
    if tight.measured is None and found.build.pivot.tightening.torque <= 0.0:
        return (
            "! The sheet gives neither torque nor measured friction: whether the pivot is set right is not "
            "known."
        )
    if tight.governing is None:
        return None
    low, high = tight.least_moment, governing_bound(tight)
    top = "" if high is None else f" and {high.moment:.3g}"
    cold, _, warm = tight.temperatures
    if tight.measured is not None:
        return (
            f"! The friction measured, {tight.measured:.3g} N·m{_at_tip(found)}, does not stay between "
            f"{low:.3g}{top} N·m from {celsius(cold)} to {celsius(warm)}."
        )
    torque, now = found.build.pivot.tightening.torque, tight.as_built
    where = "one that serves: none does"
    if now.torque_width >= 1.0:
        where = f"within {_ends(now.torque_least, now.torque_greatest, 'N·m')}"
    return f"! The torque of the sheet, {torque:.3g} N·m, is not {where}."


def _at_tip(found: JointAnswer) -> str:
    """The friction measured as the pull at the tip that it is."""
    tight, build = found.tightness, found.build
    if tight is None or tight.measured is None:
        return ""
    lever = build.propeller.diameter / 2.0 - build.hub.pivot_radius
    return f" ({tight.measured / lever:.2f} N at the tip)"


def governing_bound(tight: Tightness) -> Bound | None:
    """Return the upper bound in force; None where none can be met."""
    return next((bound for bound in tight.bounds if bound.name == tight.governing), None)


def crew_sentence(found: JointAnswer) -> str:
    """Return how to set the pivot, or that nothing serves and what would; and what must be checked again."""
    tight, build = found.tightness, found.build
    end = "." if found.assessment.holds and not found.short_lives else "; that does not make the joint hold."
    if tight is None:
        torque = build.pivot.tightening.torque
        if torque > 0.0 and not build.propeller.folding:
            return f"For the crew: tighten the pivot screw to {torque:.3g} N·m, the torque of the sheet{end}"
        return "For the crew: there is no torque of the pivot to give."
    now, at = tight.as_built, celsius(tight.temperatures[1])
    if tight.governing is not None and now.torque_width >= 1.0:
        best = now.torque_middle
        running = ", running torque and all" if build.pivot.tightening.prevailing_torque > 0.0 else ""
        within = f"{_ends(now.torque_least, now.torque_greatest, 'N·m')}{running}"
        given = build.pivot.tightening.torque
        again = "" if f"{best:.2f}" == f"{given:.2f}" else _check_again(found)
        return f"For the crew: at {at} tighten the pivot screw to {best:.2f} N·m, within {within}{end}{again}"
    if tight.governing is not None and now.pull_width >= 1.0:
        return (
            f"For the crew: by no torque; at {at} tighten the pivot screw until {_BALANCE} {_pull(now)} "
            f"as the blade just moves{end}{_check_again(found)}"
        )
    first = "For the crew: no torque and no pull serves as it is built"
    better = tight.best_by_torque if tight.best_by_torque.torque_width >= 1.0 else tight.best_by_pull
    if tight.governing is None or better.width < 1.0:
        return f"{first}, nor with any change tried; do not rely on the pivot's friction."
    return f"{first}. With {better.name}: {serving(better)} at {at}{end}{_check_again(found)}"


def _check_again(found: JointAnswer) -> str:
    """What must be done before another setting than the sheet's is relied on."""
    given = found.build.pivot.tightening.torque > 0.0
    rest = "are those of the sheet's torque" if given else "count on no tightening, as the sheet gives none"
    return f" Strength and life here {rest}: put the new one into the sheet and check again."


def serving(way: Way) -> str:
    """Return the window of a way in words: by torque where one serves, else by pull."""
    if way.torque_width >= 1.0:
        return f"a torque of {_ends(way.torque_least, way.torque_greatest, 'N·m')}"
    return f"a pull of {_pull(way)} at the tip" if way.pull_width >= 1.0 else "nothing serves"


def _ends(low: float, high: float, unit: str) -> str:
    return f"{low:.2f} to {high:.2f} {unit}"


def _pull(way: Way) -> str:
    return _ends(way.pull_least, way.pull_greatest, "N")


def life_sentence(found: JointAnswer | LifeAnswer) -> str:
    """Return the shortest life, and how many are not checked."""
    least, open_ = found.shortest, [life for life in found.lives if life.hours is None]
    also = f" Not checked: {', '.join(f'{one.part} ({one.mode})' for one in open_)}." if open_ else ""
    if least is None:
        return f"No life could be computed.{also}"
    if not math.isfinite(least.hours or 0.0):
        return f"No damage by fatigue is found in any part that is checked.{also}"
    past = ", read past the end of the tests" if least.beyond else ""
    return (
        f"Shortest life: {least.part} ({least.mode}), {hours(least)} with a factor of {least.scatter:g} for "
        f"scatter{past}; wanted are {span(found.service_hours)}.{also}"
    )


def loss_sentence(found: JointAnswer) -> str:
    """Return what one lost member does in the worst of all flight, those that let the blade go first."""
    parts = []
    for outcome, does in _DOES.items():
        lost = [f"{loss.member} ({_short(loss)})" for loss in found.losses if loss.in_all_flight == outcome]
        if lost:
            parts.append(f"the blade {does}: {', '.join(lost)}")
    timed = [loss for loss in found.losses if loss.hours is not None and loss.hours < SOON]
    soonest = min(timed, key=lambda loss: loss.hours or 0.0, default=None)
    time = ""
    if soonest is not None:
        time = f" With the {soonest.member}'s {_short(soonest)} there is little time: {lasting(soonest)}."
    return f"One member lost, in the worst of all flight: {'; '.join(parts)}.{time}"


_DOES = {LEAVES: "LEAVES", SWINGS: "swings loose", STAYS: "stays"}


def _short(loss: Loss) -> str:
    return loss.how.partition(":")[0]


def lasting(loss: Loss) -> str:
    """Return how long what is left lasts in the sheet's flying, scatter taken off, in words."""
    if loss.hours is None:
        return "–"
    if loss.hours >= 1e6:
        return "no damage"
    return f"{span(loss.hours)}: {loss.hours_part}"


def weakest_left(loss: Loss) -> str:
    """Return the smallest margin left after a loss, in words."""
    weak = loss.weakest
    if weak is None:
        return "nothing left"
    if not math.isfinite(weak.margin):
        return "not loaded"
    return f"{weak.part}, {weak.mode} {weak.margin:+.2f}"


def sentences(found: JointAnswer) -> list[str]:
    """Return what stands above the tables, after the headline."""
    said = [
        stiffness_sentence(found),
        gap_sentence(found),
        tightness_sentence(found),
        setting_sentence(found),
        crew_sentence(found),
        life_sentence(found),
        loss_sentence(found),
    ]
    return [text for text in said if text is not None]


def remarks(found: JointAnswer) -> list[str]:
    """Return every range left and remark, those of the lives with their parts, each once."""
    known = {text for life in found.lives for text in life.breaches}
    return [*life_remarks(found), *(text for text in found.assessment.breaches if text not in known)]


def life_remarks(found: JointAnswer | LifeAnswer) -> list[str]:
    """Return every remark on a life with the parts it is about."""
    parts: dict[str, list[str]] = {}
    for life in found.lives:
        for text in life.breaches:
            parts.setdefault(text, []).append(f"{life.part} ({life.mode})")
    return [f"{', '.join(names)}: {text}" for text, names in parts.items()]


def unconfirmed_sources(found: JointAnswer | LifeAnswer) -> list[str]:
    """Return the sources from memory that decide a life, with the parts."""
    parts: dict[str, list[str]] = {}
    for life in found.lives:
        for source in life.unconfirmed:
            if life.part not in parts.setdefault(source, []):
                parts[source].append(life.part)
    return [f"{', '.join(names)}: {source}" for source, names in parts.items()]
