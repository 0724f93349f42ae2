"""The commands the pages show do what the pages say.

Every line "$ bladehold ..." of a console block is run, page by page and in order, in a copy of the
examples; it must end with 0, or with the code a closing comment gives ("# exit 1"). Lines "$ make ..."
must name a target that exists.
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
SHELL = {"|", ">", ">>", "<", "&", "&&", "||", ";"}


def commands(text, program):
    """The command lines of one program in the console blocks of a page, long lines put together."""
    lines = "".join(BLOCK.findall(text)).replace("\\\n", " ").splitlines()
    return [line.removeprefix("$ ") for line in lines if line.startswith(f"$ {program} ")]


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
def test_bladehold_commands_end_as_shown(page, tmp_path, monkeypatch, capfd):
    lines = commands(page.read_text(encoding="utf-8"), "bladehold")
    shutil.copytree(ROOT / "examples", tmp_path / "examples")
    monkeypatch.chdir(tmp_path)
    for line in lines:
        code = run_line(line, monkeypatch)
        printed = capfd.readouterr()
        assert code == expected_code(line), f"{line}\nended with {code}\n{printed.out}{printed.err}"


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


def test_reading_of_console_blocks():
    shown = "$ bladehold check \\\n  a.toml  # exit 1\nits output\n$ make x\n"
    text = f"```console\n{shown}```\n```python\n$ bladehold no\n```\n"
    (line,) = commands(text, "bladehold")
    assert shlex.split(line, comments=True) == ["bladehold", "check", "a.toml"]
    assert expected_code(line) == 1
    assert commands(text, "make") == ["make x"]
