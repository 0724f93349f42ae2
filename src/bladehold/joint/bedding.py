"""A pin bedded in elastic lug and plates: how far the pressure really lies from the shear faces.

Beam theory with even pressure over the whole thickness overstates the bending of a slender screw in a thick
lug, because a pin that bends leans on the edges of the hole. Here the pin is a beam on an elastic bed in
each part it passes, free across the gap. One half of the pin is enough by symmetry:

- coordinate x outward from mid-lug; deflection w in the direction of the lug's pull; pin moment m = -EI w''
- lug, 0 <= x <= t2/2:  m'' = -k2 (delta - w), w'(0) = 0, m'(0) = 0
- gap, length g:        m' = -V with V = P/2
- plate, length t1:     m'' = k1 w, outer end free (m = m' = 0)

Shear in the gap is known, so the moment at the lug's face is the one unknown; it follows from the slope
being the same on both sides of the gap. Two limits are exact and tested: a stiff pin on a soft bed gives
even pressure, (P/2)(t1/2 + g + t2/4); a soft pin in a hard bed is built in at both faces, (P/2) g/2.

Bed stiffness per length: k = 1/(1/Epin + 1/Epart), the bearing terms of the bolt flexibility of Tate and
Rosenfeld, NACA TN 1051 (1946), read in later quotations. Shear deformation of the pin is left out (it
lowers the moment). The outer end is free, or head and nut hold it against turning by a spring: with preload
they do, and in a wobbling joint of bare aluminium they do not for long, so free is the default. The hold
takes bending from mid-lug and puts some at the plate's outer face; `greatest` sees both.

It is a best estimate, not a bound. The bed is that of a neat fit: clearance narrows the contact (Hertz: about
0.6 of the stiffness at 0.2 mm on M4) and thread crests soften it, and both move the answer towards the even
pressure of the handbook, which is the upper bound. What the pin gains, the faces of the lug pay in pressure:
`lug_peak` says by how much it exceeds the average there.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from bladehold.joint._arrays import Floats, at_least_zero, positive
from bladehold.validity import Range

BEDDING_LENGTH = Range(
    "half the lug over the pin's bedding length",
    None,
    10.0,
    "",
    "the pin is so soft that local crushing, not bending, decides",
    "own limit of the numerics",
)

_POINTS = 41  # along each part; the greatest moment is then found to better than 0.1 %


@dataclass(frozen=True)
class BeddedPin:
    """Levers [m] of the pin's moments on the force V = P/2 in one shear plane; any shape.

    greatest - of the greatest moment anywhere along the pin; lug_face, plate_face - of the moments at the
    two faces of the gap; middle - at mid-lug; length_ratio - half the lug over the bedding length
    (4 EI/k)^(1/4) [-], for `BEDDING_LENGTH`; lug_peak - greatest pressure on the lug over the average [-].
    """

    greatest: Floats
    lug_face: Floats
    plate_face: Floats
    middle: Floats
    length_ratio: Floats
    lug_peak: Floats


def bed_stiffness(pin_modulus: ArrayLike, part_modulus: ArrayLike) -> Floats:
    """Stiffness of the bed per length of pin, k = 1/(1/Epin + 1/Epart).

    Arguments (broadcast together):
        pin_modulus, part_modulus: moduli of elasticity [Pa].
    Returns: force per length and deflection [Pa].
    Errors: ValueError when a modulus is not positive.
    Range: elastic contact over the whole bearing width of the hole; clearance makes the bed softer, which
        moves the answer towards even pressure.
    Source: Tate and Rosenfeld, NACA TN 1051 (1946), bearing terms of the bolt flexibility.
    """
    return 1.0 / (1.0 / positive("pin modulus", pin_modulus) + 1.0 / positive("part modulus", part_modulus))


def bedded_pin(
    outer_thickness: ArrayLike,
    inner_thickness: ArrayLike,
    gap: ArrayLike,
    diameter: ArrayLike,
    pin_modulus: ArrayLike,
    outer_modulus: ArrayLike,
    inner_modulus: ArrayLike,
    end_stiffness: ArrayLike = 0.0,
) -> BeddedPin:
    """Bending levers of a pin through a lug between two plates, all three elastic.

    Arguments (broadcast together):
        outer_thickness: one plate t1 [m]; inner_thickness: lug t2 [m]; gap: g on each side [m];
        diameter: of the pin that bends, thread root where threaded [m];
        pin_modulus, outer_modulus, inner_modulus: of pin, plates and lug [Pa]; end_stiffness: moment per
        turning of head or nut at the plate's outer face, 0 free, infinite rigid [N m/rad].
    Returns: levers on P/2 [m].
    Errors: ValueError when a thickness, diameter or modulus is not positive, a gap or end stiffness negative.
    Range: `BEDDING_LENGTH`; a head that tilts holds no more than `head_moment`.
    Source: beam on elastic foundation, Hetenyi (1946); bed stiffness as in `bed_stiffness`.

    >>> steel, aluminium = 207e9, 71e9
    >>> pin = bedded_pin(3e-3, 8e-3, 0.1e-3, 4e-3, steel, aluminium, aluminium)
    >>> bool(0.1e-3 / 2 < pin.greatest < 3e-3 / 2 + 0.1e-3 + 8e-3 / 4)
    True
    """
    t1, half = positive("outer thickness", outer_thickness), positive("inner thickness", inner_thickness) / 2
    g, d = at_least_zero("gap", gap), positive("diameter", diameter)
    rigidity = positive("pin modulus", pin_modulus) * np.pi * d**4 / 64.0
    lug = _Bed(bed_stiffness(pin_modulus, inner_modulus), rigidity, half)
    plate = _Bed(bed_stiffness(pin_modulus, outer_modulus), rigidity, t1, _hold(end_stiffness))
    by_moment, by_shear = lug.guided_end()
    turn_moment, turn_shear = plate.held_end()
    soft = turn_moment + g / rigidity - by_moment
    face = (turn_moment * g + turn_shear + by_shear + g**2 / (2.0 * rigidity)) / soft
    return BeddedPin(
        greatest=np.maximum(
            np.abs(lug.moments_guided(face)).max(axis=0), np.abs(plate.moments_held(face - g)).max(axis=0)
        ),
        lug_face=face,
        plate_face=face - g,
        middle=lug.moments_guided(face)[0],
        length_ratio=lug.z,
        lug_peak=half * lug.pressures_guided(face).max(axis=0),
    )


def head_moment(clamp_force: ArrayLike, bearing_diameter: ArrayLike) -> Floats:
    """Moment at which a clamped head rocks on its edge, F dw/2: more it cannot hold of the pin's end.

    Arguments (broadcast together):
        clamp_force: F of the screw, the least preload [N]; bearing_diameter: dw of head or nut [m].
    Returns: moment [N m].
    Errors: ValueError when the force is negative or dw not positive.
    Range: hard face; a plate that yields under the edge holds less.
    Source: statics of the head, its force on the rim of its bearing face.
    """
    return at_least_zero("clamp force", clamp_force) * positive("bearing diameter", bearing_diameter) / 2.0


def _hold(stiffness: ArrayLike) -> Floats:
    """End stiffness as array; infinity, a rigid hold, is allowed."""
    values = np.asarray(stiffness, dtype=np.float64)
    if np.any(np.isnan(values)) or np.any(values < 0.0):
        raise ValueError("end stiffness must not be negative")
    return values


class _Bed:
    """One bedded length of the pin: unit answers to shear V and moment at its loaded end."""

    def __init__(
        self, stiffness: Floats, rigidity: Floats, length: Floats, hold: Floats | float = 0.0
    ) -> None:
        self.k, self.length, self.hold = np.broadcast_arrays(stiffness, length, hold)
        self.rigidity = np.broadcast_to(rigidity, np.broadcast_shapes(rigidity.shape, self.k.shape))
        self.inverse = (self.k / (4.0 * self.rigidity)) ** 0.25  # lambda, 1/m
        self.z = self.inverse * self.length
        with np.errstate(invalid="ignore"):
            spring = self.hold * self.inverse**3 / self.k
            self.share = np.where(np.isinf(self.hold), 1.0, spring / (1.0 + spring))  # 0 free, 1 rigid

    def _from_end(self, y: Floats) -> tuple[Floats, Floats, Floats, Floats]:
        """Two moments F and G at y from the outer end, and the third derivative of each by y.

        F = F3 has neither moment nor shear nor slope at the end. G mixes F4, which has slope alone, with F1,
        which has moment alone, as the hold asks: G = (1 - s) F4 - s F1.
        """
        held = (1.0 - self.share) * _fourth(y) - self.share * _first(y)
        return (
            _third(y),
            held,
            -4.0 * _fourth(y),
            (1.0 - self.share) * _first(y) + 4.0 * self.share * _second(y),
        )

    def _constants(self, moment: Floats, shear: float) -> tuple[Floats, Floats]:
        """Constants of m = c1 F + c2 G for moment and shear V at the loaded end.

        By the way outward m' is -V, so by y it is +V/lambda.
        """
        f, g, _, _ = self._from_end(self.z)
        df = _second(self.z)
        dg = (1.0 - self.share) * _third(self.z) + 4.0 * self.share * _fourth(self.z)
        below, slope = f * dg - g * df, shear / self.inverse
        return (moment * dg - g * slope) / below, (f * slope - moment * df) / below

    def held_end(self) -> tuple[Floats, Floats]:
        """Slope of the loaded end per moment, and minus slope per shear, other end free or held."""
        _, _, f3, g3 = self._from_end(self.z)
        scale = self.inverse**3 / self.k  # m'' = k w, so the slope is m''' over k; outward is against y
        by_moment = self._constants(np.ones(self.z.shape), 0.0)
        by_shear = self._constants(np.zeros(self.z.shape), 1.0)
        return -scale * (by_moment[0] * f3 + by_moment[1] * g3), scale * (by_shear[0] * f3 + by_shear[1] * g3)

    def _even(self, moment: Floats) -> tuple[Floats, Floats]:
        """Constants A, B of w - delta = A cosh z cos z + B sinh z sin z for end moment and V = 1."""
        ch, sh, co, si = np.cosh(self.z), np.sinh(self.z), np.cos(self.z), np.sin(self.z)
        square = 2.0 * self.rigidity * self.inverse**2
        # m = square (A sh si - B ch co);  m' = square lambda (A (ch si + sh co) - B (sh co - ch si)) = -1
        a11, a12 = sh * si, -ch * co
        a21, a22 = ch * si + sh * co, ch * si - sh * co
        right1, right2 = moment / square, -1.0 / (square * self.inverse)
        below = a11 * a22 - a12 * a21
        return (right1 * a22 - a12 * right2) / below, (a11 * right2 - a21 * right1) / below

    def guided_end(self) -> tuple[Floats, Floats]:
        """Slope of the loaded end per moment and per shear, the other end held against turning (mid-lug)."""

        def slope(moment: Floats) -> Floats:
            a, b = self._even(moment)
            ch, sh, co, si = np.cosh(self.z), np.sinh(self.z), np.cos(self.z), np.sin(self.z)
            return np.asarray(self.inverse * (a * (sh * co - ch * si) + b * (ch * si + sh * co)))

        by_shear = slope(np.zeros(self.z.shape))
        return slope(self.length) / self.length - by_shear / self.length, by_shear

    def moments_guided(self, end_moment: Floats) -> Floats:
        """Moments per V along the lug half, middle first, [points, ...]."""
        a, b = self._even(end_moment)
        z = _spread(np.broadcast_to(self.z, a.shape))
        square = 2.0 * self.rigidity * self.inverse**2
        return np.asarray(square * (a * np.sinh(z) * np.sin(z) - b * np.cosh(z) * np.cos(z)))

    def pressures_guided(self, end_moment: Floats) -> Floats:
        """Line pressure per V along the lug half, middle first [1/m].

        That is -m'', with m'' = k (w - delta).
        """
        a, b = self._even(end_moment)
        z = _spread(np.broadcast_to(self.z, a.shape))
        return np.asarray(-self.k * (a * np.cosh(z) * np.cos(z) + b * np.sinh(z) * np.sin(z)))

    def moments_held(self, end_moment: Floats) -> Floats:
        """Moments per V along the plate, loaded end first, [points, ...]; the far end is free or held."""
        shape = np.broadcast_shapes(end_moment.shape, self.z.shape)
        end = np.broadcast_to(self.z, shape)
        c1, c2 = self._constants(np.broadcast_to(end_moment, shape), 1.0)
        f, g, _, _ = self._from_end(end - _spread(end))
        return np.asarray(c1 * f + c2 * g)


def _first(y: Floats) -> Floats:
    return np.asarray(np.cosh(y) * np.cos(y))


def _second(y: Floats) -> Floats:
    return np.asarray((np.cosh(y) * np.sin(y) + np.sinh(y) * np.cos(y)) / 2.0)


def _third(y: Floats) -> Floats:
    return np.asarray(np.sinh(y) * np.sin(y) / 2.0)


def _fourth(y: Floats) -> Floats:
    return np.asarray((np.cosh(y) * np.sin(y) - np.sinh(y) * np.cos(y)) / 4.0)


def _spread(end: Floats) -> Floats:
    """Points from 0 to end along a new first axis."""
    shares = np.linspace(0.0, 1.0, _POINTS).reshape(-1, *(1,) * end.ndim)
    return np.asarray(shares * end)
