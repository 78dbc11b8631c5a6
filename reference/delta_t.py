"""Holds ΔT against what others have published.

Compares the rows of crates/sky/src/delta_t_spline.rs with table S15.2020 in skyfield, and
writes reference/delta_t_published.csv: TT - UT from 1657 to 1972 by the US Naval
Observatory (historic_deltat.data, half-yearly, as skyfield carries it). By decades it
prints how far the splines and that table part, and for 1962 to 1971 the splines and the
IERS' own series C04.

    pip install numpy skyfield==1.55 astropy-iers-data pyerfa
    python reference/delta_t.py
"""

import os
import re
import sys

import astropy_iers_data
import erfa
import numpy as np
import skyfield

here = os.path.dirname(os.path.abspath(__file__))
data = os.path.join(os.path.dirname(skyfield.__file__), "data")
with open(os.path.join(here, "../crates/sky/src/delta_t_spline.rs")) as file:
    rows = [[float(x) for x in re.findall(r"-?[\d.]+", line)]
            for line in file if re.match(r"\s+\[-?\d", line)]
# skyfield keeps columns: first year, last year, a3, a2, a1, a0.
theirs = np.load(os.path.join(data, "delta_t.npz"))["Table-S15.2020.txt"]
same = np.array_equal(np.array(rows), theirs[[0, 1, 5, 4, 3, 2]].T)
print(len(rows), "rows,", "the same" if same else "DIFFERENT")


def spline(year):
    first, last, a0, a1, a2, a3 = next(row for row in reversed(rows) if year >= row[0])
    t = (year - first) / (last - first)
    return a0 + t * (a1 + t * (a2 + t * a3))


def year_of(jd):
    return 2000 + (jd - 2451545) / 365.25


def by_decades(name, jds, seconds):
    years = [year_of(jd) for jd in jds]
    print(f"\nsplines minus {name}, seconds:\n decade  largest   mean")
    for decade in range(1650, 1980, 10):
        off = [spline(y) - s for y, s in zip(years, seconds) if decade <= y < decade + 10]
        if off:
            print(f"  {decade}  {max(off, key=abs):+7.2f}  {np.mean(off):+6.2f}")


jds, seconds = np.load(os.path.join(data, "historic_deltat.npy"))
before = jds < 2441317.5
jds, seconds = jds[before], seconds[before]
by_decades("the US Naval Observatory", jds, seconds)
with open(os.path.join(here, "delta_t_published.csv"), "w") as out:
    print("# by reference/delta_t.py: TT - UT by the US Naval Observatory, in skyfield "
          + skyfield.__version__, file=out)
    print("jd,delta_t_s", file=out)
    for jd, s in zip(jds, seconds):
        print(f"{jd:.1f},{s:g}", file=out)

iers_jds, iers = [], []
with open(os.path.join(os.path.dirname(astropy_iers_data.__file__), "data", "eopc04.1962-now")) as file:
    for line in file:
        fields = line.split()
        if line.startswith("#") or len(fields) < 8:
            continue
        year, month, day, hour = (int(x) for x in fields[:4])
        if year > 1971:
            break
        tai_minus_utc = erfa.dat(year, month, day, hour / 24)
        iers_jds.append(float(fields[4]) + 2400000.5)
        iers.append(32.184 + tai_minus_utc - float(fields[7]))
by_decades("IERS C04", iers_jds, iers)
sys.exit(not same)
