// SPDX-License-Identifier: MIT
// @ts-check
/// What stands round the drawing: commands, what can be drawn anew, the file itself, cautions.
import {h} from "./patch.js";
import {NEW_PARTS} from "./fields.js";

/** @typedef {import("./board.js").Board} Board */

/** @param {Board} b */
export function commandsView(b) {
  const button = (/** @type {string} */ key, /** @type {string} */ words, /** @type {() => void} */ go, off = false) =>
    h(`button#${key}`, {type: "button", id: `do-${key}`, disabled: off, onclick: go}, words);
  return [
    button("new", "New", () => b.opening.questions()),
    button("open", "Open", () => b.opening.pick()),
    button("save", "Save", () => b.opening.save(), !b.text),
    button("undo", "Undo", () => b.undo(), !b.history?.canUndo),
    button("redo", "Redo", () => b.redo(), !b.history?.canRedo),
    button("link", "Link", () => void b.opening.link(), !b.text),
    button("print", "Print", () => window.print(), !b.text),
    h(
      "label#units",
      {},
      h("span", {}, "units "),
      h(
        "select#i",
        {id: "units", "=value": b.units, onchange: (e) => b.choose({units: e.target.value})},
        h("option#mm", {value: "mm"}, "mm, kg"),
        h("option#in", {value: "in"}, "inches, lb"),
      ),
    ),
    h(
      "label#theme",
      {},
      h("span", {}, "light "),
      h(
        "select#i",
        {id: "theme", "=value": b.choices.theme ?? "device", onchange: (e) => b.choose({theme: e.target.value})},
        h("option#device", {value: "device"}, "as the device"),
        h("option#light", {value: "light"}, "light"),
        h("option#dark", {value: "dark"}, "dark"),
      ),
    ),
    h("input#file", {
      type: "file",
      id: "file",
      accept: ".json,application/json,text/plain",
      hidden: true,
      "aria-label": "Open a piece file",
      tabindex: -1,
      onchange: (e) => {
        const f = e.target.files?.[0];
        e.target.value = "";
        if (f) void b.opening.file(f);
      },
    }),
  ];
}

/** @param {Board} b */
export function newPartsView(b) {
  return [
    h("span#w", {class: "soft", id: "adding-words"}, "Draw"),
    ...Object.entries(NEW_PARTS).map(([kind, {words}]) =>
      h(
        `button#${kind}`,
        {type: "button", "aria-pressed": b.adding === kind ? "true" : "false", onclick: () => b.startAdding(kind)},
        words,
      ),
    ),
  ];
}

/** @param {Board} b */
export function textView(b) {
  return [
    h("h2#head", {id: "text-head"}, "The piece file"),
    h(
      "details#d",
      {},
      h("summary", {}, "The text, as the command line reads it"),
      h(
        "label#l",
        {for: "piece-text", class: "soft"},
        "JSON; comments are kept. What the fields above do not know is changed here.",
      ),
      h("textarea#t", {id: "piece-text", rows: 18, spellcheck: "false", "=value": b.text}),
      h(
        "p#p",
        {class: "buttons"},
        h(
          "button#take",
          {
            type: "button",
            onclick: () => b.opening.text(/** @type {HTMLTextAreaElement} */ (b.at("piece-text")).value),
          },
          "Take this text",
        ),
      ),
    ),
    b.opening.linkText &&
      h(
        "p#link",
        {},
        h(
          "label#l",
          {for: "link-text"},
          "A link that carries the piece in itself; nothing is sent until you send it: ",
        ),
        h("input#i", {
          id: "link-text",
          type: "text",
          readonly: true,
          "=value": b.opening.linkText,
          onfocus: (e) => e.target.select(),
        }),
      ),
  ];
}

/** @param {Board} b */
export function footView(b) {
  const cautions = b.judged.result?.cautions ?? [];
  return [
    !b.keeps &&
      h("p#kept", {class: "wrong"}, "This browser keeps nothing for this page: save the piece before you close it."),
    h(
      "p#whole",
      {},
      'The report holds all of it, with every source; so does the answer to "Say everything" above. ',
      `hollowtop${b.version ? ` ${b.version}` : ""} computes on your own device; nothing is sent anywhere.`,
    ),
    cautions.length > 0 &&
      h(
        "details#cautions",
        {},
        h("summary", {}, "All cautions"),
        h("ul", {}, ...cautions.map((/** @type {string} */ c) => h("li", {}, c))),
      ),
  ];
}

/**
 * Of the whole page.
 * @param {Board} b @param {KeyboardEvent} e
 */
export function keyPressed(b, e) {
  const typing = e.target instanceof Element && e.target.matches("input, textarea, select");
  if (e.key === "Escape" && b.adding) {
    b.adding = null;
    b.say("Nothing drawn.");
    b.show();
    return;
  }
  if (!(e.ctrlKey || e.metaKey) || e.altKey) return;
  const key = e.key.toLowerCase();
  if (key === "z" && !typing) {
    if (e.shiftKey) b.redo();
    else b.undo();
  } else if (key === "y" && !typing) b.redo();
  else if (key === "s") b.opening.save();
  else return;
  e.preventDefault();
}
