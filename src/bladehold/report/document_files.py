"""The forms that a report is written in, by the ending of its file."""

from __future__ import annotations

from bladehold.study.dossier import Dossier

FORMATS = ("html", "pdf", "xlsx", "csv")


def document_file(found: Dossier, kind: str) -> bytes:
    """Return everything about a build as a file of one of FORMATS; the CSV has all checks alone."""
    if kind == "csv":
        from bladehold.report.data import as_csv, check_rows

        return as_csv(check_rows(found.assessment)).encode()
    if kind == "xlsx":
        from bladehold.report.document_xlsx import xlsx_of

        return xlsx_of(found)
    if kind == "pdf":
        from bladehold.report.document_pdf import pdf_of

        return pdf_of(found)
    from bladehold.report.document_html import html_of

    return html_of(found).encode()
