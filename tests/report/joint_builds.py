"""Builds for the tests of the joint's views: the examples, and the repaired one with words changed."""

from pathlib import Path

from bladehold.sheet import parse_sheet, resolve

EXAMPLES = Path(__file__).parents[2] / "examples"
FRICTION = 'pivot_friction = "0.25 N*m"      # spring balance at the tip, as the screw is tightened\n'


def text_of(name):
    """The text of an example without its bench run."""
    text = (EXAMPLES / f"tarn6_{name}.toml").read_text(encoding="utf-8")
    return text.partition("[bench]")[0]


def changed(text, *pairs):
    for old, new in pairs:
        assert old in text, old
        text = text.replace(old, new, 1)
    return text


def without_ties(text):
    start, end = text.index("[tie_screws]"), text.index("[mounting_screws]")
    return text[:start] + text[end:]


def build_of(text):
    return resolve(parse_sheet(text), EXAMPLES)


UNTORQUED = (('torque = "0.9 N*m"\nprevailing_torque = "0.4 N*m"\n', ""), (FRICTION, ""))
VARIANTS = {
    "repaired": text_of("repaired"),
    "as delivered": text_of("as_delivered"),
    "clamped": changed(
        text_of("repaired"),
        ("folding = true", "folding = false"),
        (FRICTION, ""),
        ('leading_stop = "5 deg"\ntrailing_stop = "120 deg"\n', ""),
    ),
    "no torque": changed(text_of("repaired"), *UNTORQUED),
    "circlip": changed(
        text_of("repaired"), *UNTORQUED, ('nut = "locking"', 'nut = "circlip"\ncirclip_load = "2 kN"')
    ),
    "no ties": without_ties(text_of("repaired")),
    "sprung": changed(
        without_ties(text_of("repaired")),
        (FRICTION, ""),
        ('torque = "0.9 N*m"', 'torque = "0.9 N*m"\nspring_washer_rate = "800 N/mm"'),
        ("load_factor = 1.6", "load_factor = 1.3"),
    ),
}
