"""docs/validation.md says what the validation tests of this very session found."""

import importlib.util
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture(scope="module")
def tables():
    spec = importlib.util.spec_from_file_location(
        "validation_tables", ROOT / "tools" / "validation_tables.py"
    )
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def record(ours, **changes):
    plain = {
        "room": "joint",
        "source": "a book",
        "case": "a|b",
        "quantity": "force, N",
        "printed": 12.5,
        "ours": ours,
        "tolerance": "±0.05",
        "agrees": True,
        "why": "one decimal printed",
    }
    return plain | changes


def test_the_page_is_up_to_date(tables, validation_records):
    stale = tables.differences(tables.PAGE.read_text(encoding="utf-8"), validation_records)
    assert not stale, "\n".join([*stale, "docs/validation.md is stale: run `make validation`"])


def test_rows_carry_every_part_and_escape_bars(tables):
    text = tables.page([record(12.4987654)])
    assert "| a\\|b | force, N | 12.5 | 12.499 | ±0.05 | yes | one decimal printed |" in text
    assert "1 of 1 figures agree." in text


def test_figures_that_disagree_are_shown(tables):
    text = tables.page([record(13.0, agrees=False), record(12.5)])
    assert "**no**" in text
    assert "1 of 2 figures agree." in text


def test_rooms_stand_in_the_order_of_use(tables):
    text = tables.page([record(1.0), record(1.0, room="air"), record(1.0, room="rotor")])
    assert text.index("## air") < text.index("## rotor") < text.index("## joint")


def test_noise_at_a_rounding_edge_is_not_staleness(tables):
    written = tables.page([record(12.345499999999)])
    assert "12.345 " in written
    assert "12.346 " in tables.page([record(12.345500000001)])
    assert not tables.differences(written, [record(12.345500000001)])


@pytest.mark.parametrize(
    "changed",
    [
        record(12.3466),
        record(12.3455, why="no reason"),
        record(12.3455, agrees=False),
        record(12.3455, printed=12.4),
    ],
)
def test_a_real_change_is_staleness(tables, changed):
    assert tables.differences(tables.page([record(12.3455)]), [changed])


def test_missing_and_added_rows_are_staleness(tables):
    one, two = [record(12.5)], [record(12.5), record(12.5, case="c")]
    assert tables.differences(tables.page(one), two)
    assert tables.differences(tables.page(two), one)
    assert tables.differences("", one)
