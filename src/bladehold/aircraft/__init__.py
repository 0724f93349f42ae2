"""The aircraft as a whole: where its rotors stand, how it is balanced, what flying asks of each rotor."""

from bladehold.aircraft.allocation import (
    WAYS,
    Authority,
    authority,
    commanded,
    effectiveness,
    least_thrusts,
    out_of_command,
)
from bladehold.aircraft.attainable import (
    HoverThrusts,
    attainable_index,
    attainable_reach,
    hover_thrusts,
    without_yaw,
)
from bladehold.aircraft.layout import (
    ALONE,
    LOWER,
    NO_ROTOR,
    UPPER,
    UPRIGHT,
    Frame,
    coaxial_frame,
    custom_frame,
    flat_frame,
    overlaps,
)
from bladehold.aircraft.trim import Demand, HubForces, RotorLaw, SimpleLaw, Trim, trimmed_flight

__all__ = [
    "ALONE",
    "LOWER",
    "NO_ROTOR",
    "UPPER",
    "UPRIGHT",
    "WAYS",
    "Authority",
    "Demand",
    "Frame",
    "HoverThrusts",
    "HubForces",
    "RotorLaw",
    "SimpleLaw",
    "Trim",
    "attainable_index",
    "attainable_reach",
    "authority",
    "coaxial_frame",
    "commanded",
    "custom_frame",
    "effectiveness",
    "flat_frame",
    "hover_thrusts",
    "least_thrusts",
    "out_of_command",
    "overlaps",
    "trimmed_flight",
    "without_yaw",
]
