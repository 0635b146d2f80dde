// SPDX-License-Identifier: MIT
// @ts-check
/// The movement map's controls, and the numbers of a place.
import {h} from "./patch.js";
import {bandsOf, cssOf, situationsOf, valuesAt} from "./map.js";
import {INCH, lengthOf, movementText, plainLength, stressText} from "./units.js";

/**
 * @typedef {{on: boolean, situation: string, fields: import("./map.js").Fields|null, of: string, levels: number[],
 *   wrong: string}} MapState
 * @typedef {import("./units.js").Units} Units
 */

/**
 * "0.5 to 1.0 mm": with the digits that the width of the band needs.
 * @param {number} low @param {number} high @param {Units} units
 */
function bandText(low, high, units) {
  const unit = units === "in" ? INCH : 1,
    width = (high - low) / unit;
  let digits = 0;
  while (digits < 6 && Math.abs(width * 10 ** digits - Math.round(width * 10 ** digits)) > 1e-6) digits++;
  const plain = (/** @type {number} */ v) => (v / unit).toFixed(digits).replace(/^-(0(?:\.0*)?)$/, "$1");
  return `${plain(low)} to ${plain(high)} ${units}`;
}

/** @param {MapState} map @param {Units} units @param {boolean} fresh the map is of the drawing as it is
 * @param {[number, number]|null} place
 * @param {{on: (on: boolean) => void, situation: (name: string) => void, ask: (at: [number, number]) => void}} owner */
export function mapControls(map, units, fresh, place, owner) {
  const names = map.fields ? situationsOf(map.fields) : [];
  return [
    h(
      "label#on",
      {class: "field flag"},
      h("input#i", {type: "checkbox", id: "map-on", "=checked": map.on, onchange: (e) => owner.on(e.target.checked)}),
      h("span#s", {}, "Show how far it moves"),
    ),
    place && placeLine(map, units, fresh, place, owner.ask),
    map.on &&
      names.length > 0 &&
      h(
        "label#which",
        {class: "field"},
        h("span#s", {}, "under"),
        h(
          "select#i",
          {id: "map-situation", "=value": map.situation, onchange: (e) => owner.situation(e.target.value)},
          ...names.map((n) => h(`option#${n}`, {value: n}, n)),
        ),
      ),
    map.on && map.wrong && h("p#wrong", {class: "wrong"}, map.wrong),
    map.on &&
      !map.wrong &&
      (!map.fields || !fresh) &&
      h(
        "p#wait",
        {class: "pending"},
        map.fields ? "The map is of the drawing before; a new one follows." : "The map follows the full check.",
      ),
    map.on &&
      map.fields &&
      h(
        "ol#legend",
        {class: "legend", "aria-label": "Movement downwards"},
        ...bandsOf(map.levels).map((b, i) =>
          h(
            `li#${i}`,
            {},
            h("span#c", {class: "swatch", "--swatch": cssOf(b.colour), "aria-hidden": "true"}),
            bandText(b.low, b.high, units),
          ),
        ),
      ),
  ];
}

/**
 * The place that was tapped, in a line beside the drawing.
 * @param {MapState} map @param {Units} units @param {boolean} fresh @param {[number, number]} place
 * @param {(at: [number, number]) => void} ask
 */
function placeLine(map, units, fresh, place, ask) {
  const where = `At ${plainLength(place[0], units)}, ${plainLength(place[1], units)} ${units}`;
  const values = fresh && map.fields ? valuesAt(map.fields, place[0], place[1]) : null;
  const moves = values?.get(`movement_mm, ${map.situation}`),
    thick = values?.get("thickness_mm");
  if (moves === undefined || thick === undefined)
    return h(
      "p#here",
      {class: "here"},
      `${where}: `,
      h("button#ask", {type: "button", onclick: () => ask(place)}, "Say its numbers"),
    );
  return h(
    "p#here",
    {class: "here"},
    `${where}: ${plainLength(Math.round(thick * 10) / 10, units)} ${units} thick, ` +
      `${movementText(moves, units)} down under "${map.situation}".`,
  );
}

/**
 * @param {{place: [number, number]|null, asked: boolean, map: MapState, fresh: boolean, units: Units, wrong: string}} s
 * @param {{place: (at: [number, number]) => void, wrong: (what: string) => void}} owner
 */
export function placeView(s, owner) {
  const read = () => {
    const x = lengthOf(/** @type {HTMLInputElement} */ (document.getElementById("place-x")).value, s.units);
    const y = lengthOf(/** @type {HTMLInputElement} */ (document.getElementById("place-y")).value, s.units);
    if (x === null || y === null) owner.wrong(`Write both as lengths, like ${s.units === "in" ? "37-3/8" : "950"}.`);
    else owner.place([x, y]);
  };
  const values = s.place && s.map.fields ? valuesAt(s.map.fields, s.place[0], s.place[1]) : null;
  return [
    h("h2#head", {id: "place-head"}, "The numbers of a place"),
    h(
      "form#form",
      {
        onsubmit: (e) => {
          e.preventDefault();
          read();
        },
      },
      h(
        "div#f",
        {class: "fields"},
        h(
          "label#x",
          {class: "field short"},
          h("span#s", {}, `x, ${s.units} from the left`),
          h("input#i", {
            id: "place-x",
            type: "text",
            autocomplete: "off",
            "=value": s.place ? plainLength(s.place[0], s.units) : "",
          }),
        ),
        h(
          "label#y",
          {class: "field short"},
          h("span#s", {}, `y, ${s.units} from the front`),
          h("input#i", {
            id: "place-y",
            type: "text",
            autocomplete: "off",
            "=value": s.place ? plainLength(s.place[1], s.units) : "",
          }),
        ),
        h("button#go", {type: "submit"}, "Say its numbers"),
      ),
    ),
    s.wrong && h("p#wrong", {class: "wrong", role: "alert"}, s.wrong),
    !s.place && h("p#none", {class: "soft"}, "Tap the drawing, or type a place."),
    s.place &&
      s.asked &&
      !s.map.fields &&
      h("p#wait", {class: "pending"}, s.map.wrong || "Its numbers follow the full check."),
    s.place && s.map.fields && !values && h("p#beside", {class: "soft"}, "That place is beside the top."),
    s.place &&
      values &&
      h(
        "div#numbers",
        {},
        numbersOf(values, s.units, s.place),
        !s.fresh &&
          h("p#old", {class: "pending"}, `Of the drawing before${s.asked ? "; new numbers follow" : ": ask again"}.`),
      ),
  ];
}

/** @param {Map<string, number>} values @param {Units} units @param {[number, number]} place */
function numbersOf(values, units, place) {
  const thick = values.get("thickness_mm");
  const names = [...values.keys()]
    .filter((n) => n.startsWith("movement_mm, "))
    .map((n) => n.slice(13))
    .sort((a, b) => (values.get(`movement_mm, ${b}`) ?? 0) - (values.get(`movement_mm, ${a}`) ?? 0));
  const worst = (/** @type {string} */ face, /** @type {string} */ way, /** @type {string} */ n) =>
    values.get(`stress_${face}_${way}_MPa, ${n}`) ?? 0;
  return h(
    "table#t",
    {class: "rows"},
    h(
      "caption",
      {},
      `At ${plainLength(place[0], units)}, ${plainLength(place[1], units)} ${units}: ${
        thick === undefined ? "" : `${plainLength(Math.round(thick * 10) / 10, units)} ${units} thick`
      }. Stresses: top face, underside; read between places of a grid, where peaks are missed: the checks find those.`,
    ),
    h(
      "thead",
      {},
      h(
        "tr",
        {},
        h("th", {scope: "col"}, "under"),
        h("th", {scope: "col"}, "moves down"),
        h("th", {scope: "col"}, "along the grain"),
        h("th", {scope: "col"}, "across"),
      ),
    ),
    h(
      "tbody",
      {},
      ...names
        .slice(0, 6)
        .map((n) =>
          h(
            `tr#${n}`,
            {},
            h("th", {scope: "row"}, n),
            h("td", {}, movementText(values.get(`movement_mm, ${n}`) ?? 0, units)),
            h(
              "td",
              {},
              `${stressText(worst("top", "along", n), units)}, ${stressText(worst("bottom", "along", n), units)}`,
            ),
            h(
              "td",
              {},
              `${stressText(worst("top", "across", n), units)}, ${stressText(worst("bottom", "across", n), units)}`,
            ),
          ),
        ),
    ),
  );
}
