"""The command `size` over more than the pivot screw: what it prints, and what it refuses."""

import csv
import io
import json
from pathlib import Path

import pytest

DELIVERED = Path(__file__).parents[2] / "examples" / "tarn6_as_delivered.toml"
STOCK = "part,item\nthread,M4\nthread,M5\nclass,12.9\nplates,4 mm\nties,none\nties,2 x M3 8.8\n"


def flat(text):
    return " ".join(text.split())


@pytest.fixture
def stock(tmp_path):
    path = tmp_path / "stock.csv"
    path.write_text(STOCK, encoding="utf-8")
    return path


def test_the_lightest_hub_that_can_be_bought(cli, stock):
    result = cli("size", DELIVERED, "--stock", stock, "--most-added", "30 g", "--keep-holes")
    said = flat(result.stdout)
    assert result.exit_code == 0 and "the lightest is plates 4 mm, screw M4 12.9, +12.1 g" in said
    assert "The hub of the sheet: margin -0.6" in said and "not an approval" in said
    assert "nothing chosen here changes it" not in said.split("Out, the nearest")[0]


def test_every_hub_is_in_json_and_csv(cli, stock):
    whole = json.loads(cli("size", DELIVERED, "--stock", stock, "--json").stdout)
    rows = list(csv.DictReader(io.StringIO(cli("size", DELIVERED, "--stock", stock, "--csv").stdout)))
    # Two plates, three sorts of ties, three screws, each with what the sheet has.
    assert len(whole["hubs"]) == len(rows) == 2 * 3 * 3
    assert {row["holds"] for row in whole["hubs"]} == {True, False}
    assert all(bool(row["reason"]) != row["holds"] for row in whole["hubs"])
    assert whole["best"] == whole["hubs"][0] and whole["cautions"]
    assert [row["screw"] for row in rows] == [row["screw"] for row in whole["hubs"]]


def test_no_hub_that_holds_ends_with_one(cli):
    result = cli("size", DELIVERED, "--over", "ties")
    assert result.exit_code == 1 and "NO hub among the" in flat(result.stdout)


def test_all_shows_all(cli):
    short, whole = (cli("size", DELIVERED, "--over", "screw", *more).stdout for more in ((), ("--all",)))
    assert "more are out: --all" in flat(short) and "more are out" not in flat(whole)


def test_what_is_named_takes_the_place_of_the_stock(cli, stock):
    whole = json.loads(cli("size", DELIVERED, "--stock", stock, "--thread", "M6", "--json").stdout)
    assert {row["screw"] for row in whole["hubs"]} == {"as it is", "M6 12.9"}


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("--over", "plate"), "did you mean plates"),
        (("--plate", "4"), '--plate: read "4": the unit is missing'),
        (("--plate", "4 kg"), "kg is a unit of mass"),
        (("--plate", "4 m"), "allowed is 0.2 mm to 50 mm"),
        (("--tie", "2 M4"), 'write the ties of one blade as "2 x M4 8.8"'),
        (("--tie", "9 x M4 8.8"), 'write the ties of one blade as "2 x M4 8.8"'),
        (("--tie", "2 x M7 8.8"), "unknown thread"),
        (("--bush", "thin"), 'write wall and material as "1 mm 17-4PH"'),
        (("--bush", "1 mm bronze"), "unknown material"),
        (("--plate-material", "7075"), "7075-T6"),
        (("--most-added", "12"), '--most-added: read "12": the unit is missing'),
        (("--most-added", "-2 g"), "must be at least 0 g"),
        (
            ("--over", ",".join(("screw", "plates", "lug", "ties", "bush", "plate-material"))),
            "more than 5000",
        ),
    ],
)
def test_bad_wishes_are_refused_in_words(cli, words, says):
    result = cli("size", DELIVERED, *words)
    assert result.exit_code == 2 and says in flat(result.stderr), result.stderr


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("thread,M4\n", "has the columns part,item"),
        ("part,item\nthread,M9\nclas,8.8\n", 'line 3: no such part "clas"; did you mean class?'),
        ("part,item\nthread\n", "1 cells for 2 columns"),
        ("part,item\n", "nothing is in stock"),
        ("part;item\nthread;M4\n", "this file has semicolons"),
    ],
)
def test_bad_stock_is_refused_with_its_line(cli, tmp_path, text, says):
    path = tmp_path / "stock.csv"
    path.write_text(text, encoding="utf-8")
    result = cli("size", DELIVERED, "--stock", path)
    assert result.exit_code == 2 and says in flat(result.stderr), result.stderr


def test_a_hub_that_wants_more_than_a_screw_is_told(cli, tmp_path):
    path = tmp_path / "soft.toml"
    text = DELIVERED.read_text(encoding="utf-8")
    path.write_text(text.replace('torque = "1.0 N*m"', 'torque = "0.02 N*m"'), encoding="utf-8")
    assert "None of them mends the mounting screws" in flat(cli("size", path).stdout)
