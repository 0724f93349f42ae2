"""The examples answer as they did: every word the same, every number to one in a hundred thousand."""

import importlib.util
import json
from pathlib import Path

import pytest

HERE = Path(__file__).parent
_spec = importlib.util.spec_from_file_location("golden_regenerate", HERE / "regenerate.py")
regenerate = importlib.util.module_from_spec(_spec)
_spec.loader.exec_module(regenerate)

HINT = "if this change is meant: python tests/golden/regenerate.py, and say in the commit what moved and why"


def differences(old, new, place=""):
    """Every place where two plain data differ."""
    if isinstance(old, dict) and isinstance(new, dict):
        for key in [*old, *(key for key in new if key not in old)]:
            yield from differences(old.get(key, "(missing)"), new.get(key, "(missing)"), f"{place}.{key}")
    elif isinstance(old, list) and isinstance(new, list) and len(old) == len(new):
        for number, (first, second) in enumerate(zip(old, new, strict=True)):
            yield from differences(first, second, f"{place}[{number}]")
    elif isinstance(old, float) and isinstance(new, int | float) and not isinstance(new, bool):
        if new != pytest.approx(old, rel=1e-5, abs=1e-9):
            yield f"{place}: {old} is now {new}"
    elif old != new:
        yield f"{place}: {old!r} is now {new!r}"


@pytest.mark.parametrize("name", regenerate.RUNS)
def test_answer_is_unchanged(name):
    old = json.loads((HERE / name).read_text(encoding="utf-8"))
    found = list(differences(old, regenerate.answer(regenerate.RUNS[name])))
    assert not found, "\n".join([*found[:20], HINT])


def test_a_moved_number_would_be_noticed():
    assert list(differences({"a": [1.0, "x"]}, {"a": [1.001, "x"]})) == [".a[0]: 1.0 is now 1.001"]
    assert list(differences({"a": 1.0}, {"a": 1.000001})) == []
    assert list(differences({"a": 1}, {"b": 1}))
