"""Seeks the days on which the planets stood in the signs of horoscopes that Vettius Valens
gives without a date (Anthologiarum libri, ed. W. Kroll, Berlin 1908, book VII, pp. 280-287).

    .venv/bin/python valens.py > valens.csv

Every day from the year 20 to 175 is looked at, every six hours, with ERFA's plan94, epv00 and
moon98 (outside their spans; good to a degree there, where signs are asked for). Longitudes were
counted from a point some degrees west of the equinox: four are added. A body fits where it is
within four and a half degrees of its sign, for the tables of the time were no better. Of hours
that fit, that one is told at which all stand deepest in their signs.
"""

import erfa
import numpy

SIGNS = "Aries Taurus Gemini Cancer Leo Virgo Libra Scorpio Sagittarius Capricorn Aquarius Pisces".split()
BODIES = ("Sun", "Moon", "Mercury", "Venus", "Mars", "Jupiter", "Saturn")

# The page and line of Kroll's edition; the signs of the seven in the order of BODIES; the
# ascendant.
PRINTED = [
    ("280.34", "Leo Leo Cancer Gemini Sagittarius Pisces Virgo", "Libra"),
    ("282.27", "Cancer Cancer Gemini Gemini Aries Aries Aries", "Gemini"),
    ("283.4", "Capricorn Taurus Capricorn Pisces Taurus Cancer Scorpio", "Taurus"),
    ("283.15", "Sagittarius Cancer Sagittarius Capricorn Leo Taurus Sagittarius", "Virgo"),
    ("284.12", "Leo Virgo Leo Leo Aries Capricorn Libra", "Cancer"),
    ("285.5", "Libra Aquarius Libra Leo Aries Capricorn Pisces", "Cancer"),
    # Six men in one ship, in its storm.
    ("286.29", "Leo Libra Leo Virgo Virgo Taurus Aries", "Capricorn"),
    ("287.1", "Aquarius Scorpio Aquarius Capricorn Virgo Libra Cancer", "Virgo"),
    ("287.12", "Sagittarius Libra Capricorn Sagittarius Sagittarius Virgo Gemini", "Capricorn"),
    ("287.18", "Cancer Aries Cancer Cancer Leo Gemini Libra", "Gemini"),
    ("287.25", "Aquarius Aries Capricorn Capricorn Libra Sagittarius Leo", "Pisces"),
    ("287.31", "Taurus Taurus Taurus Taurus Leo Scorpio Sagittarius", "Pisces"),
]

# As they are printed no day has them. Without this one the others fit a single day, on which
# it stands in another sign.
SLIPS = {"287.12": "Mercury", "287.25": "Venus"}

BEYOND = 4.5
AHEAD = 4.0


def longitudes(jd):
    """Longitudes of date of the seven, in degrees."""
    t1, t2 = 2451545.0, jd - 2451545.0
    earth, _ = erfa.epv00(t1, t2)
    rnpb = erfa.ecm06(t1, t2)
    found = []
    for number in (None, "moon", 1, 2, 4, 5, 6):
        if number is None:
            vector = -earth["p"]
        elif number == "moon":
            vector = erfa.moon98(t1, t2)["p"]
        else:
            vector = erfa.plan94(t1, t2, number)["p"] - earth["p"]
        vector = numpy.einsum("...ij,...j->...i", rnpb, vector)
        found.append(numpy.degrees(numpy.arctan2(vector[..., 1], vector[..., 0])) % 360)
    return numpy.array(found)


def main():
    first, last = (erfa.cal2jd(year, 1, 1)[1] + 2400000.5 for year in (20, 175))
    days = numpy.arange(first, last, 0.25)
    every = longitudes(days)
    print("page," + ",".join(BODIES).lower() + ",ascendant,slip,days_that_fit,jd_ut")
    for page, signs, rising in PRINTED:
        slip = SLIPS.get(page, "")
        middles = numpy.array([SIGNS.index(sign) * 30 + 15 for sign in signs.split()])
        off = numpy.abs((every + AHEAD - middles[:, None] + 180) % 360 - 180)
        inside = 15 - off[[body != slip for body in BODIES]].max(axis=0)
        fits = numpy.flatnonzero(inside > -BEYOND)
        # Hours that hang together are one.
        spans = numpy.split(fits, numpy.flatnonzero(numpy.diff(fits) > 8) + 1)
        best = fits[numpy.argmax(inside[fits])]
        print(f"{page},{signs.replace(' ', ',')},{rising},{slip},{len(spans)},{days[best]}")


main()
