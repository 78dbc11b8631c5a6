"""Sixty random exercise sheets answered by ERFA, and marked as a pupil's would be.

    cargo build --release -p almuri
    python -m pip install -r reference/requirements-figure.txt
    python reference/exercises_erfa.py target/release/almuri > reference/exercises_erfa.md

Each sheet is drawn for one pupil of a place whose latitude is up to 5° from the nearest
plate. Sidereal time, obliquity and the Sun come from ERFA, the rest is spherical
trigonometry; of the program's answers only the place's coordinates and the name of its
zone are taken. An answer that is calculated so must be marked right.
"""

import collections
import datetime
import json
import pathlib
import random
import subprocess
import sys
import tempfile
import zoneinfo

import erfa
import numpy as np

ALMURI = sys.argv[1]
# The latitudes of their plates.
INSTRUMENTS = {
    "class instrument": [42, 46, 50],
    "date-ring instrument": [40, 45, 50, 55],
    "pocket instrument": [45, 48],
    "lecture instrument": [41, 45, 48, 51.5],
}
OPERATIONS = [
    "cast",
    "sun-degree",
    "meridian-altitude",
    "hour-by-sun",
    "day-and-night",
    "sunrise-azimuth",
]
SHEETS = 60
# TAI − UTC has been 37 s since 2017, and is taken on.
TT_MINUS_UTC_S = 32.184 + 37.0


def almuri(*arguments):
    done = subprocess.run([ALMURI, *arguments], capture_output=True, text=True, check=False)
    if done.returncode:
        raise SystemExit(f"almuri {' '.join(arguments)}: {done.stderr}")
    return done.stdout


class Moment:
    """The Sun and sidereal time at a place, in degrees."""

    def __init__(self, utc, longitude, latitude):
        day = datetime.datetime(utc.year, utc.month, utc.day)
        first, second = erfa.cal2jd(utc.year, utc.month, utc.day)
        self.part = (utc - day) / datetime.timedelta(days=1)
        self.longitude, self.latitude = longitude, latitude
        ut = (first, second + self.part)
        tt = (first, second + self.part + TT_MINUS_UTC_S / 86400)
        self.theta = (np.degrees(erfa.gst06a(*ut, *tt)) + longitude) % 360
        # Light left the Sun some eight minutes before.
        earth, _ = erfa.epv00(*tt)
        _, barycentric = erfa.epv00(*tt)
        sun = -earth["p"]
        distance = np.linalg.norm(sun)
        sun = sun / distance
        # Aberration by the Earth's own velocity; the light time of the Sun is in it but
        # for its motion about the barycentre, less than 0.01″.
        velocity = barycentric["v"] / 173.1446326847
        sun = sun + velocity - sun * np.dot(sun, velocity)
        sun /= np.linalg.norm(sun)
        equatorial = erfa.rxp(erfa.pnm06a(*tt), sun)
        right_ascension, self.declination = np.degrees(erfa.c2s(equatorial))
        self.right_ascension = right_ascension % 360
        self.obliquity = np.degrees(erfa.obl06(*tt) + erfa.nut06a(*tt)[1])
        self.sun = self.ecliptic(self.right_ascension)

    def ecliptic(self, right_ascension):
        """The degree of the ecliptic that has a right ascension."""
        a, e = np.radians([right_ascension, self.obliquity])
        return np.degrees(np.arctan2(np.sin(a), np.cos(a) * np.cos(e))) % 360

    def equatorial(self, longitude):
        lon, e = np.radians([longitude, self.obliquity])
        ra = np.degrees(np.arctan2(np.sin(lon) * np.cos(e), np.cos(lon))) % 360
        return ra, np.degrees(np.arcsin(np.sin(lon) * np.sin(e)))

    def ascendant(self, theta):
        t, e, phi = np.radians([theta, self.obliquity, self.latitude])
        below = np.sin(t) * np.cos(e) + np.tan(phi) * np.sin(e)
        return np.degrees(np.arctan2(np.cos(t), -below)) % 360

    def semi_arc(self, declination, altitude=0.0):
        """The hour angle at which a declination has an altitude."""
        d, h, phi = np.radians([declination, altitude, self.latitude])
        cosine = (np.sin(h) - np.sin(phi) * np.sin(d)) / (np.cos(phi) * np.cos(d))
        return np.degrees(np.arccos(cosine))

    def apparent_h(self):
        return (self.theta - self.right_ascension + 180) % 360 / 15

    def mean_h(self):
        return (self.part * 24 + self.longitude / 15) % 24


def cusps(moment):
    """Alcabitius: thirds of the ascendant's semi-arcs, carried on by hour circles."""
    ascendant = moment.ascendant(moment.theta)
    right_ascension, declination = moment.equatorial(ascendant)
    below = 180 - moment.semi_arc(declination)
    second = moment.ecliptic(right_ascension + below / 3)
    third = moment.ecliptic(right_ascension + 2 * below / 3)
    above = 180 - below
    eleventh = moment.ecliptic(moment.theta + above / 3)
    twelfth = moment.ecliptic(moment.theta + 2 * above / 3)
    return {"II": second, "III": third, "XI": eleventh, "XII": twelfth}


def degrees(text):
    whole, _, rest = text.partition("°")
    return float(whole) + float(rest.strip("′") or 0) / 60


def answers(question, moment, instrument):
    operation = question["request"]["operation"]
    if operation == "cast":
        ring = instrument == "date-ring instrument"
        found = {
            "local-time": moment.mean_h() if ring else moment.apparent_h(),
            "sun-degree": moment.sun,
            "ascendant": moment.ascendant(moment.theta),
            "midheaven": moment.ecliptic(moment.theta),
        }
        return found | cusps(moment)
    if operation == "sun-degree":
        return {"sun-degree": moment.sun}
    if operation == "meridian-altitude":
        return {"meridian-altitude": 90 - moment.latitude + moment.declination}
    if operation == "hour-by-sun":
        altitude = degrees(question["request"]["seen"]["altitude"])
        arc = moment.semi_arc(moment.declination, altitude)
        if question["request"]["side"] == "east":
            arc = -arc
        theta = arc + moment.right_ascension
        return {
            "hour": (arc + 180) % 360 / 15,
            "ascendant": moment.ascendant(theta),
            "midheaven": moment.ecliptic(theta),
        }
    if operation == "day-and-night":
        arc = moment.semi_arc(moment.declination)
        return {
            "sunrise": (180 - arc) / 15,
            "sunset": (180 + arc) / 15,
            "day-arc": 2 * arc,
            "night-arc": 360 - 2 * arc,
        }
    d, phi = np.radians([moment.declination, moment.latitude])
    azimuth = np.degrees(np.arccos(np.sin(d) / np.cos(phi)))
    return {"azimuth": azimuth, "setting-azimuth": 360 - azimuth}


def written(asked, value):
    if asked["measure"] == "time-of-day":
        minutes = round(value * 60) % 1440
        return f"{minutes // 60}:{minutes % 60:02}"
    return f"{round(value * 60) / 60:.6f}"


def off(asked, value):
    """How far the brass lies from ERFA, in degrees."""
    wanted = value
    if asked["measure"] == "time-of-day":
        # Of a cast the hour is counted from midnight, of an operation from noon.
        wanted = value * 15 - (0 if asked["name"] == "local-time" else 180)
    return abs((asked["reads_deg"] - wanted + 180) % 360 - 180)


def whereabouts(request, cache):
    moment = request["moment"]
    key = (moment["at"], moment["zone"])
    if key not in cache:
        more = ["--zone", moment["zone"]] if moment["zone"] else []
        told = json.loads(almuri("cast", moment["when"], f"--at={moment['at']}", "--json", *more))
        place = told["place"]
        zone = moment["zone"] or told["moment"]["zone"]
        cache[key] = place["longitude_deg"], place["latitude_deg"], zone
    return cache[key]


def sheet(number, chance, folder):
    instrument = chance.choice(list(INSTRUMENTS))
    plate = chance.choice(INSTRUMENTS[instrument])
    away = chance.uniform(0, 5) * chance.choice([-1, 1])
    # Only as far as it is from the nearest of them.
    latitude = plate + away
    nearest = min(abs(latitude - other) for other in INSTRUMENTS[instrument])
    text = f"""version = 1
name = "An invented class"
place = "{latitude:.4f},{chance.uniform(-8, 20):.4f}"
zone = "Europe/Madrid"
year = {chance.randint(2017, 2030)}
seed = {chance.randrange(1 << 40)}
questions = {len(OPERATIONS)}
level = {chance.randint(1, 3)}
operations = {json.dumps(OPERATIONS)}
[[pupils]]
name = "Someone"
with = "{instrument}"
"""
    path = folder / f"class-{number}.toml"
    path.write_text(text)
    out = folder / f"sheet-{number}"
    almuri("exercises", str(path), "-o", str(out))
    return instrument, nearest, json.loads((out / "exercises.json").read_text()), out


def main():
    chance = random.Random(1391)
    cache = {}
    rows = collections.defaultdict(lambda: [0, 0, 0, 0.0, 0.0])
    asked_of, wrong, bands = 0, [], collections.Counter()
    with tempfile.TemporaryDirectory() as folder:
        for number in range(SHEETS):
            instrument, nearest, exercises, out = sheet(number, chance, pathlib.Path(folder))
            bands[int(nearest)] += 1
            for question in exercises["pupils"][0]["questions"]:
                request = question["request"]
                longitude, latitude, zone = whereabouts(request, cache)
                local = datetime.datetime.fromisoformat(request["moment"]["when"])
                local = local.replace(tzinfo=zoneinfo.ZoneInfo(zone))
                utc = local.astimezone(datetime.UTC).replace(tzinfo=None)
                found = answers(question, Moment(utc, longitude, latitude), instrument)
                read = []
                for asked in question["asks"]:
                    value = found[asked["name"]]
                    read += ["--read", f"{asked['name']}={written(asked, value)}"]
                marked = json.loads(
                    almuri(
                        *("correct", "--exercises", str(out / "exercises.json")),
                        *("--pupil", "Someone", "--question", str(question["number"])),
                        *("--json", *read),
                    )
                )
                # Where nothing better could be drawn the sheet says what is off, and by how much.
                said = " ".join(question["given"])
                by_what = dict(zip(sorted(a["name"] for a in question["asks"]), marked["readings"]))
                for asked in question["asks"]:
                    reading = by_what[asked["name"]]
                    assert abs(reading["within_deg"] - asked["accept_deg"]) < 1e-9, (asked, reading)
                    row = rows[request["operation"], asked["name"]]
                    if f"Of the {reading['what']} this instrument is" in said:
                        row[1] += 1
                        continue
                    row[0] += 1
                    if reading["mark"] == "right":
                        row[2] += 1
                    else:
                        wrong.append((instrument, question["text"], question["given"], reading))
                    away = off(asked, found[asked["name"]])
                    row[3] = max(row[3], away)
                    row[4] = max(row[4], away / asked["accept_deg"])
                asked_of += 1
    print(__doc__.split("\n\n")[0].replace("Sixty", "# Sixty", 1).rstrip("."))
    print(f"""
    cargo build --release -p almuri
    python reference/exercises_erfa.py target/release/almuri > reference/exercises_erfa.md

{SHEETS} sheets with {asked_of} questions. The place of a class is less than 1° from the nearest
plate on {bands[0]}, less than 2° on {bands[1]}, 3° on {bands[2]}, 4° on {bands[3]}, 5° on {bands[4]} of them. The answers
are ERFA's {erfa.__version__}; “off” is the most by which the brass lies from them, and the same as a
part of the question's tolerance, which is the same on the key and where it is marked.
“Said to be off” are answers of which the sheet itself says how far this instrument is off:
the pocket instrument's calendar scale is divided for another time, so that no moment could
be drawn at which it is not.

| question | asked | answers | marked right | off | of the tolerance | said to be off |
|---|---|---|---|---|---|---|""")
    for (operation, name), (count, said, right, most, part) in rows.items():
        print(
            f"| {operation} | {name} | {count} | {right} | {most:.2f}° | {part:.2f} | {said} |"
        )
    for one in wrong:
        print("not right:", one, file=sys.stderr)
    raise SystemExit(1 if wrong else 0)


main()
