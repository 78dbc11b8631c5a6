"""Compares the rows of crates/sky/src/delta_t_spline.rs with table S15.2020 in skyfield."""

import os
import re
import sys

import numpy as np
import skyfield

here = os.path.dirname(os.path.abspath(__file__))
with open(os.path.join(here, "../crates/sky/src/delta_t_spline.rs")) as file:
    rows = [[float(x) for x in re.findall(r"-?[\d.]+", line)]
            for line in file if re.match(r"\s+\[-?\d", line)]
# skyfield keeps columns: first year, last year, a3, a2, a1, a0.
theirs = np.load(os.path.join(os.path.dirname(skyfield.__file__), "data", "delta_t.npz"))["Table-S15.2020.txt"]
same = np.array_equal(np.array(rows), theirs[[0, 1, 5, 4, 3, 2]].T)
print(len(rows), "rows,", "the same" if same else "DIFFERENT")
sys.exit(not same)
