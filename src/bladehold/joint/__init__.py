"""The blade retention path, part by part: pure functions on SI numbers and arrays.

pin (shear, bending), interaction (shear with tension and bending), preload, setting and tightening (torque,
scatter, temperature), embedding, relaxation and locking (what is lost, what turns loose), spring (disc
springs), tightness (how tight a folding pivot may be), stiffness and separation (share of load, opening,
slip), thread (stripping), lug, clevis (prying of the flap moment), pattern (screw groups), friction, head,
fatigue.
"""
