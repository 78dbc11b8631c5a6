# /// script
# requires-python = ">=3.11"
# dependencies = ["numpy==2.4.6", "opencv-python-headless==5.0.0.93", "pyerfa==2.0.1.5"]
# ///
"""Writes photograph_opencv.csv: astrolabes seen by another camera than ours.

Points of the sphere go to the plane by the tangent of half the polar distance; almucantars,
ring and stars by spherical trigonometry and ERFA's precession, not by circles. The camera is
OpenCV's own (cv2.projectPoints) with two terms of radial distortion and two of tangential, where
the project's has one; limb, plate and rete lie 1 to 3 mm apart. A hand marks to a pixel at 3000.

    pip install -r requirements-photograph.txt
    python photograph_opencv.py
"""

import csv
import math
from pathlib import Path

import cv2
import erfa
import numpy as np

ROOT = Path(__file__).resolve().parent.parent
PICTURES = 24
LIMB_MM, EQUATOR_MM = 92.0, 52.0
STARS = {  # the catalogue's designations, and what stands on instruments
    "α Lyr": "Wega", "α Boo": "Alramech", "α Tau": "Aldebaran", "α Leo": "Cor Leonis",
    "β Ori": "Rigil", "α Vir": "Azimech", "α Aql": "Alkair", "α CMa": "Alhabor",
    "α Cyg": "Arided", "α Aur": "Alhaiot", "α Ori": "Bedelgeuze", "ε UMa": "Alioth",
}  # fmt: skip
SIGNS = [
    "Aries", "Taurus", "Gemini", "Cancer", "Leo", "Virgo",
    "Libra", "Scorpio", "Sagittarius", "Capricorn", "Aquarius", "Pisces",
]  # fmt: skip


def plane(hour_angle: float, declination: float) -> tuple[float, float]:
    """As one looks at a northern front, noon up: to the right and down, in mm."""
    radius = EQUATOR_MM * math.tan((math.pi / 2 - declination) / 2)
    return radius * math.sin(hour_angle), -radius * math.cos(hour_angle)


def horizontal(latitude: float, altitude: float, azimuth: float) -> tuple[float, float]:
    """Hour angle and declination; azimuth from the south by west (common practice)."""
    sine = math.sin(latitude) * math.sin(altitude) - math.cos(latitude) * math.cos(altitude) * math.cos(azimuth)
    hour = math.atan2(
        math.sin(azimuth),
        math.cos(azimuth) * math.sin(latitude) + math.tan(altitude) * math.cos(latitude),
    )
    return hour, math.asin(sine)


def catalogue() -> dict[str, dict]:
    with (ROOT / "data/stars.csv").open(encoding="utf-8") as file:
        rows = csv.DictReader(line for line in file if not line.startswith("#"))
        return {row["designation"]: row for row in rows}


def star(row: dict, year: float) -> tuple[float, float]:
    mas = math.radians(1 / 3_600_000)
    ra, dec = math.radians(float(row["ra_deg"])), math.radians(float(row["dec_deg"]))
    ra, dec, *_ = erfa.starpm(
        ra, dec, float(row["pm_ra_mas"]) * mas / math.cos(dec), float(row["pm_dec_mas"]) * mas,
        max(float(row["parallax_mas"]), 0.0) / 1000, 0.0, *erfa.epj2jd(1991.25), *erfa.epj2jd(year),
    )  # fmt: skip
    return erfa.c2s(erfa.ltpb(year) @ erfa.s2c(ra, dec))


def main() -> None:
    chance = np.random.default_rng(1543)
    stars = catalogue()
    rows = []
    for picture in range(PICTURES):
        latitude, year = chance.uniform(25, 57), round(chance.uniform(1100, 1850))
        obliquity = erfa.obl06(*erfa.epj2jd(year))
        turn = chance.uniform(0, 2 * math.pi)
        plate_off = chance.uniform(-0.3, 0.3, 2)
        plate_z, rete_z = chance.uniform(1, 3), chance.uniform(0, 1)
        points, names = [], []

        def put(at, z, name, off=(0.0, 0.0)):
            points.append((at[0] + off[0], at[1] + off[1], z))
            names.append(name)

        for step in range(12):
            degree = 30 * step + 7
            angle = math.radians(degree)
            put((LIMB_MM * math.sin(angle), -LIMB_MM * math.cos(angle)), 0.0, f"limb {degree}")
        for step in range(6):
            angle = math.radians(60 * step + 10)
            put((3 * math.sin(angle), -3 * math.cos(angle)), plate_z, "edge of the hole")
        for name, declination in [("tropic of Capricorn", -obliquity), ("equator", 0.0), ("tropic of Cancer", obliquity)]:
            for angle in chance.uniform(0, 2 * math.pi, 4):
                put(plane(angle, declination), plate_z, name, plate_off)
        for altitude in [0, 0, 0, 10, 20, 30, 40, 50, 60, 70]:
            count = 0
            while count < 2:
                hour, declination = horizontal(
                    math.radians(latitude), math.radians(altitude), chance.uniform(0, 2 * math.pi)
                )
                if declination > -obliquity:
                    put(plane(hour, declination), plate_z, f"almucantar {altitude}" if altitude else "horizon", plate_off)
                    count += 1
        for step in range(12):
            longitude = math.radians(30 * step)
            ra = math.atan2(math.sin(longitude) * math.cos(obliquity), math.cos(longitude))
            dec = math.asin(math.sin(longitude) * math.sin(obliquity))
            put(plane(turn - ra, dec), rete_z, f"ecliptic 0 {SIGNS[step]}")
        for designation, name in STARS.items():
            ra, dec = star(stars[designation], year)
            put(plane(turn - ra, dec), rete_z, f"star {name}")
        # Tilted by up to 35°, in any direction, and turned.
        tilt, towards = math.radians(chance.uniform(0, 35)), chance.uniform(0, 2 * math.pi)
        lean, _ = cv2.Rodrigues(tilt * np.array([math.cos(towards), math.sin(towards), 0.0]))
        about, _ = cv2.Rodrigues(np.array([0.0, 0.0, chance.uniform(0, 2 * math.pi)]))
        rotation, _ = cv2.Rodrigues(lean @ about)
        focal = 3000 * chance.uniform(0.9, 2.2)
        camera = np.array([[focal, 0, 1500.0], [0, focal, 1500.0], [0, 0, 1]])
        bend = np.array([chance.uniform(-0.03, 0.03), chance.uniform(-0.004, 0.004), *chance.uniform(-2e-4, 2e-4, 2)])
        before = np.array([0.0, 0.0, focal * LIMB_MM * 2 / 2600])
        seen, _ = cv2.projectPoints(np.array(points), rotation, before, camera, bend)
        seen = seen.reshape(-1, 2) + chance.normal(0, 1, (len(points), 2))
        for what, value in [("latitude", latitude), ("year", year), ("obliquity", math.degrees(obliquity)), ("tilt", math.degrees(tilt))]:
            rows.append([picture, what, f"{value:.5f}", ""])
        rows += [[picture, name, f"{x:.2f}", f"{y:.2f}"] for name, (x, y) in zip(names, seen, strict=True)]
    with (ROOT / "reference/photograph_opencv.csv").open("w", encoding="utf-8", newline="") as file:
        file.write(f"# By reference/photograph_opencv.py with OpenCV {cv2.__version__} and pyerfa {erfa.__version__}.\n")
        csv.writer(file, lineterminator="\n").writerows([["picture", "what", "right", "down"], *rows])


if __name__ == "__main__":
    main()
