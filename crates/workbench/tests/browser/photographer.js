// The instrument that stands on the page, photographed: its drawn parts at their depths before
// a camera that leans and bends, rays followed backwards. None of the page's own code is asked.

// Colours of brass, where the page has its paper's.
const BRASS = `
  .metal { stroke: #3a2b10; paint-order: stroke; } .metal-mater { fill: #c8a35a; } .metal-plate { fill: #dcc07f; }
  .metal-rete { fill: #b98a3c; } .metal-rule { fill: #a87b30; } .metal-dark { fill: #5a431a; } .metal-sky { fill: #d2b571; }
  .metal-ground { fill: #e3cb92; } .metal-zodiac { fill: #c99f4f; }
  .line { fill: none; stroke: #2c1f08; } .letter { fill: #2c1f08; text-anchor: middle; font-family: serif; }`;

// The same as it is printed, ink on paper.
const PRINT = `
  .metal { fill: #f7f4ec; stroke: #111; paint-order: stroke; } .metal-dark { fill: #ddd; }
  .line { fill: none; stroke: #111; } .letter { fill: #111; text-anchor: middle; font-family: serif; }`;

const TEXTURE = 2400;

/** So near other metal nobody marks a line, in millimetres. */
const CLEAR_MM = 1.5;

/** Numbers that look like chance, the same in every run. */
function chanceOf(seed) {
  let state = seed;
  const part = () => { state = (state * 16807) % 2147483647; return state / 2147483647; };
  return { part, gauss: () => Math.sqrt(-2 * Math.log(part() + 1e-12)) * Math.cos(2 * Math.PI * part()) };
}

/** What of the page's instrument is drawn, and where. */
function drawing() {
  const layer = (part) => document.querySelector(`.layer[data-part="${part}"]`);
  const half = -layer("mater").viewBox.baseVal.x;
  const line = (part, name) => layer(part).querySelector(`[data-line="${name}"]`);
  const equator = line("plate", "equator").r.baseVal.value;
  const capricorn = line("plate", "tropic of Capricorn").r.baseVal.value;
  const limb = Math.min(...[...layer("mater").querySelectorAll("circle.line")].map((one) => one.r.baseVal.value));
  // tan((90° + ε) / 2), of the projection from the pole (Ptolemy, Planisphaerium).
  const obliquity = 2 * Math.atan(capricorn / equator) - Math.PI / 2;
  // As it is drawn, noon up, hours with the clock: by its hour angle.
  const polar = (radius, turn) => [radius * Math.sin(turn), -radius * Math.cos(turn)];
  const ecliptic = (deg) => {
    const [s, c] = [Math.sin((deg * Math.PI) / 180), Math.cos((deg * Math.PI) / 180)];
    const ascension = Math.atan2(Math.cos(obliquity) * s, c);
    const declination = Math.asin(Math.sin(obliquity) * s);
    return polar(equator * Math.tan((Math.PI / 2 - declination) / 2), -ascension);
  };
  return { layer, half, line, limb, polar, ecliptic, equator };
}

/** A part's picture at rest, its pixels with their alpha. */
async function texture(part, half, style, dots) {
  const group = document.querySelector(`.layer[data-part="${part}"] g`).cloneNode(true);
  for (const worn of group.querySelectorAll(".worn")) worn.remove();
  const text = new XMLSerializer().serializeToString(group);
  const image = new Image();
  image.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(
    `<svg xmlns="http://www.w3.org/2000/svg" width="${TEXTURE}" height="${TEXTURE}" viewBox="${-half} ${-half} ${2 * half} ${2 * half}"><style>${style}</style>${text}</svg>`)}`;
  await image.decode();
  const sheet = new OffscreenCanvas(TEXTURE, TEXTURE);
  const paint = sheet.getContext("2d", { willReadFrequently: true });
  paint.drawImage(image, 0, 0);
  const times = TEXTURE / (2 * half);
  const kept = dots.filter(([x, y]) => paint.getImageData((x + half) * times, (y + half) * times, 1, 1).data[3] === 255);
  paint.fillStyle = "#e00000";
  for (const [x, y] of kept) {
    paint.beginPath();
    paint.arc((x + half) * times, (y + half) * times, 0.6 * times, 0, 2 * Math.PI);
    paint.fill();
  }
  return { data: paint.getImageData(0, 0, TEXTURE, TEXTURE).data, kept };
}

/**
 * A photograph with what is marked in it, `[right, down, what, part, along its line]`, and the
 * parts' red dots.
 * Parts may lie beside their places, by `off`, in millimetres as they are drawn.
 */
async function photographed({ size, lean, towards, turn, bend, rete, rule, depths, off, parts, style, dots, noise, scanned, seed }) {
  const chance = chanceOf(seed);
  const { layer, half, line, limb, polar, ecliptic, equator } = drawing();
  const rad = (deg) => (deg * Math.PI) / 180;
  const turned = ([x, y], by) => [x * Math.cos(by) - y * Math.sin(by), x * Math.sin(by) + y * Math.cos(by)];
  const standing = { mater: 0, plate: 0, rete: rad(rete), rule: rad(rule) };
  // Leaning about an axis in the plane, and turned about the line of sight.
  const [ax, ay] = [Math.cos(rad(towards)), Math.sin(rad(towards))];
  const [s, c] = [Math.sin(rad(lean)), Math.cos(rad(lean))];
  const leaning = [
    [c + ax * ax * (1 - c), ax * ay * (1 - c), ay * s],
    [ax * ay * (1 - c), c + ay * ay * (1 - c), -ax * s],
    [-ay * s, ax * s, c],
  ];
  const [ts, tc] = [Math.sin(rad(turn)), Math.cos(rad(turn))];
  const rows = leaning.map(([x, y, z]) => [x * tc + y * ts, -x * ts + y * tc, z]);
  const focal = 1.35 * size;
  const before = [0, 0, (focal * 2 * half) / (0.9 * size)];
  const middle = (size - 1) / 2;
  const sees = (part, at) => {
    const [aside, beneath] = off?.[part] ?? [0, 0];
    const [x, y] = turned([at[0] + aside, at[1] + beneath], standing[part]);
    const [right, down, away] = rows.map((row, index) => row[0] * x + row[1] * y + row[2] * depths[part] + before[index]);
    const [u, v] = [right / away, down / away];
    const px = focal * (1 + bend * (u * u + v * v));
    return [middle + px * u, middle + px * v];
  };
  const inside = ([x, y]) => x > 4 && y > 4 && x < size - 5 && y < size - 5;

  const named = ["Aries", "Taurus", "Gemini", "Cancer", "Leo", "Virgo", "Libra", "Scorpio", "Sagittarius", "Capricorn", "Aquarius", "Pisces"];
  const along = (name, places) => {
    const drawn = line("plate", name);
    const whole = drawn.getTotalLength();
    const at = (part) => { const { x, y } = drawn.getPointAtLength(part * whole); return [x, y]; };
    return places.map((part) => [name, "plate", at(part), at(part + 0.001)]);
  };
  const tropics = [["tropic of Capricorn", 6], ["equator", 5], ["tropic of Cancer", 4]].flatMap(([name, count]) =>
    Array.from({ length: count }, (_, index) => {
      const at = (by) => polar(line("plate", name).r.baseVal.value, rad(17 + by + (360 * index) / count));
      return [name, "plate", at(0), at(0.3)];
    }));
  const stars = (drawn) => [...drawn.querySelectorAll('.line[data-line^="star pointer "]')].map((one) => {
    const whole = one.getTotalLength();
    const { x, y } = one.localName === "circle"
      ? { x: one.cx.baseVal.value, y: one.cy.baseVal.value }
      : one.getPointAtLength(whole);
    return [one.dataset.line.replace("star pointer", "star"), "rete", [x, y]];
  });
  const all = [
    ...Array.from({ length: 12 }, (_, index) => [`limb ${30 * index}`, "mater", polar(limb, rad(30 * index))]),
    ...Array.from({ length: 6 }, (_, index) => ["edge of the hole", "plate", polar(2.5, rad(60 * index + 10)).map((one, axis) => one - (off?.plate?.[axis] ?? 0))]),
    ...tropics,
    ...[-0.7, -0.3, 0.5, 0.9].map((part) => ["meridian", "plate", [0, part * equator], [0, part * equator + 0.3]]),
    ...along("horizon", [0.12, 0.3, 0.7, 0.88]),
    ...["20°", "30°", "40°", "50°", "60°"].flatMap((altitude) => along(`almucantar ${altitude}`, [0.2, 0.55, 0.85])),
    ...Array.from({ length: 12 }, (_, index) => [`ecliptic 0° ${named[index]}`, "rete", ecliptic(30 * index)]),
    ...stars(layer("rete")).filter((_, index) => index % 3 === 0),
    ["rule", "rule", [0, -limb]],
  ].filter(([, part]) => parts.includes(part));
  const textures = {};
  for (const part of parts) textures[part] = await texture(part, half, style, dots?.[part] ?? []);
  const order = ["rule", "rete", "plate", "mater"].filter((part) => parts.includes(part));
  const times = TEXTURE / (2 * half);
  const eye = [0, 1, 2].map((axis) => -rows.reduce((sum, row, index) => sum + row[axis] * before[index], 0));
  // What lies under other metal, or close beside it, is not seen to be marked; the limb lies free.
  const isSeen = (part, [x, y]) => part === "mater" || order.slice(0, order.indexOf(part)).every((above) => {
    let [u, v] = [(x - middle) / focal, (y - middle) / focal];
    const bent = 1 + bend * (u * u + v * v);
    [u, v] = [u / bent, v / bent];
    const ray = [0, 1, 2].map((axis) => rows[0][axis] * u + rows[1][axis] * v + rows[2][axis]);
    const way = (depths[above] - eye[2]) / ray[2];
    const [right, down] = turned([eye[0] + way * ray[0], eye[1] + way * ray[1]], -standing[above]);
    return Array.from({ length: 9 }, (_, index) => polar(index === 0 ? 0 : CLEAR_MM, rad(45 * index))).every(([byX, byY]) => {
      const [column, row] = [Math.round((right + byX + half) * times), Math.round((down + byY + half) * times)];
      return (textures[above].data[4 * (row * TEXTURE + column) + 3] ?? 0) === 0;
    });
  });
  const marks = all.map(([of, part, at, beside]) => {
    const [x, y] = sees(part, at);
    const along = beside ? sees(part, beside).map((one, axis) => one - [x, y][axis]) : null;
    return [x + noise * chance.gauss(), y + noise * chance.gauss(), of, part, along];
  }).filter((mark) => inside(mark) && isSeen(mark[3], mark));

  const sheet = new OffscreenCanvas(size, size);
  const paint = sheet.getContext("2d", { willReadFrequently: true });
  const picture = paint.createImageData(size, size);
  const spins = order.map((part) => [Math.cos(standing[part]), Math.sin(standing[part]), ...(off?.[part] ?? [0, 0])]);
  // Paper has a grain of its own, coarse and fine, and light falls from one side.
  const coarse = Array.from({ length: 129 * 129 }, () => chance.gauss());
  const slant = 2 * Math.PI * chance.part();
  for (let row = 0; row < size; row += 1) {
    for (let column = 0; column < size; column += 1) {
      const [bx, by] = [(column - middle) / focal, (row - middle) / focal];
      let [u, v] = [bx, by];
      for (let round = 0; round < 5; round += 1) {
        const bent = 1 + bend * (u * u + v * v);
        [u, v] = [bx / bent, by / bent];
      }
      const ray = [0, 1, 2].map((axis) => rows[0][axis] * u + rows[1][axis] * v + rows[2][axis]);
      let [r, g, b, left] = [0, 0, 0, 1];
      for (let index = 0; index < order.length && left > 0.01; index += 1) {
        const part = order[index];
        const way = (depths[part] - eye[2]) / ray[2];
        const [x, y] = [eye[0] + way * ray[0], eye[1] + way * ray[1]];
        const [cos, sin, aside, beneath] = spins[index];
        const [px, py] = [(x * cos + y * sin - aside + half) * times - 0.5, (y * cos - x * sin - beneath + half) * times - 0.5];
        const [at, below] = [Math.floor(px), Math.floor(py)];
        if (at < 0 || below < 0 || at > TEXTURE - 2 || below > TEXTURE - 2) continue;
        const { data } = textures[part];
        const [fx, fy] = [px - at, py - below];
        let opaque = 0;
        for (let corner = 0; corner < 4; corner += 1) {
          const cell = 4 * ((below + (corner >> 1)) * TEXTURE + at + (corner & 1));
          const share = (corner & 1 ? fx : 1 - fx) * (corner >> 1 ? fy : 1 - fy) * (data[cell + 3] / 255);
          opaque += share;
          r += share * left * data[cell];
          g += share * left * data[cell + 1];
          b += share * left * data[cell + 2];
        }
        left *= 1 - opaque;
      }
      const ground = scanned ? [244, 240, 230] : [122, 112, 100];
      const put = 4 * (row * size + column);
      let light = 1;
      let grain = 0;
      if (scanned) {
        const [gx, gy] = [(128 * column) / size, (128 * row) / size];
        const [ix, iy] = [Math.floor(gx), Math.floor(gy)];
        const [wx, wy] = [gx - ix, gy - iy];
        const cloud = (coarse[129 * iy + ix] * (1 - wx) + coarse[129 * iy + ix + 1] * wx) * (1 - wy)
          + (coarse[129 * (iy + 1) + ix] * (1 - wx) + coarse[129 * (iy + 1) + ix + 1] * wx) * wy;
        light = 0.82 + 0.2 * ((column / size - 0.5) * Math.cos(slant) + (row / size - 0.5) * Math.sin(slant));
        grain = 5 * cloud + 5 * chance.gauss();
      }
      picture.data[put] = (r + left * ground[0]) * light + grain;
      picture.data[put + 1] = (g + left * ground[1]) * light + grain;
      picture.data[put + 2] = (b + left * ground[2]) * light + grain;
      picture.data[put + 3] = 255;
    }
  }
  paint.putImageData(picture, 0, 0);
  if (scanned) {
    paint.filter = "blur(1.1px)";
    paint.drawImage(sheet, 0, 0);
  }
  const blob = await sheet.convertToBlob({ type: "image/jpeg", quality: scanned ? 0.75 : 0.92 });
  const bytes = new Uint8Array(await blob.arrayBuffer());
  let text = "";
  for (let at = 0; at < bytes.length; at += 32768) text += String.fromCharCode(...bytes.subarray(at, at + 32768));
  return { jpeg: btoa(text), marks, dots: Object.fromEntries(parts.map((part) => [part, textures[part].kept])) };
}

/**
 * Where red dots lie in a picture, near where each should: `[off right, off down]`, in pixels;
 * nothing of a dot of which less than a part is seen.
 */
function redNear({ data, width, height }, places, reach, least) {
  const found = places.map(([x, y]) => {
    let [sx, sy, sum] = [0, 0, 0];
    for (let row = Math.floor(y - reach); row <= y + reach; row += 1) {
      for (let column = Math.floor(x - reach); column <= x + reach; column += 1) {
        if (row < 0 || column < 0 || row >= height || column >= width) continue;
        const at = 4 * (row * width + column);
        const red = data[at + 3] === 0 ? 0 : data[at] - Math.max(data[at + 1], data[at + 2]) - 60;
        if (red <= 0) continue;
        [sx, sy, sum] = [sx + red * column, sy + red * row, sum + red];
      }
    }
    return { off: [sx / sum - x, sy / sum - y], sum };
  });
  const whole = found.map(({ sum }) => sum).sort((one, other) => one - other)[Math.floor(0.9 * found.length)];
  return found.map(({ off, sum }) => (sum > least * whole ? off : null));
}
