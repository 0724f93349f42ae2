"""Pictures as files: a chart or a drawing of ours as HTML, SVG or PNG, and the inks they share."""

from __future__ import annotations

import json
from functools import lru_cache
from html import escape
from typing import Any

FORMATS = ("html", "svg", "png")

INK, MUTED, GRID, PALE = "#1f2d3a", "#55636f", "#dfe4e8", "#c3cdd6"

_PAGE = """\
<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>{title}</title>
<style>body {{ margin: 0.5rem; }} svg {{ display: block; width: 100%; height: auto; margin: 0 auto; }}</style>
</head>
<body>
{drawing}</body>
</html>
"""


# The charting library's page is laid out for wide screens only and carries no title.
_HEAD = """\
<head>
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light">
<title>{title}</title>
<style>body {{ background: #ffffff; }} #vis svg.marks {{ max-width: 100%; height: auto; }}</style>
"""
# Scaled by the browser, and without the menu, which would lead to the network.
EMBED = {"renderer": "svg", "actions": False}


def script_safe(data: Any) -> str:
    """Return data as JSON that may stand inside a script element."""
    return json.dumps(data, cls=_ScriptSafe)


@lru_cache(maxsize=1)
def chart_library() -> str:
    """Return the script that draws charts in a page without a network, as it goes into every chart's HTML."""
    import altair
    import vl_convert

    line = ".".join(altair.SCHEMA_VERSION.removeprefix("v").split(".")[:2])
    # None is the whole library, which its types leave out.
    return str(vl_convert.javascript_bundle(None, vl_version=line))  # type: ignore[arg-type]


class _ScriptSafe(json.JSONEncoder):
    """JSON that may stand inside a script element: no name in it can close the element."""

    def encode(self, o: Any) -> str:
        """Return the JSON text of o without any opening angle bracket."""
        return super().encode(o).replace("<", "\\u003c")


def render(chart: Any, kind: str) -> bytes:
    """Return a chart as a file of one of FORMATS; the HTML works without a network."""
    if kind == "html":
        page: str = chart.to_html(inline=True, json_kwds={"cls": _ScriptSafe}, embed_options=EMBED)
        head = _HEAD.format(title=escape(_title_of(chart)))
        return page.replace("<html>", '<html lang="en">', 1).replace("<head>\n", head, 1).encode()
    import vl_convert

    if kind == "svg":
        return str(vl_convert.vegalite_to_svg(chart.to_json())).encode()
    return bytes(vl_convert.vegalite_to_png(chart.to_json(), scale=2))


def _title_of(chart: Any) -> str:
    """The words above a chart, in one line."""
    text = chart.to_dict()["title"]["text"]
    return text if isinstance(text, str) else " ".join(text)


def render_drawing(drawing: str, kind: str) -> bytes:
    """Return a drawing (SVG text) as a file of one of FORMATS."""
    if kind == "html":
        title = drawing.partition("<title>")[2].partition("</title>")[0]
        return _PAGE.format(title=title, drawing=drawing).encode()
    if kind == "svg":
        return drawing.encode()
    import vl_convert

    return bytes(vl_convert.svg_to_png(drawing, scale=2))
