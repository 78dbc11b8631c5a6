"""Reads calendar files of `almuri` with an independent parser, and holds every event
against the program's own JSON.

    .venv/bin/pip install icalendar==7.3.2
    .venv/bin/python icalendar_read.py ../target/debug/almuri > icalendar_read.md
    .venv/bin/python icalendar_read.py ../target/debug/almuri --events > icalendar_year.txt

With `--events` it says what it read in one year's file, event by event, for the project's
own tests.
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


# Years at invented owners' public places: with alarms and without, one where the Sun does
# not set, one that changes its clocks at another time of the year, one long past.
YEARS = [
    ("Lisbon, Portugal", 2027, "lunation,ingress,moon-ingress,station,appearance,eclipse,clock", ["Venus", "Jupiter"], 30),
    ("Melbourne, Victoria, Australia", 2026, "lunation,ingress,station,eclipse,clock", ["Moon"], None),
    ("Tromsø, Norway", 2030, "appearance,eclipse,clock", ["Sun"], 5),
    ("51.5,-0.1", 1752, "lunation,eclipse", [], None),
]


def year(place, number, kinds, hours_of, alarm, folder):
    file = pathlib.Path(folder) / "year.ics"
    line = [ALMURI, "year", str(number), "--no-settings", "--at", place, "--with", "class instrument"]
    if place[0].isdigit():
        line += ["--zone", "Europe/London"]
    if place.startswith("Melbourne"):
        line[-1] = "southern instrument"
    line += ["--kinds", kinds]
    if hours_of:
        line += ["--hours-of", ",".join(hours_of)]
    if alarm is not None:
        line += ["--alarm", str(alarm)]
    line += ["-o", file, "--overwrite", "--json"]
    answer = json.loads(subprocess.run(line, check=True, capture_output=True, text=True).stdout)
    return answer, file.read_bytes()


def years():
    print("\n## Years\n")
    print("| place | year | events | of these hours of planets | as in the JSON | lines over 75 octets | identities | errors |")
    print("|---|---|--:|--:|--:|--:|--:|--:|")
    for row in YEARS:
        with tempfile.TemporaryDirectory() as folder:
            answer, data = year(*row, folder)
            again, same = year(*row, folder)
        assert data == same, "made again, the file differs"
        place, number, kinds, hours_of, alarm = row
        calendar = icalendar.Calendar.from_ical(data)
        events = calendar.walk("VEVENT")
        wanted = [(of_jd(e["jd_ut"]), None, e["what"], e["kind"]) for e in answer["events"] if e["kind"] in kinds.split(",")]
        wanted += [(of_jd(h["from_jd_ut"]), of_jd(h["until_jd_ut"]), f"hour of {h['planet']}", "planetary hour") for h in answer["hours"]]
        read = []
        for event in events:
            ends = event["DTEND"].dt if "DTEND" in event else None
            read.append((event["DTSTART"].dt, ends, str(event["SUMMARY"]), event["CATEGORIES"].to_ical().decode()))
            assert str(event["LOCATION"]) == answer["place"]["name"]
            alarms = event.walk("VALARM")
            assert [a["TRIGGER"].dt for a in alarms] == ([] if alarm is None else [datetime.timedelta(minutes=-alarm)])
        key = lambda one: (one[0], one[2])
        agree = sum(a == b for a, b in zip(sorted(read, key=key), sorted(wanted, key=key)))
        assert [one[0] for one in read] == sorted(one[0] for one in read), "not in order of time"
        long = sum(len(line) > 75 for line in data.split(b"\r\n"))
        errors = sum(len(part.errors) for part in [calendar, *events])
        uids = {str(e["UID"]) for e in events}
        assert agree == len(wanted) == len(events) == len(uids) and not long and not errors, (agree, len(wanted), len(events), len(uids), long, errors)
        print(f"| {place} | {number} | {len(events)} | {len(answer['hours'])} | {agree} | {long} | {len(uids)} | {errors} |")


def events():
    """What is read in a year's calendar for Lisbon."""
    with tempfile.TemporaryDirectory() as folder:
        _, data = year("Lisbon, Portugal", 2027, YEARS[0][2], [], 30, folder)
    print("# What icalendar read in the calendar of 2027 for Lisbon, all kinds of events:")
    print("# python icalendar_read.py almuri --events")
    print("# begins_utc category notice_min summary")
    for event in icalendar.Calendar.from_ical(data).walk("VEVENT"):
        (alarm,) = event.walk("VALARM")
        notice = -alarm["TRIGGER"].dt // datetime.timedelta(minutes=1)
        category = event["CATEGORIES"].to_ical().decode()
        print(f"{event['DTSTART'].dt:%Y-%m-%dT%H:%M:%S} {category} {notice} {event['SUMMARY']}")


def main():
    print("# Calendar files read by an independent parser\n")
    print(f"icalendar {icalendar.__version__}. Every event's beginning, end, alarm, place and identity.\n")
    print("## Times that are sought\n")
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
    years()


if __name__ == "__main__":
    events() if "--events" in sys.argv else main()
