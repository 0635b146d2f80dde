// SPDX-License-Identifier: MIT
// @ts-check
/// What can be pulled of a part, by pointer or by keyboard, and what the piece file then says.
import {lengthOf, plainLength, snapped, writtenLength} from "./units.js";
import {at, extentOf, middleOf} from "./model.js";

/**
 * @typedef {import("./model.js").Model} Model
 * @typedef {import("./model.js").Part} Part
 * @typedef {import("./model.js").Point} Point
 * @typedef {import("./piece.js").Path} Path
 * @typedef {[Path, any][]} Edits
 * @typedef {{key: string, label: string, at: Point, axes: "x"|"y"|"xy", from: string, edits: (to: Point) => Edits,
 *   low?: number, high?: number}} Handle
 */

/** @param {Model} model */
export function editing(model) {
  const {units, raw} = model;
  /**
   * A length there.
   * @param {Path} path @param {number} mm @returns {[Path, any]}
   */
  const put = (path, mm) => [path, writtenLength(mm, units, at(raw, path))];
  /** @param {Path} path */
  const get = (path) => lengthOf(at(raw, path), units);
  /**
   * Every coordinate of a part moved.
   * @param {Path} path @param {number} dx @param {number} dy @returns {Edits}
   */
  const moved = (path, dx, dy) => {
    /** @type {Edits} */ const edits = [];
    const part = at(raw, path);
    const shift = (/** @type {Path} */ p, /** @type {number} */ by) => {
      const v = get(p);
      if (v !== null && by !== 0) edits.push(put(p, v + by));
    };
    const pair = (/** @type {Path} */ p) => {
      shift([...p, 0], dx);
      shift([...p, 1], dy);
    };
    for (const key of ["at", "from", "to", "towards"]) if (Array.isArray(part?.[key])) pair([...path, key]);
    for (const box of [[], ["over"]]) {
      const b = at(part, box);
      if (Array.isArray(b?.x)) {
        shift([...path, ...box, "x", 0], dx);
        shift([...path, ...box, "x", 1], dx);
      }
      if (Array.isArray(b?.y)) {
        shift([...path, ...box, "y", 0], dy);
        shift([...path, ...box, "y", 1], dy);
      }
    }
    (part?.polygon ?? []).forEach((/** @type {any} */ _, /** @type {number} */ i) => pair([...path, "polygon", i]));
    if (path[0] === "recesses" && path.length === 2) {
      (part?.lands ?? []).forEach((/** @type {any} */ _, /** @type {number} */ i) =>
        edits.push(...moved([...path, "lands", i], dx, dy)),
      );
      (part?.holds ?? []).forEach((/** @type {any} */ h, /** @type {number} */ i) => {
        if (Array.isArray(h?.at)) pair([...path, "holds", i, "at"]);
      });
    }
    return edits;
  };
  /**
   * What lies beyond the middle goes along with the far edge.
   * @param {0|1} axis @param {number} to @returns {Edits}
   */
  const resized = (axis, to) => {
    const before = axis === 0 ? model.length : model.width,
      by = to - before,
      middle = before / 2;
    /** @type {Edits} */ const edits = [put(["top", axis === 0 ? "length" : "width"], to)];
    const shift = (/** @type {Path} */ p) => {
      const v = get(p);
      if (v !== null && v > middle + 0.5) edits.push(put(p, v + by));
      else if (v !== null && Math.abs(v - middle) <= 0.5) edits.push(put(p, v + by / 2));
    };
    for (const part of model.parts) {
      if (part.kind === "top") continue;
      for (const key of ["at", "from", "to", "towards"])
        if (Array.isArray(part.raw?.[key])) shift([...part.path, key, axis]);
      for (const box of [[], ["over"]])
        for (const end of [0, 1]) {
          const p = [...part.path, ...box, axis === 0 ? "x" : "y", end];
          if (at(raw, p) !== undefined) shift(p);
        }
      (part.raw?.polygon ?? []).forEach((/** @type {any} */ _, /** @type {number} */ i) =>
        shift([...part.path, "polygon", i, axis]),
      );
    }
    return edits;
  };
  return {put, get, moved, resized};
}

/** @param {Model} model @param {Part} part @returns {Handle[]} */
export function handlesOf(model, part) {
  const {put, moved, resized} = editing(model);
  const {path, shape, raw} = part;
  const e = extentOf(shape),
    middle = middleOf(shape);
  /** @type {Handle[]} */ const list = [];
  if (part.kind === "top") {
    if (shape.type === "polygon") {
      shape.points.forEach((p, i) =>
        list.push({
          key: `corner${i}`,
          label: `top, corner ${i + 1}`,
          at: p,
          axes: "xy",
          from: "",
          edits: (to) => [
            put(["top", "outline", "points", i, 0], to[0]),
            put(["top", "outline", "points", i, 1], to[1]),
          ],
        }),
      );
      return list;
    }
    list.push({
      key: "length",
      label: "top, length",
      at: [e.x1, middle[1]],
      axes: "x",
      from: "long",
      low: 100,
      high: 6000,
      edits: (to) => resized(0, to[0]),
    });
    list.push({
      key: "width",
      label: "top, width",
      at: [middle[0], e.y1],
      axes: "y",
      from: "wide",
      low: 100,
      high: 3000,
      edits: (to) => resized(1, to[1]),
    });
    return list;
  }
  const name = part.name;
  if (shape.type === "none") return list;
  const move = () =>
    list.push({
      key: "move",
      label: `${name}, move`,
      at: middle,
      axes: "xy",
      from: "",
      edits: (to) => moved(path, to[0] - middle[0], to[1] - middle[1]),
    });
  if (raw?.rim !== undefined) {
    const outline = extentOf(model.parts[0].shape);
    list.push({
      key: "rim",
      label: `${name}, rim`,
      at: [e.x0, middle[1]],
      axes: "x",
      from: "left all around",
      low: 0,
      high: Math.min(model.length, model.width) / 2,
      edits: (to) => [put([...path, "rim"], Math.max(0, to[0] - outline.x0))],
    });
    return list;
  }
  if (Array.isArray(raw?.polygon)) {
    move();
    if (shape.type === "polygon")
      shape.points.forEach((p, i) =>
        list.push({
          key: `corner${i}`,
          label: `${name}, corner ${i + 1}`,
          at: p,
          axes: "xy",
          from: "",
          edits: (to) => [put([...path, "polygon", i, 0], to[0]), put([...path, "polygon", i, 1], to[1])],
        }),
      );
    return list;
  }
  if (shape.type === "line") {
    move();
    for (const [key, words] of /** @type {[string, string][]} */ ([
      ["from", "start"],
      ["to", "end"],
    ]))
      list.push({
        key,
        label: `${name}, ${words}`,
        at: key === "from" ? shape.a : shape.b,
        axes: "xy",
        from: "",
        edits: (to) => [put([...path, key, 0], to[0]), put([...path, key, 1], to[1])],
      });
    return list;
  }
  const box = Array.isArray(raw?.x) ? path : raw?.over ? [...path, "over"] : null;
  if (box) {
    move();
    const edge = (
      /** @type {string} */ key,
      /** @type {Point} */ place,
      /** @type {"x"|"y"} */ axis,
      /** @type {0|1} */ end,
    ) =>
      list.push({
        key,
        label: `${name}, ${key} edge`,
        at: place,
        axes: axis,
        from: axis === "x" ? "from the left" : "from the front",
        low: 0,
        high: axis === "x" ? model.length : model.width,
        edits: (to) => [put([...box, axis, end], axis === "x" ? to[0] : to[1])],
      });
    edge("left", [e.x0, middle[1]], "x", 0);
    edge("right", [e.x1, middle[1]], "x", 1);
    edge("front", [middle[0], e.y0], "y", 0);
    edge("back", [middle[0], e.y1], "y", 1);
    return list;
  }
  move();
  if (Array.isArray(raw?.size)) {
    list.push({
      key: "size x",
      label: `${name}, length`,
      at: [e.x1, middle[1]],
      axes: "x",
      from: "is its right edge",
      low: 0,
      high: model.length,
      edits: (to) => [put([...path, "size", 0], Math.max(1, 2 * Math.abs(to[0] - middle[0])))],
    });
    list.push({
      key: "size y",
      label: `${name}, width`,
      at: [middle[0], e.y1],
      axes: "y",
      from: "is its back edge",
      low: 0,
      high: model.width,
      edits: (to) => [put([...path, "size", 1], Math.max(1, 2 * Math.abs(to[1] - middle[1])))],
    });
  }
  return list;
}

/**
 * Where a handle may go: on its axis, on the grid.
 * @param {Handle} handle @param {Point} to @param {import("./units.js").Units} units @returns {Point}
 */
export function onGrid(handle, to, units) {
  return [
    handle.axes === "y" ? handle.at[0] : snapped(to[0], units),
    handle.axes === "x" ? handle.at[1] : snapped(to[1], units),
  ];
}

/**
 * What a handle stands at, in words.
 * @param {Handle} handle @param {import("./units.js").Units} units
 */
export function placeText(handle, units) {
  const [x, y] = handle.at;
  if (handle.axes === "x") return `${plainLength(x, units)} ${units} ${handle.from}`;
  if (handle.axes === "y") return `${plainLength(y, units)} ${units} ${handle.from}`;
  return `${plainLength(x, units)}, ${plainLength(y, units)} ${units}`;
}

/**
 * What was typed at a handle: one length, or two parted by a comma, a semicolon or a space.
 * @param {Handle} handle @param {string} text @param {import("./units.js").Units} units @returns {Point|null}
 */
export function typedPlace(handle, text, units) {
  if (handle.axes !== "xy") {
    const v = lengthOf(text, units);
    return v === null ? null : handle.axes === "x" ? [v, handle.at[1]] : [handle.at[0], v];
  }
  const parts = text.split(/\s*[,;]\s*/);
  const two = parts.length === 2 ? parts : text.trim().split(/\s+/);
  if (two.length !== 2) return null;
  const x = lengthOf(two[0], units),
    y = lengthOf(two[1], units);
  return x === null || y === null ? null : [x, y];
}
