"""The dearest request that each command and each route of the page allows: its time and its
memory, by the program itself. Writes bounds.md.

    cargo build --release
    python3 reference/bounds.py [PROGRAM]

Time is the processor's, which does not depend on what else the machine does; each piece of
work runs on one core, but for batches. Memory is the most that the process took. Needs Linux.
"""

import datetime
import json
import os
import platform
import re
import socket
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).parent.parent
ALMURI = Path(sys.argv[1]).resolve() if len(sys.argv) > 1 else ROOT / "target" / "release" / "almuri"
TABLE = ROOT / "reference" / "bounds.md"
MOST_S, MOST_MB = 10.0, 300.0
TICKS = os.sysconf("SC_CLK_TCK")
# What this process took before it began another would be counted as the other's.
subprocess._USE_VFORK = False

PLANETS = ["Sun", "Moon", "Mars", "Mercury", "Jupiter", "Venus", "Saturn"]
EVERY_KIND = ["lunation", "ingress", "moon-ingress", "station", "eclipse", "clock"]
CASE = {"when": "-0500-03-15 11:59", "at": "66.2,-8.5449", "clock": "sun", "houses": "placidus"}
PLAIN = {"when": "2024-05-14 09:20", "at": "42.8806,-8.5449", "zone": "Europe/Madrid"}
MOMENT = [CASE["when"], "--at", CASE["at"], "--clock", "sun", "--houses", "placidus"]


# As many towns as a gazetteer holds, all over the earth, and such as have Mecca where the Sun goes.
EVERYWHERE = [[f"Place {n}", -40 + 2 * n, 7 * n - 160] for n in range(48)]
NORTH_OF_MECCA = [[f"Place {n}", 30 + 0.3 * n, 36 + 0.5 * n] for n in range(48)]


def specification(diameter, plates, plain=False, places=EVERYWHERE):
    """As much on each part as a specification can ask for: what old backs bear takes more
    than the lines of sines, which a plain one has in its place."""
    back = "sine_quadrant = true" if plain else f"""quadrant = "qibla"
rings = ["faces", "egyptian-terms", "ptolemys-terms", "mansions"]
cotangents = true
gazetteer = {json.dumps(places)}
qibla = true"""
    return f"""version = 1
name = "the dearest"
diameter_mm = {diameter}
epoch_year = 2025
plates_deg = {plates}
unequal_hour_lines = "curves"
house_lines = "campanus"
limb_division_deg = 0.25
ecliptic_division_deg = 0.5
almucantar_step_deg = 1
azimuth_step_deg = 5
star_pointers = 60

[parts]
least_gap_mm = 0.1
least_type_mm = 0.3
tracery = "foliate"
calendar_scale = "eccentric"
{back}
rule = "declinations"
horizons_deg = {list(range(5, 65))}
"""


def class_of(pupils, questions):
    text = f"""version = 1
name = "An invented class"
place = "42.8806,-8.5449"
zone = "Europe/Madrid"
year = 2026
seed = 1
level = 3
questions = {questions}
operations = ["cast"]
same_questions = false
"""
    for number in range(pupils):
        text += f'[[pupils]]\nname = "Pupil {number}"\nwith = "class instrument"\n'
    return text


def wishes():
    """As many wishes over as many days as are allowed, with the dearest among them."""
    rather = ["Mars in house 1", "Moon in house 12"]
    rather += [f"not hour of {planet}" for planet in PLANETS]
    rather += [f"{planet} rising within 5°" for planet in PLANETS]
    rather += [f"{planet} dignified" for planet in PLANETS[:6]]
    return {"from": "2020-01-01", "to": "2030-01-05", "at": "63.5,-0.1", "clock": "mean", "houses": "placidus",
            "must": ["Moon at 3 Taurus within 1°", "Moon waxing"], "rather": rather}


def towns(count):
    return [f"{(n * 7919) % 13000 / 200:.3f},{(n * 104729) % 36000 / 100 - 180:.2f}" for n in range(count)]


def batch(rows):
    yield "name,when,at,clock\n"
    for n in range(rows):
        yield f'case {n},{1600 + n % 420}-{n % 12 + 1:02}-{n % 28 + 1:02} {n % 24:02}:{n * 7 % 60:02},"{n % 120 - 60}.5,{n % 300 - 150}.25",mean\n'


def cases(count, megabytes):
    """A table of cases that is as long as is read in at once."""
    yield "name,when,at,clock,note\n"
    room = (megabytes << 20) // count - 75
    words = ("some words of it " * (room // 17 + 1))[:room].rstrip()
    for n in range(count):
        yield f'case {n},{1600 + n % 420}-{n % 12 + 1:02}-{n % 28 + 1:02} {n % 24:02}:00,"{n % 120 - 60}.5,{n % 300 - 150}.25",mean,{words}\n'


def table(megabytes):
    """A table of one's own: of small numbers, so that there are as many as can be."""
    row = ",".join("1" for _ in range(500))
    yield ",".join(f"c{n}" for n in range(501)) + "\n"
    for n in range((megabytes << 20) // (len(row) + 7) - 4):
        yield f"{n},{row}\n"


def write(path, lines):
    """Line by line: what this process takes would be counted as what a command takes."""
    with open(path, "w") as out:
        out.writelines(lines)


def photograph():
    """As many marks as are read, of those of the example again and again."""
    text = (ROOT / "data" / "measurements" / "from-a-picture.toml").read_text()
    head, marks = text.split("marks = [\n")
    marks = marks.strip().removesuffix("]").splitlines()
    return head + "marks = [\n" + "\n".join((marks * 400)[:400]) + "\n]\n"


class Commands:
    """Runs commands, each in a process of its own."""

    def __init__(self, folder):
        self.folder = folder
        self.environment = {**os.environ, "XDG_CONFIG_HOME": str(folder / "config"), "XDG_DATA_HOME": str(folder / "data")}

    def run(self, arguments):
        """How it ended, the processor's time, the most memory, and what it said."""
        if arguments[0] == "share":
            return self.share(arguments)
        said = open(self.folder / "said", "w+b")
        child = subprocess.Popen([ALMURI, *arguments], cwd=self.folder, env=self.environment, stdout=subprocess.DEVNULL, stderr=said)
        _, status, usage = os.wait4(child.pid, 0)
        child.returncode = os.waitstatus_to_exitcode(status)
        said.seek(0)
        return child.returncode, usage.ru_utime + usage.ru_stime, usage.ru_maxrss / 1024, said.read().decode()


    def share(self, arguments):
        """The same of what ends when it is told to alone, once it says where it is."""
        child = subprocess.Popen([ALMURI, *arguments], cwd=self.folder, env=self.environment, stdout=subprocess.PIPE, text=True)
        said = child.stdout.readline()
        child.terminate()
        _, status, usage = os.wait4(child.pid, 0)
        child.returncode = os.waitstatus_to_exitcode(status)
        return child.returncode, usage.ru_utime + usage.ru_stime, usage.ru_maxrss / 1024, said


class Server:
    """The page's server, asked without a browser."""

    def __init__(self, folder, environment, *more):
        self.process = subprocess.Popen([ALMURI, "--no-open", "--port", "0", *more], cwd=folder, env=environment, stdout=subprocess.PIPE, text=True)
        line = self.process.stdout.readline()
        host, key = re.search(r"http://([^/]+)/enter/(\w+)", line).groups()
        self.host, self.port = host, int(host.rsplit(":")[-1])
        self.cookie = f"almuri-{self.port}={key}"

    def end(self):
        self.process.terminate()
        self.process.wait()

    def time(self):
        fields = Path(f"/proc/{self.process.pid}/stat").read_text().rsplit(") ", 1)[1].split()
        return (int(fields[11]) + int(fields[12])) / TICKS

    def most_memory(self):
        return int(re.search(r"VmHWM:\s+(\d+)", Path(f"/proc/{self.process.pid}/status").read_text()).group(1)) / 1024

    def ask(self, method, path, body=None):
        """The status, the processor's time, the most memory, and the answer."""
        Path(f"/proc/{self.process.pid}/clear_refs").write_text("5")
        before = self.time()
        text = b"" if body is None else json.dumps(body).encode()
        head = f"{method} {path} HTTP/1.1\r\nHost: {self.host}\r\nCookie: {self.cookie}\r\nConnection: close\r\nContent-Type: application/json\r\nContent-Length: {len(text)}\r\n\r\n"
        with socket.create_connection(("127.0.0.1", self.port)) as stream:
            stream.sendall(head.encode() + text)
            answer = b""
            while piece := stream.recv(1 << 20):
                answer += piece
        status = int(answer.split(b" ", 2)[1])
        return status, self.time() - before, self.most_memory(), answer.split(b"\r\n\r\n", 1)[-1]


def rows_of_commands(folder):
    commands = Commands(folder)
    (folder / "large.toml").write_text(specification(1000, PLATES_LARGE))
    (folder / "mecca.toml").write_text(specification(1000, PLATES_LARGE, places=NORTH_OF_MECCA))
    (folder / "many.toml").write_text(specification(MANY_MM, PLATES_MANY))
    (folder / "solid.toml").write_text(specification(*SOLID))
    (folder / "solid-plain.toml").write_text(specification(*SOLID_PLAIN, plain=True))
    (folder / "class.toml").write_text(class_of(*CLASS))
    (folder / "towns.txt").write_text("\n".join(towns(2000)))
    (folder / "few-towns.txt").write_text("\n".join(towns(400)))
    write(folder / "batch.csv", batch(100_000))
    write(folder / "cases.csv", cases(50_000, 64))
    write(folder / "half-of-them.csv", cases(50_000, 32))
    write(folder / "for-the-page.csv", cases(50_000, 24))
    write(folder / "table.csv", table(8))
    (folder / "photograph.toml").write_text(photograph())
    (folder / "kept-class.toml").write_text(class_of(CLASS[0], CLASS[1]))
    (folder / "page.html").write_text(f'<html data-desk="here"><head></head><script data-piece="x">{"x" * (20 << 20)}</script></html>')
    (folder / "site").mkdir()
    (folder / "site" / "index.html").write_text("<title>A page</title>")
    write(folder / "site" / "large.bin", (("0" * 1023 + "\n") for _ in range(255 << 10)))
    (folder / "measured.toml").write_text((ROOT / "data" / "measurements" / "from-a-drawer.toml").read_text())
    asked = wishes()
    choose = [word for key in ("from", "to", "at", "clock", "houses") for word in (f"--{key}", asked[key])]
    choose += [word for key in ("must", "rather") for wish in asked[key] for word in (f"--{key}", wish)]
    year = ["2649", "--at", PLAIN["at"], "--zone", PLAIN["zone"], "--hours-of", ",".join(PLANETS), "--kinds", ",".join(EVERY_KIND)]
    place = ["--at", PLAIN["at"], "--zone", PLAIN["zone"]]
    stock = ",".join(str(n * 0.65) for n in range(1, 101))
    formats = ["--formats", "svg,dxf,pdf,png,paper,assembly", "--dpi", "1200", "--page", PAPER]
    for what, arguments in [
        ("`cast`", ["cast", *MOMENT, "--json"]),
        ("`figure`", ["figure", *MOMENT, "--outer", "--json"]),
        ("`figure` drawn", ["figure", *MOMENT, "--outer", "-o", "figure.png"]),
        ("`during`, a day", ["during", MOMENT[0], "11:58", *MOMENT[1:], "--outer"]),
        ("`revolution`", ["revolution", MOMENT[0], "2600", *MOMENT[1:-2]]),
        ("`moments` of a year", ["moments", "11 Pisces", "2649-01-01", "--at", CASE["at"], "--clock", "sun"]),
        ("`choose`, ten years and 24 wishes", ["choose", *choose, "-o", "times.ics", "-o", "times.png", "-o", "times.csv"]),
        ("`year`, the book, the calendar and the table", ["year", *year, "-o", "year.pdf", "-o", "year.ics", "-o", "year.csv"]),
        ("`stand`", ["stand", PLAIN["when"], *place, "--rete", "12", "--rule", "34", "--with", "large.toml"]),
        ("`tables`, the book of all of them", ["tables", "book", "--year", "2026", *place, "-o", "tables.pdf"]),
        ("`reckon`", ["reckon", PLAIN["when"], *place, "--second-difference", "-o", "sheet.pdf"]),
        ("`compare`", ["compare", PLAIN["when"], *place, *[word for _ in range(24) for word in ("--with", "large.toml")], "-o", "compared.pdf"]),
        ("`proofread` 8 MB", ["proofread", "table.csv"]),
        ("`examine`, 20 instruments", ["examine", *["measured.toml"] * 20]),
        ("`examine` a photograph with 400 marks", ["examine", "photograph.toml"]),
        ("`cabinet`", ["cabinet", "--check", "large.toml"]),
        ("`settings`", ["settings", "--json"]),
        ("`work`", ["work", "houses-by-hours", PLAIN["when"], "--at", PLAIN["at"], "--zone", PLAIN["zone"], "--json"]),
        ("`work` towards Mecca", ["work", "qibla-by-curves", "2025-05-14 10:20", "--at", "33,41", "--zone", "Asia/Baghdad", "--with", "mecca.toml", "--json"]),
        ("`draw`", ["draw", "--with", "large.toml", "-o", "front.svg"]),
        ("`film`", ["film", "houses-by-hours", PLAIN["when"], "--at", PLAIN["at"], "--zone", PLAIN["zone"], "--with", "large.toml", "-o", "film"]),
        ("`lesson`", ["lesson", "cast", PLAIN["when"], "--at", PLAIN["at"], "--zone", PLAIN["zone"], "--with", "large.toml", "-o", "lesson.pdf", "--page", PAPER]),
        ("`course`", ["course", "--year", "2026", "--at", PLAIN["at"], "--zone", PLAIN["zone"], "--with", "large.toml", "-o", "course", "--page", PAPER]),
        (f"`exercises`, {CLASS[0]} pupils with {CLASS[1]} questions each", ["exercises", "class.toml", "-o", "exercises", "--page", PAPER]),
        ("`correct` a question of them", ["correct", "--exercises", "exercises/exercises.json", "--pupil", "Pupil 7", "--question", "1", "--read", "ascendant=11 Pisces", "--read", "midheaven=20 Sagittarius"]),
        ("`correct` all that can be read", ["correct", *MOMENT, "--read", "ascendant=11 Pisces", "--read", "midheaven=20 Sagittarius", "--read", "II=1 Taurus", "--read", "III=1 Gemini"]),
        ("`plates`, 2,000 towns and 100 plates in stock, placidus", ["plates", "--towns", "towns.txt", "--stock", stock, "--houses", "placidus", "--within", "0.01"]),
        ("`plates` with the cards of 400 towns", ["plates", "--towns", "few-towns.txt", "--stock", "42", "--cards", "2026", "-o", "cards"]),
        (f"`make`, 1000 mm and {len(PLATES_LARGE)} plates, all formats", ["make", "--with", "large.toml", "-o", "large", *formats]),
        (f"`make`, {SOLID[0]} mm and 2 plates, solids", ["make", "--with", "solid.toml", "-o", "solids", "--formats", "3mf,stl"]),
        (f"`make`, {SOLID_PLAIN[0]} mm, a plain back and 2 plates, solids", ["make", "--with", "solid-plain.toml", "-o", "solids-plain", "--formats", "3mf,stl"]),
        (f"`make`, 1000 mm and {len(PLATES_LARGE)} plates, films", ["make", "--with", "large.toml", "-o", "films", "--formats", "film,film-png", "--film-dpi", "1200", "--line-width", "0.3", "--undercut", "0.05", "--etch-through"]),
        (f"`make`, {MANY_MM} mm and {len(PLATES_MANY)} plates, all formats", ["make", "--with", "many.toml", "-o", "many", *formats]),
        ("`nest`, the parts of twelve instruments", ["nest", *[word for _ in range(12) for word in ("--with", "pocket instrument")], "--sheet", "brass 600x400x2", "-o", "nested"]),
        ("`batch`, 100,000 rows (any number: each row by itself)", ["batch", "batch.csv", "-o", "figures.csv"]),
        ("`planets`, 100,000 rows (any number: each row by itself)", ["planets", "--from", "1000-01-01 00:00", "--to", "1011-05-29 15:00", "--every", "1h", "-o", "sky.csv"]),
        ("`forms`, all of them", ["forms", "--at", PLAIN["at"], "-o", "forms.pdf"]),
        ("`share` of 256 MB", ["share", "site", "--port", "0"]),
        ("`class keep`", ["class", "keep", "kept-class.toml", *CLASSES]),
        (f"`class give-out` to {CLASS[0]} pupils, {CLASS[1]} questions each", GIVE_OUT),
        ("", FILL),
        ("`class print` of the sheets", ["class", "print", "1", "sheets", *CLASSES]),
        ("`class print` of the key", ["class", "print", "1", "key", *CLASSES]),
        ("`class print` of the key at length", ["class", "print", "1", "key-at-length", *CLASSES]),
        ("`class print` of the seating list, all sheets", ["class", "print", "1", "seating", *CLASSES]),
        ("`class answer`", ["class", "answer", "1", "1", "Pupil 7", "--read", "1.ascendant=11 Pisces", *CLASSES]),
        ("`class show`, all sheets", ["class", "show", "1", *CLASSES]),
        ("`class sheet`", ["class", "sheet", "1", "1", "Pupil 7", *CLASSES]),
        ("`class post` of a page of 20 MB, one for all", ["class", "post", "1", "--site", "page.html", "--one-for-all", "-o", "posted", *CLASSES]),
        ("", BACK),
        (f"`class collect` of {CLASS[0]} files", ["class", "collect", "1", "back", "--overwrite", *CLASSES]),
        ("`class list`", ["class", "list", *CLASSES]),
        ("`class edit`", ["class", "edit", "1", "kept-class.toml", *CLASSES]),
        ("`casebook export` of that class", ["casebook", "export", "-o", "classes.json", *CLASSES]),
        ("`casebook import` of that class", ["casebook", "import", "classes.json", "--book", "again.sqlite"]),
        ("`class delete`, all sheets", ["class", "delete", "1", "--yes", "--book", "again.sqlite"]),
        ("`casebook import` of 50,000 cases, 64 MB", ["casebook", "import", "cases.csv", "--book", "long.sqlite"]),
        ("", ["casebook", "import", "half-of-them.csv"]),
        ("", ["casebook", "import", "half-of-them.csv"]),
        ("`casebook check` of 100,000 cases", ["casebook", "check"]),
        ("`casebook keep`", ["casebook", "keep", "One more", PLAIN["when"], *place]),
        ("`casebook edit`", ["casebook", "edit", "8", "--note", "seen again"]),
        ("`casebook list` of all", ["casebook", "list", "--limit", "100000"]),
        ("`casebook find` of all", ["casebook", "find", "some", "words", "--limit", "100000"]),
        ("`casebook show`", ["casebook", "show", "9"]),
        ("`casebook tags`", ["casebook", "tags"]),
        ("`casebook undo`", ["casebook", "undo"]),
        ("`casebook back-up`", ["casebook", "back-up", "whole"]),
        ("`casebook backups`", ["casebook", "backups"]),
        ("`casebook restore`", ["casebook", "restore", "whole"]),
        ("`casebook export` of 100,000 cases", ["casebook", "export", "-o", "out.json"]),
        ("`casebook delete` from 100,000 cases", ["casebook", "delete", "7", "--yes"]),
        ("", ["casebook", "import", "for-the-page.csv", "--book", "page.sqlite"]),
        ("", ["casebook", "import", "for-the-page.csv", "--book", "page.sqlite"]),
    ]:
        if arguments is BACK:
            came_back(folder)
            continue
        if arguments is FILL:
            while commands.run(GIVE_OUT)[0] == 0:
                pass
            continue
        code, seconds, memory, said = commands.run(arguments)
        yield what, code == 0, seconds, memory, said


def rows_of_routes(folder):
    """Within the casebooks that the commands have left."""
    server = Server(folder, Commands(folder).environment, "--book", "page.sqlite")
    large = {"specification": (folder / "large.toml").read_text()}
    many = {"specification": (folder / "many.toml").read_text()}
    with_large = {**CASE, "with": large}
    formats = ["svg", "dxf", "pdf", "png", "paper", "assembly"]
    stock = [n * 0.65 for n in range(1, 101)]
    case = {"name": "A case", **PLAIN}
    drawing = {"figure": {"cast": CASE, "outer": True}, "form": "as-instrument"}
    year = {"year": 2649, "at": PLAIN["at"], "zone": PLAIN["zone"], "with": large, "hours_of": PLANETS}
    try_one = {"at": PLAIN["at"], "zone": PLAIN["zone"], "year": 2026, "level": 3, "seed": 7, "operation": "cast"}
    _, _, _, tried = server.ask("POST", "/desk/teaching/try", try_one)
    tried = json.loads(tried)
    last = json.loads(server.ask("POST", "/desk/casebook/find", {"words": "", "limit": 2})[3])["cases"]
    measured = (ROOT / "data" / "measurements" / "from-a-drawer.toml").read_text()
    own = large["specification"].replace("the dearest", "my own")
    try:
        for path, body in [
            ("start", None),
            ("cast", with_large),
            ("turn", {"case": PLAIN, "state": {"plate_latitude_deg": 42, "rete_deg": 12, "rule_deg": 34}}),
            ("figure", {"cast": CASE, "outer": True}),
            ("figure/drawn", drawing),
            ("figure/file", {"drawing": drawing, "format": "png"}),
            ("front", {"with": large, "plate_latitude_deg": 1}),
            ("back", {"with": large, "plate_latitude_deg": 1}),
            ("parts", {"with": large, "plate_latitude_deg": 1}),
            ("operations", None),
            ("work", {"operation": "houses-by-hours", "moment": PLAIN}),
            ("correct", {"moment": PLAIN, "read": {"ascendant": "11 Pisces", "midheaven": "20 Sagittarius"}}),
            ("suggest", {"text": "san"}),
            ("during", {"moment": CASE, "until": "11:58", "outer": True}),
            ("reckon/sheet", {"reckon": {"when": PLAIN["when"], "at": PLAIN["at"], "zone": PLAIN["zone"], "second_difference": True}, "blank": False, "page": "a4"}),
            ("code", {"text": "http://192.0.2.1:7315/#" + "a" * 2000}),
            ("reckon", {"when": PLAIN["when"], "at": PLAIN["at"], "zone": PLAIN["zone"], "second_difference": True}),
            ("choose", wishes()),
            ("choose/forms", None),
            ("choose/calendar", wishes()),
            ("year/book", {"year": year, "paper": "a5"}),
            ("year/calendar", {"year": year, "kinds": EVERY_KIND}),
            ("revolution", {"moment": CASE, "year": 2600}),
            ("moments", {"moment": {**CASE, "when": "2649-01-01 00:00"}, "ascendant": "11 Pisces"}),
            ("today", {}),
            ("cabinet", None),
            ("cabinet/brass", {"text": large["specification"], "form": None}),
            ("teaching/handout", {"work": {"operation": "cast", "moment": {**PLAIN, "with": large}}, "page": "a4"}),
            ("cabinet/text", {"name": "class instrument"}),
            ("cabinet/keep", {"text": own}),
            ("cabinet/delete", {"name": "my own", "text": own}),
            ("settings", {"home": PLAIN["at"], "zone": PLAIN["zone"], **dict.fromkeys(["with", "houses", "by", "sun", "figures", "page_address"])}),
            ("teaching/try", try_one),
            ("teaching/correct", {"exercises": tried, "pupil": "", "question": 1, "read": {"ascendant": "11 Pisces", "midheaven": "20 Sagittarius"}}),
            ("teaching/exercises", {"class": class_of(*CLASS), "page": "a4"}),
            ("casebook/find", {"words": "some words", "limit": 500}),
            ("casebook/keep", case),
            ("casebook/edit", {"id": last[0]["id"], "version": last[0]["version"], "case": case}),
            ("casebook/delete", {"id": last[1]["id"], "version": last[1]["version"]}),
            ("casebook/undo", {}),
            ("casebook/export", {"form": "json"}),
            ("casebook/import", {"form": "csv", "text": "".join(cases(50_000, 31))}),
            ("workshop/example", None),
            ("workshop/specification", {"text": large["specification"], "set": [{"key": "parts.tracery", "to": "lancet"}]}),
            ("workshop/examine", {"measurements": measured, "with": large}),
            ("workshop/examine", {"measurements": photograph()}),
            ("workshop/propose", {"measurements": photograph(), "at_px": [1500.0, 1500.0]}),
            ("workshop/face", {"measurements": photograph(), "with": {"named": "class instrument"}}),
            ("workshop/setting", {"measurements": (ROOT / "data" / "measurements" / "as-it-was-set.toml").read_text(), "case": PLAIN}),
            ("workshop/preview", {"with": large}),
            ("workshop/card", {"plates": {"towns": towns(1), "stock_deg": stock, "year": 2026}, "paper": "a4"}),
            ("workshop/plates", {"towns": towns(2000), "stock_deg": stock, "houses": "placidus", "within_deg": 0.01}),
            ("workshop/compare", {"moment": PLAIN, "with": [{"named": name} for name in ("class instrument", "pocket instrument", "lecture instrument", "date-ring instrument")]}),
            ("workshop/make", {"with": large, "formats": formats, "page": PAPER}),
            ("workshop/make", {"with": many, "formats": formats, "page": PAPER}),
            ("workshop/make", {"with": {"specification": specification(*SOLID)}, "formats": ["3mf", "stl"]}),
            ("workshop/make", {"with": {"specification": specification(*SOLID_PLAIN, plain=True)}, "formats": ["3mf", "stl"]}),
            ("workshop/make", {"with": large, "formats": ["film"]}),
        ]:
            method = "GET" if body is None else "POST"
            what = f"`/desk/{path}`"
            if path == "workshop/make":
                # What a set took the system's allocator may keep: each has a server of its own.
                server.end()
                server = Server(folder, Commands(folder).environment, "--book", "page.sqlite")
                what += ", " + ", ".join(body["formats"])
            status, seconds, memory, answer = server.ask(method, f"/desk/{path}", body)
            yield what, status == 200, seconds, memory, answer[:400].decode(errors="replace")
    finally:
        server.end()


def rows_of_classes(folder):
    """Within the book of the class that has as much as one can have."""
    server = Server(folder, Commands(folder).environment, *CLASSES)
    giving = {"year": 2026, "seed": 7, "questions": CLASS[1], "same_questions": False}
    try:
        for path, body in [
            ("class/keep", {"text": class_of(CLASS[0], CLASS[1])}),
            ("class/list", {}),
            ("class/give-out", lambda: {"id": server.kept["id"], "giving": giving}),
            ("class/look", {"id": 1}),
            ("class/paper", lambda: {"id": server.kept["look"]["sheets"][0]["papers"][7]["id"]}),
            ("class/answer", lambda: {"id": server.kept["id"], "version": server.kept["version"], "read": {"1": {"ascendant": "11 Pisces"}}, "remark": ""}),
            ("class/post", {"id": 1, "sheet": 1, "corrects": False}),
            ("class/collect", lambda: {"id": 1, "text": json.dumps(answers_of(server.kept["posted"], server.kept["posted"]["papers"][0])), "instead": True}),
            *[("class/print", {"id": 1, "what": what, "page": "a4"}) for what in ("sheets", "key", "key-at-length", "seating")],
            ("class/delete", {"id": 1, "version": 2}),
        ]:
            status, seconds, memory, answer = server.ask("POST", f"/desk/{path}", body() if callable(body) else body)
            if status == 200 and path != "class/list" and answer.startswith(b"{"):
                server.kept = json.loads(answer)
            what = f" ({body['what']})" if path == "class/print" else ""
            yield f"`/desk/{path}`{what}", status == 200, seconds, memory, answer[:400].decode(errors="replace")
    finally:
        server.end()


def refusals(folder):
    """What is one step dearer, and what it is told."""
    commands = Commands(folder)
    (folder / "larger.toml").write_text(specification(1000, [n / 2 for n in range(2, 2 + 2 * (len(PLATES_LARGE) + 1), 2)]))
    (folder / "class-more.toml").write_text(class_of(CLASS[0], CLASS[1] + 1))
    (folder / "more-towns.txt").write_text("\n".join(towns(2001)))
    (folder / "more-cases.csv").write_text("name,when,at\n" + "a,2024-05-14 09:20,Lisbon\n" * 50_001)
    write(folder / "more-table.csv", table(9))
    (folder / "more-marks.toml").write_text(photograph().replace("marks = [", 'marks = [\n[1, 1, "equator"],'))
    for arguments in [
        ["make", "--with", "larger.toml", "-o", "larger"],
        ["make", "--with", "large.toml", "-o", "refused", "--formats", "film-png"],
        ["make", "--with", "large.toml", "-o", "refused", "--formats", "3mf", "--engrave-depth", "4"],
        ["exercises", "class-more.toml", "-o", "more"],
        ["plates", "--towns", "more-towns.txt"],
        ["plates", "--towns", "42,0", "--stock", ",".join(["42"] * 101)],
        ["proofread", "more-table.csv"],
        ["examine", "more-marks.toml"],
        ["casebook", "import", "more-cases.csv"],
        GIVE_OUT,
    ]:
        code, _, _, said = commands.run(arguments)
        assert code == 2, (arguments, said)
        yield " ".join(word for word in arguments if len(word) < 20), said.strip().removeprefix("almuri: ")


PLATES_LARGE = list(range(1, 7))
SOLID, SOLID_PLAIN = (400, [40, 50]), (600, [40, 50])
# The smallest paper there is, on which a drawing falls into the most pages.
PAPER = "148x148"
MANY_MM, PLATES_MANY = 100, list(range(1, 61))
CLASS = (100, 3)
CLASSES = ("--book", "classes.sqlite")
GIVE_OUT = ["class", "give-out", "1", "--year", "2026", "--questions", str(CLASS[1]), "--each-their-own", *CLASSES]
# Sheets are given out until the class has as many as one can have.
FILL = None
# The pupils' pages are answered.
BACK = "back"


def came_back(folder):
    """What each pupil's page saves, as the one page for all has their numbers."""
    (page,) = (folder / "posted").glob("sheet-*.html")
    posted = page.read_text().split('id="posted">', 1)[1].split("</script>", 1)[0]
    posted = json.loads(posted)
    (folder / "back").mkdir()
    for paper in posted["papers"]:
        (folder / "back" / f"{paper['number']}.json").write_text(json.dumps(answers_of(posted, paper)))


def answers_of(posted, paper):
    """A figure's angles read everywhere, each where it is asked."""
    questions = paper["asked"]["pupils"][0]["questions"]
    asked = {one["number"]: {ask["name"] for ask in one["asks"]} for one in questions}
    read = {str(number): {"ascendant": "11 Pisces"} for number, names in asked.items() if "ascendant" in names}
    answered = {name: paper[name] for name in ("number", "mark")} | {"read": read}
    return {"version": 1, "class": posted["class"], "sheet": posted["sheet"], "answers": [answered]}


def main():
    rows, dear, told, refused = [], [], [], []
    with tempfile.TemporaryDirectory() as folder:
        folder = Path(folder)
        for kind in (rows_of_commands, rows_of_routes, rows_of_classes):
            if kind is rows_of_classes:
                told = [f"| {what} | {said} |" for what, said in refusals(folder)]
            for what, done, seconds, memory, said in kind(folder):
                if done and not what:
                    continue
                print(f"{seconds:8.2f} s {memory:6.0f} MB  {what}", flush=True)
                if not done:
                    refused.append(f"{what}: {said.strip()}")
                    continue
                rows.append(f"| {what} | {seconds:.2f} | {memory:.0f} |")
                if memory > MOST_MB or seconds > MOST_S and kind is not rows_of_commands:
                    dear.append(what)
    if refused:
        sys.exit("what should be answered was not, and no table is written:\n" + "\n".join(refused))
    processor = next((line.split(": ", 1)[1] for line in Path("/proc/cpuinfo").read_text().splitlines() if line.startswith("model name")), platform.machine())
    TABLE.write_text(f"""# The dearest requests

By `reference/bounds.py`: what each command and each route of the page takes for the dearest
request that it allows, in seconds of one processor core and in megabytes at most. What is
dearer is refused, and told what would be accepted; of what is answered row by row any number
of rows is allowed, for it takes no more memory and can be stopped at each. A set of files is
asked of a server that has made none before: what one took may stay with it. Nothing takes more
than 300 MB and no route of the page more than 10 s, on the machine as it was then. The
instruments bear what old ones do, and their drawings are cut up for the smallest pages. A command that takes longer stops at Ctrl-C, and shows in a terminal how far it is; deleting from a casebook does not show it.

| | s | MB |
|---|--:|--:|
{chr(10).join(rows)}

One step further:

| asked | told |
|---|---|
{chr(10).join(told)}

Measured on: {processor}, Linux.
""")
    if dear:
        sys.exit("a command that takes more than 300 MB, or a route more than that or 10 s: " + "; ".join(dear))


if __name__ == "__main__":
    main()
