# /// script
# requires-python = ">=3.11"
# dependencies = ["ephem==4.2.1"]
# ///
"""Writes crates/sky/tests/data/stars_ephem.csv: the named stars of PyEphem, at J2000.

They come from the first reduction of Hipparcos and the IAU catalogue of star
names, so they check that a name leads to the right row of ours.

    pip install ephem==4.2.1
    python reference/stars_ephem.py
"""

import csv
import math
from pathlib import Path

import ephem
import ephem.stars

ROOT = Path(__file__).resolve().parent.parent


def main() -> None:
    target = ROOT / "crates/sky/tests/data/stars_ephem.csv"
    with target.open("w", encoding="utf-8", newline="") as file:
        file.write(f"# By reference/stars_ephem.py with ephem {ephem.__version__}. ICRS, epoch J2000.\n")
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(["name", "ra_deg", "dec_deg", "magnitude"])
        for name in sorted(ephem.stars.stars):
            star = ephem.star(name)
            star.compute("2000/1/1 12:00")  # without it the magnitude cannot be asked for
            ra, dec = math.degrees(star._ra), math.degrees(star._dec)
            writer.writerow([name, f"{ra:.6f}", f"{dec:.6f}", f"{star.mag:.2f}"])


if __name__ == "__main__":
    main()
