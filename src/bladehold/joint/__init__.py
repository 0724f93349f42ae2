"""The blade retention path, part by part: pure functions on SI numbers and arrays.

pin (shear, bending), interaction (shear with tension and bending), preload and tightening (torque,
scatter, temperature), stiffness and separation (share of load, opening, slip), thread (stripping), lug,
clevis (prying of the flap moment in closed form), contact_model and contact (the same with elastic parts),
pattern (screw groups), friction, head, fatigue.
"""
