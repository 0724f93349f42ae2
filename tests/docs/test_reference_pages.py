"""The pages about names and rooms agree with the code."""

import importlib
import inspect
import re
import tomllib
from dataclasses import fields, is_dataclass
from pathlib import Path
from pkgutil import iter_modules

import pytest

ROOT = Path(__file__).resolve().parents[2]
NOMENCLATURE = (ROOT / "docs" / "nomenclature.md").read_text(encoding="utf-8")
ARCHITECTURE = (ROOT / "docs" / "architecture.md").read_text(encoding="utf-8")
GREEK = re.compile("alpha|beta|gamma|delta|zeta|theta|lambda|mu|nu|rho|sigma|tau|phi|psi|omega")
ROW = re.compile(r"^\| (.+?) \| (.*?) ?\| (.+?) \| `(\w+)` \| `(bladehold[\w.]+)` \|$", re.MULTILINE)
ROWS = ROW.findall(NOMENCLATURE)


@pytest.mark.parametrize(("term", "symbol", "unit", "name", "place"), ROWS)
def test_names_exist_where_the_page_says(term, symbol, unit, name, place):
    module, _, member = place.rpartition(".")
    found = getattr(importlib.import_module(module), member)
    names = set(inspect.signature(found).parameters)
    if is_dataclass(found):
        names |= {field.name for field in fields(found)}
    assert name in names


def test_every_row_of_the_page_is_read():
    lines = [line for line in NOMENCLATURE.splitlines() if line.startswith("| ")]
    tables = NOMENCLATURE.count("| term |")
    assert len(ROWS) == len(lines) - 2 * tables > 50


def test_a_term_has_one_name_and_shared_names_are_explained():
    terms = [row[0] for row in ROWS]
    assert len(set(terms)) == len(terms)
    names = [row[3] for row in ROWS]
    shared = {name for name in names if names.count(name) > 1}
    explained = NOMENCLATURE.partition("## Where one word means two things")[2]
    assert {name for name in shared if f"`{name}`" not in explained} == set()


def test_symbols_are_no_names():
    allowed = set(re.findall(r"`(\w+)`", NOMENCLATURE.partition("by their letters:")[2].partition("\n\n")[0]))
    symbols = {}
    for place, names in public_names():
        for name in names:
            if len(name) <= 2 or GREEK.fullmatch(name):
                symbols.setdefault(name, place)
    assert set(symbols) <= allowed, symbols
    assert allowed == set(symbols)


def public_names():
    """Arguments and fields of what the physics rooms and the tables show, by place."""
    for room in ("air", "rotor", "blade", "joint", "tables"):
        package = importlib.import_module(f"bladehold.{room}")
        inner = [
            importlib.import_module(f"{package.__name__}.{m.name}") for m in iter_modules(package.__path__)
        ]
        listed = [getattr(package, name) for name in getattr(package, "__all__", [])]
        for thing in listed or [value for module in inner for value in vars(module).values()]:
            if getattr(thing, "__module__", "").startswith(package.__name__) and not private(thing):
                if is_dataclass(thing):
                    yield thing.__name__, [field.name for field in fields(thing)]
                elif inspect.isfunction(thing):
                    yield thing.__name__, list(inspect.signature(thing).parameters)


def private(thing):
    return getattr(thing, "__name__", "_").startswith("_") or "._" in thing.__module__


def test_the_picture_is_the_import_contract():
    picture = re.search(r"```text\n(.*?)```", ARCHITECTURE, re.DOTALL)[1]
    shown = [re.split(r"\s{2,}", line.strip())[0] for line in picture.splitlines()]
    (contract,) = tomllib.loads((ROOT / "pyproject.toml").read_text())["tool"]["importlinter"]["contracts"]
    assert shown == [line.replace("bladehold.", "") for line in contract["layers"]]


def test_modules_the_page_names_exist():
    package = ROOT / "src" / "bladehold"
    for dotted in re.findall(r"`((?:cli|report|study|sheet|joint|rotor)(?:\.\w+)+)`", ARCHITECTURE):
        path = package / dotted.replace(".", "/")
        # The last word may be a class of the module before it.
        assert path.with_suffix(".py").exists() or path.is_dir() or path.parent.with_suffix(".py").exists()
    for room, modules in re.findall(r"^\| `(\w+)` \|.*\| (`[^|]*`) \|$", ARCHITECTURE, re.MULTILINE):
        for module in re.findall(r"`([\w/]+(?:\.py|/))`", modules):
            assert (package / room / module).exists() or (package / module).exists(), module


@pytest.mark.parametrize(
    "page",
    [ROOT / "README.md", ROOT / "CONTRIBUTING.md", *(ROOT / "docs").glob("*.md")],
    ids=lambda p: p.name,
)
def test_links_between_pages_lead_somewhere(page):
    for target in re.findall(r"\]\(([^)#:]+)(?:#[^)]*)?\)", page.read_text(encoding="utf-8")):
        assert (page.parent / target).exists(), target
