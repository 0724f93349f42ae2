"""The first page, the list of sheets, and what all pages are made with: light, so as to be there at once."""

from __future__ import annotations

from importlib.metadata import version
from typing import Any

from jinja2 import Environment, PackageLoader, StrictUndefined
from starlette.responses import HTMLResponse

from bladehold.cautions import cautions
from bladehold.web.shelf import Shelf

_VERSION = version("bladehold")
HTMX = "htmx-2.0.11.min.js"
_pages = Environment(
    loader=PackageLoader("bladehold.web"), autoescape=True, undefined=StrictUndefined, trim_blocks=True
)


def page(template: str, *, invented: bool = False, status: int = 200, **words: Any) -> HTMLResponse:
    """Return a page made of a template; invented - whether what it shows rests on made-up data."""
    words = {
        "here": "",
        "said": "",
        "data_at": "",
        "htmx": HTMX,
        "version": _VERSION,
        "cautions": cautions(invented=invented),
        **words,
    }
    return HTMLResponse(_pages.get_template(template).render(**words), status_code=status)


def shelf_page(shelf: Shelf, said: str = "", status: int = 200) -> HTMLResponse:
    """Return the page of a folder; said - what went wrong."""
    return page(
        "shelf.html",
        status=status,
        here="shelf",
        data_at="/api/sheets",
        said=said,
        folder=shelf.folder,
        names=shelf.names(),
        lines=shelf.line_names(),
    )
