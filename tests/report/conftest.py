"""Makes the measures of joint_drawing.py importable for the tests beside it."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
