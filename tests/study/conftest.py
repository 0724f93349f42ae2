"""Builds that the tests of the study share."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
