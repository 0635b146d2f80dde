// SPDX-License-Identifier: MIT
// @ts-check
/// What is kept in this browser, and a link that carries the piece in its fragment.

const PIECE = "hollowtop.piece",
  CHOICES = "hollowtop.choices";

/** @param {string} key @returns {string|null} */
function read(key) {
  try {
    return localStorage.getItem(key);
  } catch {
    return null;
  }
}

/** @param {string} key @param {string} value @returns {boolean} false where nothing can be kept */
function write(key, value) {
  try {
    localStorage.setItem(key, value);
    return true;
  } catch {
    return false;
  }
}

export const keptPiece = () => read(PIECE);
/** @param {string} text */
export const keepPiece = (text) => write(PIECE, text);

/** @typedef {{units?: "mm"|"in", theme?: "light"|"dark"|"device"}} Choices */

/** @returns {Choices} */
export function keptChoices() {
  try {
    return JSON.parse(read(CHOICES) ?? "{}") ?? {};
  } catch {
    return {};
  }
}
/** @param {Choices} choices */
export const keepChoices = (choices) => write(CHOICES, JSON.stringify(choices));

/** @param {Uint8Array} bytes */
function toBase64url(bytes) {
  let text = "";
  for (let i = 0; i < bytes.length; i += 0x8000) text += String.fromCharCode(...bytes.subarray(i, i + 0x8000));
  return btoa(text).replace(/\+/g, "-").replace(/\//g, "_").replace(/=+$/, "");
}

/** @param {string} text */
function fromBase64url(text) {
  return Uint8Array.from(atob(text.replace(/-/g, "+").replace(/_/g, "/")), (c) => c.charCodeAt(0));
}

const MOST = 2e6; // characters of a piece in a link

// the types that come with the checker do not know them yet
const {CompressionStream: Squeeze, DecompressionStream: Unsqueeze} = /** @type {any} */ (globalThis);

/** @param {Uint8Array} bytes @param {boolean} back */
async function squeezed(bytes, back) {
  const how = new (back ? Unsqueeze : Squeeze)("deflate-raw");
  const stream = new Blob([/** @type {BlobPart} */ (bytes)]).stream().pipeThrough(how);
  const reader = stream.getReader();
  /** @type {Uint8Array[]} */ const parts = [];
  let size = 0;
  for (;;) {
    const {done, value} = await reader.read();
    if (done) break;
    size += value.length;
    if (size > MOST) {
      await reader.cancel();
      throw new Error("too long");
    }
    parts.push(value);
  }
  const all = new Uint8Array(size);
  let at = 0;
  for (const p of parts) {
    all.set(p, at);
    at += p.length;
  }
  return all;
}

/** @param {string} piece @returns {Promise<string>} the fragment, with its hash */
export async function fragmentOf(piece) {
  const bytes = new TextEncoder().encode(piece);
  if (Squeeze === undefined) return `#plain=${toBase64url(bytes)}`;
  return `#piece=${toBase64url(await squeezed(bytes, false))}`;
}

/** @param {string} fragment @returns {Promise<string|null>} null where none is in it; throws where it is spoilt */
export async function pieceOfFragment(fragment) {
  const m = /^#(piece|plain)=([-\w]+)$/.exec(fragment);
  if (!m) return null;
  if (m[2].length > MOST) throw new Error("too long");
  const bytes = fromBase64url(m[2]);
  return new TextDecoder("utf-8", {fatal: true}).decode(m[1] === "plain" ? bytes : await squeezed(bytes, true));
}
