"""The small HTML view of an assessment for notebooks: verdict, margins, cautions, without script or style."""

from __future__ import annotations

from html import escape
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from bladehold.study.assess import Assessment

_SIGNS = {True: "✗", False: "✓"}


def assessment_html(found: Assessment) -> str:
    """Return the assessment as one HTML fragment with escaped text."""
    from bladehold.cautions import CAUTIONS, INVENTED
    from bladehold.study.words import life_sentence, reservation_sentence, verdict_sentence

    reservation = reservation_sentence(found)
    head = f"<p><strong>{escape(verdict_sentence(found))}</strong></p>"
    if reservation:
        head += f"<p>{escape(reservation)}</p>"
    life = life_sentence(found)
    if life:
        head += f"<p>{escape(life)}</p>"
    rows = "".join(
        "<tr>"
        f"<td>{_SIGNS[check.margin < 0]}</td><td>{escape(check.part)}</td>"
        f"<td>{escape(check.mode)} ({escape(check.level)})</td><td>{escape(check.condition)}</td>"
        f"<td style='text-align:right'>{check.margin:+.2f}</td></tr>"
        for check in found.checks
    )
    titles = "".join(f"<th>{title}</th>" for title in ("", "part", "mode", "condition", "margin"))
    table = f"<table><thead><tr>{titles}</tr></thead><tbody>{rows}</tbody></table>"
    notes = [INVENTED] if found.build.invented else []
    assumed = "".join(
        f"<li>{escape(item.key)} = {escape(item.value)}: {escape(item.why)}</li>"
        for item in found.build.assumptions
    )
    listing = f"<details><summary>Assumed inputs</summary><ul>{assumed}</ul></details>" if assumed else ""
    cautions = "".join(f"<p><small>{escape(text)}</small></p>" for text in (*notes, *CAUTIONS))
    return f"{head}{table}{listing}{cautions}"
