"""What the user writes: reading a build sheet strictly, and filling its gaps in the open."""

from bladehold.sheet.build import Assumption, Build
from bladehold.sheet.problem import Problem, SheetError
from bladehold.sheet.reader import load_sheet, parse_sheet
from bladehold.sheet.resolve import resolve
from bladehold.sheet.sheet import Sheet, sections

__all__ = [
    "Assumption",
    "Build",
    "Problem",
    "Sheet",
    "SheetError",
    "load_sheet",
    "parse_sheet",
    "resolve",
    "sections",
]
