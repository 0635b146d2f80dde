// SPDX-License-Identifier: MIT
// @ts-check
/// How a piece comes onto the page and leaves it: the first questions, files, what was kept, a link.
import {answerOf, faultsOf} from "./answer.js";
import {modelOf} from "./model.js";
import {parse, valueOf} from "./piece.js";
import {patch} from "./patch.js";
import {choicesOf, firstAnswers, startView, wordsOf} from "./start.js";
import {fragmentOf, keptPiece, pieceOfFragment} from "./store.js";
import {nameOf, readPiece, save} from "./files.js";

/** @typedef {import("./board.js").Board} Board */

export class Opening {
  linkText = "";
  drawn = ""; // the words that the drawing came of
  /** @type {ReturnType<typeof setTimeout>|undefined} */ #timer;
  #sought = ""; // the piece that was sought quickly and is not judged yet
  /** @type {Promise<void>} */ #going = Promise.resolve();

  /** @param {Board} board */
  constructor(board) {
    this.board = board;
    /** @type {import("./start.js").Start} */
    this.start = {
      answers: firstAnswers(board.choices.units ?? "mm"),
      uses: [],
      woods: [],
      wrong: [],
      open: false,
      lines: [],
      busy: false,
    };
  }

  async begin() {
    const b = this.board;
    b.page.addEventListener("dragover", (e) => e.preventDefault());
    b.page.addEventListener("drop", (e) => {
      e.preventDefault();
      const file = e.dataTransfer?.files[0];
      if (file) void this.file(file);
    });
    window.addEventListener("hashchange", () => void this.#fragment());
    const kept = keptPiece();
    if (kept && this.#drawable(kept) === "") b.open(kept, "");
    const linked = await this.#fragment();
    if (!kept && !linked) {
      this.start.open = true;
      b.show();
      void this.go();
    } else if (kept && !linked) b.tell("The piece that was here last. New asks from the beginning.");
    try {
      b.version = (await b.engine.ready).version;
    } catch (error) {
      b.tell(`${/** @type {Error} */ (error).message} The drawing can be changed and saved, but nothing is computed.`);
      return;
    }
    // a list takes its turn behind what is being computed
    const quietly = async (/** @type {string[]} */ words) => {
      try {
        return (await b.engine.run(words)).out;
      } catch {
        return "";
      }
    };
    this.start.uses = choicesOf(await quietly(["uses", "--no-color"]), /^Uses/);
    this.start.woods = choicesOf(await quietly(["materials", "--no-color"]), /^Woods/);
    b.show();
  }

  async #fragment() {
    if (!location.hash) return false;
    try {
      const text = await pieceOfFragment(location.hash);
      if (text === null) return false;
      const why = this.#drawable(text);
      if (why) throw new Error(why);
      try {
        // what is drawn from here on is another piece: the next start shall not take this one again
        window.history.replaceState(null, "", location.pathname + location.search);
      } catch {
        /* a browser that keeps the address as it is */
      }
      if (text !== this.board.text)
        this.board.open(text, "The piece of the link. Undo brings back the one that was here.");
      return true;
    } catch {
      this.board.tell("The link is spoilt or cut short: the piece in it cannot be read. Nothing was changed.");
      return false;
    }
  }

  /** @param {string} text @returns {string} why it cannot be drawn; empty where it can */
  #drawable(text) {
    try {
      const model = modelOf(valueOf(parse(text)));
      return model.length > 0 && model.width > 0 ? "" : "it holds no top with a length and a width";
    } catch (error) {
      return /** @type {Error} */ (error).message;
    }
  }

  questions() {
    this.start.open = !this.start.open;
    this.board.show();
    if (this.start.open) requestAnimationFrame(() => this.board.page.getElementById("start-use")?.focus());
  }

  show() {
    const section = this.board.at("start");
    section.hidden = !this.start.open;
    if (this.start.open)
      patch(
        section,
        startView(this.start, {
          set: (key, value) => {
            const a = this.start.answers;
            if (key === "units" && value !== a.units)
              this.start.answers = {
                ...firstAnswers(value === "in" ? "in" : "mm"),
                use: a.use,
                shape: a.shape,
                base: a.base,
                wood: a.wood,
              };
            else this.start.answers = {...a, [key]: value};
            clearTimeout(this.#timer);
            this.#timer = setTimeout(() => void this.go(), 700);
            this.board.show();
          },
          go: () => {
            void this.go().then(() => this.board.seen(() => this.board.at("verdict").focus()));
          },
          close: () => {
            this.start.open = false;
            this.board.show();
            this.board.at("drawing").scrollIntoView({block: "nearest"});
          },
        }),
      );
  }

  /**
   * Draws a sensible hollow for the answers given.
   * @returns {Promise<void>}
   */
  go() {
    if (this.drawn !== JSON.stringify(wordsOf(this.start.answers))) this.#going = this.#draw(true);
    return this.#going;
  }

  /** What was sought quickly did not pass its check: then it is sought with all care, and what would help is told. */
  judged() {
    if (this.#sought === "" || this.#sought !== this.board.text) return;
    this.#sought = "";
    this.#going = this.#draw(false);
  }

  /** @param {boolean} quickly on a rough mesh; the check that follows says whether it holds */
  async #draw(quickly) {
    const b = this.board,
      s = this.start;
    clearTimeout(this.#timer);
    const words = wordsOf(s.answers),
      mine = JSON.stringify(words);
    this.drawn = mine;
    this.#sought = "";
    s.wrong = [];
    s.lines = [{label: "Drawing", text: "a sensible hollow is being sought"}];
    b.show();
    try {
      const run = await b.work.other("drawing a sensible hollow", quickly ? [...words, "--quick"] : words, {}, false);
      if (this.drawn !== mine) return;
      const file = run.files["piece.json"];
      if (run.status > 1 || !file) {
        s.wrong = faultsOf(run.err).map((f) => ({
          place: f.place || (/^(--\w+): /.exec(f.what)?.[1] ?? ""),
          what: f.what.replace(/^--\w+: /, ""),
        }));
        if (s.wrong.length === 0) s.wrong = [{place: "", what: "No piece was drawn."}];
        s.lines = [];
        this.drawn = "";
      } else {
        const known = ["Next", "Kept", "Not checked", "Nearest"]; // the answer beside the drawing says it
        s.lines = answerOf(`\n${run.out}`).lines.filter((l) => !known.includes(l.label));
        b.choices.units = s.answers.units;
        const text = new TextDecoder().decode(file);
        if (text !== b.text) b.open(text, "");
        else b.work.full();
        if (quickly) this.#sought = text;
      }
    } catch (error) {
      if (this.drawn !== mine) return; // other answers were given meanwhile
      this.drawn = "";
      s.lines = [];
      if (/** @type {Error} */ (error).name !== "AbortError")
        s.wrong = [{place: "", what: /** @type {Error} */ (error).message}];
    }
    b.show();
  }

  pick() {
    this.board.at("file").click();
  }

  /** @param {File} file */
  async file(file) {
    const got = await readPiece(file);
    if ("wrong" in got) this.board.tell(got.wrong);
    else await this.text(got.text, file.name);
  }

  /**
   * A text from a file or from the field.
   * @param {string} text @param {string} [name]
   */
  async text(text, name) {
    const b = this.board,
      words = name ?? "The text";
    const why = this.#drawable(text);
    if (!why) {
      b.open(text, name ? `${name} is open.` : "The text is taken.");
      this.start.open = false;
      b.show();
      return;
    }
    // the tool's own words for it, where it has any
    let said = why;
    try {
      const run = await b.work.other("reading the file", ["check", "piece.json", "--quiet"], {"piece.json": text});
      const fault = faultsOf(run.err)[0];
      if (fault) said = fault.place ? `${fault.place}: ${fault.what}` : fault.what;
    } catch {
      /* our own words then */
    }
    b.tell(`${words} cannot be drawn: ${said}. The drawing stays as it was.`);
    if (b.text) b.work.full();
  }

  save() {
    const b = this.board;
    if (!b.text) return;
    const name = `${nameOf(b.title)}.json`;
    save(name, b.text, "application/json");
    b.tell(`${name} is saved as the browser saves files.`);
  }

  async link() {
    const b = this.board;
    this.linkText = location.href.replace(/#.*$/, "") + (await fragmentOf(b.text));
    let copied = false;
    try {
      await navigator.clipboard.writeText(this.linkText);
      copied = true;
    } catch {
      /* it stands in the field */
    }
    b.tell(
      copied
        ? "The link is copied: it carries the piece in itself. It opens where this same page lies."
        : "The link stands below, beside the piece file: it carries the piece in itself.",
    );
    b.show();
    if (!copied) requestAnimationFrame(() => b.page.getElementById("link-text")?.focus());
  }
}
