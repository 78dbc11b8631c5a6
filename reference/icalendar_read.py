"""Reads calendar files of `almuri` with an independent parser, and holds every event
against the program's own JSON.

    .venv/bin/pip install icalendar==7.3.2
    .venv/bin/python icalendar_read.py ../target/debug/almuri > icalendar_read.md
"""

import datetime
import json
import pathlib
import subprocess
import sys
import tempfile

import icalendar

ALMURI = pathlib.Path(sys.argv[1]).resolve()
UTC = datetime.timezone.utc

# Invented wishes at public places: names that want escaping, a southern place, an
# eastern one, a Julian date, commas and semicolons and long lines.
ASKED = [
    ("Lisbon, Portugal", "2027-01-01", "2027-12-31", ["hour of Venus", "Moon waxing"], ["Jupiter culminating", "Moon applying to Jupiter"], []),
    ("Sydney, Australia", "2027-01-01", "2027-06-30", ["Moon not void of course", "clock from 9:00 to 18:00"], [], []),
    ("Reykjavík, Iceland", "2026-03-01", "2026-03-31", ["ascendant in Leo"], ["Venus free of the Sun's beams"], []),
    ("Kathmandu, Nepal", "2027-02-01", "2027-02-28", ["day of Jupiter", "Moon in aspect with Saturn"], ["by day"], []),
    ("51.5,-0.1", "1646-01-01", "1646-01-31", ["Moon separating from Saturn"], [], ["--calendar", "julian", "--clock", "mean"]),
]


def asked(place, begins, ends, must, rather, more, folder):
    file = pathlib.Path(folder) / "times.ics"
    line = [ALMURI, "choose", "--no-settings", "--at", place, "--from", begins, "--to", ends]
    for wish in must:
        line += ["--must", wish]
    for wish in rather:
        line += ["--rather", wish]
    line += [*more, "-o", file, "--overwrite", "--alarm", "45", "--json"]
    answer = json.loads(subprocess.run(line, check=True, capture_output=True, text=True).stdout)
    return answer, file.read_bytes()


def of_jd(jd_ut):
    seconds = round((jd_ut - 2440587.5) * 86400)
    return datetime.datetime(1970, 1, 1, tzinfo=UTC) + datetime.timedelta(seconds=seconds)


def main():
    print("# Calendar files read by an independent parser\n")
    print(f"icalendar {icalendar.__version__}. Every event's beginning, end, alarm, place and identity.\n")
    print("| place | from | events | same beginnings and ends | lines over 75 octets | identities | errors |")
    print("|---|---|--:|--:|--:|--:|--:|")
    for row in ASKED:
        with tempfile.TemporaryDirectory() as folder:
            answer, data = asked(*row, folder)
            again, same = asked(*row, folder)
        assert data == same, "made again, the file differs"
        calendar = icalendar.Calendar.from_ical(data)
        events = calendar.walk("VEVENT")
        times = sorted((of_jd(t["from_jd_ut"]), of_jd(t["until_jd_ut"])) for t in answer["times"])
        read = [(e["DTSTART"].dt, e["DTEND"].dt) for e in events]
        assert all(str(e["LOCATION"]) == answer["place"]["name"] for e in events)
        for event in events:
            (alarm,) = event.walk("VALARM")
            assert alarm["TRIGGER"].dt == datetime.timedelta(minutes=-45)
        long = sum(len(line) > 75 for line in data.split(b"\r\n"))
        errors = sum(len(part.errors) for part in [calendar, *events])
        uids = {str(e["UID"]) for e in events}
        agree = sum(a == b for a, b in zip(sorted(read), times))
        assert agree == len(times) == len(events) == len(uids) and not long and not errors
        print(f"| {row[0]} | {row[1]} | {len(events)} | {agree} | {long} | {len(uids)} | {errors} |")


if __name__ == "__main__":
    main()
