"""Advice is found by trying: what it promises is what assess then says."""

from dataclasses import replace

import pytest
from sheets import delivered, repaired

from bladehold.study import advise, assess
from bladehold.study.advise import changes_of
from bladehold.study.change import MisfitError


def tried(build):
    """Every change that fits, with the smallest margin it leads to."""
    for text, make in changes_of(build):
        try:
            yield text, assess(make()).margin
        except MisfitError:
            continue


@pytest.mark.parametrize("make", [delivered, repaired])
def test_most_is_the_best_of_what_is_tried_and_comes_true(make):
    build = make()
    most = advise(assess(build)).most
    assert most is not None and most.after > most.before
    margins = dict(tried(build))
    assert margins[most.text] == pytest.approx(most.after, rel=1e-12)
    assert max(margins.values()) <= most.after + 0.0051


def test_enough_is_the_first_that_suffices():
    heavy = delivered()
    build = replace(heavy, flying=replace(heavy.flying, used_thrust=0.4 * heavy.flying.used_thrust))
    enough = advise(assess(build)).enough
    assert enough is not None
    first = next(text for text, margin in tried(build) if margin >= build.policy.marginal)
    assert enough.text == first


def test_nothing_is_asked_of_a_build_that_holds():
    assert advise(assess(repaired())).enough is None
