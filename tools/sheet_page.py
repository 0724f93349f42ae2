"""Write docs/sheet.md: every key of a build sheet, the units, and what the tables know.

Run it as `python tools/sheet_page.py`, or with `--check`, which writes nothing and ends with 1 when the
page no longer says what the program does. The page is never edited by hand: keys, bounds, examples and
units come from the sheet's own fields; what is assumed for a missing key comes from resolving small
sheets; only what is silently neutral when missing is worded here, in NEUTRAL.
"""

from __future__ import annotations

import argparse
import re
import sys
import textwrap
import tomllib
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any, get_args

from pydantic import PlainValidator
from pydantic.fields import FieldInfo

from bladehold.quantity import KINDS, Quantity
from bladehold.quantity.kinds import SPELLINGS
from bladehold.sheet import sections
from bladehold.sheet.fields import Section
from bladehold.sheet.lineup import OPTIONAL, REQUIRED
from bladehold.sheet.reader import typed
from bladehold.sheet.sheet import Sheet, section_in
from bladehold.study.range_chart import SCALING
from bladehold.tables import MARKS
from sheet_gaps import NEUTRAL, assumptions, said
from table_pages import (
    Sources,
    Table,
    blade_materials_table,
    classes_table,
    materials_table,
    parts_table,
    sections_table,
    threads_table,
)

PAGE = Path(__file__).resolve().parents[1] / "docs" / "sheet.md"
UNUSED = "kept; no check uses it yet"

HEAD = """# The sheet

A build sheet is a TOML text file. It says what you own and how you fly it. `bladehold new` writes one with
every key, an example and a comment; [the quickstart](quickstart.md) shows how to measure. This page is made
by `tools/sheet_page.py` from the program itself, so it cannot disagree with it.

How it is read:

- A quantity is a text with a number and a unit: `"26 in"`, `"34 g"`, `"0.9 N*m"`. A number without a unit is
  refused, and so is a unit of the wrong kind (`"34 g"` is a mass, never a thrust). Decimals have a point.
- Pure ratios are plain numbers (`0.35`) or percentages (`"35 %"`). Counts are whole numbers. Words stand in
  quotes. `true` and `false` stand without.
- An unknown key, a key in the wrong table or a value outside its bounds is refused. Every fault is told at
  once, with file, line, key and what to write instead. The bounds catch slips of unit, not bad taste.
- A key that is left out is assumed. Where a pessimistic side exists, the assumption is on it; where none
  exists, it says "common practice, no source". Every assumption is listed with every result.
- `bladehold show` prints what was read, in SI too, and what was assumed.

The last column says `needed` where the sheet is refused without the key (in an optional table: once the
table is there). A value in the last column is what is assumed. Where only a reason stands, the value follows
from other keys.
"""

NAMES = {
    "class": "a [property class](#property-classes) or one of `[classes]`",
    "section": "a [blade section](#blade-sections)",
    "blade_material": "a [blade material](#blade-materials)",
    "core_material": "a [blade material](#blade-materials)",
    "material": "a [material](#materials) or one of `[materials]`",
}
COLUMNS_OF_A_LINE = {
    "name": ("what the propeller is called", "OW-24F"),
    "diameter": ("tip circle diameter", "24 in"),
    "claimed_thrust": ("the maker's thrust rating", "13 kgf"),
    "present_screw": ("thread of the pivot screw it has", "M3"),
    "present_class": ("its property class; empty: that of the base sheet", "A2-70"),
    "used_thrust": ("thrust of one rotor in steady flight", "4.6 kgf"),
    "blades": ("blades per rotor; empty: as the base sheet", "2"),
    "blade_mass": ("one blade", "34 g"),
    "pitch": ("geometric pitch", "8 in"),
    "balance_point": ("where the blade balances, outboard of the pivot", "102 mm"),
    "pivot_radius": ("rotor axis to pivot", "30 mm"),
    "lug_thickness": ("blade root between the plates", "8 mm"),
    "lug_width": ("blade root across the hole", "18 mm"),
    "plate_thickness": ("one hub plate", "3 mm"),
}


def page() -> str:
    """The whole page as Markdown."""
    sources = Sources()
    tables = [
        "## Threads, property classes, materials, blade sections\n",
        "The mark says how surely a figure was read. What rests on the mark `memory` is named beside every",
        "result it decides. Numbers in brackets are the sources at the end of this page.\n",
        *_table(("mark", "meaning"), ((f"`{mark}`", meaning) for mark, meaning in MARKS.items())),
        *_titled("Threads", threads_table(sources)),
        *_titled("Heads, nuts, washers", parts_table(sources)),
        *_titled("Property classes", classes_table(sources)),
        *_titled("Materials", materials_table(sources)),
        *_titled("Blade materials", blade_materials_table(sources)),
        *_titled("Blade sections", sections_table(sources)),
        "## Sources\n",
        *sources.lines(),
    ]
    lines = [HEAD, *_keys(), *_units(), *_line_of_propellers(), *tables]
    return "\n".join(lines) + "\n"


def _table(header: Iterable[str], rows: Iterable[Iterable[str]]) -> list[str]:
    titles = list(header)
    body = [" | ".join(row) for row in rows]
    return [f"| {' | '.join(titles)} |", f"|{'---|' * len(titles)}", *(f"| {row} |" for row in body), ""]


def _titled(title: str, table: Table) -> list[str]:
    words, header, rows = table
    return [f"### {title}\n", textwrap.fill(words, 110), "", *_table(header, rows)]


def _keys() -> Iterator[str]:
    yield "## Tables and keys\n"
    found, told = assumptions(), set(NEUTRAL)
    for name, section, needed, many in _sections():
        yield f"### {_header(name, many=many)}\n"
        about = (section.__doc__ or "").partition(": ")[2].rstrip(".")
        own = " One table for each, under a name of your own." if name in {"classes", "materials"} else ""
        yield f"{about[0].upper()}{about[1:]}. {'Needed.' if needed else 'Optional.'}{own}\n"
        rows = []
        for key, field in section.fields_by_key().items():
            if section_in(field) is not None:
                continue
            full = f"{name}.{key}"
            told.discard(full)
            example = said(field, "example")
            typed_in = f"`{typed(example, field)}`"
            missing = _when_missing(full, field, found)
            rows.append((f"`{key}`", str(field.description), allowed(key, field), typed_in, missing))
        yield from _table(("key", "meaning", "what may stand there", "example", "when it is missing"), rows)
    if told:
        raise SystemExit(f"NEUTRAL words keys that the sheet does not have: {', '.join(sorted(told))}")


def _sections() -> Iterator[tuple[str, type[Section], bool, bool]]:
    """Every table in the order of the sheet, the ones in it behind it: name, class, needed, a list."""

    def inner(section: type[Section], prefix: str) -> Iterator[tuple[str, type[Section], bool, bool]]:
        for key, field in section.fields_by_key().items():
            sub = section_in(field)
            if sub is not None:
                name = f"{prefix}.{key}" if prefix else key
                yield name, sub, field.is_required(), "list[" in str(field.annotation)
                yield from inner(sub, name)

    listed = list(inner(Sheet, ""))
    if {name for name, *_ in listed} != set(sections()) - {""}:
        raise SystemExit("the page does not list every table of the sheet")
    yield from listed


def _header(name: str, *, many: bool) -> str:
    if name in {"classes", "materials"}:
        return f'`[{name}."name"]`'
    return f"`[[{name}]]`" if many else f"`[{name}]`"


def allowed(key: str, field: FieldInfo) -> str:
    """What may stand under a key, found by asking the key's own reader."""
    for ending, words in NAMES.items():
        if key == ending or key.endswith(f"_{ending}"):
            return words
    read = _reader(field)
    value = read(_plain(said(field, "example"), field))
    if isinstance(value, bool):
        return "true or false"
    if isinstance(value, int):
        return _answer(read, 10**9, r"(a whole number from .*) is wanted") or "a whole number"
    if isinstance(value, str):
        known = _answer(read, "?", r"known: (.*)")
        return "text" if known is None else ", ".join(f"`{word}`" for word in known.split(", "))
    assert isinstance(value, Quantity)
    unit = value.text.partition(" ")[2]
    bounds = _answer(read, f"1e9 {unit}" if value.kind != "ratio" else 1e9, r"must be (.*)")
    return f"{value.kind}, {_ends(bounds)}" if bounds else value.kind


def _ends(bounds: str) -> str:
    """Both ends of a range in words: `> 0 mm and <= 500 mm` is `above 0 mm, to 500 mm`."""
    low, _, high = bounds.partition(" and <= ")
    return f"{low.removeprefix('>= ')} to {high}" if low.startswith(">=") else f"above {low[2:]}, to {high}"


def _plain(example: str, field: FieldInfo) -> Any:
    """An example as the TOML reader would hand it over."""
    return tomllib.loads(f"example = {typed(example, field)}")["example"]


def _reader(field: FieldInfo) -> Any:
    waiting: list[Any] = [*field.metadata, field.annotation]
    while waiting:
        part = waiting.pop()
        if isinstance(part, PlainValidator):
            return part.func
        waiting += [*get_args(part), *getattr(part, "__metadata__", ())]
    raise SystemExit(f"no reader found for {field.description}")


def _answer(read: Any, value: Any, pattern: str) -> str | None:
    """The part of a refusal that says what is allowed; None where the value is taken."""
    try:
        read(value)
    except ValueError as error:
        found = re.search(pattern, str(error))
        return found[1] if found else None
    return None


def _when_missing(full: str, field: FieldInfo, found: dict[str, str]) -> str:
    if not said(field, "used"):
        return f"needed; {UNUSED}" if field.is_required() else UNUSED
    if field.is_required():
        return "needed"
    if (full in found) == (full in NEUTRAL):
        raise SystemExit(f"{full} is optional: it wants either an assumption or a word in NEUTRAL, not both")
    return found.get(full) or NEUTRAL[full]


def _units() -> list[str]:
    used = {_kind(field) for section in sections().values() for field in section.fields_by_key().values()}
    rows = [
        (kind.name, ", ".join(f"`{unit}`" for unit in kind.units), f"`{kind.si_label}`")
        for kind in KINDS.values()
        if kind.name in used
    ]
    others: dict[str, list[str]] = {}
    for text, unit in SPELLINGS.items():
        others.setdefault(unit, []).append(f"`{text}`")
    spellings = "; ".join(f"{', '.join(texts)} for `{unit}`" for unit, texts in others.items())
    return [
        "## Units\n",
        *_table(("kind", "units", "inside"), rows),
        textwrap.fill(
            "Inside, everything is computed in SI. Also understood: `·` for `*`, `²` and `³` for `^2` and "
            f"`^3`; {spellings}.",
            110,
        )
        + "\n",
    ]


def _kind(field: FieldInfo) -> str | None:
    example = said(field, "example")
    if section_in(field) is not None or not example:
        return None
    value = _reader(field)(_plain(example, field))
    return value.kind if isinstance(value, Quantity) else None


def _line_of_propellers() -> list[str]:
    if set(COLUMNS_OF_A_LINE) != {*REQUIRED, *OPTIONAL}:
        raise SystemExit("COLUMNS_OF_A_LINE does not word the columns that a list may have")
    rows = [
        (f"`{key}`", meaning, f"`{example}`", "needed" if key in REQUIRED else _in_words(meaning))
        for key, (meaning, example) in COLUMNS_OF_A_LINE.items()
    ]
    return [
        "## A line of propellers\n",
        textwrap.fill(
            "`bladehold range` reads a CSV file with a row per propeller, and a base sheet of the same "
            "construction. Cells hold quantities with units, as in a sheet. Lines that begin with `#` are "
            f"passed over. {SCALING}",
            110,
        )
        + "\n",
        *_table(("column", "meaning", "example", "when it is empty"), rows),
    ]


def _in_words(meaning: str) -> str:
    return "as said" if "empty:" in meaning else "scaled from the base sheet"


def main() -> int:
    """Write the page, or with --check say whether it is up to date."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--check", action="store_true", help="write nothing; end with 1 when stale")
    text = page()
    if options.parse_args().check:
        if not PAGE.is_file() or PAGE.read_text(encoding="utf-8") != text:
            print("docs/sheet.md is stale: run python tools/sheet_page.py", file=sys.stderr)
            return 1
        return 0
    PAGE.parent.mkdir(exist_ok=True)
    PAGE.write_text(text, encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
