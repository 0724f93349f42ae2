"""Where a published number comes from and how surely it was read there."""

from __future__ import annotations

from dataclasses import dataclass, fields

MARKS = {
    "read": "read in the source named",
    "secondary": "read in a later document that quotes the source named",
    "computed": "follows from other figures by a stated rule",
    "memory": "customary figure not confirmed in any source: an assumption until confirmed",
    "choice": "own policy, no outside source",
    "user": "given by the user with a source of their own",
}
"""Every mark a table row may carry, with its meaning."""


@dataclass(frozen=True)
class Provenance:
    """Source of one group of numbers.

    Arguments: source - title, edition, section; mark - one of MARKS.
    Raises ValueError when the source is blank or the mark is unknown.

    >>> Provenance("ISO 273", "secondary").unconfirmed
    False
    """

    source: str
    mark: str

    def __post_init__(self) -> None:
        """Refuse a number without a source or with an unknown mark."""
        if not self.source.strip():
            raise ValueError("a number needs a source")
        if self.mark not in MARKS:
            raise ValueError(f"unknown mark {self.mark!r}: use one of {', '.join(MARKS)}")

    @property
    def unconfirmed(self) -> bool:
        """True when the numbers are customary only and must be shown as an assumption."""
        return self.mark == "memory"


def provenances(row: object) -> dict[str, Provenance]:
    """Provenance of every group of numbers in one table row, by group name.

    Arguments: row - any row of the tables (a dataclass). Groups without numbers are left out.
    A row with a single provenance for all its numbers has the one group "values".
    """
    found: dict[str, Provenance] = {}
    for field in fields(row):  # type: ignore[arg-type]  # rows are dataclasses
        value = getattr(row, field.name)
        if isinstance(value, Provenance):
            found["values" if field.name == "provenance" else field.name.removesuffix("_provenance")] = value
    return found
