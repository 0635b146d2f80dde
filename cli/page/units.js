// SPDX-License-Identifier: MIT
// @ts-check
/// Lengths as makers write them. Inside, every length is in millimetres.

/** @typedef {"mm"|"in"} Units */

export const INCH = 25.4;

const PER_UNIT = new Map([
  ["mm", 1],
  ["cm", 10],
  ["m", 1000],
  ["in", INCH],
  ["inch", INCH],
  ["inches", INCH],
  ['"', INCH],
  ["″", INCH],
  ["”", INCH],
  ["ft", 12 * INCH],
  ["foot", 12 * INCH],
  ["feet", 12 * INCH],
  ["'", 12 * INCH],
  ["′", 12 * INCH],
  ["’", 12 * INCH],
]);
const NUMBER = String.raw`-?(?:\d+(?:\.\d+)?|\.\d+)`;
const AMOUNT = String.raw`-?(?:\d+(?:-|\s+)\d+\/\d+|\d+\/\d+|\d+(?:\.\d+)?|\.\d+)`;
const ONE = new RegExp(String.raw`^(${AMOUNT})\s*([a-z]+|["'″”′’])?$`, "i");
const FEET = new RegExp(
  String.raw`^(${NUMBER})\s*(?:ft|foot|feet|['′’])\s*(${AMOUNT})\s*(?:in|inch|inches|["″”])?$`,
  "i",
);

/** @param {string} text such as "4", "4-3/8", "4 3/8" or "3/8" @returns {number} NaN where it is none */
function amount(text) {
  const sign = text.startsWith("-") ? -1 : 1;
  const rest = sign < 0 ? text.slice(1) : text;
  const mixed = /^(?:(\d+)(?:-|\s+))?(\d+)\/(\d+)$/.exec(rest);
  if (!mixed) return sign * Number(rest);
  if (Number(mixed[3]) === 0) return NaN;
  return sign * (Number(mixed[1] ?? 0) + Number(mixed[2]) / Number(mixed[3]));
}

/**
 * Millimetres of what was typed: "42", "42 mm", "4.2 cm", "4-3/8", "1 5/8\"", "3'6\"".
 * @param {unknown} typed a number, or a text
 * @param {Units} units of a number without one
 * @returns {number|null} null where it is no length
 */
export function lengthOf(typed, units) {
  const plain = units === "in" ? INCH : 1;
  if (typeof typed === "number") return Number.isFinite(typed) ? typed * plain : null;
  if (typeof typed !== "string") return null;
  const text = typed.trim();
  const both = FEET.exec(text);
  if (both) {
    const inches = amount(both[2]);
    return Number.isNaN(inches) ? null : Number(both[1]) * 12 * INCH + inches * INCH;
  }
  const one = ONE.exec(text);
  if (!one) return null;
  const factor = one[2] === undefined ? plain : PER_UNIT.get(one[2].toLowerCase());
  const value = amount(one[1]);
  return factor === undefined || Number.isNaN(value) ? null : value * factor;
}

/** @param {number} value @param {number} step */
const roundedTo = (value, step) => Math.round(value / step) * step;

/**
 * To whole millimetres, or to sixteenths of an inch.
 * @param {number} mm @param {Units} units
 */
export function snapped(mm, units) {
  return units === "in" ? roundedTo(mm, INCH / 16) : Math.round(mm);
}

/**
 * One press of an arrow key.
 * @param {Units} units
 */
export function stepOf(units) {
  return units === "in" ? INCH / 16 : 1;
}

/** @param {number} value @param {number} digits */
function trimmed(value, digits) {
  const text = value.toFixed(digits).replace(/\.?0+$/, "");
  return text === "-0" ? "0" : text;
}

/**
 * "4-3/8", or a decimal where no sixteenth is within a thousandth.
 * @param {number} inches
 */
function inchesText(inches) {
  const sixteenths = Math.round(Math.abs(inches) * 16);
  if (Math.abs(Math.abs(inches) * 16 - sixteenths) > 0.016) return trimmed(inches, 3);
  const sign = inches < 0 && sixteenths > 0 ? "-" : "";
  const whole = Math.floor(sixteenths / 16);
  let over = sixteenths % 16,
    under = 16;
  while (over > 0 && over % 2 === 0) {
    over /= 2;
    under /= 2;
  }
  if (over === 0) return sign + whole;
  return sign + (whole > 0 ? `${whole}-` : "") + `${over}/${under}`;
}

/**
 * Without its unit: "120" or "4-3/8".
 * @param {number} mm @param {Units} units
 */
export function plainLength(mm, units) {
  return units === "in" ? inchesText(mm / INCH) : trimmed(mm, 2);
}

/**
 * "120 mm" or "4-3/8 in".
 * @param {number} mm @param {Units} units
 */
export function lengthText(mm, units) {
  return `${plainLength(mm, units)} ${units}`;
}

/**
 * What the wood moves, finer than a rule shows.
 * @param {number} mm @param {Units} units
 */
export function movementText(mm, units) {
  if (units === "in") return `${(mm / INCH).toFixed(3)} in`;
  return `${mm.toFixed(Math.abs(mm) < 0.1 ? 2 : 1)} mm`;
}

/** @param {number} newton @param {Units} units */
export function forceText(newton, units) {
  return units === "in" ? `${Math.round(newton / 4.4482216)} lbf` : `${Math.round(newton)} N`;
}

/** @param {number} mpa @param {Units} units */
export function stressText(mpa, units) {
  return units === "in" ? `${Math.round(mpa * 145.03774)} psi` : `${mpa.toFixed(2)} MPa`;
}

/** @param {number} kg @param {Units} units */
export function massText(kg, units) {
  return units === "in" ? `${(kg / 0.45359237).toFixed(1)} lb` : `${kg.toFixed(1)} kg`;
}

/**
 * A length as the piece file shall hold it: a number, or a text in the unit that stood there.
 * @param {number} mm
 * @param {Units} units of the file
 * @param {unknown} [before] what stood there
 * @returns {number|string}
 */
export function writtenLength(mm, units, before) {
  const plain = (/** @type {Units} */ of) => Number((of === "in" ? mm / INCH : mm).toFixed(of === "in" ? 5 : 3));
  if (typeof before !== "string") return plain(units);
  const stood = lengthOf(before, units);
  if (stood !== null && Math.abs(stood - mm) < 1e-6) return before;
  const inches = /(in|inch|inches|ft|foot|feet|["'″”′’])\s*$/i.test(before);
  return inches ? `${inchesText(mm / INCH)} in` : `${plain("mm")} mm`;
}
