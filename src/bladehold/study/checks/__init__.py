"""The failure modes: each a function from a situation to an outcome, and one registration line."""

from bladehold.study.checks.registry import RULES, STRENGTH
from bladehold.study.checks.rule import FATIGUE, Rule

__all__ = ["FATIGUE", "RULES", "STRENGTH", "Rule"]
