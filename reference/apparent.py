"""Apparent geocentric places from the JPL ephemerides through ERFA.

Light time by iteration on the ephemeris itself, deflection by the Sun (erfa.ld),
aberration (erfa.ab), long-term precession (erfa.ltecm), the whole nutation
(erfa.nut06a); TDB - TT by erfa.dtdb. Used by the scripts that write check values.
"""

import erfa
import numpy as np

import jpl

C = 299792.458 * 86400 / jpl.AU_KM
SEAM = 2287185.5
BODIES = ["Sun", "Moon", "Mercury", "Venus", "Mars", "Jupiter", "Saturn", "Uranus", "Neptune", "Pluto"]


class Observer:
    """The Earth's centre at Julian dates (TT), all of one ephemeris."""

    def __init__(self, series, jd_tt, offset=0.0):
        """The offset, in days, is added to the dates without loss of digits."""
        self.series = series
        day = np.asarray(jd_tt) - jpl.J2000
        tt = day + offset
        self.t = tt + erfa.dtdb(jpl.J2000, tt, 0.0, 0.0, 0.0, 0.0) / 86400
        self.earth, self.velocity = self.earth_at(self.t)
        self.sun = series["sun"].at(self.t)[0]
        self.to_ecliptic = erfa.ltecm(2000 + tt / 365.25)
        epoch = 2000 + tt / 365.25
        self.mean_obliquity = np.arccos(np.sum(erfa.ltpecl(epoch) * erfa.ltpequ(epoch), axis=-1))
        self.dpsi, self.deps = erfa.nut06a(jpl.J2000, tt)

    def earth_at(self, t):
        both, moon = self.series["earthmoon"].at(t), self.series["moon"].at(t)
        return [b - m / (1 + jpl.EARTH_MOON_MASS_RATIO) for b, m in zip(both, moon)]

    def place(self, body, t):
        if body == "Moon":
            return self.series["moon"].at(t)[0] + self.earth_at(t)[0]
        return self.series[body.lower()].at(t)[0]

    def apparent(self, body):
        """Longitude, latitude, distance (au), right ascension, declination; radians."""
        ray = self.place(body, self.t) - self.earth
        for _ in range(5):
            light_time = np.sqrt((ray**2).sum(0)) / C
            there = self.place(body, self.t - light_time)
            ray = there - self.earth
        distance = np.sqrt((ray**2).sum(0))
        p = (ray / distance).T
        e = (self.earth - self.sun).T
        em = np.sqrt((e**2).sum(1))
        e = e / em[:, None]
        if body != "Sun":
            q = (there - self.sun).T
            q = q / np.sqrt((q**2).sum(1))[:, None]
            p = erfa.ld(1.0, p, q, e, em, 1e-6 / np.maximum(em**2, 1.0))
        v = self.velocity.T / C
        p = erfa.ab(p, v, em, np.sqrt(1 - (v**2).sum(1)))
        longitude, latitude = erfa.c2s(np.einsum("nij,nj->ni", self.to_ecliptic, p))
        longitude = longitude + self.dpsi
        seen = erfa.s2c(longitude, latitude)
        to_equator = erfa.rx(-(self.mean_obliquity + self.deps), np.tile(np.eye(3), (len(em), 1, 1)))
        ra, declination = erfa.c2s(np.einsum("nij,nj->ni", to_equator, seen))
        return longitude % (2 * np.pi), latitude, distance, ra % (2 * np.pi), declination


def observe(sources, jd_tt, body, offset=0.0):
    """As Observer.apparent, with DE422 before the seam and DE440 after; and longitude
    speed in radians a day, by differences over 0.02 day. Sources: (de422, de440)."""
    out = np.zeros((6, len(jd_tt)))
    for source, here in zip(sources, (jd_tt < SEAM, jd_tt >= SEAM)):
        if not here.any():
            continue
        at = jd_tt[here]
        out[:5, here] = Observer(source, at, offset).apparent(body)
        step = 0.01
        lon = [Observer(source, at, offset + k * step).apparent(body)[0] for k in (-2, -1, 1, 2)]
        turn = lambda a, b: (b - a + np.pi) % (2 * np.pi) - np.pi
        out[5, here] = (8 * turn(lon[1], lon[2]) - turn(lon[0], lon[3])) / (12 * step)
    return out
