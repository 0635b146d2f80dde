// SPDX-License-Identifier: MIT
// @ts-check
/// What else the command line does with the piece: report, template, comparison, and further questions.
import {h} from "./patch.js";
import {nameOf, save} from "./files.js";

/**
 * @typedef {{cutter: string, bush: string, key: string, values: string, quick: boolean, text: string, heading: string,
 *   chart: string, of: string, wrong: string, busy: boolean,
 *   made: {name: string, data: Uint8Array, type: string}[]}} Papers
 * @typedef {(what: string, words: string[]) => Promise<import("./work.js").Run|null>} Ask null where it was stopped
 */

/** @param {"mm"|"in"} units @returns {Papers} */
export function firstPapers(units) {
  return {
    cutter: units === "in" ? "1/2 in" : "12 mm",
    bush: "",
    key: "depth",
    values: units === "in" ? "3/8 in, 1/2 in, 5/8 in, 3/4 in" : "12..24 step 4",
    quick: true,
    text: "",
    of: "",
    heading: "",
    chart: "",
    made: [],
    wrong: "",
    busy: false,
  };
}

export const VARIED = [
  ["depth", "depth of the recesses"],
  ["rim", "rim"],
  ["thickness", "thickness of the top"],
  ["wood", "wood"],
  ["rings", "growth rings"],
  ["section", "section of the stiffeners"],
  ["spacing", "distance of the screws"],
  ["holes", "holes for the screws"],
  ["use", "use"],
];

const QUESTIONS = [
  ["How deep may it go?", "deepest", ["deepest", "piece.json"]],
  ["Say everything", "everything", ["check", "piece.json", "--full"]],
  ["How sure is that?", "how far such tops scatter", ["check", "piece.json", "--band"]],
  ["How does it move with the seasons?", "the seasons", ["movement", "piece.json"]],
  ["How does its first year go?", "the first year", ["seasons", "piece.json"]],
  ["What should it read under a known weight?", "the proof test", ["prooftest", "piece.json"]],
];

/**
 * @param {Papers} p
 * @param {{units: () => string, title: () => string, text: () => string, ask: Ask, changed: () => void}} owner
 */
export function papersHand(p, owner) {
  const begin = () => {
    p.wrong = p.text = p.heading = "";
    p.made = [];
    p.busy = true;
    p.of = owner.text();
    if (p.chart) URL.revokeObjectURL(p.chart);
    p.chart = "";
    owner.changed();
  };
  /**
   * @param {string} heading @param {string} what @param {string[]} words
   * @param {(run: import("./work.js").Run) => void} took
   */
  const run = async (heading, what, words, took) => {
    begin();
    const done = await owner.ask(what, words);
    p.busy = false;
    if (!done) p.wrong = "Stopped.";
    else if (done.status >= 2) p.wrong = done.err.trim() || "It could not be made.";
    else {
      p.heading = heading;
      took(done);
    }
    owner.changed();
  };
  const file = (
    /** @type {import("./work.js").Run} */ done,
    /** @type {string} */ from,
    /** @type {string} */ end,
    /** @type {string} */ type,
  ) => {
    if (done.files[from]) p.made.push({name: `${nameOf(owner.title())}${end}`, data: done.files[from], type});
  };
  return {
    /** @param {string} heading @param {string} what @param {string[]} words */
    question: (heading, what, words) =>
      run(heading, what, [...words, "--no-color", "--units", owner.units()], (done) => {
        p.text = done.out;
      }),
    report: () =>
      run(
        "The report",
        "the report",
        ["report", "piece.json", "--out", "report.html", "--units", owner.units(), ...(p.quick ? ["--quick"] : [])],
        (done) => {
          file(done, "report.html", ".html", "text/html");
          p.text = "The report for client, maker and engineer is made: one page, to be read or printed.";
        },
      ),
    template: () =>
      run(
        "The template",
        "the template",
        [
          "template",
          "piece.json",
          "--cutter",
          p.cutter,
          ...(p.bush.trim() ? ["--bush", p.bush] : []),
          "--svg",
          "template.svg",
          "--dxf",
          "template.dxf",
        ],
        (done) => {
          file(done, "template.svg", "_template.svg", "image/svg+xml");
          file(done, "template.dxf", "_template.dxf", "application/dxf");
          p.text = "The template is drawn at 1:1, seen from below. Measure its bar of 100 mm before use.";
        },
      ),
    compare: () =>
      run(
        "The comparison",
        "the comparison",
        [
          "compare",
          "piece.json",
          "--vary",
          `${p.key}=${p.values}`,
          "--svg",
          "chart.svg",
          "--csv",
          "variants.csv",
          "--no-color",
          "--units",
          owner.units(),
        ],
        (done) => {
          p.text = done.out;
          file(done, "variants.csv", "_compared.csv", "text/csv");
          file(done, "chart.svg", "_compared.svg", "image/svg+xml");
          if (done.files["chart.svg"])
            p.chart = URL.createObjectURL(
              new Blob([/** @type {BlobPart} */ (done.files["chart.svg"])], {type: "image/svg+xml"}),
            );
        },
      ),
    /** @param {{name: string, data: Uint8Array, type: string}} made */
    save: (made) => save(made.name, made.data, made.type),
  };
}

/**
 * @param {Papers} p @param {ReturnType<typeof papersHand>} hand @param {string} text of the piece now
 * @param {() => void} changed
 */
export function papersView(p, hand, text, changed) {
  const type = (
    /** @type {"cutter"|"bush"|"values"} */ key,
    /** @type {string} */ label,
    /** @type {string} */ hint = "",
  ) =>
    h(
      `label#${key}`,
      {class: "field"},
      h("span#s", {}, label),
      h("input#i", {
        type: "text",
        autocomplete: "off",
        "=value": p[key],
        oninput: (e) => {
          p[key] = e.target.value;
        },
      }),
      hint && h("span#h", {class: "soft hint"}, hint),
    );
  const button = (/** @type {string} */ key, /** @type {string} */ words, /** @type {() => void} */ go) =>
    h(
      `button#${key}`,
      {
        type: "button",
        "aria-disabled": p.busy ? "true" : null,
        onclick: () => {
          if (!p.busy) go();
        },
      },
      words,
    );
  return [
    h("h2#head", {id: "papers-head"}, "Papers and questions"),
    h(
      "div#ask",
      {class: "ask"},
      h(
        "fieldset#report",
        {},
        h("legend", {}, "The report"),
        h(
          "label#quick",
          {class: "field flag"},
          h("input#i", {
            type: "checkbox",
            "=checked": p.quick,
            onchange: (e) => {
              p.quick = e.target.checked;
              changed();
            },
          }),
          h("span#s", {}, "without what takes further checks"),
        ),
        button("go", "Make the report", hand.report),
      ),
      h(
        "fieldset#template",
        {},
        h("legend", {}, "The router's template"),
        h(
          "div#f",
          {class: "fields"},
          type("cutter", "cutter"),
          type("bush", "guide bush", "empty: a bearing on the cutter"),
        ),
        button("go", "Draw the template (SVG, DXF)", hand.template),
      ),
      h(
        "fieldset#compare",
        {},
        h("legend", {}, "A comparison"),
        h(
          "div#f",
          {class: "fields"},
          h(
            "label#key",
            {class: "field"},
            h("span#s", {}, "what is varied"),
            h(
              "select#i",
              {
                "=value": p.key,
                onchange: (e) => {
                  p.key = e.target.value;
                  changed();
                },
              },
              ...VARIED.map(([id, words]) => h(`option#${id}`, {value: id}, words)),
            ),
          ),
          type("values", "values", "12..24 step 4, or a list parted by commas"),
        ),
        button("go", "Compare", hand.compare),
      ),
      h(
        "fieldset#questions",
        {},
        h("legend", {}, "Ask"),
        h(
          "p#b",
          {class: "buttons"},
          ...QUESTIONS.map(([words, what, command]) =>
            button(String(what), String(words), () =>
              hand.question(String(words), String(what), /** @type {string[]} */ (command)),
            ),
          ),
        ),
      ),
    ),
    h(
      "div#result",
      {role: "status", class: "result"},
      p.busy &&
        h("p#busy", {class: "pending"}, "Working; the answer above says for how long, and holds the button Stop."),
      p.wrong && h("p#wrong", {class: "wrong"}, p.wrong),
      p.heading && h("h3#h", {}, p.heading),
      p.heading &&
        p.of !== text &&
        h("p#old", {class: "pending"}, "Of the drawing as it was then; it has changed since."),
      p.made.length > 0 &&
        h(
          "p#made",
          {class: "buttons"},
          ...p.made.map((m) =>
            h(`button#${m.name}`, {type: "button", class: "first", onclick: () => hand.save(m)}, `Save ${m.name}`),
          ),
        ),
      p.chart && h("img#chart", {src: p.chart, alt: "The variants: weight against sag"}),
      p.text && h("pre#text", {tabindex: 0, role: "region", "aria-label": p.heading}, p.text),
    ),
  ];
}
