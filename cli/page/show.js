// SPDX-License-Identifier: MIT
// @ts-check
/// Everything that is seen, put in step with what is known.
import {drawing, viewOf} from "./drawing.js";
import {NEW_PARTS} from "./fields.js";
import {commandsView, footView, newPartsView, textView} from "./frame.js";
import {paint} from "./map.js";
import {setLevels} from "./mapping.js";
import {papersView} from "./papers.js";
import {partsView, placeWords} from "./parts.js";
import {patch} from "./patch.js";
import {mapControls, placeView} from "./place.js";
import {placesOf, sentenceOf, verdictView} from "./verdict.js";

/** @typedef {import("./board.js").Board} Board */

/** @param {Board} b */
export function showAll(b) {
  const j = b.judged;
  j.busy = b.work.busy;
  j.stopped = b.work.stopped && !b.work.busy;
  patch(b.at("commands"), commandsView(b));
  b.opening.show();
  for (const id of ["drawing", "verdict", "parts", "place", "papers", "text"]) b.at(id).hidden = !b.model;
  b.at("title").textContent =
    b.title || "May a solid-wood tabletop be hollowed from below, how deep, and how will it hold?";
  patch(b.at("foot-more"), footView(b));
  if (!b.model) return;
  showDrawing(b, b.model);
  patch(b.at("adding"), newPartsView(b));
  patch(
    b.at("map-controls"),
    mapControls(b.map, b.units, b.map.of === b.text, b.place, {
      ask: (at) => b.showPlace(at, true),
      on: (on) => b.showMap(on),
      situation: (name) => {
        b.map.situation = name;
        setLevels(b);
        b.show();
      },
    }),
  );
  patch(
    b.at("answer"),
    verdictView(j, {
      stop: () => b.work.stop(),
      full: () => b.work.full(),
      go: (id, place) => b.goTo(id, place),
      show: (at) => {
        b.showPlace(at);
        b.at("drawing").scrollIntoView({block: "nearest"});
      },
    }),
  );
  b.tick();
  b.at("bar").textContent = (j.stale || !j.final) && j.answer ? `Not final. ${sentenceOf(j)}` : sentenceOf(j);
  patch(
    b.at("parts"),
    partsView(
      {
        model: b.model,
        selected: b.selected,
        units: b.units,
        faults: j.stale ? [] : j.faults,
        typed: b.typed,
        woods: b.opening.start.woods,
      },
      {
        select: (id) => b.select(id),
        put: (edits, pull) => b.put(edits, pull),
        remove: (p) => b.remove(p),
        typed: (key, text, wrong) => {
          if (text === null) b.typed.delete(key);
          else b.typed.set(key, {text, wrong});
          b.show();
        },
      },
    ),
  );
  patch(
    b.at("place"),
    placeView(
      {
        place: b.place,
        asked: b.placeAsked || b.map.on,
        map: b.map,
        fresh: b.map.of === b.text,
        units: b.units,
        wrong: b.placeWrong,
      },
      {
        place: (at) => b.showPlace(at, true),
        wrong: (what) => {
          b.placeWrong = what;
          b.show();
        },
      },
    ),
  );
  patch(
    b.at("papers"),
    papersView(b.papers, b.papersHand, b.text, () => b.show()),
  );
  patch(b.at("text"), textView(b));
}

/** @param {Board} b @param {import("./model.js").Model} model */
function showDrawing(b, model) {
  const paper = b.at("paper"),
    svg = b.at("plan"),
    width = paper.clientWidth;
  if (width < 50) return;
  if (!b.still) b.view = viewOf(model, width, Math.max(260, Math.min(window.innerHeight * 0.62, 640)));
  const v = b.view,
    j = b.judged,
    known = b.map.on && b.map.fields !== null && b.map.of === b.text;
  svg.setAttribute("viewBox", `0 0 ${v.width} ${v.height}`);
  svg.setAttribute("width", String(v.width));
  svg.setAttribute("height", String(v.height));
  svg.setAttribute("class", `${known ? "mapped" : ""}${b.adding ? " drawing" : ""}`.trim());
  const places = j.stale ? new Map() : placesOf(j.result);
  const marks =
    j.answer && !j.stale
      ? j.answer.rows
          .filter((r) => places.has(r.what) && r.at)
          .slice(0, 1)
          .map((r) => ({
            at: /** @type {[number, number]} */ (places.get(r.what)),
            label: `${r.what} ${r.used}`,
            over: r.over,
          }))
      : [];
  const wrong = new Set(
    j.stale
      ? []
      : model.parts
          .filter((p) => p.kind !== "top" && j.faults.some((f) => f.place.startsWith(placeWords(p.path))))
          .map((p) => p.id),
  );
  patch(
    svg,
    drawing(model, v, {
      selected: b.selected,
      units: b.units,
      map: known,
      marks,
      place: b.place,
      wrong,
      drawn: b.sketch,
      hands: {part: (p) => b.hand.part(p), handle: (p, x) => b.hand.handle(p, x)},
    }),
  );
  const canvas = /** @type {HTMLCanvasElement} */ (b.at("map"));
  canvas.hidden = !known;
  const key = `${b.map.of.length} ${b.map.situation} ${v.width} ${v.scale} ${b.map.levels.join()}`;
  if (known && b.map.fields && key !== b.drawnMap) {
    const values = b.map.fields.values.get(`movement_mm, ${b.map.situation}`);
    canvas.style.setProperty("width", `${v.width}px`);
    canvas.style.setProperty("height", `${v.height}px`);
    if (values) paint(canvas, b.map.fields, values, b.map.levels, v, Math.min(2, window.devicePixelRatio || 1));
    b.drawnMap = key;
  }
  const arrows = `arrows pull it by ${b.units === "in" ? "1/16 in" : "1 mm"} (with Shift ten times that)`;
  b.at("hint").textContent = b.adding
    ? `${NEW_PARTS[b.adding].ask}, or press Enter to have one put there. Escape leaves it.`
    : `Tap a part, then pull what stands out of it, or tap that to type a number. By keyboard: Tab to a part, ` +
      `Enter takes ` +
      `it, ${arrows}, Enter types a number, Delete takes it away, Escape lets go.`;
}
