// SPDX-License-Identifier: MIT
// The engine of the page in a browser, opened from disk: HOLLOWTOP_PAGE_BUILD=build/page node --test tests/page/engine_test.mjs
// HOLLOWTOP_PAGE_BROWSER: chrome or firefox.
import assert from "node:assert/strict";
import { existsSync, readFileSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import { after, before, test } from "node:test";
import { fileURLToPath } from "node:url";
import { browser } from "./browser.mjs";

const home = join(dirname(fileURLToPath(import.meta.url)), "../..");
const build = resolve(process.env.HOLLOWTOP_PAGE_BUILD ?? join(home, "build/page"));
const table = readFileSync(join(home, "docs/examples/reading_table.json"), "utf8");
/** Limits are those of a quiet machine; CI's, with others beside it, is given more. */
const patience = Number(process.env.HOLLOWTOP_PAGE_PATIENCE ?? 1);

/** @type {Awaited<ReturnType<typeof browser>>} */ let running;
/** @type {import("puppeteer-core").Page} */ let page;
/** @type {string[]} */ let requests;
/** @type {string[]} */ let complaints;

before(async () => {
  assert.ok(existsSync(join(build, "harness.html")), "built with HOLLOWTOP_PAGE_HARNESS=1");
  running = await browser(/** @type {any} */ (process.env.HOLLOWTOP_PAGE_BROWSER ?? "chrome"));
  ({ page, requests, complaints } = await running.open(join(build, "harness.html")));
  await page.evaluate(() => {
    const w = /** @type {any} */ (window);
    w.engine = new w.Engine();
    return w.engine.ready;
  });
});
after(() => running?.close());

/** @param {string[]} words @param {Record<string, string>} [files] */
const run = (words, files = {}) =>
  page.evaluate(async (words, files) => {
    const began = performance.now();
    const done = await /** @type {any} */ (window).engine.run(words, files);
    const texts = Object.fromEntries(Object.entries(done.files).map(([name, bytes]) => [name, new TextDecoder().decode(/** @type {any} */ (bytes))]));
    return { ...done, files: texts, seconds: (performance.now() - began) / 1000 };
  }, words, files);

test("an engine is ready within 0.2 s and says its version", async (t) => {
  const { version, seconds } = await page.evaluate(async () => {
    const began = performance.now();
    const engine = new /** @type {any} */ (window).Engine();
    const { version } = await engine.ready;
    return { version, seconds: (performance.now() - began) / 1000 };
  });
  t.diagnostic(`ready after ${seconds.toFixed(3)} s`);
  assert.match(version, /^\d+\.\d+\.\d+$/);
  assert.ok(seconds < 0.2 * patience, `${seconds} s`);
});

test("the reading table is checked within 0.5 s and its result comes back as a file", async (t) => {
  const times = [];
  for (let i = 0; i < 4; ++i) {
    const done = await run(["check", "piece.json", "--json", "answer.json"], { "piece.json": table });
    assert.equal(done.status, 0, done.err);
    assert.deepEqual(Object.keys(done.files), ["answer.json"]);
    assert.match(JSON.stringify(JSON.parse(done.files["answer.json"])), /movement/);
    times.push(done.seconds);
  }
  t.diagnostic(`seconds: ${times.map((s) => s.toFixed(2)).join(", ")}`);
  assert.ok(Math.min(...times) < 0.5 * patience, `${times} s`);
});

test("a run that is stopped ends within 0.1 s, and the next one works", async (t) => {
  const { name, seconds, next, nextSeconds } = await page.evaluate(async (table) => {
    const { engine } = /** @type {any} */ (window);
    const stop = new AbortController();
    const long = engine.run(["seasons", "piece.json"], { "piece.json": table }, { signal: stop.signal });
    await new Promise((wake) => setTimeout(wake, 150));
    const began = performance.now();
    const told = long.then(() => "it ended", (/** @type {Error} */ fault) => fault.name);
    stop.abort();
    const name = await told, seconds = (performance.now() - began) / 1000;
    const again = performance.now();
    const next = await engine.run(["--version"]);
    return { name, seconds, next, nextSeconds: (performance.now() - again) / 1000 };
  }, table);
  t.diagnostic(`stopped after ${seconds.toFixed(3)} s, the next after ${nextSeconds.toFixed(3)} s`);
  assert.equal(name, "AbortError");
  assert.ok(seconds < 0.1 * patience, `${seconds} s`);
  assert.match(next.out, /^hollowtop \d/);
  assert.ok(nextSeconds < 0.3 * patience, `${nextSeconds} s`);
});

test("runs wait for one another, and one that waits can be stopped without harm to the others", async () => {
  const told = await page.evaluate(async (table) => {
    const { engine } = /** @type {any} */ (window);
    /** @type {string[]} */
    const told = [];
    const stop = new AbortController();
    const all = [
      engine.run(["check", "piece.json", "--mesh", "coarse"], { "piece.json": table }).then(() => told.push("first")),
      engine.run(["uses"], {}, { signal: stop.signal }).catch((/** @type {Error} */ fault) => told.push(fault.name)),
      engine.run(["--version"]).then(() => told.push("third")),
      engine.run(["--version"], {}, { signal: AbortSignal.abort() }).catch((/** @type {Error} */ fault) => told.push(`${fault.name} before`)),
    ];
    stop.abort();
    await Promise.all(all);
    return told;
  }, table);
  assert.deepEqual(told.slice().sort(), ["AbortError", "AbortError before", "first", "third"]);
  assert.ok(told.indexOf("first") < told.indexOf("third"));
});

test("each run finds an empty folder, and what it leaves unchanged does not come back", async () => {
  const first = await run(["check", "a/piece.json", "--json", "a/answer.json", "--quiet"], { "a/piece.json": table });
  assert.deepEqual(Object.keys(first.files), ["a/answer.json"]);
  const second = await run(["check", "a/piece.json"]);
  assert.equal(second.status, 2);
  assert.match(second.err, /there is no such file/);
});

test("spoilt and huge files are a sentence of the program", async () => {
  const spoilt = await run(["check", "piece.json"], { "piece.json": table.slice(0, 700) });
  assert.equal(spoilt.status, 2);
  assert.match(spoilt.err, /piece\.json/);
  const huge = await run(["check", "piece.json"], { "piece.json": " ".repeat(20_000_000) });
  assert.equal(huge.status, 2);
  assert.match(huge.err, /larger than 10 MB/);
  const deep = await run(["check", "piece.json"], { "piece.json": "[".repeat(1_000_000) });
  assert.equal(deep.status, 2);
});

test("for want of memory there is a sentence, and the next run works", async (t) => {
  const told = await run(["check", "piece.json", "--mesh", "1mm"], { "piece.json": table }).then(
    (done) => `${done.status}: ${done.err}`,
    (fault) => `rejected: ${fault.message}`,
  );
  t.diagnostic(told.slice(0, 300));
  assert.match(told, /memory|mesh/);
  const next = await run(["check", "piece.json", "--mesh", "coarse"], { "piece.json": table });
  assert.equal(next.status, 0, next.err);
});

test("where the worker faults a sentence says so, and the engine goes on", async () => {
  const { message, version } = await page.evaluate(async () => {
    let n = 0;
    const text = (/** @type {boolean} */ good) => `self.onmessage = ({ data }) => {
      if ("module" in data) return self.postMessage({ ready: { version: "0.0.1" } });
      ${good ? 'self.postMessage({ done: { status: 0, out: "well", err: "", files: {}, memory: 1 } })' : 'throw new Error("a trap")'} };`;
    const make = () => new Worker(URL.createObjectURL(new Blob([text(n++ > 0)])));
    const engine = new /** @type {any} */ (window).Engine({ make });
    const message = await engine.run(["uses"]).catch((/** @type {Error} */ fault) => fault.message);
    return { message, version: (await engine.run(["uses"])).out };
  });
  assert.match(message, /^The calculation ended by a fault of the program itself \(.*a trap\)/);
  assert.equal(version, "well");
});

test("no request left the page and nothing was complained of", () => {
  assert.deepEqual(requests, []);
  assert.deepEqual(complaints, []);
});
