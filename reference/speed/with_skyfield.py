"""skyfield, all moments of a body in one call, from DE440."""

import sys
import time

import numpy as np
from skyfield.api import load, load_file
from skyfield.framelib import ecliptic_frame

BODIES = ["sun", "moon", "mercury", "venus", "mars barycenter", "jupiter barycenter",
          "saturn barycenter", "uranus barycenter", "neptune barycenter"]


def main():
    moments, answers, kernel, runs = sys.argv[1:]
    jd = np.loadtxt(moments)
    kernel = load_file(kernel)
    scale = load.timescale(builtin=True)
    for _ in range(int(runs)):
        begin = time.perf_counter()
        at = kernel["earth"].at(scale.tt_jd(jd))
        found = [at.observe(kernel[body]).apparent().frame_latlon(ecliptic_frame)[1].degrees for body in BODIES]
        print(time.perf_counter() - begin)
    np.savetxt(answers, np.array(found).T, fmt="%.9f", delimiter=",")


if __name__ == "__main__":
    main()
