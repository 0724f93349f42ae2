"""From air loads and turning to the loads at a blade's pivot."""

from bladehold.blade.centrifugal import (
    LAG_RANGE,
    centrifugal_force,
    clamped_root_share,
    coning_moment,
    lag_equilibrium_angle,
)
from bladehold.blade.root_loads import AirLoads, BladeBody, RootLoads, proof_flap_moment, rigid_root_loads

__all__ = [
    "LAG_RANGE",
    "AirLoads",
    "BladeBody",
    "RootLoads",
    "centrifugal_force",
    "clamped_root_share",
    "coning_moment",
    "lag_equilibrium_angle",
    "proof_flap_moment",
    "rigid_root_loads",
]
