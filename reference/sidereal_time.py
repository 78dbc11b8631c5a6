"""Mean sidereal time on the long-term precession of Vondrák et al. 2011.

IAU 2006 gives mean sidereal time as the Earth rotation angle and a polynomial that
holds for some centuries. Here both precessions are treated alike: the origin of
right ascension that does not rotate is followed along the mean equator,

    ds = -(X dY - Y dX) / (1 + Z),

and the difference of the equinoxes' distances from it is what the polynomial lacks.
Prints that difference as a polynomial in (t - C) / H for crates/sky/src/sidereal.rs,
and writes sidereal_time.csv, the check values of its tests.
"""

import erfa
import numpy as np

FIRST, LAST = -26.1, 6.6  # Julian centuries from J2000
DEGREE = 9


def accumulated(matrix_at, t):
    """Equation of the origins along t (which starts at J2000), radians, by Simpson's rule."""
    fine = np.linspace(t[0], t[-1], 2 * (len(t) - 1) + 1)
    matrices = np.array([matrix_at(x) for x in fine])
    x, y, z = matrices[:, 2, 0], matrices[:, 2, 1], matrices[:, 2, 2]
    dx, dy = np.gradient(x, fine, edge_order=2), np.gradient(y, fine, edge_order=2)
    rate = -(x * dy - y * dx) / (1 + z)
    step = fine[2] - fine[0]
    s = np.concatenate([[0.0], np.cumsum((rate[:-2:2] + 4 * rate[1:-1:2] + rate[2::2]) * step / 6)])
    return np.unwrap([erfa.eors(m, si) for m, si in zip(matrices[::2], s)])


def iau2006(t):
    return erfa.pmat06(2451545.0, t * 36525)


def long_term(t):
    return erfa.ltpb(2000.0 + 100 * t)


def difference(t):
    """What IAU 2006 mean sidereal time lacks, arcseconds."""
    return -(accumulated(long_term, t) - accumulated(iau2006, t)) / erfa.DAS2R


if __name__ == "__main__":
    back = np.linspace(0, FIRST, 5221)
    ahead = np.linspace(0, LAST, 1321)
    t = np.concatenate([back[:0:-1], ahead])
    lacks = np.concatenate([difference(back)[:0:-1], difference(ahead)])
    centre, half = (FIRST + LAST) / 2, (LAST - FIRST) / 2
    series = np.polynomial.Chebyshev.fit(t, lacks, DEGREE, domain=[FIRST, LAST])
    polynomial = np.polynomial.chebyshev.cheb2poly(series.coef)
    print(f"C = {centre}, H = {half}")
    print(", ".join(f"{c:.7f}" for c in polynomial))
    print("largest difference (arcsec):", np.abs(lacks).max(), "left by the fit:", np.abs(series(t) - lacks).max())

    with open("sidereal_time.csv", "w") as out:
        out.write(f"# by reference/sidereal_time.py with pyerfa {erfa.__version__}\n")
        out.write("# Mean sidereal time at UT1 = TT, on the precession of Vondrák et al. 2011\n")
        out.write("jd,mean_sidereal_time_deg\n")
        for i in range(0, len(t), 131):
            day = np.floor(t[i] * 36525) + 0.5
            lack = np.interp(day / 36525, t, lacks)
            gmst = erfa.gmst06(2451545.0, day, 2451545.0, day) + lack * erfa.DAS2R
            out.write(f"{2451545.0 + day:.1f},{np.degrees(gmst) % 360:.9f}\n")
