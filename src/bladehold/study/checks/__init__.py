"""The failure modes: each a function from a situation to an outcome, and one registration line."""

from bladehold.study.checks.registry import RULES, Rule

__all__ = ["RULES", "Rule"]
