# /// script
# requires-python = ">=3.11"
# dependencies = ["pyerfa==2.0.1.5"]
# ///
"""Writes crates/sky/tests/data/stars_apparent.csv: apparent places of stars by ERFA.

eraAtci13 does it all, from the catalogue's row to the place of date: space motion,
parallax, deflection by the Sun, aberration with ERFA's own Earth (eraEpv00), IAU
2006 precession and IAU 2000A nutation. With our code it shares the rows of the catalogue alone.

    pip install pyerfa==2.0.1.5
    python reference/stars_apparent.py
"""

import csv
import math
import random
from pathlib import Path

import erfa

ROOT = Path(__file__).resolve().parent.parent
MAS = math.radians(1 / 3_600_000)
EVERY = 15  # of the catalogue, beside the dozen brightest
MOMENTS = 12  # for each star
FIRST, LAST = 2415020.5, 2488069.5  # 1900 and 2100


def velocities() -> dict[str, float]:
    with (ROOT / "data/radial_velocities.csv").open(encoding="utf-8") as file:
        rows = csv.DictReader(line for line in file if not line.startswith("#"))
        return {row["hip"]: float(row["recedes_km_s"]) for row in rows}


def velocity(hip: str) -> float:
    return velocities().get(hip, 0.0)


def apparent(row: dict, jd_tt: float) -> tuple[float, float, float, float]:
    ra, dec = math.radians(float(row["ra_deg"])), math.radians(float(row["dec_deg"]))
    # eraAtci13 wants the catalogue's place at J2000.
    ra, dec, pm_ra, pm_dec, parallax, _ = erfa.starpm(
        ra, dec,
        float(row["pm_ra_mas"]) * MAS / math.cos(dec), float(row["pm_dec_mas"]) * MAS,
        max(float(row["parallax_mas"]), 0.0) / 1000, velocity(row["hip"]),
        *erfa.epj2jd(1991.25), erfa.DJ00, 0.0,
    )  # fmt: skip
    ri, di, eo = erfa.atci13(ra, dec, pm_ra, pm_dec, parallax, velocity(row["hip"]), jd_tt, 0.0)
    ra, dec = erfa.anp(ri - eo), di
    obliquity = erfa.obl06(jd_tt, 0.0) + erfa.nut06a(jd_tt, 0.0)[1]
    lon, lat = erfa.c2s(erfa.rx(obliquity, [[1.0, 0, 0], [0, 1, 0], [0, 0, 1]]) @ erfa.s2c(ra, dec))
    return tuple(math.degrees(a) for a in (erfa.anp(lon), lat, ra, dec))


def main() -> None:
    with (ROOT / "data/stars.csv").open(encoding="utf-8") as file:
        rows = list(csv.DictReader(line for line in file if not line.startswith("#")))
    numbers = random.Random(4)
    target = ROOT / "crates/sky/tests/data/stars_apparent.csv"
    with target.open("w", encoding="utf-8", newline="") as file:
        file.write(f"# By reference/stars_apparent.py with pyerfa {erfa.__version__} from data/stars.csv.\n")
        file.write("# Apparent geocentric places, true equator, ecliptic and equinox of date (eraAtci13).\n")
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(["hip", "jd_tt", "longitude_deg", "latitude_deg", "ra_deg", "dec_deg"])
        for row in rows[:12] + rows[12::EVERY]:
            for _ in range(MOMENTS):
                jd_tt = round(numbers.uniform(FIRST, LAST), 3)
                place = apparent(row, jd_tt)
                writer.writerow([row["hip"], jd_tt, *(f"{deg:.8f}" for deg in place)])


if __name__ == "__main__":
    main()
