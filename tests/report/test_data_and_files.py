"""Plain data is strict, files are whole."""

import json

import pytest

from bladehold.report.data import as_csv, as_json
from bladehold.report.files import write_whole


def test_json_has_no_infinities():
    text = as_json({"a": float("inf"), "b": [float("nan"), 1.5, True, None, "x"], "c": {"d": 2}})
    assert json.loads(text) == {"a": None, "b": [None, 1.5, True, None, "x"], "c": {"d": 2}}


def test_csv_leaves_unknown_cells_empty():
    assert as_csv([{"a": 1.5, "b": float("inf")}, {"a": "x, y", "b": 2}]) == 'a,b\n1.5,\n"x, y",2\n'
    assert as_csv([]).strip() == ""


def test_a_file_is_replaced_whole(tmp_path):
    path = tmp_path / "out.txt"
    write_whole(path, b"first")
    write_whole(path, b"second")
    assert path.read_bytes() == b"second"
    assert [entry.name for entry in tmp_path.iterdir()] == ["out.txt"]


def test_a_failed_write_leaves_the_old_file(tmp_path):
    path = tmp_path / "out.txt"
    write_whole(path, b"first")
    with pytest.raises(TypeError):
        write_whole(path, "not bytes")
    assert path.read_bytes() == b"first"
    assert [entry.name for entry in tmp_path.iterdir()] == ["out.txt"]
