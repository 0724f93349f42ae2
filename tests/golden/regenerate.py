"""Write the golden answers anew; read the difference before committing."""

from __future__ import annotations

import json
from pathlib import Path

from typer.testing import CliRunner

from bladehold.cli.main import app

HERE = Path(__file__).parent
EXAMPLES = HERE.parents[1] / "examples"
RUNS = {
    "tarn6_as_delivered.json": ("check", "tarn6_as_delivered.toml", "--json"),
    "tarn6_repaired.json": ("check", "tarn6_repaired.toml", "--json"),
    "ostrel_line.json": ("range", "ostrel_line.csv", "--base", "tarn6_repaired.toml", "--json"),
    "calibration.json": ("calibrate", "tarn6_repaired.toml", "--json"),
}


def answer(words: tuple[str, ...]) -> object:
    """What a command says about the examples, as plain data."""
    full = [str(EXAMPLES / word) if (EXAMPLES / word).is_file() else word for word in words]
    return json.loads(CliRunner().invoke(app, full, catch_exceptions=False).stdout)


if __name__ == "__main__":
    for name, words in RUNS.items():
        text = json.dumps(answer(words), indent=1, ensure_ascii=False)
        (HERE / name).write_text(f"{text}\n", encoding="utf-8")
        print(f"wrote {name}")
