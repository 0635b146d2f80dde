// SPDX-License-Identifier: MIT
// @ts-check
/// The parts as a list, and the numbers of the one that is chosen.
import {h} from "./patch.js";
import {fieldsOfPart, rawOf} from "./fields.js";
import {INCH, lengthOf, plainLength, stepOf, writtenLength} from "./units.js";

/**
 * @typedef {import("./model.js").Model} Model
 * @typedef {import("./model.js").Part} Part
 * @typedef {import("./fields.js").Field} Field
 * @typedef {{model: Model, selected: string|null, units: import("./units.js").Units,
 *   faults: {place: string, what: string}[],
 *   typed: Map<string, {text: string, wrong: string}>, woods: {id: string, name: string}[]}} Listed
 * @typedef {{select: (id: string|null) => void, put: (edits: import("./handles.js").Edits, pull?: string) => void,
 *   remove: (part: Part) => void,
 *   typed: (key: string, text: string|null, wrong: string) => void}} Owner
 */

/**
 * "recesses[0].depth".
 * @param {import("./piece.js").Path} path
 */
export const placeWords = (path) =>
  path.map((p, i) => (typeof p === "number" ? `[${p}]` : (i ? "." : "") + p)).join("");

/** @param {unknown} raw @param {Field} field @param {Listed} l @returns {string} what the field shows */
function shownOf(raw, field, l) {
  if (raw === undefined || raw === null) return "";
  if (field.type === "length") {
    const mm = lengthOf(raw, l.model.units);
    return mm === null ? String(raw) : plainLength(mm, l.units);
  }
  return typeof raw === "object" ? JSON.stringify(raw) : String(raw);
}

/**
 * What was typed, as the file shall say it.
 * @param {Field} field @param {string} text @param {Listed} l @returns {{value: any}|{wrong: string}}
 */
function valueOfTyped(field, text, l) {
  const trimmed = text.trim();
  if (trimmed === "") return field.may ? {value: undefined} : {wrong: "this is needed"};
  if (field.type === "length") {
    const mm = lengthOf(trimmed, l.units);
    if (mm === null)
      return {wrong: `"${trimmed}" is not a length; write it like "42 mm", "4.2 cm", "1-5/8 in" or "3'6""`};
    return {value: writtenLength(mm, l.model.units, rawOf(l.model, field))};
  }
  if (field.type === "number") {
    const v = Number(trimmed);
    return Number.isFinite(v) ? {value: v} : {wrong: `"${trimmed}" is no number`};
  }
  const before = rawOf(l.model, field),
    number = Number(trimmed);
  return {value: typeof before === "number" && Number.isFinite(number) ? number : trimmed};
}

/** @param {Field} field @param {Listed} l @param {Owner} owner */
function fieldSpec(field, l, owner) {
  const key = placeWords(field.path),
    raw = rawOf(l.model, field),
    typed = l.typed.get(key);
  const fault =
    typed?.wrong ||
    l.faults.find((f) => f.place === key || f.place.startsWith(`${key}[`) || f.place.startsWith(`${key}.`))?.what ||
    "";
  const unit = field.type === "length" ? `, ${l.units}` : "",
    id = `f-${key}`;
  const hint = "hint" in field && field.hint ? field.hint : "";
  const about = {id, "aria-invalid": fault ? "true" : null, "aria-describedby": fault ? `${id}-wrong` : null};
  const set = (/** @type {any} */ value) => {
    // an outline that was left out is a rectangle
    const wants = key === "top.outline.corner_radius" && !l.model.raw?.top?.outline && value !== undefined;
    owner.put(wants ? [[["top", "outline"], {shape: "rectangle", corner_radius: value}]] : [[field.path, value]]);
  };
  const changed = (/** @type {string} */ text) => {
    const got = valueOfTyped(field, text, l);
    if ("wrong" in got) {
      owner.typed(key, text, got.wrong);
      return;
    }
    owner.typed(key, null, "");
    set(got.value);
  };
  const label = h("span#s", {}, field.label + unit);
  const wrong = fault ? h("span#w", {class: "wrong", id: `${id}-wrong`}, fault) : null;
  if (field.type === "flag")
    return h(
      `label#${key}`,
      {class: "field flag"},
      h("input#i", {
        ...about,
        type: "checkbox",
        "=checked": raw === true || (raw !== undefined && raw !== false),
        onchange: (e) => set(e.target.checked ? true : undefined),
      }),
      label,
      wrong,
    );
  if (field.type === "choice" || field.type === "wood") {
    const now = shownOf(raw, field, l);
    /** @type {string[][]} */ let choices =
      field.type === "choice"
        ? field.choices.map((c) => [c, c.replace(/_/g, " ")])
        : l.woods.map((w) => [w.id, w.name]);
    const same = choices.find(([id2, name]) =>
      [id2, name].some((x) => x.toLowerCase().replace(/_/g, " ") === now.toLowerCase().replace(/_/g, " ")),
    );
    if (now && !same) choices = [[now, now], ...choices];
    if (field.may) choices = [["", "not said"], ...choices];
    return h(
      `label#${key}`,
      {class: "field"},
      label,
      h(
        "select#i",
        {...about, "=value": same ? same[0] : now, onchange: (e) => set(e.target.value || undefined)},
        ...choices.map(([value, name]) => h(`option#${value}`, {value}, name)),
      ),
      wrong,
    );
  }
  const suggested = field.type === "suggested" ? field.choices : [];
  const list = suggested.length > 0 ? `${id}-list` : null;
  return h(
    `label#${key}`,
    {class: `field${field.type === "length" || field.type === "number" ? " short" : ""}`},
    label,
    h("input#i", {
      ...about,
      type: "text",
      autocomplete: "off",
      list,
      "=value": typed ? typed.text : shownOf(raw, field, l),
      onchange: (e) => changed(e.target.value),
      onkeydown: (e) => {
        if (field.type !== "length" || (e.key !== "ArrowUp" && e.key !== "ArrowDown")) return;
        const mm = lengthOf(e.target.value, l.units);
        if (mm === null) return;
        e.preventDefault();
        const to = mm + (e.key === "ArrowUp" ? 1 : -1) * stepOf(l.units) * (e.shiftKey ? 10 : 1);
        e.target.value = plainLength(to, l.units);
        owner.typed(key, null, "");
        owner.put([[field.path, writtenLength(to, l.model.units, raw)]], key);
      },
    }),
    list && h("datalist#d", {id: list}, ...suggested.map((c) => h(`option#${c}`, {value: c}))),
    hint && h("span#h", {class: "soft hint"}, hint),
    wrong,
  );
}

/** @param {Part} part @param {Listed} l */
function summary(part, l) {
  const raw = part.raw ?? {};
  if (part.kind === "load") return [raw.force ?? raw.pressure, part.note].filter((x) => x !== undefined).join(", ");
  if (part.kind === "stiffener") return String(raw.section ?? "");
  void l;
  void INCH;
  return "";
}

/** @param {Listed} l @param {Owner} owner @returns {(import("./patch.js").Spec|null|false)[]} */
export function partsView(l, owner) {
  const chosen = l.model.parts.find((p) => p.id === l.selected);
  const wrong = (/** @type {Part} */ p) =>
    l.faults.some((f) => f.place.startsWith(placeWords(p.path)) && p.kind !== "top");
  return [
    h("h2#head", {id: "parts-head"}, "The parts, by number"),
    h(
      "ul#list",
      {class: "partlist"},
      ...l.model.parts.map((p) =>
        h(
          `li#${p.id}`,
          {},
          h(
            "button#b",
            {
              type: "button",
              class: wrong(p) ? "over" : null,
              "aria-pressed": p.id === l.selected ? "true" : "false",
              onclick: () => owner.select(p.id === l.selected ? null : p.id),
            },
            p.kind === "top" ? "the top" : `${p.kind}: ${p.name}`,
            summary(p, l) && h("small#s", {}, ` ${summary(p, l)}`),
          ),
        ),
      ),
    ),
    l.model.raw?.use &&
      h("p#use", {class: "soft"}, `The use "${l.model.raw.use}" brings its own loads and limits beside these.`),
    chosen
      ? h(
          `div#chosen-${chosen.id}`,
          {
            class: "chosen",
            role: "group",
            "aria-label": chosen.kind === "top" ? "the top" : `${chosen.kind} ${chosen.name}`,
          },
          h("h3#h", {}, chosen.kind === "top" ? "The top" : `${chosen.kind}: ${chosen.name}`),
          h("div#fields", {class: "fields"}, ...fieldsOfPart(l.model, chosen).map((f) => fieldSpec(f, l, owner))),
          chosen.kind !== "top" &&
            h(
              "p#p",
              {class: "buttons"},
              h(
                "button#remove",
                {type: "button", onclick: () => owner.remove(chosen)},
                `Take this ${chosen.kind} away`,
              ),
            ),
        )
      : h("p#none", {class: "soft"}, "Choose a part here or on the drawing to change its numbers."),
  ];
}
