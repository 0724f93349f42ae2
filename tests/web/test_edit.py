"""Single values changed in the text of a sheet: everything else stays as it was written."""

import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st
from web_bench import EXAMPLES, SHEET

from bladehold.sheet import parse_sheet
from bladehold.web.edit import NoKeyError, path_of, with_values
from bladehold.web.form import typed_of

TEXT = (EXAMPLES / SHEET).read_text(encoding="utf-8")


def leaves(data, key=""):
    for name, value in data.items():
        place = f"{key}.{name}" if key else name
        if isinstance(value, dict):
            yield from leaves(value, place)
        elif isinstance(value, list):
            for at, entry in enumerate(value, 1):
                yield from leaves(entry, f"{place}[{at}]")
        else:
            yield place, value


LEAVES = dict(leaves(tomllib.loads(TEXT)))


def test_every_value_of_the_example_put_back_as_it_is_changes_nothing():
    assert len(LEAVES) > 100
    assert with_values(TEXT, {key: typed_of(value) for key, value in LEAVES.items()}) == TEXT


@given(key=st.sampled_from(sorted(LEAVES)), typed=st.text(min_size=1, max_size=20).filter(str.strip))
def test_one_value_typed_changes_that_value_alone(key, typed):
    printable = "".join(letter for letter in typed if letter.isprintable()).strip() or "x"
    after = dict(leaves(tomllib.loads(with_values(TEXT, {key: printable}))))
    found = after.pop(key)
    assert found == (float(printable) if isinstance(found, float) else found)
    assert isinstance(found, float) or typed_of(found) == printable or found == int(printable)
    assert after == {other: value for other, value in LEAVES.items() if other != key}


@given(key=st.sampled_from(sorted(LEAVES)))
def test_an_empty_value_takes_the_key_out(key):
    after = dict(leaves(tomllib.loads(with_values(TEXT, {key: " "}))))
    assert after == {other: value for other, value in LEAVES.items() if other != key}


def test_comments_stay_and_a_new_value_keeps_what_is_said_beside_it():
    after = with_values(TEXT, {"propeller.balance_point": "99 mm"})
    before = next(line for line in TEXT.splitlines() if line.startswith("balance_point"))
    line = next(line for line in after.splitlines() if line.startswith("balance_point"))
    assert line == before.replace("102 mm", "99 mm")
    assert "#" in line
    assert len(after.splitlines()) == len(TEXT.splitlines())


def test_values_are_typed_as_the_sheet_takes_them():
    after = with_values(
        TEXT,
        {
            "propeller.blades": "3",
            "propeller.folding": "false",
            "air.humidity": "0.7",
            "pivot_screw.class": "8.8",
            "mounting_screws.class": "12.9",
        },
    )
    data = tomllib.loads(after)
    assert data["propeller"]["blades"] == 3
    assert data["propeller"]["folding"] is False
    assert data["air"]["humidity"] == 0.7
    assert data["pivot_screw"]["class"] == "8.8"
    assert data["mounting_screws"]["class"] == "12.9"
    assert parse_sheet(after).propeller.blades == 3


def test_a_table_that_is_missing_is_made_and_only_for_a_value():
    assert tomllib.loads(with_values(TEXT, {"policy.marginal": "0.2"}))["policy"] == {"marginal": 0.2}
    assert with_values(TEXT, {"policy.marginal": ""}) == TEXT


@pytest.mark.parametrize(
    "key", ["hub", "hub.nothing", "nothing.gap", "hub.gap.deeper", "", "hub..gap", "flying.segment[99].speed"]
)
def test_what_is_no_key_of_the_sheet_is_refused(key):
    with pytest.raises(NoKeyError):
        with_values(TEXT, {key: "1 mm"})


def test_a_text_that_is_no_toml_is_told():
    with pytest.raises(ValueError, match="line 1"):
        with_values("hub = [", {"hub.gap": "1 mm"})


def test_a_value_where_a_table_should_be_is_told():
    with pytest.raises(ValueError, match="a value where a table should stand"):
        with_values("hub = 3\n", {"hub.gap": "1 mm"})


def test_paths_count_entries_from_nought():
    assert path_of("flying.segment[2].speed") == ("flying", "segment", 1, "speed")


@given(keys=st.lists(st.sampled_from(sorted(LEAVES)), min_size=1, max_size=4, unique=True))
def test_a_key_taken_out_and_typed_again_stands_in_its_old_line(keys):
    bare = with_values(TEXT, dict.fromkeys(keys, ""))
    assert with_values(bare, {key: typed_of(LEAVES[key]) for key in keys}, TEXT) == TEXT


def test_a_key_that_comes_back_with_another_value_keeps_its_remark():
    bare = with_values(TEXT, {"propeller.balance_point": ""})
    after = with_values(bare, {"propeller.balance_point": "99 mm"}, TEXT)
    assert after == TEXT.replace('balance_point = "102 mm"', 'balance_point = "99 mm"')


@pytest.mark.parametrize(
    ("before", "text"),
    [
        ('hub.gap = "1 mm" # dots\n', "[hub]\n"),
        ('[hub]\ngap = """1\nmm"""\n', "[hub]\n"),
        ("[hub", "[hub]\n"),
        ('hub = {gap = "1 mm"}\n', "[hub]\n"),
    ],
)
def test_where_the_old_line_is_not_plain_the_key_comes_at_the_end(before, text):
    assert with_values(text, {"hub.gap": "2 mm"}, before) == '[hub]\ngap = "2 mm"\n'
