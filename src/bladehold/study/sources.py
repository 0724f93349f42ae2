"""The sources an answer rests on: of its formulas, curves, facts and factors, and of its table rows."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, fields, is_dataclass

from bladehold.study.joint import JointAnswer
from bladehold.tables import MARKS, Provenance, provenances

FORMULA = "formula"
"""What a source that no table row carries is marked with: it is named beside the code."""
MEMORY = "memory"
_POLICY = "factor"


@dataclass(frozen=True)
class Source:
    """One source: text; mark - FORMULA or one of the marks of the tables; rests - what rests on it here."""

    text: str
    mark: str
    rests: tuple[str, ...]

    @property
    def unconfirmed(self) -> bool:
        """Whether figures from it are customary only and must be shown as assumed."""
        return self.mark == MEMORY

    @property
    def meaning(self) -> str:
        """The mark in words."""
        return MARKS.get(self.mark, "named with the formula")


def sources_of(joint: JointAnswer) -> tuple[Source, ...]:
    """Return every source that the answers about a joint rest on, each once a mark, unconfirmed ones last."""
    found: dict[str, dict[str, dict[str, None]]] = {}
    for text, mark, rests in _named(joint):
        if text.strip():
            found.setdefault(text, {}).setdefault(mark, {})[rests] = None
    sources = []
    for text, marks in found.items():
        # What a table says of how surely it was read counts for the formula beside it, too.
        beside = marks.pop(FORMULA, {}) if len(marks) > 1 else {}
        sources += [
            Source(text, mark, tuple(dict.fromkeys([*rests, *beside]))) for mark, rests in marks.items()
        ]
    return tuple(sorted(sources, key=lambda one: (one.unconfirmed, one.text.lower(), one.mark)))


def _named(joint: JointAnswer) -> Iterator[tuple[str, str, str]]:
    """Text, mark and what rests on it, again and again."""
    for check in joint.assessment.checks:
        yield check.source, FORMULA, check.key
        yield from ((text, MEMORY, check.part) for text in check.unconfirmed)
    for life in joint.lives:
        name = f"life of the {life.part}: {life.mode}"
        unsure = set(life.unconfirmed)
        yield from ((text, FORMULA, name) for text in life.sources if text not in unsure)
        yield from ((text, MEMORY, name) for text in life.unconfirmed)
    for fact in joint.facts:
        yield fact.source, FORMULA, fact.about
    build = joint.build
    for name, text in build.policy.sources.items():
        yield text, FORMULA, f"{_POLICY} {name}"
    yield from _rows(build, "")


def _rows(value: object, path: str) -> Iterator[tuple[str, str, str]]:
    """Provenance of every table row that stands anywhere in a build, with its place there."""
    if isinstance(value, tuple):
        for item in value:
            yield from _rows(item, path)
    elif is_dataclass(value) and not isinstance(value, Provenance):
        for group, where in provenances(value).items():
            yield where.source, where.mark, f"{path} ({group.replace('_', ' ')})"
        for field in fields(value):
            yield from _rows(getattr(value, field.name), f"{path}.{field.name}".lstrip("."))
