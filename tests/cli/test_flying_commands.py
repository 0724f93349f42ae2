"""The commands about the aircraft, motor and battery, and lives: codes, formats, pictures, refusals in "
"words."""

import csv
import io
import json
import re
from pathlib import Path

import pytest

EXAMPLES = Path(__file__).parents[2] / "examples"
DELIVERED, REPAIRED = EXAMPLES / "tarn6_as_delivered.toml", EXAMPLES / "tarn6_repaired.toml"
PICTURES = {
    "aircraft": ("map", "rotors"),
    "drive": ("endurance", "flight"),
    "life": ("parts", "wear"),
}


def flat(text):
    return re.sub(r"\s+", " ", text)


@pytest.fixture
def changed(tmp_path):
    def change(*edits):
        text = REPAIRED.read_text(encoding="utf-8")
        for old, new in edits:
            assert text.count(old) == 1, old
            text = text.replace(old, new)
        path = tmp_path / "own.toml"
        path.write_text(text, encoding="utf-8")
        return path

    return change


@pytest.mark.parametrize(
    ("words", "code"),
    [
        (("aircraft", REPAIRED), 0),
        (("aircraft", DELIVERED), 1),
        (("drive", REPAIRED), 0),
        (("life", REPAIRED), 1),
        (("life", "nowhere.toml"), 2),
        (("drive", REPAIRED, "--json", "--csv"), 2),
        (("aircraft", REPAIRED, "--chart", "map"), 2),
        (("life", REPAIRED, "--out", "a.pdf"), 2),
    ],
)
def test_exit_codes(cli, words, code):
    assert cli(*words).exit_code == code


def test_parts_that_last_end_with_nothing_wrong(cli, changed):
    assert cli("life", changed(('service_life = "300 h"', 'service_life = "20 h"'))).exit_code == 0


def test_aircraft_says_where_everything_comes_from(cli):
    text = flat(cli("aircraft", REPAIRED).stdout)
    for words in (
        "hardest for a rotor is manoeuvre at top speed",
        "gust from below in hover: flying.gust, sharp-edged",
        "turn at cruise: flying.bank, level",
        "mission: transit: flying.segment of the sheet, 5 m/s of wind from ahead",
        "3 rear right",
    ):
        assert words in text


def test_aircraft_data_holds_every_rotor_in_every_kind(cli):
    data = json.loads(cli("aircraft", REPAIRED, "--json").stdout)
    assert len(data["rotors"]) == 6 and max(data["residuals"]) < 1e-9
    for row in data["kinds"]:
        assert len(row["thrusts_N"]) == len(row["speeds_rpm"]) == 6
        assert row["greatest_thrust_N"] == max(row["thrusts_N"]) and row["basis"]
    rows = list(csv.DictReader(io.StringIO(cli("aircraft", REPAIRED, "--csv").stdout)))
    assert [row["kind"] for row in rows] == [row["kind"] for row in data["kinds"]]


def test_drive_names_a_rating_beyond_motor_and_screws(cli, changed):
    text = flat(cli("drive", REPAIRED).stdout)
    assert (
        "rating of 13 kgf is beyond this aircraft: motor and battery turn it to 9.07 kgf at the most" in text
    )
    assert "the hub plates hold 10.8 kgf" in text
    modest = flat(cli("drive", changed(('claimed_thrust = "13 kgf"', 'claimed_thrust = "8 kgf"'))).stdout)
    assert "rating of 8 kgf is within what motor, battery and hub can do" in modest


def test_drive_adds_up_to_the_battery(cli):
    data = json.loads(cli("drive", REPAIRED, "--json").stdout)
    assert sum(row["share"] for row in data["hover_losses"]) == pytest.approx(1.0, abs=1e-9)
    segments = data["mission"]["segments"]
    assert sum(row["time_s"] for row in segments) == pytest.approx(18 * 60)
    assert sum(row["energy_J"] for row in segments) == pytest.approx(data["mission"]["energy_J"])
    assert [row["charge_at_end"] for row in segments] == sorted(
        (row["charge_at_end"] for row in segments), reverse=True
    )
    keys = {item["key"] for item in data["assumptions"]}
    assert {"motor.thermal_resistance", "battery.reserve", "flying.gust"} <= keys


def test_drive_without_a_motor_is_refused_in_words(cli, changed, tmp_path):
    text = REPAIRED.read_text(encoding="utf-8")
    path = tmp_path / "still.toml"
    path.write_text(re.sub(r"(?s)\[motor\].*?(?=\[battery\])", "", text), encoding="utf-8")
    result = cli("drive", path)
    assert result.exit_code == 2 and "lacks [motor] or [battery]" in flat(result.stderr)
    assert cli("check", path).exit_code == 0


@pytest.mark.parametrize(
    ("edit", "says"),
    [
        (('capacity = "32 Ah"', 'capacity = "6 Ah"'), "the flight ends after"),
        (('current_limit = "60 A"', 'current_limit = "20 A"'), "the motor's current is too high in"),
        (('speed_constant = "130 rpm/V"', 'speed_constant = "90 rpm/V"'), "full throttle is not enough in"),
        (('resistance = "16 mohm"', 'resistance = "400 mohm"'), "the battery collapses in"),
        (('temperature_limit = "110 degC"', 'temperature_limit = "60 degC"'), "the windings get too hot in"),
        (('current_limit = "300 A"', 'current_limit = "100 A"'), "the battery's current is too high in"),
    ],
)
def test_drive_says_why_it_does_not_serve(cli, changed, edit, says):
    result = cli("drive", changed(edit))
    assert result.exit_code == 1
    assert "DO NOT SERVE" in result.stdout and says in flat(result.stdout)


def test_life_says_what_wears_and_what_to_do(cli):
    text = flat(cli("life", REPAIRED).stdout)
    for words in (
        "END BEFORE the 300 h wanted",
        "factor of 8 for scatter",
        "Of all cycles: manoeuvres",
        "What changes that life most: all loads on the blade a tenth less",
        "no crack growth is computed",
    ):
        assert words in text
    data = json.loads(cli("life", REPAIRED, "--json").stdout)
    for life in data["lives"]:
        assert life["groups"] and (life["life_h"] is None) == (sum(life["groups"].values()) == 0.0)
    rows = list(csv.DictReader(io.StringIO(cli("life", REPAIRED, "--csv").stdout)))
    assert [row["part"] for row in rows] == [row["part"] for row in data["keeping"]]


@pytest.mark.parametrize(("command", "chart"), [(c, p) for c, names in PICTURES.items() for p in names])
def test_pictures_are_written_in_every_format(cli, tmp_path, command, chart):
    files = [tmp_path / f"a.{kind}" for kind in ("svg", "png", "html")]
    words = [word for path in files for word in ("--out", path)]
    result = cli(command, REPAIRED, "--chart", chart, *words)
    assert result.exit_code in {0, 1} and all(path.stat().st_size > 5000 for path in files)
    svg = files[0].read_text(encoding="utf-8")
    assert svg.startswith("<svg") and "invented" in svg and "not an approval" in svg


def test_manoeuvres_that_do_not_fit_the_flight_are_refused(cli, changed):
    result = cli("check", changed(('flight_time = "18 min"', 'flight_time = "1 min"')))
    assert result.exit_code == 2 and "flying.manoeuvres" in result.stderr


BAD = {
    "cruise beyond top": (
        "flying.cruise_speed",
        'cruise_speed = "11 m/s"',
        'cruise_speed = "17 m/s"',
        "than top_speed",
    ),
    "bank": ("flying.bank", 'bank = "30 deg"', 'bank = "80 deg"', "<= 75 deg"),
    "low": ("flying.altitude_max", 'wind = "5 m/s"', 'altitude_max = "100 m"', "below the altitude"),
    "twice": (
        "battery.capacity",
        'capacity = "32 Ah"',
        'capacity = "32 Ah"\nenergy = "1 kWh"',
        "either capacity",
    ),
    "neither": ("battery.capacity", 'capacity = "32 Ah"', "", "either capacity or energy"),
    "volts": ("battery.voltage", "cells = 12", 'cells = 12\nvoltage = "30 V"', "2.5 V per cell"),
    "cut-off": (
        "battery.cutoff_voltage",
        'cutoff_voltage = "39.6 V"',
        'cutoff_voltage = "51 V"',
        "no less than",
    ),
    "reserve": ("battery.reserve", "cells = 12", "cells = 12\nreserve = 1.0", "nothing is left"),
    "negative": ("motor.resistance", 'resistance = "46 mohm"', 'resistance = "-46 mohm"', "must be > 0"),
    "bare": ("motor.resistance", 'resistance = "46 mohm"', "resistance = 46", "unit"),
    "half": ("motor.fast_no_load_voltage", "pole_pairs = 14", 'fast_no_load_current = "2 A"', "is needed"),
    "slower": (
        "motor.fast_no_load_voltage",
        "pole_pairs = 14",
        'fast_no_load_current = "2 A"\nfast_no_load_voltage = "12 V"',
        "not higher",
    ),
    "word": ("battery.chemistry", '"lithium-polymer"', '"lithium polymer"', "did you mean lithium-polymer"),
    "ohm for mohm": ("motor.resistance", '"46 mohm"', '"46 ohm"', "is it in mohm?"),
    "a battery that gives nothing": ("battery.resistance", '"16 mohm"', '"16 ohm"', "3.2 A through"),
    "faster than top speed": (
        "flying.segment[2].speed",
        'speed = "10 m/s"',
        'speed = "12 m/s"',
        "17 m/s through the air, more than top_speed (16 m/s)",
    ),
    "missing": ("motor.speed_constant", 'speed_constant = "130 rpm/V"', "", "missing"),
}


def test_wind_without_a_mission_is_refused(cli, tmp_path):
    text = REPAIRED.read_text(encoding="utf-8")
    text = re.sub(r"(?ms)^\[\[flying\.segment\]\]\n(.+\n)+", "", text)
    path = tmp_path / "wind.toml"
    path.write_text(text, encoding="utf-8")
    result = cli("aircraft", path)
    assert result.exit_code == 2 and "segments of a mission only" in flat(result.stderr)


def test_rotors_that_all_turn_one_way_are_refused(cli, tmp_path):
    text = REPAIRED.read_text(encoding="utf-8").replace('layout = "flat"', 'layout = "custom"')
    text = re.sub(r"(?m)^(rotor_(distance|height)|first_arm|mass_ahead) = .*\n", "", text)
    text = re.sub(r"(?m)^rotors = 6", "rotors = 4", text)
    places = ((0.5, 0.5), (0.5, -0.5), (-0.5, 0.5), (-0.5, -0.5))
    table = '[[aircraft.rotor]]\nx = "{} m"\ny = "{} m"\nz = "0 m"\nspin = "ccw"\n'
    text = text.replace("[air]", "".join(table.format(*place) for place in places) + "[air]", 1)
    path = tmp_path / "spins.toml"
    path.write_text(text, encoding="utf-8")
    result = cli("aircraft", path)
    assert result.exit_code == 2 and "all 4 rotors turn ccw" in flat(result.stderr)


def test_a_battery_that_collapses_at_once_is_told_without_numbers_that_are_none(cli, changed):
    path = changed(('resistance = "16 mohm"', 'resistance = "260 mohm"'))
    result = cli("drive", path)
    assert result.exit_code == 1 and not re.search(r"\b(nan|inf)\b", result.stdout)
    assert "more than the battery can give" in flat(result.stdout)
    drawn = cli("drive", path, "--chart", "flight", "--out", path.with_suffix(".svg"))
    assert drawn.exit_code == 2 and "no flight to draw" in flat(drawn.stderr)
    drawn = cli("drive", path, "--chart", "endurance", "--out", path.with_suffix(".svg"))
    assert drawn.exit_code == 1


@pytest.mark.parametrize("name", BAD)
def test_bad_input_names_file_key_and_what_is_allowed(cli, changed, name):
    key, old, new, says = BAD[name]
    path = changed((old, new))
    result = cli("drive", path)
    assert result.exit_code == 2
    said = flat(result.stderr)
    assert str(path) in result.stderr.replace("\n", "") and key in said and says in said
