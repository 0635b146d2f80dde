// SPDX-License-Identifier: MIT
// @ts-check
/// What was drawn before, to go back to and forth.

const MOST = 200;

export class History {
  /** @type {string[]} */ #before = [];
  /** @type {string[]} */ #after = [];
  /** @type {string|undefined} */ #pull;
  #at = 0;
  /** @param {string} now */
  constructor(now) {
    this.now = now;
  }
  get canUndo() {
    return this.#before.length > 0;
  }
  get canRedo() {
    return this.#after.length > 0;
  }
  /** @param {string} text @param {string} [pull] edits of the same pull, close upon each other, are one */
  put(text, pull) {
    if (text === this.now) return;
    const now = Date.now();
    const goesOn = pull !== undefined && pull === this.#pull && now - this.#at < 1500;
    this.#pull = pull;
    this.#at = now;
    if (!goesOn) this.#before.push(this.now);
    if (this.#before.length > MOST) this.#before.shift();
    this.#after = [];
    this.now = text;
  }
  undo() {
    this.#pull = undefined;
    const text = this.#before.pop();
    if (text === undefined) return this.now;
    this.#after.push(this.now);
    return (this.now = text);
  }
  redo() {
    const text = this.#after.pop();
    if (text === undefined) return this.now;
    this.#before.push(this.now);
    return (this.now = text);
  }
}
