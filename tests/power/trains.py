"""A power train for the tests: figures of no real product."""

import numpy as np

from bladehold.power import Controller, Limits, Pack, PowerTrain, motor_from_sheet


def pack(**changed):
    """Twelve cells whose voltage falls straight from 50 V to 40 V."""
    given = {
        "capacity": 32 * 3600.0,
        "charge": np.array([0.0, 0.5, 1.0]),
        "voltage": np.array([40.0, 45.0, 50.0]),
        "resistance": 0.02,
        "empty_rise": 2.0,
        "empty_charge": 0.04,
        "activation": 19000.0,
        "slow_share": 0.6,
        "slow_time": 200.0,
        "temperature": 298.15,
    }
    return Pack(**given | changed)


def ideal_pack(voltage=48.0, **changed):
    """A battery of one voltage to a millivolt, next to no resistance and no slow branch."""
    none = {"resistance": 1e-9, "empty_rise": 0.0, "slow_share": 0.0, "activation": 0.0}
    flat = np.array([voltage, voltage + 1e-9, voltage + 2e-9])
    return pack(voltage=flat, **none | changed)


def train(limits=None, other_power=45.0, controller=None, **of_pack):
    return PowerTrain(
        motor=motor_from_sheet(13.6, 0.046, 1.2),
        controller=controller or Controller(0.005, 0.01, 0.005),
        pack=pack(**of_pack),
        limits=limits or Limits(),
        thermal_resistance=1.0,
        heat_capacity=250.0,
        other_power=other_power,
    )
