#!/usr/bin/env python3
"""Check values for the time zones of crates/moment, by another compiler.

    python3 reference/zones.py tzdata_2026c.orig.tar.gz

The tarball is the upstream source of Debian's package tzdata 2026c-1
(`apt-get source --download-only tzdata=2026c-1`). It is compiled by `zic`
(Debian's libc-bin 2.36-9+deb12u14) with the whole history (PACKRATDATA=backzone,
PACKRATLIST empty): once in the database's main form, whose offsets and
abbreviations are taken, once in rearguard form, whose summer-time flag is
taken. Needs awk, zic and Python 3.11; nothing from the network.

Writes reference/zones.tsv: for every zone the number of its changes before
2038 and a digest (FNV-1a, 64 bits) of these lines:

    for every change: seconds of UT since 1970, offset, 1 in summer time or 0, abbreviation
    for the first of every month from 1850-01 to 2037-12, 0 h UT: the same

A change that changes none of the three is none.
"""

import calendar
import hashlib
import pathlib
import struct
import subprocess
import sys
import tarfile
import tempfile

SHA256 = "e4a178a4477f3d0ea77cc31828ff72aa38feff8d61aa13e7e99e142e9d902be4"
FILES = (
    "africa antarctica asia australasia europe northamerica southamerica"
    " etcetera factory backward backzone"
).split()
END = calendar.timegm((2038, 1, 1, 0, 0, 0))
MONTHS = [
    calendar.timegm((year, month, 1, 0, 0, 0))
    for year in range(1850, 2038)
    for month in range(1, 13)
]


def compile_zones(release, form, out):
    text = subprocess.run(
        ["awk", "-v", f"DATAFORM={form}", "-v", "PACKRATDATA=backzone",
         "-v", "PACKRATLIST=", "-f", "ziguard.awk", *FILES],
        cwd=release, check=True, capture_output=True,
    ).stdout
    # zic links files; -b fat lists every change to 2037.
    subprocess.run(["zic", "-b", "fat", "-d", out, "-"], input=text, check=True)
    return {
        str(path.relative_to(out)): read_tzif(path.read_bytes())
        for path in sorted(pathlib.Path(out).rglob("*"))
        if path.is_file()
    }


def read_tzif(data):
    """The first kind, and the changes as (ut, kind); RFC 8536, second block."""
    def header(at):
        assert data[at:at + 4] == b"TZif"
        return struct.unpack(">6l", data[at + 20:at + 44])

    isut, isstd, leap, times, types, chars = header(0)
    second = 44 + times * 5 + types * 6 + chars + leap * 8 + isstd + isut
    isut, isstd, leap, times, types, chars = header(second)
    at = second + 44
    moments = struct.unpack(f">{times}q", data[at:at + 8 * times])
    at += 8 * times
    indices = data[at:at + times]
    at += times
    raw = [struct.unpack(">lBB", data[at + 6 * i:at + 6 * i + 6]) for i in range(types)]
    names = data[at + 6 * types:at + 6 * types + chars]
    kinds = [
        (offset, summer, names[start:names.index(b"\0", start)].decode())
        for offset, summer, start in raw
    ]
    first = kinds[0]
    changes = []
    for moment, index in zip(moments, indices):
        kind = kinds[index]
        if moment < -(1 << 40):  # zic's "big bang"
            first = kind
        elif moment < END:
            changes.append((moment, kind))
    return first, changes


def effective(first, changes):
    kept = []
    for moment, kind in changes:
        if kind != (kept[-1][1] if kept else first):
            kept.append((moment, kind))
    return kept


def digest(first, changes):
    lines = [f"{moment} {o} {s} {n}\n" for moment, (o, s, n) in changes]
    position, kind = 0, first
    for month in MONTHS:
        while position < len(changes) and changes[position][0] <= month:
            kind = changes[position][1]
            position += 1
        lines.append("{} {} {}\n".format(*kind))
    value = 0xCBF29CE484222325
    for byte in "".join(lines).encode():
        value = (value ^ byte) * 0x100000001B3 % (1 << 64)
    return value


def main():
    tarball = pathlib.Path(sys.argv[1])
    assert hashlib.sha256(tarball.read_bytes()).hexdigest() == SHA256, "another release"
    with tempfile.TemporaryDirectory() as temporary:
        release = pathlib.Path(temporary, "release")
        with tarfile.open(tarball) as archive:
            archive.extractall(release)
        main_form = compile_zones(release, "main", f"{temporary}/main")
        rearguard = compile_zones(release, "rearguard", f"{temporary}/rearguard")
    assert main_form.keys() == rearguard.keys()
    rows = []
    for name in sorted(main_form):
        moments = sorted({m for _, changes in (main_form[name], rearguard[name]) for m, _ in changes})

        def at(zone, moment):
            first, changes = zone
            return [first, *(kind for m, kind in changes if m <= moment)][-1]

        def joined(moment):
            offset, _, abbreviation = at(main_form[name], moment)
            same, summer, _ = at(rearguard[name], moment)
            assert offset == same, (name, moment)
            return offset, summer, abbreviation

        first = joined(-(1 << 50))
        changes = effective(first, [(moment, joined(moment)) for moment in moments])
        rows.append(f"{name}\t{len(changes)}\t{digest(first, changes):016x}\n")
    table = pathlib.Path(__file__).with_suffix(".tsv")
    table.write_text("# tzdata 2026c, by reference/zones.py\n" + "".join(rows))
    print(f"{len(rows)} zones")


main()
