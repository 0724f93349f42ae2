"""The dossier: everything that is told about one build, asked once, with where it comes from."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from hashlib import sha256
from importlib.metadata import version
from pathlib import Path
from typing import TypeVar

from bladehold.sheet import Build, Sheet
from bladehold.study.advise import Advices, advise
from bladehold.study.assess import Assessment
from bladehold.study.blade import BladeAnswer, blade_answer
from bladehold.study.consequence import ConsequenceAnswer, consequence_answer
from bladehold.study.drive import DriveAnswer, drive_answer
from bladehold.study.envelope import EnvelopeMap, envelope_map
from bladehold.study.flight_life import LifeAnswer, life_answer
from bladehold.study.joint import JointAnswer, joint_answer
from bladehold.study.limit import Limit, limit
from bladehold.study.setting_windows import SettingWindow, setting_windows
from bladehold.study.size import Sizing, size
from bladehold.study.sources import Source, sources_of

Answer = TypeVar("Answer")

DRIVE, ENVELOPE, TIGHTNESS = (
    "motor and battery",
    "margins over speed and load factor",
    "tightness of the pivot",
)


@dataclass(frozen=True)
class Missing:
    """A part of the dossier that there is no answer to: what, and why not."""

    what: str
    why: str


@dataclass(frozen=True)
class NamedFile:
    """A file that the sheet names: name as written there, SHA-256 of its bytes in hexadecimal digits."""

    name: str
    digest: str


@dataclass(frozen=True)
class Origin:
    """Where a dossier comes from: version of the program; text of the sheet with its lines ended by line
    feeds, digest - SHA-256 of that in UTF-8, in hexadecimal digits; files that the sheet names; stated - day
    it was asked.
    """

    version: str
    text: str
    digest: str
    files: tuple[NamedFile, ...]
    stated: date


@dataclass(frozen=True, eq=False)
class Dossier:
    """All answers about one build. drive, envelope - None where `missing` says why; windows - of the pivot by
    the temperature at which it is set, none where no tightness is asked for; sources - used anywhere.
    """

    sheet: Sheet
    build: Build
    advices: Advices
    limit: Limit
    sizing: Sizing
    joint: JointAnswer
    blade: BladeAnswer
    life: LifeAnswer
    consequence: ConsequenceAnswer
    drive: DriveAnswer | None
    envelope: EnvelopeMap | None
    windows: tuple[SettingWindow, ...]
    missing: tuple[Missing, ...]
    sources: tuple[Source, ...]
    origin: Origin

    @property
    def assessment(self) -> Assessment:
        """All checks."""
        return self.joint.assessment

    @property
    def holds(self) -> bool:
        """Whether every check of strength holds, as `check` has it."""
        return self.assessment.holds


def gather(sheet: Sheet, build: Build, text: str, stated: date, folder: Path = Path()) -> Dossier:
    """Ask everything about one build.

    Arguments: sheet, and the build it resolves to; text - that the sheet was read from; stated - the day
    that the dossier carries; folder - in which files that the sheet names are looked for. Returns Dossier.
    Errors: ValueError from the rotor when a thrust cannot be reached; BalanceError from the blade; OSError
    for a file of the sheet that is gone meanwhile.
    """
    blade = blade_answer(build)
    joint = joint_answer(build, blade)
    loads, missing = joint.assessment.loads, list[Missing]()
    drive = _asked(DRIVE, drive_answer, build, missing)
    envelope = _asked(ENVELOPE, envelope_map, build, missing)
    if joint.tightness is None:
        why = "nothing clamps the pivot" if build.propeller.folding else "the blades do not fold"
        missing.append(Missing(TIGHTNESS, why))
    return Dossier(
        sheet=sheet,
        build=build,
        advices=advise(joint.assessment),
        # Motor and battery are held against the same limit, which is the dearest answer of all.
        limit=limit(build, loads) if drive is None else drive.held,
        sizing=size(build, loads=loads, every=False),
        joint=joint,
        blade=blade,
        life=life_answer(build),
        consequence=consequence_answer(joint.assessment, joint.losses),
        drive=drive,
        envelope=envelope,
        windows=setting_windows(build, joint.tightness),
        missing=tuple(missing),
        sources=sources_of(joint),
        origin=origin_of(sheet, text, stated, folder),
    )


def origin_of(sheet: Sheet, text: str, stated: date, folder: Path = Path()) -> Origin:
    """Return where a dossier comes from; arguments and errors as for `gather`."""
    plain = text.replace("\r\n", "\n")
    polar = sheet.propeller.polar
    files = () if polar is None else (NamedFile(polar, sha256((folder / polar).read_bytes()).hexdigest()),)
    return Origin(version("bladehold"), plain, sha256(plain.encode()).hexdigest(), files, stated)


def _asked(what: str, ask: Callable[[Build], Answer], build: Build, missing: list[Missing]) -> Answer | None:
    """The answer, or None and on record why there is none."""
    try:
        return ask(build)
    except ValueError as error:
        missing.append(Missing(what, str(error)))
        return None
