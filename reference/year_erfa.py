"""Sunrise, sunset, the Sun's degree and the equation of time of `almuri year`, held against
ERFA on every day of a year in random places.

    .venv/bin/python year_erfa.py ../target/debug/almuri > year_erfa.md

The Sun is ERFA's own (`epv00` with aberration, precession and nutation by `apci13`,
`atciq` and `gst06a`), which shares nothing with the program's ephemeris. Rising is of the
upper limb: the centre 34′ and the semidiameter below the horizon, parallax included.
"""

import json
import math
import pathlib
import random
import subprocess
import sys

import erfa
import numpy as np

ALMURI = pathlib.Path(sys.argv[1]).resolve()
PLACES = 12


def sun(jd_ut, delta_t_s):
    """Apparent right ascension, declination, longitude (radians), distance (au)."""
    tt = delta_t_s / 86400.0
    pvh, pvb = erfa.epv00(jd_ut, tt)
    geocentric = -pvh["p"]
    # Light time to the Sun, by the Earth's place then.
    distance = np.linalg.norm(geocentric, axis=-1)
    pvh, pvb = erfa.epv00(jd_ut, tt)
    sun_now = pvb["p"] - pvh["p"]
    light_days = distance * 499.004784 / 86400.0
    pvh2, pvb2 = erfa.epv00(jd_ut, tt - light_days)
    sun_then = pvb2["p"] - pvh2["p"]
    ray = sun_then - pvb["p"]
    distance = np.linalg.norm(ray, axis=-1)
    unit = ray / distance[..., None]
    v = pvb["v"] / 173.1446326847  # in units of light's speed
    bm1 = np.sqrt(1 - np.sum(v * v, axis=-1))
    proper = erfa.ab(unit, v, distance, bm1)
    matrix = erfa.pnm06a(jd_ut, tt)
    x, y, z = np.moveaxis(np.einsum("...ij,...j->...i", matrix, proper), -1, 0)
    obliquity = erfa.obl06(jd_ut, tt) + erfa.nut06a(jd_ut, tt)[1]
    longitude = np.arctan2(y * np.cos(obliquity) + z * np.sin(obliquity), x)
    return np.arctan2(y, x), np.arcsin(z), longitude, distance


def above(jd_ut, delta_t_s, latitude, longitude):
    """How high the upper limb stands above where it appears on the horizon, in radians."""
    ra, dec, _, distance = sun(jd_ut, delta_t_s)
    gst = erfa.gst06a(jd_ut, 0.0, jd_ut, delta_t_s / 86400.0)
    hour = gst + longitude - ra
    altitude = np.arcsin(np.sin(latitude) * np.sin(dec) + np.cos(latitude) * np.cos(dec) * np.cos(hour))
    parallax = np.radians(8.794143 / 3600) / distance * np.cos(altitude)
    semidiameter = np.radians(959.63 / 3600) / distance
    return altitude - parallax + semidiameter + np.radians(34 / 60)


def jd(date, time, offset_s):
    year, month, day = (int(part) for part in date.split("-"))
    hours, minutes, seconds = (float(part) for part in time.split(":"))
    day1, day2 = erfa.cal2jd(year, month, day)
    return day1 + day2 + (hours * 3600 + minutes * 60 + seconds - offset_s) / 86400.0


def main():
    dice = random.Random(27)
    print("# The year's book against ERFA\n")
    print("Every day of a year at random places, clocks without summer time. How far off at most:\n")
    print("| latitude | longitude | year | days | sunrise, sunset (s) | Sun's degree (″) | equation of time (s) |")
    print("|--:|--:|--:|--:|--:|--:|--:|")
    worst = [0.0, 0.0, 0.0]
    for _ in range(PLACES):
        latitude, longitude = dice.uniform(-60, 60), dice.uniform(-179, 179)
        year = dice.randint(1950, 2050)
        line = [ALMURI, "year", str(year), "--no-settings", f"--at={latitude:.4f},{longitude:.4f}"]
        line += ["--zone", "UTC", "--json"]
        answer = json.loads(subprocess.run(line, check=True, capture_output=True, text=True).stdout)
        plain = [ALMURI, "cast", f"{year}-07-01 12:00", "--no-settings", f"--at={latitude:.4f},{longitude:.4f}", "--zone", "UTC", "--json"]
        if latitude < 0:
            plain += ["--with", "southern instrument"]
        delta_t = json.loads(subprocess.run(plain, check=True, capture_output=True, text=True).stdout)["moment"]["delta_t_s"]
        phi, lam = math.radians(round(latitude, 4)), math.radians(round(longitude, 4))
        noons = np.array([jd(day["date"], "12:00:00", 0.0) for day in answer["days"]])
        ra, _, lon, _ = sun(noons, delta_t)
        degrees = np.array([day["sun_deg"] for day in answer["days"]])
        off = (np.degrees(lon) - degrees + 540) % 360 - 180
        # The mean Sun is on the meridian of Greenwich at noon UT.
        gst = erfa.gst06a(noons, 0.0, noons, delta_t / 86400.0)
        equation = ((gst - ra + math.pi) % (2 * math.pi) - math.pi) * 43200 / math.pi
        told = np.array([day["equation_of_time_s"] for day in answer["days"]])
        rises = []
        for day in answer["days"]:
            for key in ("sunrise", "sunset"):
                if day[key]:
                    date, time = day[key].rsplit(" ", 1)
                    at = jd(date, time, 0.0)
                    here = float(above(np.array([at]), delta_t, phi, lam)[0])
                    later = float(above(np.array([at + 10 / 86400]), delta_t, phi, lam)[0])
                    rises.append(abs(here / ((later - here) / 10)))
        row = [max(rises), float(np.max(np.abs(off))) * 3600, float(np.max(np.abs(equation - told)))]
        worst = [max(a, b) for a, b in zip(worst, row)]
        print(f"| {latitude:.1f} | {longitude:.1f} | {year} | {len(answer['days'])} | {row[0]:.1f} | {row[1]:.2f} | {row[2]:.2f} |")
    print(f"\nAt most: {worst[0]:.1f} s, {worst[1]:.2f}″, {worst[2]:.2f} s. Times are told to the second.")


if __name__ == "__main__":
    main()
