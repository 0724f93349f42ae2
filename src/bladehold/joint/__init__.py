"""The blade retention path, part by part: pure functions on SI numbers and arrays.

Clevis: contact (elastic, with contact_model), clevis (its closed limits). Screw: pin, bedding, pin_peaking,
stepped (shear, bending), interaction, separation (opening, slip), stiffness, thread and strip (stripping),
head. Tightening: preload, setting, tightening (torque, scatter, temperature), embedding, relaxation, locking
(what is lost, what turns loose), spring (disc springs), friction, tightness (how tight a folding pivot may
be). Lug and plates: lug, lug_curves, laminate_lug. Groups of screws: pattern. Fatigue: stress_life (curves of
metals), notch (stress concentration), fatigue (thread), fatigue_parts (life of each part), damage (Miner).
"""
