"""Speed of the answers, warm: `make bench`. The targets are stated beside each.

Nothing here asserts a time.
"""

from pathlib import Path

import pytest

import bladehold
from bladehold.sheet.lineup import load_lineup
from bladehold.study import (
    advise,
    aircraft_answer,
    assess,
    drive_answer,
    envelope_map,
    life_answer,
    limit,
    range_rows,
    size,
)
from bladehold.study.choices import choices_of
from bladehold.study.hardware import search
from bladehold.study.loads import loads_of
from bladehold.study.remembered import forget

EXAMPLES = Path(__file__).parents[1] / "examples"


@pytest.fixture(scope="module")
def build():
    """The repaired example with its mission, its manoeuvres and its gusts."""
    return bladehold.load(EXAMPLES / "tarn6_repaired.toml").build


def anew(answer, build):
    """An answer with the balance of the aircraft found again, as after a change of the sheet."""
    forget()
    return answer(build)


def test_assess(benchmark, build):
    """Target: under 100 ms for 24 conditions; this sheet has 44."""
    assert len(loads_of(build).names) == 45
    assert benchmark(anew, assess, build).checks


def test_whole_example_with_its_lives(benchmark, build):
    """All conditions, all parts, lives. Target: under 150 ms."""
    assert benchmark(anew, life_answer, build).lives


def test_aircraft(benchmark, build):
    assert benchmark(anew, aircraft_answer, build).trims


def test_drive(benchmark, build):
    assert benchmark(anew, drive_answer, build).greatest


def test_envelope_map(benchmark, build):
    assert benchmark(envelope_map, build).margin.size


def test_checks_alone(benchmark, build):
    loads = loads_of(build)
    assert benchmark(assess, build, loads).checks


def test_limit(benchmark, build):
    assert benchmark(limit, build).parts


def test_size(benchmark, build):
    assert benchmark(size, build).smallest


def test_hardware_search_of_252(benchmark, build):
    """Plates, lugs, ties and bushes in every combination. Target: under 5 s."""
    loads = loads_of(build)
    choices = choices_of(build, {}, ("plates", "lug", "ties", "bush"))
    found = benchmark.pedantic(search, args=(build, choices), kwargs={"loads": loads}, rounds=3)
    assert found.held


def test_advise(benchmark, build):
    found = assess(build)
    assert benchmark(advise, found).most


def test_range_of_eight(benchmark, build):
    entries = load_lineup(EXAMPLES / "ostrel_line.csv")
    assert len(benchmark.pedantic(range_rows, args=(build, entries), rounds=3)) == 8
