"""What the tests of the joint's drawing share: the examples' assessments, measures taken off a drawing."""

import re
from dataclasses import replace
from functools import cache
from pathlib import Path
from xml.etree import ElementTree

import numpy as np

from bladehold.report.clevis_drawing import clevis_svg
from bladehold.report.clevis_page import SIZE
from bladehold.sheet import parse_sheet, resolve
from bladehold.study.assess import assess

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ("tarn6_as_delivered", "tarn6_repaired")
SVG = "{http://www.w3.org/2000/svg}"
NUMBER = re.compile(r"-?\d+(?:\.\d+)?")
# What a letter is wide in these fonts, over its size, in words that are not numbers alone.
LETTER = 0.5


def sheet_text(name):
    return (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")


@cache
def assessed(name):
    """The assessment of an example."""
    return assess(resolve(parse_sheet(sheet_text(name))))


def hardest(found):
    """The flight condition with the greatest flap moment."""
    return found.loads.names[int(np.argmax(found.loads.root.flap_peak))]


def with_hub(found, **changes):
    return replace(found, build=replace(found.build, hub=replace(found.build.hub, **changes)))


def with_pivot(found, **changes):
    return replace(found, build=replace(found.build, pivot=replace(found.build.pivot, **changes)))


def tree(found, condition=None):
    return ElementTree.fromstring(clevis_svg(found, condition))


def of_kind(drawing, kind):
    return [e for e in drawing.iter() if f"is-{kind}" in (e.get("class") or "").split()]


def of_part(drawing, part):
    return [e for e in drawing.iter() if e.get("data-part") == part.replace(" ", "-")]


def words(drawing):
    return [element.text for element in drawing.iter(f"{SVG}text")]


def box(*elements):
    """Left, top, right, bottom of paths."""
    points = np.concatenate(
        [np.array([float(v) for v in NUMBER.findall(e.get("d"))]).reshape(-1, 2) for e in elements]
    )
    return (*points.min(axis=0), *points.max(axis=0))


def size(*elements):
    left, top, right, bottom = box(*elements)
    return right - left, bottom - top


def scale_of(drawing):
    """Units per m, from the bar and what is written beside it."""
    (bar,) = (e for e in drawing.iter(f"{SVG}polygon") if e.get("class") == "frame")
    xs = [float(pair.split(",")[0]) for pair in bar.get("points").split()]
    said = next(t for t in words(drawing) if re.fullmatch(r"[\d.e+-]+ mm", t))
    return (max(xs) - min(xs)) / (1e-3 * float(said.split()[0]))


def coordinates(drawing):
    """All places on the page that the drawing names."""
    for e in drawing.iter():
        for horizontal, vertical in (("x", "y"), ("x1", "y1"), ("x2", "y2"), ("cx", "cy")):
            if e.get(horizontal) is not None:
                yield float(e.get(horizontal)), float(e.get(vertical))
        numbers = [float(v) for v in NUMBER.findall(f"{e.get('points') or ''} {e.get('d') or ''}")]
        yield from zip(numbers[::2], numbers[1::2], strict=True)


def text_boxes(drawing):
    for e in drawing.iter(f"{SVG}text"):
        high = 22.0 if e.get("class") == "title" else SIZE
        x, y, wide = float(e.get("x")), float(e.get("y")), LETTER * high * len(e.text)
        left = x - {"start": 0.0, "middle": 0.5, "end": 1.0}[e.get("text-anchor")] * wide
        yield e.text, left, y - 0.75 * high, left + wide, y + 0.2 * high


def check_page(drawing):
    """Nothing leaves the page, no words lie on others, nothing is undefined, no name is used twice."""
    width, height = (float(v) for v in drawing.get("viewBox").split()[2:])
    for x, y in coordinates(drawing):
        assert 0.0 <= x <= width and 0.0 <= y <= height
    boxes = list(text_boxes(drawing))
    for text, left, top, right, bottom in boxes:
        assert left >= 0.0 and top >= 0.0 and right <= width and bottom <= height, text
    for number, a in enumerate(boxes):
        for b in boxes[number + 1 :]:
            apart = a[3] <= b[1] or b[3] <= a[1] or a[4] <= b[2] or b[4] <= a[2]
            assert apart, (a, b)
    names = [e.get("id") for e in drawing.iter() if e.get("id") is not None]
    assert len(names) == len(set(names))
    whole = ElementTree.tostring(drawing, encoding="unicode")
    assert not re.search(r"\b(?:nan|inf)\b", re.sub(r"<text.*?</text>", "", whole))
