// SPDX-License-Identifier: MIT
// @ts-check
/// What is computed, and when: quick answers while something is pulled, the full check once it rests. One run at a
/// time; an edit stops a full check, and a quick one is followed by one of the newest drawing.

/**
 * @typedef {{status: number, out: string, err: string, files: Record<string, Uint8Array>}} Run
 * @typedef {Record<string, string|Uint8Array>} Files
 * @typedef {{run: (words: string[], files?: Files, options?: {signal?: AbortSignal}) => Promise<Run>,
 *   ready: Promise<{version: string}>}} EngineLike
 * @typedef {{final: boolean, text: string, run: Run, seconds: number}} Done
 * @typedef {{what: string, since: number}} Busy
 */

export const QUICK = ["--quick"];
const REST = 250; // ms without an edit, after which the full check begins

export class Work {
  /** @type {AbortController|null} */ #running = null;
  #final = false;
  #text = "";
  #pulled = false;
  #stopped = false;
  #wanted = false;
  #checking = false; // a check of this drawing is under way or is still owed
  /** @type {ReturnType<typeof setTimeout>|undefined} */ #timer;
  /** @type {Busy|null} */ busy = null;
  lastSeconds = Infinity;
  get stopped() {
    return this.#stopped;
  }

  /**
   * @param {EngineLike} engine
   * @param {{units: () => string, done: (done: Done) => void, failed: (message: string) => void,
   *   changed: () => void}} told
   */
  constructor(engine, told) {
    this.engine = engine;
    this.told = told;
  }

  /** @param {string} text @param {boolean} pulled still going on */
  edited(text, pulled) {
    this.#text = text;
    this.#pulled = pulled;
    this.#stopped = this.#wanted = false;
    this.#checking = true;
    clearTimeout(this.#timer);
    if (this.#running && this.#final) this.#end();
    if (pulled || this.lastSeconds > 0.5) this.#quick();
    if (!pulled) this.#timer = setTimeout(() => this.#full(), REST);
  }

  /** Stops what runs, and does not begin again by itself. */
  stop() {
    clearTimeout(this.#timer);
    this.#stopped = this.#checking;
    this.#end();
    this.told.changed();
  }

  full() {
    this.#stopped = false;
    void this.#full();
  }

  /**
   * Something else than the check: the report, the template. A check that was under way is stopped, and begins again
   * after it where `again` asks so.
   * @param {string} what @param {string[]} words @param {Files} files @param {boolean} again
   * @returns {Promise<Run>}
   */
  async other(what, words, files, again = true) {
    const checking = again && this.#checking;
    clearTimeout(this.#timer);
    this.#end();
    try {
      return await this.#run(what, words, files, true);
    } finally {
      if (checking && !this.#running && !this.#stopped) void this.#full();
    }
  }

  #end() {
    this.#running?.abort();
    this.#running = null;
    this.busy = null;
  }

  /** @param {string} what @param {string[]} words @param {Files} files @param {boolean} final */
  async #run(what, words, files, final) {
    const mine = new AbortController();
    this.#running = mine;
    this.#final = final;
    this.busy = {what, since: performance.now()};
    this.told.changed();
    try {
      return await this.engine.run(words, files, {signal: mine.signal});
    } finally {
      if (this.#running === mine) {
        this.#running = null;
        this.busy = null;
        this.told.changed();
      }
    }
  }

  async #quick() {
    if (this.#running) return;
    const text = this.#text;
    await this.#check(text, false);
    if (this.#stopped || this.#running) return;
    if (this.#text !== text) this.#quick();
    else if (this.#wanted) this.#full();
  }

  async #full() {
    clearTimeout(this.#timer);
    this.#wanted = this.#running !== null && !this.#final; // it follows the quick one
    if (this.#running) return;
    await this.#check(this.#text, true);
  }

  /** @param {string} text @param {boolean} final */
  async #check(text, final) {
    const since = performance.now();
    this.#checking = true;
    const words = [
      "check",
      "piece.json",
      "--json",
      "answer.json",
      "--no-color",
      "--units",
      this.told.units(),
      ...(final ? [] : QUICK),
    ];
    try {
      const run = await this.#run(final ? "checking in full" : "a first answer", words, {"piece.json": text}, final);
      const seconds = (performance.now() - since) / 1000;
      if (final) this.lastSeconds = seconds;
      if (final && text === this.#text) this.#checking = false;
      this.told.done({final, text, run, seconds});
    } catch (error) {
      const e = /** @type {Error} */ (error);
      if (e.name !== "AbortError") this.told.failed(e.message);
    }
  }
}
