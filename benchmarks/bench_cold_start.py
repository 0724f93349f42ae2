"""From an empty process to an answer, as a person at a terminal meets it. Budget: about one second."""

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
COMMAND = "from bladehold.cli.main import run; run()"


@pytest.mark.parametrize(
    "words",
    [
        ("--help",),
        ("show", "examples/tarn6_repaired.toml"),
        ("check", "examples/tarn6_repaired.toml"),
        ("check", "examples/tarn6_as_delivered.toml", "--csv"),
    ],
    ids=" ".join,
)
def test_cold_start(benchmark, words):
    def answer():
        line = [sys.executable, "-c", COMMAND, *words]
        return subprocess.run(line, cwd=ROOT, capture_output=True, check=False).returncode

    assert benchmark.pedantic(answer, rounds=5, warmup_rounds=1) in {0, 1}
