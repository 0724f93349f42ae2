"""Tables of the terminal that stand under a title of their own."""

from __future__ import annotations

from rich.box import SIMPLE_HEAD
from rich.console import Console
from rich.table import Table
from rich.text import Text


def show_table(console: Console, title: str, table: Table) -> None:
    """Print a table under its title."""
    # Some tables are narrower than their titles: as the table's own they would be broken.
    console.print()
    console.print(Text(title, style="italic"))
    console.print(table)


def number_table(*columns: str) -> Table:
    """Return an empty table whose first column holds words, the others numbers."""
    table = Table(box=SIMPLE_HEAD, padding=(0, 1, 0, 0))
    for place, name in enumerate(columns):
        table.add_column(name, justify="right" if place else "left", overflow="fold", no_wrap=place > 0)
    return table


def word_table(*columns: str) -> Table:
    """Return an empty table of words, which break where the line is too short for them."""
    table = Table(box=SIMPLE_HEAD, padding=(0, 1, 0, 0))
    for name in columns:
        table.add_column(name, overflow="fold")
    return table
