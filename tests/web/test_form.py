"""The form of a sheet: every key once, what is typed, assumed and wrong at its field."""

from web_bench import SHEET

from bladehold.sheet.reader import toml_of
from bladehold.sheet.sheet import Sheet, section_in
from bladehold.sheet.starter import keys_of
from bladehold.sheet.vary import Source, read_axis
from bladehold.web.desk import fields_of, numbers_of, slider_of, sliders_of
from bladehold.web.form import GROUPS, form_of
from bladehold.web.look import Looks


def look_at(folder, text):
    return Looks(folder).at(SHEET, text)


def test_every_key_of_the_sheet_has_one_field_or_is_a_list_of_the_text(folder, text):
    form = look_at(folder, text).form
    keys = [field.key for field in fields_of(form)]
    assert len(keys) == len(set(keys))
    own = {"classes", "materials"}
    lists = ("aircraft.rotor", "propeller.station", "flying.segment", "flying.case")
    for name, field in Sheet.fields_by_key().items():
        section = section_in(field)
        if name not in own and section is not None:
            for key in keys_of(section, name):
                assert key in keys or key.startswith(lists), key
    assert [group.ident for group in form] == list(GROUPS)
    assert sum(key.startswith("flying.segment[") for key in keys) > 5


def test_typed_and_assumed_values_stand_at_their_fields(folder, text):
    fields = {field.key: field for field in fields_of(look_at(folder, text).form)}
    assert fields["hub.gap"].typed == "0.05 mm"
    assert fields["propeller.folding"].typed == "true"
    assert fields["pivot_screw.head"].words == ("socket", "hexagon")
    assert fields["hub.pivot_radius"].required
    assert fields["propeller.tap_frequency"].assumed == "infinite"


def test_faults_stand_at_field_table_and_group(folder, text):
    look = look_at(folder, text.replace('gap = "0.05 mm"', 'gap = "0.05 kg"\nbogus = 1'))
    assert look.found is None
    fields = {field.key: field for field in fields_of(look.form)}
    assert "kg is a unit of mass" in fields["hub.gap"].error
    group = next(group for group in look.form if group.ident == "hub")
    assert group.errors == 2
    hub = next(table for table in group.tables if table.title == "hub")
    assert [error for error in hub.errors if error.startswith("hub.bogus: no such key")]
    assert look.elsewhere == ()


def test_a_fault_that_no_field_has_is_told_elsewhere(folder, text):
    look = look_at(folder, text.replace('used_thrust = "4.6 kgf"', 'used_thrust = "460 kgf"'))
    assert look.problems
    assert {*look.elsewhere} == {*look.problems} - {p for p in look.problems if p.key}
    broken = look_at(folder, "hub = [")
    assert broken.data is None
    assert broken.elsewhere == broken.problems


def test_a_form_of_nothing_asks_for_what_is_needed():
    assert {field.typed for field in fields_of(form_of({}))} == {""}
    assert form_of({"hub": 3, "flying": {"segment": "no list"}})


def test_sliders_begin_at_the_value_of_the_sheet_and_reach_it_on_whole_steps(folder, text):
    look = look_at(folder, text)
    assert [slider.key for slider in sliders_of(look)][:2] == ["flying.used_thrust", "propeller.blade_mass"]
    assert len(numbers_of(look)) > 40
    for field in fields_of(look.form):
        slider = slider_of(field)
        if slider is not None:
            steps = (float(slider.value) - float(slider.low)) / float(slider.step)
            assert abs(steps - round(steps)) < 1e-3, slider
            assert float(slider.low) < float(slider.value) < float(slider.high)


def test_the_range_of_every_number_is_one_that_can_be_swept(folder, text):
    source = Source(SHEET, str(folder), text, toml_of(text, SHEET))
    numbers = numbers_of(look_at(folder, text))
    assert {slider.key for slider in numbers if slider.whole} >= {"aircraft.rotors", "tie_screws.count"}
    refused = {}
    for slider in numbers:
        try:
            axis = read_axis(slider.range, source)
        except ValueError as error:
            refused[slider.key] = str(error)
        else:
            assert axis.key == slider.key
            assert axis.low < float(slider.value) < axis.high or axis.whole
    # A quarter more, or one less, than the sheet may be more than the key allows, and says so.
    assert set(refused) == {"bench.pressure", "propeller.blades"}
    assert "must be >= 200 hPa and <= 1200 hPa" in refused["bench.pressure"]
