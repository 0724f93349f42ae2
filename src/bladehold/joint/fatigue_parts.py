"""Fatigue life of the parts of a retention: thread, shank, pin-loaded hole in metal, hole in laminate.

Each function takes the greatest and least load of a cycle, as arrays whose last axis is that of the load
cases, and gives a `PartLife`: cycles to failure, and the amplitude that would last a required number of
cycles, against the amplitude there is. Where a force and a moment act together their extremes are taken to
fall together on the worse side of the section, which bounds every phase between them: safe side.

Left out: fretting between pin, hole and faces, corrosion, a torn or worn thread, residual stress.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TypeAlias

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.joint import fatigue, notch, pin
from bladehold.joint._arrays import Floats, at_least_zero, larger, positive, real
from bladehold.joint.bearing_line import LAMINATE_FRACTION, BearingLine
from bladehold.joint.lug import EKVALL_WIDTH
from bladehold.joint.stress_life import RATIO, HandbookCurve, ReversedLine, amplitude_and_mean
from bladehold.validity import Range

Curve: TypeAlias = HandbookCurve | ReversedLine | BearingLine
"""Whatever gives the cycles to failure between two stresses."""

NOT_ISO_898 = (
    "the thread endurance of VDI 2230 belongs to steel screws of ISO 898-1: for another metal it is borrowed "
    "(VDI 2230 Part 1, 5.5.3)"
)
REVERSED_BEARING = Range(
    "least over greatest bearing force",
    0.0,
    None,
    "",
    "a hole loaded from both sides wears long sooner than the pulsating tests tell",
    "Composites 26 (1995) 451: pulsating tests only",
)
NOTCH_OF_CURVE = Range(
    "Kt of the part over Kt of the curve's specimens",
    1.0,
    None,
    "",
    "scaled from sharper specimens to a milder notch, unsafe side",
    "MMPDS, 9.6.1",
)


@dataclass(frozen=True, eq=False)
class PartLife:
    """What fatigue does to one part in every case.

    cycles - to failure, infinite without damage, 0 where not even the curve's fewest are reached; amplitude -
    of the stress there is, Pa; allowable - amplitude, Pa, for the required cycles; greatest - stress of the
    cycle, Pa, to be held against yield; beyond - where the life was read past the end of the tests; method -
    how, one line; breaches - the ranges that were left.
    """

    cycles: Floats
    amplitude: Floats
    allowable: Floats
    greatest: Floats
    beyond: NDArray[np.bool_]
    method: str
    breaches: tuple[str, ...]


@dataclass(frozen=True, eq=False)
class ScrewThread:
    """The thread of a screw for fatigue, SI; numbers, or arrays that broadcast with the loads.

    diameter - nominal; stress_area - As; yield_strength - Rp0.2; iso_898 - whether it is a steel screw of a
    class of ISO 898-1; galvanised - hot-dip; line - of the thread itself, for the method "shigley": its
    endurance fully corrected, so that no notch factor is due.
    """

    diameter: ArrayLike
    stress_area: ArrayLike
    yield_strength: ArrayLike
    iso_898: bool = True
    galvanised: bool = False
    line: ReversedLine | None = None


THREAD_METHODS = (*fatigue.VDI_EXPONENTS, "shigley")
"""Named methods for threads. VDI 2230 and Shigley differ about threefold in endurance: one of them, said."""


def thread_life(
    maximum_tension: ArrayLike,
    minimum_tension: ArrayLike,
    thread: ScrewThread,
    method: str,
    required_cycles: ArrayLike,
    maximum_moment: ArrayLike = 0.0,
    minimum_moment: ArrayLike = 0.0,
    load_factor: ArrayLike = 1.0,
    loading_plane_factor: ArrayLike = 1.0,
    preload: ArrayLike = 0.0,
) -> PartLife:
    """Fatigue of a screw's thread under tension and bending.

    Amplitude n phi (Fmax - Fmin) / (2 As) + (Mmax - Mmin) / (2 W). An unclamped pivot screw has n phi = 1 and
    no preload. With VDI 2230 the mean counts only where the thread was rolled after heat treatment (a mean
    load below 0.3 of the 0.2 % load is counted as 0.3); with Shigley by the line's own rule.

    Arguments (broadcast together):
        maximum_tension, minimum_tension: external tension over the cycle [N]; thread: see `ScrewThread`;
        method: one of `THREAD_METHODS`; required_cycles: N [-];
        maximum_moment, minimum_moment: bending moment at the thread [N m]; load_factor: phi [-];
        loading_plane_factor: n [-]; preload: of the screw [N].
    Returns: `PartLife`; the allowable amplitude is at the same mean.
    Errors: ValueError when a least exceeds its greatest load, a size is not positive, the method is unknown,
        or Shigley's is asked of a thread without its line.
    Range: `VDI_DIAMETER`, `VDI_MEAN_LOAD` of `fatigue`; steel of ISO 898-1 for VDI 2230.
    Source: VDI 2230 Part 1, 5.5.3; Shigley, Mechanical Engineering Design, ch. 6 and 8.
    """
    area = positive("stress area", thread.stress_area)
    tension = fatigue.stress_amplitude(
        maximum_tension, minimum_tension, area, load_factor, loading_plane_factor
    )
    bending = fatigue.bending_amplitude(maximum_moment, minimum_moment, area)
    amplitude = tension + bending
    share = real("load factor", load_factor) * real("loading-plane factor", loading_plane_factor)
    middle = (real("greatest tension", maximum_tension) + real("least tension", minimum_tension)) / 2.0
    load = at_least_zero("preload", preload) + share * middle
    lean = pin.bending_stress(
        np.abs(real("greatest moment", maximum_moment) + real("least moment", minimum_moment)) / 2.0,
        np.sqrt(4.0 / np.pi * area),
    )
    mean = load / area + lean
    greatest = mean + amplitude
    if method == "shigley":
        if thread.line is None:
            raise ValueError("method 'shigley' needs the line of the thread, and there is none")
        return _on_curve(amplitude, mean, thread.line, required_cycles, f"Shigley, {thread.line.method}", ())
    endurance = fatigue.thread_endurance_rolled_before(thread.diameter)
    breaches = [fatigue.VDI_DIAMETER.breach(thread.diameter), None if thread.iso_898 else NOT_ISO_898]
    if method == "vdi-rolled-after":
        ratio = np.maximum(load / (area * positive("yield strength", thread.yield_strength)), 0.0)
        breaches.append(fatigue.VDI_MEAN_LOAD.breach(ratio))
        endurance = fatigue.thread_endurance_rolled_after(thread.diameter, np.clip(ratio, 0.3, 2.0 - 1e-9))
    if thread.galvanised:
        endurance = fatigue.VDI_GALVANISED * endurance
    cycles = fatigue.thread_cycles(amplitude, endurance, method)
    allowable = fatigue.thread_amplitude(required_cycles, endurance, method)
    how = f"VDI 2230, {fatigue.VDI_ROLLED[method]}"
    return _life(cycles, amplitude, allowable, greatest, False, how, breaches)


def shank_life(
    maximum_moment: ArrayLike,
    minimum_moment: ArrayLike,
    diameter: ArrayLike,
    line: ReversedLine,
    required_cycles: ArrayLike,
    notch_factor: ArrayLike = 1.0,
    maximum_tension: ArrayLike = 0.0,
    minimum_tension: ArrayLike = 0.0,
) -> PartLife:
    """Fatigue of a plain or shouldered shank under bending and tension, at its outermost fibre.

    Stress Kf (M / Z + F / A), the notch factor on amplitude and mean alike. The shear of the shank is
    greatest where bending stress is none, and is left out.

    Arguments (broadcast together):
        maximum_moment, minimum_moment: bending moment over the cycle [N m]; diameter: d of the shank, or of
        the thread's root where threads lie there [m]; line: of the material with its surface and size [-];
        required_cycles: N [-]; notch_factor: Kf at the shoulder, thread or fillet [-];
        maximum_tension, minimum_tension: of the screw, preload included [N].
    Returns: `PartLife`; the allowable amplitude is at the same mean and has the notch in it.
    Errors: ValueError when a least exceeds its greatest load, a size is not positive or Kf below 1.
    Source: Shigley, Mechanical Engineering Design, ch. 6; beam theory.
    """
    factor = 1.0 + at_least_zero("notch factor - 1", positive("notch factor", notch_factor) - 1.0)
    turning, lean = amplitude_and_mean(maximum_moment, minimum_moment)
    pulling, pull = amplitude_and_mean(maximum_tension, minimum_tension)
    area, modulus = pin.shear_area(diameter), pin.section_modulus(diameter)
    amplitude = factor * (turning / modulus + pulling / area)
    mean = factor * (np.abs(lean) / modulus + pull / area)
    return _on_curve(amplitude, mean, line, required_cycles, line.method, ())


def metal_hole_life(
    maximum_pull: ArrayLike,
    minimum_pull: ArrayLike,
    width: ArrayLike,
    hole_diameter: ArrayLike,
    thickness: ArrayLike,
    curve: HandbookCurve | ReversedLine,
    required_cycles: ArrayLike,
    maximum_moment: ArrayLike = 0.0,
    minimum_moment: ArrayLike = 0.0,
    concentration: str = "ekvall",
) -> PartLife:
    """Fatigue of a metal lug or plate beside a hole that a pin pulls at.

    Local elastic stress: Kt P / A of the pin-loaded hole, and the empty hole's Kt on 6 M / (A t) for flatwise
    bending, A = (w - D) t, over the Kt of the specimens the curve was made with. Full notch sensitivity.

    Arguments (broadcast together):
        maximum_pull, minimum_pull: pull of the pin over the cycle [N]; width: w [m];
        hole_diameter: D, outside of the bush where there is one [m]; thickness: t [m]; curve: of the metal;
        required_cycles: N [-]; maximum_moment, minimum_moment: flatwise bending at the hole [N m];
        concentration: one of `PIN_LOADED` of `notch`.
    Returns: `PartLife`, its stresses on the curve's own specimens; for a handbook curve the allowable
        amplitude is at the same stress ratio, for a reversed line at the same mean.
    Errors: ValueError when a least exceeds its greatest load, a size is not positive, w not above D, or the
        concentration unknown.
    Range: `EKVALL_WIDTH` or `PETERSON_WIDTH`; `NOTCH_OF_CURVE`; `RATIO`. Without fretting: unsafe side for a
        pin that moves in an aluminium hole.
    Source: MMPDS, 9.6.1 (local stress scaled by Kt); Ekvall, J. Aircraft 23(5) (1986), or Peterson.
    """
    if concentration not in notch.PIN_LOADED:
        raise ValueError(f"concentration {concentration!r} is not one of {', '.join(notch.PIN_LOADED)}")
    w, D, t = (
        positive("width", width),
        positive("hole diameter", hole_diameter),
        positive("thickness", thickness),
    )
    larger("width", w, "hole diameter", D)
    specimen = curve.notch if isinstance(curve, HandbookCurve) else 1.0
    pulled = notch.PIN_LOADED[concentration](w, D)
    area = (w - D) * t
    per_pull = pulled / specimen / area
    per_moment = notch.open_hole_bending_factor(w, D, t) / specimen * 6.0 / (area * t)
    pulling, pull = amplitude_and_mean(maximum_pull, minimum_pull)
    turning, lean = amplitude_and_mean(maximum_moment, minimum_moment)
    amplitude = per_pull * pulling + per_moment * turning
    mean = per_pull * pull + per_moment * np.abs(lean)
    width_range = EKVALL_WIDTH if concentration == "ekvall" else notch.PETERSON_WIDTH
    breaches = (
        width_range.breach(w / D if concentration == "ekvall" else D / w),
        NOTCH_OF_CURVE.breach(pulled / specimen),
    )
    how = f"local stress, Kt by {concentration.capitalize()}, {curve.method}"
    return _on_curve(amplitude, mean, curve, required_cycles, how, breaches)


def bent_plate_life(
    maximum_pull: ArrayLike,
    minimum_pull: ArrayLike,
    maximum_moment: ArrayLike,
    minimum_moment: ArrayLike,
    width: ArrayLike,
    thickness: ArrayLike,
    curve: HandbookCurve | ReversedLine,
    required_cycles: ArrayLike,
    concentration: ArrayLike = 1.0,
) -> PartLife:
    """Fatigue of a metal plate pulled and bent flatwise away from the pin, Kt (P / A + 6 M / (A t)), A = w t.

    Over the Kt of the specimens the curve was made with. Full notch sensitivity.

    Arguments (broadcast together):
        maximum_pull, minimum_pull: pull in the plate over the cycle [N]; maximum_moment, minimum_moment:
        flatwise bending moment [N m]; width: w left by the holes of one row [m]; thickness: t [m];
        curve: of the metal; required_cycles: N [-]; concentration: Kt on the net section [-].
    Returns: `PartLife`, its stresses on the curve's own specimens.
    Errors: ValueError when a least exceeds its greatest load, a size is not positive, or Kt below 1.
    Range: `NOTCH_OF_CURVE`; `RATIO`.
    Source: MMPDS, 9.6.1 (local stress scaled by Kt); beam theory.
    """
    specimen = curve.notch if isinstance(curve, HandbookCurve) else 1.0
    factor = 1.0 + at_least_zero("Kt - 1", positive("Kt", concentration) - 1.0)
    t = positive("thickness", thickness)
    per_pull = factor / specimen / (positive("width", width) * t)
    per_moment = per_pull * 6.0 / t
    pulling, pull = amplitude_and_mean(maximum_pull, minimum_pull)
    turning, lean = amplitude_and_mean(maximum_moment, minimum_moment)
    amplitude = per_pull * pulling + per_moment * turning
    mean = per_pull * pull + per_moment * np.abs(lean)
    breaches = (NOTCH_OF_CURVE.breach(factor / specimen),)
    return _on_curve(amplitude, mean, curve, required_cycles, curve.method, breaches)


def laminate_bearing_life(
    maximum_force: ArrayLike,
    minimum_force: ArrayLike,
    hole_diameter: ArrayLike,
    thickness: ArrayLike,
    bearing_strength: ArrayLike,
    required_cycles: ArrayLike,
    fraction: ArrayLike = LAMINATE_FRACTION,
) -> PartLife:
    """Fatigue of a laminate hole in bearing, s = 1 - (1 - f) log10(N) / 6 from static strength to f at 1e6.

    s is the greatest bearing stress of a load that pulsates from zero, over the static strength. Any cycle is
    turned into such a one by Goodman's line to the static strength: sr = sa / (1 - sm), s = 2 sr / (1 + sr).
    Past 1e6 cycles the law goes on along its tangent in logarithms: no endurance limit is claimed.

    Arguments (broadcast together):
        maximum_force, minimum_force: force of the pin on the hole over the cycle [N]; hole_diameter: D, the
        pin's where it is smaller [m]; thickness: t [m]; bearing_strength: static, of the same clamping [Pa];
        required_cycles: N [-]; fraction: f, `LAMINATE_FRACTION`, in water times `LAMINATE_WATER` [-].
    Returns: `PartLife`; the allowable amplitude is at the same mean.
    Errors: ValueError when the least exceeds the greatest force, a size is not positive, or f not within 0
        to 1.
    Range: `REVERSED_BEARING`; read at 1e6 cycles of woven aramid/epoxy, no more. Clamping raises static and
        fatigue strength alike (Crews), so the fraction stays.
    Source: Akay and Kong Ah Mun, Composites 26 (1995) 451, abstract (f); the straight line and Goodman are
        own choices.
    """
    area = positive("hole diameter", hole_diameter) * positive("thickness", thickness)
    line = BearingLine(bearing_strength, fraction)
    force, middle = amplitude_and_mean(maximum_force, minimum_force)
    life = _on_curve(force / area, middle / area, line, required_cycles, line.method, ())
    with np.errstate(divide="ignore", invalid="ignore"):
        ratio = np.where(middle + force > 0.0, (middle - force) / (middle + force), 0.0)
    told = REVERSED_BEARING.breach(ratio)
    return life if told is None else replace(life, breaches=(told,))


def _on_curve(
    amplitude: Floats,
    mean: Floats,
    curve: Curve,
    required_cycles: ArrayLike,
    method: str,
    breaches: tuple[str | None, ...],
) -> PartLife:
    """A part's life from amplitude and mean on a metal's curve."""
    high, low = mean + amplitude, mean - amplitude
    if isinstance(curve, HandbookCurve):
        with np.errstate(divide="ignore", invalid="ignore"):
            none = np.where(low < high, -np.inf, 1.0)
            breaches = (*breaches, RATIO.breach(np.where(high > 0.0, low / high, none)))
    cycles = curve.cycles(high, low)
    allowable = curve.allowable(required_cycles, high, low)
    beyond = curve.beyond(cycles) & np.isfinite(cycles)
    return _life(cycles, amplitude, allowable, high, beyond, method, breaches)


def _life(
    cycles: Floats,
    amplitude: Floats,
    allowable: Floats,
    greatest: Floats,
    beyond: ArrayLike,
    method: str,
    breaches: list[str | None] | tuple[str | None, ...],
) -> PartLife:
    cycles, amplitude, allowable, greatest, past = np.broadcast_arrays(
        cycles, amplitude, allowable, greatest, np.asarray(beyond, dtype=bool)
    )
    told = tuple(text for text in breaches if text)
    return PartLife(cycles, amplitude, allowable, greatest, past, method, told)
