// SPDX-License-Identifier: MIT
/**
 * @file The module of the page as a program, for the build and the tests: node in_node.mjs BUILD WORDS... Files that the words
 * name are laid into the module; what it writes is written beside the caller.
 */
import { existsSync, mkdirSync, readFileSync, readdirSync, statSync, writeFileSync } from "node:fs";
import { basename, dirname, join, resolve } from "node:path";
import { pathToFileURL } from "node:url";

/** The module of a build, ready to run. @param {string} build @returns {Promise<import("./run_words.js").Program>} */
export async function load(build) {
  const scope = /** @type {any} */ (globalThis);
  scope.self ??= scope; // as in a worker
  scope.location ??= { href: "" };
  const { start } = await import(pathToFileURL(resolve(build, "program.mjs")).href);
  return start(await WebAssembly.compile(readFileSync(join(build, "hollowtop_module.wasm"))));
}

/** @param {string} path @param {string} name @param {Record<string, Uint8Array>} files */
function lay(path, name, files) {
  if (statSync(path).isDirectory()) for (const one of readdirSync(path)) lay(join(path, one), `${name}/${one}`, files);
  else files[name] = readFileSync(path);
}

async function main() {
  const [build, ...words] = process.argv.slice(2);
  /** @type {Record<string, Uint8Array>} */
  const files = {};
  /** Names in the module and what they mean outside. @type {Map<string, string>} */
  const meant = new Map();
  const inside = words.map((word) => {
    const [, option, path] = /^(--[a-z-]+=)?(.*)$/s.exec(word) ?? ["", "", word];
    const isOutside = path.startsWith("/") || path.split("/").includes("..");
    const name = isOutside ? basename(path) : path.replace(/\/+$/, "");
    if (isOutside) meant.set(name, path);
    if (path !== "" && existsSync(path)) lay(path, name, files);
    return (option ?? "") + (isOutside ? name : path);
  });
  const done = (await load(build)).run(inside, files);
  for (const [name, bytes] of Object.entries(done.files)) {
    const path = meant.get(name) ?? name;
    mkdirSync(dirname(path), { recursive: true });
    writeFileSync(path, bytes);
  }
  process.stdout.write(done.out);
  process.stderr.write(done.err);
  process.exitCode = done.status;
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) await main();
