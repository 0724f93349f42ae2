"""The pictures of a document: charts without their heads, which the document writes itself, and drawings."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator
from functools import lru_cache
from typing import Any

from bladehold.report.blade_charts import assumed_of_blade, frequency_chart, turn_chart
from bladehold.report.chart_frame import NOTES, caution, drawn, ranges_left
from bladehold.report.clevis_drawing import clevis_svg
from bladehold.report.document import Picture
from bladehold.report.flight_charts import endurance_chart, map_chart
from bladehold.report.joint_charts import life_chart
from bladehold.report.joint_words import headline, life_remarks
from bladehold.report.loss_charts import loss_chart
from bladehold.report.margin_chart import margin_chart
from bladehold.report.render import render
from bladehold.report.rotor import assumed_sentences
from bladehold.report.tightness_chart import tightness_chart
from bladehold.study.dossier import Dossier

_CLIP = re.compile(r"\bclip\d+\b")
SECTION, MARGINS, TURN, CAMPBELL = "section", "margins", "turn", "campbell"
TIGHTNESS, ENVELOPE, LIVES, ENDURANCE = "tightness", "envelope", "lives", "endurance"
ARM, CONTROL, THROW = "arm", "control", "throw"


def pictures_of(found: Dossier) -> list[Picture]:
    """Return every picture there is an answer for, in the order of the document."""
    joint = Picture(
        SECTION,
        "The joint in section and plan, to scale",
        ("Loads are those of the check that governs; parts are shaded and signed by their margins.",),
        drawing=clevis_svg(found.assessment),
    )
    return [joint, *(_chart(key, title, drawn(make), found) for key, title, make in _charts(found))]


def _charts(found: Dossier) -> Iterator[tuple[str, str, Callable[[], Any]]]:
    """Key, title and maker of every chart."""
    build, joint = found.build, found.joint
    yield MARGINS, "Smallest margin of every part", lambda: margin_chart(found.assessment)
    yield TURN, "Root moment over a turn", lambda: turn_chart(found.blade, build)
    yield CAMPBELL, "Frequencies of the blade over speed", lambda: frequency_chart(found.blade, build)
    if joint.tightness is not None:
        yield TIGHTNESS, "Tightness of the pivot over temperature", lambda: tightness_chart(joint)
    if (envelope := found.envelope) is not None:
        yield ENVELOPE, "Margin over speed and load factor", lambda: map_chart(envelope, build)
    yield LIVES, "Life by part", lambda: life_chart(joint, headline(joint))
    failed = found.consequence
    if failed.arm is not None:
        yield ARM, "A blade lost: the arm shaken over the speed", lambda: loss_chart(failed, "arm")
    if failed.control is not None:
        yield CONTROL, "Control with a rotor lost", lambda: loss_chart(failed, "control")
    yield THROW, "How far a loose blade can fly", lambda: loss_chart(failed, "throw")
    if (drive := found.drive) is not None:
        yield ENDURANCE, "Endurance in hover over mass", lambda: endurance_chart(drive)


def _chart(key: str, title: str, plain: dict[str, Any], found: Dossier) -> Picture:
    """A chart whose head has become words of the document."""
    del plain["title"]
    said = plain.pop("usermeta")[NOTES]
    elsewhere = _said_elsewhere(found)
    notes = tuple(note for note in said if note not in elsewhere)
    return Picture(key, title, notes, chart={**plain, "padding": 6, "background": "#ffffff"})


def _said_elsewhere(found: Dossier) -> set[str]:
    """Notes of the charts that have sections of their own in the document."""
    build, loads = found.build, found.assessment.loads
    ranges = ranges_left([*loads.breaches, *found.blade.breaches])
    lives = (f"! {text}" for text in life_remarks(found.joint))
    return {*assumed_sentences(build), *assumed_of_blade(build), *ranges, *lives, caution(build.invented)}


class _Ready:
    """A chart that is plain data already, for `render`."""

    def __init__(self, data: dict[str, Any]) -> None:
        """Keep the data."""
        self._data = data

    def to_json(self) -> str:
        """Return it as JSON."""
        return json.dumps(self._data)


@lru_cache(maxsize=32)
def svg_of(picture: Picture) -> str:
    """Return a picture as SVG text; kept, as a document needs it in each of its forms."""
    if picture.drawing:
        return picture.drawing
    text = render(_Ready(picture.chart or {}), "svg").decode()
    # The renderer counts its clips on from chart to chart; what was drawn before must not show.
    names = {name: f"clip{place}" for place, name in enumerate(dict.fromkeys(_CLIP.findall(text)))}
    return _CLIP.sub(lambda match: names[match[0]], text)
