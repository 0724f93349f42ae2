"""The pictures of one sheet by name: drawings as SVG, charts as Vega-Lite, in the house's own words."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from bladehold.report.chart_frame import drawn
from bladehold.report.clevis_states import STYLE
from bladehold.web.look import Look


class NoPictureError(LookupError):
    """A name that stands for no picture."""


@dataclass(frozen=True)
class Picture:
    """One picture: svg - a drawing, or chart - a Vega-Lite specification, the other None."""

    title: str
    svg: str | None = None
    chart: dict[str, Any] | None = None


def section(look: Look) -> str:
    """Return the section through the joint as SVG, its style left to the page's own sheet of styles."""
    from bladehold.report.clevis_drawing import clevis_svg

    # A page allows no style but that of its own files, which has the same rules.
    return clevis_svg(look.assessment).replace(f"<style>{STYLE}</style>\n", "")


def _turn(look: Look) -> Any:
    from bladehold.report.blade_charts import turn_chart

    return turn_chart(look.blade, look.assessment.build)


def _campbell(look: Look) -> Any:
    from bladehold.report.blade_charts import frequency_chart

    return frequency_chart(look.blade, look.assessment.build)


def _tightness(look: Look) -> Any:
    from bladehold.report.tightness_chart import tightness_chart

    if look.joint.tightness is None:
        raise ValueError("no tightness is asked of this hub: its blades do not fold, or nothing clamps them")
    return tightness_chart(look.joint)


def _tension(look: Look) -> Any:
    from bladehold.report.joint_charts import tension_chart

    return tension_chart(look.joint)


def _lives(look: Look) -> Any:
    from bladehold.report.joint_charts import life_chart
    from bladehold.report.joint_words import headline

    return life_chart(look.joint, headline(look.joint))


def _map(look: Look) -> Any:
    from bladehold.report.flight_charts import map_chart
    from bladehold.study import envelope_map

    build = look.assessment.build
    return map_chart(envelope_map(build), build)


def _endurance(look: Look) -> Any:
    from bladehold.report.flight_charts import endurance_chart
    from bladehold.study import NoDriveError, drive_answer

    try:
        return endurance_chart(drive_answer(look.assessment.build))
    except NoDriveError as error:
        raise ValueError(str(error)) from None


def _loss(name: str) -> Callable[[Look], Any]:
    def draw(look: Look) -> Any:
        from bladehold.report.loss_charts import loss_chart

        return loss_chart(look.consequence, name)

    return draw


CHARTS: dict[str, tuple[str, Callable[[Look], Any]]] = {
    "turn": ("Root moments over a turn", _turn),
    "campbell": ("Natural frequencies over the speed", _campbell),
    "tightness": ("Tightness of the pivot over temperature", _tightness),
    "tension": ("Tension of the pivot screw over the flap moment", _tension),
    "lives": ("Lives of the parts", _lives),
    "map": ("Margin over speed and load factor", _map),
    "arm": ("A blade lost: the arm shaken over the speed", _loss("arm")),
    "control": ("Control with a rotor lost", _loss("control")),
    "throw": ("How far a loose blade can fly", _loss("throw")),
    "endurance": ("Endurance over take-off mass", _endurance),
}


def picture(look: Look, name: str) -> Picture:
    """Return a picture of a look. Errors: NoPictureError; SheetError; ValueError: none to draw."""
    if name == "section":
        return Picture("Section through the joint", svg=section(look))
    if name not in CHARTS:
        raise NoPictureError(name)
    title, draw = CHARTS[name]
    return Picture(title, chart=drawn(lambda: draw(look)))
