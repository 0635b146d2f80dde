// SPDX-License-Identifier: MIT
// @ts-check
/// The numbers of each part, as fields; and what may be drawn anew.
import {at, isInside} from "./model.js";
import {INCH, lengthOf, snapped, writtenLength} from "./units.js";

/**
 * @typedef {import("./piece.js").Path} Path
 * @typedef {import("./model.js").Model} Model
 * @typedef {import("./model.js").Part} Part
 * @typedef {import("./model.js").Point} Point
 * @typedef {{label: string, path: Path, type: "length"|"text"|"number"|"flag", hint?: string, may?: boolean}
 *   | {label: string, path: Path, type: "choice", choices: string[], may?: boolean}
 *   | {label: string, path: Path, type: "wood", may?: boolean}
 *   | {label: string, path: Path, type: "suggested", choices: string[], hint?: string, may?: boolean}} Field
 */

export const SECTIONS = [
  "angle 20x20x3",
  "angle 25x25x3",
  "angle 30x30x3",
  "angle 30x30x4",
  "angle 40x40x4",
  "angle 50x50x5",
  "flat 30x5",
  "flat 40x5",
  "flat 40x8",
  "channel 30x15x4",
  "channel 40x20x5",
  "tube 40x20x2",
  "tube 50x30x2",
  "bar 25x40",
  "bar 30x50",
];
const DURATIONS = ["permanent", "long", "medium", "short", "hour", "minutes", "instantaneous"];

/** @param {Model} model @param {Part} part @returns {Field[]} */
export function fieldsOfPart(model, part) {
  const raw = part.raw ?? {},
    path = part.path;
  const length = (/** @type {string} */ label, /** @type {Path} */ more, may = false) =>
    /** @type {Field} */ ({label, path: [...path, ...more], type: "length", may});
  const text = (/** @type {string} */ label, /** @type {Path} */ more, /** @type {string} */ hint = "") =>
    /** @type {Field} */ ({label, path: [...path, ...more], type: "text", hint, may: true});
  const box = [
    length("left edge, x", ["x", 0]),
    length("right edge, x", ["x", 1]),
    length("front edge, y", ["y", 0]),
    length("back edge, y", ["y", 1]),
  ];
  const line = [
    length("start, x", ["from", 0]),
    length("start, y", ["from", 1]),
    length("end, x", ["to", 0]),
    length("end, y", ["to", 1]),
  ];
  const spot = [
    length("middle, x", ["at", 0]),
    length("middle, y", ["at", 1]),
    length("size along x", ["size", 0]),
    length("size along y", ["size", 1]),
  ];
  /** @type {Field[]} */ const name = [text("name", ["name"])];
  if (part.kind === "top") {
    /** @type {Field[]} */ const fields = [{label: "title", path: ["title"], type: "text", may: true}];
    if (part.shape.type !== "polygon") fields.push(length("length", ["length"]), length("width", ["width"]));
    fields.push(length("thickness", ["thickness"]));
    if (raw.wood !== undefined)
      fields.push(
        {label: "wood", path: ["top", "wood"], type: "wood"},
        {
          label: "growth rings",
          path: ["top", "rings"],
          type: "choice",
          choices: ["flatsawn", "riftsawn", "quartersawn"],
          may: true,
        },
        {label: "moisture, %", path: ["top", "moisture"], type: "number", may: true},
      );
    else if (raw.sheet !== undefined) fields.push(text("sheet", ["sheet"]));
    fields.push({label: "grain, degrees from the length", path: ["top", "grain"], type: "number", may: true});
    if (part.shape.type === "rect")
      fields.push({
        label: "corner radius of the outline",
        path: ["top", "outline", "corner_radius"],
        type: "length",
        may: true,
      });
    fields.push(
      {
        label: "use",
        path: ["use"],
        type: "choice",
        may: true,
        choices: [
          "bench",
          "coffee_table",
          "counter",
          "desk",
          "dining",
          "hall_table",
          "meeting",
          "outdoor",
          "shelf",
          "workbench",
        ],
      },
      {label: "sag allowed at once", path: ["limits", "sag"], type: "text", hint: "span/300 or a length", may: true},
      {
        label: "sag allowed after the years",
        path: ["limits", "sag_years"],
        type: "text",
        hint: "span/250 or a length",
        may: true,
      },
    );
    return fields;
  }
  if (part.kind === "recess") {
    const where =
      raw.rim !== undefined ? [length("rim left all around", ["rim"])] : Array.isArray(raw.polygon) ? [] : box;
    return [
      ...name,
      raw.skin !== undefined ? length("skin left above", ["skin"]) : length("depth", ["depth"]),
      ...where,
      length("corner radius", ["corner_radius"], true),
      length("cutter's radius at the floor", ["root_radius"], true),
    ];
  }
  if (part.kind === "land")
    return [...name, ...(Array.isArray(raw.polygon) ? [] : box), length("corner radius", ["corner_radius"], true)];
  if (part.kind === "stiffener") {
    /** @type {Field[]} */ const fields = [
      ...name,
      {
        label: "section",
        path: [...path, "section"],
        type: "suggested",
        choices: SECTIONS,
        hint: "such as angle 30x30x3, in mm",
      },
    ];
    if (raw.metal !== undefined)
      fields.push({label: "metal", path: [...path, "metal"], type: "suggested", choices: ["S235", "S275", "S355"]});
    if (raw.wood !== undefined) fields.push({label: "wood", path: [...path, "wood"], type: "wood"});
    fields.push(...line);
    if (raw.screws?.holes !== "bonded")
      fields.push(
        length("screw diameter", ["screws", "diameter"]),
        length("screw length", ["screws", "length"]),
        ...(raw.screws?.at ? [] : [length("screws apart", ["screws", "spacing"])]),
      );
    fields.push({
      label: "holes",
      path: [...path, "screws", "holes"],
      type: "choice",
      choices: ["round", "oversize", "slotted"],
      may: true,
    });
    return fields;
  }
  if (part.kind === "support") {
    if (raw.kind === "pad")
      return [...name, ...spot, {label: "holds the top down", path: [...path, "hold_down"], type: "flag"}];
    if (raw.kind === "bearer")
      return [
        ...name,
        ...line,
        length("width", ["width"]),
        {label: "holds the top down", path: [...path, "hold_down"], type: "flag"},
      ];
    return [...name, ...line];
  }
  /** @type {Field[]} */ const tail = [
    {label: "stays for", path: [...path, "duration"], type: "choice", choices: DURATIONS, may: true},
    {
      label: "judged for",
      path: [...path, "for"],
      type: "choice",
      choices: ["everyday", "strength", "stability"],
      may: true,
    },
  ];
  if (raw.kind === "area")
    return [...name, text("pressure", ["pressure"], "such as 0.5 kPa, 10 psf or 25 kg/m2"), ...tail];
  const force = text("force", ["force"], "such as 50 kg, 110 lb or 600 N");
  if (raw.kind === "line") return [...name, force, ...line, ...tail];
  if (raw.at === "worst")
    return [...name, force, length("size along x", ["size", 0]), length("size along y", ["size", 1]), ...tail];
  return [...name, force, ...(raw.kind === "clamp" ? spot.slice(0, 2) : spot), ...tail];
}

/**
 * What may be drawn: how (pulled as a rectangle, as a line, put at a point), in which list, and what is written.
 * @type {Record<string, {words: string, gesture: "rect"|"line"|"point"|"none", ask: string}>}
 */
export const NEW_PARTS = {
  recess: {words: "a recess", gesture: "rect", ask: "Pull the recess on the drawing"},
  land: {
    words: "a land in a recess",
    gesture: "rect",
    ask: "Pull the land, which keeps its full thickness, inside a recess",
  },
  stiffener: {words: "a stiffener", gesture: "line", ask: "Pull a line where the stiffener lies"},
  pad: {words: "a pad or leg", gesture: "point", ask: "Tap where the pad stands"},
  bearer: {words: "a bearer", gesture: "line", ask: "Pull a line where the bearer lies"},
  load: {words: "a load", gesture: "point", ask: "Tap where the load presses"},
  spread: {words: "a load all over", gesture: "none", ask: ""},
};

/** @param {Model} model @param {Point} p @returns {Part|undefined} the recess there */
export function recessAt(model, p) {
  return model.parts.find((part) => part.kind === "recess" && isInside(part.shape, p));
}

/**
 * A sensible place where none was pulled.
 * @param {string} kind @param {Model} model @returns {[Point, Point]}
 */
export function placeOfNew(kind, model) {
  const L = model.length,
    W = model.width,
    s = (/** @type {number} */ v) => snapped(v, model.units);
  const first = model.parts.find((p) => p.kind === "recess" && p.shape.type === "rect");
  const room = first && first.shape.type === "rect" ? first.shape : {x0: 0, y0: 0, x1: L, y1: W};
  const mx = (room.x0 + room.x1) / 2,
    my = (room.y0 + room.y1) / 2;
  if (kind === "recess") {
    const rim = s(Math.min(135, W / 5));
    if (!first)
      return [
        [rim, rim],
        [s(L - rim), s(W - rim)],
      ];
    const side = s(Math.min(150, W / 6));
    return [
      [s(mx - side / 2), s(my - side / 2)],
      [s(mx + side / 2), s(my + side / 2)],
    ];
  }
  if (kind === "land")
    return [
      [s(mx - 20), s(room.y0)],
      [s(mx + 20), s(room.y1)],
    ];
  if (kind === "stiffener") {
    const taken = model.parts.filter((p) => p.kind === "stiffener").length;
    const y = s(room.y0 + (room.y1 - room.y0) * [0.5, 0.3, 0.7, 0.15, 0.85][taken % 5]);
    return [
      [s(room.x0 + 20), y],
      [s(room.x1 - 20), y],
    ];
  }
  if (kind === "bearer")
    return [
      [s(L / 2), s(W * 0.1)],
      [s(L / 2), s(W * 0.9)],
    ];
  return [
    [s(L / 2), s(kind === "load" ? Math.min(60, W / 4) : W / 2)],
    [s(L / 2), s(W / 2)],
  ];
}

/**
 * @param {string} kind @param {Model} model @param {Point} a @param {Point} b
 * @returns {{path: Path, value: any}|string} a sentence where it cannot be
 */
export function newPart(kind, model, a, b) {
  const w = (/** @type {number} */ mm) => writtenLength(mm, model.units);
  const inches = model.units === "in";
  const x = [Math.min(a[0], b[0]), Math.max(a[0], b[0])],
    y = [Math.min(a[1], b[1]), Math.max(a[1], b[1])];
  const small = x[1] - x[0] < 5 || y[1] - y[0] < 5;
  const count = (/** @type {string} */ list) => (Array.isArray(model.raw?.[list]) ? model.raw[list].length : 0);
  const fit = (/** @type {number} */ v) => snapped(v, model.units);
  if (kind === "recess") {
    if (small) return "Too small for a recess: pull it larger.";
    return {
      path: ["recesses", count("recesses")],
      value: {
        name: `well ${count("recesses") + 1}`,
        x: x.map(w),
        y: y.map(w),
        depth: w(fit(model.thickness * 0.4)),
        corner_radius: w(inches ? (3 / 8) * INCH : 10),
      },
    };
  }
  if (kind === "land") {
    const recess = recessAt(model, [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2]);
    if (!recess) return "A land stands inside a recess: draw the recess first.";
    if (small) return "Too small for a land: pull it larger.";
    return {path: [...recess.path, "lands", recess.raw?.lands?.length ?? 0], value: {x: x.map(w), y: y.map(w)}};
  }
  if (kind === "stiffener" || kind === "bearer") {
    if (Math.hypot(b[0] - a[0], b[1] - a[1]) < 40) return "Too short: pull a longer line.";
    // nearly straight lines are meant to be straight
    const to = /** @type {Point} */ ([...b]);
    if (Math.abs(b[1] - a[1]) < Math.abs(b[0] - a[0]) * 0.06) to[1] = a[1];
    if (Math.abs(b[0] - a[0]) < Math.abs(b[1] - a[1]) * 0.06) to[0] = a[0];
    if (kind === "bearer")
      return {
        path: ["supports", count("supports")],
        value: {
          kind: "bearer",
          name: `bearer ${count("supports") + 1}`,
          from: a.map(w),
          to: to.map(w),
          width: w(inches ? 1.5 * INCH : 40),
        },
      };
    const recess = recessAt(model, [(a[0] + to[0]) / 2, (a[1] + to[1]) / 2]);
    const skin =
      model.thickness -
      (recess
        ? (lengthOf(recess.raw?.depth, model.units) ?? model.thickness - (lengthOf(recess.raw?.skin, model.units) ?? 0))
        : 0);
    // through 3 mm of iron, 5 mm clear of the show face, and four diameters of thread in the wood
    const thread = Math.max(8, Math.min(20, Math.floor(skin - 5)));
    const screw = thread + 3;
    const thick = Math.max(2.5, Math.min(4.5, Math.floor(thread / 2) / 2));
    return {
      path: ["stiffeners", count("stiffeners")],
      value: {
        name: `angle ${count("stiffeners") + 1}`,
        section: "angle 30x30x3",
        metal: "S235",
        from: a.map(w),
        to: to.map(w),
        screws: {
          diameter: inches ? `${thick} mm` : thick,
          length: inches ? `${screw} mm` : screw,
          spacing: w(inches ? 6 * INCH : 150),
          holes: "slotted",
        },
      },
    };
  }
  if (kind === "spread")
    return {
      path: ["loads", count("loads")],
      value: {
        name: `load ${count("loads") + 1}`,
        kind: "area",
        pressure: inches ? "5 psf" : "0.25 kPa",
        duration: "long",
      },
    };
  if (kind === "pad")
    return {
      path: ["supports", count("supports")],
      value: {kind: "pad", name: `pad ${count("supports") + 1}`, at: a.map(w), size: inches ? [2.5, 2.5] : [70, 70]},
    };
  return {
    path: ["loads", count("loads")],
    value: {
      name: `load ${count("loads") + 1}`,
      kind: "patch",
      force: inches ? "110 lb" : "50 kg",
      at: a.map(w),
      size: inches ? [8, 4] : [200, 100],
    },
  };
}

/**
 * What stands in a field.
 * @param {Model} model @param {Field} field
 */
export const rawOf = (model, field) => at(model.raw, field.path);
