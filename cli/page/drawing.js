// SPDX-License-Identifier: MIT
// @ts-check
/// The top from below, to scale: turned over about its length, so that the front edge lies at the top.
import {h} from "./patch.js";
import {depthOf, extentOf, isInside, middleOf} from "./model.js";
import {handlesOf, placeText} from "./handles.js";
import {plainLength} from "./units.js";

/**
 * @typedef {import("./model.js").Model} Model
 * @typedef {import("./model.js").Part} Part
 * @typedef {import("./model.js").Point} Point
 * @typedef {import("./model.js").Shape} Shape
 * @typedef {import("./patch.js").Spec} Spec
 * @typedef {{scale: number, x: number, y: number, width: number, height: number}} View
 * @typedef {{at: Point, label: string, over: boolean}} Mark
 * @typedef {{selected: string|null, units: import("./units.js").Units, map: boolean, marks: Mark[], place: Point|null,
 *   wrong: Set<string>, drawn: Shape|null, hands: {part: (part: Part) => import("./patch.js").Attributes,
 *   handle: (part: Part, handle: import("./handles.js").Handle) => import("./patch.js").Attributes}}} Shown
 */

const LEFT = 46,
  TOP = 26,
  RIGHT = 18,
  BOTTOM = 48;

/** @param {Model} model @param {number} width of the paper, in pixels @param {number} tallest @returns {View} */
export function viewOf(model, width, tallest) {
  const e = extentOf(model.parts[0].shape);
  const across = Math.max(1, e.x1 - Math.min(0, e.x0)),
    up = Math.max(1, e.y1 - Math.min(0, e.y0));
  const scale = Math.min((width - LEFT - RIGHT) / across, (tallest - TOP - BOTTOM) / up);
  const used = across * scale + LEFT + RIGHT;
  return {
    scale,
    x: LEFT + (width - used) / 2 - Math.min(0, e.x0) * scale,
    y: TOP - Math.min(0, e.y0) * scale,
    width,
    height: up * scale + TOP + BOTTOM,
  };
}

const r1 = (/** @type {number} */ v) => Math.round(v * 10) / 10;

/** @param {Shape} shape @param {View} v @returns {string} as the d of a path */
export function pathOf(shape, v) {
  const X = (/** @type {number} */ x) => r1(v.x + v.scale * x),
    Y = (/** @type {number} */ y) => r1(v.y + v.scale * y);
  if (shape.type === "polygon") return `M${shape.points.map((p) => `${X(p[0])} ${Y(p[1])}`).join("L")}Z`;
  if (shape.type === "rect") {
    const r = r1(Math.max(0, Math.min(shape.r, (shape.x1 - shape.x0) / 2, (shape.y1 - shape.y0) / 2)) * v.scale);
    const [a, b, c, d] = [X(shape.x0), Y(shape.y0), X(shape.x1), Y(shape.y1)];
    if (r < 0.5) return `M${a} ${b}H${c}V${d}H${a}Z`;
    return (
      `M${r1(a + r)} ${b}H${r1(c - r)}A${r} ${r} 0 0 1 ${c} ${r1(b + r)}V${r1(d - r)}` +
      `A${r} ${r} 0 0 1 ${r1(c - r)} ${d}` +
      `H${r1(a + r)}A${r} ${r} 0 0 1 ${a} ${r1(d - r)}V${r1(b + r)}A${r} ${r} 0 0 1 ${r1(a + r)} ${b}Z`
    );
  }
  if (shape.type === "ellipse") {
    const rx = r1(((shape.x1 - shape.x0) / 2) * v.scale),
      ry = r1(((shape.y1 - shape.y0) / 2) * v.scale);
    const y = Y((shape.y0 + shape.y1) / 2);
    return `M${X(shape.x0)} ${y}A${rx} ${ry} 0 1 1 ${X(shape.x1)} ${y}A${rx} ${ry} 0 1 1 ${X(shape.x0)} ${y}Z`;
  }
  if (shape.type === "line") {
    const dx = shape.b[0] - shape.a[0],
      dy = shape.b[1] - shape.a[1],
      l = Math.hypot(dx, dy) || 1;
    const w = Math.max(shape.width / 2, 1.2 / v.scale),
      nx = (-dy / l) * w,
      ny = (dx / l) * w;
    const [a, b] = [shape.a, shape.b];
    return (
      `M${X(a[0] + nx)} ${Y(a[1] + ny)}L${X(b[0] + nx)} ${Y(b[1] + ny)}L${X(b[0] - nx)} ${Y(b[1] - ny)}` +
      `L${X(a[0] - nx)} ${Y(a[1] - ny)}Z`
    );
  }
  return "";
}

/**
 * A chain of dimensions.
 * @param {number[]} stops in mm @param {"x"|"y"} axis @param {number} row @param {Shown} shown @param {View} v
 * @param {Model} model @returns {Spec[]}
 */
function chain(stops, axis, row, shown, v, model) {
  /** @type {Spec[]} */ const specs = [];
  const e = extentOf(model.parts[0].shape);
  const base = axis === "x" ? v.y + v.scale * e.y1 + 16 + 17 * row : v.x + v.scale * Math.min(0, e.x0) - 12 - 17 * row;
  const P = (/** @type {number} */ s) => (axis === "x" ? v.x + v.scale * s : v.y + v.scale * s);
  const tick = (/** @type {number} */ s) =>
    axis === "x" ? `M${r1(P(s) - 3)} ${r1(base + 3)}l6 -6` : `M${r1(base - 3)} ${r1(P(s) + 3)}l6 -6`;
  const first = P(stops[0]),
    last = P(stops[stops.length - 1]);
  specs.push(
    h("path", {
      class: "dim",
      d: axis === "x" ? `M${r1(first)} ${r1(base)}H${r1(last)}` : `M${r1(base)} ${r1(first)}V${r1(last)}`,
    }),
  );
  specs.push(h("path", {class: "tick", d: stops.map(tick).join("")}));
  for (let i = 0; i + 1 < stops.length; i++) {
    const text = plainLength(stops[i + 1] - stops[i], shown.units),
      mid = (P(stops[i]) + P(stops[i + 1])) / 2;
    if (Math.abs(P(stops[i + 1]) - P(stops[i])) < text.length * 6.6) continue;
    specs.push(
      axis === "x"
        ? h("text", {class: "figure", x: r1(mid), y: r1(base - 3), "text-anchor": "middle"}, text)
        : h(
            "text",
            {
              class: "figure",
              x: r1(base - 3),
              y: r1(mid),
              "text-anchor": "middle",
              transform: `rotate(-90 ${r1(base - 3)} ${r1(mid)})`,
            },
            text,
          ),
    );
  }
  return specs;
}

/**
 * Where the grips of a part stand, far enough apart for a finger.
 * @param {Part} part @param {import("./handles.js").Handle} handle @param {View} v @returns {Point} in pixels
 */
export function gripAt(part, handle, v) {
  const m = middleOf(part.shape),
    apart = 30;
  const cx = v.x + v.scale * m[0],
    cy = v.y + v.scale * m[1];
  let x = v.x + v.scale * handle.at[0],
    y = v.y + v.scale * handle.at[1];
  if (part.kind === "top" || handle.key === "move") return [r1(x), r1(y)];
  const d = Math.hypot(x - cx, y - cy);
  if (d < apart) {
    const ux = d > 0.5 ? (x - cx) / d : handle.key === "from" ? -1 : 1,
      uy = d > 0.5 ? (y - cy) / d : 0;
    x = cx + ux * apart;
    y = cy + uy * apart;
  }
  return [r1(Math.min(Math.max(x, 13), v.width - 13)), r1(Math.min(Math.max(y, 13), v.height - 13))];
}

/** @param {Model} model @param {Part} part @param {View} v @param {Shown} shown @returns {Spec[]} */
function gripsOf(model, part, v, shown) {
  return handlesOf(model, part).map((handle) => {
    const [x, y] = gripAt(part, handle, v),
      text = placeText(handle, shown.units),
      half = 4.2 * text.length;
    const slides = handle.axes !== "xy";
    const value = handle.axes === "y" ? handle.at[1] : handle.at[0];
    const grip =
      handle.key === "move"
        ? h("path", {class: "grip", d: `M${x} ${y - 9}L${x + 9} ${y}L${x} ${y + 9}L${x - 9} ${y}Z`})
        : slides
          ? h("rect", {
              class: "grip",
              x: x - (handle.axes === "x" ? 5 : 10),
              y: y - (handle.axes === "x" ? 10 : 5),
              width: handle.axes === "x" ? 10 : 20,
              height: handle.axes === "x" ? 20 : 10,
              rx: 3,
            })
          : h("circle", {class: "grip", cx: x, cy: y, r: 7.5});
    return h(
      `g#grip:${part.id}:${handle.key}`,
      {
        class: "handle",
        tabindex: 0,
        role: slides ? "slider" : "button",
        "aria-label": slides ? handle.label : `${handle.label}: at ${text}`,
        "data-handle": handle.key,
        "aria-orientation": slides ? (handle.axes === "x" ? "horizontal" : "vertical") : null,
        "aria-valuenow": slides ? Math.round(value * 100) / 100 : null,
        "aria-valuetext": slides ? text : null,
        "aria-valuemin": slides ? Math.min(handle.low ?? 0, value) : null,
        "aria-valuemax": slides ? Math.max(handle.high ?? 10000, value) : null,
        ...shown.hands.handle(part, handle),
      },
      h("circle", {class: "reach", cx: x, cy: y, r: 14}),
      grip,
      h(
        "text",
        {
          class: "figure value",
          x: Math.min(Math.max(x, half), v.width - half),
          y: y > 40 ? y - 16 : y + 27,
          "text-anchor": "middle",
        },
        text,
      ),
    );
  });
}

/** @param {Model} model @param {Part} part @param {View} v @param {Shown} shown @returns {Spec} */
function partSpec(model, part, v, shown) {
  const chosen = shown.selected === part.id,
    words = part.kind === "top" ? "the top itself" : `${part.kind} ${part.name}`;
  const e = extentOf(part.shape);
  const size =
    part.shape.type === "none"
      ? ""
      : `, ${plainLength(e.x1 - e.x0, shown.units)} by ${plainLength(e.y1 - e.y0, shown.units)} ${shown.units}`;
  const d = pathOf(part.shape, v);
  const small = part.shape.type === "line" || (e.x1 - e.x0) * v.scale < 24 || (e.y1 - e.y0) * v.scale < 24;
  return h(
    `g#part:${part.id}`,
    {
      "data-part": part.id,
      class: `part ${part.kind}${chosen ? " chosen" : ""}${shown.wrong.has(part.id) ? " wrong" : ""}`,
      tabindex: 0,
      role: "button",
      "aria-pressed": chosen ? "true" : "false",
      "aria-label": words + size,
      ...shown.hands.part(part),
    },
    small && h("path", {class: "reach", d, "stroke-width": 22}),
    h("path", {class: "shape", d}),
    ...(part.screws ?? [])
      .slice(0, 400)
      .map((s) => h("circle", {class: "screw", cx: r1(v.x + v.scale * s[0]), cy: r1(v.y + v.scale * s[1]), r: 2})),
  );
}

/**
 * Where a label crosses nothing that lies in a recess.
 * @param {Model} model @param {{y0: number, y1: number}} b of the recess @param {number} x of its middle
 * @param {number} half of its length @param {number} tall
 */
function textHeight(model, b, x, half, tall) {
  const others = model.parts.filter((p) => !["top", "recess"].includes(p.kind)).map((p) => extentOf(p.shape));
  const free = [0.3, 0.22, 0.7, 0.78, 0.4, 0.6, 0.15, 0.85].find((share) => {
    const y = b.y0 + (b.y1 - b.y0) * share;
    return !others.some((o) => o.x1 > x - half && o.x0 < x + half && o.y1 > y - tall && o.y0 < y + tall);
  });
  return b.y0 + (b.y1 - b.y0) * (free ?? 0.3);
}

/** @param {Model} model @param {View} v @param {Shown} shown @returns {Spec[]} */
function lettering(model, v, shown) {
  /** @type {Spec[]} */ const specs = [];
  const e = extentOf(model.parts[0].shape),
    X = (/** @type {number} */ x) => r1(v.x + v.scale * x),
    Y = (/** @type {number} */ y) => r1(v.y + v.scale * y);
  specs.push(h("text", {class: "figure soft", x: X(e.x0), y: Y(e.y0) - 8}, "front edge"));
  for (const part of model.parts) {
    if (part.kind !== "recess" || part.shape.type === "none") continue;
    const depth = depthOf(model, part.raw);
    if (depth === null) continue;
    const b = extentOf(part.shape),
      m = middleOf(part.shape),
      room = (b.x1 - b.x0) * v.scale;
    const left = model.thickness - depth;
    const long =
      `${plainLength(depth, shown.units)} deep, ` +
      (left > 0 ? `leaves ${plainLength(left, shown.units)}` : "leaves nothing");
    const text = room > long.length * 7 ? long : room > 60 ? `${plainLength(depth, shown.units)} deep` : "";
    const y = textHeight(model, b, m[0], (text.length * 3.6) / v.scale, 12 / v.scale);
    if (text && (b.y1 - b.y0) * v.scale > 30)
      specs.push(h("text", {class: "figure bold", x: X(m[0]), y: r1(Y(y) + 4), "text-anchor": "middle"}, text));
  }
  const grain = parseFloat(String(model.raw?.top?.grain)) || 0;
  const low = e.y1 - (e.y1 - e.y0) * 0.06,
    along = [0.5, 0.25, 0.75].find((f) => isInside(model.parts[0].shape, [e.x0 + (e.x1 - e.x0) * f, low])) ?? 0.5;
  const gx = X(e.x0 + (e.x1 - e.x0) * along),
    gy = r1(grain === 0 ? Y(e.y1) - Math.min(10, (Y(e.y1) - Y(e.y0)) * 0.06) : Y(e.y0 + (e.y1 - e.y0) * 0.62));
  if (model.raw?.top?.wood) {
    specs.push(
      h("path", {
        class: "grain",
        d: `M${gx - 46} ${gy}h24M${gx + 22} ${gy}h24m-5 -3l5 3l-5 3M${gx - 41} ${gy - 3}l-5 3l5 3`,
        transform: `rotate(${grain} ${gx} ${gy})`,
      }),
    );
    specs.push(h("text", {class: "figure soft", x: gx, y: gy + 4, "text-anchor": "middle"}, "grain"));
  }
  return specs;
}

/** @typedef {{x0: number, x1: number, y0: number, y1: number}} Lettered */

/**
 * How much of the drawing a word takes, about.
 * @param {string} words @param {number} x @param {number} y @param {boolean} [centred] @returns {Lettered}
 */
function lettered(words, x, y, centred = false) {
  const wide = 7.4 * words.length,
    from = centred ? x - wide / 2 : x;
  return {x0: from, x1: from + wide, y0: y - 11, y1: y + 3};
}

/**
 * Where the words of each mark stand: beside it, upon nothing that is lettered already.
 * @param {Mark[]} marks @param {Spec[]} others what is lettered @param {View} v @returns {[number, number][]}
 */
function placesOfMarks(marks, others, v) {
  const taken = others
    .filter((s) => s.tag === "text")
    .map((s) =>
      lettered(
        String(s.children[0] ?? ""),
        Number(s.attributes.x),
        Number(s.attributes.y),
        s.attributes["text-anchor"] === "middle",
      ),
    );
  return marks.map((m) => {
    const x = Math.min(r1(v.x + v.scale * m.at[0]) + 9, v.width - 8 * m.label.length),
      y = r1(v.y + v.scale * m.at[1]);
    const isFree = (/** @type {number} */ at) => {
      const own = lettered(m.label, x, at);
      return at > 12 && !taken.some((o) => o.x0 < own.x1 && o.x1 > own.x0 && o.y0 < own.y1 && o.y1 > own.y0);
    };
    const at = [-6, 18, -22, 34, -38, 50].map((by) => y + by).find(isFree) ?? (y > 40 ? y - 6 : y + 18);
    taken.push(lettered(m.label, x, at));
    return [x, at];
  });
}

/** @param {Spec|null|false} s @returns {s is Spec} */
const isSpec = (s) => s !== null && s !== false;

/**
 * @param {Model} model @param {View} v @param {Shown} shown
 * @returns {Spec[]} what is in the svg
 */
export function drawing(model, v, shown) {
  const chosen = model.parts.find((p) => p.id === shown.selected);
  const e = extentOf(model.parts[0].shape);
  const X = (/** @type {number} */ x) => r1(v.x + v.scale * x),
    Y = (/** @type {number} */ y) => r1(v.y + v.scale * y);
  const measured = chosen && chosen.kind !== "top" ? chosen : model.parts.find((p) => p.kind === "recess");
  const inside = measured && measured.shape.type !== "none" ? extentOf(measured.shape) : null;
  const stops = (/** @type {number[]} */ all) => all.filter((s, i) => i === 0 || s - all[i - 1] > 0.01);
  const letters = lettering(model, v, shown),
    places = placesOfMarks(shown.marks, letters, v);
  return [
    h(
      "g#parts",
      {},
      ...model.parts.map((p) => (p.shape.type === "none" ? null : partSpec(model, p, v, shown))).filter(isSpec),
    ),
    h("g#lettering", {class: "lettering"}, ...letters),
    h(
      "g#dimensions",
      {class: "dimensions"},
      ...chain([e.x0, e.x1], "x", inside ? 1 : 0, shown, v, model),
      ...chain([e.y0, e.y1], "y", inside ? 1 : 0, shown, v, model),
      ...(inside ? chain(stops([e.x0, inside.x0, inside.x1, e.x1]), "x", 0, shown, v, model) : []),
      ...(inside ? chain(stops([e.y0, inside.y0, inside.y1, e.y1]), "y", 0, shown, v, model) : []),
    ),
    h(
      "g#marks",
      {class: "marks"},
      ...shown.marks.map((m, i) =>
        h(
          `g#${i}`,
          {class: m.over ? "mark over" : "mark"},
          h("circle", {cx: X(m.at[0]), cy: Y(m.at[1]), r: 5}),
          h(
            "text",
            {class: "figure", x: places[i][0], y: places[i][1]},
            m.label,
          ),
        ),
      ),
    ),
    shown.place &&
      h("path#place", {
        class: "place",
        d: `M${X(shown.place[0]) - 9} ${Y(shown.place[1])}h18M${X(shown.place[0])} ${Y(shown.place[1]) - 9}v18`,
      }),
    shown.drawn && h("path#drawn", {class: "drawn", d: pathOf(shown.drawn, v)}),
    h("g#handles", {}, ...(chosen ? gripsOf(model, chosen, v, shown) : [])),
  ].filter(isSpec);
}
