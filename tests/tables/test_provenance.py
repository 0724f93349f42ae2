"""Sources and marks: in the class itself and in every packaged table."""

import csv
from importlib.resources import files

import pytest

from bladehold.tables import MARKS, Provenance, material, provenances, thread

DATA = files("bladehold.tables").joinpath("data")
TABLES = sorted(entry.name for entry in DATA.iterdir() if entry.name.endswith(".csv"))


def test_refuses_a_blank_source_and_an_unknown_mark():
    with pytest.raises(ValueError, match="needs a source"):
        Provenance(" ", "read")
    with pytest.raises(ValueError, match="unknown mark 'seen'"):
        Provenance("ISO 273", "seen")


def test_only_memory_is_unconfirmed():
    assert {mark for mark in MARKS if Provenance("x", mark).unconfirmed} == {"memory"}


def test_groups_of_a_row():
    assert set(provenances(thread("M4"))) == {"values"}
    groups = provenances(material("7075-T7351"))
    assert set(groups) == {"strength", "bearing_2d", "modulus", "expansion", "pressure", "through", "density"}
    assert [name for name, provenance in groups.items() if provenance.unconfirmed] == ["density"]


def test_the_tables_asked_for_are_packaged():
    assert set(TABLES) == {
        "blade_materials.csv",
        "cell_voltage.csv",
        "cells.csv",
        "clearance_holes.csv",
        "consequences.csv",
        "engagement.csv",
        "factors.csv",
        "fatigue.csv",
        "friction_preload.csv",
        "heads.csv",
        "lug_curves.csv",
        "lug_materials.csv",
        "embedding.csv",
        "locking.csv",
        "materials.csv",
        "nut_styles.csv",
        "nuts.csv",
        "property_classes.csv",
        "relaxation.csv",
        "scatter.csv",
        "screw_fatigue.csv",
        "thread_fatigue.csv",
        "threads.csv",
        "tightening.csv",
        "washers.csv",
    }


@pytest.mark.parametrize("table", TABLES)
def test_every_number_stands_beside_a_source_and_a_known_mark(table):
    rows = list(csv.DictReader(DATA.joinpath(table).read_text(encoding="utf-8").splitlines()))
    groups = [column.removesuffix("source") for column in rows[0] if column.endswith("source")]
    assert groups, "a table without a source column"
    for row in rows:
        assert any(row[f"{group}source"] for group in groups)
        for group in groups:
            assert bool(row[f"{group}source"]) == bool(row[f"{group}mark"])
            assert row[f"{group}mark"] in {"", *MARKS}


def test_own_choices_are_only_made_in_the_policy_and_in_what_scatters():
    for table in TABLES:
        text = DATA.joinpath(table).read_text(encoding="utf-8")
        marks = {
            cell
            for row in csv.DictReader(text.splitlines())
            for key, cell in row.items()
            if key.endswith("mark")
        }
        assert ("choice" in marks) == (table in {"factors.csv", "scatter.csv"})
