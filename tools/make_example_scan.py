"""Write examples/ow24f_blade.stl, the invented blade as a scanner would give it.

Its shape is the one the tests know (tests/rotor/blade_mesh.py): 24 inch, pivot at 30 mm, thrust along z.
Run it from anywhere: python tools/make_example_scan.py
"""

from __future__ import annotations

import runpy
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
RINGS, COUNT = 14, 24  # along the blade and around half a section: a file of about 120 kB


def write_example(path: Path) -> None:
    """Write the mesh to path."""
    known = runpy.run_path(str(ROOT / "tests" / "rotor" / "blade_mesh.py"))
    known["write_stl"](path, *known["KnownBlade"]().mesh(rings=RINGS, count=COUNT))


if __name__ == "__main__":
    write_example(ROOT / "examples" / "ow24f_blade.stl")
