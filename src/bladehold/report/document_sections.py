"""The sections of a document, in order, each out of the answers of a dossier."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

from bladehold.air import GRAVITY
from bladehold.cautions import cautions
from bladehold.report import blade as blade_words
from bladehold.report import drive as drive_words
from bladehold.report import life as life_words
from bladehold.report.crew_card import card_of, windows_table
from bladehold.report.document import (
    CARD_KEY,
    Block,
    Document,
    Listing,
    Points,
    Section,
    Words,
    points,
    table,
)
from bladehold.report.document_checks import check_tables
from bladehold.report.document_loss import loss_blocks
from bladehold.report.document_pictures import pictures_of
from bladehold.report.echo import echo_of
from bladehold.report.joint import case_words, whys, window
from bladehold.report.joint_words import (
    crew_sentence,
    headline,
    hours,
    lasting,
    life_sentence,
    loss_sentence,
    remarks,
    setting_sentence,
    tightness_sentence,
    unconfirmed_sources,
    weakest_left,
)
from bladehold.report.terminal import state_of, unconfirmed
from bladehold.study.dossier import Dossier
from bladehold.study.failsafe import LEAVES, STAYS
from bladehold.study.words import (
    advice_sentences,
    limit_sentence,
    proof_sentence,
    reservation_sentence,
    rpm,
    size_sentence,
    span,
    verdict_sentence,
)
from bladehold.study.words import life_sentence as life_of_checks

_HARDWARE = {
    "aircraft": "Aircraft",
    "propeller": "Propeller",
    "hub": "Hub",
    "pivot_screw": "Pivot screw",
    "tie_screws": "Tie screws",
    "mounting_screws": "Mounting screws",
    "arm": "Arm",
    "motor": "Motor",
    "battery": "Battery",
}
_GOOD = {True: "yes", False: "no", None: "not said"}


@lru_cache(maxsize=2)
def document_of(found: Dossier) -> Document:
    """Return the document about a build: the same for every form it is written in, so kept for the next."""
    origin = found.origin
    return Document(
        title=f"{found.build.name}: report on the blade retention",
        line=f"bladehold {origin.version} · {origin.stated.isoformat()} · sheet {origin.digest[:12]}",
        digest=origin.digest,
        sections=(
            Section("verdict", "Verdict", tuple(_verdict(found))),
            Section("cautions", "Cautions", points(cautions(invented=found.build.invented), "caution")),
            Section("hardware", "Hardware", tuple(_hardware(found))),
            Section("pictures", "Pictures", tuple(pictures_of(found))),
            Section("margins", "Margins by part", check_tables(found.assessment)),
            Section("cases", "Governing cases", tuple(_cases(found))),
            Section("lives", "Lives and inspection plan", tuple(_lives(found))),
            Section("losses", "One member lost", tuple(_losses(found))),
            Section("consequences", "What one failure does", tuple(loss_blocks(found.consequence))),
            Section("tightness", "Tightness of the pivot", tuple(_tightness(found))),
            Section(CARD_KEY, "Workshop card", ()),
            Section("assumed", "What was assumed", tuple(_assumed(found))),
            Section("remarks", "Notes, ranges left, unconfirmed figures", tuple(_remarks(found))),
            Section("sources", "Sources used", tuple(_sources(found))),
            Section("sheet", "The sheet", (Listing(origin.text, "text of the sheet"),)),
            Section("again", "How to get this report again", tuple(_again(found))),
        ),
        card=card_of(found),
    )


def _verdict(found: Dossier) -> Iterator[Block]:
    checks, drive = found.assessment, found.drive
    state = state_of(checks.margin, found.build.policy.marginal)
    # What rests on assumptions is never shown as simply good.
    good = "lead" if checks.reservations else "holds"
    yield Words(verdict_sentence(checks), good if state == "holds" else state)
    yield Words(headline(found.joint), good if found.joint.holds else "fails")
    advice = advice_sentences(found.advices)
    yield Words(advice[-1], "lead")
    said = [
        *advice[:-1],
        reservation_sentence(checks),
        proof_sentence(checks),
        life_of_checks(checks),
        limit_sentence(found.limit),
        size_sentence(found.sizing),
        crew_sentence(found.joint),
        None if drive is None else drive_words.headline(drive),
    ]
    yield Points(tuple(text for text in said if text))
    if found.missing:
        yield Points(tuple(f"Not answered: {one.what}: {one.why}." for one in found.missing), "caution")


def _hardware(found: Dossier) -> Iterator[Block]:
    yield Words("As the sheet writes it and in SI; what the sheet does not say is marked as assumed.")
    lines = echo_of(found.sheet, found.build)
    for section, title in _HARDWARE.items():
        rows = [
            (
                line.key.removeprefix(f"{section}."),
                line.written,
                "" if line.si is None else f"{line.si:.6g} {line.unit}".strip(),
                line.remark,
            )
            for line in lines
            if line.key.startswith(f"{section}.")
        ]
        if rows:
            yield table(title, ("key", "as written", "in SI", "remark"), rows)


def _cases(found: Dossier) -> Iterator[Block]:
    loads, checks = found.assessment.loads, found.assessment
    parts: dict[str, list[str]] = {}
    for check in checks.by_part().values():
        parts.setdefault(check.condition, []).append(check.part)
    rows = []
    for place, name in enumerate(loads.names):
        if name in parts or name.startswith("hover"):
            root = loads.root
            rows.append(
                (
                    name,
                    ", ".join(parts.get(name, ())) or "–",
                    f"{loads.thrust[place] / GRAVITY:.2f}",
                    f"{rpm(loads.speed[place]):.0f}",
                    f"{root.centrifugal[place]:.0f}",
                    f"{root.flap_mean[place]:.2f} ± {root.flap_cyclic[place]:.2f}",
                    f"{root.lift[place]:.0f}",
                )
            )
    heads = ("condition", "governs", "thrust, kgf", "rpm", "pull, N", "flap moment, N·m", "lift, N")
    yield table("Loads on one blade's root in hover and where a part is governed", heads, rows, range(2, 7))
    yield Points((blade_words.headline(found.blade, found.build),))


def _lives(found: Dossier) -> Iterator[Block]:
    joint, life = found.joint, found.life
    yield Words(life_sentence(joint), "lead")
    short = set(map(id, joint.short_lives))
    rows = [
        (
            f"{one.part}, {one.mode}",
            f"{_sign(one.hours, id(one) in short)} {hours(one)}{' *' if one.beyond else ''}",
            "–" if one.hours is None else f"{one.multiplier:.2f}",
            case_words(one),
            "" if one.hours is None else life_words.worn(one),
        )
        for one in joint.lives
    ]
    heads = ("part", "life", "loads times", "damaged most by", "share of all cycles")
    tones = ["fails" if id(one) in short else "" for one in joint.lives]
    yield table(f"Life by part, wanted {span(joint.service_hours)}", heads, rows, (1, 2), tones)
    if any(one.beyond for one in joint.lives):
        yield Words("* read past the end of the tests")
    kept = [
        (
            one.part,
            "–" if one.interval is None else span(one.interval),
            span(one.hours),
            life_words.count_words(one.flights),
        )
        for one in life.keeping
    ]
    plan = ("part", "looked at every", "goes after", "flights")
    yield table("Inspection plan, hours of flight", plan, kept, (1, 2, 3))
    yield Points(tuple(life_words.rules_of(life)))
    levers = [(one.change, life_words.times_words(one.ratio)) for one in life.levers]
    if levers:
        yield table("What changes the shortest life", ("change", "life"), levers, (1,))


def _sign(hours: float | None, short: bool) -> str:
    return "–" if hours is None else ("✗" if short else "✓")


def _losses(found: Dossier) -> Iterator[Block]:
    joint = found.joint
    yield Words(loss_sentence(joint), "lead")
    tones = [{STAYS: "", LEAVES: "fails"}.get(one.in_all_flight, "little") for one in joint.losses]
    rows = [
        (
            f"{one.member}, {one.how}",
            one.in_hover,
            one.in_all_flight,
            weakest_left(one),
            lasting(one),
            one.advice,
        )
        for one in joint.losses
    ]
    heads = ("lost", "hover", "all flight", "weakest left", "then lasts", "what to do")
    yield table("What the blade does, and what is left", heads, rows, (), tones)
    yield Points(tuple(whys(joint)))
    facts = [(one.about, one.finding, _GOOD[one.good], one.source) for one in joint.facts]
    yield table("Facts about the hub", ("what", "how it is", "helps", "source"), facts)


def _tightness(found: Dossier) -> Iterator[Block]:
    joint, tight = found.joint, found.joint.tightness
    yield Words(tightness_sentence(joint), "lead")
    if tight is None:
        return
    said = setting_sentence(joint)
    if said:
        yield Words(said.removeprefix("! "), "caution")
    yield windows_table(found)
    bounds = [("at least: the blade does not flop", f"{tight.least_moment:.3g}", "")]
    for bound in tight.bounds:
        word = (
            "in force"
            if bound.name == tight.governing
            else ("" if bound.possible else "no tightness gives it")
        )
        bounds.append((f"at most: {bound.name}", f"{bound.moment:.3g}", word))
    yield table("Friction moment of the pivot", ("bound", "N·m", "remark"), bounds, (1,))
    ways = [
        (
            way.name,
            window(way.torque_least, way.torque_greatest, way.torque_width),
            window(way.pull_least, way.pull_greatest, way.pull_width),
        )
        for way in tight.ways
    ]
    tones = ["" if way.width >= 1.0 else "fails" for way in tight.ways]
    heads = ("construction", "torque, N·m", "pull at the tip, N")
    yield table("What other constructions would leave", heads, ways, (), tones)


def _assumed(found: Dossier) -> Iterator[Block]:
    build = found.build
    yield Words("The sheet does not say these; they are assumed, on the pessimistic side where there is one.")
    groups = (
        ("Every answer rests on", build.assumptions),
        ("The moving blade rests on", build.blade_assumptions),
        ("Motor and battery rest on", build.drive_assumptions),
        ("What follows a failure rests on", build.loss_assumptions),
    )
    for caption, items in groups:
        if items:
            rows = [(item.key, f"assumed: {item.value}", item.why) for item in items]
            yield table(f"{caption} these", ("key", "value", "why"), rows)


def _remarks(found: Dossier) -> Iterator[Block]:
    doubts = [*unconfirmed(found.assessment.checks), *unconfirmed_sources(found.joint)]
    lines = [
        *(f"Note on the sheet: {text}" for text in found.build.notes),
        *(
            f"Range or remark: {text}"
            for text in dict.fromkeys([*remarks(found.joint), *found.blade.breaches])
        ),
        *(f"Unconfirmed: {text}" for text in dict.fromkeys(doubts)),
    ]
    yield from points(lines)


def _sources(found: Dossier) -> Iterator[Block]:
    yield Words("Only what this report rests on. Unconfirmed figures are assumptions until read up.")
    rows = [
        (one.text, "unconfirmed: assumed" if one.unconfirmed else one.meaning, _some(one.rests))
        for one in found.sources
    ]
    tones = ["little" if one.unconfirmed else "" for one in found.sources]
    yield table("Sources, unconfirmed ones last", ("source", "how surely", "rests on it"), rows, (), tones)


def _some(names: tuple[str, ...], most: int = 4) -> str:
    """The first of many names, and how many more there are."""
    more = len(names) - most
    return "; ".join(names[:most]) + (f"; and {more} more" if more > 0 else "")


def _again(found: Dossier) -> Iterator[Block]:
    origin = found.origin
    rows = [
        ("program", f"bladehold {origin.version}"),
        ("stated on", origin.stated.isoformat()),
        ("SHA-256 of the sheet, UTF-8, lines ended by line feeds", origin.digest),
        *((f"SHA-256 of {one.name}, named by the sheet", one.digest) for one in origin.files),
    ]
    yield table("Where this comes from", ("what", "value"), rows)
    yield Words(
        "Save the sheet as printed above under my.toml; its SHA-256 must be the one above. With this version "
        "of the program this line gives the same report again:"
    )
    day = origin.stated.isoformat()
    command = f"bladehold report my.toml --date {day} --out my.html --out my.pdf --out my.xlsx"
    yield Listing(command, "command")
