// SPDX-License-Identifier: MIT
// @ts-check
/// The hand on the drawing: pointer, touch and keyboard.
import {handlesOf, onGrid, placeText, typedPlace} from "./handles.js";
import {gripAt} from "./drawing.js";
import {h, patch} from "./patch.js";
import {snapped, stepOf} from "./units.js";

/**
 * @typedef {import("./model.js").Model} Model
 * @typedef {import("./model.js").Part} Part
 * @typedef {import("./model.js").Point} Point
 * @typedef {import("./handles.js").Handle} Handle
 * @typedef {{
 *   model: () => Model|null, view: () => import("./drawing.js").View, units: () => import("./units.js").Units,
 *   selected: () => string|null, select: (id: string|null) => void, freeze: (still: boolean) => void,
 *   pull: (edits: import("./handles.js").Edits) => void, letGo: () => void, giveUp: () => void,
 *   put: (edits: import("./handles.js").Edits, pull?: string) => void, remove: (part: Part) => void,
 *   place: (at: Point) => void, gesture: () => "rect"|"line"|"point"|"none"|null,
 *   sketch: (shape: import("./model.js").Shape|null) => void,
 *   add: (from: Point, to: Point) => void, addDefault: () => void, noGesture: () => void,
 *   tell: (words: string) => void,
 * }} Owner
 */

const STILL = 4; // pixels that a tap may wander

export class Hand {
  /**
   * @type {{part: Part|null, handle: Handle|null, from: [number, number], at: Point, moved: boolean,
   *   sketching: boolean, touch: boolean}|null}
   */
  #hold = null;

  /** @param {SVGSVGElement} svg @param {HTMLFormElement} typing @param {Owner} owner */
  constructor(svg, typing, owner) {
    this.svg = svg;
    this.typing = typing;
    this.owner = owner;
    svg.addEventListener("pointerdown", (e) => this.#down(e, null, null));
    svg.addEventListener("pointermove", (e) => this.#move(e));
    svg.addEventListener("pointerup", (e) => this.#up(e));
    svg.addEventListener("pointercancel", () => this.#cancel());
    // a finger that pulls does not scroll the page; one beside a grip does
    const keep = (/** @type {TouchEvent} */ e) => {
      if (this.#hold && (this.#hold.handle || this.#hold.sketching) && e.cancelable) e.preventDefault();
    };
    svg.addEventListener("touchstart", keep, {passive: false});
    svg.addEventListener("touchmove", keep, {passive: false});
    typing.addEventListener("submit", (e) => {
      e.preventDefault();
      this.#typed();
    });
    typing.addEventListener("keydown", (e) => {
      if (e.key === "Escape") {
        e.stopPropagation();
        this.#closeTyping(true);
      }
    });
    typing.addEventListener("focusout", () =>
      setTimeout(() => {
        if (!typing.hidden && !typing.contains(document.activeElement)) this.#closeTyping(false);
      }),
    );
  }

  /** @param {Part} part @returns {import("./patch.js").Attributes} */
  part(part) {
    return {
      onpointerdown: (/** @type {PointerEvent} */ e) => this.#down(e, part, null),
      onkeydown: (/** @type {KeyboardEvent} */ e) => this.#partKey(e, part),
      // a press by a screen reader comes as a click without a pointer
      onclick: (/** @type {MouseEvent} */ e) => {
        if (e.detail === 0) this.#take(part);
      },
    };
  }

  /** @param {Part} part @param {Handle} handle @returns {import("./patch.js").Attributes} */
  handle(part, handle) {
    return {
      onpointerdown: (/** @type {PointerEvent} */ e) => this.#down(e, part, handle),
      onkeydown: (/** @type {KeyboardEvent} */ e) => this.#handleKey(e, part, handle),
      onclick: (/** @type {MouseEvent} */ e) => {
        if (e.detail === 0) this.#type(part, handle);
      },
    };
  }

  /** @param {{clientX: number, clientY: number}} e @returns {Point} in mm */
  #mm(e) {
    const box = this.svg.getBoundingClientRect(),
      v = this.owner.view();
    return [(e.clientX - box.left - v.x) / v.scale, (e.clientY - box.top - v.y) / v.scale];
  }

  /** @param {PointerEvent} e @param {Part|null} part @param {Handle|null} handle */
  #down(e, part, handle) {
    if (this.#hold || e.button > 0 || !this.owner.model()) return;
    e.stopPropagation();
    const sketching = this.owner.gesture() !== null;
    const touch = e.pointerType === "touch";
    if (handle || sketching || !touch) e.preventDefault();
    if (handle) /** @type {HTMLElement} */ (/** @type {unknown} */ (e.currentTarget)).focus?.({preventScroll: true});
    const move = part && !handle && part.kind !== "top" && !touch ? this.#moveHandle(part) : null;
    this.#hold = {
      part,
      handle: sketching ? null : (handle ?? move),
      from: [e.clientX, e.clientY],
      at: this.#mm(e),
      moved: false,
      sketching,
      touch,
    };
    if (handle || sketching || !touch) this.svg.setPointerCapture(e.pointerId);
  }

  /** @param {Part} part */
  #moveHandle(part) {
    const model = this.owner.model();
    return (model && handlesOf(model, part).find((x) => x.key === "move")) ?? null;
  }

  /** @param {PointerEvent} e */
  #move(e) {
    const hold = this.#hold;
    if (!hold) return;
    if (!hold.moved && Math.hypot(e.clientX - hold.from[0], e.clientY - hold.from[1]) < STILL) return;
    if (!hold.moved) {
      hold.moved = true;
      this.owner.freeze(true);
      if (hold.part && hold.handle) this.owner.select(hold.part.id);
    }
    const to = this.#mm(e),
      units = this.owner.units();
    if (hold.sketching) {
      this.owner.sketch(this.#sketch(hold.at, to));
      return;
    }
    if (!hold.handle) return;
    const target = onGrid(
      hold.handle,
      [hold.handle.at[0] + to[0] - hold.at[0], hold.handle.at[1] + to[1] - hold.at[1]],
      units,
    );
    this.owner.pull(hold.handle.edits(target));
  }

  /** @param {Point} a @param {Point} b @returns {import("./model.js").Shape} */
  #sketch(a, b) {
    const s = (/** @type {number} */ v) => snapped(v, this.owner.units());
    if (this.owner.gesture() === "line") return {type: "line", a: [s(a[0]), s(a[1])], b: [s(b[0]), s(b[1])], width: 20};
    return {
      type: "rect",
      x0: s(Math.min(a[0], b[0])),
      x1: s(Math.max(a[0], b[0])),
      y0: s(Math.min(a[1], b[1])),
      y1: s(Math.max(a[1], b[1])),
      r: 0,
    };
  }

  /** @param {PointerEvent} e */
  #up(e) {
    const hold = this.#hold;
    if (!hold) return;
    this.#hold = null;
    this.owner.freeze(false);
    const to = this.#mm(e),
      s = (/** @type {number} */ v) => snapped(v, this.owner.units());
    if (hold.sketching) {
      this.owner.sketch(null);
      this.owner.add(
        [s(hold.at[0]), s(hold.at[1])],
        hold.moved ? [s(to[0]), s(to[1])] : [s(hold.at[0]), s(hold.at[1])],
      );
    } else if (hold.moved) {
      if (hold.handle) this.owner.letGo();
    } else if (hold.part && hold.handle && hold.handle.key !== "move") this.#type(hold.part, hold.handle);
    else {
      this.owner.select(hold.part ? hold.part.id : null);
      if (hold.part) this.owner.place([s(to[0]), s(to[1])]);
    }
  }

  #cancel() {
    const hold = this.#hold;
    if (!hold) return;
    this.#hold = null;
    this.owner.freeze(false);
    if (hold.sketching) this.owner.sketch(null);
    if (hold.moved && hold.handle) this.owner.giveUp();
  }

  /**
   * Selected by keyboard: its first handle takes the focus.
   * @param {Part} part
   */
  #take(part) {
    this.owner.select(part.id);
    requestAnimationFrame(() => {
      const first = /** @type {SVGElement|null} */ (this.svg.querySelector("#handles .handle, .handle"));
      first?.focus();
    });
  }

  /** @param {KeyboardEvent} e @param {Part} part */
  #partKey(e, part) {
    if (e.key === "Enter" || e.key === " ") {
      if (this.owner.gesture()) this.owner.addDefault();
      else this.#take(part);
    } else if (e.key === "Delete") this.owner.remove(part);
    else if (e.key === "Escape") this.#escape();
    else if (e.key.startsWith("Arrow") && this.owner.selected() === part.id) {
      const move = this.#moveHandle(part);
      if (!move) return;
      this.#nudge(e, part, move);
    } else return;
    e.preventDefault();
  }

  #escape() {
    if (this.#hold) this.#cancel();
    else if (this.owner.gesture()) this.owner.noGesture();
    else this.owner.select(null);
  }

  /** @param {KeyboardEvent} e @param {Part} part @param {Handle} handle */
  #handleKey(e, part, handle) {
    e.stopPropagation();
    if (e.key.startsWith("Arrow")) this.#nudge(e, part, handle);
    else if (e.key === "Enter" || e.key === " ") this.#type(part, handle);
    else if (e.key === "Delete") this.owner.remove(part);
    else if (e.key === "Escape") {
      if (this.#hold) this.#cancel();
      else {
        /** @type {SVGElement|null} */ (this.svg.querySelector(`[data-part="${CSS.escape(part.id)}"]`))?.focus();
        this.owner.select(null);
      }
    } else return;
    e.preventDefault();
  }

  /** @param {Part} part @param {Handle} handle @returns {Handle|undefined} the same handle of what is drawn now */
  #asItIs(part, handle) {
    const model = this.owner.model();
    const now = model?.parts.find((p) => p.id === part.id);
    return model && now ? handlesOf(model, now).find((x) => x.key === handle.key) : undefined;
  }

  /** @param {KeyboardEvent} e @param {Part} part @param {Handle} handle */
  #nudge(e, part, handle) {
    const units = this.owner.units(),
      step = stepOf(units) * (e.shiftKey ? 10 : 1);
    let dx = e.key === "ArrowRight" ? step : e.key === "ArrowLeft" ? -step : 0;
    let dy = e.key === "ArrowDown" ? step : e.key === "ArrowUp" ? -step : 0;
    if (handle.axes === "x" && dx === 0) {
      dx = -dy;
      dy = 0;
    }
    if (handle.axes === "y" && dy === 0) {
      dy = dx;
      dx = 0;
    }
    // a second press may come before the first is shown
    const stands = this.#asItIs(part, handle) ?? handle;
    this.owner.put(stands.edits([stands.at[0] + dx, stands.at[1] + dy]), `${part.id}:${handle.key}`);
    const there = this.#asItIs(part, handle);
    if (there && there.axes === "xy") this.owner.tell(placeText(there, units));
  }

  /**
   * A number typed at a handle.
   * @param {Part} part @param {Handle} handle
   */
  #type(part, handle) {
    const units = this.owner.units(),
      v = this.owner.view(),
      [x, y] = gripAt(part, handle, v);
    const box = this.svg.getBoundingClientRect(),
      paper = /** @type {HTMLElement} */ (this.typing.parentElement).getBoundingClientRect();
    this.typed = {part, handle, wrong: ""};
    this.typing.hidden = false;
    this.typing.style.setProperty(
      "left",
      `${Math.max(0, Math.min(x + box.left - paper.left - 70, paper.width - 230))}px`,
    );
    this.typing.style.setProperty("top", `${y + box.top - paper.top + 18}px`);
    this.#showTyping();
    const input = /** @type {HTMLInputElement} */ (this.typing.querySelector("input"));
    const words = placeText(handle, units);
    input.value = handle.axes === "xy" ? words.replace(/ (mm|in)$/, "") : words.split(" ")[0];
    input.focus();
    input.select();
  }

  #showTyping() {
    if (!this.typed) return;
    const {handle, wrong} = this.typed,
      units = this.owner.units();
    const words =
      handle.axes === "xy"
        ? `${handle.label} to x, y (${units})`
        : `${handle.label} (${units}${handle.from ? ` ${handle.from}` : ""})`;
    patch(this.typing, [
      h("label#l", {for: "typing-number"}, words),
      h("input#i", {
        id: "typing-number",
        type: "text",
        autocomplete: "off",
        "aria-invalid": wrong ? "true" : null,
        "aria-describedby": wrong ? "typing-wrong" : null,
      }),
      h("button#b", {type: "submit"}, "Set"),
      wrong && h("p#w", {id: "typing-wrong", class: "wrong", role: "alert"}, wrong),
    ]);
  }

  #typed() {
    if (!this.typed) return;
    const {part, handle} = this.typed,
      units = this.owner.units();
    const input = /** @type {HTMLInputElement} */ (this.typing.querySelector("input"));
    const to = typedPlace(handle, input.value, units);
    if (!to) {
      this.typed.wrong =
        handle.axes === "xy"
          ? `"${input.value}" is no place; write x and y, like "${units === "in" ? "4-3/8, 10" : "120, 250"}"`
          : `"${input.value}" is not a length; write it like "42 mm", "4.2 cm", "1-5/8 in" or "3'6""`;
      this.#showTyping();
      return;
    }
    this.owner.put(handle.edits(to));
    this.#closeTyping(true);
    void part;
  }

  /** @param {boolean} back with the focus on the handle again */
  #closeTyping(back) {
    const typed = this.typed;
    this.typing.hidden = true;
    this.typed = undefined;
    if (back && typed)
      requestAnimationFrame(() => {
        /** @type {SVGElement|null} */ (
          this.svg.querySelector(`[data-handle="${CSS.escape(typed.handle.key)}"]`)
        )?.focus();
      });
  }
}
