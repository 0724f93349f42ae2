"""Sweeps: every point is the assessment of its own sheet, whoever does it and whatever stops it."""

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import numpy as np
import pytest

from bladehold.report.sweep import table_of
from bladehold.report.sweep_chart import sweep_chart
from bladehold.sheet import parse_sheet, resolve
from bladehold.sheet.vary import load_source, read_axis, source_of
from bladehold.study import assess
from bladehold.study.mass import retention_mass
from bladehold.study.sweep import Swept, records_of, sweep_of
from bladehold.study.sweep_run import Journal, NoClusterError, OtherSweepError, run

REPAIRED = Path(__file__).parents[2] / "examples" / "tarn6_repaired.toml"
SOURCE = load_source(REPAIRED)
PLATES, GAP = "hub.plate_thickness=3 mm..5 mm:3", "hub.gap=0 mm..0.2 mm:4"


def swept(*texts, **how):
    return sweep_of(SOURCE, [read_axis(text, SOURCE) for text in texts], **how)


@pytest.fixture(scope="module")
def small():
    sweep = swept(PLATES, GAP)
    return run(sweep, workers=1)


def test_a_grid_is_full_and_its_last_key_fastest():
    numbers = swept(PLATES, GAP).numbers
    assert numbers.shape == (12, 2)
    assert numbers[:4, 0].tolist() == [3.0] * 4 and numbers[:4, 1].tolist() == pytest.approx(
        [0, 0.2 / 3, 0.4 / 3, 0.2]
    )
    assert swept("hub.gap=0 mm..0.2 mm").count == 5
    assert swept("tie_screws.count=0..2").numbers[:, 0].tolist() == [0.0, 1.0, 2.0]
    assert swept("tie_screws.count=0..4:3").numbers[:, 0].tolist() == [0.0, 2.0, 4.0]


def test_quasi_random_points_fill_the_ranges_and_are_the_same_again():
    keys = ("hub.plate_thickness=3 mm..5 mm", "tie_screws.count=0..2")
    one, again, other = (swept(*keys, drawn=100, seed=seed).numbers for seed in (1, 1, 2))
    assert np.array_equal(one, again) and not np.array_equal(one, other)
    assert np.all((one[:, 0] >= 3.0) & (one[:, 0] <= 5.0)) and set(one[:, 1]) == {0.0, 1.0, 2.0}
    # Of a hundred points every tenth of the range has about ten: quasi-random, not random.
    counts, _ = np.histogram(one[:, 0], 10, (3.0, 5.0))
    assert counts.min() >= 8 and counts.max() <= 12


def test_the_air_changes_slowest_and_every_point_is_asked_once():
    sweep = swept(PLATES, "flying.load_factor=1.4..1.8:3", GAP)
    order = sweep.order
    assert sorted(order) == list(range(sweep.count))
    assert np.all(np.diff(sweep.numbers[order, 1]) >= 0.0)


def test_every_record_is_the_assessment_of_a_sheet_typed_by_hand(small):
    text = REPAIRED.read_text(encoding="utf-8")
    for record in small.records[::5]:
        thickness, gap = record["hub.plate_thickness, mm"], record["hub.gap, mm"]
        own = text.replace('plate_thickness = "4 mm"', f'plate_thickness = "{thickness!r} mm"')
        build = resolve(parse_sheet(own.replace('gap = "0.05 mm"', f'gap = "{gap!r} mm"')))
        found = assess(build)
        assert record["margin"] == found.margin and record["check"] == found.governing.key
        assert record["state"] == found.verdict and record["condition"] == found.governing.condition
        assert record["fatigue margin"] == found.shortest.margin
        for part, check in found.by_part().items():
            assert check.level == "fatigue" or record[f"margin: {part}"] == check.margin
        assert record["greatest thrust, N"] == found.loads.thrust.max()
        assert record["retention, g"] == 1e3 * sum(retention_mass(build).values())


def test_points_that_cannot_be_are_records_with_the_reason():
    refused = run(swept("flying.cruise_speed=8 m/s..20 m/s:2"), workers=1).records
    assert [record["state"] for record in refused] == ["holds", "refused"]
    assert "flying.cruise_speed" in refused[1]["why"] and "margin" not in refused[1]
    hard = run(swept("flying.used_thrust=4.6 kgf..60 kgf:2"), workers=1)
    assert hard.records[1]["state"] == "cannot be computed" and hard.records[1]["why"]
    assert np.isnan(hard.margin[1]) and hard.states == {"holds": 1, "cannot be computed": 1}


def test_processes_give_what_one_gives(small):
    assert run(swept(PLATES, GAP), workers=2).records == small.records
    assert records_of(small.sweep, [7, 2]) == [small.records[7], small.records[2]]


def test_effects_and_crossings_are_those_of_the_margins(small):
    first, second = small.effects
    assert {first.axis.key, second.axis.key} == {"hub.plate_thickness", "hub.gap"}
    assert first.moves >= second.moves
    by_key = {effect.axis.key: effect for effect in small.effects}
    margin = small.margin.reshape(3, 4)
    assert by_key["hub.plate_thickness"].low == pytest.approx(margin[0].mean())
    assert by_key["hub.gap"].high == pytest.approx(margin[:, -1].mean())
    assert small.crossings == ()
    line = swept("hub.plate_thickness=3 mm..5 mm:3")
    bare = Swept(line, tuple({"state": "", "margin": m} for m in (-1.0, 1.0, 3.0)))
    assert bare.crossings == (3.5,)
    assert "bush" in small.parts and len(small.parts) == 6


def test_a_part_whose_margin_is_exactly_zero_is_drawn():
    line = swept("hub.plate_thickness=3 mm..5 mm:2")
    others = {f"margin: part {at}": 1.0 + at for at in range(8)}
    records = tuple(
        {
            "hub.plate_thickness, mm": x,
            "state": "marginal",
            "why": "",
            "margin": 0.0,
            "check": "",
            "condition": "",
        }
        | others
        | {"margin: bush": 0.0}
        for x in (3.0, 5.0)
    )
    drawn = sweep_chart(Swept(line, records), invented=True).to_dict()
    assert "bush" in str(drawn) and "part 7" not in str(drawn)


def test_a_key_twice_too_many_points_and_points_beside_draws_are_refused():
    with pytest.raises(ValueError, match="varied twice"):
        swept(GAP, GAP)
    with pytest.raises(ValueError, match="more than 1000000"):
        swept("hub.gap=0 mm..0.2 mm:2000", "hub.plate_thickness=3 mm..5 mm:2000")
    with pytest.raises(ValueError, match="belong to a grid"):
        swept(GAP, drawn=8)


def test_a_journal_goes_on_and_drops_what_was_cut_short(tmp_path, small):
    sweep, path = swept(PLATES, GAP), tmp_path / "t.part"
    first = Journal(path, sweep)
    first.add(small.records[:5])
    first.close()
    with path.open("a", encoding="utf-8") as stream:
        stream.write('{"point": 6, "hub.plate')
    asked = []
    again = Journal(path, sweep)
    assert sorted(again.done) == [0, 1, 2, 3, 4]
    whole = run(sweep, journal=again, workers=1, progress=asked.append)
    again.close()
    assert whole.records == small.records and asked[0] == 5 and asked[-1] == 12
    lines = path.read_text(encoding="utf-8").splitlines()
    assert len(lines) == 13 and all(json.loads(line) for line in lines)


@pytest.mark.parametrize(
    ("change", "says"),
    [
        (lambda: swept(PLATES), "other keys, points"),
        (lambda: swept(PLATES, "hub.gap=0 mm..0.2 mm:5"), "other keys, points"),
        (lambda: swept("hub.plate_thickness=3 mm..5 mm", "hub.gap=0 mm..0.2 mm", drawn=12), "other"),
    ],
)
def test_a_journal_of_another_sweep_is_refused(tmp_path, change, says):
    path = tmp_path / "t.part"
    Journal(path, swept(PLATES, GAP)).close()
    with pytest.raises(OtherSweepError, match=says):
        Journal(path, change())
    for head in ("something else", '{"sweep": []}', '{"sweep": null}', "3"):
        path.write_text(f"{head}\n", encoding="utf-8")
        with pytest.raises(OtherSweepError, match=r"no journal|other sheet"):
            Journal(path, swept(PLATES, GAP))


def test_a_journal_of_another_polar_or_version_is_refused(tmp_path, monkeypatch):
    text = REPAIRED.read_text(encoding="utf-8").replace("[propeller]\n", '[propeller]\npolar = "own.csv"\n')
    (tmp_path / "own.csv").write_text("alpha_deg,cl,cd\n", encoding="utf-8")
    source = source_of(text, folder=str(tmp_path))
    sweep, path = sweep_of(source, [read_axis(GAP, source)]), tmp_path / "t.part"
    Journal(path, sweep).close()
    Journal(path, sweep).close()
    with monkeypatch.context() as changed:
        changed.setattr("bladehold.study.sweep.version", lambda name: "0.0")
        with pytest.raises(OtherSweepError, match=r"other version$"):
            Journal(path, sweep)
    (tmp_path / "own.csv").write_text("alpha_deg,cl,cd\n0,0,0\n", encoding="utf-8")
    with pytest.raises(OtherSweepError, match=r"other polar$"):
        Journal(path, sweep)


def command(table):
    keys = ["--vary", "hub.plate_thickness=3 mm..5 mm:8", "--vary", "hub.gap=0 mm..0.2 mm:8"]
    return [sys.executable, "-m", "bladehold", "sweep", str(REPAIRED), *keys, "--table", str(table)]


def started(table, at_least, send):
    """Start a sweep, and stop it once so many points are on disk."""
    quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.PIPE}
    # What runs in the background may have been told to ignore interrupts, and would hand that on.
    before = signal.signal(signal.SIGINT, signal.SIG_DFL)
    try:
        process = subprocess.Popen(command(table), text=True, start_new_session=True, **quiet)
    finally:
        signal.signal(signal.SIGINT, before)
    part = table.with_name(f"{table.name}.part")
    end = time.monotonic() + 60.0
    while process.poll() is None and time.monotonic() < end:
        if part.exists() and part.read_bytes().count(b"\n") > at_least:
            break
        time.sleep(0.02)
    assert process.poll() is None, "it must be stopped on its way"
    send(process)
    _, said = process.communicate(timeout=60)
    return process.returncode, said, part


def test_killed_half_way_nothing_finished_is_lost_and_it_goes_on(tmp_path):
    table = tmp_path / "killed.csv"
    code, _, part = started(table, 12, lambda process: process.kill())
    assert code == -signal.SIGKILL and not table.exists()
    kept = part.read_text(encoding="utf-8").splitlines()[1:]
    assert len(kept) >= 12
    # Its workers end with it, or they would go on in vain.
    whole = subprocess.run(command(table), capture_output=True, text=True, check=True)
    assert "64 points of a full grid" in whole.stdout and not part.exists()
    undisturbed = run(swept("hub.plate_thickness=3 mm..5 mm:8", "hub.gap=0 mm..0.2 mm:8"), workers=1)
    assert table.read_bytes() == table_of(undisturbed, "csv")
    assert len(table.read_text(encoding="utf-8").splitlines()) == 65


def test_interrupted_it_says_what_is_kept_and_ends_as_shells_expect(tmp_path):
    table = tmp_path / "stopped.csv"
    code, said, part = started(table, 10, lambda process: os.killpg(process.pid, signal.SIGINT))
    assert code == 130 and "the same command goes on from there" in said and part.exists()
    assert "Traceback" not in said


@pytest.mark.filterwarnings("ignore")  # of the library's own making, about ports and its event loop
def test_a_cluster_gives_the_same_records(small):
    distributed = pytest.importorskip("distributed")
    with distributed.LocalCluster(
        n_workers=2, threads_per_worker=1, processes=True, dashboard_address=None, silence_logs=50
    ) as cluster:
        found = run(swept(PLATES, GAP), cluster=cluster.scheduler_address)
    assert found.records == small.records


@pytest.mark.filterwarnings("ignore")
def test_a_cluster_that_is_not_there_is_told(monkeypatch):
    monkeypatch.setitem(sys.modules, "distributed", None)
    with pytest.raises(NoClusterError, match=r"bladehold\[cluster\]"):
        run(swept(PLATES), cluster="tcp://127.0.0.1:1")
