// SPDX-License-Identifier: MIT
// Somebody at the page, for its tests: what is done with keyboard and pointer, what is seen, what the program says.
import assert from "node:assert/strict";
import {execFileSync} from "node:child_process";
import {mkdtempSync, readFileSync, rmSync, writeFileSync} from "node:fs";
import {createRequire} from "node:module";
import {tmpdir} from "node:os";
import {dirname, join, resolve} from "node:path";
import {fileURLToPath} from "node:url";
import {answerOf} from "../../cli/page/answer.js";
import {browser} from "./browser.mjs";

export const home = join(dirname(fileURLToPath(import.meta.url)), "../..");
const build = process.env.HOLLOWTOP_PAGE_BUILD ?? join(home, "build/page");
export const file = resolve(process.env.HOLLOWTOP_PAGE ?? join(build, "hollowtop.html"));
export const program = resolve(process.env.HOLLOWTOP_PROGRAM ?? join(home, "build/release/hollowtop"));
export const patience = Number(process.env.HOLLOWTOP_PAGE_PATIENCE ?? 1);
export const shots = process.env.HOLLOWTOP_PAGE_SHOTS;
export const kind = /** @type {"chrome"|"firefox"} */ (process.env.HOLLOWTOP_PAGE_BROWSER ?? "chrome");
export const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
export const table = readFileSync(join(home, "docs/examples/reading_table.json"), "utf8");
export const bench = readFileSync(join(home, "docs/examples/bench_top.json"), "utf8");
export const folder = mkdtempSync(join(tmpdir(), "hollowtop-people-"));

/** @type {Awaited<ReturnType<typeof browser>>} */ let running;
/** @type {import("puppeteer-core").Page} */ export let page;
/** @type {string[]} */ export let requests;
/** @type {string[]} */ export let complaints;

export async function comeIn() {
  running = await browser(kind);
  ({page, requests, complaints} = await running.open(file));
}
export async function goOut() {
  await running?.close();
  rmSync(folder, {recursive: true, force: true});
}

export const wait = (/** @type {number} */ ms) => new Promise((done) => setTimeout(done, ms));
/** @param {string} name */
export const shot = async (name) => {
  if (shots) await page.screenshot({path: join(shots, `${name}.png`), fullPage: true});
};
export const piece = () => page.evaluate(() => localStorage.getItem("hollowtop.piece") ?? "");
export const text = (/** @type {string} */ selector) => page.$eval(selector, (e) => e.textContent ?? "");
export const focused = () =>
  page.evaluate(() => {
    const e = document.activeElement;
    return e ? `${e.id} ${e.getAttribute("aria-label") ?? e.textContent ?? ""}`.trim() : "";
  });
export const focus = (/** @type {string} */ selector) =>
  page.$eval(selector, (e) => /** @type {HTMLElement} */ (e).focus());
/** The full check of what is drawn now is done. */
export const settled = async () => {
  await wait(60);
  await page.waitForFunction(
    () => {
      const state = document.querySelector(".state")?.textContent ?? "";
      return (
        document.querySelector(".faults") ||
        (state.includes("Checked in full") && !document.querySelector(".sentence.pending"))
      );
    },
    {timeout: 120_000, polling: 30},
  );
};
/**
 * Anew with a piece that was here before, or with none.
 * @param {string|null} kept @param {number} width @param {number} height
 */
export async function begin(kept, width = 1280, height = 1000) {
  await page.setViewport({width, height});
  await page.evaluate((kept) => {
    localStorage.clear();
    if (kept !== null) localStorage.setItem("hollowtop.piece", kept);
  }, kept);
  await page.reload();
  if (kept !== null) await settled();
}
/** The native program's answer. @param {string} content */
export function native(content) {
  const name = join(folder, "piece.json");
  writeFileSync(name, content);
  let out = "";
  try {
    out = execFileSync(program, ["check", name, "--no-color", "--units", "mm"], {encoding: "utf8"});
  } catch (error) {
    const ended = /** @type {{status?: number, stdout?: string}} */ (error);
    assert.equal(ended.status, 1);
    out = ended.stdout ?? "";
  }
  return answerOf(out);
}
/** What the page says, as the native program would. */
export const shown = () =>
  page.evaluate(() => ({
    verdict: document.querySelector(".sentence")?.textContent ?? "",
    lines: [...document.querySelectorAll("#answer dl > div")].map((d) => ({
      label: d.querySelector("dt")?.textContent ?? "",
      text: d.querySelector("dd")?.textContent ?? "",
    })),
    used: [...document.querySelectorAll("#answer tbody tr")].map((r) =>
      [...r.querySelectorAll("th, td")].map((c) => c.textContent ?? ""),
    ),
  }));
/**
 * Same verdict, same numbers: to the last letter that is shown. Of a piece whose halves are alike two places are as bad
 * as each other, and the last digits choose one: with `alike`, a place counts as its image in the first quarter.
 * @param {{alike?: [number, number]}} [how] length and width of such a top
 */
export async function sameAsNative({alike} = {}) {
  const folded = (/** @type {string} */ words) =>
    !alike
      ? words
      : words.replace(/(\d+), (y )?(\d+)/g, (_, x, y, v) =>
          [Math.min(Number(x), alike[0] - Number(x)), `${y ?? ""}${Math.min(Number(v), alike[1] - Number(v))}`].join(
            ", ",
          ),
        );
  const page = await shown(),
    answer = native(await piece());
  assert.equal(page.verdict, answer.verdict);
  for (const line of answer.lines)
    assert.ok(
      page.lines.some((l) => l.label === line.label && folded(l.text) === folded(line.text)),
      `${line.label}: ${line.text}\n${JSON.stringify(page.lines)}`,
    );
  assert.equal(page.lines.length, answer.lines.length);
  assert.deepEqual(
    page.used.map((r) => [r[0].replace(/ over$/, ""), r[2], folded(r[3])]),
    answer.rows.map((r) => [r.what, r.used, folded(r.at)]),
  );
  for (const [i, row] of answer.rows.entries())
    assert.ok(page.used[i][1].startsWith(row.found), `${page.used[i][1]}: ${row.found}`);
}
/** @param {(words: string) => boolean} there @param {number} most */
export async function tabTo(there, most = 80) {
  for (let i = 0; i < most; i++) {
    await page.keyboard.press("Tab");
    if (there(await focused())) return;
  }
  assert.fail("the keyboard does not reach it");
}
export async function typeOver(/** @type {string} */ words) {
  await page.keyboard.down("Control");
  await page.keyboard.press("a");
  await page.keyboard.up("Control");
  await page.keyboard.type(words);
}
