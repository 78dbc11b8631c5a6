"""Measures the files of `almuri make` with outside readers.

Random specifications are made; the plates' DXF is read by ezdxf, their SVG by a few
lines here, the PDF's own vectors by pikepdf, and the page is turned into dots by
poppler's pdftoppm for a second opinion. Every point of every line is taken back
through the stereographic projection, its altitude and azimuth are ERFA's, and what is
left is how far, in millimetres, it lies from the nearest line that should be there.

    python workshop.py [number of specifications] [path to almuri]
"""

import json
import pathlib
import random
import re
import subprocess
import sys
import tempfile

import erfa
import ezdxf
import numpy as np
import pikepdf
from PIL import Image

VECTOR_MM = 0.01
RASTER_MM = 0.05
Image.MAX_IMAGE_PIXELS = None


def specification(rng):
    north = rng.random() < 0.7
    special = [0.0, 90.0, 18.0, 66.56]
    latitude = rng.choice(special) if rng.random() < 0.2 else round(rng.uniform(0, 90), 4)
    return {
        "diameter": rng.choice([40, 60, 90, 132, 180, 200, 300, 462, 500]),
        "hemisphere": "north" if north else "south",
        "orientation": rng.choice(["noon-up", "midnight-up"]),
        "epoch": rng.randint(-500, 2500),
        "latitude": latitude if north else -latitude,
    }


def write(spec, path):
    path.write_text(
        f"""version = 1
name = "measured"
diameter_mm = {spec['diameter']}
hemisphere = "{spec['hemisphere']}"
orientation = "{spec['orientation']}"
epoch_year = {spec['epoch']}
plates_deg = [{spec['latitude']}]
"""
    )


class Plate:
    """What should be on a plate, from the manifest alone."""

    def __init__(self, spec, manifest):
        self.north = spec["hemisphere"] == "north"
        self.noon_up = spec["orientation"] == "noon-up"
        self.phi = np.radians(spec["latitude"])
        self.eps = np.radians(manifest["obliquity_deg"])
        # The outer tropic is the plate's edge: 0.87 of the mater's radius.
        self.edge = 0.87 * manifest["diameter_mm"] / 2
        self.equator = self.edge / np.tan(np.pi / 4 + self.eps / 2)
        self.almucantars = manifest["divisions"]["almucantars_deg"]
        self.azimuths = manifest["divisions"]["azimuths_deg"]
        self.hours = self.hour_circles()

    def night(self, radius):
        """Hour angle of sunset and length of the night at a distance from the pole."""
        delta = self.declination(radius)
        cos = -np.tan(self.phi) * np.tan(delta)
        if abs(cos) >= 1:
            return None
        sunset = np.arccos(cos)
        return sunset, 2 * (np.pi - sunset)

    def declination(self, radius):
        delta = np.pi / 2 - 2 * np.arctan(radius / self.equator)
        return delta if self.north else -delta

    def hour_circles(self):
        radii = [self.equator**2 / self.edge, self.equator, self.edge]
        nights = [self.night(r) for r in radii]
        if any(n is None for n in nights):
            return []
        circles = []
        for hour in range(1, 12):
            points = [
                r * np.exp(1j * (n[0] + n[1] * hour / 12)) for r, n in zip(radii, nights)
            ]
            circles.append(points)
        return circles

    def hour_angle_plane(self, xy):
        """Drawn points (x right, y up) to the plane whose direction is the hour angle."""
        x, y = xy[:, 0], xy[:, 1]
        up = 1.0 if self.noon_up else -1.0
        right = up if self.north else -up
        return y * up + 1j * x * right

    def residual(self, xy):
        """The distance of drawn points from the nearest line, in millimetres."""
        z = self.hour_angle_plane(xy)
        r, hour_angle = np.abs(z), np.angle(z)
        delta = np.pi / 2 - 2 * np.arctan(r / self.equator)
        delta = delta if self.north else -delta
        azimuth, altitude = erfa.hd2ae(hour_angle, delta, self.phi)
        # A small arc of sky in millimetres here.
        scale = (self.equator**2 + r**2) / (2 * self.equator)
        best = np.full(len(xy), np.inf)

        def offer(angle):
            np.minimum(best, np.abs(angle) * scale, out=best)

        step = np.radians(self.almucantars)
        offer(np.where(altitude > -step / 2, altitude - np.round(altitude / step) * step, 9))
        offer(altitude + np.radians(18))
        offer(altitude)
        step = np.radians(self.azimuths or 90)
        offer((azimuth - np.round(azimuth / step) * step) * np.cos(altitude))
        step = np.pi / 2
        offer((azimuth - np.round(azimuth / step) * step) * np.cos(altitude))
        for tropic in (0.0, self.eps, -self.eps):
            offer(delta - tropic)
        # Meridian and midnight line.
        np.minimum(best, np.abs(z.imag), out=best)
        for a, b, c in self.hours:
            w = (c - a) / (b - a)
            if abs(w.imag) < 1e-9:
                along = (c - a) / abs(c - a)
                off = np.abs(((z - a) / along).imag)
            else:
                centre = (b - a) * (w - abs(w) ** 2) / (2j * w.imag) + a
                off = np.abs(np.abs(z - centre) - abs(a - centre))
            np.minimum(best, off, out=best)
        return best


def sample_arc(centre, radius, start, sweep, count=9):
    angle = start + sweep * np.linspace(0, 1, count)
    return np.column_stack([centre[0] + radius * np.cos(angle), centre[1] + radius * np.sin(angle)])


def dxf_points(path):
    document = ezdxf.readfile(path)
    audit = document.audit()
    assert not audit.errors and not audit.fixes, path
    assert document.units == 4, "millimetres"
    entities = list(document.modelspace().query('*[layer=="engrave-line" | layer=="engrave-fill" | layer=="score"]'))
    for entity in list(entities):
        # Closed polylines are letters; open ones are curves, and lines that letters interrupt.
        if entity.dxftype() == "LWPOLYLINE" and not entity.closed:
            entities.extend(entity.virtual_entities())
    for entity in entities:
        if entity.dxftype() == "LINE":
            a, b = entity.dxf.start, entity.dxf.end
            t = np.linspace(0, 1, 9)[:, None]
            yield np.array([a.x, a.y]) * (1 - t) + np.array([b.x, b.y]) * t
        elif entity.dxftype() in ("ARC", "CIRCLE"):
            start = np.radians(getattr(entity.dxf, "start_angle", 0.0)) if entity.dxftype() == "ARC" else 0
            end = np.radians(entity.dxf.end_angle) if entity.dxftype() == "ARC" else 2 * np.pi
            sweep = (end - start) % (2 * np.pi) or 2 * np.pi
            yield sample_arc(entity.dxf.center, entity.dxf.radius, start, sweep)


NUMBER = re.compile(r"-?\d*\.?\d+(?:e-?\d+)?")


def svg_points(path):
    text = path.read_text()
    for line in re.findall(r'<path[^>]*data-line="[^"]*"[^>]* d="([^"]*)"', text):
        at = start = None
        for command, numbers in re.findall(r"([MLCAZ])([^MLCAZ]*)", line):
            n = [float(x) for x in NUMBER.findall(numbers)]
            if command == "M":
                at = start = np.array(n)
            elif command == "L":
                t = np.linspace(0, 1, 9)[:, None]
                yield (at * (1 - t) + np.array(n) * t) * [1, -1]
                at = np.array(n)
            elif command == "A":
                r, onward, end = n[0], n[4], np.array(n[5:7])
                middle, half = (at + end) / 2, (end - at) / 2
                rise = np.sqrt(max(r**2 - half @ half, 0.0)) / max(np.hypot(*half), 1e-12)
                normal = np.array([-half[1], half[0]]) * (1 if onward else -1)
                centre = middle + normal * rise
                a, b = at - centre, end - centre
                first = np.arctan2(a[1], a[0])
                sweep = (np.arctan2(b[1], b[0]) - first + np.pi) % (2 * np.pi) - np.pi
                yield sample_arc(centre, r, first, sweep) * [1, -1]
                at = end
            elif command == "C":
                p = [at] + [np.array(n[i : i + 2]) for i in (0, 2, 4)]
                at = p[3]


def bezier(p, t):
    t = t[:, None]
    return (
        p[0] * (1 - t) ** 3 + 3 * p[1] * t * (1 - t) ** 2 + 3 * p[2] * t**2 * (1 - t) + p[3] * t**3
    )


def pdf_points(path):
    """Stroked lines of the first page, about the pole, and the pole's place in points."""
    with pikepdf.open(path) as pdf:
        page = pdf.pages[0]
        matrix, stack, paths, current = np.eye(3), [], [], []
        at = start = None
        for operands, operator in pikepdf.parse_content_stream(page):
            op, n = str(operator), None
            if op in ("cm", "m", "l", "c", "re"):
                n = [float(x) for x in operands]
            if op == "q":
                stack.append(matrix)
            elif op == "Q":
                matrix = stack.pop()
            elif op == "cm":
                matrix = np.array([[n[0], n[1], 0], [n[2], n[3], 0], [n[4], n[5], 1]]) @ matrix
            elif op == "m":
                at = start = np.array(n)
            elif op == "l":
                t = np.linspace(0, 1, 9)[:, None]
                current.append((at * (1 - t) + np.array(n) * t, matrix))
                at = np.array(n)
            elif op == "c":
                p = [at] + [np.array(n[i : i + 2]) for i in (0, 2, 4)]
                current.append((bezier(p, np.linspace(0, 1, 9)), matrix))
                at = p[3]
            elif op in ("S", "s"):
                paths.append([(np.column_stack([c, np.ones(len(c))]) @ m)[:, :2] for c, m in current])
                current = []
            elif op in ("f", "f*", "n", "W", "B"):
                current = []
        return paths, [float(x) for x in page.mediabox]


def measure(plate, points, kind, spec, limit):
    worst = 0.0
    count = 0
    for piece in points:
        keep = np.hypot(piece[:, 0], piece[:, 1]) < plate.edge + 0.02
        if not keep.any():
            continue
        # In the zenith and the pole everything meets; nothing is lost by that.
        off = plate.residual(piece[keep])
        worst = max(worst, off.max())
        count += keep.sum()
        assert off.max() < limit, (kind, off.max(), piece[keep][off.argmax()], spec)
    assert count > 100, (kind, count, spec)
    return worst


def main():
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 20
    almuri = sys.argv[2] if len(sys.argv) > 2 else "almuri"
    rng = random.Random(5)
    worst = {"dxf": 0.0, "svg": 0.0, "pdf": 0.0, "raster": 0.0}
    for _ in range(count):
        spec = specification(rng)
        with tempfile.TemporaryDirectory() as folder:
            folder = pathlib.Path(folder)
            write(spec, folder / "spec.toml")
            subprocess.run(
                [almuri, "make", "--with", folder / "spec.toml", "--out", folder / "set",
                 "--parts", "plates", "--formats", "svg,dxf,pdf", "--page", "600x700"],
                check=True, stdout=subprocess.DEVNULL,
            )
            manifest = json.loads((folder / "set" / "manifest.json").read_text())
            plate = Plate(spec, manifest)
            for kind, points in (
                ("dxf", dxf_points(folder / "set" / "plate-1a.dxf")),
                ("svg", svg_points(folder / "set" / "plate-1a.svg")),
            ):
                worst[kind] = max(worst[kind], measure(plate, points, kind, spec, VECTOR_MM))
            paths, box = pdf_points(folder / "set" / "drawings.pdf")
            # The check line is the first horizontal line of exactly 100 mm.
            mm = 72 / 25.4
            flat = [p for path in paths for p in path]
            lines = [p for p in flat if np.ptp(p[:, 1]) < 1e-3 and abs(np.ptp(p[:, 0]) - 100 * mm) < 1e-3]
            assert lines, "no check line of 100 mm"
            # The first path is what is cut; it ends with the pin's hole, round the pole.
            hole = np.vstack(paths[0][-16:])
            pole = (hole.min(0) + hole.max(0)) / 2
            # Only what is drawn on the plate itself; the rest of the page is words and scale.
            on_plate = [
                [(p - pole) / mm for p in path] for path in paths[1:]
            ]
            on_plate = [p for path in on_plate for p in path if np.hypot(*p.T).max() < plate.edge + 0.05]
            worst["pdf"] = max(worst["pdf"], measure(plate, on_plate, "pdf", spec, VECTOR_MM))
            worst["raster"] = max(worst["raster"], raster(folder, plate, pole, box))
    print(f"{count} plates; largest distance from where a line should be, in mm:")
    for kind, off in worst.items():
        print(f"  {kind:<7}{off:.5f}")


def raster(folder, plate, pole, box):
    """The tropics and the equator on the page as dots: their radii by the darkest place."""
    dpi = 400
    subprocess.run(["pdftoppm", "-r", str(dpi), "-gray", "-f", "1", "-l", "1",
                    folder / "set" / "drawings.pdf", folder / "page"], check=True)
    page = np.asarray(Image.open(next(folder.glob("page*.pgm")))).astype(float)
    return rings(page, (pole[0] / 72 * dpi, (box[3] - pole[1]) / 72 * dpi), dpi / 25.4, plate)


def rings(page, centre, dots, plate):
    """How far tropic and equator are from their radii, in a picture about its pole."""
    cx, cy = centre
    worst = 0.0
    for radius in (plate.equator, plate.equator**2 / plate.edge):
        found = []
        for angle in np.radians(np.arange(2.3, 360, 3.7)):
            steps = np.arange(-0.3, 0.3001, 0.01)
            r = (radius + steps) * dots
            x, y = cx + r * np.cos(angle), cy + r * np.sin(angle)
            column, row = np.floor(x).astype(int), np.floor(y).astype(int)
            ink = 255 - page[row, column]
            # Other lines cross here and there; a narrow single line is what is measured.
            if ink.max() < 128 or ink[0] > 40 or ink[-1] > 40:
                continue
            dark = ink > ink.max() / 2
            if np.abs(np.diff(dark.astype(int))).sum() != 2 or dark.sum() > 40:
                continue
            found.append((steps * ink).sum() / ink.sum())
        if len(found) >= 8:
            worst = max(worst, abs(float(np.median(found))))
    assert worst < RASTER_MM, worst
    return worst


if __name__ == "__main__":
    main()
