"""Hardware: of all that may be bought and made for a hub, what holds, and with how many grams."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from bladehold.sheet.build import Build
from bladehold.study.assess import weakest
from bladehold.study.change import MisfitError
from bladehold.study.checks import STRENGTH
from bladehold.study.choices import AS_IT_IS, AXES, Choice, kept
from bladehold.study.life import lives_of
from bladehold.study.loads import Loads, loads_of
from bladehold.study.mass import retention_mass
from bladehold.study.situation import Situation

MOST = 5000  # hubs looked at in one search
LIVES = 12  # of the best, whose shortest lives are told
_SAME = 1e-9


@dataclass(frozen=True)
class Hardware:
    """One hub of a search.

    chosen - by axis, in words; added - mass of the retention of one rotor over that of the sheet, kg, NaN
    where it does not fit; margin - smallest of strength over all parts, None where it does not fit; key - of
    its check; reason - why it is out, "" where it is in; hours - shortest life, None where not told or no
    part wears; lasts - whether that is the service life or more.
    """

    chosen: Mapping[str, str]
    added: float
    margin: float | None
    key: str
    reason: str
    hours: float | None = None
    lasts: bool | None = None

    @property
    def changes(self) -> int:
        """How many axes differ from the sheet."""
        return sum(words != AS_IT_IS for words in self.chosen.values())


@dataclass(frozen=True)
class Search:
    """What was looked at: held - hubs that hold, the lightest first; out - all others, the nearest to holding
    first; axes - chosen over; most_added - kg, None without; present - the hub of the sheet.
    """

    held: tuple[Hardware, ...]
    out: tuple[Hardware, ...]
    axes: tuple[str, ...]
    most_added: float | None
    present: Hardware

    @property
    def best(self) -> Hardware | None:
        """The lightest that holds."""
        return self.held[0] if self.held else None


def search(
    build: Build,
    choices: Mapping[str, Sequence[Choice]],
    *,
    most_added: float | None = None,
    loads: Loads | None = None,
    progress: Callable[[int, int], None] | None = None,
) -> Search:
    """Try every combination of choices, each axis also left as it is, on all checks of strength.

    Of hubs that hold the lightest comes first, of equally light ones that with the greater margin. Screws are
    taken as long as they need to be. Arguments: build; choices - by axis; most_added - kg for one rotor;
    loads - those of the build if they are known: nothing chosen here changes them; progress - told how many
    hubs of how many are done.
    Errors: ValueError for more than MOST combinations.
    """
    axes = tuple(axis for axis in AXES if axis in choices)
    options = [(kept(axis), *choices[axis]) for axis in axes]
    count = math.prod(len(option) for option in options)
    if count > MOST:
        sizes = " x ".join(str(len(option)) for option in options)
        raise ValueError(f"{sizes} choices are {count} hubs, more than {MOST}: name fewer of them")
    found = loads_of(build) if loads is None else loads
    before = weakest(Situation(build, found), STRENGTH)
    heavy = sum(retention_mass(build).values())
    tried = []
    for combination in itertools.product(*options):
        tried.append(_tried(build, combination, found, before, heavy, most_added))
        if progress is not None:
            progress(len(tried), count)
    held = sorted((one for one in tried if not one.reason), key=_rank)
    out = sorted((one for one in tried if one.reason), key=_nearness)
    told = [_with_life(build, one, choices, found) for one in held[:LIVES]]
    return Search(tuple(told + held[LIVES:]), tuple(out), axes, most_added, tried[0])


def made(build: Build, chosen: Mapping[str, str], choices: Mapping[str, Sequence[Choice]]) -> Build:
    """Return the build with what was chosen, axis by axis. Errors: MisfitError where it does not fit."""
    for axis in AXES:
        words = chosen.get(axis, AS_IT_IS)
        if words != AS_IT_IS:
            build = next(choice for choice in choices[axis] if choice.words == words).make(build)
    return build


def _rank(one: Hardware) -> tuple[float, float, int]:
    return round(one.added, 6), -(one.margin or 0.0), one.changes


def _nearness(one: Hardware) -> tuple[bool, float, float]:
    return one.margin is None, -(one.margin or 0.0), one.added


def _tried(
    build: Build,
    combination: Sequence[Choice],
    loads: Loads,
    before: tuple[float, str],
    heavy: float,
    most_added: float | None,
) -> Hardware:
    chosen = {choice.axis: choice.words for choice in combination}
    try:
        changed = build
        for choice in combination:
            changed = choice.make(changed)
        margin, key = weakest(Situation(changed, loads), STRENGTH)
    except MisfitError as misfit:
        return Hardware(chosen, math.nan, None, "", f"does not fit: {misfit}")
    added = sum(retention_mass(changed).values()) - heavy
    reasons = []
    if margin < 0.0:
        untouched = key == before[1] and abs(margin - before[0]) < _SAME
        still = ", as in the hub of the sheet: nothing chosen here changes it" if untouched else ""
        reasons.append(f"{key} {margin:+.2f}{still}")
    if most_added is not None and added > most_added + _SAME:
        reasons.append(f"{1e3 * (added - most_added):.2g} g over the {1e3 * most_added:.3g} g allowed")
    return Hardware(chosen, added, margin, key, "; ".join(reasons))


def _with_life(
    build: Build, one: Hardware, choices: Mapping[str, Sequence[Choice]], loads: Loads
) -> Hardware:
    lives = lives_of(Situation(made(build, one.chosen, choices), loads))
    hours = min((life.hours for life in lives if life.hours is not None), default=None)
    return replace(one, hours=hours, lasts=hours is None or 3600.0 * hours >= build.flying.service_life)
