"""Writes apparent_places.csv and nodes.csv, check values for the tests of crates/sky."""

import os

import erfa
import numpy as np

import jpl
from apparent import BODIES, SEAM, Observer, observe

HERE = os.path.dirname(os.path.abspath(__file__))
FIRST, LAST = 1501907.5, 2688976.5


def moments():
    """Four a century at random, and the ends of the span and of the eras."""
    generator = np.random.default_rng(2026)
    begins = np.arange(FIRST, LAST - 36525, 36525)
    random = (begins[:, None] + generator.uniform(0, 36525, (len(begins), 4))).ravel()
    ends = [FIRST + 0.25, SEAM - 0.25, SEAM + 0.25, LAST - 0.25]
    return np.sort(np.concatenate([np.round(random, 4), ends]))


def true_node(source, jd):
    """Node of the Moon's osculating orbit on the true ecliptic of date, radians."""
    observer = Observer(source, jd)
    place, velocity = source["moon"].at(observer.t)
    pole = np.einsum("nij,nj->ni", observer.to_ecliptic, np.cross(place.T, velocity.T))
    return (np.arctan2(pole[:, 0], -pole[:, 1]) + observer.dpsi) % (2 * np.pi)


def provenance(what):
    return (f"# by reference/apparent_places.py with pyerfa {erfa.__version__}, from DE422 before JD {SEAM}\n"
            f"# and DE440 from then on; {what}\n")


def main():
    sources = jpl.de422(), jpl.de440()
    jd = moments()
    seen = {body: observe(sources, jd, body) for body in BODIES}
    with open(os.path.join(HERE, "apparent_places.csv"), "w") as out:
        out.write(provenance("apparent geocentric places, true ecliptic, equator and equinox of date"))
        out.write("jd_tt,body,longitude_deg,latitude_deg,distance_au,right_ascension_deg,declination_deg,speed_deg_per_day\n")
        for i, moment in enumerate(jd):
            for body in BODIES:
                lon, lat, distance, ra, dec, speed = seen[body][:, i]
                out.write(f"{moment:.4f},{body},{np.degrees(lon):.7f},{np.degrees(lat):.7f},{distance:.10f},"
                          f"{np.degrees(ra):.7f},{np.degrees(dec):.7f},{np.degrees(speed):.6f}\n")
    with open(os.path.join(HERE, "nodes.csv"), "w") as out:
        out.write(provenance("ascending node of the Moon's osculating orbit, true equinox of date"))
        out.write("jd_tt,true_node_deg\n")
        nodes = np.where(jd < SEAM, true_node(sources[0], jd), true_node(sources[1], jd))
        for moment, node in zip(jd, nodes):
            out.write(f"{moment:.4f},{np.degrees(node):.6f}\n")


if __name__ == "__main__":
    main()
