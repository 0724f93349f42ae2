"""The fields of a sheet as one holds the parts: what may be typed, what is typed, what is wrong with it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from pydantic.fields import FieldInfo

from bladehold.quantity import Quantity
from bladehold.sheet import Assumption
from bladehold.sheet.fields import Section, words_of
from bladehold.sheet.problem import Problem
from bladehold.sheet.reader import plain_types
from bladehold.sheet.sheet import Sheet, section_in

GROUPS = {
    "aircraft": ("Aircraft and where it flies", ("about", "aircraft", "air", "arm")),
    "propeller": ("Propeller", ("propeller",)),
    "hub": ("Hub and screws", ("hub", "pivot_screw", "tie_screws", "mounting_screws", "setting")),
    "drive": ("Motor and battery", ("motor", "battery")),
    "flying": ("Flying", ("flying",)),
    "rules": ("Factors, tests, materials of your own", ("policy", "bench", "classes", "materials")),
}
"""Groups of the form by their name: title, and tables of the sheet in it. A table in none is in the last."""


@dataclass(frozen=True)
class Field:
    """One field: key in dots; name - last part in words; typed - as the sheet has it; about - what it means;
    example; words - that may be chosen; measures, whole - whether it is a quantity, or counts things;
    required; assumed - what is taken where nothing is typed; error.
    """

    key: str
    name: str
    typed: str
    about: str
    example: str
    words: tuple[str, ...]
    measures: bool
    whole: bool
    required: bool
    assumed: str
    error: str

    @property
    def ident(self) -> str:
        """A name for the page's elements."""
        return self.key.replace(".", "-").replace("[", "-").replace("]", "")


@dataclass(frozen=True)
class TableForm:
    """One table of the sheet: title, what it is about, its fields, and errors about it as a whole."""

    title: str
    about: str
    fields: tuple[Field, ...]
    errors: tuple[str, ...]


@dataclass(frozen=True)
class Group:
    """Tables that belong together."""

    ident: str
    title: str
    tables: tuple[TableForm, ...]

    @property
    def errors(self) -> int:
        """How many faults are in it."""
        return sum(
            len(table.errors) + sum(bool(field.error) for field in table.fields) for table in self.tables
        )


def form_of(
    data: Mapping[str, Any], problems: Sequence[Problem] = (), assumptions: Sequence[Assumption] = ()
) -> tuple[Group, ...]:
    """Return the form of a sheet.

    Arguments: data - of the TOML text, as far as it has the tables of a sheet; problems - with it;
    assumptions - made where it says nothing.
    """
    wrong = {problem.key: problem.message for problem in problems if problem.key}
    assumed = {item.key: item.value for item in assumptions}
    tables: dict[str, list[TableForm]] = {ident: [] for ident in GROUPS}
    home = {name: ident for ident, (_, names) in GROUPS.items() for name in names}
    for name, field in Sheet.fields_by_key().items():
        section = section_in(field)
        if section is not None and not _is_named(field):
            found = _tables(name, name, section, data.get(name), wrong, assumed)
            tables[home.get(name, "rules")] += found
    return tuple(Group(ident, title, tuple(tables[ident])) for ident, (title, _) in GROUPS.items())


def _is_named(field: FieldInfo) -> bool:
    """Whether the entries of a table have names of the user's own: such ones are written in the text."""
    return "dict[" in str(field.annotation)


def _tables(
    key: str,
    title: str,
    section: type[Section],
    data: Any,
    wrong: Mapping[str, str],
    assumed: Mapping[str, str],
) -> Iterator[TableForm]:
    here = data if isinstance(data, Mapping) else {}
    fields, inner = [], []
    for name, field in section.fields_by_key().items():
        sub = section_in(field)
        place = f"{key}.{name}"
        if sub is None:
            fields.append(_field(place, name, field, here.get(name), wrong, assumed))
        elif "list[" not in str(field.annotation):
            inner.append((place, f"{title}: {_words(name)}", sub, here.get(name)))
        elif isinstance(here.get(name), Sequence):
            for at, entry in enumerate(here[name], 1):
                inner.append((f"{place}[{at}]", f"{title}: {_words(name)} {at}", sub, entry))
    own = {field.key for field in fields}
    below = tuple(place for place, *_ in inner)
    # What is said of a key that no field shows stands at the table that it is in.
    errors = tuple(
        f"{other}: {message}"
        for other, message in wrong.items()
        if other not in own and (other == key or other.startswith(f"{key}.")) and not other.startswith(below)
    )
    about = (section.__doc__ or "").partition(": ")[2].rstrip(".")
    yield TableForm(_words(title), about, tuple(fields), errors)
    for place, heading, sub, entry in inner:
        yield from _tables(place, heading, sub, entry, wrong, assumed)


def _field(
    key: str,
    name: str,
    field: FieldInfo,
    value: Any,
    wrong: Mapping[str, str],
    assumed: Mapping[str, str],
) -> Field:
    extra = field.json_schema_extra
    kinds = plain_types(field.annotation)
    words = ("true", "false") if bool in kinds else words_of(field)
    return Field(
        key=key,
        name=_words(name),
        typed=typed_of(value),
        about=field.description or "",
        example=str(extra.get("example", "")) if isinstance(extra, dict) else "",
        words=words,
        measures=Quantity in kinds,
        whole=int in kinds and bool not in kinds,
        required=field.is_required(),
        assumed=assumed.get(key, ""),
        error=wrong.get(key, ""),
    )


def typed_of(value: Any) -> str:
    """Return a value of TOML as it is typed into a field."""
    if value is None or isinstance(value, Mapping | list):
        return ""
    return str(value).lower() if isinstance(value, bool) else str(value)


def _words(name: str) -> str:
    return name.replace("_", " ")
