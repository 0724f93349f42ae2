"""What pages and data share: the folder, what its sheets give, tasks, and answers over several files."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

from bladehold.quantity import QuantityError, read
from bladehold.sheet import Build
from bladehold.sheet.problem import in_words
from bladehold.study.remembered import Remembered
from bladehold.web.edit import NoTomlError, with_values
from bladehold.web.form import Field, Group
from bladehold.web.jobs import Tasks
from bladehold.web.look import Look, Looks
from bladehold.web.shelf import Shelf, mark_of
from bladehold.web.told import Block, told_by

_NUMBER = re.compile(r"\s*(\d+(?:\.\d*)?|\.\d+)\s*([^\d\s.,].*)?")
_USUAL = (
    "flying.used_thrust",
    "propeller.blade_mass",
    "hub.plate_thickness",
    "hub.gap",
    "pivot_screw.torque",
    "flying.load_factor",
)
_CLASSES = ("A2-70", "8.8", "12.9")
KINDS = ("limit", "size", "sweep", "chance")


@dataclass(frozen=True)
class Slider:
    """A number of the sheet that can be moved: key, ident, unit, value and ends in that unit, step."""

    key: str
    ident: str
    unit: str
    value: str
    low: str
    high: str
    step: str
    whole: bool

    @property
    def name(self) -> str:
        """Its key in words."""
        return in_words(self.key)

    @property
    def range(self) -> str:
        """A quarter less to a quarter more, as a sweep is asked for."""
        value = float(self.value)
        if self.whole:
            return f"{self.key}={max(value - 1.0, 1.0):g}..{value + 1.0:g}"
        low, high = (f"{share * value:.3g} {self.unit}".rstrip() for share in (0.75, 1.25))
        return f"{self.key}={low}..{high}"


class Desk:
    """The workbench of one folder."""

    def __init__(self, folder: Path) -> None:
        """Open a folder. Errors: NotADirectoryError."""
        self.shelf = Shelf(folder)
        self.looks = Looks(self.shelf.folder)
        self.tasks = Tasks(self.shelf)
        self._dossiers: Remembered[Any] = Remembered(2)  # of one sheet several documents are made
        self._ranges: Remembered[list[Any]] = Remembered(4)  # a page asks for table and chart

    def saved(self, name: str) -> Look:
        """Return what the saved text of a sheet gives. Errors: NoSheetError; ValueError."""
        return self.looks.at(name, self.shelf.read(name).text)

    def typed(self, name: str, text: str, values: Mapping[str, str]) -> Look:
        """Return what a text gives with values put into it.

        Where the text is no TOML the values cannot be put into it, and its own fault is told.
        Errors: NoSheetError; NoKeyError.
        """
        self.shelf.path(name)
        if values:
            with suppress(NoTomlError):
                text = with_values(text, values, self.shelf.read(name).text)
        return self.looks.at(name, text)

    def build(self, name: str) -> Build:
        """Return the build of a saved sheet. Errors: NoSheetError; SheetError."""
        return self.saved(name).assessment.build

    def document(self, name: str, kind: str) -> bytes:
        """Return a report on a saved sheet, html, pdf, xlsx or csv. Errors: NoSheetError; SheetError."""
        from bladehold.report.document_files import document_file

        look, today = self.saved(name), datetime.now(UTC).date()
        mark = mark_of(look.text)
        found = self._dossiers.answer((mark, today), None, lambda: self._dossier(look, today))
        return document_file(found, kind)

    def _dossier(self, look: Look, today: date) -> Any:
        from bladehold.study.dossier import gather

        build = look.assessment.build
        assert look.sheet is not None
        sheet = look.sheet
        return look.tapped(lambda: gather(sheet, build, look.text, today, self.shelf.folder))

    def compared(self, names: list[str]) -> tuple[Any, Any, bool]:
        """Return saved sheets side by side: answers, inputs, whether any is invented. Errors: as above."""
        from bladehold.report.compare import inputs_of
        from bladehold.study.compare import asked_of, compare

        looks = [self.saved(name) for name in names]
        asked = [asked_of(look.assessment.build) for look in looks]
        pairs = [(look.sheet, look.build) for look in looks if look.sheet and look.build]
        return compare(asked), inputs_of(pairs), any(build.invented for _, build in pairs)

    def lined_up(self, name: str, base: str) -> tuple[list[Any], Build]:
        """Return the rows of a list of propellers built like a sheet. Errors: NoSheetError; SheetError."""
        from bladehold.sheet.lineup import load_lineup
        from bladehold.study.range_chart import range_rows

        path, build = self.shelf.path(name), self.build(base)
        question = (self.shelf.read(name).mark, self.shelf.read(base).mark)
        rows = self._ranges.answer(question, None, lambda: range_rows(build, load_lineup(path), _CLASSES))
        return rows, build

    def range_chart(self, name: str, base: str) -> dict[str, Any]:
        """Return the chart of a list of propellers as a Vega-Lite specification. Errors: as above."""
        from bladehold.report.chart import range_chart
        from bladehold.report.chart_frame import drawn

        rows, build = self.lined_up(name, base)
        return drawn(lambda: range_chart(rows, _CLASSES, invented=build.invented))

    def range_told(self, name: str, base: str) -> list[Block]:
        """Return what there is to tell of a list of propellers. Errors: as above."""
        from bladehold.report.range import show_range

        rows, build = self.lined_up(name, base)
        return told_by(lambda console: show_range(console, rows, _CLASSES, invented=build.invented))

    def check_options(self, kind: str, options: Mapping[str, Any]) -> dict[str, Any]:
        """Return the options of a task, read strictly. Errors: ValueError in words."""
        if kind not in KINDS:
            raise ValueError(f"no task {kind[:40]!r}; allowed: {', '.join(KINDS)}")
        found: dict[str, Any] = {}
        if kind == "size":
            from bladehold.study.choices import known_axis

            found["over"] = [known_axis(str(axis)) for axis in options.get("over") or ["screw"]]
            found["most_added"] = _mass(str(options.get("most_added") or ""))
            found["keep_holes"] = bool(options.get("keep_holes"))
        elif kind == "chance":
            found["samples"] = _whole("random draws", options.get("samples") or 100_000, 1000, 10_000_000)
        elif kind == "sweep":
            lines = options.get("vary") or []
            found["vary"] = [line.strip() for line in lines if line.strip()]
            if not found["vary"]:
                raise ValueError("a sweep needs a range at least, as hub.plate_thickness=3 mm..5 mm:5")
            draw = options.get("draw")
            found["draw"] = _whole("points drawn", draw, 2, 100_000) if draw else None
        return found


def _mass(text: str) -> str | None:
    if not text.strip():
        return None
    try:
        value = read(text.strip(), "mass")
    except QuantityError as error:
        raise ValueError(f"mass a rotor may gain: {error}") from None
    if value.si < 0.0:
        raise ValueError(f"mass a rotor may gain: read {text.strip()[:40]!r}: must be at least 0 g")
    return text.strip()


def _whole(what: str, value: object, low: int, high: int) -> int:
    text = str(value).strip()
    if not re.fullmatch(r"\d{1,9}", text) or not low <= int(text) <= high:
        raise ValueError(f"{what}: read {text[:40]!r}: a whole number from {low} to {high} is wanted")
    return int(text)


def invented(look: Look) -> bool:
    """Return whether a sheet says that its data is made up."""
    return look.build is not None and look.build.invented


def fields_of(form: tuple[Group, ...]) -> Iterator[Field]:
    """Yield every field of a form."""
    for group in form:
        for table in group.tables:
            yield from table.fields


def sliders_of(look: Look) -> list[Slider]:
    """Return sliders for the numbers that matter most, as far as the sheet gives them."""
    fields = {field.key: field for field in fields_of(look.form)}
    found = (slider_of(fields[key]) for key in _USUAL if key in fields)
    return [slider for slider in found if slider is not None]


def slider_of(field: Field) -> Slider | None:
    """Return the slider of a field, from half to one and a half of its number; None where it has none."""
    read_as = _NUMBER.fullmatch(field.typed)
    if read_as is None or not (field.measures or field.whole):
        return None
    value, unit = float(read_as[1]), (read_as[2] or "").strip()
    if value == 0.0:
        return None
    step = 1.0 if field.whole else float(f"{value / 50.0:.0e}")
    low, high = round(0.5 * value / step) * step, round(1.5 * value / step) * step
    # On whole steps from its low end the slider comes back to the value of the sheet.
    low = value - round((value - low) / step) * step
    return Slider(
        field.key, field.ident, unit, f"{value:g}", f"{low:.6g}", f"{high:.6g}", f"{step:g}", field.whole
    )


def numbers_of(look: Look) -> list[Slider]:
    """Return all numbers of a sheet that a slider can move."""
    found = (slider_of(field) for field in fields_of(look.form) if field.typed)
    return [slider for slider in found if slider is not None]


def sync_of(look: Look, seq: int) -> str:
    """Return what the page's form and text must say after an update, as JSON."""
    fields = list(fields_of(look.form))
    return json.dumps(
        {
            "seq": seq,
            "ok": look.found is not None,
            "text": look.text,
            "toml": look.data is not None,
            "values": {field.key: field.typed for field in fields if field.typed},
            "errors": {field.key: field.error for field in fields if field.error},
            "assumed": {field.key: field.assumed for field in fields if field.assumed},
            "wrong": {group.ident: group.errors for group in look.form if group.errors},
            "elsewhere": [
                *(str(problem) for problem in look.elsewhere),
                *(error for group in look.form for table in group.tables for error in table.errors),
            ],
        }
    )
