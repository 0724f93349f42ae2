"""The wheel people install holds every file of the package, the tables and section data among them."""

import zipfile
from pathlib import Path

import pytest
from hatchling.builders.wheel import WheelBuilder

ROOT = Path(__file__).resolve().parents[1]
NEEDED = {
    "bladehold/py.typed",
    "bladehold/cli/main.py",
    "bladehold/quantity/factors.csv",
    "bladehold/report/templates/document.css",
    "bladehold/report/templates/document.html.j2",
    "bladehold/report/templates/document.typ",
    "bladehold/tables/data/threads.csv",
    "bladehold/tables/data/materials.csv",
    "bladehold/rotor/data/sections.csv",
    "bladehold/rotor/data/naca4412.npz",
}


@pytest.fixture(scope="module")
def names(tmp_path_factory):
    (wheel,) = WheelBuilder(str(ROOT)).build(directory=str(tmp_path_factory.mktemp("wheel")))
    with zipfile.ZipFile(wheel) as archive:
        return set(archive.namelist())


def test_every_file_of_the_package_is_in_the_wheel(names):
    package = ROOT / "src"
    files = {path.relative_to(package).as_posix() for path in package.rglob("*") if path.is_file()}
    files = {name for name in files if "__pycache__" not in name}
    assert {name for name in names if name.startswith("bladehold/")} == files
    assert files >= NEEDED


def test_nothing_else_is_in_the_wheel(names):
    folders = {name.split("/")[0] for name in names}
    assert {folder for folder in folders if not folder.endswith(".dist-info")} == {"bladehold"}


def test_the_wheel_brings_the_command(names):
    assert any(name.endswith(".dist-info/entry_points.txt") for name in names)
