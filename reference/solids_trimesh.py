"""Solids of `almuri make`, looked at by a mesh checker that shares nothing with the project.

    cargo build --release --bin almuri
    .venv/bin/pip install -r requirements-solids.txt
    .venv/bin/python solids_trimesh.py ../target/release/almuri [count] > solids_trimesh.md

Random instruments (seeded), 40 to 400 mm, both hemispheres, with all families of lines, are
made as 3MF and STL, with plain surfaces, sunk and raised lines. trimesh reads each file
(corners of one place are one corner) and says whether it is watertight and consistently
wound. Volumes: of a plain part against the area of its metal by true arcs (manifest) times
its thickness (specification); of a part with lines against that less the area of the lines
at half their depth, found by cutting the mesh there, times their depth.
"""

import json
import random
import subprocess
import sys
import tempfile
from pathlib import Path

import trimesh


def specification(rng, number):
    south = rng.random() < 0.4
    diameter = [40, 400][number] if number < 2 else round(rng.uniform(40, 300), 1)
    latitudes = [round(rng.uniform(0, 75), 2) * (-1 if south else 1) for _ in range(rng.choice([1, 2, 3]))]
    thin = 0.5 if diameter < 80 else 1.0
    return diameter, south, f"""version = 1
name = "solid {number}"
diameter_mm = {diameter}
hemisphere = "{'south' if south else 'north'}"
orientation = "{rng.choice(['noon-up', 'midnight-up'])}"
epoch_year = {rng.choice([1391, 2000, 2025])}
plates_deg = {latitudes}
date_from = "{rng.choice(['zodiac', 'equal-day-ring', 'true-sun-ring'])}"
unequal_hour_lines = "{rng.choice(['arcs', 'curves'])}"
house_lines = "{rng.choice(['none', 'regiomontanus', 'campanus'])}"
[parts]
letters = "{rng.choice(['serif', 'single-stroke'])}"
rule = "{rng.choice(['plain', 'declinations'])}"
calendar_scale = "{rng.choice(['concentric', 'eccentric'])}"
sine_quadrant = {rng.choice(['true', 'false'])}
[fits]
mater_thickness_mm = {2 * thin}
plate_thickness_mm = {thin}
rete_thickness_mm = {thin}
rule_thickness_mm = {thin}
"""


def made(almuri, text, *more):
    with tempfile.TemporaryDirectory() as folder:
        folder = Path(folder)
        (folder / "piece.toml").write_text(text)
        subprocess.run([almuri, "make", "--with", folder / "piece.toml", "-o", folder / "set",
                        "--formats", "3mf,stl", *more], check=True, capture_output=True)
        manifest = json.loads((folder / "set" / "manifest.json").read_text())
        meshes = {}
        for solid in manifest["solids"]:
            for file in solid["files"]:
                mesh = trimesh.load(folder / "set" / file, force="mesh", process=True)
                meshes[solid["name"], file.rsplit(".", 1)[1]] = mesh
        return manifest, meshes


def section(mesh, height):
    cut = mesh.section(plane_origin=[0, 0, height], plane_normal=[0, 0, 1])
    if cut is None:
        return 0.0  # No line of this part reaches there.
    flat, _ = cut.to_2D()
    return flat.area


def main():
    almuri = sys.argv[1]
    count = int(sys.argv[2]) if len(sys.argv) > 2 else 10
    rng = random.Random(21)
    ways = [("plain", ["--engrave-depth", "0"]), ("sunk 0.15", ["--engrave-depth", "0.15"]),
            ("raised 0.3, lines 0.4", ["--raised", "0.3", "--line-width", "0.4"])]
    print("# Solids, looked at by trimesh", trimesh.__version__, "\n")
    print("Made by `solids_trimesh.py`. Volumes as parts of a thousand off what they should be.\n")
    print("| instrument | lines | solids | triangles | watertight | wound alike | 3MF in mm | STL and 3MF alike | worst volume, ‰ |")
    print("|---|---|---|---|---|---|---|---|---|")
    wrong = 0
    for number in range(count):
        diameter, south, text = specification(rng, number)
        areas = {}
        for way, more in ways:
            manifest, meshes = made(almuri, text, *more)
            tight = wound = unit = alike = True
            triangles, worst = 0, 0.0
            thin = 0.5 if diameter < 80 else 1.0
            for solid in manifest["solids"]:
                name = solid["name"]
                three, stl = meshes[name, "3mf"], meshes[name, "stl"]
                for mesh in (three, stl):
                    tight &= mesh.is_watertight
                    wound &= mesh.is_winding_consistent and mesh.volume > 0
                unit &= three.units == "millimeter"
                alike &= len(three.faces) == len(stl.faces) and abs(three.volume - stl.volume) < 1e-3
                triangles += len(stl.faces)
                sides = [p for p in manifest["pieces"] if p["sheet"] == name]
                if not sides or name in ("spacer", "packing", "wedge"):
                    continue
                plain = sides[0]["area_mm2"] * thin
                if way == "plain":
                    worst = max(worst, abs(stl.volume / plain - 1) * 1000)
                    areas[name] = section(stl, thin / 2)
                    continue
                depth = solid["relief_mm"]
                out = way.startswith("raised")
                top = section(stl, thin + depth / 2 if out else thin - depth / 2)
                lines = top if out else areas[name] - top
                if len(sides) > 1:
                    under = section(stl, -depth / 2 if out else depth / 2)
                    lines += under if out else areas[name] - under
                wanted = plain + (depth if out else -depth) * lines
                worst = max(worst, abs(stl.volume / wanted - 1) * 1000)
            wrong += not (tight and wound and unit and alike and worst < 1)
            yes = lambda so: "yes" if so else "**no**"
            print(f"| {diameter} mm, {'south' if south else 'north'} | {way} | {len(manifest['solids'])} | {triangles} "
                  f"| {yes(tight)} | {yes(wound)} | {yes(unit)} | {yes(alike)} | {worst:.2f} |", flush=True)
    print(f"\n{'All as they should be.' if not wrong else f'{wrong} rows are wrong.'}")
    return wrong


if __name__ == "__main__":
    sys.exit(main() > 0)
