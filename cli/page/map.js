// SPDX-License-Identifier: MIT
// @ts-check
/// The movement map: bands of equal movement painted under the drawing, and the numbers of a place, both read from
/// the fields that `check --fields` writes (VTK's open XML format).

/**
 * @typedef {{x: Float64Array, y: Float64Array, corners: Int32Array, values: Map<string, Float64Array>}} Fields
 */

/** @param {string} text of the numbers @param {number} most @returns {Float64Array} */
function numbers(text, most) {
  const all = new Float64Array(most);
  let n = 0;
  for (const word of text.split(/\s+/)) {
    if (word === "" || n === most) continue;
    all[n++] = Number(word);
  }
  return all.subarray(0, n);
}

/** @param {string} vtu @returns {Fields|null} null where it is no such file */
export function fieldsOf(vtu) {
  const sizes = /NumberOfPoints="(\d+)" NumberOfCells="(\d+)"/.exec(vtu);
  if (!sizes) return null;
  const points = Number(sizes[1]),
    cells = Number(sizes[2]);
  /** @type {Fields} */ const fields = {
    x: new Float64Array(points),
    y: new Float64Array(points),
    corners: new Int32Array(4 * cells),
    values: new Map(),
  };
  const array = /<DataArray ([^>]*)>([^<]*)<\/DataArray>/g;
  for (let m = array.exec(vtu); m; m = array.exec(vtu)) {
    const name = /Name="([^"]*)"/.exec(m[1])?.[1];
    if (name === undefined) {
      const all = numbers(m[2], 3 * points);
      for (let i = 0; i < points; i++) {
        fields.x[i] = all[3 * i];
        fields.y[i] = all[3 * i + 1];
      }
    } else if (name === "connectivity") fields.corners.set(numbers(m[2], 4 * cells));
    else if (name !== "offsets" && name !== "types") fields.values.set(unescaped(name), numbers(m[2], points));
  }
  return fields;
}

/** @param {string} text */
function unescaped(text) {
  return text.replace(
    /&(quot|apos|lt|gt|amp|#39|#34);/g,
    (_, k) =>
      ({quot: '"', apos: "'", lt: "<", gt: ">", amp: "&", "#39": "'", "#34": '"'})[/** @type {"quot"} */ (k)] ?? "",
  );
}

/**
 * Round steps of a scale from the least to the greatest value.
 * @param {number} low @param {number} high
 */
export function levelsOf(low, high) {
  const range = high - low;
  if (!(range > 1e-9)) return [low, low + 1e-9];
  const rough = range / 7,
    power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 2.5, 5, 10].map((f) => f * power).find((s) => s >= rough) ?? rough;
  const levels = [];
  for (let k = Math.floor(low / step + 1e-9); ; k++) {
    levels.push(k * step);
    if (k * step >= high - 1e-9 * range) break;
  }
  return levels;
}

/** The report's scale: lightness falls evenly, straw over green to a dark blue (CIE LCh turned into sRGB).
 * @param {number} share @returns {[number, number, number]} */
export function scaleColour(share) {
  const t = Math.min(Math.max(share, 0), 1),
    L = 95 - 70 * t;
  const chroma = Math.min(14 + 160 * t * (1 - t) * (1 - 0.35 * t) * 0.95, 28) * (1 - 0.25 * t * t);
  const hue = ((96 + 148 * t) * Math.PI) / 180,
    fy = (L + 16) / 116;
  const back = (/** @type {number} */ f) => (f > 6 / 29 ? f ** 3 : 3 * (6 / 29) ** 2 * (f - 4 / 29));
  const X = 0.95047 * back(fy + (chroma * Math.cos(hue)) / 500),
    Y = back(fy),
    Z = 1.08883 * back(fy - (chroma * Math.sin(hue)) / 200);
  const channel = (/** @type {number} */ c) => {
    const v = Math.min(Math.max(c, 0), 1);
    return Math.round(255 * (v <= 0.0031308 ? 12.92 * v : 1.055 * v ** (1 / 2.4) - 0.055));
  };
  return [
    channel(3.2404542 * X - 1.5371385 * Y - 0.4985314 * Z),
    channel(-0.969266 * X + 1.8760108 * Y + 0.041556 * Z),
    channel(0.0556434 * X - 0.2040259 * Y + 1.0572252 * Z),
  ];
}

/** @param {number[]} levels @param {number} band */
const colourOf = (levels, band) => scaleColour(levels.length > 2 ? band / (levels.length - 2) : 0);

/** @param {[number, number, number]} c */
export const cssOf = (c) => `rgb(${c[0]}, ${c[1]}, ${c[2]})`;

/** @param {number[]} levels @returns {{low: number, high: number, colour: [number, number, number]}[]} */
export function bandsOf(levels) {
  return levels.slice(0, -1).map((low, i) => ({low, high: levels[i + 1], colour: colourOf(levels, i)}));
}

/**
 * Calls for each pixel (or each place) of two triangles of every cell.
 * @param {Fields} f @param {(a: number, b: number, c: number) => void} each
 */
function triangles(f, each) {
  for (let i = 0; i < f.corners.length; i += 4) {
    const [a, b, c, d] = [f.corners[i], f.corners[i + 1], f.corners[i + 2], f.corners[i + 3]];
    each(a, b, c);
    each(a, c, d);
  }
}

/**
 * @param {HTMLCanvasElement} canvas @param {Fields} f @param {Float64Array} values @param {number[]} levels
 * @param {import("./drawing.js").View} v @param {number} finer pixels of the screen in one of the page
 */
export function paint(canvas, f, values, levels, v, finer) {
  const w = (canvas.width = Math.round(v.width * finer)),
    hgt = (canvas.height = Math.round(v.height * finer));
  const context = canvas.getContext("2d");
  if (!context) return;
  const image = context.createImageData(w, hgt),
    band = new Int8Array(w * hgt).fill(-1);
  const s = v.scale * finer,
    ox = v.x * finer,
    oy = v.y * finer,
    last = levels.length - 2;
  const step = levels[1] - levels[0],
    colours = levels.map((_, i) => colourOf(levels, Math.min(i, last)));
  triangles(f, (a, b, c) => {
    const ax = ox + s * f.x[a],
      ay = oy + s * f.y[a],
      bx = ox + s * f.x[b],
      by = oy + s * f.y[b],
      cx = ox + s * f.x[c],
      cy = oy + s * f.y[c];
    const det = (bx - ax) * (cy - ay) - (cx - ax) * (by - ay);
    if (Math.abs(det) < 1e-12) return;
    const x0 = Math.max(0, Math.floor(Math.min(ax, bx, cx) - 0.5)),
      x1 = Math.min(w - 1, Math.ceil(Math.max(ax, bx, cx)));
    const y0 = Math.max(0, Math.floor(Math.min(ay, by, cy) - 0.5)),
      y1 = Math.min(hgt - 1, Math.ceil(Math.max(ay, by, cy)));
    for (let y = y0; y <= y1; y++)
      for (let x = x0; x <= x1; x++) {
        const px = x + 0.5 - ax,
          py = y + 0.5 - ay;
        const u = (px * (cy - ay) - (cx - ax) * py) / det,
          t = ((bx - ax) * py - px * (by - ay)) / det;
        if (u < -1e-3 || t < -1e-3 || u + t > 1.001) continue;
        const value = values[a] + u * (values[b] - values[a]) + t * (values[c] - values[a]);
        band[y * w + x] = Math.min(Math.max(Math.floor((value - levels[0]) / step + 1e-9), 0), last);
      }
  });
  for (let y = 0, k = 0; y < hgt; y++)
    for (let x = 0; x < w; x++, k++) {
      if (band[k] < 0) continue;
      // a line where a band ends
      const edge =
        (x + 1 < w && band[k + 1] >= 0 && band[k + 1] !== band[k]) ||
        (y + 1 < hgt && band[k + w] >= 0 && band[k + w] !== band[k]);
      const c = colours[band[k]],
        dim = edge ? 0.72 : 1;
      image.data.set([c[0] * dim, c[1] * dim, c[2] * dim, 255], 4 * k);
    }
  context.putImageData(image, 0, 0);
}

/**
 * The fields at a place.
 * @param {Fields} f @param {number} x in mm @param {number} y
 * @returns {Map<string, number>|null} null beside the top
 */
export function valuesAt(f, x, y) {
  /** @type {Map<string, number>|null} */ let found = null;
  triangles(f, (a, b, c) => {
    if (found) return;
    const det = (f.x[b] - f.x[a]) * (f.y[c] - f.y[a]) - (f.x[c] - f.x[a]) * (f.y[b] - f.y[a]);
    if (Math.abs(det) < 1e-12) return;
    const px = x - f.x[a],
      py = y - f.y[a];
    const u = (px * (f.y[c] - f.y[a]) - (f.x[c] - f.x[a]) * py) / det,
      t = ((f.x[b] - f.x[a]) * py - px * (f.y[b] - f.y[a])) / det;
    if (u < -0.02 || t < -0.02 || u + t > 1.02) return;
    found = new Map();
    for (const [name, values] of f.values)
      found.set(name, values[a] + u * (values[b] - values[a]) + t * (values[c] - values[a]));
  });
  return found;
}

/**
 * The situations that have a movement.
 * @param {Fields} f @returns {string[]}
 */
export function situationsOf(f) {
  return [...f.values.keys()].filter((n) => n.startsWith("movement_mm, ")).map((n) => n.slice("movement_mm, ".length));
}
