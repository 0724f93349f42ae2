"""Changing single values in the text of a sheet; its comments, order and spaces stay as they are."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from itertools import pairwise
from typing import Any

import tomlkit
from pydantic.fields import FieldInfo
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import AoT, Item, Table

from bladehold.sheet.locate import lines_of_keys
from bladehold.sheet.reader import plain_types
from bladehold.sheet.sheet import section_at

_PART = re.compile(r"([a-z_]{1,60})(?:\[(\d{1,4})\])?")
_PLAIN = re.compile(r"[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]{1,3})?")
KeyPath = tuple[str | int, ...]


class NoTomlError(ValueError):
    """A text that is no TOML."""


class NoKeyError(ValueError):
    """A key that no field of the form has."""


def path_of(key: str) -> KeyPath:
    """Return the path of a dotted key, list places counted from 0. Errors: NoKeyError for no key of a sheet.

    >>> path_of("flying.segment[2].speed")
    ('flying', 'segment', 1, 'speed')
    """
    path: list[str | int] = []
    for part in key.split("."):
        found = _PART.fullmatch(part)
        if found is None:
            raise NoKeyError(f"{key[:80]!r} is no key of a sheet")
        path.append(found[1])
        if found[2] is not None:
            path.append(int(found[2]) - 1)
    section = section_at(tuple(path[:-1])) if len(path) > 1 else None
    if section is None or path[-1] not in section.fields_by_key():
        raise NoKeyError(f"{key[:80]!r} is no key of a sheet")
    return tuple(path)


def value_of(path: KeyPath, typed: str) -> Any:
    """Return what a typed text is as a value of TOML: a number or a truth value where the key takes one.

    What is no such value stays text, so that the sheet's own rules say what is wrong with it.
    """
    section = section_at(path[:-1])
    assert section is not None
    field = section.fields_by_key()[str(path[-1])]
    kinds = plain_types(field.annotation)
    if typed in {"true", "false"} and bool in kinds:
        return typed == "true"
    if int in kinds and re.fullmatch(r"[+-]?[0-9]{1,18}", typed):
        return int(typed)
    if str in kinds or not _PLAIN.fullmatch(typed) or not _is_ratio(field):
        return typed
    return float(typed)


def _is_ratio(field: FieldInfo) -> bool:
    """Whether a field takes plain numbers: then its example is one."""
    extra = field.json_schema_extra
    return isinstance(extra, dict) and bool(_PLAIN.fullmatch(str(extra.get("example", ""))))


def with_values(text: str, typed: Mapping[str, str], before: str = "") -> str:
    """Return the text of a sheet with values as typed; an empty one takes the key out.

    Arguments: text; typed - by dotted key; before - an earlier text: a key that comes back goes where it had
    it, with what it said in that line. Errors: NoTomlError; NoKeyError; ValueError where the text has
    something else where a table of the key should stand.
    """
    document, had = _parsed(text), text
    for key, value in typed.items():
        if value.strip() and before and not _has(document, path_of(key)):
            text = _with_line_back(text, before, path_of(key))
    if text != had:
        document = _parsed(text)
    for key, value in typed.items():
        _put(document, path_of(key), value.strip(), key)
    return tomlkit.dumps(document)


def _parsed(text: str) -> tomlkit.TOMLDocument:
    try:
        return tomlkit.parse(text)
    except TOMLKitError as error:
        raise NoTomlError(str(error)) from None


def _has(data: Any, path: KeyPath) -> bool:
    try:
        _value_at(data, path)
    except (LookupError, TypeError):
        return False
    return True


def _with_line_back(text: str, before: str, path: KeyPath) -> str:
    """The text with the line that a key it lacks had in an earlier one; as it is where that is not plain."""
    name, parent = path[-1], path[:-1]
    try:
        there, here = lines_of_keys(before), lines_of_keys(text)
        if path in here or path not in there or parent not in here:
            return text
        line = before.splitlines(keepends=True)[there[path] - 1]
        if list(tomllib.loads(line)) != [name]:
            return text  # one of several lines, or of a key with dots
        # After the nearest key that stood above it in its table and still does, else under the table's title.
        above = {
            other: at
            for other, at in there.items()
            if (other[:-1] == parent or other == parent) and other in here and at < there[path]
        }
        lines = text.splitlines(keepends=True)
        at = here[max(above, key=lambda other: above[other])]
        lines[at - 1] = lines[at - 1].rstrip("\r\n") + "\n"
        lines.insert(at, line)
        found = "".join(lines)
        lost = _value_at(tomllib.loads(found), path)
    except (ValueError, LookupError, TypeError):
        return text
    return found if lost == _value_at(tomllib.loads(before), path) else text


def _value_at(data: Any, path: KeyPath) -> Any:
    for part in path:
        data = data[part]
    return data


def _put(document: Any, path: KeyPath, value: str, key: str) -> None:
    table = document
    for part, after in pairwise(path):
        missing = isinstance(part, str) and part not in table
        if missing and value:
            table[part] = tomlkit.aot() if isinstance(after, int) else tomlkit.table()
        elif missing:
            return
        if isinstance(part, int) and not (isinstance(table, AoT) and part < len(table)):
            raise NoKeyError(f"{key}: the sheet has no such entry")
        table = table[part]
    if not isinstance(table, Table):
        raise ValueError(f"{key}: the sheet has a value where a table should stand")
    name = str(path[-1])
    if not value:
        table.pop(name, None)
        return
    new = value_of(path, value)
    if name in table:  # keep what is said about the value in its line
        item, old = tomlkit.item(new), table.value.item(name)
        if isinstance(old, Item):
            if old.unwrap() == new and type(old.unwrap()) is type(new):
                return
            item.trivia.comment, item.trivia.comment_ws = old.trivia.comment, old.trivia.comment_ws
        table[name] = item
    else:
        table.append(name, new)
