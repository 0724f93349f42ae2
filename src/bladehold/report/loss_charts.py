"""The charts of what failures do, by name."""

from __future__ import annotations

from typing import Any

from bladehold.report.arm_charts import arm_chart
from bladehold.report.control_chart import control_chart
from bladehold.report.throw_chart import throw_chart
from bladehold.study.consequence import ConsequenceAnswer


def loss_chart(found: ConsequenceAnswer, name: str) -> Any:
    """Return the chart "arm", "control" or "throw". Errors: ValueError where there is nothing to draw."""
    if name == "throw":
        return throw_chart(found.release)
    if name == "arm":
        if found.arm is None:
            raise ValueError(found.no_arm)
        return arm_chart(found.arm)
    if found.control is None:
        raise ValueError(found.no_control)
    return control_chart(found, found.control)
