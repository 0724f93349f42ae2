"""The Python face: a sheet that is read, and what one asks of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from bladehold.sheet import Build, Sheet, load_sheet, parse_sheet, resolve

if TYPE_CHECKING:
    from bladehold.study import Advices, Assessment, Limit, Sizing
    from bladehold.study.compare import Comparison


@dataclass(frozen=True)
class BuildSheet:
    """A sheet as written, and the complete build made of it (SI, with every assumption listed)."""

    sheet: Sheet
    build: Build

    def assess(self) -> Assessment:
        """Check every part in every condition."""
        from bladehold.study import assess

        return assess(self.build)

    def advise(self) -> Advices:
        """Find the change that helps most, and the least one that is enough."""
        from bladehold.study import advise

        return advise(self.assess())

    def size(self, threads: Sequence[str] | None = None, classes: Sequence[str] | None = None) -> Sizing:
        """Find the smallest pivot screw that holds."""
        from bladehold.study.size import USUAL_CLASSES, size

        return size(self.build, threads, classes or USUAL_CLASSES)

    def limit(self) -> Limit:
        """Find the largest thrust and speed that the hardware holds."""
        from bladehold.study import limit

        return limit(self.build)

    def _repr_html_(self) -> str:
        return self.assess()._repr_html_()


def load(path: str | Path) -> BuildSheet:
    """Read a build sheet file. Errors: SheetError with every fault and its line."""
    sheet = load_sheet(path)
    return BuildSheet(sheet, resolve(sheet, Path(path).parent))


def loads(text: str) -> BuildSheet:
    """Read a build sheet from its text. Errors: SheetError with every fault and its line."""
    sheet = parse_sheet(text)
    return BuildSheet(sheet, resolve(sheet))


def compare(sheets: Sequence[BuildSheet]) -> Comparison:
    """Put two sheets or more side by side. Errors: ValueError for fewer."""
    from bladehold.study.compare import asked_of
    from bladehold.study.compare import compare as put_together

    return put_together([asked_of(one.build) for one in sheets])
