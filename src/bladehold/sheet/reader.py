"""Reading a build sheet: TOML text to a validated sheet, or every fault with its line."""

from __future__ import annotations

import difflib
import re
import tomllib
from pathlib import Path
from typing import Any, get_args

from pydantic import ValidationError
from pydantic.fields import FieldInfo
from pydantic_core import ErrorDetails

from bladehold.sheet.consistency import contradictions
from bladehold.sheet.fields import Section
from bladehold.sheet.locate import Path as KeyPath
from bladehold.sheet.locate import line_of, lines_of_keys
from bladehold.sheet.problem import Problem, SheetError, dotted
from bladehold.sheet.sheet import Sheet, section_at

_LARGEST_FILE = 1_000_000
_MOST_PROBLEMS = 40
_TOML_PLACE = re.compile(r" \(at (?:line (\d+), column \d+|end of document)\)$")


def load_sheet(path: str | Path) -> Sheet:
    """Read and validate a build sheet file. Errors: SheetError with every fault and its line."""
    return parse_sheet(text_of(Path(path)), str(path))


def parse_sheet(text: str, name: str = "sheet") -> Sheet:
    """Validate the text of a build sheet; `name` is what errors call the file."""
    data = _parse_toml(text, name)
    lines = lines_of_keys(text)
    try:
        sheet = Sheet.model_validate(data)
    except ValidationError as error:
        faults = [_fault(detail, data) for detail in error.errors(include_url=False)]
        raise SheetError(_with_lines(faults, name, lines)) from None
    faults = contradictions(sheet)
    if faults:
        raise SheetError(_with_lines(faults, name, lines))
    return sheet


def _with_lines(faults: list[tuple[KeyPath, str]], name: str, lines: dict[KeyPath, int]) -> list[Problem]:
    problems = [Problem(name, line_of(lines, path), dotted(path), message) for path, message in faults]
    problems.sort(key=lambda problem: (problem.line is None, problem.line or 0))
    hidden = len(problems) - _MOST_PROBLEMS
    if hidden > 0:
        problems = problems[:_MOST_PROBLEMS]
        problems.append(Problem(name, None, "", f"and {hidden} more problems of the same kind"))
    return problems


def text_of(path: Path) -> str:
    """Return the text of a file, or say in words why it cannot be read."""
    try:
        if path.is_dir():
            raise SheetError([Problem(str(path), None, "", "this is a folder; give the sheet file in it")])
        if path.stat().st_size > _LARGEST_FILE:
            raise SheetError(
                [Problem(str(path), None, "", "larger than 1 MB; a build sheet is a short text file")]
            )
        return path.read_text(encoding="utf-8")
    except FileNotFoundError:
        raise SheetError([Problem(str(path), None, "", "no such file")]) from None
    except UnicodeDecodeError as error:
        message = f"not UTF-8 text (byte {error.start}); save the file as UTF-8"
        raise SheetError([Problem(str(path), None, "", message)]) from None
    except (OSError, ValueError) as error:
        if isinstance(error, SheetError):
            raise
        reason = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        raise SheetError([Problem(str(path), None, "", f"cannot be read: {reason}")]) from None


def _parse_toml(text: str, name: str) -> dict[str, Any]:
    try:
        return tomllib.loads(text.removeprefix("\ufeff"))
    except tomllib.TOMLDecodeError as error:
        message = str(error)
        place = _TOML_PLACE.search(message)
        line = int(place.group(1)) if place and place.group(1) else None
        words = _TOML_PLACE.sub("", message)
        hint = f'not valid TOML: {words}; a line reads key = "value", a table header reads [name]'
        raise SheetError([Problem(name, line, "", hint)]) from None
    except RecursionError:
        raise SheetError([Problem(name, None, "", "not valid TOML: nested too deeply")]) from None


def _fault(detail: ErrorDetails, data: dict[str, Any]) -> tuple[KeyPath, str]:
    """Turn one validation error into the path it belongs to and a sentence."""
    path = tuple(part for part in detail["loc"])
    section = section_at(path[:-1])
    match detail["type"]:
        case "extra_forbidden":
            return path, _unknown_key(path, section)
        case "missing":
            return path, _missing_key(str(path[-1]), section)
        case "value_error":
            return path, str(detail["ctx"]["error"])
        case "model_type" | "model_attributes_type" | "dict_type":
            return path, f"this is a table of keys, written under a header [{dotted(path)}]"
        case "list_type":
            return path, f"this is a list of tables, each under a header [[{dotted(path)}]]"
        case _:
            return path, detail["msg"]


def _unknown_key(path: KeyPath, section: type[Section] | None) -> str:
    key = str(path[-1])
    valid = [] if section is None else list(section.fields_by_key())
    near = difflib.get_close_matches(key, valid, n=1, cutoff=0.55)
    if near:
        return f"no such key; did you mean {near[0]}?"
    homes = Sheet.homes_of(key)
    if homes:
        return f"no such key here; it belongs in [{homes[0]}]"
    what = "tables" if section is Sheet else "keys"
    return f"no such key; allowed {what}: {', '.join(valid)}"


def _missing_key(key: str, section: type[Section] | None) -> str:
    if section is None:
        return "is missing"
    field = section.fields_by_key()[key]
    extra = field.json_schema_extra
    example = extra.get("example") if isinstance(extra, dict) else None
    if not example:
        return f"the table [{key}] is missing"
    return f"is missing; write {key} = {typed(str(example), field)} ({field.description})"


def typed(example: str, field: FieldInfo | None = None) -> str:
    """Return an example as it is typed in TOML: texts in quotes, numbers and truth values without.

    Where the field is given and holds words, a number-like word such as the property class 8.8 is quoted too.

    >>> typed("41 g"), typed("2"), typed("true")
    ('"41 g"', '2', 'true')
    """
    words = field is not None and (field.annotation is str or str in get_args(field.annotation))
    if words:
        return f'"{example}"'
    if example in {"true", "false"}:
        return example
    try:
        float(example)
    except ValueError:
        return f'"{example}"'
    return example
