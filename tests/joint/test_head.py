import numpy as np
import pytest

from bladehold.joint import head

BEARING = np.array([4.18, 5.07, 6.53, 8.03, 9.38, 12.33, 15.33]) * 1e-3  # ISO 4762, M2.5 to M10, dw
HOLE = np.array([2.9, 3.4, 4.5, 5.5, 6.6, 9.0, 11.0]) * 1e-3  # ISO 273 medium


def test_bearing_area_of_socket_heads():
    expected = np.array([7.12, 11.11, 17.59, 26.88, 34.89, 55.79, 89.54])
    assert head.bearing_area(BEARING, HOLE) * 1e6 == pytest.approx(expected, abs=0.005)


def test_fully_tightened_screw_crushes_aluminium_first():
    """Trap: at full 8.8 preload, M2.5 to M10, heads press 230 to 334 MPa; AlMgSi1 F31 stands 260."""
    preload = np.array([1.70, 2.55, 4.42, 7.20, 10.18, 18.63, 29.60]) * 1e3
    pressure = head.surface_pressure(preload, head.bearing_area(BEARING, HOLE)) / 1e6
    assert pressure[:6] == pytest.approx(np.array([239, 230, 251, 268, 292, 334]), abs=1.0)
    assert (pressure > 260).tolist() == [False, False, False, True, True, True, True]


def test_head_that_falls_through_its_hole_is_refused():
    with pytest.raises(ValueError, match="bearing diameter must be greater than hole diameter"):
        head.bearing_area(5.5e-3, 5.5e-3)
