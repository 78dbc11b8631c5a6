// astronomy-engine: truncated VSOP87 and Brown's Moon; light time, aberration, nutation.

import { readFileSync, writeFileSync } from "node:fs";
import * as A from "astronomy-engine";

const [moments, answers, runs] = process.argv.slice(2);
const jd = readFileSync(moments, "utf8").trim().split("\n").map(Number);
const planets = ["Mercury", "Venus", "Mars", "Jupiter", "Saturn", "Uranus", "Neptune"];

function longitudes(jd) {
  const time = A.AstroTime.FromTerrestrialTime(jd - 2451545);
  const toEcliptic = A.Rotation_EQJ_ECT(time);
  const found = [A.SunPosition(time).elon, A.EclipticGeoMoon(time).lon];
  for (const planet of planets) {
    const seen = A.RotateVector(toEcliptic, A.GeoVector(planet, time, true));
    found.push(A.SphereFromVector(seen).lon);
  }
  return found;
}

let found;
for (let run = 0; run < Number(runs); run++) {
  const begin = performance.now();
  found = jd.map(longitudes);
  console.log((performance.now() - begin) / 1000);
}
writeFileSync(answers, found.map((row) => row.map((x) => x.toFixed(9)).join(",") + "\n").join(""));
