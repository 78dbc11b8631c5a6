# /// script
# requires-python = ">=3.11"
# dependencies = ["pyerfa==2.0.1.5"]
# ///
"""Writes crates/drawing/tests/data/altaz_erfa.csv: horizon coordinates by ERFA.

For latitudes of both hemispheres, places whose azimuth and altitude are whole
tens of degrees (eraAe2hd); the row's azimuth and altitude are what eraHd2ae
gives back for the hour angle and declination as rounded in the row. Azimuth is
counted from north by east.

    pip install pyerfa==2.0.1.5
    python reference/altaz_erfa.py
"""

import math
from pathlib import Path

import erfa

ROOT = Path(__file__).resolve().parent.parent
LATITUDES = (0.0, 5.0, 18.0, 23.44, 31.78, 42.8806, 51.8333, 60.0, 66.0, 75.5, 90.0)
ALTITUDES = (10, 20, 30, 40, 60, 80)
AZIMUTHS = (10, 40, 70, 100, 130, 160, 200, 230, 260, 290, 320, 350)


def main() -> None:
    rows = []
    for latitude in sorted({sign * deg for deg in LATITUDES for sign in (1, -1)}):
        phi = math.radians(latitude)
        for altitude in ALTITUDES:
            for azimuth in AZIMUTHS[altitude // 10 % 3 :: 3]:
                ha, dec = erfa.ae2hd(math.radians(azimuth), math.radians(altitude), phi)
                ha, dec = (round(math.degrees(x), 10) for x in (ha, dec))
                az, alt = erfa.hd2ae(math.radians(ha), math.radians(dec), phi)
                az, alt = math.degrees(az) % 360, math.degrees(alt)
                rows.append(f"{latitude + 0:g},{ha + 0:.10f},{dec + 0:.10f},{az:.8f},{alt:.8f}")
    target = ROOT / "crates/drawing/tests/data/altaz_erfa.csv"
    target.parent.mkdir(parents=True, exist_ok=True)
    head = [
        "# Azimuth (from north by east) and altitude of places given by hour angle and declination.",
        f"# eraHd2ae of ERFA {erfa.version.erfa_version} (pyerfa {erfa.__version__}), by reference/altaz_erfa.py.",
        "latitude_deg,hour_angle_deg,declination_deg,azimuth_deg,altitude_deg",
    ]
    target.write_text("\n".join([*head, *rows]) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
