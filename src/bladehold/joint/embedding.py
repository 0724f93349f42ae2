"""Embedding: rough faces flatten under the clamp soon after tightening, and the screw's stretch goes with it.

The amounts are guide values by roughness for metal faces under a screw tightened to most of its strength. A
folding pivot is clamped with a few per cent of that: its faces settle less, and the guide values, several
hundred newtons, would take more than is there. They are for mounting and tie screws; a pivot is worked a few
times and set again.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from bladehold.joint._arrays import Floats, at_least_zero, positive
from bladehold.joint.stiffness import in_series


def embedding_amount(
    thread: ArrayLike, bearing_face: ArrayLike, inner_face: ArrayLike, inner_faces: ArrayLike
) -> Floats:
    """Length that a screwed joint loses by embedding, fZ = fthread + 2 fface + n finner.

    Head and nut are the two bearing faces; a lug between two plates has two inner faces, each pair of washers
    adds two.

    Arguments (broadcast together):
        thread: of the mated thread [m]; bearing_face: under head or nut, each [m]; inner_face: of each
        joint between clamped parts [m]; inner_faces: n of these [-].
    Returns: fZ [m].
    Errors: ValueError when an argument is negative.
    Range: metal faces of a fully tightened screw; laminates and plastics creep on, see `relaxation`.
    Source: VDI 2230 Part 1 (guide values by roughness; from memory).
    """
    faces = 2.0 * at_least_zero("embedding of a bearing face", bearing_face)
    inner = at_least_zero("number of inner faces", inner_faces) * at_least_zero(
        "embedding of an inner face", inner_face
    )
    return at_least_zero("embedding of the thread", thread) + faces + inner


def embedding_loss(amount: ArrayLike, bolt_stiffness: ArrayLike, joint_stiffness: ArrayLike) -> Floats:
    """Preload lost by embedding, FZ = fZ kb kj / (kb + kj).

    >>> print(f"{embedding_loss(11e-6, 100e6, 300e6):.0f} N")
    825 N

    Arguments (broadcast together):
        amount: fZ from `embedding_amount` [m]; bolt_stiffness: kb of the screw with any spring under it
        [N/m]; joint_stiffness: kj of the clamped stack [N/m].
    Returns: FZ [N], never more than what was there: the caller stops at 0.
    Errors: ValueError when a stiffness is not positive or the amount negative.
    Source: VDI 2230 Part 1, preload loss by embedding.
    """
    springs = np.stack(
        np.broadcast_arrays(
            positive("bolt stiffness", bolt_stiffness), positive("joint stiffness", joint_stiffness)
        ),
        axis=-1,
    )
    return at_least_zero("embedding amount", amount) * in_series(springs)
