"""Places that the workshop's parts are held against, by ERFA and plain geometry alone.

Star: eraStarpm and eraPmat06 or eraLtpb from the rows of data/stars.csv, with
the velocities of data/radial_velocities.csv. Sun: eraEpv00,
aberration and eraPnm06a. Houses and unequal hours: plane and spherical trigonometry,
written out here. Drawn points are millimetres from the pole, x right and y up.
"""

import csv
import functools
import math
from pathlib import Path

import erfa
import numpy as np

ROOT = Path(__file__).resolve().parent.parent
MAS = math.radians(1 / 3_600_000)


class Drawing:
    """How the front of an instrument is laid out."""

    def __init__(self, diameter, north, noon_up, obliquity_deg, ring=False):
        self.north, self.noon_up = north, noon_up
        self.eps = math.radians(obliquity_deg)
        self.mater = diameter / 2
        # The outer tropic is the plate's edge, 0.87 of the mater's radius, or stands
        # within a date ring of 0.08 of that.
        self.plate = 0.87 * self.mater
        self.edge = self.plate * (0.92 if ring else 1.0)
        self.equator = self.edge / math.tan(math.pi / 4 + self.eps / 2)

    def radius(self, delta):
        return self.equator * np.tan(np.pi / 4 - (delta if self.north else -delta) / 2)

    def declination(self, radius):
        delta = np.pi / 2 - 2 * np.arctan(radius / self.equator)
        return delta if self.north else -delta

    def drawn(self, hour_angle, radius):
        """Where a place of the plate is drawn."""
        up = 1.0 if self.noon_up else -1.0
        right = up if self.north else -up
        return np.array([right * radius * np.sin(hour_angle), up * radius * np.cos(hour_angle)])

    def plane(self, xy):
        """Drawn points to a plane whose directions are hour angles."""
        up = 1.0 if self.noon_up else -1.0
        right = up if self.north else -up
        return xy[:, 1] * up + 1j * xy[:, 0] * right

    def scale(self, radius):
        """Millimetres of a radian of sky."""
        return (self.equator**2 + radius**2) / (2 * self.equator)


def catalogue():
    """The stars that are lettered on instruments: name to row."""
    def rows(name):
        with open(ROOT / "data" / name) as lines:
            yield from csv.DictReader(line for line in lines if not line.startswith("#"))

    by_hip = {row["hip"]: row for row in rows("stars.csv")}
    named = {}
    for row in rows("star_names.csv"):
        if row["use"] == "instrument" and row["hip"] not in named.values():
            named[row["name"]] = row["hip"]
    return {name: by_hip[hip] for name, hip in named.items() if hip in by_hip}


@functools.cache
def velocities():
    """How fast the nearest stars recede, in km/s, by their Hipparcos numbers."""
    path = ROOT / "data/radial_velocities.csv"
    with path.open(encoding="utf-8") as file:
        rows = csv.DictReader(line for line in file if not line.startswith("#"))
        return {row["hip"]: float(row["recedes_km_s"]) for row in rows}


def velocity(hip):
    return velocities().get(hip, 0.0)


def star(row, year):
    """Mean right ascension and declination at an epoch, in radians."""
    ra, dec = math.radians(float(row["ra_deg"])), math.radians(float(row["dec_deg"]))
    ra, dec, *_ = erfa.starpm(
        ra, dec, float(row["pm_ra_mas"]) * MAS / math.cos(dec), float(row["pm_dec_mas"]) * MAS,
        max(float(row["parallax_mas"]), 0.0) / 1000, velocity(row["hip"]),
        *erfa.epj2jd(1991.25), *erfa.epj2jd(year),
    )
    matrix = erfa.pmat06(*erfa.epj2jd(year)) if 1900 <= year <= 2100 else erfa.ltpb(year)
    return erfa.c2s(matrix @ erfa.s2c(ra, dec))


# TT − UT in seconds, from the Earth orientation centre's tables, to some seconds.
DELTA_T = ([1900, 1920, 1940, 1960, 1980, 2000, 2020, 2100], [-3, 21, 24, 33, 51, 64, 69, 69])


def sun(jd_ut):
    """The Sun's apparent longitude, in radians; good to 0.1″ from 1900 to 2100."""
    year = 2000 + (jd_ut - 2451545) / 365.25
    tt = jd_ut + np.interp(year, *DELTA_T) / 86400
    earth = erfa.epv00(tt, 0.0)[0]["p"]
    distance = np.linalg.norm(earth)
    x, y, z = erfa.pnm06a(tt, 0.0) @ (-earth / distance)
    eps = erfa.obl06(tt, 0.0) + erfa.nut06a(tt, 0.0)[1]
    longitude = math.atan2(y * math.cos(eps) + z * math.sin(eps), x)
    return (longitude - math.radians(20.4955 / 3600) / distance) % (2 * math.pi)


def obliquity(year):
    """The mean obliquity of an epoch in degrees: IAU 2006 near us, else of long reach."""
    if 1900 <= year <= 2100:
        return math.degrees(erfa.obl06(*erfa.epj2jd(year)))
    equator, ecliptic = erfa.ltpequ(year), erfa.ltpecl(year)
    return math.degrees(math.acos(equator @ ecliptic))


def house_planes(method, phi):
    """The planes of the houses' circles: angles about the horizon's north, east to zenith."""
    h = np.radians(np.arange(0, 360, 30))
    if method == "campanus":
        return h
    return np.arctan2(np.cos(phi) * np.cos(h), -np.sin(h))
