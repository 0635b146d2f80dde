// SPDX-License-Identifier: MIT
/**
 * @file The engine of the page: runs command lines of the program, one after the other, in a worker. Who uses it needs to know
 * nothing of how. A run that is stopped ends at once: its worker is ended with it, and another, already started, takes over.
 */

/** @typedef {{status: number, out: string, err: string, files: Record<string, Uint8Array>}} Answer */
/** @typedef {{words: string[], files: Record<string, string | Uint8Array>, signal?: AbortSignal, isOver: boolean,
 *    answer: (answer: Answer) => void, refuse: (fault: Error | DOMException) => void, stop: () => void}} Job */

/** A worker whose module holds more than this when a run is over (bytes) is ended: a module's memory grows and never shrinks. */
const mostKept = 384 * 2 ** 20;

/** @param {string} text @returns {Uint8Array} */
function fromBase64(text) {
  // @ts-ignore: not in every browser yet
  if (Uint8Array.fromBase64) return Uint8Array.fromBase64(text);
  const letters = atob(text), bytes = new Uint8Array(letters.length);
  for (let i = 0; i < letters.length; ++i) bytes[i] = letters.charCodeAt(i);
  return bytes;
}

/** The text of a part of the page that build.sh put in.
 * @param {string} id
 * @returns {string} */
function embedded(id) {
  const part = typeof document === "undefined" ? null : document.getElementById(id);
  if (!part) throw new Error(`This page was put together without its part "${id}".`);
  return part.textContent ?? "";
}

/** The module of the page: gzip in base64. Compiled while it is unpacked. @returns {Promise<WebAssembly.Module>} */
async function compiledModule() {
  const packed = new Blob([fromBase64(embedded("hollowtop-module").trim())]);
  const unpacked = packed.stream().pipeThrough(new DecompressionStream("gzip"));
  return WebAssembly.compileStreaming(new Response(unpacked, { headers: { "Content-Type": "application/wasm" } }));
}

/** @returns {Worker} */
function workerOfPage() {
  const place = URL.createObjectURL(new Blob([embedded("hollowtop-worker")], { type: "text/javascript" }));
  const worker = new Worker(place);
  setTimeout(() => URL.revokeObjectURL(place), 60_000); // it has been read by then
  return worker;
}

/** What a maker is told of a fault.
 * @param {string} fault what the machinery says
 * @param {string} said what the run said last */
function sentence(fault, said) {
  const last = said.trim().split("\n").pop() ?? "";
  if (last.startsWith("hollowtop: ")) return capital(last.slice("hollowtop: ".length));
  if (/memory|allocation|ArrayBuffer|call stack|recursion/i.test(fault) && !/out of bounds/i.test(fault))
    return "The browser has not enough memory for this; a coarser mesh or fewer parts need less. The drawing is as it was.";
  return `The calculation ended by a fault of the program itself (${fault}); the drawing is as it was. Please report it with the piece file.`;
}

/** @param {string} text */
const capital = (text) => text.charAt(0).toUpperCase() + text.slice(1) + (/[.!?]$/.test(text) ? "" : ".");

/** @param {string} fault */
const cannotStart = (fault) =>
  `This browser cannot run the calculation of this page (${fault}). Any of 2023 or later can, where scripts and WebAssembly are allowed.`;

/** One worker, from its start to its end. */
class Hand {
  /** @type {(what: {done: any} | {fault: string, said: string}) => void} */
  tell = () => {};
  isEnded = false;

  /** @param {Worker} worker @param {Promise<WebAssembly.Module | null>} module */
  constructor(worker, module) {
    this.worker = worker;
    /** @type {Promise<{version: string}>} */
    this.ready = new Promise((answer, refuse) => {
      worker.onmessage = ({ data }) => {
        if (data.ready) answer(data.ready);
        else {
          if (data.fault !== undefined) refuse(new Error(cannotStart(data.fault)));
          this.tell(data);
        }
      };
      worker.onerror = (event) => {
        event.preventDefault?.();
        const fault = event.message || "the worker cannot be started";
        refuse(new Error(cannotStart(fault)));
        this.tell({ fault, said: "" });
      };
      worker.onmessageerror = () => this.tell({ fault: "a message could not be read", said: "" });
      module.then((compiled) => this.isEnded || worker.postMessage({ module: compiled }),
        (fault) => refuse(new Error(cannotStart(fault.message))));
    });
    this.ready.catch(() => {}); // told to whoever asks
  }
  end() {
    this.isEnded = true;
    this.worker.terminate();
  }
}

export class Engine {
  /** @type {() => Worker} */ #make;
  /** @type {Promise<WebAssembly.Module | null>} */ #module;
  /** @type {Hand} */ #now;
  /** @type {Hand | undefined} */ #spare;
  /** @type {Job[]} */ #waiting = [];
  /** @type {Job | undefined} */ #running;

  /** @param {{make?: () => Worker}} [options] make: a worker of one's own, which finds its module itself (tests) */
  constructor(options = {}) {
    this.#make = options.make ?? workerOfPage;
    this.#module = options.make ? Promise.resolve(null) : compiledModule();
    this.#module.catch(() => {}); // `ready` tells
    this.#now = this.#hand();
    /** @type {Promise<{version: string}>} */
    this.ready = this.#now.ready;
    this.ready.then(() => this.#prepare(), () => {});
  }

  /**
   * Runs the words of a command line, without "hollowtop", on files by their names; what the run wrote or changed comes back.
   * Runs wait for one another. Rejects with an AbortError as soon as `signal` asks for it, else with an Error whose message is a
   * sentence for the maker.
   * @param {string[]} words
   * @param {Record<string, string | Uint8Array>} [files]
   * @param {{signal?: AbortSignal}} [options]
   * @returns {Promise<Answer>}
   */
  run(words, files = {}, options = {}) {
    return new Promise((answer, refuse) => {
      const { signal } = options;
      /** @type {Job} */
      const job = { words: [...words], files: { ...files }, signal, isOver: false, answer, refuse, stop: () => this.#stop(job) };
      if (signal?.aborted) return refuse(stopped());
      signal?.addEventListener("abort", job.stop, { once: true });
      this.#waiting.push(job);
      this.#next();
    });
  }

  #hand() {
    /** @type {Worker} */
    let worker;
    try {
      worker = this.#make();
    } catch (fault) {
      const told = fault instanceof Error ? fault.message : String(fault);
      // A hand that cannot do anything tells so when it is asked.
      worker = /** @type {any} */ ({ postMessage() {}, terminate() {} });
      const hand = new Hand(worker, Promise.reject(new Error(told)));
      return hand;
    }
    return new Hand(worker, this.#module);
  }

  #prepare() {
    this.#spare ??= this.#hand();
  }

  /** Another takes the place of the worker that works now. */
  #replace() {
    this.#now.end();
    this.#now = this.#spare ?? this.#hand();
    this.#spare = undefined;
    this.#now.ready.then(() => this.#prepare(), () => {});
  }

  /** @param {Job} job */
  #close(job) {
    job.isOver = true;
    job.signal?.removeEventListener("abort", job.stop);
    if (this.#running === job) this.#running = undefined;
  }

  /** @param {Job} job */
  #stop(job) {
    if (job.isOver) return;
    const wasRunning = this.#running === job;
    this.#close(job);
    job.refuse(stopped());
    if (wasRunning) this.#replace();
    else this.#waiting.splice(this.#waiting.indexOf(job), 1);
    this.#next();
  }

  #next() {
    if (this.#running) return;
    const job = this.#waiting.shift();
    if (!job) return;
    this.#running = job;
    const hand = this.#now;
    /** @param {string} message */
    const fail = (message) => {
      if (job.isOver) return;
      this.#close(job);
      this.#replace();
      job.refuse(new Error(message));
      this.#next();
    };
    hand.tell = (what) => {
      if (job.isOver) return;
      if ("fault" in what) return fail(sentence(what.fault, what.said));
      const { memory, ...answer } = what.done;
      this.#close(job);
      if (memory > mostKept) this.#replace();
      job.answer(answer);
      this.#next();
    };
    hand.ready.then(
      () => {
        if (job.isOver) return;
        try {
          hand.worker.postMessage({ words: job.words, files: job.files });
        } catch (fault) {
          fail(sentence(fault instanceof Error ? fault.message : String(fault), ""));
        }
      },
      (fault) => fail(fault.message),
    );
  }
}

const stopped = () => new DOMException("The run was stopped.", "AbortError");
