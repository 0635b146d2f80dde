// SPDX-License-Identifier: MIT
/** @file The module as a function: words and files in; status, texts and files out. Knows of WebAssembly, not of workers. */
import makeModule from "hollowtop-module";

/** Where a run finds its files; empty before each. */
const bench = "/bench";
/** What the module's file system holds of itself. */
const kept = new Set(["dev", "proc"]);

/** @typedef {{status: number, out: string, err: string, files: Record<string, Uint8Array>, memory: number}} Done */
/** @typedef {{version: string, run: (words: string[], files: Record<string, string | Uint8Array>) => Done, said: () => string}} Program */

/** Text that comes byte by byte. */
class Bytes {
  #bytes = new Uint8Array(4096);
  #count = 0;
  /** @param {number | null} byte */
  add(byte) {
    if (byte === null) return;
    if (this.#count === this.#bytes.length) {
      const more = new Uint8Array(2 * this.#count);
      more.set(this.#bytes);
      this.#bytes = more;
    }
    this.#bytes[this.#count++] = byte;
  }
  text() {
    return new TextDecoder().decode(this.#bytes.subarray(0, this.#count));
  }
}

/** @param {string} name @returns {string[]} the folders and the file that it names, below the bench */
function steps(name) {
  const parts = name.split("/").filter((part) => part !== "" && part !== ".");
  if (name.startsWith("/") || parts.length === 0 || parts.includes(".."))
    throw new RangeError(`A file for a run needs a plain name, not "${name}".`);
  return parts;
}

/** @param {any} fs @param {string} folder */
function empty(fs, folder) {
  for (const name of fs.readdir(folder)) {
    if (name === "." || name === ".." || (folder === "/" && kept.has(name))) continue;
    const path = folder === "/" ? `/${name}` : `${folder}/${name}`;
    if (fs.isDir(fs.lstat(path).mode)) {
      empty(fs, path);
      fs.rmdir(path);
    } else fs.unlink(path);
  }
}

/** @param {any} fs @param {string} folder @param {string} under @param {Record<string, Uint8Array>} found */
function gather(fs, folder, under, found) {
  for (const name of fs.readdir(folder)) {
    if (name === "." || name === "..") continue;
    const path = `${folder}/${name}`;
    if (fs.isDir(fs.stat(path).mode)) gather(fs, path, `${under}${name}/`, found);
    else found[under + name] = fs.readFile(path);
  }
}

/** @param {Uint8Array} a @param {Uint8Array} b */
const areSame = (a, b) => a.length === b.length && a.every((byte, i) => byte === b[i]);

/**
 * The module, ready to run.
 * @param {WebAssembly.Module} compiled
 * @returns {Promise<Program>}
 */
export async function start(compiled) {
  let out = new Bytes(), err = new Bytes();
  /** @type {(fault: unknown) => void} */
  let refuse = () => {};
  const refused = new Promise((_, reject) => (refuse = reject));
  const module = await Promise.race([refused, makeModule({
    stdin: () => null,
    stdout: (/** @type {number | null} */ byte) => out.add(byte),
    stderr: (/** @type {number | null} */ byte) => err.add(byte),
    print: () => {},
    printErr: () => {},
    instantiateWasm: (/** @type {WebAssembly.Imports} */ imports, /** @type {(i: WebAssembly.Instance, m: WebAssembly.Module) => void} */ receive) => {
      WebAssembly.instantiate(compiled, imports).then((instance) => receive(instance, compiled), refuse);
      return {};
    },
  })]);
  const fs = module.FS;

  /** @type {Program["run"]} */
  const run = (words, files) => {
    out = new Bytes();
    err = new Bytes();
    fs.chdir("/");
    empty(fs, "/");
    fs.mkdir(bench);
    fs.mkdir("/tmp");
    /** @type {Map<string, Uint8Array>} */
    const laid = new Map();
    for (const [name, content] of Object.entries(files)) {
      const parts = steps(name);
      const bytes = typeof content === "string" ? new TextEncoder().encode(content) : content;
      let path = bench;
      for (const part of parts.slice(0, -1)) {
        path += `/${part}`;
        if (!fs.analyzePath(path).exists) fs.mkdir(path);
      }
      fs.writeFile(`${path}/${parts[parts.length - 1]}`, bytes);
      laid.set(parts.join("/"), bytes);
    }
    fs.chdir(bench);
    const all = ["hollowtop", ...words];
    const places = all.map((word) => {
      const size = module.lengthBytesUTF8(word) + 1, place = module._malloc(size);
      module.stringToUTF8(word, place, size);
      return place;
    });
    const argv = module._malloc(4 * places.length);
    places.forEach((place, i) => module.setValue(argv + 4 * i, place, "i32"));
    const status = module._hollowtop_run(places.length, argv);
    for (const place of [...places, argv]) module._free(place);
    /** @type {Record<string, Uint8Array>} */
    const found = {};
    gather(fs, bench, "", found);
    for (const [name, bytes] of laid) if (name in found && areSame(found[name], bytes)) delete found[name];
    const memory = module._hollowtop_memory();
    return { status, out: out.text(), err: err.text(), files: found, memory };
  };
  return { version: module.UTF8ToString(module._hollowtop_version()), run, said: () => err.text() };
}
