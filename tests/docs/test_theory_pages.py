"""The pages of docs/theory name every check, show true levers and factors, and every link leads somewhere."""

import re
from pathlib import Path

import pytest

from bladehold.joint.bedding import bedded_pin
from bladehold.joint.pin import bending_moment_air_force, bending_moment_knuckle
from bladehold.study.checks.registry import RULES
from bladehold.tables import factor, factor_names, thread

ROOT = Path(__file__).resolve().parents[2]
THEORY = ROOT / "docs" / "theory"
PAGES = [*ROOT.glob("*.md"), *sorted((ROOT / "docs").glob("**/*.md"))]
LINK = re.compile(r"\]\(([^)\s]+)\)")


def rows(page):
    lines = (THEORY / page).read_text(encoding="utf-8").splitlines()
    found = [line for line in lines if line.startswith("| ") and not line.startswith("| ---")]
    return [[cell.strip() for cell in line.strip("|").split(" | ")] for line in found]


def test_every_check_is_on_the_page():
    table = {tuple(row[:3]): row[3:] for row in rows("checks.md") if len(row) == 5}
    for rule in RULES:
        formula, source = table[rule.part, rule.mode, rule.level]
        assert formula and source
        assert not rule.formula or (formula, source) == (rule.formula, rule.source)
    assert len(table) == len(RULES) + 1  # and the line of titles


def test_every_factor_is_on_the_page():
    table = {row[0]: row[1:] for row in rows("checks.md") if len(row) == 4}
    for name in factor_names():
        wanted = factor(name)
        assert table[f"`{name}`"] == [f"{wanted.value:g}", wanted.meaning, wanted.provenance.source]


def test_levers_of_the_joint_page():
    lug, plate, gap = 8e-3, 3e-3, 0.1e-3
    shown = [row for row in rows("joint.md") if len(row) == 5 and row[0].startswith("M")]
    assert len(shown) == 6
    for name, diameter, bedded, knuckle, even in shown:
        root = thread(name.split()[0]).profile.root_diameter
        lever = bedded_pin(plate, lug, gap, root, 207e9, 71e9, 45e9).greatest
        assert (diameter, bedded) == (f"{1e3 * root:.2f}", f"{1e3 * lever:.2f}")
        assert knuckle == f"{1e3 * bending_moment_knuckle(2.0, plate, lug, gap):.2f}"
        assert even == f"{1e3 * bending_moment_air_force(2.0, plate, lug, gap):.2f}"


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.relative_to(ROOT).as_posix())
def test_links_lead_somewhere(page):
    for target in LINK.findall(page.read_text(encoding="utf-8")):
        place, _, heading = target.partition("#")
        found = (page.parent / place).resolve() if place else page
        assert found.exists(), target
        if heading:
            assert heading in anchors(found), target


def anchors(page):
    """The anchors of a page's headings, as the usual renderers make them."""
    titles = re.findall(r"^#+ (.+)$", page.read_text(encoding="utf-8"), re.MULTILINE)
    return {re.sub(r"[^\w\- ]", "", title.lower()).replace(" ", "-") for title in titles}


def test_every_page_is_on_the_map():
    listed = set(LINK.findall((ROOT / "docs" / "index.md").read_text(encoding="utf-8")))
    pages = {path.relative_to(ROOT / "docs").as_posix() for path in (ROOT / "docs").glob("**/*.md")}
    assert pages - {"index.md"} <= {target.partition("#")[0] for target in listed}
