"""Stiffness of the two plates of a clevis in the unknowns of `joint._contact_solve`."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from bladehold.joint import _contact_solve as solver
from bladehold.joint._arrays import Floats

# nodes inboard of the contact: (deflection, rotation) of root, tie row and inboard end
_ROOT, _ROOT_TURN, _TIE, _TIE_TURN, _INNER, _INNER_TURN = range(6)


def beam_element(length: Floats, half_length: Floats, bending: Floats, shear_compliance: Floats) -> Floats:
    """Stiffness (4, 4, ...) of a beam with shear, rotations times the contact half-length [N/m].

    The usual element with phi = 12 E I / (G A l^2); inboard node first.
    """
    phi = 12.0 * bending * shear_compliance / length**2
    unit = bending / (length**3 * (1.0 + phi))
    r = length / half_length
    k = np.zeros((4, 4, *np.shape(unit * r)))
    k[0, 0] = k[2, 2] = 12.0 * unit
    k[0, 2] = k[2, 0] = -12.0 * unit
    for turn in (1, 3):
        k[0, turn] = k[turn, 0] = 6.0 * unit * r
        k[2, turn] = k[turn, 2] = -6.0 * unit * r
        k[turn, turn] = (4.0 + phi) * unit * r**2
    k[1, 3] = k[3, 1] = (2.0 - phi) * unit * r**2
    return k


def head_mean(head: Floats, hole: Floats, a: Floats) -> Floats:
    """Mean deflection of a plate under the ring of a screw head, per unknown (unknowns, ...).

    Arguments: head, hole - outer and inner radius of the ring, at the axis alone where head is 0; a -
    contact half-length, all [m].
    """
    mean = np.zeros((solver.UNKNOWNS, *np.broadcast_shapes(head.shape, hole.shape, a.shape)))
    outer, inner = np.broadcast_arrays(np.minimum(head, a) / a, np.minimum(hole, head) / a)
    thin = outer - inner <= 1e-9
    area = np.where(thin, 1.0, outer**2 - inner**2)
    square = np.where(thin, outer**2 / 2.0, (outer**4 - inner**4) / area / 4.0)
    cube_ring = np.where(thin, outer**3, (outer**5 - inner**5) / area / 2.5)
    cube = 4.0 / (3.0 * np.pi) * cube_ring
    mean[solver.AXIS] = 1.0 - 3.0 * square + 2.0 * cube
    mean[solver.INNER] = mean[solver.OUTER] = (3.0 * square - 2.0 * cube) / 2.0
    mean[solver.OUTER_TURN] = (cube - square) / 2.0
    mean[solver.INNER_TURN] = -mean[solver.OUTER_TURN]
    return mean


def head_arm(head: Floats, hole: Floats) -> Floats:
    """Mean distance along the blade from the axis to one half of a head's ring, of radii R and r.

    4 (R^3 - r^3) / (3 pi (R^2 - r^2))

    Arguments: head, hole - outer and inner radius R, r of the ring [m]; 0 where it has no breadth and acts
    as a line at the axis.
    """
    inner = np.minimum(hole, head)
    breadth = head - inner
    cubes = head**2 + head * inner + inner**2
    return np.where(breadth > 0.0, 4.0 / (3.0 * np.pi) * cubes / np.maximum(head + inner, 1e-12), 0.0)


def plate_stiffness(
    part: dict[str, Floats], upper_root: str, ties: bool, elastic_lug: bool
) -> tuple[Floats, tuple[int, ...]]:
    """Stiffness of both plates (2, unknowns, unknowns, batch) and which unknowns these are.

    Arguments: part - fields of a `ClevisModel`, each (batch) or (1); upper_root - its hold; ties - whether
    anything acts at the tie row, which otherwise needs no unknown of its own; elastic_lug - whether it bends.
    """
    left_out = set()
    if upper_root == "clamped":
        left_out.add(solver.ROOT)
    if not ties:
        left_out.add(solver.TIE)
    if not elastic_lug:
        left_out |= {solver.LUG_INNER, solver.LUG_INNER_TURN, solver.LUG_OUTER, solver.LUG_OUTER_TURN}
    kept = tuple(one for one in range(solver.UNKNOWNS) if one not in left_out)
    a = part["half_length"]
    batch = max(values.shape[-1] for values in part.values())
    plates = np.zeros((2, solver.UNKNOWNS, solver.UNKNOWNS, batch))
    for plate, name, hold in ((0, "upper", upper_root), (1, "lower", "clamped")):
        k, beam = plates[plate], (part[f"{name}_bending"], part[f"{name}_shear_compliance"])
        half = beam_element(a, a, *beam)
        for nodes in (
            (solver.INNER, solver.INNER_TURN, solver.AXIS, solver.TURN),
            (solver.AXIS, solver.TURN, solver.OUTER, solver.OUTER_TURN),
        ):
            k[np.ix_(nodes, nodes)] += half
        inboard = _inboard(part, beam, hold, ties)
        nodes = (solver.ROOT, solver.INNER, solver.INNER_TURN, solver.TIE)
        k[np.ix_(nodes, nodes)] += inboard
        seat = head_mean(part["head_diameter"] / 2.0, part["hole_diameter"] / 2.0, a)
        seat[solver.HEAD] = -1.0
        k += part["head_stiffness"] * seat[:, np.newaxis] * seat
        if hold == "clamped":
            k[solver.ROOT, solver.ROOT] = k[solver.INNER, solver.INNER]  # an unknown that stays at rest
    if elastic_lug:
        half = beam_element(a, a, 1.0 / part["lug_compliance"], part["lug_shear_compliance"])
        for nodes in (
            (solver.LUG_INNER, solver.LUG_INNER_TURN, solver.LUG, solver.LUG_TURN),
            (solver.LUG, solver.LUG_TURN, solver.LUG_OUTER, solver.LUG_OUTER_TURN),
        ):
            plates[0][np.ix_(nodes, nodes)] += half  # the lug's own, once
    return plates[:, kept][:, :, kept], kept


def _inboard(part: dict[str, Floats], beam: tuple[Floats, Floats], hold: str, ties: bool) -> Floats:
    """Stiffness (4, 4, batch) of the plate inboard of the contact: root, inboard end (two), tie row."""
    a, tie, root = part["half_length"], part["tie_distance"], part["root_distance"]
    outer = beam_element(tie - a, a, *beam)
    inner = beam_element(root - tie, a, *beam)
    k = np.zeros((6, 6, max(outer.shape[-1], inner.shape[-1])))
    k[:4, :4] += inner
    k[2:, 2:] += outer
    loose = [_TIE_TURN]
    if hold == "free":
        loose.append(_ROOT_TURN)
    if not ties:
        loose.append(_TIE)
    for one in loose:
        row = k[one].copy()
        k -= k[:, one][:, np.newaxis] * row / row[one]
    wanted: Sequence[int] = (_ROOT, _INNER, _INNER_TURN, _TIE)
    out = k[np.ix_(wanted, wanted)]
    if hold == "clamped":
        out[0], out[:, 0] = 0.0, 0.0
    return out
