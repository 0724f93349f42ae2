"""The commands the pages show do what the pages say, and print what the pages show.

Every line "$ bladehold ..." of a console block is run, page by page and in order, in a copy of the
examples; it must end with 0, or with the code a closing comment gives ("# exit 1"). What a page shows
below it must be what it prints 108 columns wide, whole but for what "..." stands for; blank lines and
trailing blanks do not count. Below a command whose output a page leaves out altogether nothing stands.
Lines "$ make ..." must name a target that exists.
"""

import re
import shlex
import shutil
import sys
from pathlib import Path

import pytest

from bladehold.cli.main import run

ROOT = Path(__file__).resolve().parents[2]
PAGES = [ROOT / "README.md", ROOT / "CONTRIBUTING.md", *sorted((ROOT / "docs").glob("**/*.md"))]
BLOCK = re.compile(r"^```console\n(.*?)^```", re.MULTILINE | re.DOTALL)
EXIT = re.compile(r"#\s*exit (\d+)\s*$")
WIDTH = 108
LEFT_OUT = "..."
SHELL = {"|", ">", ">>", "<", "&", "&&", "||", ";"}


def dialogues(text, program):
    """Command lines of one program in the console blocks of a page, and the lines shown below each."""
    parts = (part for block in BLOCK.findall(text) for part in re.split(r"(?m)^\$ ", block)[1:])
    found = (part.replace("\\\n", " ").splitlines() for part in parts if part.startswith(f"{program} "))
    return [(line, [row.rstrip() for row in below if row.strip()]) for line, *below in found]


def commands(text, program):
    """The command lines of one program in the console blocks of a page, long lines put together."""
    return [line for line, _ in dialogues(text, program)]


def first_difference(shown, printed):
    """The first line shown that is not printed there, or printed and not shown; None where they agree."""
    rest = [line.rstrip() for line in printed.splitlines() if line.strip()]
    free = False  # whether lines may have been left out here
    for line in shown:
        if line == LEFT_OUT:
            free = True
            continue
        if free and line in rest:
            rest = rest[rest.index(line) :]
        if rest[:1] != [line]:
            return f"shown, but not printed here: {line}"
        rest, free = rest[1:], False
    return f"printed, but not shown: {rest[0]}" if rest and not free else None


def expected_code(line):
    found = EXIT.search(line)
    return int(found[1]) if found else 0


def run_line(line, monkeypatch):
    """Exit code of one command line, run in this process as the installed command would."""
    words = shlex.split(line, comments=True)
    assert not SHELL & set(words), f"only bladehold itself is run here, no shell: {line}"
    monkeypatch.setattr(sys, "argv", words)
    with pytest.raises(SystemExit) as ended:
        run()
    return ended.value.code or 0


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_bladehold_commands_end_and_print_as_shown(page, tmp_path, monkeypatch, capfd):
    shutil.copytree(ROOT / "examples", tmp_path / "examples")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("COLUMNS", str(WIDTH))
    for line, shown in dialogues(page.read_text(encoding="utf-8"), "bladehold"):
        code = run_line(line, monkeypatch)
        printed = capfd.readouterr()
        assert code == expected_code(line), f"{line}\nended with {code}\n{printed.out}{printed.err}"
        different = first_difference(shown, printed.out) if shown else None
        assert different is None, f"{line}\n{different}\n{printed.out}"


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_make_targets_exist(page):
    makefile = (ROOT / "Makefile").read_text(encoding="utf-8")
    targets = set(re.findall(r"^([a-z][a-z-]*):(?!=)", makefile, re.MULTILINE))
    for line in commands(page.read_text(encoding="utf-8"), "make"):
        wanted = [word for word in shlex.split(line, comments=True)[1:] if "=" not in word]
        assert set(wanted) <= targets, f"{line}: the targets are {sorted(targets)}"


def test_the_newcomers_two_commands_are_shown():
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    assert {"make demo", "make test"} <= set(commands(readme, "make"))


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_console_blocks_begin_with_a_command(page):
    assert all(block.startswith("$ ") for block in BLOCK.findall(page.read_text(encoding="utf-8")))


def test_reading_of_console_blocks():
    shown = "$ bladehold check \\\n  a.toml  # exit 1\nits output\n$ make x\n"
    text = f"```console\n{shown}```\n```python\n$ bladehold no\n```\n"
    ((line, below),) = dialogues(text, "bladehold")
    assert shlex.split(line, comments=True) == ["bladehold", "check", "a.toml"]
    assert below == ["its output"]
    assert expected_code(line) == 1
    assert commands(text, "make") == ["make x"]


@pytest.mark.parametrize(
    ("shown", "agrees"),
    [
        (["one", "two", "three"], True),
        (["one", "..."], True),
        (["...", "  two"], False),
        (["...", "two", "..."], True),
        (["...", "three"], True),
        (["one", "three"], False),
        (["one", "two"], False),
        (["two", "three"], False),
        (["...", "two", "...", "one", "..."], False),
        (["...", "four", "..."], False),
        (["one", "two", "three", "four"], False),
    ],
)
def test_what_is_shown_is_compared_in_order(shown, agrees):
    assert (first_difference(shown, "one  \n\ntwo\nthree\n") is None) == agrees
