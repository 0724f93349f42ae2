"""Writing results back into a sheet's text, with everything else in it left as it stands."""

from __future__ import annotations

import math

from bladehold.rotor.correction import Correction


def with_calibration(
    text: str,
    correction: Correction,
    thrust_uncertainty: float,
    torque_uncertainty: float | None,
    source: str,
) -> str:
    """Return the sheet's text with its [propeller.calibration] table set; comments and order stay.

    Arguments: text - a valid sheet; correction; thrust_uncertainty, torque_uncertainty - relative standard
    deviations; source - name of the run. Returns TOML text that reads as before but for that table.
    """
    import tomlkit

    document = tomlkit.parse(text)
    table = tomlkit.table()
    table["pitch_offset"] = f"{math.degrees(correction.pitch_offset):.3f} deg"
    table["chord_scale"] = round(correction.chord_scale, 4)
    table["profile_drag_factor"] = round(correction.profile_drag_factor, 3)
    table["lift_exponent"] = round(correction.lift_exponent, 3)
    table["thrust_uncertainty"] = round(thrust_uncertainty, 4)
    if torque_uncertainty is not None:
        table["torque_uncertainty"] = round(torque_uncertainty, 4)
    table["source"] = source
    propeller = document["propeller"]
    assert isinstance(propeller, tomlkit.items.Table)  # a valid sheet has it
    propeller["calibration"] = table
    return tomlkit.dumps(document)
