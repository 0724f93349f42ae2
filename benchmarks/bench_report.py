"""Speed of the report, warm, step by step: `make bench`. Nothing here asserts a time."""

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from bladehold.report.document_html import html_of
from bladehold.report.document_pdf import pdf_of
from bladehold.report.document_xlsx import xlsx_of
from bladehold.sheet import parse_sheet, resolve
from bladehold.study.dossier import gather
from bladehold.study.remembered import forget

SHEET = Path(__file__).parents[1] / "examples" / "tarn6_repaired.toml"


def asked():
    """Everything about the repaired example, its rotor solved anew."""
    forget()
    text = SHEET.read_text(encoding="utf-8")
    sheet = parse_sheet(text)
    return gather(sheet, resolve(sheet, SHEET.parent), text, date(2026, 1, 15), SHEET.parent)


@pytest.fixture(scope="module")
def found():
    return asked()


def test_gather(benchmark):
    assert benchmark(asked).assessment.checks


@pytest.mark.parametrize("write", [html_of, pdf_of, xlsx_of], ids=["html", "pdf", "xlsx"])
def test_write(benchmark, found, write):
    """Pictures are drawn anew: what is kept of a dossier is not kept of its copy."""
    assert benchmark(lambda: write(replace(found)))
