"""Writes stations.csv: when the planets stand still in apparent longitude."""

import os

import erfa
import numpy as np

import jpl
from apparent import SEAM, BODIES, observe

HERE = os.path.dirname(os.path.abspath(__file__))


def main():
    sources = jpl.de422(), jpl.de440()
    with open(os.path.join(HERE, "stations.csv"), "w") as out:
        out.write(f"# by reference/stations.py with pyerfa {erfa.__version__}, from DE422 before JD {SEAM}\n"
                  "# and DE440 from then on; stations in apparent longitude, true equinox of date\n")
        out.write("body,jd_tt,turns\n")
        for begin in (1540000.5, 2229119.5, 2451544.5):
            for body in BODIES[2:]:
                speed = lambda jd: observe(sources, np.atleast_1d(jd), body)[5]
                jd = begin + np.arange(0.0, 800.0, 4.0)
                v = speed(jd)
                for i in np.nonzero(v[:-1] * v[1:] < 0)[0][:4]:
                    a, b = jd[i], jd[i + 1]
                    for _ in range(30):
                        m = (a + b) / 2
                        a, b = (m, b) if speed(m)[0] * v[i] > 0 else (a, m)
                    out.write(f"{body},{a:.6f},{'retrograde' if v[i] > 0 else 'direct'}\n")


if __name__ == "__main__":
    main()
