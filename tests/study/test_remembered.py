"""What is remembered is what would be found again; what the air feels is never taken from another blade."""

import sys
from concurrent.futures import ThreadPoolExecutor
from dataclasses import fields, replace

import numpy as np
import pytest
from sheets import repaired

from bladehold.study.loads import loads_of
from bladehold.study.remembered import Remembered, forget
from bladehold.study.shape import UNFELT, blade_of, shape_key


def changed(build, **blade):
    return replace(build, propeller=replace(build.propeller, **blade))


def same(one, other):
    for field in fields(one):
        a, b = getattr(one, field.name), getattr(other, field.name)
        if field.name == "root":
            same(a, b)
        elif isinstance(a, np.ndarray):
            assert np.array_equal(a, b), field.name
        else:
            assert a == b, field.name


def test_loads_from_memory_are_those_computed_anew():
    build = changed(repaired(), blade_mass=0.037)
    loads_of(repaired())
    remembered = loads_of(build)
    forget()
    same(remembered, loads_of(build))


@pytest.mark.parametrize(
    "blade", [{"diameter": 0.62}, {"pitch": 0.19}, {"widest_chord": 0.047}, {"section": "clark-y"}]
)
def test_what_the_air_feels_is_solved_anew(blade):
    build = repaired()
    before = loads_of(build)
    after = loads_of(changed(build, **blade))
    assert not np.array_equal(before.speed, after.speed)
    forget()
    same(after, loads_of(changed(build, **blade)))


def test_every_field_of_a_blade_is_either_felt_or_known_to_be_unfelt():
    build = repaired()
    blade, key = build.propeller, shape_key(build)
    for name in UNFELT:
        if name != "polar":
            assert shape_key(changed(build, **{name: object()})) == key
    for field in fields(blade):
        if field.name not in UNFELT:
            assert shape_key(changed(build, **{field.name: object()})) != key
    # What is unfelt really is: the same shape and section come out.
    light = changed(build, blade_mass=1.0, balance_point=0.2, precone=0.1, folding=False)
    for one, other in zip(vars(blade_of(build)[0]).values(), vars(blade_of(light)[0]).values(), strict=True):
        assert np.array_equal(one, other)


class Question:
    """A question that takes Python to be told from others, as a build does: threads may change over there."""

    def __init__(self, number):
        self.number = number

    def __hash__(self):
        return hash(self.number)

    def __eq__(self, other):
        return self.number == other.number


def test_several_threads_may_ask():
    memory = Remembered(1)

    def ask(first):
        return [memory.answer(Question((at // 3 + first) % 3), None, lambda: "found") for at in range(5000)]

    interval = sys.getswitchinterval()
    sys.setswitchinterval(1e-9)
    try:
        with ThreadPoolExecutor(6) as pool:
            assert all(set(answers) == {"found"} for answers in pool.map(ask, range(6)))
    finally:
        sys.setswitchinterval(interval)


def test_the_last_few_are_kept_and_only_for_the_same_thing_beside():
    memory, found = Remembered(2), []

    def ask(question, beside=None):
        def find():
            found.append(question)
            return question

        return memory.answer(question, beside, find)

    for question in "aabacba":
        assert ask(question) == question
    assert found == ["a", "b", "c", "b", "a"]
    polar = object()
    ask("a", polar)
    assert found[-2:] == ["a", "a"]
    ask("a", polar)
    assert len(found) == 6
    forget()
    ask("a", polar)
    assert len(found) == 7
