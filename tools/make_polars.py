"""Make the section tables shipped in src/bladehold/rotor/data.

Run it in an environment of its own with the packages

    neuralfoil == 0.3.3
    aerosandbox == 4.2.10

as `python tools/make_polars.py`. It writes one `<section>.npz` for each row of
`SECTIONS` and the catalogue `sections.csv`. The same packages give the same
bytes. bladehold itself never imports these packages. A section that the library
does not know has its coordinates in `tools/<section>.csv`.

Each file holds `alpha_deg` (-180..179), `reynolds`, `mach`, and in half
precision (lift to 0.0005, drag to 0.03 %) `cl`, `cd`, `cm` with the axes
[reynolds, mach, alpha] and the library's own `confidence` [reynolds, alpha].
"""

from __future__ import annotations

import csv
from importlib.metadata import version
from pathlib import Path

import aerosandbox as asb
import numpy as np

TOOLS = Path(__file__).resolve().parent
DATA = TOOLS.parent / "src" / "bladehold" / "rotor" / "data"

ALPHA_DEG = np.arange(-180, 180, dtype=np.int16)
# Close together where lift and drag change fast: lines straight from 2e4 to 5e4 would miss up to 0.07 of lift
# and a fifth of the drag.
REYNOLDS = np.array([2e4, 3e4, 5e4, 7e4, 1e5, 1.5e5, 2e5, 3e5, 5e5, 1e6])
# Sections of the full-scale rotors that bladehold is validated against reach further.
FULL_SCALE = ("naca0012", "naca0015", "naca0018", "naca0024")
FULL_SCALE_REYNOLDS = np.append(REYNOLDS, [2e6, 3e6])
# Near-uniform in the square of Mach, the coordinate the program interpolates in.
MACH = np.array([0.0, 0.3, 0.45, 0.55, 0.65])
# Transition amplification for air about 0.5 % turbulent, N = -8.43 - 2.4 ln(Tu) (Mack, JPL 77-15, 1977):
# a hovering rotor breathes its own wake and shakes. The library's default of 9 is a quiet wind tunnel; there
# thick sections near Re 250 000 keep a laminar bubble that raises their lift slope above 2 pi.
N_CRIT = 4.0

# Where coordinates were published that the library does not have.
COORDINATES = {"sda1075": "coordinates of Deters, Ananda and Selig, AIAA 2014-2151 (2014), table 4"}

# our name, name in the library, description
SECTIONS = [
    ("naca0012", "naca0012", "symmetric, 12 % thick"),
    ("naca0015", "naca0015", "symmetric, 15 % thick"),
    ("naca0018", "naca0018", "symmetric, 18 % thick"),
    ("naca0024", "naca0024", "symmetric, 24 % thick"),
    ("naca2412", "naca2412", "2 % camber, 12 % thick"),
    ("naca4406", "naca4406", "4 % camber, 6 % thick"),
    ("naca4409", "naca4409", "4 % camber, 9 % thick"),
    ("naca4412", "naca4412", "4 % camber, 12 % thick"),
    ("naca4415", "naca4415", "4 % camber, 15 % thick"),
    ("naca4418", "naca4418", "4 % camber, 18 % thick, for blade roots"),
    ("naca6409", "naca6409", "6 % camber, 9 % thick"),
    ("clark-y", "clarky", "flat-bottomed, the classic propeller section"),
    ("e63", "e63", "thin low-Reynolds-number section"),
    ("e387", "e387", "low-Reynolds-number sailplane section"),
    ("sda1075", None, "12 % thick, blunt trailing edge, of small printed propellers"),
    ("thin-cambered-4", "naca4404", "plate-like, 4 % camber, 4 % thick (NACA 4404)"),
    ("thin-cambered-5", "naca5504", "plate-like, 5 % camber at mid chord, 4 % thick (NACA 5504)"),
    ("thin-cambered-6", "naca6504", "plate-like, 6 % camber at mid chord, 4 % thick (NACA 6504)"),
]


def outline(name: str, library_name: str | None) -> asb.Airfoil:
    """The section as the library knows it, or from its own coordinates."""
    if library_name:
        return asb.Airfoil(library_name)
    return asb.Airfoil(name, coordinates=np.loadtxt(TOOLS / f"{name}.csv", delimiter=",", skiprows=1))


def table(airfoil: asb.KulfanAirfoil, reynolds_grid: np.ndarray) -> dict[str, np.ndarray]:
    """Coefficients of one section over the whole grid."""
    reynolds, mach, alpha = np.meshgrid(reynolds_grid, MACH, ALPHA_DEG.astype(float), indexing="ij")
    result = airfoil.get_aero_from_neuralfoil(
        alpha=alpha.ravel(),
        Re=reynolds.ravel(),
        mach=mach.ravel(),
        n_crit=N_CRIT,
        include_360_deg_effects=True,
    )
    columns = {key: np.reshape(result[key], alpha.shape) for key in ("CL", "CD", "CM", "analysis_confidence")}
    return {
        "alpha_deg": ALPHA_DEG,
        "reynolds": reynolds_grid,
        "mach": MACH,
        "cl": columns["CL"].astype(np.float16),
        "cd": columns["CD"].astype(np.float16),
        "cm": columns["CM"].astype(np.float16),
        "confidence": columns["analysis_confidence"][:, 0, :].astype(np.float16),
    }


def main() -> None:
    DATA.mkdir(parents=True, exist_ok=True)
    packages = " with ".join(f"{name} {version(name)}" for name in ("neuralfoil", "aerosandbox"))
    source = f"{packages}, n_crit {N_CRIT:g}, free transition"
    with (DATA / "sections.csv").open("w", newline="", encoding="utf-8") as stream:
        rows = csv.writer(stream, lineterminator="\n")
        rows.writerow(["name", "description", "thickness_ratio", "camber_ratio", "source", "mark"])
        for name, library_name, description in SECTIONS:
            airfoil = outline(name, library_name)
            grid = FULL_SCALE_REYNOLDS if name in FULL_SCALE else REYNOLDS
            np.savez_compressed(DATA / f"{name}.npz", **table(airfoil.to_kulfan_airfoil(), grid))
            thickness, camber = airfoil.max_thickness(), airfoil.max_camber()
            origin = "; ".join(filter(None, (COORDINATES.get(name), source)))
            rows.writerow([name, description, f"{thickness:.4f}", f"{camber:.4f}", origin, "computed"])


if __name__ == "__main__":
    main()
