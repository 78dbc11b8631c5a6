"""Ascendants and midheavens of five hundred random moments by ERFA, for the tests of the
verdict on an instrument (`crates/desk/tests/verdicts.rs`).

Sidereal time and obliquity come from ERFA; the angles are found by searching the ecliptic,
as in houses_erfa.py.

    python -m pip install -r reference/requirements-figure.txt
    python reference/verdicts_erfa.py

writes verdicts_erfa.csv beside itself, in a minute or two.
"""

import pathlib
import random

import erfa
import numpy as np

from houses_erfa import Horizon, ascendant, midheaven

OUT = pathlib.Path(__file__).with_suffix(".csv")

# The latitudes of their plates.
INSTRUMENTS = {
    "class instrument": [42, 46, 50],
    "date-ring instrument": [40, 45, 50, 55],
    "pocket instrument": [45, 48],
    "lecture instrument": [41, 45, 48, 51.5],
    "southern instrument": [-34, -37, -42],
}
CASES = 500
SEED = 20240514


def delta_t(year):
    """TT − UT1 in seconds, the long-term parabola of Stephenson, Morrison and Hohenkerk
    (2016); only nutation and precession hang on it."""
    return -320.0 + 32.5 * ((year - 1825) / 100) ** 2


def case(dice):
    instrument, plates = dice.choice(list(INSTRUMENTS.items()))
    # Mostly of a town that someone might serve with these plates; now and then of any.
    low, high = (min(plates) - 8, max(plates) + 8)
    if dice.random() < 0.1:
        low, high = (0, 65) if low > 0 else (-65, 0)
    latitude = round(dice.uniform(low, high), 4)
    longitude = round(dice.uniform(-180, 180), 4)
    year, month, day = dice.randint(1000, 2199), dice.randint(1, 12), dice.randint(1, 28)
    minutes = dice.randrange(24 * 60)
    h = Horizon((year, month, day), minutes / 60, delta_t(year), longitude, latitude)
    asc, mc = ascendant(h), midheaven(h)
    when = f"{year:04}-{month:02}-{day:02} {minutes // 60:02}:{minutes % 60:02}"
    return [
        when,
        f"{latitude:.4f}",
        f"{longitude:.4f}",
        instrument,
        f"{np.degrees(asc):.6f}",
        f"{np.degrees(mc):.6f}",
    ]


def main():
    dice = random.Random(SEED)
    header = [
        "# Moments in UT1 (Gregorian calendar), latitude north, longitude east, an instrument of the",
        "# cabinet, and by ERFA the ascendant and the midheaven, in degrees.",
        "# Written by reference/verdicts_erfa.py with",
        f"# pyerfa {erfa.__version__} (ERFA {erfa.version.erfa_version}, SOFA release {erfa.version.sofa_version}), numpy {np.__version__}.",
        "when,latitude,longitude,instrument,ascendant,midheaven",
    ]
    lines = header + [",".join(case(dice)) for _ in range(CASES)]
    OUT.write_text("\n".join(lines) + "\n")


if __name__ == "__main__":
    main()
