"""Quantities are read strictly: one number, one allowed unit, nothing guessed."""

import math

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladehold.quantity import KINDS, QuantityError, from_si, read, read_fraction, show, to_si


@pytest.mark.parametrize(
    ("text", "kind", "si"),
    [
        ("26 in", "length", 0.6604),
        ("8.2 kgf", "force", 8.2 * 9.80665),
        ("0.9 N·m", "torque", 0.9),
        ("0.9Nm", "torque", 0.9),
        ("24 kgf cm", "torque", 0.24 * 9.80665),
        ("20 in-lbf", "torque", 20.0 * 4.4482216152605 * 0.0254),
        ("20 lbf in", "torque", 20.0 * 4.4482216152605 * 0.0254),
        ("2 ft lbf", "torque", 2.0 * 4.4482216152605 * 0.3048),
        ("25 °C", "temperature", 298.15),
        ("77 degF", "temperature", 298.15),
        ("-40 degF", "temperature", 233.15),
        ("18 degF", "temperature difference", 10.0),
        ("3000 rpm", "rotational speed", 100 * math.pi),
        ("120 ksi", "stress", 120e3 * 4.4482216152605 / 0.0254**2),
        ("20000 mAh", "charge", 72000.0),
        ("+1.5e1 mm", "length", 0.015),
        ("11.7e-6 1/K", "expansion", 11.7e-6),
        ("0.3 m²", "area", 0.3),
    ],
)
def test_reads(text, kind, si):
    assert read(text, kind).si == pytest.approx(si, rel=1e-9)


@pytest.mark.parametrize(
    ("raw", "kind", "says"),
    [
        ("1,5 mm", "length", "1.5 mm"),
        ("10-32", "length", "one number and one unit"),
        ("1 500 mm", "length", "one number and one unit"),
        ("3/8 in", "length", "no such unit"),
        ("20 in lb", "torque", "no such unit"),
        ("10-32 in-lbf", "torque", "one number and one unit"),
        ("41 g", "force", "unit of mass"),
        (41, "mass", "needs a unit"),
        (True, "mass", "text with a unit"),
        (None, "mass", "text with a unit"),
        ([], "mass", "text with a unit"),
        ("nan mm", "length", "one number"),
        ("inf mm", "length", "one number"),
        ("1e999 mm", "length", "too large"),
        ("5 mmm", "length", "nearest: mm"),
        ("5", "length", "unit is missing"),
        ("", "length", "one number"),
        ("٣ mm", "length", "one number"),
        ("-300 degC", "temperature", "absolute zero"),
        ("2*3 mm", "length", "no such unit"),
    ],
)
def test_refuses_and_says_what_is_allowed(raw, kind, says):
    with pytest.raises(QuantityError, match=says.replace("*", r"\*")):
        read(raw, kind)


def test_every_listed_unit_agrees_with_the_full_units_library():
    full = pint.UnitRegistry()
    full.define("fahrenheit_step = 5 / 9 * kelvin")
    for kind in KINDS.values():
        for text, expression in kind.units.items():
            ours = read(f"7.25 {text}", kind.name).si
            theirs = full.Quantity(7.25, expression).to(kind.si).magnitude
            assert ours == pytest.approx(theirs, rel=1e-9), text


@given(st.sampled_from(sorted(KINDS)), st.floats(0.001, 1e6), st.data())
def test_shown_text_reads_back(kind_name, si, data):
    kind = KINDS[kind_name]
    unit = data.draw(st.sampled_from(sorted(kind.units)))
    text = show(si, kind_name, unit, digits=12)
    assert read(text, kind_name).si == pytest.approx(si, rel=1e-6, abs=1e-9)


@given(st.text(max_size=80))
def test_any_text_is_read_or_refused_in_words(text):
    try:
        value = read(text, "length").si
    except QuantityError as refusal:
        assert "read" in str(refusal) and len(str(refusal)) < 300
    else:
        assert math.isfinite(value)


def test_ratios():
    assert read_fraction(0.5).si == read_fraction("50 %").si == 0.5
    for raw in ("half", "0,5", True, float("nan"), "50 mm", None):
        with pytest.raises(QuantityError):
            read_fraction(raw)


def test_factors_of_the_defined_units_are_exact():
    assert to_si(1.0, "length", "in") == 0.0254
    assert to_si(1.0, "force", "kgf") == 9.80665
    assert from_si(to_si(36.6, "temperature", "degC"), "temperature", "degC") == pytest.approx(
        36.6, abs=1e-12
    )
