"""The picture of control: roll and pitch moments that hover leaves, whole and with the worst rotor lost."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from bladehold.report.chart_frame import COLOURS, MARK, caution, inline, looks, panel_title, titled
from bladehold.study.consequence import ConsequenceAnswer
from bladehold.study.control import SPINNING, ControlAnswer

if TYPE_CHECKING:
    import altair

SIZE, LETTERS = 330, 110  # pixels of a panel; letters of one line above
_HELD, _FREE = "no yaw moment with it", "yaw given up"
_ROOM = 1.08


def control_chart(found: ConsequenceAnswer, control: ControlAnswer) -> altair.VConcatChart:
    """Return what moments the rotors can give beside the lift of hover, two panels of one scale.

    Arguments: found - whose sheet it is; control - of it.
    """
    import altair as alt

    worst = control.names.index(control.worst.rotor)
    look = looks("asked:N", [_FREE, _HELD], COLOURS[:2], legend="roll and pitch moment with", area=True)
    whole = {name: control.moments(worst, 1.0, yaw=name == _HELD) for name in (_HELD, _FREE)}
    lost = {name: control.moments(worst, 0.0, yaw=name == _HELD) for name in (_HELD, _FREE)}
    reach = _ROOM * max(float(np.abs(rings).max()) for rings in (*whole.values(), *lost.values()))
    scale = alt.Scale(domain=[-reach, reach], nice=False)
    panels = [
        _panel(whole, "All rotors", look, scale),
        _panel(lost, f"Rotor {control.worst.rotor} lost", look, scale),
    ]
    chart: altair.VConcatChart = titled(
        alt.vconcat(alt.hconcat(*panels, spacing=30)),
        f"{found.build.name}: control with a rotor lost",
        _notes(found, control),
        LETTERS,
    )
    return chart


def _panel(rings: dict[str, Any], title: str, look: dict[str, Any], scale: Any) -> Any:
    import altair as alt

    rows = [
        {"asked": name, "at": at, "roll": round(float(roll), 4), "pitch": round(float(pitch), 4)}
        for name, ring in rings.items()
        for at, (roll, pitch) in enumerate(ring)
        if np.any(ring)
    ]
    x = alt.X("roll:Q", scale=scale, title="roll moment, N·m (right down)")
    y = alt.Y("pitch:Q", scale=scale, title="pitch moment, N·m (nose up)")
    base = alt.Chart(inline(rows)).encode(x=x, y=y, order="at:Q")
    lines = base.mark_line(strokeWidth=2).encode(color=look["color"], strokeDash=look["dash"])
    hover = (
        alt.Chart(inline([{"roll": 0.0, "pitch": 0.0}]))
        .mark_point(shape="cross", size=90, color=MARK, filled=True, opacity=1)
        .encode(x=x, y=y)
    )
    return (lines + hover).properties(width=SIZE, height=SIZE, title=panel_title(title))


def _notes(found: ConsequenceAnswer, control: ControlAnswer) -> list[str]:
    worst = control.worst
    spins = " The aircraft then turns about its upright axis." if worst.hover == SPINNING else ""
    return [
        f"Cross: hover at {control.weight:.4g} N. A line not drawn: hover is outside or on the edge of it.",
        f"Each rotor gives up to {control.ceiling:.3g} N ({control.ceiling_from}). All rotors: index "
        f"{control.index:.3g}, yaw given up {control.index_without_yaw:.3g}.",
        f"Rotor {worst.rotor} lost: index {worst.index:.3g}, yaw given up {worst.index_without_yaw:.3g}: "
        f"hover is {worst.hover}.{spins}",
        "Steady, in still air: how a controller gets there is not looked at.",
        caution(found.build.invented),
    ]
