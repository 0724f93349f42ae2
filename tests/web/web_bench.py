"""What the tests of the workbench share."""

from pathlib import Path

EXAMPLES = Path(__file__).parents[2] / "examples"
OWN = "http://127.0.0.1"
SHEET, OTHER = "tarn6_repaired.toml", "tarn6_as_delivered.toml"
