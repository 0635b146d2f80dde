// SPDX-License-Identifier: MIT
// @ts-check
/// What is drawn, what is known of it, and what shows both.
import {History} from "./history.js";
import {Work} from "./work.js";
import {answerOf, faultsOf} from "./answer.js";
import {modelOf} from "./model.js";
import {NEW_PARTS, newPart, placeOfNew} from "./fields.js";
import {Hand} from "./edit.js";
import {parse, valueOf, withValues, without} from "./piece.js";
import {papersHand, firstPapers} from "./papers.js";
import {sentenceOf} from "./verdict.js";
import {keepChoices, keepPiece, keptChoices} from "./store.js";
import {computeMap, setLevels} from "./mapping.js";
import {keyPressed} from "./frame.js";
import {showAll} from "./show.js";
import {Opening} from "./opening.js";

/** @typedef {import("./model.js").Part} Part */

export class Board {
  /** @type {import("./model.js").Model|null} */ model = null;
  text = "";
  /** @type {History|null} */ history = null;
  /** @type {string|null} */ selected = null;
  /** @type {string|null} */ adding = null;
  /** @type {import("./model.js").Shape|null} */ sketch = null;
  /** @type {[number, number]|null} */ place = null;
  placeAsked = false;
  placeWrong = "";
  /** @type {import("./place.js").MapState} */ map = {
    on: false,
    situation: "",
    fields: null,
    of: "",
    levels: [],
    wrong: "",
  };
  /** @type {import("./verdict.js").Judged & {text: string}} */
  judged = {
    answer: null,
    result: null,
    faults: [],
    status: 0,
    final: false,
    stale: false,
    busy: null,
    stopped: false,
    failed: "",
    seconds: 0,
    text: "",
  };
  /** @type {Map<string, {text: string, wrong: string}>} */ typed = new Map();
  choices = keptChoices();
  version = "";
  keeps = true;
  /** @type {import("./drawing.js").View} */ view = {scale: 1, x: 0, y: 0, width: 300, height: 200};
  still = false;
  drawnMap = ""; // what the map was painted for
  #waiting = false;

  /** @param {import("./work.js").EngineLike} engine @param {Document} page */
  constructor(engine, page) {
    this.engine = engine;
    this.page = page;
    this.work = new Work(engine, {
      units: () => this.units,
      done: (d) => this.#done(d),
      failed: (m) => this.#failed(m),
      changed: () => this.show(),
    });
    this.papers = firstPapers(this.units);
    this.papersHand = papersHand(this.papers, {
      units: () => this.units,
      text: () => this.text,
      title: () => this.title,
      changed: () => this.show(),
      ask: (what, words) => this.ask(what, words),
    });
    this.opening = new Opening(this);
    this.hand = new Hand(
      /** @type {SVGSVGElement} */ (/** @type {unknown} */ (this.at("plan"))),
      /** @type {HTMLFormElement} */ (this.at("typing")),
      this.#owner(),
    );
  }

  /** @returns {import("./units.js").Units} */
  get units() {
    return this.choices.units ?? this.model?.units ?? "mm";
  }
  /** @returns {string} of the piece; empty where it has none */
  get title() {
    const title = this.model?.raw?.title;
    return typeof title === "string" ? title : "";
  }
  /** @param {string} id */
  at(id) {
    return /** @type {HTMLElement} */ (this.page.getElementById(id));
  }

  async begin() {
    this.at("starting").remove();
    this.at("work").hidden = false;
    this.theme();
    new ResizeObserver(() => this.show()).observe(this.at("paper"));
    setInterval(() => this.tick(), 100);
    this.page.addEventListener("keydown", (e) => keyPressed(this, e));
    this.show();
    await this.opening.begin();
  }

  /** @returns {import("./edit.js").Owner} */
  #owner() {
    return {
      model: () => this.model,
      view: () => this.view,
      units: () => this.units,
      selected: () => this.selected,
      select: (id) => this.select(id),
      freeze: (still) => {
        this.still = still;
      },
      pull: (edits) => this.#take(withValues(this.history?.now ?? this.text, edits), true),
      letGo: () => this.commit(this.text),
      giveUp: () => this.#take(this.history?.now ?? this.text, false),
      put: (edits, pull) => this.put(edits, pull),
      remove: (part) => this.remove(part),
      place: (at) => this.showPlace(at),
      gesture: () => (this.adding ? NEW_PARTS[this.adding].gesture : null),
      sketch: (shape) => {
        this.sketch = shape;
        this.show();
      },
      add: (from, to) => this.#add(from, to),
      addDefault: () => {
        if (this.adding && this.model) {
          const [a, b] = placeOfNew(this.adding, this.model);
          this.#add(a, b);
        }
      },
      noGesture: () => {
        this.adding = null;
        this.say("Nothing drawn.");
        this.show();
      },
      tell: (words) => this.say(words),
    };
  }

  /**
   * Takes a text as what is drawn now.
   * @param {string} text @param {boolean} pulled
   */
  #take(text, pulled) {
    this.text = text;
    try {
      this.model = modelOf(valueOf(parse(text)));
    } catch {
      /* the last drawing stays; the check says what is wrong */
    }
    if (this.model && this.selected && !this.model.parts.some((p) => p.id === this.selected)) this.selected = null;
    this.judged.stale = this.judged.text !== text;
    this.judged.stopped = false;
    this.judged.failed = "";
    this.work.edited(text, pulled);
    this.show();
  }

  /** @param {string} text @param {string} [pull] */
  commit(text, pull) {
    if (this.history) this.history.put(text, pull);
    else this.history = new History(text);
    this.keeps = keepPiece(text);
    this.#take(text, false);
  }

  /** @param {import("./handles.js").Edits} edits @param {string} [pull] */
  put(edits, pull) {
    this.commit(withValues(this.history?.now ?? this.text, edits), pull);
  }

  /**
   * Another piece altogether.
   * @param {string} text @param {string} words
   */
  open(text, words) {
    this.selected = null;
    this.place = null;
    this.adding = null;
    this.typed.clear();
    this.work.lastSeconds = Infinity;
    this.commit(text);
    this.tell(words);
  }

  undo() {
    if (this.history?.canUndo) {
      this.#back(this.history.undo());
      this.say("Undone.");
    }
  }
  redo() {
    if (this.history?.canRedo) {
      this.#back(this.history.redo());
      this.say("Done again.");
    }
  }
  /** @param {string} text */
  #back(text) {
    this.typed.clear();
    this.keeps = keepPiece(text);
    this.#take(text, false);
  }

  /** @param {string|null} id */
  select(id) {
    if (id !== this.selected) this.typed.clear();
    this.selected = id;
    this.show();
  }

  /** @param {Part} part */
  remove(part) {
    if (part.kind === "top") {
      this.say("The top itself stays.");
      return;
    }
    this.selected = null;
    this.commit(without(this.history?.now ?? this.text, part.path));
    this.tell(`${part.kind} ${part.name} is taken away. Undo brings it back.`);
    this.at("parts").querySelector("button")?.focus();
  }

  /** @param {string} kind */
  startAdding(kind) {
    if (NEW_PARTS[kind].gesture === "none") {
      this.adding = kind;
      this.#add([0, 0], [0, 0]);
      return;
    }
    this.adding = this.adding === kind ? null : kind;
    this.selected = null;
    this.show();
    if (!this.adding) return;
    this.say(`${NEW_PARTS[kind].ask}, or press Enter to have one put there.`);
    /** @type {SVGElement|null} */ (this.at("plan").querySelector(".part"))?.focus({preventScroll: true});
  }

  /** @param {import("./model.js").Point} a @param {import("./model.js").Point} b */
  #add(a, b) {
    if (!this.adding || !this.model) return;
    const made = newPart(this.adding, this.model, a, b);
    if (typeof made === "string") {
      this.tell(made);
      return;
    }
    const kind = this.adding;
    this.adding = null;
    this.put([[made.path, made.value]]);
    this.select(made.path.join("."));
    this.tell(
      `${kind === "pad" || kind === "bearer" ? kind : `The ${kind}`} is drawn. Pull it, or change its numbers below.`,
    );
    requestAnimationFrame(() =>
      /** @type {SVGElement|null} */ (this.at("plan").querySelector(".handle"))?.focus({preventScroll: true}),
    );
  }

  /**
   * A tap alone computes nothing: what was tapped may have been meant for a part.
   * @param {[number, number]} at @param {boolean} asked for its numbers
   */
  showPlace(at, asked = false) {
    this.place = at;
    this.placeAsked = asked;
    this.placeWrong = "";
    this.show();
    void computeMap(this);
  }

  /** @param {boolean} on */
  showMap(on) {
    this.map.on = on;
    this.show();
    void computeMap(this);
  }

  /**
   * Another command on the piece.
   * @param {string} what @param {string[]} words @returns {Promise<import("./work.js").Run|null>}
   */
  async ask(what, words) {
    try {
      return await this.work.other(what, words, {"piece.json": this.text});
    } catch (error) {
      const e = /** @type {Error} */ (error);
      return e.name === "AbortError" ? null : {status: 3, out: "", err: e.message, files: {}};
    }
  }

  /** @param {import("./work.js").Done} done */
  #done(done) {
    const {run} = done,
      j = this.judged;
    j.text = done.text;
    j.stale = done.text !== this.text;
    j.final = done.final;
    j.status = run.status;
    j.seconds = done.seconds;
    j.failed = "";
    if (run.status > 1) {
      j.faults = faultsOf(run.err);
      if (j.faults.length === 0) j.faults = [{place: "", what: "the check ended without an answer"}];
      j.answer = null;
    } else {
      j.faults = [];
      j.answer = answerOf(run.out);
      try {
        j.result = JSON.parse(new TextDecoder().decode(run.files["answer.json"]));
      } catch {
        j.result = null;
      }
    }
    if (done.final && !j.stale) this.at("live").textContent = sentenceOf(j);
    this.show();
    if (done.final && !j.stale && run.status === 1) this.opening.judged();
    if (done.final) void computeMap(this);
  }

  /** @param {string} message */
  #failed(message) {
    this.judged.failed = `${message} The drawing is not lost.`;
    this.at("live").textContent = this.judged.failed;
    this.show();
  }

  /**
   * Words that are seen.
   * @param {string} words
   */
  tell(words) {
    this.at("told").textContent = words;
  }
  /**
   * Words for who does not see the drawing.
   * @param {string} words
   */
  say(words) {
    this.at("said").textContent = words;
  }

  theme() {
    const theme = this.choices.theme ?? "device";
    if (theme === "device") delete this.page.documentElement.dataset.theme;
    else this.page.documentElement.dataset.theme = theme;
  }
  /** @param {import("./store.js").Choices} more */
  choose(more) {
    const units = this.units;
    this.choices = {...this.choices, ...more};
    keepChoices(this.choices);
    this.theme();
    this.typed.clear();
    setLevels(this);
    this.show();
    if (units !== this.units && this.text) this.work.edited(this.text, false);
  }

  tick() {
    const at = this.page.getElementById("elapsed");
    if (at && this.work.busy) at.textContent = this.#elapsed();
  }
  #elapsed() {
    return this.work.busy ? `${((performance.now() - this.work.busy.since) / 1000).toFixed(1)} s` : "";
  }

  /**
   * What waits until it is seen.
   * @param {() => void} then
   */
  seen(then) {
    requestAnimationFrame(() => requestAnimationFrame(then));
  }

  show() {
    if (this.#waiting) return;
    this.#waiting = true;
    requestAnimationFrame(() => {
      this.#waiting = false;
      showAll(this);
    });
  }

  /** @param {string} id @param {string} place */
  goTo(id, place) {
    if (!id) return;
    this.select(id);
    requestAnimationFrame(() => {
      const field =
        this.page.getElementById(`f-${place}`) ??
        this.at("parts").querySelector(`[id^="f-${CSS.escape(place)}"], .chosen input`);
      /** @type {HTMLElement|null} */ (field)?.focus();
    });
  }
}
