"""What is remarked and assumed where a sheet says little or odd things about hub and screws."""

import re
from pathlib import Path

import pytest

from bladehold.sheet import parse_sheet, resolve

EXAMPLES = Path(__file__).parents[2] / "examples"
REPAIRED = (EXAMPLES / "tarn6_repaired.toml").read_text(encoding="utf-8").partition("[bench]")[0]
BESIDE = "ties stand beside the contact of lug and plates: they are taken just beyond its end"


def built(*pairs):
    """The repaired example with words changed."""
    text = REPAIRED
    for old, new in pairs:
        assert old in text, old
        text = text.replace(old, new, 1)
    return resolve(parse_sheet(text), EXAMPLES)


@pytest.mark.parametrize(
    ("distance", "contact", "told"),
    [
        ("14 mm", "18 mm", False),
        ("9 mm", "18 mm", False),
        ("8.9 mm", "18 mm", True),
        ("7 mm", "12 mm", False),
    ],
)
def test_ties_beside_the_contact_are_remarked(distance, contact, told):
    build = built(
        ('distance = "14 mm"', f'distance = "{distance}"'),
        ('contact_length = "18 mm"', f'contact_length = "{contact}"'),
    )
    assert (BESIDE in build.notes) is told


def test_ties_beside_the_lug_but_clear_of_a_proud_bush_are_not():
    near = ('distance = "14 mm"', 'distance = "5 mm"')
    assert BESIDE in built(near).notes
    assert BESIDE not in built(near, ('bush_length = "8 mm"', 'bush_length = "8.1 mm"')).notes


def test_a_torque_that_is_not_given_is_said_alike_of_all_screws():
    plain = re.sub(r"^(prevailing_)?torque = .*\n", "", REPAIRED, flags=re.MULTILINE)
    told = {item.key: item.why for item in resolve(parse_sheet(plain), EXAMPLES).assumptions}
    assert {told[f"{screw}.torque"] for screw in ("pivot_screw", "tie_screws", "mounting_screws")} == {
        "not given: no clamping is counted on, and what tightening adds to screw and plates is not seen"
    }
