// SPDX-License-Identifier: MIT
// @ts-check
/// The fields behind the map and the numbers of a place: computed once the full check of the drawing is done.
import {fieldsOf, levelsOf, situationsOf} from "./map.js";
import {INCH} from "./units.js";

/** @typedef {import("./board.js").Board} Board */

/** @param {Board} b */
export async function computeMap(b) {
  if (!b.map.on && !(b.place && b.placeAsked)) return;
  if (b.map.of === b.text || b.work.busy || !b.judged.final || b.judged.stale || b.judged.status > 1) return;
  const text = b.text;
  try {
    const run = await b.work.other("the movement map", ["check", "piece.json", "--quiet", "--fields", "fields.vtu"], {
      "piece.json": text,
    });
    const bytes = run.files["fields.vtu"];
    const fields = bytes ? fieldsOf(new TextDecoder().decode(bytes)) : null;
    b.map.of = text;
    b.map.wrong = fields ? "" : run.err.trim() || "There is no map of this piece.";
    b.map.fields = fields;
    setLevels(b);
  } catch (error) {
    if (/** @type {Error} */ (error).name !== "AbortError") {
      b.map.of = text;
      b.map.wrong = /** @type {Error} */ (error).message;
    }
  }
  b.show();
}

/** @param {Board} b */
export function setLevels(b) {
  const {fields} = b.map;
  if (!fields) return;
  const names = situationsOf(fields);
  const deepest = [...(b.judged.result?.situations ?? [])]
    .filter((s) => names.includes(s.name))
    .sort((a, b) => b.sag_mm - a.sag_mm)[0];
  if (!names.includes(b.map.situation)) b.map.situation = deepest?.name ?? names[0] ?? "";
  const values = fields.values.get(`movement_mm, ${b.map.situation}`) ?? new Float64Array([0]);
  const unit = b.units === "in" ? INCH : 1; // bands of a round width in what is shown
  b.map.levels = levelsOf(
    values.reduce((a, b) => Math.min(a, b), Infinity) / unit,
    values.reduce((a, b) => Math.max(a, b), -Infinity) / unit,
  ).map((level) => level * unit);
  b.drawnMap = "";
}
