// SPDX-License-Identifier: MIT
/**
 * @file Puts a page into one file: node assemble.mjs BUILD SOURCE SCRIPT OUT. BUILD holds what build.sh made (page.worker.js,
 * hollowtop_module.wasm, first_piece.html), SCRIPT is the page's own, bundled. SOURCE holds page.html, with a mark for each part:
 * <!--POLICY--> first in its head, <!--STYLE-->, <!--SCRIPT--> and, within <noscript>, <!--FIRST_PIECE-->; and page.css.
 */
import { createHash } from "node:crypto";
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { constants, gzipSync } from "node:zlib";

const [build, here, scriptFile, out] = process.argv.slice(2);
/** @param {string} name */
const made = (name) => readFileSync(join(build, name), "utf8");

/** A text that cannot end the element which holds it. @param {string} text */
const inScript = (text) => text.replace(/<\/(script)/gi, "<\\/$1").replace(/<!--/g, "<\\!--");
/** @param {string} text */
const hash = (text) => `'sha256-${createHash("sha256").update(text).digest("base64")}'`;

const script = inScript(readFileSync(scriptFile, "utf8")), worker = inScript(made("page.worker.js"));
const styleFile = join(here, "page.css");
const style = existsSync(styleFile) ? readFileSync(styleFile, "utf8") : "";
if (/<\/style/i.test(style)) throw new Error("page.css would end its element");
// gzip writes no time of its own: the same sources make the same page
const packed = gzipSync(readFileSync(join(build, "hollowtop_module.wasm")), { level: constants.Z_BEST_COMPRESSION }).toString("base64");

const policy = [
  "default-src 'none'",
  `script-src ${hash(script)} 'wasm-unsafe-eval'`,
  "worker-src blob:",
  `style-src ${hash(style)}`,
  "img-src data: blob:",
  "form-action 'none'",
  "base-uri 'none'",
].join("; ");

/** @type {Record<string, string>} */
const parts = {
  "<!--POLICY-->": `<meta http-equiv="Content-Security-Policy" content="${policy}">`,
  "<!--STYLE-->": `<style>${style}</style>`,
  "<!--SCRIPT-->":
    `<script type="text/plain" id="hollowtop-worker">${worker}</script>\n` +
    `<script type="text/plain" id="hollowtop-module">${packed}</script>\n<script>${script}</script>`,
  "<!--FIRST_PIECE-->": existsSync(join(build, "first_piece.html")) ? made("first_piece.html") : "",
};
let page = readFileSync(join(here, "page.html"), "utf8");
for (const [mark, part] of Object.entries(parts)) {
  if (page.split(mark).length > 2) throw new Error(`page.html has the mark ${mark} twice`);
  if (mark !== "<!--FIRST_PIECE-->" && !page.includes(mark)) throw new Error(`page.html lacks the mark ${mark}`);
  page = page.replace(mark, () => part);
}
writeFileSync(out, page);

const bytes = Buffer.byteLength(page), small = gzipSync(page, { level: constants.Z_BEST_COMPRESSION }).length;
/** @param {number} n */
const inMB = (n) => (n / 1e6).toFixed(2);
console.log(`${out}: ${inMB(bytes)} MB, ${inMB(small)} MB compressed`);
if (bytes > 6e6 || small > 2e6) {
  console.error("The page is larger than 6 MB, or than 2 MB compressed.");
  process.exit(1);
}
