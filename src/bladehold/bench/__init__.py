"""Measurements made into evidence: runs on a thrust stand, read strictly and looked at for slips."""

from bladehold.bench.slips import Slip, find_slips
from bladehold.bench.stand import StandRun, load_stand

__all__ = ["Slip", "StandRun", "find_slips", "load_stand"]
