# /// script
# requires-python = ">=3.11"
# dependencies = ["pyerfa==2.0.1.5"]
# ///
"""Writes crates/sky/tests/data/stars_erfa.csv: mean places of date by ERFA.

Space motion by eraStarpm, as the catalogue's rows give it, with the velocities of
data/radial_velocities.csv. From 1900 to 2100 precession and frame bias are IAU 2006 (eraPmat06), which
our code does not use; further off they are Vondrák, Capitaine & Wallace 2011
(eraLtpb), since IAU 2006 does not hold there.

    pip install pyerfa==2.0.1.5
    python reference/stars_erfa.py
"""

import csv
import math
from pathlib import Path

import erfa

ROOT = Path(__file__).resolve().parent.parent
MAS = math.radians(1 / 3_600_000)
YEARS = (-600, 150, 1000, 1391, 1700, 1900, 1950, 2000, 2026, 2050, 2100, 2650)
EVERY = 12  # of the catalogue, beside the dozen brightest


def velocities() -> dict[str, float]:
    with (ROOT / "data/radial_velocities.csv").open(encoding="utf-8") as file:
        rows = csv.DictReader(line for line in file if not line.startswith("#"))
        return {row["hip"]: float(row["recedes_km_s"]) for row in rows}


def velocity(hip: str) -> float:
    return velocities().get(hip, 0.0)


def mean_place(row: dict, year: float) -> tuple[float, float]:
    ra, dec = math.radians(float(row["ra_deg"])), math.radians(float(row["dec_deg"]))
    catalogue, wanted = erfa.epj2jd(1991.25), erfa.epj2jd(year)
    ra, dec, *_ = erfa.starpm(
        ra, dec,
        float(row["pm_ra_mas"]) * MAS / math.cos(dec), float(row["pm_dec_mas"]) * MAS,
        max(float(row["parallax_mas"]), 0.0) / 1000, velocity(row["hip"]),
        *catalogue, *wanted,
    )  # fmt: skip
    matrix = erfa.pmat06(*wanted) if 1900 <= year <= 2100 else erfa.ltpb(year)
    ra, dec = erfa.c2s(matrix @ erfa.s2c(ra, dec))
    return math.degrees(ra) % 360, math.degrees(dec)


def main() -> None:
    with (ROOT / "data/stars.csv").open(encoding="utf-8") as file:
        rows = list(csv.DictReader(line for line in file if not line.startswith("#")))
    chosen = rows[:12] + [row for i, row in enumerate(rows[12:]) if i % EVERY == 0 or velocity(row["hip"])]
    target = ROOT / "crates/sky/tests/data/stars_erfa.csv"
    target.parent.mkdir(parents=True, exist_ok=True)
    with target.open("w", encoding="utf-8", newline="") as file:
        file.write(f"# By reference/stars_erfa.py with pyerfa {erfa.__version__} from data/stars.csv.\n")
        file.write("# Mean equator and equinox of the Julian epoch; 1900 to 2100 IAU 2006, else Vondrák 2011.\n")
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(["hip", "year", "ra_deg", "dec_deg"])
        for row in chosen:
            for year in YEARS:
                ra, dec = mean_place(row, year)
                writer.writerow([row["hip"], year, f"{ra:.8f}", f"{dec:.8f}"])


if __name__ == "__main__":
    main()
