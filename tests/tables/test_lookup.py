"""Looking rows up by name, and what an unknown name is answered with."""

import pickle

import pytest

from bladehold import tables
from bladehold.tables.lookup import keyed, nearest_name


@pytest.mark.parametrize(
    ("ask", "kind", "nearest"),
    [
        (lambda: tables.thread("m4"), "thread", "M4"),
        (lambda: tables.property_class("A270"), "property class", "A2-70"),
        (lambda: tables.property_class("8,8"), "property class", "8.8"),
        (lambda: tables.material("7075T6"), "material", "7075-T6"),
        (lambda: tables.material("carbon woven"), "material", "carbon-woven"),
        (lambda: tables.clearance_hole("M4", "normal"), "clearance hole kind", None),
        (lambda: tables.clearance_hole("M4.", "medium"), "medium clearance hole size", "M4"),
        (lambda: tables.head("M4", "hex"), "head kind", "hexagon"),
        (lambda: tables.head("M4.", "socket"), "socket head size", "M4"),
        (lambda: tables.nut("M4", "lock"), "nut kind", "locking"),
        (lambda: tables.nut("M2", "locking"), "locking nut size", None),
        (lambda: tables.washer("M4.0"), "washer size", "M4"),
        (lambda: tables.lubrication("lubed"), "lubrication state", "lubricated"),
        (
            lambda: tables.tightening("torque wrench, estimated"),
            "tightening method",
            "torque wrench, friction estimated",
        ),
        (lambda: tables.factor("fiting"), "factor", "fitting"),
    ],
)
def test_unknown_names_suggest_the_nearest(ask, kind, nearest):
    with pytest.raises(tables.UnknownName) as error:
        ask()
    assert isinstance(error.value, LookupError)
    assert error.value.kind == kind
    assert error.value.nearest == nearest
    assert nearest is None or nearest in error.value.allowed


def test_the_message_reads_as_a_sentence():
    with pytest.raises(tables.UnknownName) as error:
        tables.nut("M4", "lock")
    assert str(error.value) == (
        "unknown nut kind 'lock': did you mean 'locking'? known are hexagon, thin, locking"
    )
    with pytest.raises(tables.UnknownName) as error:
        tables.head("M4", "0")
    assert str(error.value) == "unknown head kind '0': known are socket, hexagon"


def test_the_error_survives_the_way_from_a_worker_process():
    error = tables.UnknownName("thread", "m4", "M4", ("M3", "M4"))
    again = pickle.loads(pickle.dumps(error))
    assert (again.kind, again.name, again.nearest, again.allowed) == ("thread", "m4", "M4", ("M3", "M4"))


def test_nothing_is_suggested_when_nothing_is_near():
    assert nearest_name("unobtainium", ("M3", "M4")) is None


def test_two_rows_with_one_name_are_refused():
    assert keyed([("a", 1), ("b", 2)]) == {"a": 1, "b": 2}
    with pytest.raises(tables.TableError, match="two rows are called 'a'"):
        keyed([("a", 1), ("a", 2)])


def test_every_name_resolves():
    for names, look_up in [
        (tables.thread_names, tables.thread),
        (tables.property_class_names, tables.property_class),
        (tables.material_names, tables.material),
        (tables.blade_material_names, tables.blade_material),
        (tables.lubrication_names, tables.lubrication),
        (tables.tightening_names, tables.tightening),
        (tables.factor_names, tables.factor),
        (tables.thread_fatigue_names, tables.thread_fatigue),
    ]:
        assert names()
        for name in names():
            assert look_up(name).name == name


def test_the_public_face_is_what_it_lists():
    assert sorted(tables.__all__) == sorted(set(tables.__all__))
    public = {
        name
        for name, value in vars(tables).items()
        if not name.startswith("_") and getattr(value, "__name__", "").split(".")[0] != "bladehold"
    }
    assert public == set(tables.__all__)
