"""Sunrises and sunsets by skyfield, for the tests of `crates/figure`.

The Sun's centre at altitude 0° without refraction and at −50′, found by
bisecting the altitude that skyfield gives, from the place on a sphere.

    python -m pip install -r reference/requirements-skyfield.txt
    python reference/sunrise_skyfield.py

writes crates/figure/tests/data/sunrise_skyfield.csv, in half a minute.
"""

import pathlib
import warnings

import numpy as np
from skyfield.api import load_file, load
from skyfield_data import get_skyfield_data_path

warnings.simplefilter("ignore")
OUT = pathlib.Path(__file__).parent.parent / "crates/figure/tests/data/sunrise_skyfield.csv"
ts = load.timescale(builtin=True)
kernel = load_file(get_skyfield_data_path() + "/de421.bsp")
earth, sun = kernel["earth"], kernel["sun"]

PLACES = [(51.5333, -0.1276), (42.8806, -8.5449), (0.0, 0.0), (-33.9, 18.4), (60.17, 24.94), (65.5, 25.0)]
DAYS = [2433282.5, 2441418.5, 2448988.5, 2451624.5, 2451716.5, 2460444.5]


def altitude(latitude, longitude, jd_ut1):
    """Degrees, seen from the Earth's centre: right ascension, declination and sidereal time alone."""
    t = ts.ut1_jd(jd_ut1)
    ra, dec, _ = earth.at(t).observe(sun).apparent().radec("date")
    hour = np.radians(t.gast * 15 + longitude) - ra.radians
    phi = np.radians(latitude)
    return np.degrees(np.arcsin(np.sin(phi) * np.sin(dec.radians) + np.cos(phi) * np.cos(dec.radians) * np.cos(hour)))


def crossing(latitude, longitude, low, high, level):
    f = lambda t: altitude(latitude, longitude, t) - level
    a, b = f(low), f(high)
    if a * b > 0:
        return None
    for _ in range(40):
        middle = (low + high) / 2
        c = f(middle)
        if a * c > 0:
            low, a = middle, c
        else:
            high = middle
    return (low + high) / 2


def main():
    rows = ["# by reference/sunrise_skyfield.py, skyfield 1.55, DE421", "latitude_deg,longitude_deg,altitude_deg,rise_jd_ut1,set_jd_ut1"]
    for latitude, longitude in PLACES:
        for day in DAYS:
            noon = day + 0.5 - longitude / 360
            # The apparent noon is within a quarter of an hour of the mean one.
            grid = noon + np.linspace(-0.02, 0.02, 401)
            noon = max(grid, key=lambda t: altitude(latitude, longitude, t)) if latitude < 60 else noon
            for level in (0.0, -50 / 60):
                rise = crossing(latitude, longitude, noon - 0.49, noon, level)
                sets = crossing(latitude, longitude, noon, noon + 0.49, level)
                if rise and sets:
                    rows.append(f"{latitude},{longitude},{level:.12f},{rise:.8f},{sets:.8f}")
    OUT.parent.mkdir(exist_ok=True)
    OUT.write_text("\n".join(rows) + "\n")


main()
