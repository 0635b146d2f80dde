// SPDX-License-Identifier: MIT
/**
 * @file The worker of the page: holds one module and does one run after another. What it is told: {module} once, then {words,
 * files}. What it tells: {ready}, {done} or {fault, said}; after a fault it is good for nothing more.
 */
import { start } from "./run_words.js";

/** @type {import("./run_words.js").Program | undefined} */
let program;

/** @param {unknown} fault */
const tell = (fault) =>
  self.postMessage({ fault: fault instanceof Error ? `${fault.name}: ${fault.message}` : String(fault), said: program?.said() ?? "" });

self.onmessage = async ({ data }) => {
  try {
    if (!program) {
      program = await start(data.module);
      self.postMessage({ ready: { version: program.version } });
      return;
    }
    const done = program.run(data.words, data.files);
    const buffers = new Set(Object.values(done.files).map((bytes) => bytes.buffer));
    // @ts-ignore: a worker's postMessage, not a window's
    self.postMessage({ done }, [...buffers]);
  } catch (fault) {
    tell(fault);
  }
};
