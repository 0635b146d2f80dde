// SPDX-License-Identifier: MIT
// @ts-check
/// The answer beside the drawing: verdict, what governs, weight, what it would take.
import {h} from "./patch.js";
import {shareOf} from "./answer.js";
import {pathOf} from "./piece.js";

/**
 * @typedef {import("./answer.js").Answer} Answer
 * @typedef {{answer: Answer|null, result: any, faults: {place: string, what: string}[], status: number, final: boolean,
 *   stale: boolean, busy: import("./work.js").Busy|null, stopped: boolean, failed: string, seconds: number}} Judged
 * @typedef {{stop: () => void, full: () => void, go: (id: string, place: string) => void,
 *   show: (at: [number, number]) => void}} Owner
 */

/** @param {Judged} j @returns {string} what a screen reader says, and the narrow page keeps in sight */
export function sentenceOf(j) {
  if (j.failed) return j.failed;
  if (j.faults.length > 0)
    return j.status === 3 ? `Not computed: ${j.faults[0].what}.` : `Not checked: ${j.faults[0].what}.`;
  if (!j.answer) return "";
  const first = j.answer.lines.find((l) => l.label === "Fails" || l.label === "Nearest");
  const worst = j.answer.rows[0];
  return (
    j.answer.verdict + (worst ? ` ${worst.what}: ${worst.used} of what is allowed.` : first ? ` ${first.text}` : "")
  );
}

/** @param {string} place such as "recesses[0].depth" @returns {string} the part that it speaks of */
export function partOf(place) {
  const path = pathOf(place);
  if (path.length === 0) return "";
  if (path[2] === "lands" && path.length > 3) return path.slice(0, 4).join(".");
  if (typeof path[1] === "number") return path.slice(0, 2).join(".");
  return "top";
}

/** @param {Judged} j @param {Owner} owner @returns {(import("./patch.js").Spec|false|null)[]} */
export function verdictView(j, owner) {
  const passes = j.answer !== null && !/does not/.test(j.answer.verdict);
  const state = j.busy
    ? j.stale || !j.answer
      ? `${j.busy.what} …`
      : j.final
        ? `${j.busy.what} …`
        : "Not final: the full check follows."
    : j.stopped
      ? "Stopped: what stands here is not final."
      : j.stale
        ? "Of the drawing before."
        : j.answer && !j.final
          ? "Not final."
          : j.answer
            ? `Checked in full, in ${j.seconds.toFixed(1)} s.`
            : "";
  /** @type {(import("./patch.js").Spec|false|null)[]} */ const specs = [
    h(
      "div#state",
      {class: "state"},
      h("span#words", {class: j.final && !j.stale ? "soft" : "pending"}, state),
      j.busy && h("span#time", {class: "soft time", id: "elapsed"}, ""),
      j.busy && h("button#stop", {type: "button", onclick: () => owner.stop()}, "Stop"),
      !j.busy &&
        (j.stopped || (j.answer && !j.final)) &&
        h("button#full", {type: "button", onclick: () => owner.full()}, "Check in full"),
    ),
  ];
  if (j.failed) specs.push(h("p#failed", {class: "wrong"}, j.failed));
  if (j.faults.length > 0) {
    specs.push(
      h(
        "p#sentence",
        {class: "sentence fails"},
        j.status === 3 ? "This could not be computed." : "This is not checked: something in it makes no sense yet.",
      ),
    );
    specs.push(
      h(
        "ul#faults",
        {class: "faults"},
        ...j.faults
          .slice(0, 8)
          .map((f, i) =>
            h(
              `li#${i}`,
              {},
              f.place ? h("code#c", {}, f.place) : "",
              " ",
              f.what,
              " ",
              f.place &&
                h(
                  "button#go",
                  {
                    type: "button",
                    "aria-label": `Go there: ${f.place}`,
                    onclick: () => owner.go(partOf(f.place), f.place),
                  },
                  "Go there",
                ),
            ),
          ),
      ),
    );
    return specs;
  }
  const a = j.answer;
  if (!a) return specs;
  specs.push(
    h("p#sentence", {class: `sentence${passes ? "" : " fails"}${j.stale || !j.final ? " pending" : ""}`}, a.verdict),
  );
  const old = j.stale ? " old" : "";
  const important = a.lines.filter((l) =>
    ["Fails", "Solid", "Enough is", "or", "No way found", "To change", "Nearest", "Hollow?", "Weight"].includes(
      l.label,
    ),
  );
  const rest = a.lines.filter((l) => !important.includes(l));
  const list = (/** @type {string} */ key, /** @type {import("./answer.js").Line[]} */ lines) =>
    h(
      `dl#${key}`,
      {class: `lines${old}`},
      ...lines.map((l, i) =>
        h(`div#${i}`, {class: l.label === "Fails" ? "fails" : null}, h("dt", {}, l.label), h("dd", {}, l.text)),
      ),
    );
  if (important.length > 0) specs.push(list("important", important));
  if (a.rows.length > 0) {
    const places = placesOf(j.result);
    specs.push(
      h(
        "table#rows",
        {class: `rows${old}`},
        h("caption#c", {}, a.headings[0] ?? "used most of what is allowed"),
        h(
          "thead#h",
          {},
          h(
            "tr",
            {},
            h("th", {scope: "col"}, "check"),
            h("th", {scope: "col"}, "found, allowed"),
            h("th", {scope: "col"}, "used"),
            h("th", {scope: "col"}, "where"),
          ),
        ),
        h(
          "tbody#b",
          {},
          ...a.rows.map((row) =>
            h(
              `tr#${row.what}`,
              {class: row.over ? "over" : null},
              h("th", {scope: "row"}, row.what, row.over && h("span", {class: "word"}, " over")),
              h(
                "td",
                {},
                /^from /.test(row.allowed)
                  ? `${row.found}, at least ${row.allowed.slice(5)}`
                  : `${row.found} of ${row.allowed}`,
              ),
              h(
                "td",
                {},
                row.used,
                h("span", {class: "bar", "--share": Math.min(1, shareOf(row.used)), "aria-hidden": "true"}),
              ),
              h(
                "td",
                {},
                places.has(row.what) && row.at
                  ? h(
                      "button",
                      {
                        type: "button",
                        "aria-label": `Show ${row.what} at ${row.at}`,
                        onclick: () => owner.show(/** @type {[number, number]} */ (places.get(row.what))),
                      },
                      row.at,
                    )
                  : row.at,
              ),
            ),
          ),
        ),
      ),
    );
  }
  if (rest.length > 0) specs.push(list("rest", rest));
  return specs;
}

/**
 * The place of the hardest used row of each check.
 * @param {any} result @returns {Map<string, [number, number]>}
 */
export function placesOf(result) {
  /** @type {Map<string, [number, number]>} */ const places = new Map();
  /** @type {Map<string, number>} */ const most = new Map();
  for (const c of result?.checks ?? []) {
    if (!Array.isArray(c.at_mm) || !((c.utilisation ?? 0) > (most.get(c.check) ?? -1))) continue;
    most.set(c.check, c.utilisation);
    places.set(c.check, c.at_mm);
  }
  return places;
}
