"""What a text gives: its faults with their places, or the build and every check on it."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from threading import Lock
from typing import TYPE_CHECKING, Any, TypeVar

from bladehold.sheet import Build, Sheet, SheetError, resolve
from bladehold.sheet.problem import Problem
from bladehold.sheet.reader import checked, toml_of
from bladehold.web.form import Group, form_of

if TYPE_CHECKING:
    from bladehold.blade import BalanceError
    from bladehold.study import Assessment, JointAnswer
    from bladehold.study.advise import Advices
    from bladehold.study.blade import BladeAnswer
    from bladehold.study.consequence import ConsequenceAnswer


Answer = TypeVar("Answer")


@dataclass(frozen=True)
class Look:
    """One text of a sheet: data - as far as it is TOML; problems - all of them, none where it can be checked;
    sheet, build, found - where it can.
    """

    name: str
    text: str
    data: dict[str, Any] | None
    problems: tuple[Problem, ...]
    sheet: Sheet | None = None
    build: Build | None = None
    found: Assessment | None = None

    @cached_property
    def form(self) -> tuple[Group, ...]:
        """The form with what is typed and what is wrong."""
        assumptions = () if self.build is None else (*self.build.assumptions, *self.build.drive_assumptions)
        return form_of(self.data or {}, self.problems, assumptions)

    @cached_property
    def elsewhere(self) -> tuple[Problem, ...]:
        """Faults that stand at no field and no table of the form."""
        shown = {field.error for group in self.form for table in group.tables for field in table.fields}
        at_tables = [error for group in self.form for table in group.tables for error in table.errors]
        return tuple(
            problem
            for problem in self.problems
            if problem.message not in shown and f"{problem.key}: {problem.message}" not in at_tables
        )

    @property
    def assessment(self) -> Assessment:
        """The checks. Errors: SheetError with what is wrong where there are none."""
        if self.found is None:
            raise SheetError(list(self.problems))
        return self.found

    @cached_property
    def advices(self) -> Advices:
        """The changes that help."""
        from bladehold.study import advise

        return advise(self.assessment)

    @cached_property
    def joint(self) -> JointAnswer:
        """All about the joint. Errors: SheetError."""
        from bladehold.study import joint_answer

        return self.tapped(lambda: joint_answer(self.assessment.build))

    @cached_property
    def consequence(self) -> ConsequenceAnswer:
        """What failures do. Errors: SheetError."""
        from bladehold.study.consequence import consequence_answer

        return consequence_answer(self.assessment)

    @cached_property
    def blade(self) -> BladeAnswer:
        """All about the blade. Errors: SheetError."""
        from bladehold.study.blade import blade_answer

        return self.tapped(lambda: blade_answer(self.assessment.build))

    def tapped(self, ask: Callable[[], Answer]) -> Answer:
        """Return an answer. Errors: SheetError, for a balance point too that no such blade can have."""
        from bladehold.blade import BalanceError

        try:
            return ask()
        except BalanceError as error:
            raise SheetError([self._of_balance(error)]) from error

    def _of_balance(self, error: BalanceError) -> Problem:
        from bladehold.report.blade import balance_sentence

        return Problem(self.name, None, "propeller.balance_point", balance_sentence(error))


def _looked(name: str, text: str, folder: Path) -> Look:
    from bladehold.study import assess

    data: dict[str, Any] | None = None
    try:
        data = toml_of(text, name)
        sheet = checked(data, name, text)
        build = resolve(sheet, folder)
        return Look(name, text, data, (), sheet, build, assess(build))
    except SheetError as error:
        return Look(name, text, data, tuple(error.problems))
    except ValueError as error:
        said = f"describes something that cannot be computed: {error}"
        return Look(name, text, data, (Problem(name, None, "", said),))


class Looks:
    """The last few texts that were looked at, since a page asks about one text for many things."""

    def __init__(self, folder: Path, kept: int = 24) -> None:
        """Look at sheets of a folder, where their own polars lie."""
        self._folder, self._kept = folder, kept
        self._found: OrderedDict[tuple[str, str], Look] = OrderedDict()
        self._lock = Lock()

    def at(self, name: str, text: str) -> Look:
        """Return what a text gives."""
        key = (name, text)
        with self._lock:
            if key in self._found:
                self._found.move_to_end(key)
                return self._found[key]
        look = _looked(name, text, self._folder)
        if look.sheet is not None and look.sheet.propeller.polar:
            return look  # its polar is another file, which may change
        with self._lock:
            self._found[key] = look
            if len(self._found) > self._kept:
                self._found.popitem(last=False)
        return look
