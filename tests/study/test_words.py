"""Verdicts and lives in words: verbs that fit their parts, lives that are never nothing."""

from dataclasses import replace

import pytest
from sheets import delivered, repaired

from bladehold.study import assess
from bladehold.study.assess import Assessment
from bladehold.study.checks.fatigue import LIFE
from bladehold.study.checks.parts import BUSH, LUG, MOUNTING, PIVOT, PLATES, TIES, verb
from bladehold.study.words import life_sentence, verdict_sentence


def of_part(found: Assessment, part: str, margin: float) -> Assessment:
    """The assessment with one strength check left: of that part, with that margin."""
    check = replace(found.governing, part=part, margin=margin, service=False)
    return replace(found, checks=(check,))


@pytest.mark.parametrize("part", [PIVOT, LUG, BUSH, PLATES, TIES, MOUNTING])
def test_verbs_go_with_their_parts(part):
    several = part.endswith("s")
    assert verb(part, "fails", "fail") == ("fail" if several else "fails")
    failing = verdict_sentence(of_part(assess(delivered()), part, -0.5))
    assert f"the {part} {'fail' if several else 'fails'} first: " in failing
    little = verdict_sentence(of_part(assess(delivered()), part, 0.01))
    assert f"the {part} {'have' if several else 'has'} little left: " in little


@pytest.mark.parametrize(
    ("hours", "words"),
    [(0.001, "under a minute"), (0.75, "45 min"), (12.34, "12.3 h"), (10_690.0, "10 700 h")],
)
def test_lives_are_told_in_words_that_fit_their_size(hours, words):
    found = assess(repaired())
    short = found.shortest
    inputs = tuple(replace(one, value=3600.0 * hours) if one.name == LIFE else one for one in short.inputs)
    checks = tuple(replace(short, inputs=inputs) if one is short else one for one in found.checks)
    said = life_sentence(replace(found, checks=checks))
    last = verb(short.part, "lasts", "last")
    assert said.startswith(f"Life: the {short.part} ({short.mode}) {last} shortest, {words} with a ")
    assert "about 0 h" not in said and "e+" not in said


def test_a_part_that_does_not_last_is_a_reservation():
    found = assess(delivered())
    short = found.shortest
    several = replace(short, part=TIES)
    checks = tuple(several if one is short else one for one in found.checks)
    for kept, does in ((found, verb(short.part, "does", "do")), (replace(found, checks=checks), "do")):
        part = kept.shortest.part
        assert f"the {part} {does} not last the service life" in kept.reservations
