"""Pictures of the cabinet's twelve instruments, and of retes of plain ones by size, for
docs/gallery, small in bytes.

    python reference/gallery.py [DIRECTORY]

`cargo build --workspace --example gallery` makes the program that draws them as SVG; a browser (Chromium) makes pictures
of those; here they are brought to few colours and written as PNG. Only the standard library is
used.
"""

import pathlib
import struct
import subprocess
import sys
import tempfile
import zlib

ROOT = pathlib.Path(__file__).resolve().parent.parent
NAMES = (
    "key-ring walker night-watch beads weaver wheel-window garden tulip aviary armoury"
    " southern-sea great-wheel"
).split()
# Nothing is said of these but the size, in millimetres across.
SIZES = (40, 60, 120, 350)
PLAIN = """version = 1
name = "{0} mm"
epoch_year = 2025
calendar_year = 2025
diameter_mm = {0}
plates_deg = [42]
"""
WIDTH = 420
COLOURS = 24
PAPER = (0xF7, 0xF2, 0xE6)


def read_png(data):
    """The rows of a PNG of 8-bit RGB or RGBA, as lists of (r, g, b)."""
    at, width, height, channels, packed = 8, 0, 0, 3, b""
    while at < len(data):
        (length,) = struct.unpack(">I", data[at : at + 4])
        kind, body = data[at + 4 : at + 8], data[at + 8 : at + 8 + length]
        if kind == b"IHDR":
            width, height, depth, colour = struct.unpack(">IIBB", body[:10])
            assert depth == 8 and colour in (2, 6)
            channels = 3 if colour == 2 else 4
        elif kind == b"IDAT":
            packed += body
        at += 12 + length
    raw, stride, rows, before = zlib.decompress(packed), width * channels, [], None
    before = bytearray(stride)
    for y in range(height):
        begins = y * (stride + 1)
        how, line = raw[begins], bytearray(raw[begins + 1 : begins + 1 + stride])
        for x in range(stride):
            left = line[x - channels] if x >= channels else 0
            up, corner = before[x], before[x - channels] if x >= channels else 0
            if how == 1:
                line[x] = (line[x] + left) & 255
            elif how == 2:
                line[x] = (line[x] + up) & 255
            elif how == 3:
                line[x] = (line[x] + (left + up) // 2) & 255
            elif how == 4:
                away = [abs(up - corner), abs(left - corner), abs(left + up - 2 * corner)]
                nearest = [left, up, corner][away.index(min(away))]
                line[x] = (line[x] + nearest) & 255
        before = line
        rows.append([tuple(line[i : i + 3]) for i in range(0, stride, channels)])
    return rows


def palette_of(rows, count):
    """Colours that stand for all: the box of colours that is widest is halved, again and again."""
    seen = {}
    for row in rows:
        for colour in row:
            seen[colour] = seen.get(colour, 0) + 1
    boxes = [list(seen.items())]

    def spread(box):
        return max(
            (max(c[i] for c, _ in box) - min(c[i] for c, _ in box)) * sum(n for _, n in box) ** 0.35
            for i in range(3)
        )

    while len(boxes) < count:
        box = max(boxes, key=spread)
        if len(box) < 2:
            break
        axis = max(range(3), key=lambda i: max(c[i] for c, _ in box) - min(c[i] for c, _ in box))
        box.sort(key=lambda one: one[0][axis])
        middle = (box[0][0][axis] + box[-1][0][axis]) / 2
        cut = next((n for n, (c, _) in enumerate(box) if c[axis] > middle), 1) or 1
        boxes.remove(box)
        boxes += [box[:cut], box[cut:]]
    colours = []
    for box in boxes:
        weight = sum(n for _, n in box)
        colours.append(tuple(round(sum(c[i] * n for c, n in box) / weight) for i in range(3)))
    return colours, seen


def write_png(rows, count):
    colours, seen = palette_of(rows, count)

    def nearest(colour):
        return min(
            range(len(colours)),
            key=lambda k: sum((a - b) ** 2 for a, b in zip(colours[k], colour)),
        )

    number = {colour: nearest(colour) for colour in seen}
    raw = b"".join(b"\0" + bytes(number[c] for c in row) for row in rows)

    def chunk(kind, body):
        return (
            struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))
        )

    head = struct.pack(">IIBBBBB", len(rows[0]), len(rows), 8, 3, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", head)
        + chunk(b"PLTE", b"".join(bytes(c) for c in colours))
        + chunk(b"IDAT", zlib.compress(raw, 9))
        + chunk(b"IEND", b"")
    )


def pixels(svg, width, browser="chromium"):
    text = svg.read_text()
    box = [float(x) for x in text.split('viewBox="')[1].split('"')[0].split()]
    height = round(width * box[3] / box[2])
    with tempfile.TemporaryDirectory() as folder:
        page, shot = pathlib.Path(folder, "page.html"), pathlib.Path(folder, "shot.png")
        page.write_text(
            "<body style='margin:0;background:#%02x%02x%02x;overflow:hidden'>" % PAPER +
            f"<img src='{svg.resolve().as_uri()}' style='width:{width}px;height:{height}px'>"
        )
        subprocess.run(
            [
                browser, "--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars",
                f"--screenshot={shot}", f"--window-size={width},{height}", page.as_uri(),
            ],
            check=True,
            capture_output=True,
        )
        rows = read_png(shot.read_bytes())
    return [row[:width] for row in rows[:height]]


def picture(svg, out, width):
    out.write_bytes(write_png(pixels(svg, width), COLOURS))


def side_by_side(svgs, out, width):
    """Pictures beside each other, their middles at one height."""
    all_rows = [pixels(svg, width) for svg in svgs]
    height = max(len(rows) for rows in all_rows)
    ground = [PAPER] * width
    level = []
    for rows in all_rows:
        above = (height - len(rows)) // 2
        below = height - len(rows) - above
        level.append([ground] * above + rows + [ground] * below)
    together = [sum(parts, []) for parts in zip(*level)]
    out.write_bytes(write_png(together, COLOURS))


def main():
    out = pathlib.Path(sys.argv[1]) if len(sys.argv) > 1 else ROOT / "docs" / "gallery"
    with tempfile.TemporaryDirectory() as folder:
        files = [str(ROOT / "data" / "cabinet" / f"{name}.toml") for name in NAMES]
        for size in SIZES:
            plain = pathlib.Path(folder, f"plain-{size}.toml")
            plain.write_text(PLAIN.format(size))
            files.append(str(plain))
        build = ["cargo", "build", "-q", "--workspace", "--example", "gallery"]
        subprocess.run(build, check=True, cwd=ROOT)
        program = ROOT / "target" / "debug" / "examples" / "gallery"
        subprocess.run([str(program), folder, *files], check=True)
        for name in NAMES:
            picture(pathlib.Path(folder, f"{name}.svg"), out / f"{name}.png", WIDTH)
        picture(pathlib.Path(folder, "key-ring-back.svg"), out / "key-ring-back.png", 340)
        picture(pathlib.Path(folder, "walker-rete.svg"), out / "walker-rete.png", 420)
        picture(pathlib.Path(folder, "plain-120-rete.svg"), out / "rete-120.png", 620)
        picture(pathlib.Path(folder, "plain-350-rete.svg"), out / "rete-350.png", 860)
        (out / "rete-60.svg").write_text(pathlib.Path(folder, "plain-60-rete.svg").read_text())
        smallest = [pathlib.Path(folder, f"plain-40-{part}.svg") for part in ("rete", "plate-1a")]
        side_by_side(smallest, out / "smallest.png", 380)


if __name__ == "__main__":
    main()
