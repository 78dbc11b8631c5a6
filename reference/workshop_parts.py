"""Measures the other parts of `almuri make` with outside readers: house lines and true
unequal-hour curves of plates, the limb, the back's scales and the rete's star tips.

Random instruments as in `workshop.py`, whose readers of DXF, SVG and PDF are used. Every
place is ERFA's or plain geometry's (`sky_by_erfa.py`).

    python workshop_parts.py [number of instruments] [path to almuri]

writes `workshop_parts.md`, and

    python workshop_parts.py --points

writes `workshop_points.csv`: where named lines must pass, for the project's own tests.
"""

import csv
import json
import math
import pathlib
import random
import re
import subprocess
import sys
import tempfile

import erfa
import ezdxf
import numpy as np
from PIL import Image

import sky_by_erfa as sky
import workshop

LIMIT_MM = 0.01
HERE = pathlib.Path(__file__).resolve().parent
LENGTHS = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31]


def specification(rng):
    """As in `workshop.py`, but every latitude and size, and what the other parts need."""
    spec = workshop.specification(rng)
    north = spec["hemisphere"] == "north"
    latitude = rng.choice([0.0, 90.0, 66.5, 67.0, round(rng.uniform(0, 90), 4), round(rng.uniform(0, 66), 4)])
    spec["latitude"] = latitude if north else -latitude
    spec["diameter"] = round(rng.uniform(40, 500), 3)
    spec["houses"] = rng.choice(["regiomontanus", "campanus"])
    spec["hours"] = rng.choice(["arcs", "curves"])
    spec["ring"] = rng.random() < 0.3
    spec["calendar_year"] = rng.randint(1905, 2095)
    return spec


def write(spec, path):
    workshop.write(spec, path)
    with path.open("a") as out:
        out.write(
            f'house_lines = "{spec["houses"]}"\nunequal_hour_lines = "{spec["hours"]}"\n'
            f'date_from = "{"true-sun-ring" if spec["ring"] else "zodiac"}"\n'
            f'calendar_year = {spec["calendar_year"]}\nday_strokes = "begin"\n'
        )


class Plate(workshop.Plate):
    """The plate with its house lines, and its hours as true curves."""

    def __init__(self, spec, manifest):
        self.spec = spec
        super().__init__(spec, manifest)
        if spec["ring"]:
            self.edge *= 0.92
            self.equator = self.edge / np.tan(np.pi / 4 + self.eps / 2)
            self.hours = self.hour_circles()
        self.curves = spec["hours"] == "curves"
        if self.curves:
            self.hours = []

    def residual(self, xy):
        best = super().residual(xy)
        z = self.hour_angle_plane(xy)
        r, hour_angle = np.abs(z), np.angle(z)
        delta = np.pi / 2 - 2 * np.arctan(r / self.equator)
        delta = delta if self.north else -delta
        azimuth, altitude = erfa.hd2ae(hour_angle, delta, self.phi)
        scale = (self.equator**2 + r**2) / (2 * self.equator)
        east, up = np.cos(altitude) * np.sin(azimuth), np.sin(altitude)
        for plane in sky.house_planes(self.spec["houses"], self.phi):
            off = np.abs(east * np.sin(plane) - up * np.cos(plane)) * scale
            np.minimum(best, np.where(altitude < 1e-6, off, 9), out=best)
        if self.curves:
            for hour in range(1, 12):
                np.minimum(best, self.from_curve(z, hour / 12), out=best)
        return best

    def from_curve(self, z, part):
        def f(z):
            r = np.abs(z)
            delta = np.pi / 2 - 2 * np.arctan(r / self.equator)
            delta = delta if self.north else -delta
            cos = np.clip(-np.tan(self.phi) * np.tan(delta), -1, 1)
            sunset = np.arccos(cos)
            hour_angle = np.angle(z) % (2 * np.pi)
            return (hour_angle - sunset - 2 * (np.pi - sunset) * part + np.pi) % (2 * np.pi) - np.pi

        step = 1e-6
        slope = np.hypot(f(z + step) - f(z - step), f(z + 1j * step) - f(z - 1j * step)) / (2 * step)
        return np.abs(f(z)) / np.maximum(slope, 1e-9)


def named_paths(path):
    """The lines of an SVG by name: lists of pieces, as drawn with y up."""
    found = {}
    for name, d in re.findall(r'<path[^>]*data-line="([^"]*)"[^>]* d="([^"]*)"', path.read_text()):
        found.setdefault(name, []).append(d)
    return found


def straight(d):
    """The two ends of each stroke of a scale."""
    ends = []
    for command, numbers in re.findall(r"([ML])([^MLCAZ]*)", d):
        ends.append([float(x) for x in workshop.NUMBER.findall(numbers)])
    return np.array(ends).reshape(-1, 2, 2) * [1, -1]


def dxf_lines(path):
    """The straight lines of a DXF that are engraved or scored."""
    document = ezdxf.readfile(path)
    audit = document.audit()
    assert not audit.errors and not audit.fixes, path
    lines = document.modelspace().query('LINE[layer=="engrave-line" | layer=="engrave-fill" | layer=="score"]')
    return np.array([[[l.dxf.start.x, l.dxf.start.y], [l.dxf.end.x, l.dxf.end.y]] for l in lines])


def off_multiples(ends, step):
    """How far radial strokes are from multiples of a step round the pole, in mm."""
    flat = ends.reshape(-1, 2)
    bearing, radius = np.arctan2(flat[:, 1], flat[:, 0]), np.hypot(*flat.T)
    return np.abs(bearing - np.round(bearing / step) * step) * radius


def limb(folder, spec, manifest, pdf):
    division = math.radians(manifest["divisions"]["limb_deg"])
    lines = named_paths(folder / "mater.svg")
    degrees = np.vstack([straight(d) for d in lines["degrees of the limb"]])
    hours = np.vstack([straight(d) for d in lines["hours of the limb"]])
    worst = {"svg": max(off_multiples(degrees, division).max(), off_multiples(hours, math.radians(0.25)).max())}
    # As many as there are divisions, but for those that the notch takes away.
    assert len(degrees) > 0.9 * 2 * math.pi / division, len(degrees)
    finest = math.gcd(round(4 * math.degrees(division)), 1) / 4
    worst["dxf"] = off_multiples(dxf_lines(folder / "mater.dxf"), math.radians(finest)).max()
    worst["pdf"] = off_multiples(pdf_radial(pdf), math.radians(finest)).max()
    return worst


def pdf_radial(path):
    """The straight strokes of a PDF's only piece, about the middle of its largest ring."""
    paths, _ = workshop.pdf_points(path)
    mm = 72 / 25.4
    rings = [p for p in paths[1:] if len(p) >= 4 and all(len(c) == 9 for c in p)]
    def box(p):
        flat = np.vstack(p)
        return flat.min(0), flat.max(0)
    round_ones = []
    for one in rings:
        low, high = box(one)
        if abs((high - low)[0] - (high - low)[1]) < 1e-3 and (high - low)[0] > 20 * mm:
            round_ones.append(((high - low)[0], (low + high) / 2))
    pole = max(round_ones, key=lambda one: one[0])[1]
    strokes = []
    for one in paths[1:]:
        for piece in one:
            ends = (piece[[0, -1]] - pole) / mm
            length = np.hypot(*(ends[1] - ends[0]))
            middle = np.abs(piece[4] - (piece[0] + piece[-1]) / 2).max()
            # The foot's words and its check line stand apart from the piece.
            radial = abs(ends[0][0] * ends[1][1] - ends[0][1] * ends[1][0]) < 0.05 * length * np.hypot(*ends[0])
            if middle < 1e-4 and 0.05 < length < 40 and radial and np.hypot(*ends[0]) < 262:
                strokes.append(ends)
    return np.array(strokes)


def back(folder, spec, manifest, pdf):
    mater = spec["diameter"] / 2
    lines = named_paths(folder / "back.svg")
    year = spec["calendar_year"]
    leap = year % 4 == 0 and (year % 100 != 0 or year % 400 == 0)
    first = erfa.cal2jd(year, 1, 1)
    first = first[0] + first[1]
    longitudes = np.array([sky.sun(first + day) for day in range(366 + leap)])
    # The zodiac runs against the clock, 0° Aries on the left.
    bearing = math.pi + longitudes

    def off_days(ends, days):
        flat = ends.reshape(-1, 2)
        angle, radius = np.arctan2(flat[:, 1], flat[:, 0]), np.hypot(*flat.T)
        apart = (angle[:, None] - days[None, :] + np.pi) % (2 * np.pi) - np.pi
        return np.abs(apart).min(1) * radius

    worst = {}
    altitudes = np.vstack([straight(d) for d in lines["altitude scale"]])
    zodiac = np.vstack([straight(d) for d in lines["zodiac scale"] if "A" not in d])
    worst["altitudes"] = off_multiples(altitudes, math.radians(0.5)).max()
    worst["zodiac"] = off_multiples(zodiac, math.radians(0.5)).max()
    calendar = [straight(d) for d in lines["calendar scale"] if "A" not in d]
    worst["calendar"] = max(off_days(one, bearing).max() for one in calendar)
    # The longest strokes begin the months, in their order.
    months = max(calendar, key=lambda one: np.hypot(*(one[0][1] - one[0][0])))
    assert len(months) == 12
    begins = np.cumsum([0] + LENGTHS[:11]) + leap * (np.arange(12) >= 2)
    for month, day in zip(months, begins):
        worst["calendar"] = max(worst["calendar"], off_days(month[None], bearing[day : day + 1]).max())
    everything = dxf_lines(folder / "back.dxf")
    for kind, strokes in (("dxf", everything), ("pdf", pdf_radial(pdf))):
        middle = np.hypot(*strokes.mean(1).T) / mater
        # Radial strokes of each band by their middles.
        cross = strokes[:, 0, 0] * strokes[:, 1, 1] - strokes[:, 0, 1] * strokes[:, 1, 0]
        length = np.hypot(*(strokes[:, 1] - strokes[:, 0]).T)
        # Strokes rise from the bands' circles; the signs' characters do not.
        ends = np.hypot(strokes[:, :, 0], strokes[:, :, 1])
        rises = np.min([np.abs(ends - part * mater).min(1) for part in (0.895, 0.79)], axis=0) < 0.02
        radial = (np.abs(cross) < 1e-2 * length) & rises
        outer = strokes[(middle > 0.79) & (middle < 0.985) & radial]
        inner = strokes[(middle > 0.665) & (middle < 0.79) & radial]
        assert len(outer) > 100 and len(inner) > 30, (kind, len(outer), len(inner), spec)
        worst[kind] = max(off_multiples(outer, math.radians(0.5)).max(), off_days(inner, bearing).max())
    return worst


STARS = sky.catalogue()


def rete(folder, spec, manifest):
    drawing = sky.Drawing(
        spec["diameter"], spec["hemisphere"] == "north", spec["orientation"] == "noon-up",
        manifest["obliquity_deg"], spec["ring"],
    )
    lines = named_paths(folder / "rete.svg")
    edges = cut_points(folder / "rete.dxf")
    worst = {"svg": 0.0, "dxf": 0.0, "ecliptic": 0.0}
    for name in manifest["stars"]:
        ra, dec = sky.star(STARS[name], spec["epoch"])
        tip = drawing.drawn(-ra, drawing.radius(dec))
        (d,) = lines[f"star pointer {name}"]
        numbers = [float(x) for x in workshop.NUMBER.findall(d)]
        if d.strip().upper().endswith("Z") or is_ring(d):
            found = ring_middle(d)
        else:
            found = np.array(numbers[-2:]) * [1, -1]
            # A pointer's tip is an edge of the metal.
            worst["dxf"] = max(worst["dxf"], edges(tip))
        worst["svg"] = max(worst["svg"], np.hypot(*(found - tip)))
    for d in lines["ecliptic"]:
        for command, numbers in re.findall(r"([MLA])([^MLAZ]*)", d):
            point = np.array([[float(x) for x in workshop.NUMBER.findall(numbers)][-2:]]) * [1, -1]
            if is_ring(d):
                continue
            z = drawing.plane(point)
            ra, dec = -np.angle(z), drawing.declination(np.abs(z))
            longitude = np.arctan2(
                np.sin(ra) * np.cos(drawing.eps) + np.tan(dec) * np.sin(drawing.eps), np.cos(ra)
            )
            latitude = np.arcsin(
                np.sin(dec) * np.cos(drawing.eps) - np.cos(dec) * np.sin(drawing.eps) * np.sin(ra)
            )
            step = math.radians(manifest["divisions"]["ecliptic_deg"])
            off = np.abs(longitude - np.round(longitude / step) * step) * np.cos(latitude)
            worst["ecliptic"] = max(worst["ecliptic"], (off * drawing.scale(np.abs(z))).max())
    return worst


def is_ring(d):
    ends = [[float(x) for x in workshop.NUMBER.findall(n)][-2:] for _, n in re.findall(r"([MLCA])([^MLCAZ]*)", d)]
    return len(ends) > 2 and np.hypot(*(np.array(ends[0]) - ends[-1])) < 1e-6


def ring_middle(d):
    ends = [[float(x) for x in workshop.NUMBER.findall(n)][-2:] for _, n in re.findall(r"([MLCA])([^MLCAZ]*)", d)]
    return (np.array(ends[0]) + np.array(ends[2])) / 2 * [1, -1]


def cut_points(path):
    """How far a place is from what is cut, by the arcs and lines of the DXF."""
    pieces = []
    for entity in ezdxf.readfile(path).modelspace().query('*[layer=="cut-inside" | layer=="cut-outside" | layer=="drill"]'):
        kind = entity.dxftype()
        if kind == "LWPOLYLINE":
            parts = list(entity.virtual_entities())
        else:
            parts = [entity]
        for part in parts:
            if part.dxftype() == "LINE":
                pieces.append(("line", np.array(part.dxf.start)[:2], np.array(part.dxf.end)[:2]))
            elif part.dxftype() == "ARC":
                pieces.append(("arc", np.array(part.dxf.center)[:2], part.dxf.radius, part.dxf.start_angle, part.dxf.end_angle))
            elif part.dxftype() == "CIRCLE":
                pieces.append(("arc", np.array(part.dxf.center)[:2], part.dxf.radius, 0.0, 360.0))

    def distance(p):
        best = np.inf
        for piece in pieces:
            if piece[0] == "line":
                _, a, b = piece
                t = np.clip((p - a) @ (b - a) / max((b - a) @ (b - a), 1e-18), 0, 1)
                best = min(best, np.hypot(*(p - a - t * (b - a))))
            else:
                _, c, r, start, end = piece
                angle = math.degrees(math.atan2(p[1] - c[1], p[0] - c[0]))
                sweep = (end - start) % 360 or 360
                if (angle - start) % 360 <= sweep:
                    best = min(best, abs(np.hypot(*(p - c)) - r))
                for deg in (start, end):
                    e = c + r * np.array([math.cos(math.radians(deg)), math.sin(math.radians(deg))])
                    best = min(best, np.hypot(*(p - e)))
        return best

    return distance


def png(folder, plate, manifest):
    """The picture of a plate, dot by dot: 400 to the inch, or 8000 on its longer side."""
    image = Image.open(folder / "plate-1a.png").convert("L")
    radius = 0.87 * manifest["diameter_mm"] / 2
    piece = next(one for one in manifest["pieces"] if one["name"] == "plate-1a")
    # Three millimetres are left free round the piece; its tongue is below.
    dots = min(400 / 25.4, 8000 / (max(piece["width_mm"], piece["height_mm"]) + 6))
    return workshop.rings(np.asarray(image).astype(float), ((radius + 3) * dots,) * 2, dots, plate)


def make(almuri, spec_path, out, part):
    formats = "svg,dxf,pdf,png" if part == "plates" else "svg,dxf,pdf"
    subprocess.run(
        [almuri, "make", "--with", spec_path, "--out", out, "--parts", part,
         "--formats", formats, "--dpi", "400", "--page", "700x800"],
        check=True, stdout=subprocess.DEVNULL,
    )
    return json.loads((out / "manifest.json").read_text())


def main():
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 30
    almuri = sys.argv[2] if len(sys.argv) > 2 else "almuri"
    rng = random.Random(12)
    worst = {}

    def note(part, found):
        for kind, off in found.items():
            key = (part, kind)
            worst[key] = max(worst.get(key, 0.0), float(off))
            assert off < LIMIT_MM, (part, kind, off, spec)

    for _ in range(count):
        spec = specification(rng)
        with tempfile.TemporaryDirectory() as folder:
            folder = pathlib.Path(folder)
            write(spec, folder / "spec.toml")
            sets = {}
            for part in ("plates", "mater", "back", "rete"):
                sets[part] = make(almuri, folder / "spec.toml", folder / part, part)
            assert abs(sets["rete"]["obliquity_deg"] - sky.obliquity(spec["epoch"])) < 1e-6, spec
            plate = Plate(spec, sets["plates"])
            note("plate", {
                "dxf": workshop.measure(plate, workshop.dxf_points(folder / "plates" / "plate-1a.dxf"), "dxf", spec, LIMIT_MM),
                "svg": workshop.measure(plate, workshop.svg_points(folder / "plates" / "plate-1a.svg"), "svg", spec, LIMIT_MM),
            })
            worst["plate", "png"] = max(
                worst.get(("plate", "png"), 0.0), png(folder / "plates", plate, sets["plates"])
            )
            note("limb", limb(folder / "mater", spec, sets["mater"], folder / "mater" / "drawings.pdf"))
            note("back", back(folder / "back", spec, sets["back"], folder / "back" / "drawings.pdf"))
            note("rete", rete(folder / "rete", spec, sets["rete"]))
    rows = [f"| {part} | {kind} | {off:.6f} |" for (part, kind), off in sorted(worst.items())]
    (HERE / "workshop_parts.md").write_text(
        f"""# Parts measured by outside readers

By `workshop_parts.py`: {count} random instruments of 40 to 500 mm, any latitude, epochs
−500 to 2500, both hemispheres and orientations, with house lines, unequal-hour lines as
arcs or true curves, with a date ring or without. Places by ERFA; calendar of a year
between 1905 and 2095. The largest distance of what is drawn from where it should be:

| part | what | mm |
|---|---|---|
"""
        + "\n".join(rows)
        + "\n"
    )
    print("\n".join(rows))


def points():
    """Where named lines must pass, for random instruments."""
    rng = random.Random(7)
    with (HERE / "workshop_points.csv").open("w", newline="") as out:
        out.write(
            "# By workshop_parts.py --points with pyerfa 2.0.1.5: places, in mm from the pole, x right\n"
            "# and y down, where the named line of a part must pass.\n"
        )
        table = csv.writer(out, lineterminator="\n")
        table.writerow("diameter_mm hemisphere orientation epoch_year obliquity_deg latitude_deg date_ring house_lines calendar_year part line x_mm y_mm".split())
        for _ in range(14):
            spec = specification(rng)
            north, noon_up = spec["hemisphere"] == "north", spec["orientation"] == "noon-up"
            eps = round(sky.obliquity(spec["epoch"]), 9)
            drawing = sky.Drawing(spec["diameter"], north, noon_up, eps, spec["ring"])
            head = [spec["diameter"], spec["hemisphere"], spec["orientation"], spec["epoch"], eps,
                    spec["latitude"], str(spec["ring"]).lower(), spec["houses"], spec["calendar_year"]]

            def put(part, line, p):
                table.writerow(head + [part, line, f"{p[0]:.6f}", f"{-p[1]:.6f}"])

            phi = math.radians(spec["latitude"])
            for house, part in (("II", 1), ("III", 2), ("V", 4), ("VI", 5)):
                # The house's circle leaves the east point so far below the horizon.
                angle = -part * math.pi / 6
                if spec["houses"] == "regiomontanus":
                    h = math.radians(-90 - 30 * part)
                    angle = math.atan2(math.cos(phi) * math.cos(h), -math.sin(h))
                for along in (-40, -15, 10, 35):
                    a = math.radians(along)
                    north_, east, up = math.sin(a), math.cos(a) * math.cos(angle), math.cos(a) * math.sin(angle)
                    if up > -0.05:
                        continue
                    hour_angle, dec = erfa.ae2hd(math.atan2(east, north_), math.asin(up), phi)
                    radius = drawing.radius(dec)
                    if radius < drawing.edge * 0.999:
                        put("plates", f"house line {house}", drawing.drawn(hour_angle, radius))
            for name, row in list(STARS.items())[:: 2]:
                ra, dec = sky.star(row, spec["epoch"])
                radius = drawing.radius(dec)
                if radius < drawing.edge * 0.95:
                    put("rete", f"star pointer {name}", drawing.drawn(-ra, radius))
            first = sum(erfa.cal2jd(spec["calendar_year"], 1, 1))
            leap = spec["calendar_year"] % 4 == 0
            for month, begins in enumerate(np.cumsum([0] + LENGTHS[:11]) + leap * (np.arange(12) >= 2)):
                angle = math.pi + sky.sun(first + int(begins))
                radius = 0.72 * spec["diameter"] / 2
                put("back", "calendar scale", (radius * math.cos(angle), radius * math.sin(angle)))


if __name__ == "__main__":
    points() if "--points" in sys.argv else main()
