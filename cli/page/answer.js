// SPDX-License-Identifier: MIT
// @ts-check
/// The answer of a check as the command line words it, taken apart for the page.

/**
 * @typedef {{label: string, text: string}} Line
 * @typedef {{what: string, found: string, allowed: string, used: string, at: string, over: boolean}} Row
 * @typedef {{verdict: string, lines: Line[], rows: Row[], headings: string[], caution: string}} Answer
 */

const LABEL = /^(\S(?:.{0,11}?\S)?)\s{2,}(\S.*)$/;

/**
 * What the command line calls by an option, the page calls by a button.
 * @param {string} text
 */
const asThePageSays = (text) =>
  text
    .replace(/\(see --band\)/g, '(ask "How sure is that?")')
    .replace(/ \(a finer mesh may help: --mesh fine\)/g, "")
    .replace(/ \(--quick\), not final: /g, ", not final: ")
    .replace(/: --full\.$/g, ': "Say everything".');

/** @param {string} text of `check` @returns {Answer} */
export function answerOf(text) {
  const all = text.split("\n");
  /** @type {Answer} */ const answer = {verdict: "", lines: [], rows: [], headings: [], caution: ""};
  for (let i = 1; i < all.length; i++) {
    const line = all[i];
    if (line.trim() === "") continue;
    if (/^This top /.test(line)) {
      answer.verdict = line.trim();
      continue;
    }
    if (/^ {2}\S/.test(line)) {
      const cells = line.trim().split(/\s{2,}/);
      if (cells.includes("found") && cells.includes("allowed")) {
        answer.headings = cells;
        continue;
      }
      if (cells.length < 4) continue;
      const over = cells[cells.length - 1] === "over";
      answer.rows.push({
        what: cells[0],
        found: cells[1],
        allowed: cells[2],
        used: cells[3],
        over,
        at: cells.length > 4 + (over ? 1 : 0) ? cells[4] : "",
      });
      continue;
    }
    if (/^ {13}\S/.test(line)) {
      const last = answer.lines[answer.lines.length - 1];
      if (last) last.text += ` ${line.trim()}`;
      continue;
    }
    const labelled = line.length > 13 && line[12] === " " ? LABEL.exec(line) : null;
    if (labelled) answer.lines.push({label: labelled[1], text: labelled[2]});
    else answer.caution += (answer.caution ? " " : "") + line.trim();
  }
  for (const line of answer.lines) {
    line.text = asThePageSays(line.text);
    if (line.label !== "Fails") continue;
    // each thing that fails on a line of its own
    for (const {what} of answer.rows) line.text = line.text.replace(` ${what} at `, `\n${what} at `);
    line.text = line.text.replace(/ (and \d+ more checks?)$/, "\n$1");
  }
  return answer;
}

/** @param {string} used "89 %" @returns {number} a share */
export function shareOf(used) {
  const m = /([\d.]+)\s*%/.exec(used);
  return m ? Number(m[1]) / 100 : 0;
}

/**
 * What was wrong, from standard error: one for each line.
 * @param {string} err
 * @returns {{place: string, what: string}[]}
 */
export function faultsOf(err) {
  return err
    .split("\n")
    .map((l) => l.trim())
    .filter(Boolean)
    .map((line) => {
      const m =
        /^(?:hollowtop(?: \w+)?|piece\.json): (?:((?:[\w$]+(?:\[\d+\])*)(?:\.[\w$]+(?:\[\d+\])*)*): )?(.*)$/.exec(line);
      return m ? {place: m[1] ?? "", what: m[2]} : {place: "", what: line};
    });
}
