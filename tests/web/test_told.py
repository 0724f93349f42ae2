"""What the command line prints, as blocks of a page."""

from rich.console import Console
from rich.table import Table
from rich.text import Text
from web_bench import EXAMPLES, SHEET

from bladehold.cautions import CAUTIONS
from bladehold.report.limit import show_limit
from bladehold.report.plain_table import number_table, show_table
from bladehold.report.terminal import show_cautions, show_notes, signed_margin
from bladehold.sheet import load_sheet, resolve
from bladehold.study.limit import limit
from bladehold.web.told import told_by


def show(console: Console) -> None:
    console.print(Text("All hold.", style="bold"))
    console.print(Text("! Not so sure.", style="yellow"))
    table = number_table("part", "margin")
    table.add_row("[lug]", signed_margin(-0.2, 0.15))
    show_table(console, "Margins", table)
    own = Table(title="Its own title")
    own.add_column("speed\nrpm", justify="right")
    own.add_row("900")
    console.print(own)
    show_notes(console, "Notes", ["- one", "two"])
    show_notes(console, "None", [])
    show_cautions(console, invented=True)


def test_words_tables_and_lists_keep_their_order_titles_and_states():
    words, table, own, notes = told_by(show)
    assert words == {"kind": "words", "text": "! Not so sure.", "state": "little"}
    assert table["title"] == "Margins"
    assert [column["number"] for column in table["columns"]] == [False, True]
    assert table["rows"][0][0] == {"text": "[lug]", "state": ""}
    assert table["rows"][0][1]["state"] == "fails"
    assert own["title"] == "Its own title"
    assert own["columns"] == [{"title": "speed\nrpm", "number": True}]
    assert notes == {"kind": "list", "title": "Notes", "lines": ["- one", "two"]}


def test_the_limits_of_a_sheet_are_whole():
    build = resolve(load_sheet(EXAMPLES / SHEET), str(EXAMPLES))
    found = limit(build)
    blocks = told_by(lambda console: show_limit(console, build, found, "no answer"))
    (table,) = (one for one in blocks if one["kind"] == "table")
    assert [row[0]["text"] for row in table["rows"]] == [part.part for part in found.parts]
    assert not any(caution in str(blocks) for caution in CAUTIONS)
