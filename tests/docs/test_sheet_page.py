"""docs/sheet.md says what the sheet, the tables and the assumptions of this very program say."""

import importlib
import sys
from pathlib import Path

import pytest

from bladehold.sheet import load_sheet, parse_sheet, resolve, sections
from bladehold.sheet.sheet import Sheet
from bladehold.sheet.starter import keys_of
from bladehold.tables import material_names, property_class_names, thread_names

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture(scope="module")
def tools():
    sys.path.insert(0, str(ROOT / "tools"))
    try:
        yield importlib.import_module("sheet_page"), importlib.import_module("sheet_gaps")
    finally:
        sys.path.remove(str(ROOT / "tools"))


@pytest.fixture(scope="module")
def text():
    return (ROOT / "docs" / "sheet.md").read_text(encoding="utf-8")


def test_the_page_is_up_to_date(tools, text):
    made, page = tools[0].page().splitlines(), text.splitlines()
    changed = [(new, old) for new, old in zip(made, page, strict=False) if new != old]
    assert not changed and len(made) == len(page), (
        f"docs/sheet.md is stale ({changed[:3]}): run python tools/sheet_page.py"
    )


def test_check_tells_a_stale_page(tools, tmp_path, monkeypatch, capsys):
    monkeypatch.setattr(sys, "argv", ["sheet_page.py", "--check"])
    assert tools[0].main() == 0
    monkeypatch.setattr(tools[0], "PAGE", tmp_path / "sheet.md")
    assert tools[0].main() == 1
    assert "stale" in capsys.readouterr().err
    assert not (tmp_path / "sheet.md").exists()


def test_every_table_and_key_is_on_the_page(text):
    for name in sections():
        last = name.rpartition(".")[2]
        assert f"[{name}]" in text or f'[{name}."name"]' in text or not last
    for key in keys_of(Sheet):
        assert f"| `{key.rpartition('.')[2]}` |" in text


def test_every_name_of_the_tables_is_on_the_page(text):
    for name in (*thread_names(), *property_class_names(), *material_names()):
        assert f"| `{name}` |" in text


def test_examples_of_the_pages_needed_keys_make_a_sheet(tools):
    _, gaps = tools
    build = resolve(parse_sheet(gaps.smallest({})))
    assert {item.key for item in build.assumptions} <= set(gaps.assumptions())


def test_an_assumption_that_follows_from_other_keys_shows_no_figure(tools):
    assumed = tools[1].assumptions()
    assert assumed["hub.plate_width"] == "as wide as the lug"
    assert assumed["hub.gap"].startswith("`0.1 mm`: ")


def test_every_assumption_of_the_examples_is_on_the_page(tools):
    assumed = tools[1].assumptions()
    for path in sorted((ROOT / "examples").glob("*.toml")):
        for item in resolve(load_sheet(path)).assumptions:
            assert item.key in assumed


def test_bounds_and_words_come_from_the_readers(tools):
    fields = sections()["hub"].fields_by_key()
    assert tools[0].allowed("gap", fields["gap"]) == "length, 0 mm to 20 mm"
    fields = sections()["pivot_screw"].fields_by_key()
    assert tools[0].allowed("shear_plane", fields["shear_plane"]) == "`thread`, `shank`"
    fields = sections()["aircraft"].fields_by_key()
    assert tools[0].allowed("rotors", fields["rotors"]) == "a whole number from 1 to 24"
