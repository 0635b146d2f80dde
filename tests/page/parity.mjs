// SPDX-License-Identifier: MIT
/**
 * @file The module of the page against the native program: node parity.mjs BUILD PROGRAM [all]. Runs each command line in both
 * and compares status, both texts and every file. BUILD is that of cli/page/build.sh; PROGRAM is best one without fused
 * multiply-add (HOLLOWTOP_LEVEL=2, or no HOLLOWTOP_NATIVE), which the module has not either. Without `all` a choice of the
 * command lines, for every change; with it all examples, all tops of docs/tops and every case of validate.
 *
 * What is not the same to the byte must be the same but for numbers, and those within 1e-9 of each other: of the greater, or of
 * the greatest of their list or object where they are its noise. Text that is rounded may differ by one in its last digit.
 * Ends with status 1 where something differs by more; names all that is not the same to the byte.
 */
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, readdirSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { load } from "../../cli/page/in_node.mjs";

const [build, programPath, which] = process.argv.slice(2), program = resolve(programPath);
const home = join(dirname(fileURLToPath(import.meta.url)), "../..");
const isAll = which === "all";
const near = 1e-9;

/** @typedef {{words: string[], files: Record<string, Buffer>}} Line */
/** @typedef {{status: number, out: string, err: string, files: Record<string, Buffer>}} Answer */

/** @param {string} folder @returns {{name: string, bytes: Buffer}[]} */
const piecesOf = (folder) =>
  readdirSync(join(home, folder))
    .filter((name) => name.endsWith(".json"))
    .sort()
    .map((name) => ({ name: `${folder}/${name}`, bytes: readFileSync(join(home, folder, name)) }));

/** @returns {Line[]} */
function lines() {
  const all = [];
  /** @param {string} words @param {Record<string, Buffer>} [files] */
  const line = (words, files = {}) => all.push({ words: words.split(" "), files });
  line("--version");
  line("--help");
  for (const words of ["uses", "materials", "sections", "manual", "completion bash", "schema result", "check --help", "nonsense", "check none.json"])
    line(words);
  line("new --use dining --shape round --length 1100 --thickness 32 --out new.json");
  line("new --use dining --length 1900 --width 850 --thickness 42 --base legs");
  line("check piece.json --mesh fine --json answer.json", { "piece.json": readFileSync(join(home, "docs/examples/wall_shelf.json")) });
  line("check piece.json", { "piece.json": Buffer.from('{"top": {"thickness": "38 mm"') });
  line("check piece.json", { "piece.json": Buffer.from([0xff, 0xfe, 0, 1, 2]) });
  line("check piece.json", { "piece.json": Buffer.alloc(10_000_001, 0x20) });
  const examples = piecesOf("docs/examples");
  const few = new Set(["reading_table", "wall_shelf", "hall_table"].map((name) => `docs/examples/${name}.json`));
  for (const { name, bytes } of examples) {
    if (!isAll && !few.has(name)) continue;
    const files = { "piece.json": bytes };
    line("check piece.json --json answer.json", files);
    line("movement piece.json --year --json answer.json --csv answer.csv", files);
    line("template piece.json --svg piece.svg --dxf piece.dxf", files);
    if (!isAll && !name.includes("reading_table")) continue;
    line("check piece.json --full --units in", files);
    line("report piece.json --date 2024-05-06 --out report.html --json answer.json", files);
    line("seasons piece.json --json answer.json", files);
    line("compare --vary rim=90,110 --mesh coarse --json lines.jsonl --csv table.csv --svg chart.svg piece.json", files);
  }
  if (isAll)
    for (const { name, bytes } of [...piecesOf("docs/tops/stand"), ...piecesOf("docs/tops/broke")])
      line(`check ${name.replace(/.*\//, "")} --json answer.json`, { [name.replace(/.*\//, "")]: bytes });
  const cases = piecesOf("validation/cases");
  for (const { name, bytes } of cases.filter((_, i) => isAll || i % 12 === 0)) // one after the other, so that each is named
    line(`validate --cases ${name.replace(/.*\//, "")} --json answer.json`, { [name.replace(/.*\//, "")]: bytes });
  return all;
}

/** @param {Line} line @returns {Answer} */
function native({ words, files }) {
  const folder = mkdtempSync(join(tmpdir(), "hollowtop-parity-"));
  try {
    for (const [name, bytes] of Object.entries(files)) writeFileSync(join(folder, name), bytes);
    const done = spawnSync(program, words, { cwd: folder, input: "", maxBuffer: 1 << 28 });
    /** @type {Record<string, Buffer>} */
    const made = {};
    for (const name of readdirSync(folder)) {
      const bytes = readFileSync(join(folder, name));
      if (statSync(join(folder, name)).isFile() && !(name in files && files[name].equals(bytes))) made[name] = bytes;
    }
    return { status: done.status ?? -1, out: done.stdout.toString(), err: done.stderr.toString(), files: made };
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** Numbers apart from the rest. @param {string} text */
const partsOf = (text) => text.split(/(-?(?<![\w.])\d+(?:\.\d+)?(?:e[+-]?\d+)?(?![\w]))/i);
/** @param {string} text one unit of its last digit */
function lastDigit(text) {
  const [mantissa, exponent] = text.toLowerCase().split("e");
  return 10 ** (Number(exponent ?? 0) - (mantissa.split(".")[1] ?? "").length);
}

/** How far two texts are apart: 0 the same bytes, else the greatest relative difference; a sentence where more differs.
 * @param {string} a @param {string} b @param {boolean} isExact are numbers written with all their digits? @returns {number | string} */
function apart(a, b, isExact) {
  if (a === b) return 0;
  const as = partsOf(a), bs = partsOf(b);
  let most = Number.MIN_VALUE;
  for (let i = 0; i < Math.max(as.length, bs.length); ++i) {
    if (as[i] === bs[i]) continue;
    const around = `"${as.slice(Math.max(0, i - 4), i + 3).join("").slice(-160)}" and "${bs.slice(Math.max(0, i - 4), i + 3).join("").slice(-160)}"`;
    if (i % 2 === 0 || as[i] === undefined || bs[i] === undefined) return `not the same but for numbers: ${around}`;
    const x = Number(as[i]), y = Number(bs[i]);
    const largest = Math.max(Math.abs(x), Math.abs(y), ...(isExact ? [] : []));
    const relative = Math.abs(x - y) / largest;
    if (relative <= near) most = Math.max(most, relative);
    else if (!isExact && Math.abs(x - y) <= 1.01 * Math.max(lastDigit(as[i]), lastDigit(bs[i]))) most = Math.max(most, near);
    else if (Math.max(Math.abs(x), Math.abs(y)) <= noise(as, bs, i)) most = Math.max(most, near);
    else return `${relative.toExponential(1)} apart: ${around}`;
  }
  return most;
}

/** What is no more than rounding beside the numbers that stand near. @param {string[]} as @param {string[]} bs @param {number} i */
function noise(as, bs, i) {
  let largest = 0;
  for (let k = Math.max(1, i - 20); k < Math.min(as.length, i + 21); k += 2)
    largest = Math.max(largest, Math.abs(Number(as[k])), Math.abs(Number(bs[k] ?? 0)));
  return near * largest;
}

const module = await load(build);
let n_same = 0, n_near = 0, n_apart = 0, native_s = 0, module_s = 0;
for (const line of lines()) {
  const before = performance.now();
  const theirs = native(line);
  const between = performance.now();
  const ours = module.run(line.words, line.files);
  native_s += (between - before) / 1000;
  module_s += (performance.now() - between) / 1000;
  const name = `${line.words.join(" ")}${Object.keys(line.files).length ? ` (${[...Object.values(line.files)][0].length} bytes)` : ""}`;
  /** @type {string[]} */
  const faults = [];
  let most = 0;
  /** @param {string} what @param {string} a @param {string} b @param {boolean} isExact */
  const compare = (what, a, b, isExact) => {
    const found = apart(a, b, isExact);
    if (typeof found === "string") faults.push(`${what}: ${found}`);
    else most = Math.max(most, found);
  };
  if (theirs.status !== ours.status) faults.push(`status ${theirs.status} and ${ours.status}: ${ours.err}`);
  compare("standard output", theirs.out, ours.out, false);
  compare("standard error", theirs.err, ours.err, false);
  for (const file of new Set([...Object.keys(theirs.files), ...Object.keys(ours.files)])) {
    if (!(file in theirs.files) || !(file in ours.files)) faults.push(`${file}: written by one alone`);
    else compare(file, theirs.files[file].toString(), Buffer.from(ours.files[file]).toString(), /\.jsonl?$/.test(file));
  }
  if (faults.length > 0) {
    ++n_apart;
    console.log(`APART  ${name}\n       ${faults.join("\n       ")}`);
  } else if (most === 0) ++n_same;
  else {
    ++n_near;
    console.log(`near   ${name}: ${most.toExponential(1)}`);
  }
}
console.log(`${n_same} the same to the byte, ${n_near} within ${near}, ${n_apart} apart; native ${native_s.toFixed(1)} s, module ${module_s.toFixed(1)} s`);
if (n_apart > 0 || n_same === 0) process.exit(1);
