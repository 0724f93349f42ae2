"""Stand files: any column names, strict numbers, and the slips that such files contain."""

import numpy as np
import pytest

from bladehold.bench import StandRun, find_slips, load_stand
from bladehold.sheet import SheetError
from bladehold.sheet.flying import Bench

HEADER = "Time,RPM,Thrust (kgf),Torque [N*m],P el,Volt (V)"


def bench(**changes):
    keys = {"file": "run.csv", "rpm": "RPM", "thrust": "Thrust (kgf)", "torque": "Torque (N*m)"}
    return Bench.model_validate({**keys, **changes})


def write(folder, text):
    (folder / "run.csv").write_text(text, encoding="utf-8")


def test_reads_columns_by_name_and_unit(tmp_path):
    write(
        tmp_path,
        f"# a remark\n{HEADER}\n0,3000,1.5,0.4,200,48\n\n1,4000,2.7,0.7,420,47\n".replace("[N*m]", "(N*m)"),
    )
    run = load_stand(bench(power="P el (W)", voltage="Volt (V)"), tmp_path)
    np.testing.assert_allclose(run.speed, np.array([3000, 4000]) * np.pi / 30)
    np.testing.assert_allclose(run.thrust, np.array([1.5, 2.7]) * 9.80665)
    np.testing.assert_allclose(run.power, [200, 420])
    np.testing.assert_allclose(run.voltage, [48, 47])
    assert run.line.tolist() == [3, 5]
    assert np.isnan(run.temperature).all()


@pytest.mark.parametrize("remark", ["", "# made on a calm day, twice\n"])
def test_semicolons_are_understood(tmp_path, remark):
    write(tmp_path, f"{remark}RPM;Thrust (kgf);Torque (N*m)\n3000;1.5;0.4\n")
    assert load_stand(bench(), tmp_path).speed.size == 1


def test_lines_are_those_of_the_file_behind_cells_of_several_lines(tmp_path):
    write(tmp_path, 'RPM,Thrust (kgf),Torque (N*m),note\n# "quoted\n3000,1.5,0.4,"a\nb"\n4000,2.7,0.7,\n')
    assert load_stand(bench(), tmp_path).line.tolist() == [3, 5]


def test_text_that_cannot_be_taken_apart_is_refused_with_its_line(tmp_path):
    write(tmp_path, 'RPM,Thrust (kgf),Torque (N*m)\n3000,1.5,0.4\n4000,"2.7" kgf,0.7\n')
    with pytest.raises(SheetError, match="line 3: not comma-separated text"):
        load_stand(bench(), tmp_path)


@pytest.mark.parametrize(
    ("changes", "text", "says"),
    [
        ({"thrust": "Trust (kgf)"}, "RPM,Thrust (kgf),Torque (N*m)\n1,2,3\n", 'did you mean "Thrust'),
        ({"thrust": "Thrust"}, "RPM,Thrust,Torque (N*m)\n1,2,3\n", "add the unit in brackets"),
        ({"thrust": "Thrust (mm)"}, "RPM,Thrust (mm),Torque (N*m)\n1,2,3\n", "one of"),
        ({}, "RPM,Thrust (kgf),Torque (N*m)\n1,x,3\n1,2\n", "plain number"),
        ({}, "RPM,Thrust (kgf),Torque (N*m)\n", "line of column names"),
        ({"file": "other.csv"}, "", "no such file"),
    ],
)
def test_refusals_name_what_is_wrong(tmp_path, changes, text, says):
    write(tmp_path, text)
    with pytest.raises(SheetError, match=says):
        load_stand(bench(**changes), tmp_path)


def made(count=10, **changes):
    speed = np.linspace(100.0, 400.0, count)
    unknown = np.full(count, np.nan)
    columns = {
        "speed": speed,
        "thrust": 4e-4 * speed**2.05,
        "torque": 1.2e-5 * speed**2,
        "power": 1.5e-5 * speed**3,
        "voltage": 50.0 - 2e-3 * speed,
        "temperature": unknown,
        "pressure": unknown,
        "line": np.arange(2, count + 2),
    }
    return StandRun(name="made", **{**columns, **changes})


def test_a_clean_run_has_no_slips():
    assert find_slips(made()) == []


def test_thrust_in_the_wrong_place_is_found():
    run = made()
    thrust = run.thrust.copy()
    thrust[4] = run.speed[4] * 30 / np.pi * 9.80665
    found = find_slips(made(thrust=thrust))
    assert [(slip.row, slip.left_out) for slip in found] == [(4, True)]
    assert "speed typed as a thrust" in found[0].reason and found[0].line == 6


def test_a_number_off_the_law_is_found():
    thrust = made().thrust.copy()
    thrust[7] *= 1.6
    found = find_slips(made(thrust=thrust))
    assert [slip.row for slip in found] == [7] and "own law" in found[0].reason


def test_repeated_rows_count_once():
    run = made()
    columns = {n: np.append(v, v[3]) for n, v in vars(run).items() if isinstance(v, np.ndarray)}
    found = find_slips(StandRun(name="made", **columns))
    assert [slip.row for slip in found] == [10] and "repeats another row" in found[0].reason


def test_a_sagging_supply_is_shown_but_kept():
    run = made(count=12)
    voltage = run.voltage.copy()
    voltage[-2:] -= 6.0
    found = find_slips(made(count=12, voltage=voltage))
    assert [slip.row for slip in found] == [10, 11]
    assert not any(slip.left_out for slip in found)
