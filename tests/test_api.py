"""The Python face: light to import, the same answers, and safe in a notebook."""

import subprocess
import sys
from importlib.metadata import version
from pathlib import Path

import pytest

import bladehold

EXAMPLES = Path(__file__).parents[1] / "examples"


@pytest.fixture(scope="module")
def delivered():
    return bladehold.load(EXAMPLES / "tarn6_as_delivered.toml")


def test_names_and_version():
    assert all(hasattr(bladehold, name) for name in bladehold.__all__)
    assert bladehold.__version__ == version("bladehold")
    with pytest.raises(AttributeError, match="no attribute 'lode'"):
        _ = bladehold.lode


def test_import_is_light():
    code = "import sys, bladehold; print(sorted({'numpy', 'pydantic', 'typer'} & set(sys.modules)))"
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout
    assert out.strip() == "[]"


def test_answers(delivered):
    found = delivered.assess()
    assert found.verdict == "does not hold"
    rows = found.table()
    assert isinstance(rows, list) and isinstance(rows[0], dict)
    assert {"part", "mode", "margin", "formula", "inputs", "source", "advice"} <= set(rows[0])
    assert delivered.size(classes=["12.9"]).smallest.thread
    assert delivered.limit().lowest.part == "pivot screw"
    assert delivered.advise().most.after > found.margin


def test_sheets_side_by_side(delivered):
    found = bladehold.compare([delivered, bladehold.load(EXAMPLES / "tarn6_repaired.toml")])
    assert found.holds == (False, True) and found.differing
    with pytest.raises(ValueError, match="2 or more"):
        bladehold.compare([delivered])


def test_bad_sheets_raise_with_every_fault():
    with pytest.raises(bladehold.SheetError) as caught:
        bladehold.loads("[about]\nname = 3\n")
    assert len(caught.value.problems) > 3


def test_notebook_view_escapes_and_cautions(delivered):
    text = (EXAMPLES / "tarn6_as_delivered.toml").read_text(encoding="utf-8")
    nasty = bladehold.loads(
        text.replace('name = "Tarn 6, as delivered"', 'name = "<script>alert(1)</script>"')
    )
    html = nasty._repr_html_()
    assert "<script>" not in html and "&lt;script&gt;" in html
    assert "not an approval" in html and "Assumed inputs" in html
    assert delivered.assess()._repr_html_().count("<tr>") == len(delivered.assess().checks) + 1
