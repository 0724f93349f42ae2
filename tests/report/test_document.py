"""The report on a build: one content in HTML, PDF and XLSX, safe from what a sheet says, alike every time."""

import hashlib
import io
import json
import re
from base64 import b64decode
from dataclasses import replace
from datetime import date
from html.parser import HTMLParser
from itertools import pairwise
from pathlib import Path

import numpy as np
import openpyxl
import pypdf
import pypdfium2
import pytest

from bladehold.cautions import CAUTIONS
from bladehold.report.document_html import html_of
from bladehold.report.document_pdf import pages_of, pdf_of
from bladehold.report.document_sections import document_of
from bladehold.report.document_xlsx import xlsx_of
from bladehold.sheet import parse_sheet, resolve
from bladehold.study.dossier import gather
from bladehold.study.words import verdict_sentence

SHEET = Path(__file__).parents[2] / "examples" / "tarn6_as_delivered.toml"
NAME = "=1+1 </script><b>x</b> #pagebreak() $a$ {{ 7*7 }}"
MAKER = "@SUM(A1) <img src=x onerror=alert(1)>"
DAY = date(2026, 1, 15)
LIBRARY = 400_000  # characters, above which a script is a library and no chart


def dossier_of(text, day=DAY):
    sheet = parse_sheet(text)
    return gather(sheet, resolve(sheet), text, day)


@pytest.fixture(scope="module")
def text():
    """The delivered example with hostile names and no motor."""
    given = SHEET.read_text(encoding="utf-8")
    named = given.replace("Tarn 6, as delivered", NAME).replace("Ostrel Works (invented)", MAKER)
    return re.sub(r"(?ms)^\[motor\].*?(?=^\[flying\])", "", named)


@pytest.fixture(scope="module")
def found(text):
    return dossier_of(text)


@pytest.fixture(scope="module")
def page(found):
    return html_of(found)


@pytest.fixture(scope="module")
def pages(found):
    return pdf_of(found)


@pytest.fixture(scope="module")
def book(found):
    return openpyxl.load_workbook(io.BytesIO(xlsx_of(found)))


class Read(HTMLParser):
    """What a browser would make of a page: elements, addresses, words, scripts, styles."""

    def __init__(self, text):
        super().__init__()
        self.elements, self.addresses, self.words, self.raw = [], [], [], {"script": [], "style": []}
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        self.elements.append((tag, dict(attrs)))
        named = {"src", "href", "srcset", "data", "action", "poster", "xlink:href"}
        self.addresses += [value for key, value in attrs if key in named]

    def handle_data(self, data):
        kind = self.lasttag if self.lasttag in self.raw and self.cdata_elem else None
        (self.raw[kind] if kind else self.words).append(data)

    @property
    def text(self):
        return " ".join(" ".join(self.words).split())


@pytest.fixture(scope="module")
def read(page):
    return Read(page)


def flat(text):
    """Text without any white space, for a PDF breaks its lines."""
    return re.sub(r"[\s\u200b]", "", text)


@pytest.fixture(scope="module")
def printed(pages):
    return [flat(sheet.extract_text()) for sheet in pypdf.PdfReader(io.BytesIO(pages)).pages]


def test_the_page_fetches_nothing_and_has_the_library_once(read):
    assert read.addresses and all(one.startswith(("#", "data:image/svg+xml;")) for one in read.addresses)
    assert not any(tag in {"link", "iframe", "object", "base"} for tag, _ in read.elements)
    assert not re.search(r"@import|url\(", "".join(read.raw["style"]))
    assert sum(len(one) > LIBRARY for one in read.raw["script"]) == 1


def test_the_page_says_names_and_never_obeys_them(read, page):
    tags = [tag for tag, _ in read.elements]
    assert "b" not in tags and page.count("</script>") == tags.count("script")
    assert not any(key.startswith("on") for _, attrs in read.elements for key in attrs)
    assert read.text.count(NAME) > 5 and MAKER in read.text


def test_its_outline_can_be_walked(read):
    levels = [int(tag[1]) for tag, _ in read.elements if re.fullmatch(r"h[1-6]", tag)]
    assert levels[0] == 1 and levels.count(1) == 1
    assert all(after - before <= 1 for before, after in pairwise(levels))
    tags = [tag for tag, _ in read.elements]
    assert {"header", "nav", "main", "footer"} <= set(tags)
    assert tags.count("caption") == tags.count("table") > 10
    assert all("scope" in attrs for tag, attrs in read.elements if tag == "th")
    assert all(attrs.get("alt") for tag, attrs in read.elements if tag == "img")
    places = {attrs["id"] for _, attrs in read.elements if "id" in attrs}
    assert {one[1:] for one in read.addresses if one.startswith("#")} <= places


def test_every_picture_is_drawn_live_and_still(read):
    charts = [
        json.loads(words)
        for words, kind in zip(
            read.raw["script"], [attrs for tag, attrs in read.elements if tag == "script"], strict=True
        )
        if kind.get("type") == "application/json"
    ]
    stills = [b64decode(one.partition(",")[2]).decode() for one in read.addresses if one.startswith("data:")]
    assert len(charts) == len(stills) == 9 and all(still.startswith("<svg") for still in stills)
    assert all("title" not in chart and chart["description"] for chart in charts)
    assert 'class="clevis"' in "".join(f'class="{attrs.get("class")}"' for _, attrs in read.elements)


def test_all_forms_have_every_check_with_the_same_numbers(found, read, printed, book):
    whole = "".join(printed)
    rows = list(book["Checks"].iter_rows(min_row=2, values_only=True))
    heads = [cell.value for cell in book["Checks"][1]]
    assert len(rows) == len(found.assessment.checks) > 30
    for check, row in zip(found.assessment.checks, rows, strict=True):
        listed = dict(zip(heads, row, strict=True))
        assert (listed["part"], listed["mode"]) == (check.part, check.mode)
        assert check.key in read.text and flat(check.key) in whole
        assert check.formula in read.text and flat(check.source) in whole
        if not np.isfinite(check.margin):
            assert listed["margin"] is None
            continue
        said = f"{listed['margin']:+.2f}" if check.margin < 100 else ">100"
        assert listed["margin"] == pytest.approx(check.margin) and listed["demand"] == pytest.approx(
            check.demand
        )
        shown = read.text.partition("All checks, weakest first")[2]
        assert said in shown[shown.index(check.key) :][:120]
        assert re.search(rf"{re.escape(flat(check.key))}\S{{0,9}}{re.escape(said)}", whole)


def test_all_forms_have_verdict_cautions_and_digest(found, text, read, printed, book):
    digest = hashlib.sha256(text.encode()).hexdigest()
    verdict = {row[0]: row[1] for row in book["Verdict"].iter_rows(values_only=True)}
    assert found.origin.digest == verdict["SHA-256 of the sheet"] == digest
    cells = {row[1] for row in book["Verdict"].iter_rows(values_only=True)}
    sentence = verdict_sentence(found.assessment)
    for said in (digest, sentence, *CAUTIONS, "motor and battery: the sheet lacks [motor] or [battery]"):
        assert said in read.text and flat(said) in "".join(printed)
        assert any(said in str(cell) for cell in cells)
    lines = [row[1] or "" for row in book["Sheet"].iter_rows(min_row=2, values_only=True)]
    whole = "".join(printed)
    assert lines == text.splitlines() and all(flat(line) in whole for line in lines)


def test_unconfirmed_sources_and_assumptions_say_so(found, read, book):
    unsure = [one for one in found.sources if one.unconfirmed]
    assert unsure and {one.text for one in found.sources} >= {
        check.source for check in found.assessment.checks
    }
    table = read.text.partition("Sources, unconfirmed ones last")[2]
    for one in unsure:
        assert f"{one.text} unconfirmed: assumed" in table
    for item in found.build.assumptions:
        assert f"{item.key} assumed: {item.value} {item.why}" in read.text
    assert book["Assumptions"].max_row == 1 + sum(
        len(some)
        for some in (
            found.build.assumptions,
            found.build.blade_assumptions,
            found.build.drive_assumptions,
            found.build.loss_assumptions,
        )
    )


def test_the_same_sheet_and_day_give_the_same_bytes(found, text, page, pages):
    again = dossier_of(text)
    assert html_of(again) == page and pdf_of(again) == pages and xlsx_of(again) == xlsx_of(found)
    other = replace(again, origin=replace(again.origin, stated=date(2026, 1, 16)))
    assert xlsx_of(other) != xlsx_of(found)


def test_no_page_is_blank_and_none_is_cut(pages):
    for sheet in pypdfium2.PdfDocument(pages):
        seen = sheet.render(scale=0.5, grayscale=True).to_numpy()
        # Between the lines at head and foot.
        body, edge = seen[40:-30, 20:-20], np.concatenate([seen[:, :8], seen[:, -8:]], axis=1)
        assert np.mean(body < 200) > 0.001 and edge.min() > 200


@pytest.mark.parametrize("times", [1, 3])
def test_the_card_is_one_page_however_much_it_says(found, printed, times):
    document = document_of(found)
    if times > 1:
        beside = tuple(one for one in document.sections if one.key in {"card", "assumed"})
        card = replace(document.card, rows=document.card.rows * times)
        again = pages_of(replace(document, sections=beside, card=card), found)
        printed = [flat(sheet.extract_text()) for sheet in pypdf.PdfReader(io.BytesIO(again)).pages]
    (place,) = [at for at, words in enumerate(printed) if flat(document.card.title) in words]
    ends = flat("A passed check does not excuse an inspection.")
    assert printed[place].count(flat("Tighten in this order")) == times == printed[place].count(ends)
    assert flat("What was assumed") in printed[place + 1] and flat("0.67 N·m (0.65 to 0.70") in printed[place]
    assert flat("DOES NOT HOLD, not to be flown as it is") in printed[place]


def test_the_card_of_a_pivot_that_is_set_by_its_pull_names_no_torque_for_it():
    card = document_of(dossier_of(SHEET.with_name("tarn6_repaired.toml").read_text(encoding="utf-8"))).card
    tables = {
        part.title: part.blocks[0]
        for row in card.rows
        for part in row
        if part.title in {"Tighten in this order", "Set the pivot so tight"}
    }
    screws, windows = tables["Tighten in this order"], tables["Set the pivot so tight"]
    assert screws.rows[-1][3] == "by its pull at the tip, below"
    assert windows.heads == ("at", "pull at the tip, N")
    assert {len(row) for row in windows.rows} == {2}
    assert "9.94 to 11.31" in {row[1] for row in windows.rows}
    assert "No torque serves" in str(card) and "0.90" not in str(card)


def test_no_cell_is_a_formula_and_numbers_are_numbers(found, book):
    cells = [cell for sheet in book for row in sheet.iter_rows() for cell in row]
    assert not [cell.value for cell in cells if cell.data_type == "f"]
    names = [cell for cell in cells if cell.value == NAME]
    assert names and all(cell.quotePrefix for cell in names)
    speeds = [row[2] for row in book["Loads"].iter_rows(min_row=2, values_only=True)]
    assert len(speeds) == len(found.assessment.loads.names) and all(isinstance(one, float) for one in speeds)
    assert "speed rpm" in [cell.value for cell in book["Loads"][1]]
