// SPDX-License-Identifier: MIT
// @ts-check
/// What of a piece can be drawn, in millimetres: x along the length, y along the width, from the front left corner.
import {lengthOf} from "./units.js";

/**
 * @typedef {import("./units.js").Units} Units
 * @typedef {import("./piece.js").Path} Path
 * @typedef {[number, number]} Point
 * @typedef {{type: "rect", x0: number, y0: number, x1: number, y1: number, r: number}
 *   | {type: "ellipse", x0: number, y0: number, x1: number, y1: number}
 *   | {type: "polygon", points: Point[]}
 *   | {type: "line", a: Point, b: Point, width: number}
 *   | {type: "none"}} Shape
 * @typedef {"top"|"recess"|"land"|"stiffener"|"support"|"load"} PartKind
 * @typedef {{id: string, kind: PartKind, path: Path, name: string, shape: Shape, raw: any, screws?: Point[],
 *   note?: string}} Part
 * @typedef {{units: Units, length: number, width: number, thickness: number, parts: Part[], raw: any}} Model
 */

export const KIND_WORDS = {
  top: "top",
  recess: "recess",
  land: "land",
  stiffener: "stiffener",
  support: "support",
  load: "load",
};

/** @param {any} raw @param {Path} path */
export function at(raw, path) {
  return path.reduce((v, step) => (v === null || v === undefined ? undefined : v[step]), raw);
}

/** @param {Point[]} points */
function boundsOf(points) {
  const xs = points.map((p) => p[0]),
    ys = points.map((p) => p[1]);
  return {x0: Math.min(...xs), y0: Math.min(...ys), x1: Math.max(...xs), y1: Math.max(...ys)};
}

/** @param {Shape} shape */
export function extentOf(shape) {
  if (shape.type === "polygon") return boundsOf(shape.points);
  if (shape.type === "line") return boundsOf([shape.a, shape.b]);
  if (shape.type === "none") return {x0: 0, y0: 0, x1: 0, y1: 0};
  return {x0: shape.x0, y0: shape.y0, x1: shape.x1, y1: shape.y1};
}

/** @param {Shape} shape @returns {Point} */
export function middleOf(shape) {
  if (shape.type === "polygon" && shape.points.length > 0) {
    const n = shape.points.length;
    return [shape.points.reduce((s, p) => s + p[0], 0) / n, shape.points.reduce((s, p) => s + p[1], 0) / n];
  }
  const e = extentOf(shape);
  return [(e.x0 + e.x1) / 2, (e.y0 + e.y1) / 2];
}

/**
 * Corners moved inwards, each edge by as much.
 * @param {Point[]} points @param {number} by @returns {Point[]}
 */
function inset(points, by) {
  const n = points.length;
  const turn =
    points.reduce((s, p, i) => s + p[0] * points[(i + 1) % n][1] - points[(i + 1) % n][0] * p[1], 0) < 0 ? -1 : 1;
  /** @param {Point} a @param {Point} b @returns {[number, number, number]} nx, ny, distance of the edge moved */
  const edge = (a, b) => {
    const l = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
    const nx = (-turn * (b[1] - a[1])) / l,
      ny = (turn * (b[0] - a[0])) / l;
    return [nx, ny, nx * a[0] + ny * a[1] + by];
  };
  return points.map((p, i) => {
    const [ax, ay, ad] = edge(points[(i + n - 1) % n], p),
      [bx, by2, bd] = edge(p, points[(i + 1) % n]);
    const det = ax * by2 - ay * bx;
    if (Math.abs(det) < 1e-9) return [p[0] + ax * by, p[1] + ay * by];
    return [(ad * by2 - ay * bd) / det, (ax * bd - ad * bx) / det];
  });
}

/** @param {Shape} outline @param {number} rim @param {number} r @returns {Shape} */
function insideRim(outline, rim, r) {
  if (outline.type === "rect") {
    return {type: "rect", x0: outline.x0 + rim, y0: outline.y0 + rim, x1: outline.x1 - rim, y1: outline.y1 - rim, r};
  }
  if (outline.type === "polygon") return {type: "polygon", points: inset(outline.points, rim)};
  if (outline.type !== "ellipse") return {type: "none"};
  const e = outline,
    cx = (e.x0 + e.x1) / 2,
    cy = (e.y0 + e.y1) / 2,
    a = (e.x1 - e.x0) / 2,
    b = (e.y1 - e.y0) / 2;
  /** @type {Point[]} */ const points = [];
  for (let k = 0; k < 96; k++) {
    const t = (2 * Math.PI * k) / 96,
      c = Math.cos(t),
      s = Math.sin(t),
      n = Math.hypot(c / a, s / b);
    points.push([cx + a * c - (rim * c) / a / n, cy + b * s - (rim * s) / b / n]);
  }
  return {type: "polygon", points};
}

/** Where screws sit on a stiffener, as the solver sets them.
 * @param {any} raw @param {Point} a @param {Point} b @param {(v: unknown) => number|null} len @returns {Point[]} */
function screwsOf(raw, a, b, len) {
  const screws = raw?.screws,
    total = Math.hypot(b[0] - a[0], b[1] - a[1]);
  if (!screws || total <= 0) return [];
  /** @type {number[]} */ let along = [];
  if (Array.isArray(screws.at)) along = screws.at.map((/** @type {unknown} */ v) => len(v) ?? NaN);
  else {
    const spacing = len(screws.spacing);
    if (!spacing || spacing <= 0 || total / spacing > 1000) return [];
    let gaps = Math.floor(total / spacing + 1e-9);
    if (gaps > 0 && (total - gaps * spacing) / 2 < Math.min(15, spacing / 4)) gaps--;
    along = Array.from({length: gaps + 1}, (_, i) => (total - gaps * spacing) / 2 + i * spacing);
  }
  return along
    .filter((d) => d >= 0 && d <= total)
    .map((d) => [a[0] + ((b[0] - a[0]) * d) / total, a[1] + ((b[1] - a[1]) * d) / total]);
}

/**
 * How wide a section lies against the wood, mm.
 * @param {unknown} section
 */
export function widthOfSection(section) {
  const m = /^\s*([a-z]+)\s+([\d.]+)x([\d.]+)/i.exec(String(section ?? ""));
  if (!m) return 20;
  const first = Number(m[2]),
    second = Number(m[3]);
  const kind = m[1].toLowerCase();
  return kind === "angle" || kind === "channel" ? (kind === "channel" ? first : second) : first;
}

/**
 * @param {any} raw the piece as read
 * @returns {Model}
 */
export function modelOf(raw) {
  /** @type {Units} */ const units = raw?.units === "in" ? "in" : "mm";
  const len = (/** @type {unknown} */ v) => lengthOf(v, units);
  const point = (/** @type {any} */ v) => {
    const x = len(v?.[0]),
      y = len(v?.[1]);
    return x === null || y === null ? null : /** @type {Point} */ ([x, y]);
  };
  const points = (/** @type {any} */ list) => {
    const all = Array.isArray(list) ? list.map(point) : [];
    return all.length >= 3 && all.every(Boolean) ? /** @type {Point[]} */ (all) : null;
  };
  /** @param {any} part @returns {Shape} */
  const cut = (part) => {
    const polygon = points(part?.polygon);
    if (polygon) return {type: "polygon", points: polygon};
    const x = point(part?.x),
      y = point(part?.y);
    if (!x || !y) return {type: "none"};
    return {type: "rect", x0: x[0], x1: x[1], y0: y[0], y1: y[1], r: len(part.corner_radius) ?? 0};
  };
  const top = raw?.top ?? {};
  const drawn = points(top.outline?.points);
  const box = drawn ? boundsOf(drawn) : {x0: 0, y0: 0, x1: len(top.length) ?? 0, y1: len(top.width) ?? 0};
  /** @type {Shape} */ const outline = drawn
    ? {type: "polygon", points: drawn}
    : top.outline?.shape === "ellipse"
      ? {type: "ellipse", ...box}
      : {type: "rect", ...box, r: len(top.outline?.corner_radius) ?? 0};
  /** @type {Part[]} */ const parts = [{id: "top", kind: "top", path: ["top"], name: "top", shape: outline, raw: top}];
  const list = (/** @type {string} */ key) => (Array.isArray(raw?.[key]) ? raw[key] : []);
  const named = (/** @type {any} */ part, /** @type {string} */ word, /** @type {number} */ i) =>
    typeof part?.name === "string" && part.name ? part.name : `${word} ${i + 1}`;

  list("recesses").forEach((/** @type {any} */ recess, /** @type {number} */ i) => {
    const rim = len(recess?.rim);
    const shape = rim !== null ? insideRim(outline, rim, len(recess.corner_radius) ?? 0) : cut(recess);
    parts.push({
      id: `recesses.${i}`,
      kind: "recess",
      path: ["recesses", i],
      name: named(recess, "recess", i),
      shape,
      raw: recess,
    });
    (Array.isArray(recess?.lands) ? recess.lands : []).forEach((/** @type {any} */ land, /** @type {number} */ k) =>
      parts.push({
        id: `recesses.${i}.lands.${k}`,
        kind: "land",
        path: ["recesses", i, "lands", k],
        name: named(land, "land", k),
        shape: cut(land),
        raw: land,
      }),
    );
  });
  list("supports").forEach((/** @type {any} */ s, /** @type {number} */ i) => {
    /** @type {Shape} */ let shape = {type: "none"};
    const a = point(s?.from),
      b = point(s?.to),
      c = point(s?.at),
      size = point(s?.size);
    if (c && size)
      shape = {
        type: "rect",
        x0: c[0] - size[0] / 2,
        x1: c[0] + size[0] / 2,
        y0: c[1] - size[1] / 2,
        y1: c[1] + size[1] / 2,
        r: 0,
      };
    else if (a && b)
      shape = {type: "line", a, b, width: len(s.width) ?? (s.kind === "rail" ? widthOfSection(s.section) : 0)};
    parts.push({
      id: `supports.${i}`,
      kind: "support",
      path: ["supports", i],
      name: named(s, s?.kind === "built_in" ? "built in" : String(s?.kind ?? "support"), i),
      shape,
      raw: s,
    });
  });
  list("stiffeners").forEach((/** @type {any} */ s, /** @type {number} */ i) => {
    const a = point(s?.from),
      b = point(s?.to);
    parts.push({
      id: `stiffeners.${i}`,
      kind: "stiffener",
      path: ["stiffeners", i],
      name: named(s, "stiffener", i),
      shape: a && b ? {type: "line", a, b, width: widthOfSection(s.section)} : {type: "none"},
      raw: s,
      screws: a && b ? screwsOf(s, a, b, len) : [],
    });
  });
  list("loads").forEach((/** @type {any} */ l, /** @type {number} */ i) => {
    /** @type {Shape} */ let shape = {type: "none"};
    const a = point(l?.from),
      b = point(l?.to),
      c = point(l?.at),
      size = point(l?.size);
    const ox = point(l?.over?.x),
      oy = point(l?.over?.y);
    if (l?.at === "worst") shape = {type: "none"};
    else if (c && size)
      shape = {
        type: "rect",
        x0: c[0] - size[0] / 2,
        x1: c[0] + size[0] / 2,
        y0: c[1] - size[1] / 2,
        y1: c[1] + size[1] / 2,
        r: 0,
      };
    else if (a && b) shape = {type: "line", a, b, width: 0};
    else if (ox && oy) shape = {type: "rect", x0: ox[0], x1: ox[1], y0: oy[0], y1: oy[1], r: 0};
    else if (c) shape = {type: "rect", x0: c[0] - 25, x1: c[0] + 25, y0: c[1] - 25, y1: c[1] + 25, r: 0};
    parts.push({
      id: `loads.${i}`,
      kind: "load",
      path: ["loads", i],
      name: named(l, "load", i),
      shape,
      raw: l,
      note: l?.at === "worst" ? "wherever it is worst" : l?.kind === "area" && !l?.over ? "all over" : undefined,
    });
  });
  return {units, length: box.x1, width: box.y1, thickness: len(top.thickness) ?? 0, parts, raw};
}

/**
 * Depth of a recess, mm.
 * @param {Model} model @param {any} recess
 */
export function depthOf(model, recess) {
  const depth = lengthOf(recess?.depth, model.units),
    skin = lengthOf(recess?.skin, model.units);
  return depth ?? (skin === null ? null : model.thickness - skin);
}

/** @param {Shape} shape @param {Point} p */
export function isInside(shape, [x, y]) {
  if (shape.type === "rect") return x > shape.x0 && x < shape.x1 && y > shape.y0 && y < shape.y1;
  if (shape.type === "ellipse") {
    const a = (shape.x1 - shape.x0) / 2,
      b = (shape.y1 - shape.y0) / 2;
    return ((x - shape.x0 - a) / a) ** 2 + ((y - shape.y0 - b) / b) ** 2 < 1;
  }
  if (shape.type !== "polygon") return false;
  let odd = false;
  shape.points.forEach((a, i) => {
    const b = shape.points[(i + 1) % shape.points.length];
    if (a[1] > y !== b[1] > y && x < a[0] + ((b[0] - a[0]) * (y - a[1])) / (b[1] - a[1])) odd = !odd;
  });
  return odd;
}
