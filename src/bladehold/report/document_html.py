"""A document as one HTML file that needs nothing beside it: live charts, drawings, tables; no network."""

from __future__ import annotations

from base64 import b64encode

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from bladehold.report.document import CARD_KEY, Document, Picture
from bladehold.report.document_pictures import svg_of
from bladehold.report.document_sections import document_of
from bladehold.report.render import EMBED, chart_library, script_safe
from bladehold.study.dossier import Dossier

TEMPLATES = "templates"


def html_of(found: Dossier) -> str:
    """Return the document about a build as one HTML page."""
    return page_of(document_of(found))


def page_of(document: Document) -> str:
    """Return a document as one HTML page; every text in it is escaped."""
    loader = PackageLoader("bladehold.report", TEMPLATES)
    environment = Environment(loader=loader, autoescape=True, undefined=StrictUndefined)
    style, _, _ = loader.get_source(environment, "document.css")
    page = environment.get_template("document.html.j2").render(
        document=document,
        card_key=CARD_KEY,
        style=Markup(style),
        # Scripts of the charting library and our own drawings, whose words are escaped where they are drawn.
        library=Markup(chart_library()),
        options=Markup(script_safe(EMBED)),
        drawing=lambda picture: Markup(picture.drawing),
        specification=lambda picture: Markup(script_safe({**picture.chart, "description": picture.title})),
        still=_still,
    )
    return f"{page}\n"


def _still(picture: Picture) -> str:
    """A chart as it looks at first, as an address that holds it."""
    return f"data:image/svg+xml;base64,{b64encode(svg_of(picture).encode()).decode()}"
