// SPDX-License-Identifier: MIT
// @ts-check
/// What the page shows where no script runs: the plan of its first piece and the answer, both made by the program.
///   node first_piece.mjs PROGRAM PIECE.json      prints the HTML
import {execFileSync} from "node:child_process";
import {copyFileSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync} from "node:fs";
import {tmpdir} from "node:os";
import {join} from "node:path";

const [program, piece] = process.argv.slice(2);
if (!program || !piece) {
  console.error("first_piece.mjs: give the program and a piece file");
  process.exit(2);
}

/** @param {string} text */
const escaped = (text) => text.replace(/&/g, "&amp;").replace(/</g, "&lt;").replace(/>/g, "&gt;");

const folder = mkdtempSync(join(tmpdir(), "hollowtop-page-"));
try {
  copyFileSync(piece, join(folder, "piece.json"));
  /** @param {string[]} words */
  const run = (words) => {
    try {
      return execFileSync(program, words, {cwd: folder, encoding: "utf8"});
    } catch (error) {
      const ended = /** @type {{status?: number, stdout?: string, stderr?: string}} */ (error);
      if (ended.status === 1 && ended.stdout !== undefined) return ended.stdout; // it does not meet its limits
      throw new Error(ended.stderr || String(error));
    }
  };
  const answer = run(["check", "piece.json", "--no-color"]).trimEnd();
  mkdirSync(join(folder, "pictures"));
  writeFileSync(join(folder, "pictures", "empty.txt"), ""); // a module lays files, and folders only around them
  run(["report", "piece.json", "--for", "maker", "--quick", "--quiet", "--pictures", "pictures", "--out", "a.html"]);
  // No policy of a page forbids what stands as an attribute of its own.
  const drawing = readFileSync(join(folder, "pictures", "plan.svg"), "utf8")
    .replace(/<\?xml[^>]*\?>\s*/, "")
    .replace(/ style="([^"]*)"/g, (_, style) =>
      String(style)
        .split(";")
        .map((rule) => rule.split(":").map((part) => part.trim()))
        .filter((rule) => rule.length === 2)
        .map(([name, value]) => ` ${name}="${value}"`)
        .join(""),
    );
  const caption = "The first piece from below, in millimetres. Dashed: what it stands on.";
  process.stdout.write(`<figure>\n${drawing.trimEnd()}\n<figcaption>${caption}</figcaption>\n</figure>\n`);
  process.stdout.write(`<pre>${escaped(answer)}</pre>\n`);
} finally {
  rmSync(folder, {recursive: true, force: true});
}
