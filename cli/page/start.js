// SPDX-License-Identifier: MIT
// @ts-check
/// The first question: what is it, how big, which wood, how thick. `hollowtop new` draws a sensible hollow from it.
import {h} from "./patch.js";

/**
 * @typedef {{use: string, shape: string, base: string, length: string, width: string, thickness: string, wood: string,
 *   units: "mm"|"in"}} Answers
 * @typedef {{id: string, name: string}} Choice
 * @typedef {{answers: Answers, uses: Choice[], woods: Choice[], wrong: {place: string, what: string}[], open: boolean,
 *   lines: import("./answer.js").Line[], busy: boolean}} Start
 */

/** @param {"mm"|"in"} units @returns {Answers} */
export function firstAnswers(units) {
  const sizes =
    units === "in" ? {length: "75", width: "34", thickness: "1-5/8"} : {length: "1900", width: "850", thickness: "42"};
  return {use: "dining", shape: "rectangle", base: "legs", wood: "cherry_black", units, ...sizes};
}

/** @param {Answers} a @returns {string[]} the words of the command */
export function wordsOf(a) {
  const width = a.shape === "round" ? [] : ["--width", a.width];
  return [
    "new",
    "--use",
    a.use,
    "--shape",
    a.shape,
    "--base",
    a.base,
    "--length",
    a.length,
    ...width,
    "--thickness",
    a.thickness,
    "--wood",
    a.wood,
    "--units",
    a.units,
    "--keep",
    "--no-color",
    "--out",
    "piece.json",
  ];
}

/**
 * Rows "  id   name   number ..." of a list that the command line prints.
 * @param {string} text @param {RegExp} heading @returns {Choice[]}
 */
export function choicesOf(text, heading) {
  /** @type {Choice[]} */ const all = [];
  let within = false;
  for (const line of text.split("\n")) {
    if (/^\S/.test(line)) within = heading.test(line);
    const m = within ? /^ {2}([a-z]\w*) {2,}(\S.*?)(?: {2,}|$)/.exec(line) : null;
    if (m && m[1] !== "name" && m[1] !== "use") all.push({id: m[1], name: m[2]});
  }
  return all;
}

const SHAPES = [
  ["rectangle", "rectangle"],
  ["round", "round"],
  ["oval", "oval"],
  ["slab", "slab, edges as they grew"],
  ["corner", "corner, an L"],
];
const BASES = [
  ["legs", "legs"],
  ["trestle", "trestles"],
  ["pedestal", "a pedestal"],
  ["wall", "brackets on a wall"],
  ["cabinet", "a cabinet"],
];

/**
 * @param {Start} start
 * @param {{set: (key: keyof Answers, value: string) => void, go: () => void, close: () => void}} owner
 * @returns {(import("./patch.js").Spec|false)[]}
 */
export function startView(start, owner) {
  const a = start.answers;
  const wrong = (/** @type {string} */ key) => start.wrong.find((w) => w.place === `--${key}`);
  const note = (/** @type {string} */ key) => {
    const w = wrong(key);
    return w ? h("span#wrong", {class: "wrong", id: `start-${key}-wrong`}, w.what) : null;
  };
  const pick = (/** @type {keyof Answers} */ key, /** @type {string} */ label, /** @type {string[][]} */ choices) =>
    h(
      `label#${key}`,
      {class: "field"},
      h("span#s", {}, label),
      h(
        "select#i",
        {
          id: `start-${key}`,
          "=value": a[key],
          "aria-invalid": wrong(key) ? "true" : null,
          onchange: (e) => owner.set(key, e.target.value),
        },
        ...choices.map(([id, name]) => h(`option#${id}`, {value: id}, name)),
      ),
      note(key),
    );
  const type = (/** @type {keyof Answers} */ key, /** @type {string} */ label) =>
    h(
      `label#${key}`,
      {class: "field short"},
      h("span#s", {}, label),
      h("input#i", {
        id: `start-${key}`,
        type: "text",
        autocomplete: "off",
        inputmode: a.units === "mm" ? "decimal" : null,
        "=value": a[key],
        "aria-invalid": wrong(key) ? "true" : null,
        "aria-describedby": wrong(key) ? `start-${key}-wrong` : null,
        oninput: (e) => owner.set(key, e.target.value),
      }),
      note(key),
    );
  const listed = (/** @type {Choice[]} */ list, /** @type {string} */ id, /** @type {string} */ name) =>
    (list.length > 0 ? list : [{id, name}]).map((c) => [c.id, c.name]);
  const other = start.wrong.filter(
    (w) => !["--length", "--width", "--thickness", "--wood", "--use", "--shape", "--base"].includes(w.place),
  );
  return [
    h("h2#head", {id: "start-head"}, "What shall it be?"),
    h(
      "form#form",
      {
        onsubmit: (e) => {
          e.preventDefault();
          owner.go();
        },
      },
      h(
        "div#fields",
        {class: "fields"},
        pick("use", "it is a", listed(start.uses, "dining", "dining table")),
        pick("shape", "its shape", SHAPES),
        type("length", a.shape === "round" ? `diameter, ${a.units}` : `length, ${a.units}`),
        a.shape !== "round" && type("width", `width, ${a.units}`),
        type("thickness", `thickness as planed, ${a.units}`),
        pick("wood", "wood", listed(start.woods, "cherry_black", "Black cherry")),
        pick("base", "it stands on", BASES),
        pick("units", "you measure in", [
          ["mm", "millimetres"],
          ["in", "inches"],
        ]),
      ),
      h(
        "p#go",
        {class: "buttons"},
        h("button#go", {type: "submit", class: "first"}, "Draw it and judge it"),
        h("button#close", {type: "button", onclick: () => owner.close()}, "Put the questions away"),
      ),
    ),
    other.length > 0 && h("p#other", {class: "wrong", role: "alert"}, other.map((w) => w.what).join(" ")),
    start.lines.length > 0 &&
      h(
        "dl#lines",
        {class: "lines"},
        ...start.lines.map((l, i) => h(`div#${i}`, {}, h("dt", {}, l.label), h("dd", {}, l.text))),
      ),
    h(
      "p#soft",
      {class: "soft"},
      "A start: it puts supports where such a base has them, leaves the rim that stands on them, and hollows as deep " +
        "as the use lets it. Base, joints and the real board are yours.",
    ),
  ];
}
