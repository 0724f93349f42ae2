"""Lives as the crew meets them: when parts go, looks, and what would change the shortest."""

from dataclasses import replace

import pytest
from sheets import delivered, repaired

from bladehold.study import life_answer
from bladehold.study.life import lives_of
from bladehold.study.situation import Situation


@pytest.fixture(scope="module", params=[delivered, repaired])
def found(request):
    return life_answer(request.param())


def test_lives_are_those_of_the_joint_shortest_first(found):
    alone = lives_of(Situation(found.build, found.loads))
    assert {(x.part, x.mode): x.hours for x in alone} == {(x.part, x.mode): x.hours for x in found.lives}
    hours = [x.hours for x in found.lives if x.hours is not None]
    assert hours == sorted(hours) and found.shortest.hours == hours[0]
    assert found.lasts == (hours[0] >= found.service_hours)


def test_parts_go_no_later_than_the_service_life(found):
    for one in found.keeping:
        assert one.hours == min(one.life.hours, found.service_hours)
        assert one.flights == pytest.approx(one.hours * 3600 / found.build.flying.flight_time)
        assert one.rules and (one.interval is None or one.interval == pytest.approx(one.hours / 3))


def test_what_cannot_be_seen_is_not_looked_at():
    parts = {one.part: one for one in life_answer(delivered()).keeping}
    assert parts["hub plates"].interval is None and "cannot be looked at" in " ".join(
        parts["hub plates"].rules
    )
    assert parts["pivot screw"].interval is not None and "torque checked" in " ".join(
        parts["pivot screw"].rules
    )
    base = repaired()
    unsaid = life_answer(replace(base, hub=replace(base.hub, inspectable=None)))
    assert any("not said" in rule for one in unsaid.keeping for rule in one.rules)


def test_levers_do_what_they_say():
    """Half as many manoeuvres, flown: turns, loops and course all follow; told within 3 %."""
    base = repaired()
    before = life_answer(base)
    told = {lever.change: lever.ratio for lever in before.levers}["half as many hard manoeuvres"]
    events = replace(base.flying.events, manoeuvres=base.flying.events.manoeuvres // 2)
    after = life_answer(replace(base, flying=replace(base.flying, events=events)))
    assert after.shortest.hours / before.shortest.hours == pytest.approx(told, rel=0.03)
    assert [lever.ratio for lever in before.levers] == sorted((x.ratio for x in before.levers), reverse=True)


def test_the_slope_is_that_of_life_over_load():
    life = life_answer(repaired()).shortest
    # 7075-T6 in the handbook's form falls with a power between 6 and 20 of the load
    assert -20.0 < life.slope < -6.0


def test_more_gusts_more_manoeuvres_shorter_lives():
    base = repaired()
    hours = []
    for times in (1, 10, 100):
        events = replace(base.flying.events, gusts=times, manoeuvres=times)
        flying = replace(base.flying, events=events, flight_time=5400.0)
        lives = life_answer(replace(base, flying=flying)).lives
        hours.append(lives[0].hours)
    assert hours[0] > hours[1] > hours[2]
