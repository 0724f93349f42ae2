"""How tight the pivot may be set, as built, by the temperature at which it is set."""

from __future__ import annotations

import math
from dataclasses import dataclass

from bladehold.sheet.build import Build
from bladehold.study.tightness import Tightness, Way, window_at

_ZERO_CELSIUS = 273.15
_STEPS, _MOST = (10.0, 20.0, 50.0), 5  # K between the rows, and of rows between the ends


@dataclass(frozen=True)
class SettingWindow:
    """temperature - K, at which the pivot is set; way - the window as built, which serves at all others."""

    temperature: float
    way: Way


def setting_windows(build: Build, found: Tightness | None) -> tuple[SettingWindow, ...]:
    """Return the windows of the pivot as built, for settings from the coldest to the warmest of its flying.

    Arguments: build; found - its tightness as the sheet sets it. Returns one window for either end, for the
    sheet's own temperature of setting and for round ones between; none without tightness.
    """
    if found is None:
        return ()
    return tuple(SettingWindow(at, window_at(build, found, at)) for at in _temperatures(found.temperatures))


def _temperatures(ends: tuple[float, float, float]) -> list[float]:
    """The three of a tightness, and round ones between, K."""
    low, high = ends[0] - _ZERO_CELSIUS, ends[2] - _ZERO_CELSIUS
    step = next((step for step in _STEPS if (high - low) / step <= _MOST), _STEPS[-1])
    first, last = math.ceil(low / step), math.floor(high / step)
    between = [step * k + _ZERO_CELSIUS for k in range(first, last + 1)]
    kept = [at for at in between if all(abs(at - end) > 0.25 * step for end in ends)]
    return sorted({*ends, *kept})
