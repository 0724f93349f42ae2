"""The starter sheet names every key, and every optional line works once its comment mark is taken away."""

import re
import tomllib
from pathlib import Path

import pytest

from bladehold.sheet import parse_sheet
from bladehold.sheet.sheet import Sheet, section_at
from bladehold.sheet.starter import keys_of, starter_text

EXAMPLES = Path(__file__).parents[2] / "examples"
KEY_LINE = re.compile(r"^# (?=\[|[a-z_]+ = )", re.MULTILINE)
HEADER = re.compile(r"^\[.*", re.MULTILINE)


def uncommented():
    """Every table of the starter with all its keys live: header and text."""
    text = KEY_LINE.sub("", starter_text())
    starts = [match.start() for match in HEADER.finditer(text)]
    blocks = [text[begin:end] for begin, end in zip(starts, [*starts[1:], None], strict=True)]
    return {block.split("#", 1)[0].strip(): block for block in blocks}


BLOCKS = uncommented()


def table_of(header):
    names = re.findall(r'"[^"]*"|[a-z_]+', header)
    return tuple(name.strip('"') for name in names)


def test_the_starter_reads_without_a_fault():
    sheet = parse_sheet(starter_text())
    assert sheet.tie_screws is None and sheet.air is None


def test_the_starter_bears_the_name_of_no_example():
    name = parse_sheet(starter_text()).about.name
    assert name == "My build"
    assert not any(f'name = "{name}"' in path.read_text(encoding="utf-8") for path in EXAMPLES.glob("*.toml"))


def test_every_key_is_there_under_its_own_table():
    written = set()
    for header, block in BLOCKS.items():
        table = ".".join(name for name in table_of(header) if name != "my own")
        written |= {f"{table}.{key}" for key in re.findall(r"^([a-z_]+) = ", block, re.MULTILINE)}
    assert written == set(keys_of(Sheet))


@pytest.mark.parametrize("header", BLOCKS)
def test_every_table_is_valid_with_all_its_keys(header):
    data = tomllib.loads(BLOCKS[header])
    for name in table_of(header):
        data = data[name]
        data = data[0] if isinstance(data, list) else data
    section = section_at(table_of(header))
    assert section is not None
    needed = {key for key, field in section.fields_by_key().items() if field.is_required()}
    assert needed <= set(data)
    section.model_validate(data)


def test_quantities_and_words_are_typed_as_the_reader_wants_them():
    text = starter_text()
    assert re.search(r'^# class = "8\.8"', text, re.MULTILINE)
    assert re.search(r"^rotors = 6 ", text, re.MULTILINE)
    assert re.search(r"^# washers = false ", text, re.MULTILINE)
