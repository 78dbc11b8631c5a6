"""Writes crates/sky/src/nutation_terms.rs: the largest terms of IAU 2000A.

The series (Mathews, Herring and Buffett 2002; IERS Conventions 2003, table 5.3) is
read from the copy that skyfield carries. A term is kept when it can reach THRESHOLD
within the span. Planetary terms all stay below what is left out.
"""

import os

import numpy as np
import skyfield

THRESHOLD = 1e-4  # arcseconds
CENTURIES = 26.1  # from J2000 to the far end of the span
UNIT = 1e-7  # arcseconds

folder = os.path.dirname(skyfield.__file__)
data = np.load(os.path.join(folder, "data", "nutation.npz"))
longitude = data["lunisolar_longitude_coefficients"]
obliquity = data["lunisolar_obliquity_coefficients"]


def reach(c):
    return np.hypot(abs(c[:, 0]) + CENTURIES * abs(c[:, 1]), abs(c[:, 2])) * UNIT


kept = np.maximum(reach(longitude), reach(obliquity)) > THRESHOLD
rows = [
    f"    ([{', '.join(str(m) for m in multiples)}], "
    f"[{', '.join(f'{c:.1f}' for c in psi)}], [{', '.join(f'{c:.1f}' for c in eps)}]),"
    for multiples, psi, eps in zip(data["nals_t"][kept], longitude[kept], obliquity[kept])
]
text = f"""//! Written by `reference/nutation_terms.py` with skyfield {skyfield.__version__}: the terms of the IAU 2000A
//! nutation (Mathews, Herring and Buffett 2002; IERS Conventions 2003, table 5.3)
//! that reach {THRESHOLD}″ between the years −600 and 2650.

/// Multiples of l, l′, F, D, Ω; then for Δψ the factors of sin, t sin and cos, and
/// for Δε those of cos, t cos and sin, in units of 10⁻⁷″.
pub(crate) type Term = ([i8; 5], [f64; 3], [f64; 3]);

#[rustfmt::skip]
pub(crate) const TERMS: [Term; {len(rows)}] = [
"""
path = os.path.join(os.path.dirname(os.path.abspath(__file__)), "../crates/sky/src/nutation_terms.rs")
with open(path, "w") as out:
    out.write(text + "\n".join(rows) + "\n];\n")
print(len(rows), "terms")
