"""Section forms: known integrals of the four-digit sections, and outlines that give them back."""

import numpy as np
import pytest

from bladehold.blade import chord_places, four_digit_form, outline_form


def test_weights_integrate_a_round_nose():
    place, weight = chord_places()
    assert weight.sum() == pytest.approx(1.0, abs=1e-4)
    assert weight @ np.sqrt(place) == pytest.approx(2 / 3, abs=2e-4)


def test_area_of_a_four_digit_section():
    # 10 t (2/3 0.2969 - 0.1260/2 - 0.3516/3 + 0.2843/4 - 0.1015/5), worked by hand: 0.6851 t
    form = four_digit_form()
    assert 2 * form.weight @ form.half_thickness == pytest.approx(0.6851, abs=2e-4)


def test_mean_line_is_smooth_and_as_high_as_it_says():
    form = four_digit_form(0.04, 0.4)
    assert form.camber.max() == pytest.approx(0.04, abs=1e-5)
    assert form.place[np.argmax(form.camber)] == pytest.approx(0.4, abs=0.02)
    slope = np.gradient(form.camber, form.place)
    assert np.abs(np.diff(slope)).max() < 0.02
    with pytest.raises(ValueError, match="camber_place 1 must lie between 0 and 1"):
        four_digit_form(0.04, 1.0)


def four_digit_outline(thickness, camber, count=60):
    """Points round a four-digit section, thickness square to the chord."""
    x = 0.5 * (1 - np.cos(np.linspace(0, np.pi, count)))
    form = four_digit_form(camber, 0.4)
    half = 5 * (0.2969 * np.sqrt(x) - 0.126 * x - 0.3516 * x**2 + 0.2843 * x**3 - 0.1015 * x**4)
    line = np.interp(x, form.place, form.camber, left=0.0, right=0.0)
    upper = np.stack([x, line + thickness * half], axis=-1)
    lower = np.stack([x, line - thickness * half], axis=-1)
    return np.concatenate([upper[::-1], lower[1:]])


@pytest.mark.parametrize("turned", [0.0, 0.3])
def test_an_outline_gives_its_form_back_in_any_place(turned):
    outline = four_digit_outline(0.12, 0.0) * 0.06
    turn = np.array([[np.cos(turned), -np.sin(turned)], [np.sin(turned), np.cos(turned)]])
    form, wanted = outline_form(outline @ turn + 3.0), four_digit_form()
    assert np.abs(form.half_thickness - wanted.half_thickness).max() < 2e-3
    assert np.abs(form.camber).max() < 1e-9


def test_camber_of_an_outline():
    form = outline_form(four_digit_outline(0.10, 0.05))
    assert np.abs(form.camber - four_digit_form(0.05, 0.4).camber).max() < 2e-3


def test_an_outline_that_doubles_back_is_refused():
    outline = four_digit_outline(0.12, 0.0)
    outline[10] = outline[14]
    with pytest.raises(ValueError, match="without doubling back"):
        outline_form(outline)
    with pytest.raises(ValueError, match="at least seven points"):
        outline_form(outline[:4])
