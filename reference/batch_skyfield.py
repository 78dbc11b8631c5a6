"""The work of `almuri batch` done with skyfield, for comparing speeds.

For each row: apparent longitudes of date of the seven planets and how fast they
move, sidereal time, ascendant, midheaven and the alcabitius cusps, all as arrays
over the rows; and the sunrise and sunset about the moment and the lunation before
it, which skyfield searches row by row. Dignities, lots and aspects, sums and
look-ups, are left out.

    python -m pip install -r reference/requirements-skyfield.txt
    python reference/batch_skyfield.py [ROWS]

prints rows per second of either part and of both.
"""

import sys
import time
import warnings

import numpy as np
from skyfield import almanac
from skyfield.api import load, load_file, wgs84
from skyfield.framelib import ecliptic_frame
from skyfield_data import get_skyfield_data_path

warnings.simplefilter("ignore")
ROWS = int(sys.argv[1]) if len(sys.argv) > 1 else 10_000
SEARCHED = min(ROWS, 100)

ts = load.timescale(builtin=True)
kernel = load_file(get_skyfield_data_path() + "/de421.bsp")
earth = kernel["earth"]
BODIES = [kernel[name] for name in ("sun", "moon", "mercury", "venus", "mars", "jupiter barycenter", "saturn barycenter")]

random = np.random.default_rng(7)
jd = random.uniform(2415100.5, 2469000.5, ROWS)
latitude = random.uniform(-60, 60, ROWS)
longitude = random.uniform(-180, 180, ROWS)


def places(t):
    at = earth.at(t)
    found = []
    for body in BODIES:
        _, lon, _, _, rate, _ = at.observe(body).apparent().frame_latlon_and_rates(ecliptic_frame)
        found.append((lon.degrees, rate.degrees.per_day))
    return found


def houses(t):
    theta = np.radians(t.gast * 15 + longitude)
    eps = np.radians(23.4393 - 0.013 * (t.tt - 2451545) / 36525)
    phi = np.radians(latitude)
    ascendant = np.arctan2(np.cos(theta), -(np.sin(theta) * np.cos(eps) + np.tan(phi) * np.sin(eps)))
    right = np.arctan2(np.sin(ascendant) * np.cos(eps), np.cos(ascendant))
    day = (right - theta) % (2 * np.pi)
    cusps = [theta + day * n / 3 for n in range(3)] + [right + (np.pi - day) * n / 3 for n in range(3)]
    return [np.arctan2(np.sin(c), np.cos(c) * np.cos(eps)) for c in cusps]


def searches(n):
    t = ts.ut1_jd(jd[n])
    observer = earth + wgs84.latlon(latitude[n], longitude[n])
    before, after = ts.ut1_jd(jd[n] - 1), ts.ut1_jd(jd[n] + 1)
    almanac.find_risings(observer, kernel["sun"], before, after, horizon_degrees=0.0)
    almanac.find_settings(observer, kernel["sun"], before, after, horizon_degrees=0.0)
    almanac.find_discrete(ts.ut1_jd(jd[n] - 16), t, almanac.moon_phases(kernel))


def main():
    start = time.perf_counter()
    t = ts.ut1_jd(jd)
    places(t)
    houses(t)
    arrays = (time.perf_counter() - start) / ROWS
    start = time.perf_counter()
    for n in range(SEARCHED):
        searches(n)
    one_by_one = (time.perf_counter() - start) / SEARCHED
    print(f"arrays {1 / arrays:.0f} rows a second, searches {1 / one_by_one:.0f}, both {1 / (arrays + one_by_one):.0f}")


main()
