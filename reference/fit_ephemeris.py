"""Fits data/ephemeris.bin to DE440 and DE422 and prints how well.

    python fit_ephemeris.py            write ../data/ephemeris.bin
    python fit_ephemeris.py --check    compare it byte for byte instead

The format is described in data/README.md. The arithmetic is plain IEEE (no BLAS,
no vendor sine), so the file comes out the same on every machine.
"""

import math
import os
import struct
import sys
import zlib

import numpy as np

import jpl

HERE = os.path.dirname(os.path.abspath(__file__))
BLOB = os.path.join(HERE, "..", "data", "ephemeris.bin")
MAGIC = b"SKYEPHEM"
VERSION = 1

# The span: -600 January 1 (Julian calendar), the seam 1550 January 1, and the end
# of DE440, 2650 January 25, as Julian dates.
ERAS = [("DE422", 1501907.5, 2287185.5), ("DE440", 2287185.5, 2688976.5)]

# Mean obliquity at J2000.0, IAU 2006; defines the plane the inclinations refer to.
OBLIQUITY = math.radians(84381.406 / 3600)

# Name: longest segment (days), terms, quantum (au), least distance from the Earth (au);
# then the axes the positions are stored in, which turn with the mean motion so that little
# is left to store: inclination and node on the ecliptic of J2000, daily motion, and the
# angle from the node at J2000, in degrees (means over the span, by least squares).
BODIES = [
    ("sun", 100, 2, 2.0e-8, 0.98, 0.0, 0.0, 0.0, 0.0),
    ("moon", 20, 13, 8.0e-11, 0.00238, 0.0, 0.0, 13.176359274, 218.33),
    ("mercury", 33, 11, 2.0e-8, 0.53, 7.061, 49.548, 4.092338830, 202.72),
    ("venus", 112, 7, 1.0e-8, 0.263, 3.394, 79.370, 1.602130490, 102.61),
    ("earthmoon", 64, 4, 1.0e-8, 0.263, 0.129, 359.416, 0.985609116, 101.05),
    ("mars", 100, 4, 1.3e-8, 0.37, 1.923, 52.426, 0.524032841, 303.01),
    ("jupiter", 400, 3, 1.4e-7, 3.9, 1.328, 98.901, 0.083091237, 295.45),
    ("saturn", 400, 3, 2.8e-7, 7.9, 2.453, 116.101, 0.033459534, 293.99),
    ("uranus", 800, 2, 6.0e-7, 17.2, 0.790, 73.346, 0.011729291, 239.98),
    ("neptune", 800, 2, 1.0e-6, 28.6, 1.768, 131.843, 0.005982831, 172.98),
    ("pluto", 800, 2, 1.0e-6, 28.6, 17.142, 110.381, 0.003984043, 129.45),
]


def cos_sin_of_turns(turns):
    """Cosine and sine of so many turns, by Taylor series within an eighth of one."""
    turns = turns - np.rint(turns)
    quarter = np.rint(4 * turns)
    a = (turns - quarter / 4) * (2 * math.pi)
    a2 = a * a
    sine, cosine = np.ones_like(a), np.ones_like(a)
    for k in range(16, 0, -2):
        sine = 1 - a2 * sine / (k * (k + 1))
        cosine = 1 - a2 * cosine / ((k - 1) * k)
    sine = sine * a
    quarter = quarter.astype(int) % 4
    c = np.choose(quarter, [cosine, -sine, -cosine, sine])
    s = np.choose(quarter, [sine, cosine, -sine, -cosine])
    return c, s


def plane(inclination, node):
    """Rows: axes of a plane (to the node, 90° on, pole) in the axes of the ICRS."""
    i, n = math.radians(inclination), math.radians(node)
    si, ci, sn, cn = math.sin(i), math.cos(i), math.sin(n), math.cos(n)
    ecliptic = [[cn, sn, 0.0], [-sn * ci, cn * ci, si], [sn * si, -cn * si, ci]]
    se, ce = math.sin(OBLIQUITY), math.cos(OBLIQUITY)
    return [[x, y * ce - z * se, y * se + z * ce] for x, y, z in ecliptic]


class Turning:
    """A JPL series seen from axes that turn in a plane."""

    def __init__(self, series, inclination, node, rate, phase):
        self.series, self.rate, self.phase = series, rate, phase
        self.rows = plane(inclination, node)

    def at(self, t):
        position, velocity = self.series.at(t)
        p = [r[0] * position[0] + r[1] * position[1] + r[2] * position[2] for r in self.rows]
        v = [r[0] * velocity[0] + r[1] * velocity[1] + r[2] * velocity[2] for r in self.rows]
        c, s = cos_sin_of_turns((self.rate * t + self.phase) / 360.0)
        n = math.radians(self.rate)
        x, y = c * p[0] + s * p[1], c * p[1] - s * p[0]
        u, w = c * v[0] + s * v[1] + n * y, c * v[1] - s * v[0] - n * x
        return np.stack([x, y, p[2]]), np.stack([u, w, v[2]])


def basis(x, terms):
    """(1 - x²)² T_k(x) for k < terms: they leave the ends and the slopes there alone."""
    chebyshev = [1.0, x]
    while len(chebyshev) < terms:
        chebyshev.append(2 * x * chebyshev[-1] - chebyshev[-2])
    return [(1 - x * x) ** 2 * t for t in chebyshev[:terms]]


def least_squares(nodes, terms):
    """Rows of the matrix that takes values at the nodes to coefficients (Gram-Schmidt)."""
    columns = [list(column) for column in zip(*(basis(x, terms) for x in nodes))]
    q, r = [], [[0.0] * terms for _ in range(terms)]
    for k, column in enumerate(columns):
        for j in range(k):
            r[j][k] = math.fsum(a * b for a, b in zip(q[j], column))
            column = [a - r[j][k] * b for a, b in zip(column, q[j])]
        r[k][k] = math.sqrt(math.fsum(a * a for a in column))
        q.append([a / r[k][k] for a in column])
    rows = [None] * terms
    for k in reversed(range(terms)):
        row = list(q[k])
        for j in range(k + 1, terms):
            row = [a - r[k][j] * b for a, b in zip(row, rows[j])]
        rows[k] = [a / r[k][k] for a in row]
    return rows


def hermite(x, p0, p1, v0, v1):
    """The cubic with these values and slopes at x = -1 and 1."""
    return (p0 * ((2 + x) * (1 - x) ** 2 / 4) + p1 * ((2 - x) * (1 + x) ** 2 / 4)
            + v0 * ((1 + x) * (1 - x) ** 2 / 4) + v1 * ((x - 1) * (1 + x) ** 2 / 4))


def fit(series, start, end, count, terms, quantum):
    """Integers: values and slopes at the joints [6, count + 1], coefficients [terms, 3, count];
    and the largest error found, in au."""
    days = (end - start) / count
    half = days / 2
    joints = (start - jpl.J2000) + days * np.arange(count + 1)
    position, velocity = series.at(joints)
    values, slopes = np.rint(position / quantum), np.rint(velocity * half / quantum)

    def remainder(x):
        exact = series.at(joints[:-1] + half + half * x)[0] / quantum
        return exact - hermite(x, values[:, :-1], values[:, 1:], slopes[:, :-1], slopes[:, 1:])

    nodes = [math.cos(math.pi * (m + 0.5) / (terms + 8)) for m in range(terms + 8)]
    remainders = [remainder(x) for x in nodes]
    coefficients = []
    for row in least_squares(nodes, terms):
        total = np.zeros((3, count))
        for weight, values_there in zip(row, remainders):
            total += weight * values_there
        coefficients.append(np.rint(total))

    worst = 0.0
    for x in np.linspace(-0.97, 0.97, 31):
        error = remainder(x)
        for c, b in zip(coefficients, basis(x, terms)):
            error = error - c * b
        worst = max(worst, math.sqrt((error**2).sum(0).max()) * quantum)
    joints_out = np.concatenate([values, slopes]).astype(np.int64)
    return joints_out, np.stack(coefficients).astype(np.int64), worst


def width(field):
    """Bits that hold every value of a field, sign included."""
    low, high = int(field.min()), int(field.max())
    return max(high.bit_length(), (-low - 1).bit_length() if low < 0 else 0) + 1


def pack(fields, widths):
    """Records of the fields one after the other, lowest bit first, each padded to a byte."""
    planes = []
    for field, bits in zip(fields, widths):
        planes += [((field >> b) & 1).astype(np.uint8) for b in range(bits)]
    return np.packbits(np.stack(planes, axis=1), axis=1, bitorder="little")


def build():
    sources = {"DE422": jpl.de422(), "DE440": jpl.de440()}
    headers, chunks = [], []
    print(f"{'body':10} {'era':6} {'segments':>8} {'days':>8} {'bytes':>9}  largest error")
    for era, (source, start, end) in enumerate(ERAS):
        for number, (name, longest, terms, quantum, nearest, *axes) in enumerate(BODIES):
            count = math.ceil((end - start) / longest)
            series = Turning(sources[source][name], *axes)
            joints, coefficients, worst = fit(series, start, end, count, terms, quantum)
            # The last record holds the last joint alone.
            coefficients = np.concatenate(
                [coefficients, np.zeros((terms, 3, 1), np.int64)], axis=2)
            fields = list(joints) + [coefficients[k, axis] for k in range(terms) for axis in range(3)]
            widths = [width(field) for field in fields]
            records = pack(fields, widths)
            chunks.append(records.tobytes())
            headers.append((number, era, terms, count, start, end, quantum, axes, records.shape[1], widths))
            arcsec = math.degrees(worst / nearest) * 3600
            print(f"{name:10} {source:6} {count:8} {(end - start) / count:8.3f} {records.size:9}  {arcsec:.4f}″")
    return assemble(headers, chunks)


def assemble(headers, chunks):
    def header(offsets):
        out = b""
        for (number, era, terms, count, start, end, quantum, axes, size, widths), offset in zip(headers, offsets):
            out += struct.pack("<BBBBI", number, era, terms, 0, count)
            out += struct.pack("<7d", start, end, quantum, *axes)
            out += struct.pack("<II", offset, size) + bytes(widths)
        return out

    first = 24 + len(header([0] * len(chunks)))
    offsets, at = [], first
    for chunk in chunks:
        offsets.append(at)
        at += len(chunk)
    # Eight spare bytes, so that a field can always be read as a whole word.
    body = header(offsets) + b"".join(chunks) + bytes(8)
    counted = struct.pack("<II", len(headers), 24 + len(body)) + body
    return MAGIC + struct.pack("<II", VERSION, zlib.crc32(counted)) + counted


if __name__ == "__main__":
    blob = build()
    print(f"{len(blob)} bytes")
    if "--check" in sys.argv:
        with open(BLOB, "rb") as file:
            same = file.read() == blob
        print("the committed file is the same" if same else "the committed file DIFFERS")
        sys.exit(not same)
    with open(BLOB, "wb") as file:
        file.write(blob)
