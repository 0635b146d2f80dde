// SPDX-License-Identifier: MIT
// @ts-check
/// Files in and out, by the browser's own means.

const LARGEST = 4e6; // bytes of a piece file

/** @param {string} title @returns {string} a name for the piece's files */
export function nameOf(title) {
  const plain = title
    .normalize("NFKD")
    .replace(/[^\w\s-]/g, "")
    .trim()
    .replace(/\s+/g, "_")
    .slice(0, 60);
  return plain || "piece";
}

/** @param {string} name @param {string|Uint8Array} data @param {string} type */
export function save(name, data, type) {
  const url = URL.createObjectURL(new Blob([/** @type {BlobPart} */ (data)], {type}));
  const link = document.createElement("a");
  link.href = url;
  link.download = name;
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(url), 60000);
}

/**
 * @param {Blob & {name?: string}} file
 * @returns {Promise<{text: string}|{wrong: string}>}
 */
export async function readPiece(file) {
  const name = file.name ?? "the file";
  if (file.size > LARGEST)
    return {
      wrong: `${name} is ${(file.size / 1e6).toFixed(0)} MB: no piece file is so large. The drawing stays as it was.`,
    };
  if (file.size === 0) return {wrong: `${name} is empty. The drawing stays as it was.`};
  let text;
  try {
    text = new TextDecoder("utf-8", {fatal: true}).decode(await file.arrayBuffer());
  } catch {
    return {wrong: `${name} is no text. A piece file is JSON, as Save writes it. The drawing stays as it was.`};
  }
  return {text: text.charCodeAt(0) === 0xfeff ? text.slice(1) : text};
}
