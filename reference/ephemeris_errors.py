"""Compares this project's places with JPL's through ERFA, and writes ephemeris_errors.md.

    python ephemeris_errors.py [moments a century, 2000 unless given]

Runs `cargo run --release -p sky --example places` on random moments.
"""

import os
import subprocess
import sys

import erfa
import numpy as np

import jpl
from apparent import BODIES, observe

HERE = os.path.dirname(os.path.abspath(__file__))
SUN_RADIUS = 970  # arcseconds
FIRST, LAST = 1501907.5, 2688976.5


def ours(jd_tt):
    lines = "\n".join(repr(float(jd)) for jd in jd_tt)
    command = ["cargo", "run", "-q", "--release", "-p", "sky", "--example", "places"]
    text = subprocess.run(command, input=lines, capture_output=True, text=True, check=True, cwd=HERE).stdout
    rows = [line.split(",")[2:] for line in text.splitlines()[1:]]
    return np.array(rows, float).reshape(len(jd_tt), len(BODIES), 6)


def arcsec(degrees):
    return np.abs((degrees + 180) % 360 - 180) * 3600


def main():
    each = int(sys.argv[1]) if len(sys.argv) > 1 else 2000
    generator = np.random.default_rng(440422)
    sources = jpl.de422(), jpl.de440()
    tables = {"Longitude": [], "Latitude": [], "Speed in longitude, in a day": []}
    for year in range(-600, 2700, 100):
        begin = 2451544.5 + (year - 2000) * 365.2425
        jd = np.sort(generator.uniform(max(begin, FIRST), min(begin + 36524.25, LAST), each))
        found = ours(jd)
        rows = {name: [] for name in tables}
        for index, body in enumerate(BODIES):
            lon, lat, distance, ra, dec, speed = observe(sources, jd, body)
            row = found[:, index]
            if body == "Sun":
                sun = lon, lat, distance
            # Behind the Sun's disc the deflection has a kink, where its formula is held back.
            apart = np.hypot(arcsec(np.degrees(lon - sun[0])), np.degrees(lat - sun[1]) * 3600)
            hidden = (apart < SUN_RADIUS) & (distance > sun[2])
            errors = [
                arcsec(row[:, 0] - np.degrees(lon)),
                arcsec(row[:, 1] - np.degrees(lat)),
                np.where(hidden, 0, np.abs(row[:, 5] - np.degrees(speed)) * 3600),
            ]
            # The equatorial places say the same, so they are held to the same bars.
            assert (arcsec(row[:, 3] - np.degrees(ra)) * np.cos(dec)).max() < 0.1, (year, body)
            assert arcsec(row[:, 4] - np.degrees(dec)).max() < 0.1, (year, body)
            assert np.abs(row[:, 2] / distance - 1).max() < 1e-6, (year, body)
            for name, error in zip(tables, errors):
                rows[name].append(error.max())
        for name in tables:
            tables[name].append((year, rows[name]))
        print(year, " ".join(f"{e:.3f}" for e in rows["Longitude"]), flush=True)

    with open(os.path.join(HERE, "ephemeris_errors.md"), "w") as out:
        out.write("# Largest errors by body and century\n\n")
        out.write(
            f"By `reference/ephemeris_errors.py` with pyerfa {erfa.__version__}: {each} random moments a century,\n"
            "against DE422 (before 1550) and DE440 (from 1550) through ERFA, in seconds of arc.\n"
            "A century is named by the year it begins with. Speeds of bodies behind the Sun's disc are left out.\n")
        for name, rows in tables.items():
            out.write(f"\n## {name}\n\n| century | {' | '.join(BODIES)} |\n|---:|{'---:|' * len(BODIES)}\n")
            for year, row in rows:
                label = f"−{-year}" if year < 0 else str(year)
                out.write(f"| {label} | {' | '.join(f'{e:.3f}' for e in row)} |\n")
            worst = np.max([row for _, row in rows], axis=0)
            out.write(f"| **all** | {' | '.join(f'**{e:.3f}**' for e in worst)} |\n")
            print(name, worst.max())


if __name__ == "__main__":
    main()
