"""A verdict in words: the sentence first, then what it must not be taken for."""

from __future__ import annotations

import math

from bladehold.air import GRAVITY
from bladehold.study.advise import Advice, Advices
from bladehold.study.assess import FAILS, HOLDS, Assessment
from bladehold.study.checks.fatigue import LIFE, SCATTER, SERVICE_LIFE
from bladehold.study.checks.parts import verb
from bladehold.study.limit import Limit
from bladehold.study.loads import PROOF
from bladehold.study.size import Sizing


def verdict_sentence(found: Assessment) -> str:
    """Return the verdict in one sentence: what, which part, how, where, by how much."""
    check = found.governing
    how = f"{check.mode} ({check.level}), condition {check.condition}, margin {check.margin:+.2f}"
    if found.verdict == FAILS:
        fails = verb(check.part, "fails", "fail")
        return f"{found.build.name} DOES NOT HOLD: the {check.part} {fails} first: {how}."
    if found.verdict == HOLDS:
        holds = verdict_words(found).replace(HOLDS, HOLDS.upper())
        return f"{found.build.name} {holds}: the weakest part is the {check.part}: {how}."
    has = verb(check.part, "has", "have")
    return f"{found.build.name} is MARGINAL: the {check.part} {has} little left: {how}."


def verdict_words(found: Assessment) -> str:
    """Return the verdict in a few words: hardware that is strong and yet wears out too early says so."""
    lasting = found.shortest is None or found.shortest.margin >= 0.0
    if found.verdict == HOLDS and not lasting:
        return f"{HOLDS} in strength, not for the life asked"
    return found.verdict


def proof_sentence(found: Assessment) -> str | None:
    """Return the margin in flight alone where the centrifugal proof governs, else None."""
    if found.governing.condition != PROOF:
        return None
    multiple = found.build.policy.centrifugal_proof
    return (
        f"That is the proof at {multiple:g} times the greatest centrifugal force; in flight alone the "
        f"smallest margin is {found.flight_margin:+.2f}."
    )


def life_sentence(found: Assessment) -> str | None:
    """Return how long the shortest-lived part lasts, or None where nothing is damaged or can be checked."""
    check = found.shortest
    if check is None:
        return None
    values = {item.name: item.value for item in check.inputs}
    life, wanted = values[LIFE] / 3600.0, values[SERVICE_LIFE] / 3600.0
    lasts = span(life) if math.isfinite(life) else "without end"
    return (
        f"Life: the {check.part} ({check.mode}) {verb(check.part, 'lasts', 'last')} shortest, {lasts} with a "
        f"scatter factor of {values[SCATTER]:g} in it; {span(wanted)} are asked. All loads may be "
        f"{1.0 + check.margin:.2g} times what they are for that."
    )


def reservation_sentence(found: Assessment) -> str | None:
    """Return why the verdict is not a clean one, or None."""
    if not found.reservations:
        return None
    return f"With reservations: {'; '.join(found.reservations)} (listed below)."


def advice_sentences(advices: Advices) -> list[str]:
    """Return the least change that is enough, and the one that helps most, with what they bring."""
    if advices.most is None:
        return ["No single change among those tried lifts the smallest margin."]
    sentences = []
    if advices.enough is not None and advices.enough != advices.most:
        sentences.append(f"Least change that is enough: {_brings(advices.enough)}")
    short = "" if advices.most.after >= 0 else " Alone it is not enough."
    return [*sentences, f"Helps most: {_brings(advices.most)}{short}"]


def _brings(advice: Advice) -> str:
    gain = f"smallest margin {advice.before:+.2f} -> {advice.after:+.2f}"
    return f"{advice.text} ({gain}, then governs {advice.governing})."


def limit_sentence(limit: Limit) -> str:
    """Return the largest thrust the hardware holds, and how it stands to the maker's rating."""
    lowest = limit.lowest
    if lowest.thrust <= 0.0:
        return f"As it is, the {lowest.part} {verb(lowest.part, 'holds', 'hold')} no thrust at all."
    if lowest.thrust == float("inf"):
        return "No thrust within the rotor's reach breaks this hardware."
    text = (
        f"The hardware holds {kgf(lowest.thrust)} kgf steady per rotor, {kgf(lowest.peak_thrust)} kgf in its "
        f"hardest condition at {rpm(lowest.speed):.0f} rpm; used is {kgf(limit.used_thrust)} kgf."
    )
    share = limit.share_of_claim
    if share is None or limit.claimed_thrust is None:
        return text
    return f"{text} That is {share:.0%} of the maker's {kgf(limit.claimed_thrust)} kgf."


def size_sentence(sizing: Sizing) -> str:
    """Return the smallest pivot screw that holds, class by class, and what no pivot screw mends."""
    margin, key = sizing.rest
    rest = f" None of them mends the {key} {margin:+.2f}." if margin < 0.0 else ""
    holding = {name: c.thread for name, c in sizing.by_class().items() if c is not None}
    if not holding:
        return f"No pivot screw among those tried holds; see the reasons by `size`.{rest}"
    listed = ", ".join(f"{size} in {name}" for name, size in holding.items())
    return f"Pivot screws that would hold, smallest per class: {listed}.{rest}"


def span(hours: float) -> str:
    """Return hours to three figures, less than one in minutes; past all use rounded to a power of ten."""
    if hours >= 1e6:
        return f"over 1e{math.floor(math.log10(hours))} h"
    if hours >= 1.0:
        return f"{figures(hours)} h"
    return "under a minute" if hours < 1.0 / 60.0 else f"{60.0 * hours:.2g} min"


def figures(value: float) -> str:
    """Return a positive number to three figures, thousands set apart in place of an exponent."""
    if value < 999.5:
        return f"{value:.3g}"
    digits = 10 ** (math.floor(math.log10(value)) - 2)
    return f"{round(value / digits) * digits:_}".replace("_", " ")


def kgf(force: float) -> str:
    """Return a force (N) in kgf to three figures."""
    return f"{force / GRAVITY:.3g}"


def rpm(speed: float) -> float:
    """Return a speed of turning (rad/s) in rpm."""
    return speed * 30.0 / 3.141592653589793
