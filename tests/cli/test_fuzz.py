"""Whatever is done to a sheet, `check` answers with 0, 1 or 2: no traceback, no empty refusal, no NaN."""

import csv
import io
import json
import math
import re
import string
import tempfile
from pathlib import Path

from hypothesis import example, given, settings
from hypothesis import strategies as st

from bladehold.sheet.sheet import sections

EXAMPLES = Path(__file__).parents[2] / "examples"
SHEETS = [path.read_text(encoding="utf-8") for path in sorted(EXAMPLES.glob("*.toml"))]
MODEST = settings(max_examples=50, deadline=None)
VALUE = re.compile(r"^(?P<key>[a-z_]+) = (?P<value>[^#\n]*?)(?P<rest> *#.*)?$", re.MULTILINE)


def checked(cli, text, form):
    """Run `check` on a text and test what every answer must be; form - "--csv" looks at the checks alone."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "fuzz.toml"
        path.write_text(text, encoding="utf-8", newline="")
        result = cli("check", path, form)
    assert result.exit_code in {0, 1, 2}
    if result.exit_code == 2:
        assert result.stdout == ""
        lines = result.stderr.splitlines()
        assert lines and all(line.startswith(f"bladehold: {path}") and line.isprintable() for line in lines)
        return
    assert result.stderr == ""
    if form == "--json":
        look_at_numbers(result)
    else:
        rows = list(csv.DictReader(io.StringIO(result.stdout)))
        strength = (row for row in rows if row["level"] != "fatigue")
        margins = [float(row["margin"]) for row in strength if row["margin"]]
        assert math.isfinite(min(margins))
        assert (min(margins) >= 0.0) == (result.exit_code == 0)


def look_at_numbers(result):
    """Test that a JSON answer holds a number wherever one is promised."""
    found = json.loads(result.stdout, parse_constant=refuse_constant)
    assert found["holds"] == (result.exit_code == 0)
    margins = [check["margin"] for check in found["checks"]] + [found["margin"]]
    assert all(margin is None or is_number(margin) for margin in margins)
    assert is_number(found["margin"]), "the governing margin is always a number"
    for row in found["loads"]:
        numbers = [value for name, value in row.items() if name != "condition"]
        assert all(is_number(value) for value in numbers), row


def is_number(value):
    return isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value)


def refuse_constant(name):
    raise AssertionError(f"{name} is not JSON")


ANYTHING = st.characters(codec="utf-8") | st.sampled_from("\"'[]{}=#.,\n\r\t\0\\-+0123456789eE")


@MODEST
@given(sheet=st.sampled_from(SHEETS), data=st.data())
def test_characters_deleted_inserted_and_replaced(cli, sheet, data):
    text = sheet
    for _ in range(data.draw(st.integers(1, 4))):
        at = data.draw(st.integers(0, len(text)))
        cut = data.draw(st.sampled_from([0, 0, 1, 1, 2, 7]))
        text = text[:at] + data.draw(st.text(ANYTHING, max_size=3)) + text[at + cut :]
    checked(cli, text, "--csv")


@MODEST
@given(sheet=st.sampled_from(SHEETS), data=st.data())
def test_lines_deleted_doubled_and_moved(cli, sheet, data):
    lines = sheet.split("\n")
    for _ in range(data.draw(st.integers(1, 4))):
        place, other = (data.draw(st.integers(0, len(lines) - 1)) for _ in range(2))
        match data.draw(st.sampled_from(["delete", "double", "move", "swap"])):
            case "delete" if len(lines) > 1:
                del lines[place]
            case "double":
                lines.insert(other, lines[place])
            case "move":
                lines.insert(other, lines.pop(place))
            case _:
                lines[place], lines[other] = lines[other], lines[place]
    checked(cli, "\n".join(lines), "--csv")


@MODEST
@given(sheet=st.sampled_from(SHEETS), data=st.data())
def test_values_swapped_among_keys(cli, sheet, data):
    for _ in range(data.draw(st.integers(1, 3))):
        places = list(VALUE.finditer(sheet))
        pair = data.draw(st.lists(st.sampled_from(places), min_size=2, max_size=2, unique=True))
        first, second = sorted(pair, key=re.Match.start)
        between = sheet[first.end("value") : second.start("value")]
        sheet = (
            sheet[: first.start("value")]
            + second["value"]
            + between
            + first["value"]
            + sheet[second.end("value") :]
        )
    checked(cli, sheet, "--csv")


UNITS = ["mm", "m", "in", "g", "kg", "kgf", "N", "N*m", "degC", "K", "m/s", "MPa", "GPa", "deg", "%", ""]
QUANTITIES = st.builds(
    lambda number, unit: f'"{number} {unit}"',
    st.floats(allow_nan=True) | st.integers(),
    st.sampled_from(UNITS),
)
SCALARS = (
    QUANTITIES
    | st.integers().map(str)
    | st.floats().map(str)
    | st.booleans().map(lambda truth: str(truth).lower())
    | st.text(string.printable, max_size=12).map(json.dumps)
    | st.sampled_from(["2024-05-01", "12:30:00", "0xFF", "1_000", "[]", "{}", "''", '"""\n"""'])
)
TOML_VALUES = st.recursive(
    SCALARS,
    lambda inner: (
        st.lists(inner, max_size=3).map(lambda items: f"[{', '.join(items)}]")
        | st.lists(inner, max_size=2).map(
            lambda items: "{" + ", ".join(f"k{n} = {item}" for n, item in enumerate(items)) + "}"
        )
    ),
    max_leaves=4,
)
KEYS = sorted(
    {(name, key) for name, section in sections().items() if name for key in section.fields_by_key()}
)


@MODEST
@given(
    sheet=st.sampled_from(SHEETS),
    values=st.lists(st.tuples(st.sampled_from(KEYS), TOML_VALUES), min_size=1, max_size=3),
)
def test_any_value_for_any_key(cli, sheet, values):
    for (table, key), value in values:
        written = re.compile(rf"^{key} = [^\n]*$", re.MULTILINE)
        header = f"[{table}]\n"
        if header in sheet:
            before, after = sheet.split(header, 1)
            body, mark, others = after.partition("\n[")
            line = f"{key} = {value}"
            body = written.sub(lambda _, line=line: line, body) if written.search(body) else f"{line}\n{body}"
            sheet = before + header + body + mark + others
        else:
            sheet += f"\n[{table}]\n{key} = {value}\n"
    checked(cli, sheet, "--csv")


NUMBER = re.compile(r'(?m)^(?P<key>[a-z_]+) = "?(?P<number>-?[\d.]+)(?P<unit> [^"\n]+)?"?')
FACTORS = st.sampled_from(
    [1e-9, 1e-6, 1e-3, 0.03, 0.3, 0.9, 1.1, 3.0, 10.0, 30.0, 300.0, 1e4, 1e6]
) | st.floats(0.3, 3.0)


@settings(max_examples=30, deadline=None)
@example(sheet=SHEETS[0], changes=[(0, 1.0)])  # at least one that is answered
@given(
    sheet=st.sampled_from(SHEETS),
    changes=st.lists(st.tuples(st.integers(0, 60), FACTORS), min_size=1, max_size=5),
)
def test_numbers_far_too_small_and_far_too_large(cli, sheet, changes):
    for place, factor in changes:
        found = list(NUMBER.finditer(sheet))
        match = found[place % len(found)]
        value = float(match["number"]) * factor
        new = f"{match['key']} = " + (f'"{value!r}{match["unit"]}"' if match["unit"] else f"{value:g}")
        sheet = sheet[: match.start()] + new + sheet[match.end() :]
    checked(cli, sheet, "--json")
