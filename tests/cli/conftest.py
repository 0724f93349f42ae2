"""Makes the blade of tests/rotor/blade_mesh.py importable for the tests of the commands."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "rotor"))
