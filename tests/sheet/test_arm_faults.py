"""An arm whose measures do not fit its shape is refused at the key, with what is wanted."""

from pathlib import Path

import pytest

from bladehold.sheet import SheetError, parse_sheet, resolve

EXAMPLE = (Path(__file__).parents[2] / "examples" / "tarn6_as_delivered.toml").read_text(encoding="utf-8")
HEAD, _, REST = EXAMPLE.partition("[arm]\n")
REST = REST[REST.index("[motor]") :]


def sheet_with(arm):
    return parse_sheet(f"{HEAD}{arm}\n{REST}")


@pytest.mark.parametrize(
    ("arm", "key", "words"),
    [
        ('shape = "tube"\nwall = "1 mm"', "arm.outer_diameter", "a tube needs outer_diameter and wall"),
        ('shape = "plate"\nwidth = "30 mm"', "arm.height", "a plate needs width and height"),
        (
            'shape = "plate"\nwidth = "30 mm"\nheight = "8 mm"\nwall = "1 mm"',
            "arm.wall",
            "a plate has no wall; it has width and height",
        ),
        (
            'shape = "tube"\nouter_diameter = "20 mm"\nwall = "11 mm"',
            "arm.wall",
            "more than half of outer_diameter",
        ),
        ('shape = "box"\nwidth = "20 mm"\nheight = "9 mm"\nwall = "5 mm"', "arm.wall", "nothing inside"),
        (
            'shape = "tube"\nouter_diameter = "20 mm"\nwall = "1 mm"\nlength = "2 m"',
            "arm.length",
            "longer than aircraft.rotor_distance",
        ),
        (
            'shape = "tube"\nouter_diameter = "20 mm"\nwall = "1 mm"\ntip_mass = "5 kg"',
            "arm.tip_mass",
            "outweighs the aircraft",
        ),
        ('shape = "pipe"', "arm.shape", "no such word"),
        (
            'shape = "tube"\nouter_diameter = "20 mm"\nwall = "1 mm"\nmaterial = "7075-T7"',
            "arm.material",
            "7075-T6",
        ),
    ],
)
def test_what_does_not_fit_is_told_at_its_key(arm, key, words):
    with pytest.raises(SheetError) as caught:
        sheet_with(f"[arm]\n{arm}")
    (problem,) = caught.value.problems
    assert problem.key == key and words in problem.message


def test_a_controller_that_is_most_of_the_aircraft_is_refused():
    with pytest.raises(SheetError) as caught:
        sheet_with('[flight_controller]\nmount_frequency = "30 Hz"\nmass = "12 kg"')
    (problem,) = caught.value.problems
    assert problem.key == "flight_controller.mass" and "more than a fifth" in problem.message


def test_missing_values_are_assumed_and_listed():
    build = resolve(sheet_with('[arm]\nshape = "box"\nwidth = "30 mm"\nheight = "20 mm"\nwall = "1 mm"'))
    keys = {item.key for item in build.loss_assumptions}
    assert {"arm.length", "arm.material", "arm.damping", "arm.tip_mass", "arm.rotor_height"} <= keys
    assert build.arm.length == pytest.approx(0.7 * 0.78)
    assert build.arm.tip_mass == pytest.approx(1.2 * 0.42 + 2 * build.propeller.blade_mass)
    assert not {item.key for item in build.assumptions} & keys


def test_without_an_arm_there_is_none():
    build = resolve(sheet_with(""))
    assert build.arm is None and build.controller is None
    assert not any(item.key.startswith("arm.") for item in build.loss_assumptions)


def test_a_controller_on_mounts_is_read():
    mounted = resolve(sheet_with('[flight_controller]\nmount_frequency = "30 Hz"'))
    assert (mounted.controller.mount_frequency, mounted.controller.mass) == (30.0, 0.1)
