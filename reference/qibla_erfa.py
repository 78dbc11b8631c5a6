# /// script
# requires-python = ">=3.11"
# dependencies = ["pyerfa==2.0.1.5"]
# ///
"""Writes crates/drawing/tests/data/qibla_erfa.csv: the Sun in the direction of Mecca, by ERFA.

For public places of both hemispheres, the bearing of the Kaaba from north by east (eraPas,
the position angle of one place as seen from another on the sphere), and for altitudes in
that azimuth the declination that stands there (eraAe2hd), with the altitude and azimuth
that eraHd2ae gives back for it. Rows whose declination the Sun never has are left out.

    pip install pyerfa==2.0.1.5
    python reference/qibla_erfa.py
"""

import math
from pathlib import Path

import erfa

ROOT = Path(__file__).resolve().parent.parent
MECCA = (21 + 25 / 60 + 21 / 3600, 39 + 49 / 60 + 34 / 3600)
PLACES = {
    "Isfahan": (32.6525, 51.6746),
    "Cairo": (30.0444, 31.2357),
    "Toledo": (39.8567, -4.0245),
    "Istanbul": (41.0082, 28.9784),
    "Lahore": (31.5497, 74.3436),
    "Samarkand": (39.6542, 66.9597),
    "Sanaa": (15.3694, 44.1910),
    "Medina": (24.4672, 39.6112),
    "Zanzibar": (-6.1659, 39.2026),
    "Jakarta": (-6.2088, 106.8456),
    "Cape Town": (-33.9249, 18.4241),
    "London": (51.5074, -0.1278),
}
OBLIQUITY = 23.44


def main() -> None:
    rows = [
        "# Bearings of Mecca and the Sun there, by ERFA (pyerfa 2.0.1.5): reference/qibla_erfa.py",
        "place,latitude_deg,longitude_deg,qibla_deg,altitude_deg,declination_deg",
    ]
    for name, (latitude, longitude) in PLACES.items():
        phi = math.radians(latitude)
        bearing = erfa.pas(
            math.radians(longitude), phi, math.radians(MECCA[1]), math.radians(MECCA[0])
        )
        bearing %= 2 * math.pi
        for altitude in range(0, 90, 3):
            hour_angle, declination = erfa.ae2hd(bearing, math.radians(altitude), phi)
            azimuth, back = erfa.hd2ae(hour_angle, declination, phi)
            turned = (azimuth - bearing + math.pi) % (2 * math.pi) - math.pi
            assert abs(turned) < 1e-9 and abs(back - math.radians(altitude)) < 1e-9
            if abs(math.degrees(declination)) > OBLIQUITY:
                continue
            rows.append(
                f"{name},{latitude},{longitude},{math.degrees(bearing):.9f},{altitude},"
                f"{math.degrees(declination):.9f}"
            )
    path = ROOT / "crates/drawing/tests/data/qibla_erfa.csv"
    path.write_text("\n".join(rows) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
