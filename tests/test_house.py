"""The house rules: layers, public names, short files, nothing of one machine, documented physics."""

import importlib
import inspect
import pkgutil
import re
import runpy
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

import bladehold

ROOT = Path(__file__).resolve().parents[1]
LONGEST = 420  # lines of one module
TEXT = {".py", ".md", ".toml", ".csv", ".txt", ".json", ".html", ".svg", ".yml", ""}
PLACES = ("src", "docs", "tests", "examples", "tools", "benchmarks", "requirements", ".ci")
PAGES = ("README.md", "CONTRIBUTING.md", "CHANGELOG.md", "LICENSE", "Makefile", "pyproject.toml")
PHYSICS = ("air", "rotor", "blade", "joint", "power", "aircraft", "loss")

# Physics functions whose docstring names no source, each with the reason why none is due.
SOURCELESS = {
    "air.atmosphere.air_at": "puts the functions above it together",
    "rotor.geometry.blade_from_table": "interpolates what the user measured",
    "rotor.polar.tabulated_polar": "stores the coefficients it is given",
    "rotor.sections.blade_polar": "blends tables that carry their own source",
    "rotor.span.blade_moments": "sums loads along the span",
    "rotor.span.blade_shears": "sums loads along the span",
    "rotor.span.outboard_weights": "trapezoid rule, stated",
    "rotor.span.span_weights": "trapezoid rule, stated",
    "rotor.userpolar.polar_from_columns": "takes the user's own polar",
    "rotor.userpolar.read_polar": "reads the user's own polar",
}
# Arguments a physics docstring leaves unsaid, each with the reason why that is enough.
UNSAID = {
    "rotor.geometry.station_radii": ({"hub_radius", "radius"}, "the ends of the blade, as in BladeGeometry"),
    "rotor.span.outboard_weights": ({"geometry"}, "the blade; its type says what is in it"),
    "rotor.span.span_weights": ({"geometry"}, "the blade; its type says what is in it"),
}


def files(*places, suffixes=TEXT):
    found = (path for place in places for path in (ROOT / place).rglob("*") if path.is_file())
    return [path for path in found if path.suffix in suffixes and "__pycache__" not in path.parts]


def modules():
    return [info.name for info in pkgutil.walk_packages(bladehold.__path__, "bladehold.")]


def physics_functions():
    """Public functions of the physics rooms by dotted name: what a room lists, or all its modules have."""
    for room in PHYSICS:
        package = importlib.import_module(f"bladehold.{room}")
        for info in pkgutil.iter_modules(package.__path__):
            if info.name.startswith("_"):
                continue
            module = importlib.import_module(f"bladehold.{room}.{info.name}")
            for name, function in inspect.getmembers(module, inspect.isfunction):
                listed = name in getattr(package, "__all__", [name])
                if listed and function.__module__ == module.__name__ and not name.startswith("_"):
                    yield f"{room}.{info.name}.{name}", function


FUNCTIONS = dict(physics_functions())


def test_layers_hold():
    lint = "import sys; from importlinter.cli import lint_imports; sys.exit(lint_imports(no_cache=True))"
    finished = subprocess.run(
        [sys.executable, "-c", lint], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert finished.returncode == 0, finished.stdout + finished.stderr


def test_every_room_has_a_layer():
    (contract,) = tomllib.loads((ROOT / "pyproject.toml").read_text())["tool"]["importlinter"]["contracts"]
    layers = {name for line in contract["layers"] for name in line.split(" | ")}
    assert layers == {name for name in modules() if name.count(".") == 1}


@pytest.mark.parametrize("name", ["bladehold", *modules()])
def test_public_names_exist(name):
    module = importlib.import_module(name)
    listed = getattr(module, "__all__", [])
    assert len(set(listed)) == len(listed)
    assert [public for public in listed if not hasattr(module, public)] == []


@pytest.mark.parametrize("name", [name for name in modules() if name.count(".") == 1])
def test_a_room_that_lists_names_lists_all_of_them(name):
    module = importlib.import_module(name)
    if not hasattr(module, "__all__"):
        return
    public = {
        attribute
        for attribute, value in vars(module).items()
        if not attribute.startswith("_") and not inspect.ismodule(value) and attribute != "annotations"
    }
    assert public == set(module.__all__)


@pytest.mark.parametrize("path", sorted((ROOT / "benchmarks").glob("bench_*.py")), ids=lambda path: path.stem)
def test_benchmarks_still_fit_the_code(path):
    """Times are looked at by hand, so that nothing else would tell that a benchmark can no longer be read."""
    assert any(name.startswith("test_") for name in runpy.run_path(str(path)))


def test_modules_are_short():
    long = {
        path.relative_to(ROOT).as_posix(): lines
        for path in files("src", "tests", "tools", "benchmarks", suffixes={".py"})
        if (lines := len(path.read_text(encoding="utf-8").splitlines())) >= LONGEST
    }
    assert not long


# Written so that no pattern matches itself in this file.
FORBIDDEN = {
    "a path of one machine": re.compile(r"(?<![\w.])/(?:work|tmp|root|home|Users|opt)/"),
    "a package registry": re.compile(r"(?:pypi|pythonhosted|npmjs|debian|crates|conda)\.(?:org|com|io)\b"),
    "an address on the network": re.compile(r"(?:https?|file)://(?!www\.w3\.org/|127\.0\.0\.1|\{)"),
}


@pytest.mark.parametrize("what", FORBIDDEN)
def test_files_name_nothing_of_one_machine(what):
    found = [
        f"{path.relative_to(ROOT)}:{number}: {line.strip()[:80]}"
        for path in [*files(*PLACES), *(ROOT / name for name in PAGES)]
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), start=1)
        if FORBIDDEN[what].search(line)
    ]
    assert not found


def said_about(function):
    """The docstring, with those of the function or module it refers to ("as in `solve_axial`")."""
    text = inspect.getdoc(function) or ""
    module = inspect.getmodule(function)
    for other in re.findall(r"\bas (?:in |for )?`(\w+)`", text):
        text += inspect.getdoc(getattr(module, other)) or ""
    for other in re.findall(r"`(bladehold\.[\w.]+)`", text):
        text += inspect.getdoc(importlib.import_module(other)) or ""
    return text


def unsaid_arguments(function):
    text = said_about(function)
    return {
        argument
        for argument in inspect.signature(function).parameters
        if not re.search(rf"(?<!\w){argument}(?!\w)", text)
    }


def names_a_source(function):
    """Whether a docstring says where its formula comes from: a source, or how it was derived."""
    return re.search(r"\b(Sources?:|[Dd]erived|[Oo]wn )", said_about(function)) is not None


@pytest.mark.parametrize("name", FUNCTIONS)
def test_physics_documents_every_argument(name):
    excused, _ = UNSAID.get(name, (set(), ""))
    unsaid = unsaid_arguments(FUNCTIONS[name]) - excused
    assert not unsaid, f"the docstring of {name} does not say what these are: {sorted(unsaid)}"


@pytest.mark.parametrize("name", [name for name in FUNCTIONS if name not in SOURCELESS])
def test_physics_names_its_source(name):
    assert names_a_source(FUNCTIONS[name]), f"the docstring of {name} names no source"


def test_exceptions_are_still_needed():
    assert {name for name in {*SOURCELESS, *UNSAID} if name not in FUNCTIONS} == set()
    assert {name for name in SOURCELESS if names_a_source(FUNCTIONS[name])} == set()
    assert {
        name for name, (excused, _) in UNSAID.items() if unsaid_arguments(FUNCTIONS[name]) != excused
    } == set()
