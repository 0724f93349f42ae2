"""The card for the workshop wall: how tight, in which order, what if not, when to look, what never to do."""

from __future__ import annotations

from bladehold.cautions import cautions
from bladehold.report.document import Block, Card, Part, Points, Table, Words, table
from bladehold.report.joint import window
from bladehold.report.joint_words import celsius, crew_sentence, serving, tightness_sentence
from bladehold.report.life import count_words
from bladehold.sheet.build import Screw
from bladehold.sheet.hardware import MountingScrews, PivotScrew, TieScrews
from bladehold.study.checks.parts import MOUNTING, PIVOT, TIES
from bladehold.study.dossier import Dossier
from bladehold.study.flight_life import TORQUE
from bladehold.study.tightness import Way
from bladehold.study.words import span

NONE = "none"
NOT_GIVEN = "not in the sheet"
STATE_OPEN = "not said: counted from lubricated to dry"
ORDER = (
    "Mounting screws crosswise, first to half their torque, then to all of it.",
    "Tie screws in two rounds, from one to the other.",
    "Pivot screw last.",
    "Pivot screw last, blades unfolded; then its pull measured at the tip, all blades alike.",
)
UNSOURCED = "Order and rounds: common practice, no source."
BY_PULL = (
    "No torque serves: tighten until the pull at the tip is as in the table. Strength and lives are those of "
    "the sheet's torque: put the torque at which the pull was reached into the sheet and check again."
)
NEVER = (
    "Never a screw or nut of another thread, class or length.",
    "Never a torque above the one written.",
    "Never oil, grease or thread lock but as written: the same torque then clamps differently.",
    "Never a part past its hours, or not looked at in time.",
)


def card_of(found: Dossier) -> Card:
    """Return the card of a build."""
    weak = found.joint.weakest
    stop = (
        f"DOES NOT HOLD, not to be flown as it is: {weak.part}, {weak.mode} ({weak.level}), "
        f"margin {weak.margin:+.2f}."
        if weak.margin < 0.0
        else ""
    )
    invented = cautions(invented=found.build.invented)
    rows = (
        (Part("Tighten in this order", _tightening(found)),),
        (
            Part("Set the pivot so tight", _pivot(found)),
            Part("What to do, and if it fails", _otherwise(found)),
        ),
        (Part("Look at, and replace, after hours of flight", _looking(found)),),
        (Part("Never, and beware", (Points((*NEVER, *invented[:-1]), "caution"),)),),
    )
    return Card("Workshop card: blade retention", stop, rows)


def _tightening(found: Dossier) -> tuple[Block, ...]:
    build, sheet = found.build, found.sheet
    rows = [_screw(MOUNTING, build.mounting.screw, f"{build.mounting.count}", sheet.mounting_screws)]
    order = [ORDER[0]]
    if build.ties.screw is not None and build.ties.count:
        rows.append(_screw(TIES, build.ties.screw, f"{build.ties.count} a blade", sheet.tie_screws))
        order.append(ORDER[1])
    pivot = _screw(PIVOT, build.pivot, "1 a blade", sheet.pivot_screw)
    rows.append((*pivot[:3], _pivot_torque(found), pivot[4]))
    order.append(ORDER[2] if found.joint.tightness is None else ORDER[3])
    numbered = [(f"{place}. {row[0]}", *row[1:]) for place, row in enumerate(rows, start=1)]
    heads = ("screw", "thread, class", "how many", "torque at the wrench", "thread and head")
    listed = " ".join(f"{place}. {text}" for place, text in enumerate(order, start=1))
    return table("Screws of one hub", heads, numbered), Words(f"{listed} {UNSOURCED}")


def _screw(
    part: str, screw: Screw, count: str, given: PivotScrew | TieScrews | MountingScrews | None
) -> tuple[str, ...]:
    torque = screw.tightening.torque
    running = screw.tightening.prevailing_torque
    said = f"{torque:.2f} N·m" if torque > 0.0 else NOT_GIVEN
    if running > 0.0:
        said += f", running torque {running:.2f} N·m in it"
    state = given.lubrication if given is not None else None
    return part, f"{screw.thread.name}, {screw.strength.name}", count, said, state or STATE_OPEN


def _pivot_torque(found: Dossier) -> str:
    """The torque that serves, else the way that does."""
    tight, sheet = found.joint.tightness, found.build.pivot.tightening
    given = f"{sheet.torque:.2f} N·m in the sheet" if sheet.torque > 0.0 else NOT_GIVEN
    if tight is None:
        return given
    now = tight.as_built
    if tight.governing is None or now.width < 1.0:
        return f"NONE SERVES ({given})"
    if _by_pull(now):
        return "by its pull at the tip, below"
    running = ", running torque and all" if sheet.prevailing_torque > 0.0 else ""
    return f"{now.torque_middle:.2f} N·m ({window(now.torque_least, now.torque_greatest, 1.0)}{running})"


def _by_pull(way: Way) -> bool:
    """Whether a pull serves and no torque does."""
    return way.torque_width < 1.0 <= way.pull_width


def _pivot(found: Dossier) -> tuple[Block, ...]:
    tight = found.joint.tightness
    if tight is None:
        return (Words(tightness_sentence(found.joint)),)
    return (
        windows_table(found),
        Words(
            "Pull: spring balance at the tip, square to the blade, read as it just moves. Set at one of "
            "these temperatures it serves at all others, for a year."
        ),
    )


def windows_table(found: Dossier) -> Table:
    """Return the windows of the pivot as built, by the temperature at which it is set."""
    heads = ["at", "torque, N·m", "pull at the tip, N"]
    rows = [
        [
            celsius(one.temperature),
            _serving(one.way.torque_least, one.way.torque_greatest, one.way.torque_width),
            _serving(one.way.pull_least, one.way.pull_greatest, one.way.pull_width),
        ]
        for one in found.windows
    ]
    if any(_by_pull(one.way) for one in found.windows) and {row[1] for row in rows} == {NONE}:
        # A column of "none" beside the pull invites to look for a torque all the same.
        for row in [heads, *rows]:
            del row[1]
    tones = tuple("" if one.way.width >= 1.0 else "fails" for one in found.windows)
    return table("Pivot as built, one window for each temperature of setting", heads, rows, (), tones)


def _serving(least: float, greatest: float, width: float) -> str:
    return window(least, greatest, width) if width >= 1.0 else NONE


def _otherwise(found: Dossier) -> tuple[Block, ...]:
    joint, tight = found.joint, found.joint.tightness
    said = crew_sentence(joint).removeprefix("For the crew: ")
    if tight is not None and tight.governing is not None and _by_pull(tight.as_built):
        said = BY_PULL
    lines = [f"{said[:1].upper()}{said[1:]}"]
    if tight is not None:
        lines.append(
            f"Pull too small: tighten{', within the torque' if tight.as_built.torque_width >= 1.0 else ''}. "
            "Too great: loosen, set anew. Neither helps, or the blades differ: do not fly."
        )
        best = tight.best_by_torque if tight.best_by_torque.torque_width >= 1.0 else tight.best_by_pull
        if best is not tight.as_built and best.width >= 1.0 and tight.governing is not None:
            at = celsius(tight.temperatures[1])
            lines.append(f"Widest window of all tried: {best.name}; then {serving(best)} at {at}.")
    return (Points(tuple(lines)),)


def _looking(found: Dossier) -> tuple[Block, ...]:
    life = found.life
    rows = [
        (
            one.part,
            "not in place" if one.interval is None else span(one.interval),
            span(one.hours),
            count_words(one.flights),
        )
        for one in life.keeping
    ]
    open_ = [f"{one.part} ({one.mode})" for one in life.lives if one.hours is None]
    words = [f"T{TORQUE[1:]}."]
    words += [f"No life is known of: {', '.join(open_)}."] if open_ else []
    heads = ("part", "look every", "replace after", "that is flights")
    return table("Hours of flight", heads, rows, (1, 2, 3)), Words(" ".join(words))
