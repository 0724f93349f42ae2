"""The starter sheet: every key with an example and what it means, made from the sheet's own fields."""

from __future__ import annotations

from collections.abc import Iterator

from bladehold.sheet.fields import Section
from bladehold.sheet.reader import typed
from bladehold.sheet.sheet import Sheet, section_in

_HEAD = """\
# Build sheet: what you own and how you fly it, measured with ruler, scale and thrust stand.
# Every figure below is an invented example: replace it. Lines that begin with "# " and a key are optional:
# take the # away where you know the value. What is left out is assumed on the safe side and listed.
# Quantities are texts with a unit ("26 in", "41 g", "0.9 N*m"); numbers without a unit are refused.
"""


def starter_text() -> str:
    """Return a complete commented sheet that reads without a fault."""
    lines = [_HEAD]
    for key, field in Sheet.fields_by_key().items():
        section = section_in(field)
        if section is not None:
            lines += _table(key, section, many=_is_many(field.annotation), on=field.is_required())
    return "\n".join(lines) + "\n"


def _is_many(annotation: object) -> bool:
    return "list[" in str(annotation)


def _table(name: str, section: type[Section], *, many: bool, on: bool) -> list[str]:
    """The lines of one table and of the tables in it; `on` - written live, not as a comment."""
    mark = "" if on else "# "
    if name in {"classes", "materials"}:
        name = f'{name}."my own"'
    header = f"[[{name}]]" if many else f"[{name}]"
    about = (section.__doc__ or "").partition(": ")[2].rstrip(".")
    lines = [f"{mark}{header}".ljust(40) + f" # {about}"]
    inner: list[str] = []
    for key, field in section.fields_by_key().items():
        sub = section_in(field)
        if sub is not None:
            inner += _table(f"{name}.{key}", sub, many=_is_many(field.annotation), on=False)
            continue
        extra = field.json_schema_extra
        example = str(extra["example"]) if isinstance(extra, dict) else ""
        live = on and field.is_required()
        text = f"{'' if live else '# '}{key} = {typed(example, field)}"
        lines.append(f"{text.ljust(40)} # {field.description}")
    return [*lines, "", *inner]


def keys_of(section: type[Section], prefix: str = "") -> Iterator[str]:
    """Yield the dotted name of every key of a section and the sections in it."""
    for key, field in section.fields_by_key().items():
        sub = section_in(field)
        name = f"{prefix}.{key}" if prefix else key
        if sub is None:
            yield name
        else:
            yield from keys_of(sub, name)
