"""Every malformed sheet ends with exit code 2 and words that say where, what was read, what is allowed."""

import re
import subprocess
import sys
import time
from pathlib import Path

import pytest
from malformed import BASE, CASES

from bladehold.sheet import SheetError, load_sheet, parse_sheet
from bladehold.sheet.problem import MOST_PROBLEMS

PROBLEM = re.compile(
    r"bladehold: (?P<file>[^:]*?)(?:, line (?P<line>\d+))?: (?:(?P<key>[^ :]+|\S*\".*?\"): )?(?P<text>.*)"
)


def refused(cli, path):
    """The problems that `check` reports about a file: (file, line, key, text)."""
    result = cli("check", path)
    assert result.exit_code == 2
    assert result.stdout == ""
    assert "Traceback" not in result.stderr
    lines = result.stderr.splitlines()
    assert lines, "exit code 2 without a word"
    problems = []
    for line in lines:
        match = PROBLEM.fullmatch(line)
        assert match, line
        number = match["line"] and int(match["line"])
        problems.append((match["file"], number, match["key"] or "", match["text"]))
    return problems


def written(tmp_path, content):
    path = tmp_path / "sheet.toml"
    path.write_bytes(content if isinstance(content, bytes) else content.encode())
    return path


def test_the_base_sheet_is_valid(cli, tmp_path):
    assert cli("check", written(tmp_path, BASE)).exit_code in {0, 1}


def test_there_are_enough_cases_and_each_is_its_own():
    assert len(CASES) >= 45
    assert len({case.name for case in CASES}) == len(CASES)
    assert len({case.text for case in CASES}) == len(CASES)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_refused_with_file_line_key_and_remedy(cli, tmp_path, case):
    path = written(tmp_path, case.text)
    problems = refused(cli, path)
    assert {file for file, *_ in problems} == {str(path)}
    here = [(line, text) for _, line, key, text in problems if key == case.key]
    assert len(here) == 1, problems
    line, text = here[0]
    assert line == case.line, f"reported on line {line}, stands on line {case.line}"
    for words in case.says:
        assert words in text
    assert len(text) < 700, "a message floods the terminal"
    assert text.isprintable()


@pytest.mark.parametrize(
    "name",
    ["misspelt key", "hole under the screw", "terminal codes", "huge hexadecimal", "deep key", "key twice"],
)
def test_refused_the_same_by_the_installed_command(tmp_path, name):
    case = next(case for case in CASES if case.name == name)
    path = written(tmp_path, case.text)
    command = Path(sys.executable).with_name("bladehold")
    finished = subprocess.run([command, "check", path], capture_output=True, check=False)
    assert finished.returncode == 2
    assert finished.stdout == b""
    place = f"bladehold: {path}, line {case.line}: " + (f"{case.key}: " if case.key else "")
    error = finished.stderr.decode()
    assert place in error
    assert "Traceback" not in error and "\x1b" not in error
    assert all(words in error for words in case.says)


def test_all_faults_are_told_at_once_each_on_its_line(cli, tmp_path):
    text = """[about]
name = 7
colour = "red"

[aircraft]
mass = "26 kgf"
rotors = 6.5
[propeller]
blades = 2
diameter = "24 in"
pitch = "8 in"
folding = "yes"
blade_mass = 34
"""
    problems = refused(cli, written(tmp_path, text))
    assert [(line, key) for _, line, key, _ in problems] == [
        (2, "about.name"),
        (3, "about.colour"),
        (6, "aircraft.mass"),
        (7, "aircraft.rotors"),
        (8, "propeller.balance_point"),
        (12, "propeller.folding"),
        (13, "propeller.blade_mass"),
        (None, "hub"),
        (None, "pivot_screw"),
        (None, "mounting_screws"),
        (None, "flying"),
    ]


def test_contradictions_are_told_at_once_in_the_order_of_the_lines(cli, tmp_path):
    text = (
        BASE.replace('"102 mm"', '"290 mm"')
        .replace('plate_hole = "5 mm"', 'plate_hole = "4 mm"')
        .replace('"drop"', '"snatch"')
    )
    found = [(line, key) for _, line, key, _ in refused(cli, written(tmp_path, text))]
    assert found == [(20, "propeller.balance_point"), (31, "hub.plate_hole"), (73, "flying.case[2].name")]


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"", "the table [about] is missing"),
        (b"\n\n# only a remark\n", "the table [about] is missing"),
        (bytes(range(256)) * 8, "not UTF-8 text (byte 128)"),
        (b"\x7fELF\x02\x01\x01\0\0", "not valid TOML"),
        (BASE.replace("Base", "B\xe4se").encode("latin-1"), "not UTF-8 text (byte 17)"),
        (BASE.encode("utf-16"), "not UTF-8 text (byte 0)"),
        (b"#" * 2_000_000, "larger than 1 MB"),
    ],
    ids=["empty", "remark", "binary", "program", "latin", "utf-16", "2 MB"],
)
def test_a_file_that_is_no_sheet(cli, tmp_path, content, says):
    path = written(tmp_path, content)
    file, _, key, text = refused(cli, path)[0]
    assert file == str(path)
    assert says in text or says in f"{key}: {text}"


def test_a_folder_and_a_file_that_is_not_there(cli, tmp_path):
    assert refused(cli, tmp_path) == [(str(tmp_path), None, "", "this is a folder; give the file in it")]
    missing = tmp_path / "none.toml"
    assert refused(cli, missing) == [(str(missing), None, "", "no such file")]


@pytest.mark.skipif(not Path("/dev/zero").exists(), reason="no endless file on this system")
def test_an_endless_file_is_not_read_to_its_end(cli):
    assert refused(cli, "/dev/zero")[0][3].startswith("larger than 1 MB")


@pytest.mark.parametrize(
    "content",
    [b"\xef\xbb\xbf" + BASE.encode(), BASE.replace("\n", "\r\n").encode(), BASE.rstrip("\n").encode()],
    ids=["byte order mark", "CRLF", "no line end at the end"],
)
def test_texts_of_other_systems_read_the_same(tmp_path, content):
    assert load_sheet(written(tmp_path, content)) == parse_sheet(BASE)


@pytest.mark.parametrize("start", ["", "\ufeff"])
def test_lines_are_counted_the_same_with_other_line_ends(cli, tmp_path, start):
    text = start + BASE.replace('gap = "0.05 mm"', 'gap = "0.05 mmm"').replace("\n", "\r\n")
    assert [line for _, line, _, _ in refused(cli, written(tmp_path, text))] == [39]


def test_other_ways_to_write_the_same_sheet():
    other = BASE.replace('[air]\naltitude = "600 m"', "[air]\n\"altitude\" = '600 m'").replace(
        '[about]\nname = "Base"', 'about = { name = "Base" }'
    )
    other = other.replace("humidity = 0.6", 'humidity = "60 %"').replace(
        "load_factor = 1.6", 'load_factor = "160 %"'
    )
    sheet, base = parse_sheet(other), parse_sheet(BASE)
    assert sheet.about == base.about
    assert sheet.air is not None and base.air is not None
    assert sheet.air.humidity is not None and base.air.humidity is not None
    assert sheet.air.humidity.si == pytest.approx(base.air.humidity.si)


def test_many_faults_do_not_flood_and_do_not_take_long():
    text = "\n".join(f"key{number} = 1" for number in range(30_000))
    begin = time.perf_counter()
    with pytest.raises(SheetError) as caught:
        parse_sheet(text)
    assert time.perf_counter() - begin < 5.0
    assert len(caught.value.problems) == MOST_PROBLEMS + 1
    assert [problem.line for problem in caught.value.problems[:3]] == [1, 2, 3]
    assert str(caught.value.problems[-1]) == f"sheet: and {30_007 - MOST_PROBLEMS} more problems"


def test_an_error_is_one_text_with_a_line_per_fault():
    with pytest.raises(SheetError) as caught:
        parse_sheet("[about]\nname = 1\nqq = 2\n", "my.toml")
    lines = str(caught.value).splitlines()
    assert lines[0] == "my.toml, line 2: about.name: read 1: a text in quotes is wanted here"
    assert lines[1].startswith("my.toml, line 3: about.qq: no such key; allowed keys: name, organisation")
    assert isinstance(caught.value, ValueError)


def test_a_file_name_cannot_colour_the_terminal(cli, tmp_path):
    path = tmp_path / "a\x1b[31m.toml"
    path.write_text("[about]\n", encoding="utf-8")
    result = cli("check", path)
    assert result.exit_code == 2
    assert "\x1b" not in result.stderr and "a?[31m.toml, line 1" in result.stderr
