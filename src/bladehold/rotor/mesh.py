"""A closed mesh out of a file, in metres, or the reason why it is none."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np

from bladehold.quantity import to_si
from bladehold.quantity.kinds import KINDS

MESH_FORMATS = ("stl", "ply", "obj", "off")


class ScanError(ValueError):
    """A mesh that cannot be read as one blade; the message says why and what to do."""


def library() -> Any:
    """The mesh library, or a refusal that names the extra it comes with."""
    try:
        import trimesh
    except ImportError:
        raise ScanError('reading a mesh needs the extra "scan": pip install "bladehold[scan]"') from None
    return trimesh


def scaled_mesh(path: Path, unit: str) -> tuple[Any, float]:
    """The mesh in m, closed and outside out, and the length of its unit in m.

    Arguments: path - STL, PLY, OBJ or OFF file; unit - of its numbers. Errors: ScanError for what is no
    closed surface of one body, ValueError for the unit, OSError for a file that cannot be read.
    """
    units = KINDS["length"].units
    if unit not in units:
        raise ValueError(
            f"unit {unit!r} is no unit of length; a mesh file has none, so state one of {', '.join(units)}"
        )
    found = library()
    kind = path.suffix.lower().lstrip(".")
    if kind not in MESH_FORMATS:
        raise ScanError(
            f"no mesh format is known for the ending {path.suffix!r}; give an STL, PLY, OBJ or OFF file"
        )
    with path.open("rb") as stream:
        try:
            mesh = found.load_mesh(stream, file_type=kind)
        except Exception as error:  # the library's readers raise whatever a broken file makes them stumble on
            raise ScanError(f"not a readable {kind.upper()} file: {type(error).__name__}: {error}") from None
    if not isinstance(mesh, found.Trimesh) or len(mesh.faces) == 0 or not np.all(np.isfinite(mesh.vertices)):
        raise ScanError("no surface found in the file: it is empty, or not of the format its ending says")
    _closed(mesh)
    scale = to_si(1.0, "length", unit)
    mesh.apply_scale(scale)
    if mesh.volume < 0.0:
        mesh.invert()
    return mesh, scale


def _closed(mesh: Any) -> None:
    """Refuse a surface that encloses nothing, or more than one thing."""
    _, shared = np.unique(mesh.edges_sorted, axis=0, return_counts=True)
    loose = int(np.sum(shared != 2))
    if loose:
        raise ScanError(
            f"the surface is not closed: {loose} of {shared.size} edges do not join exactly two faces. Close "
            "its holes in the scanning program; volume and sections mean nothing before"
        )
    if not mesh.is_winding_consistent:
        raise ScanError("some faces are inside out: make the normals consistent in the scanning program")
    if mesh.volume == 0.0:
        raise ScanError("the surface encloses no volume")
    bodies = sum(part.volume * mesh.volume > 0.0 for part in mesh.split(only_watertight=False))
    if bodies > 1:
        raise ScanError(f"the file holds {bodies} separate bodies: keep the one blade")
