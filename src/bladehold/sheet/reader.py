"""Reading a build sheet: TOML text to a validated sheet, or every fault with its line."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from typing import Any, get_args

from pydantic import ValidationError
from pydantic.fields import FieldInfo
from pydantic_core import ErrorDetails

from bladehold.quantity import shown
from bladehold.sheet.consistency import contradictions
from bladehold.sheet.locate import Path as KeyPath
from bladehold.sheet.locate import line_of, lines_of_keys
from bladehold.sheet.problem import MOST_PROBLEMS, Problem, SheetError, dotted, first_few
from bladehold.sheet.sheet import Sheet, section_at
from bladehold.tables import nearest_name

_LARGEST_FILE = 1_000_000
_DEEP_KEY = re.compile(r"""(?<![\w"'.-])(?:(?:"[^"\n]*+"|'[^'\n]*+'|[A-Za-z0-9_-]++)[ \t]*+\.[ \t]*+){12}""")
_LONG_NUMBER = re.compile(r"[0-9_]{4000,}")
_TOML_PLACE = re.compile(r" \(at (?:line (\d+), column \d+|end of document)\)$")


def load_sheet(path: str | Path) -> Sheet:
    """Read and validate a build sheet file. Errors: SheetError with every fault and its line."""
    return parse_sheet(text_of(Path(path)), str(path))


def parse_sheet(text: str, name: str = "sheet") -> Sheet:
    """Validate the text of a build sheet; `name` is what errors call the file."""
    return checked(toml_of(text, name), name, text)


def checked(data: dict[str, Any], name: str, text: str = "") -> Sheet:
    """Validate what TOML makes of a sheet; text - that the faults have their lines from, "" for none."""
    lines = lines_of_keys(text)
    try:
        sheet = Sheet.model_validate(data)
    except ValidationError as error:
        details = sorted(error.errors(include_url=False), key=lambda d: _order(line_of(lines, d["loc"])))
        faults = [fault_of(detail) for detail in details[:MOST_PROBLEMS]]
        hidden = len(details) - len(faults)
        raise SheetError(_with_lines(faults, name, lines, hidden)) from None
    faults = contradictions(sheet)
    if faults:
        raise SheetError(_with_lines(faults, name, lines))
    return sheet


def _with_lines(
    faults: list[tuple[KeyPath, str]], name: str, lines: dict[KeyPath, int], hidden: int = 0
) -> list[Problem]:
    problems = [Problem(name, line_of(lines, path), dotted(path), message) for path, message in faults]
    problems.sort(key=lambda problem: _order(problem.line))
    return first_few(problems, hidden)


def _order(line: int | None) -> tuple[bool, int]:
    return line is None, line or 0


def text_of(path: Path) -> str:
    """Return the text of a file, or say in words why it cannot be read."""
    try:
        with path.open("rb") as stream:
            content = stream.read(_LARGEST_FILE + 1)
        text = content.decode("utf-8").replace("\r\n", "\n")
    except FileNotFoundError:
        raise _unreadable(path, "no such file") from None
    except IsADirectoryError:
        raise _unreadable(path, "this is a folder; give the file in it") from None
    except UnicodeDecodeError as error:
        raise _unreadable(path, f"not UTF-8 text (byte {error.start}); save the file as UTF-8") from None
    except (OSError, ValueError) as error:
        raise _unreadable(path, f"cannot be read: {getattr(error, 'strerror', None) or error}") from None
    if len(content) > _LARGEST_FILE:
        raise _unreadable(path, "larger than 1 MB; a sheet or list is a short text file")
    return text


def _unreadable(path: Path, message: str) -> SheetError:
    return SheetError([Problem(str(path), None, "", message)])


def toml_of(text: str, name: str) -> dict[str, Any]:
    """Return what TOML makes of a text. Errors: SheetError with the line that is not valid."""
    deep = _DEEP_KEY.search(text)
    if deep:  # the TOML reader takes time and memory with the square of the depth
        message = "a key of more than 12 parts; the deepest key of a sheet has three"
        raise SheetError([Problem(name, _line_at(text, deep.start()), "", message)])
    try:
        return tomllib.loads(text.removeprefix("\ufeff"))
    except tomllib.TOMLDecodeError as error:
        raise SheetError([_toml_problem(str(error), text, name)]) from None
    except RecursionError:
        raise SheetError([Problem(name, None, "", "not valid TOML: nested too deeply")]) from None
    except ValueError:
        number = _LONG_NUMBER.search(text)
        line = _line_at(text, number.start()) if number else None
        raise SheetError([Problem(name, line, "", "a number of too many digits")]) from None


def _toml_problem(message: str, text: str, name: str) -> Problem:
    """Word what the TOML reader says, with the line as it stands in the file."""
    place = _TOML_PLACE.search(message)
    line = int(place.group(1)) if place and place.group(1) else None
    words = _TOML_PLACE.sub("", message)
    read = f"; read {shown(text.split(chr(10))[line - 1].strip())}" if line else ""
    hint = f'not valid TOML: {words}{read}; a line reads key = "value", a table header reads [name]'
    return Problem(name, line, "", hint)


def _line_at(text: str, place: int) -> int:
    return text.count("\n", 0, place) + 1


def fault_of(detail: ErrorDetails) -> tuple[KeyPath, str]:
    """Turn one validation error into the path it belongs to and a sentence."""
    path = tuple(part for part in detail["loc"] if part != "[key]")  # a fault in the name of an own entry
    read = f"read {shown(detail['input'])}"
    match detail["type"]:
        case "extra_forbidden":
            message = unknown_key(path)
        case "missing":
            message = _missing_key(path)
        case "value_error":
            message = str(detail["ctx"]["error"])
        case "model_type" | "model_attributes_type":
            message = f"{read}: a table is wanted here, under a header {_header(path)}"
        case "dict_type":
            message = f"{read}: tables are wanted here, each under a header {_header((*path, 'a name'))}"
        case "list_type":
            message = f"{read}: tables are wanted here, each under a header {_header((*path, 0))}"
        case _:
            message = f"{read}: {detail['msg']}"
    return path, message


def _header(path: KeyPath) -> str:
    """The header a table is written under: in double brackets when the path leads to a place in a list.

    >>> _header(("propeller", "station", 1))
    '[[propeller.station]]'
    """
    names = dotted(tuple(part for part in path if isinstance(part, str)))
    return f"[[{names}]]" if isinstance(path[-1], int) else f"[{names}]"


def unknown_key(path: KeyPath) -> str:
    """Return what to write instead of a key that a table does not have."""
    key, section = str(path[-1]), section_at(path[:-1])
    valid = [] if section is None else list(section.fields_by_key())
    homes = Sheet.homes_of(key)
    if homes:
        return f"no such key here; it belongs in {' or '.join(homes[:3])}"
    near = nearest_name(key[:200], tuple(valid))
    if near:
        return f"no such key; did you mean {near}?"
    what = "tables" if section is Sheet else "keys"
    return f"no such key; allowed {what}: {', '.join(valid)}"


def _missing_key(path: KeyPath) -> str:
    key, section = str(path[-1]), section_at(path[:-1])
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
    if field is not None and str in plain_types(field.annotation):
        return f'"{example}"'
    if example in {"true", "false"}:
        return example
    try:
        float(example)
    except ValueError:
        return f'"{example}"'
    return example


def plain_types(annotation: object) -> list[object]:
    """The types an annotation is made of, through unions and annotated types."""
    inner = get_args(annotation)
    return [kind for part in inner for kind in plain_types(part)] if inner else [annotation]
