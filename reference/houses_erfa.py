"""Angles and houses by ERFA, for the tests of `crates/figure`.

Sidereal time, obliquity and every position in the sky come from ERFA; the
ascendant and the cusps are found by searching the ecliptic for the degrees
that satisfy the definitions, with none of the trade's formulas.

    python -m pip install -r reference/requirements-figure.txt
    python reference/houses_erfa.py

writes houses_erfa.csv beside itself, in some ten seconds.
"""

import datetime
import pathlib

import erfa
import numpy as np

OUT = pathlib.Path(__file__).with_suffix(".csv")

# Date and UT1 hour, TT-UT1 in seconds, east longitude and latitude in degrees:
# public towns north and south, the polar circles, and the high polar latitudes.
CASES = [
    ((1650, 3, 21), 12.00, 50.0, -0.1276, 51.5333),
    ((1752, 11, 2), 4.25, 15.0, 11.2558, 43.7696),
    ((1846, 9, 23), 22.50, 8.0, 13.4050, 52.5200),
    ((1905, 6, 30), 9.10, 4.0, 7.4474, 46.9480),
    ((1930, 7, 1), 11.00, 24.0, 4.9041, 52.3676),
    ((1969, 7, 20), 20.28, 40.0, 0.0, 0.0),
    ((1987, 4, 10), 19.35, 55.6, -77.0656, 38.9214),
    ((2000, 1, 1), 12.00, 63.8, 18.4241, -33.9249),
    ((2011, 12, 22), 5.50, 66.6, -68.3030, -54.8019),
    ((2024, 5, 14), 7.33, 69.2, -8.5449, 42.8806),
    ((2024, 12, 21), 9.35, 69.2, 25.7294, 66.4900),
    ((2033, 6, 21), 2.00, 72.0, 25.7294, -66.4900),
    ((2010, 2, 3), 6.10, 66.1, 18.9560, 69.6492),
    ((2010, 2, 3), 18.60, 66.1, 18.9560, 69.6492),
    ((2016, 8, 19), 3.80, 68.1, 15.6356, 78.2232),
    ((2016, 8, 19), 15.80, 68.1, 15.6356, 78.2232),
    ((2019, 10, 5), 20.10, 69.4, 77.9674, -68.5773),
    ((2350, 9, 9), 14.44, 400.0, 139.6917, 35.6895),
]

TURN = 2 * np.pi
# The search first looks at every twentieth of a degree.
GRID = np.linspace(0.0, TURN, 7201)


class Horizon:
    def __init__(self, date, hour, delta_t, longitude, latitude):
        djm0, djm = erfa.cal2jd(*date)
        self.ut = (djm0, djm + hour / 24)
        self.tt = (djm0, djm + (hour + delta_t / 3600) / 24)
        gast = erfa.gst06a(*self.ut, *self.tt)
        self.theta = erfa.anp(gast + np.radians(longitude))
        self.eps = erfa.obl06(*self.tt) + erfa.nut06a(*self.tt)[1]
        self.phi = np.radians(latitude)

    def with_theta(self, theta):
        return self.moved(theta, self.phi)

    def moved(self, theta, phi):
        other = object.__new__(Horizon)
        other.theta, other.phi, other.eps = theta, phi, self.eps
        return other

    def equatorial(self, longitude):
        """Right ascension and declination of ecliptic degrees."""
        to_equator = erfa.rx(-self.eps, np.identity(3))
        return erfa.c2s(erfa.rxp(to_equator, erfa.s2c(longitude, 0.0)))

    def hour_angle(self, longitude):
        return erfa.anpm(self.theta - self.equatorial(longitude)[0])

    def azimuth_altitude(self, longitude):
        _, dec = self.equatorial(longitude)
        return erfa.hd2ae(self.hour_angle(longitude), dec, self.phi)

    def vector(self, longitude):
        """Unit vectors of ecliptic degrees: north, east, up."""
        az, alt = self.azimuth_altitude(longitude)
        return erfa.s2c(az, alt)

    def altitude(self, longitude):
        return self.azimuth_altitude(longitude)[1]

    def semi_arc(self, longitude):
        """Hour angle at setting; nan where it neither rises nor sets."""
        _, dec = self.equatorial(longitude)

        def altitude(hour_angle):
            return erfa.hd2ae(hour_angle, dec, self.phi)[1]

        above, below = np.zeros_like(dec), np.full_like(dec, np.pi)
        sets = (altitude(above) > 0) & (altitude(below) < 0)
        for _ in range(60):
            middle = (above + below) / 2
            up = altitude(middle) > 0
            above, below = np.where(up, middle, above), np.where(up, below, middle)
        return np.where(sets, above, np.nan)


def solutions(function):
    """Longitudes at which a function of longitude crosses zero, not where it jumps."""
    values = function(GRID)
    found = []
    for low, high, at_low, at_high in zip(GRID, GRID[1:], values, values[1:]):
        if not np.sign(at_low) * np.sign(at_high) <= 0 or abs(at_low - at_high) > 1:
            continue
        if at_high == 0:
            continue
        for _ in range(60):
            middle = (low + high) / 2
            if np.sign(function(np.array([middle]))[0]) == np.sign(at_high):
                high = middle
            else:
                low = middle
        found.append((low + high) / 2)
    return found


def only(found):
    return found[0] if len(found) == 1 else None


def ascendant(h):
    """On the horizon, and east of the meridian."""
    return only([x for x in solutions(h.altitude) if h.vector(x)[1] > 0])


def midheaven(h):
    return only([x for x in solutions(h.hour_angle) if abs(h.hour_angle(x)) < 1])


def with_right_ascension(h, right_ascension):
    return midheaven(h.with_theta(right_ascension))


def on_half_circle(h, through):
    """On the half great circle from the north to the south point of the horizon
    that goes through a direction (north, east, up)."""
    normal = erfa.pxp([1.0, 0.0, 0.0], through)
    side = erfa.pxp(normal, [1.0, 0.0, 0.0])
    crossings = solutions(lambda x: erfa.pdp(h.vector(x), normal))
    return only([x for x in crossings if erfa.pdp(h.vector(x), side) > 0])


def alcabitius(h, asc):
    to_meridian = erfa.anp(-h.hour_angle(asc))
    below = np.pi - to_meridian
    return [
        with_right_ascension(h, h.theta + arc)
        for arc in (
            to_meridian / 3,
            to_meridian * 2 / 3,
            to_meridian + below / 3,
            to_meridian + below * 2 / 3,
        )
    ]


def regiomontanus(h, _):
    divisions = np.radians([30, 60, 120, 150])
    return [on_half_circle(h, erfa.s2c(*erfa.hd2ae(-d, 0.0, h.phi))) for d in divisions]


def campanus(h, _):
    altitudes = np.radians([60, 30, -30, -60])
    return [on_half_circle(h, erfa.s2c(np.pi / 2, a)) for a in altitudes]


def placidus(h, _):
    def excess(angle):
        return np.where(np.isnan(angle), np.nan, erfa.anpm(np.nan_to_num(angle)))

    def upper(thirds):
        return lambda x: excess(-h.hour_angle(x) - h.semi_arc(x) * thirds / 3)

    def lower(thirds):
        # From the lower meridian: a third of the nocturnal semi-arc before it.
        return lambda x: excess(
            -h.hour_angle(x) - np.pi + (np.pi - h.semi_arc(x)) * thirds / 3
        )

    return [only(solutions(f)) for f in (upper(1), upper(2), lower(2), lower(1))]


def koch(h, _):
    semi_arc = h.semi_arc(np.array([midheaven(h)]))[0]
    if np.isnan(semi_arc):
        return [None] * 4
    return [ascendant(h.with_theta(h.theta + semi_arc * t / 3)) for t in (-2, -1, 1, 2)]


def topocentric(h, _):
    return [
        ascendant(
            h.moved(
                h.theta + np.radians(degrees - 90),
                np.arctan(np.tan(h.phi) * thirds / 3),
            )
        )
        for degrees, thirds in ((30, 1), (60, 2), (120, 2), (150, 1))
    ]


def morinus(h, _):
    """The equator's points seen along the ecliptic."""
    to_ecliptic = erfa.rx(h.eps, np.identity(3))
    points = [erfa.s2c(h.theta + np.radians(d), 0.0) for d in (30, 60, 120, 150)]
    return [erfa.anp(erfa.c2s(erfa.rxp(to_ecliptic, p))[0]) for p in points]


METHODS = {
    f.__name__: f
    for f in (
        alcabitius,
        regiomontanus,
        campanus,
        placidus,
        koch,
        topocentric,
        morinus,
    )
}


def degrees(angle):
    return "" if angle is None else f"{np.degrees(angle) % 360:.12f}"


def signed_degrees(angle):
    return f"{np.degrees(angle):.12f}"


def rows():
    for date, hour, delta_t, longitude, latitude in CASES:
        h = Horizon(date, hour, delta_t, longitude, latitude)
        asc, mc = ascendant(h), midheaven(h)
        assert asc is not None and mc is not None
        asc_az, asc_alt = h.azimuth_altitude(asc)
        mc_az, mc_alt = h.azimuth_altitude(mc)
        assert abs(asc_alt) < 1e-14
        head = [
            f"{date[0]:04}-{date[1]:02}-{date[2]:02} {hour:.2f}h",
            f"{latitude:.4f}",
            degrees(h.theta),
            degrees(h.eps),
        ]
        yield [*head, "angles", degrees(asc), degrees(asc_az), degrees(mc), signed_degrees(mc_alt)]
        for name, method in METHODS.items():
            # Where the midheaven is below the horizon these have no cusps that
            # begin with it.
            if mc_alt < 0 and name in ("regiomontanus", "campanus", "topocentric"):
                cusps = [None] * 4
            else:
                cusps = method(h, asc)
            if None in cusps or not (name == "morinus" or in_order([mc, *cusps[:2], asc, *cusps[2:]])):
                cusps = [None] * 4
            yield [*head, name, *map(degrees, cusps)]


def in_order(cusps):
    """From the tenth to the fourth forward, half a turn in all."""
    ends = [*cusps, cusps[0] + np.pi]
    return sum((b - a) % TURN for a, b in zip(ends, ends[1:])) < 1.5 * np.pi


def main():
    header = [
        "# Ascendant, midheaven and cusps XI, XII, II, III found by search with ERFA's",
        "# coordinates; empty where no degree, or more than one, satisfies the definition.",
        "# Written by reference/houses_erfa.py with",
        f"# pyerfa {erfa.__version__} (ERFA {erfa.version.erfa_version}, SOFA release {erfa.version.sofa_version}), numpy {np.__version__}.",
        "# Frames: IAU 2006 precession, IAU 2000A nutation; UT1 taken as given, TT-UT1 as in the script.",
        "# All in degrees. angles: ascendant, its azimuth, midheaven, its altitude.",
        "moment_ut1,latitude,sidereal_time,obliquity,what,xi,xii,ii,iii",
    ]
    lines = header + [",".join(row) for row in rows()]
    OUT.write_text("\n".join(lines) + "\n")


if __name__ == "__main__":
    main()
