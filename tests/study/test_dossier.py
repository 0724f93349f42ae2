"""The dossier: what it asks, what it misses and says so, the windows by temperature, where it comes from."""

import hashlib
from datetime import date
from pathlib import Path

import pytest

from bladehold.sheet import parse_sheet, resolve
from bladehold.study.dossier import DRIVE, TIGHTNESS, gather, origin_of
from bladehold.study.sources import FORMULA

SHEET = Path(__file__).parents[2] / "examples" / "tarn6_repaired.toml"
DAY = date(2026, 1, 15)


@pytest.fixture(scope="module")
def found():
    text = SHEET.read_text(encoding="utf-8")
    sheet = parse_sheet(text)
    return gather(sheet, resolve(sheet, SHEET.parent), text, DAY, SHEET.parent)


def test_all_answers_are_about_the_same_checks(found):
    assert not found.missing and found.drive is not None and found.envelope is not None
    assert found.drive.held is found.limit
    keys = [check.key for check in found.assessment.checks]
    assert [check.key for check in found.life.assessment.checks] == keys
    assert found.holds is found.assessment.holds is True


def test_the_window_at_the_sheets_temperature_is_the_sheets(found):
    tight = found.joint.tightness
    at = [one.temperature for one in found.windows]
    assert at == sorted(at) and (at[0], at[-1]) == (tight.temperatures[0], tight.temperatures[2])
    assert (
        next(one.way for one in found.windows if one.temperature == tight.temperatures[1]) == tight.as_built
    )
    # The clamp of this hub grows with the warmth: set warm, the pivot must be set tighter.
    pulls = [one.way.pull_least for one in found.windows]
    assert pulls == sorted(pulls) and pulls[0] < pulls[-1]


def test_sources_are_told_once_with_how_surely_they_were_read(found):
    assert len({(one.text, one.mark) for one in found.sources}) == len(found.sources)
    by_text = {one.text: one for one in found.sources if one.mark != FORMULA}
    strength = found.build.pivot.strength.strength_provenance
    assert by_text[strength.source].mark == strength.mark
    assert "pivot.strength (strength)" in by_text[strength.source].rests
    unsure = {text for check in found.assessment.checks for text in check.unconfirmed}
    assert unsure and all(by_text[text].unconfirmed for text in unsure)


def test_a_rigid_hub_without_motor_says_what_is_missing():
    text = SHEET.read_text(encoding="utf-8").replace("folding = true", "folding = false")
    head, _, tail = text.partition("[motor]")
    text = f"{head}[flying]{tail.partition('[flying]')[2]}"
    for key in ("pivot_friction", "leading_stop", "trailing_stop"):
        text = "\n".join(line for line in text.splitlines() if not line.startswith(key))
    sheet = parse_sheet(text)
    found = gather(sheet, resolve(sheet, SHEET.parent), text, DAY, SHEET.parent)
    assert [one.what for one in found.missing] == [DRIVE, TIGHTNESS] and not found.windows
    assert all(one.why for one in found.missing)


def test_the_digest_is_that_of_the_text_whatever_ends_its_lines(tmp_path):
    text = SHEET.read_text(encoding="utf-8")
    sheet = parse_sheet(text)
    one, other = origin_of(sheet, text, DAY), origin_of(sheet, text.replace("\n", "\r\n"), DAY)
    assert one == other and one.digest == hashlib.sha256(text.encode()).hexdigest()
    (tmp_path / "own.csv").write_bytes(b"alpha_deg,cl,cd\n")
    named = sheet.model_copy(update={"propeller": sheet.propeller.model_copy(update={"polar": "own.csv"})})
    (file,) = origin_of(named, text, DAY, tmp_path).files
    assert (file.name, file.digest) == ("own.csv", hashlib.sha256(b"alpha_deg,cl,cd\n").hexdigest())
