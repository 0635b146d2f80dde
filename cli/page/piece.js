// SPDX-License-Identifier: MIT
// @ts-check
/// The text of a piece file, JSON with comments, changed in place: what is not changed stays as it was written,
/// with its order, its spaces and its comments.

/**
 * @typedef {{kind: "object", from: number, to: number, members: Member[]}
 *   | {kind: "array", from: number, to: number, items: Node[]}
 *   | {kind: "plain", from: number, to: number, value: string|number|boolean|null}} Node
 * @typedef {{key: string, from: number, value: Node}} Member
 * @typedef {(string|number)[]} Path
 */

/** Where the text is no JSON. */
export class PieceError extends Error {
  /** @param {string} what @param {string} text @param {number} at */
  constructor(what, text, at) {
    const before = text.slice(0, at).split("\n");
    super(`line ${before.length}, column ${before[before.length - 1].length + 1}: ${what}`);
    this.name = "PieceError";
  }
}

const DEEPEST = 64;

/** @param {string} text @returns {Node} */
export function parse(text) {
  let i = text.charCodeAt(0) === 0xfeff ? 1 : 0;
  /** @param {string} what @returns {never} */
  const fail = (what) => {
    throw new PieceError(what, text, i);
  };
  const skip = () => {
    for (;;) {
      const c = text[i];
      if (c === " " || c === "\t" || c === "\n" || c === "\r") i++;
      else if (c === "/" && text[i + 1] === "/") {
        while (i < text.length && text[i] !== "\n") i++;
      } else if (c === "/" && text[i + 1] === "*") {
        const end = text.indexOf("*/", i + 2);
        if (end < 0) fail("this comment has no end");
        i = end + 2;
      } else return;
    }
  };
  const string = () => {
    const from = i++;
    while (i < text.length && text[i] !== '"' && text[i] !== "\n") i += text[i] === "\\" ? 2 : 1;
    if (text[i] !== '"') fail("this text has no closing quote");
    i++;
    try {
      return /** @type {string} */ (JSON.parse(text.slice(from, i)));
    } catch {
      return fail("this text cannot be read");
    }
  };
  /** @param {number} depth @returns {Node} */
  const value = (depth) => {
    if (depth > DEEPEST) fail("too deep");
    skip();
    const from = i;
    if (text[i] === "{") {
      i++;
      /** @type {Member[]} */ const members = [];
      for (skip(); text[i] !== "}"; skip()) {
        if (members.length > 0) {
          if (text[i] !== ",") fail("a comma or } is missing");
          i++;
          skip();
        }
        if (text[i] !== '"') fail("a name in double quotes is missing");
        const at = i,
          key = string();
        skip();
        if (text[i] !== ":") fail("a colon is missing");
        i++;
        members.push({key, from: at, value: value(depth + 1)});
      }
      i++;
      return {kind: "object", from, to: i, members};
    }
    if (text[i] === "[") {
      i++;
      /** @type {Node[]} */ const items = [];
      for (skip(); text[i] !== "]"; skip()) {
        if (items.length > 0) {
          if (text[i] !== ",") fail("a comma or ] is missing");
          i++;
        }
        items.push(value(depth + 1));
      }
      i++;
      return {kind: "array", from, to: i, items};
    }
    if (text[i] === '"') {
      const s = string();
      return {kind: "plain", from, to: i, value: s};
    }
    const word = /[-+.\w]+/y;
    word.lastIndex = i;
    const found = word.exec(text);
    if (!found) return fail("a value is missing");
    let plain;
    try {
      plain = JSON.parse(found[0]);
    } catch {
      return fail("a value is missing");
    }
    i += found[0].length;
    return {kind: "plain", from, to: i, value: plain};
  };
  const root = value(0);
  skip();
  if (i < text.length) fail("more text after the end");
  return root;
}

/** @param {Node} node @returns {any} */
export function valueOf(node) {
  if (node.kind === "plain") return node.value;
  if (node.kind === "array") return node.items.map(valueOf);
  /** @type {Record<string, any>} */ const all = {};
  for (const m of node.members)
    Object.defineProperty(all, m.key, {value: valueOf(m.value), enumerable: true, configurable: true, writable: true});
  return all;
}

/** @param {Node|undefined} node @param {Path} path @returns {Node|undefined} */
function find(node, path) {
  for (const step of path) {
    if (!node || node.kind === "plain") return undefined;
    node = node.kind === "array" ? node.items[Number(step)] : node.members.find((m) => m.key === step)?.value;
  }
  return node;
}

/** @param {any} value a piece of the file on one line, as its examples are written @returns {string} */
export function written(value) {
  if (Array.isArray(value)) return `[${value.map(written).join(", ")}]`;
  if (value !== null && typeof value === "object")
    return `{${Object.entries(value)
      .map(([k, v]) => `${JSON.stringify(k)}: ${written(v)}`)
      .join(", ")}}`;
  return JSON.stringify(value);
}

/** @param {string} text @param {number} at @returns {string} what the line there is indented by */
function indentAt(text, at) {
  const start = text.lastIndexOf("\n", at - 1) + 1;
  return /^[ \t]*/.exec(text.slice(start))?.[0] ?? "";
}

/** @param {string} text @param {number} from @param {number} to @param {string} put */
const spliced = (text, from, to, put) => text.slice(0, from) + put + text.slice(to);

/**
 * Puts one more thing into a list or an object, as the others stand there: on a line of its own, or beside them.
 * @param {string} text @param {Node} parent @param {string} put @param {boolean} ownLine where nothing stands yet
 */
function appended(text, parent, put, ownLine) {
  if (parent.kind === "plain") throw new Error("nothing can be added to a plain value");
  const all =
    parent.kind === "array"
      ? parent.items.map((n) => ({from: n.from, to: n.to}))
      : parent.members.map((m) => ({from: m.from, to: m.value.to}));
  const last = all[all.length - 1];
  if (last) {
    const before = all.length > 1 ? all[all.length - 2].to : parent.from + 1;
    const apart = text.slice(before, last.from).includes("\n");
    return spliced(text, last.to, last.to, apart ? `,\n${indentAt(text, last.from)}${put}` : `, ${put}`);
  }
  const indent = indentAt(text, parent.from);
  if (!ownLine) return spliced(text, parent.from + 1, parent.to - 1, put);
  return spliced(
    text,
    parent.from + 1,
    parent.from + 1,
    `\n${indent}  ${put}${/^\s*[\]}]/.test(text.slice(parent.from + 1)) ? `\n${indent}` : ""}`,
  ).replace(/\n[ \t]*\n([ \t]*[\]}])/, "\n$1");
}

/**
 * The text with the value there, added where it is not.
 * @param {string} text @param {Path} path @param {any} value @returns {string}
 */
export function withValue(text, path, value) {
  const root = parse(text);
  const old = find(root, path);
  if (old) {
    const now = written(value);
    return text.slice(old.from, old.to) === now ? text : spliced(text, old.from, old.to, now);
  }
  const parent = find(root, path.slice(0, -1));
  const key = path[path.length - 1];
  if (!parent) {
    // the parent first, with this in it
    return withValue(text, path.slice(0, -1), typeof key === "number" ? [value] : {[key]: value});
  }
  if (typeof key === "number") return appended(text, parent, written(value), path.length <= 2);
  if (parent.kind !== "object") throw new Error("no object there");
  if (path.length === 1 && Array.isArray(value)) {
    const lines = value.map((v) => `    ${written(v)}`).join(",\n");
    return appended(text, parent, `${JSON.stringify(key)}: [\n${lines}\n  ]`, true);
  }
  return appended(text, parent, `${JSON.stringify(key)}: ${written(value)}`, path.length === 1);
}

/**
 * The text without what is there.
 * @param {string} text @param {Path} path @returns {string}
 */
export function without(text, path) {
  const root = parse(text);
  const parent = find(root, path.slice(0, -1));
  const key = path[path.length - 1];
  if (!parent || parent.kind === "plain") return text;
  const all =
    parent.kind === "array"
      ? parent.items.map((n) => ({from: n.from, to: n.to}))
      : parent.members.map((m) => ({from: m.from, to: m.value.to}));
  const k = parent.kind === "array" ? Number(key) : parent.members.findIndex((m) => m.key === key);
  if (k < 0 || k >= all.length) return text;
  let {from, to} = all[k];
  if (k + 1 < all.length) {
    to = commaAfter(text, to) + 1;
    const rest = /^[ \t]*(?:\/\/[^\n]*)?\n[ \t]*/.exec(text.slice(to)) ?? /^[ \t]*/.exec(text.slice(to));
    to += rest?.[0].length ?? 0;
  } else if (k > 0) {
    const comma = commaAfter(text, all[k - 1].to);
    // the comma goes; a comment after it stays with what it speaks of
    const gap = text.slice(comma + 1, from);
    const kept = gap.replace(/[ \t]*\n?[ \t]*$/, "");
    return text.slice(0, comma) + kept + text.slice(to);
  }
  if (
    all.length === 1 &&
    text.slice(parent.from + 1, from).trim() === "" &&
    text.slice(to, parent.to - 1).trim() === ""
  )
    return spliced(text, parent.from + 1, parent.to - 1, "");
  return spliced(text, from, to, "");
}

/** @param {string} text @param {number} at of the end of a value @returns {number} where the comma after it stands */
function commaAfter(text, at) {
  for (let i = at; i < text.length; i++) {
    if (text[i] === ",") return i;
    if (text[i] === "/" && text[i + 1] === "/") i = text.indexOf("\n", i);
    else if (text[i] === "/" && text[i + 1] === "*") i = text.indexOf("*/", i) + 1;
  }
  return text.length;
}

/**
 * Several values at once.
 * @param {string} text @param {[Path, any][]} edits
 */
export function withValues(text, edits) {
  return edits.reduce((t, [path, value]) => (value === undefined ? without(t, path) : withValue(t, path, value)), text);
}

/**
 * "recesses[1].depth" as a path.
 * @param {string} place @returns {Path}
 */
export function pathOf(place) {
  return [...place.matchAll(/\[(\d+)\]|([^.[\]]+)/g)].map((m) => (m[1] !== undefined ? Number(m[1]) : m[2]));
}
