"""The blade retention path, part by part: pure functions on SI numbers and arrays.

pin (shear, bending), interaction (shear with tension and bending), preload and tightening (torque,
scatter, temperature), stiffness and separation (share of load, opening, slip), thread (stripping), lug,
clevis (prying of the flap moment), pattern (screw groups), friction, head. Fatigue: stress_life (curves of
metals), notch (stress concentration), fatigue (thread), fatigue_parts (life of each part), damage (Miner).
"""
