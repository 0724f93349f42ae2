"""Every check there is, in the order of the load path; each is registered in the file of its part.

Fatigue stands apart: it rests on generic curves and on assumed shares of the flight, so it says how long a
part lasts and does not decide whether the hardware is strong enough.
"""

from __future__ import annotations

from bladehold.study.checks import rules_fatigue, rules_hub, rules_lug_plates, rules_pivot
from bladehold.study.checks.rule import Rule

STRENGTH: tuple[Rule, ...] = (*rules_pivot.RULES, *rules_lug_plates.RULES, *rules_hub.RULES)
RULES: tuple[Rule, ...] = (*STRENGTH, *rules_fatigue.RULES)
