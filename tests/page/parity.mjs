// SPDX-License-Identifier: MIT
/**
 * @file The module of the page against the native program: node parity.mjs BUILD PROGRAM [all]. Runs each command line in both
 * and compares status, both texts and every file. BUILD is that of cli/page/build.sh; PROGRAM is best one without fused
 * multiply-add (HOLLOWTOP_LEVEL=2, or no HOLLOWTOP_NATIVE), which the module has not either. Without `all` a choice of the
 * command lines, for every change (HOLLOWTOP_PAGE_ONLY: those that match it); with it all examples, all tops of docs/tops and every case of validate.
 *
 * What is not the same to the byte must be the same but for numbers, and those within 1e-9: of themselves, or of the greatest of
 * their kind (the same key of the same check), beside which one near nought is no more than its rounding. Text that is rounded may
 * differ by one in its last digit. Of two places that are equally bad each may name another, in pictures too; how many numbers do is said.
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
const only = new RegExp(process.env.HOLLOWTOP_PAGE_ONLY ?? "");
/** A program with fused multiply-add (a build for this machine) differs by more: tests/page/run.sh. */
const near = Number(process.env.HOLLOWTOP_PAGE_NEAR ?? 1e-9);
/** Then columns of a text that hold a place, and the order of what is as good as equal, may be others: left to level 2. */
const isOfAnother = near > 1e-9;
/** So many numbers of an answer may name another place that is as bad: a mirror image moves a few marks, a fault moves all. */
const mostPlaces = 60;

/** @typedef {{words: string[], files: Record<string, Buffer>, of: string}} Line */
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
  /** @param {string} words @param {Record<string, Buffer>} [files] @param {string} [of] */
  const line = (words, files = {}, of = "spoilt") => all.push({ words: words.split(" "), files, of });
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
    line("check piece.json --json answer.json", files, name);
    line("movement piece.json --year --json answer.json --csv answer.csv", files, name);
    line("template piece.json --svg piece.svg --dxf piece.dxf", files, name);
    if (!isAll && !name.includes("reading_table")) continue;
    if (!isOfAnother) {
      line("check piece.json --full --units in --json answer.json", files, name);
      line("report piece.json --date 2024-05-06 --out report.html --json answer.json", files, name);
    }
    line("seasons piece.json --json answer.json", files, name);
    line("compare --vary rim=90,110 --mesh coarse --json lines.jsonl --csv table.csv --svg chart.svg piece.json", files, name);
  }
  if (isAll)
    for (const { name, bytes } of [...piecesOf("docs/tops/stand"), ...piecesOf("docs/tops/broke")])
      line(`check ${name.replace(/.*\//, "")} --json answer.json`, { [name.replace(/.*\//, "")]: bytes }, name);
  const cases = piecesOf("validation/cases");
  for (const { name, bytes } of cases.filter((_, i) => isAll || i % 40 === 0)) // one after the other, so that each is named
    line(`validate --cases ${name.replace(/.*\//, "")} --json answer.json`, { [name.replace(/.*\//, "")]: bytes }, name);
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

/**
 * What one command line's answers differ by. `most` is the greatest difference of a number, of what it is held against; `places`
 * counts places named that are others, which two equal maxima may be (symmetric tops); `faults` are sentences.
 */
class Difference {
  isSame = true;
  most = 0;
  places = 0;
  /** @type {string[]} */
  faults = [];
  /** @param {string} where @param {number} x @param {number} y @param {number} scale */
  number(where, x, y, scale) {
    const relative = Math.abs(x - y) / Math.max(Math.abs(x), Math.abs(y), scale);
    this.most = Math.max(this.most, relative);
    if (!(relative <= near)) this.faults.push(`${where}: ${x} and ${y}, ${relative.toExponential(1)} apart`);
  }
}

/** Keys of places: at_mm, from_mm, worst_place ... @param {string} key */
const isPlace = (key) => /(^|_)(at|from|to|place|where|line|straightedge|x|y)(_mm)?$/.test(key);

/** What a number of that key is a part of, by its unit: percent of 100; errors of equilibrium and of the contacts, which are rounding
 * and nothing else, of 1; lengths of 1 mm. @param {string} key */
const wholeOf = (key) => (key.endsWith("percent") ? 100 : /^(residual|equilibrium_error)$|_mm$/.test(key) ? 1 : 0);

/** Calls `see` with every number, its path and the name of its kind: the same key of the same check is of one kind.
 * @param {any} value @param {string} path @param {string} kind @param {string} key @param {(path: string, kind: string, key: string, value: any) => void} see */
function walk(value, path, kind, key, see) {
  if (Array.isArray(value)) value.forEach((one, i) => walk(one, `${path}/${i}`, `${kind}/${one?.check ?? one?.name ?? ""}`, key, see));
  else if (value !== null && typeof value === "object")
    for (const [k, one] of Object.entries(value)) walk(one, `${path}/${k}`, `${kind}/${k}`, k, see);
  else see(path, kind, key, value);
}

/** @param {Difference} difference @param {string} file @param {any} a @param {any} b */
function compareValues(difference, file, a, b) {
  /** @type {Map<string, any>} */
  const ours = new Map();
  /** The greatest of each kind: beside it what is near nought is no more than its rounding. @type {Map<string, number>} */
  const greatest = new Map();
  walk(b, "", "", "", (path, _, __, value) => ours.set(path, value));
  walk(a, "", "", "", (_, kind, __, value) => typeof value === "number" && greatest.set(kind, Math.max(greatest.get(kind) ?? 0, Math.abs(value))));
  walk(a, "", "", "", (path, kind, key, value) => {
    const other = ours.get(path);
    ours.delete(path);
    if (value === other) return;
    if (typeof value !== "number" || typeof other !== "number") difference.faults.push(`${file}${path}: ${value} and ${other}`);
    else if (isPlace(key) && Math.abs(value - other) > near * Math.abs(value) + 1e-6) ++difference.places;
    else difference.number(file + path, value, other, Math.max(greatest.get(kind) ?? 0, wholeOf(key)));
  });
  for (const path of ours.keys()) difference.faults.push(`${file}${path}: not there natively`);
}

/** Numbers apart from the rest. @param {string} text */
const partsOf = (text) => text.split(/(-?(?<![\w.])\d+(?:\.\d+)?(?:e[+-]?\d+)?(?![\w]))/i);
/** One unit of its last digit. @param {string} text */
function lastDigit(text) {
  const [mantissa, exponent] = text.toLowerCase().split("e");
  return 10 ** (Number(exponent ?? 0) - (mantissa.split(".")[1] ?? "").length);
}

/** @param {Difference} difference @param {string} file @param {string} a @param {string} b */
function compareTexts(difference, file, a, b) {
  const as = partsOf(a), bs = partsOf(b);
  for (let i = 0; i < Math.max(as.length, bs.length); ++i) {
    if (as[i] === bs[i]) continue;
    const around = `"${as.slice(Math.max(0, i - 4), i + 3).join("").slice(-160)}" and "${bs.slice(Math.max(0, i - 4), i + 3).join("").slice(-160)}"`;
    if (i % 2 === 0 || as[i] === undefined || bs[i] === undefined) return void difference.faults.push(`${file}: not the same but for numbers: ${around}`);
    const x = Number(as[i]), y = Number(bs[i]);
    if (Math.abs(x - y) <= 1.01 * Math.max(lastDigit(as[i]), lastDigit(bs[i]))) continue; // rounded the other way
    let scale = 0; // of what stands near it
    for (let k = Math.max(1, i - 20); k < Math.min(as.length, i + 21); k += 2) scale = Math.max(scale, Math.abs(Number(as[k])));
    if (Math.abs(x - y) > near * scale) {
      const isDrawn = file.endsWith(".html") && /\b[cxy]?[xy][12]?="$/.test(as[i - 1]); // where a picture marks it
      if (isDrawn) ++difference.places;
      if (isDrawn || difference.places > 0) continue; // a place, as the JSON beside says
    }
    difference.number(`${file}: ${around}`, x, y, scale);
  }
}

/** @param {Difference} difference @param {string} file @param {string} a @param {string} b */
function compareFiles(difference, file, a, b) {
  if (a === b) return;
  difference.isSame = false;
  if (file.endsWith(".json")) return compareValues(difference, file, JSON.parse(a), JSON.parse(b));
  if (!file.endsWith(".jsonl")) return compareTexts(difference, file, a, b);
  const as = a.trim().split("\n"), bs = b.trim().split("\n");
  if (as.length !== bs.length) difference.faults.push(`${file}: ${as.length} lines and ${bs.length}`);
  else as.forEach((line, i) => compareValues(difference, `${file}:${i + 1}`, JSON.parse(line), JSON.parse(bs[i])));
}

const module = await load(build);
let n_same = 0, n_near = 0, n_apart = 0, most = 0, native_s = 0, module_s = 0;
for (const line of lines()) {
  const name = `${line.words.join(" ")}${Object.keys(line.files).length ? ` (${line.of})` : ""}`;
  if (!only.test(name)) continue;
  const before = performance.now();
  const theirs = native(line);
  const between = performance.now();
  const ours = module.run(line.words, line.files);
  native_s += (between - before) / 1000;
  module_s += (performance.now() - between) / 1000;
  const difference = new Difference();
  if (theirs.status !== ours.status) difference.faults.push(`status ${theirs.status} and ${ours.status}: ${ours.err}`);
  const files = [...new Set([...Object.keys(theirs.files), ...Object.keys(ours.files)])];
  files.sort((a, b) => Number(b.includes(".json")) - Number(a.includes(".json"))); // these say which places may differ
  for (const file of files) {
    if (file in theirs.files && file in ours.files)
      compareFiles(difference, file, theirs.files[file].toString(), Buffer.from(ours.files[file]).toString());
    else difference.faults.push(`${file}: written by one alone`);
  }
  compareFiles(difference, "standard output", theirs.out, ours.out);
  compareFiles(difference, "standard error", theirs.err, ours.err);
  if (difference.places > mostPlaces) difference.faults.push(`${difference.places} numbers of places are others`);
  most = Math.max(most, difference.most);
  if (difference.faults.length > 0) {
    ++n_apart;
    console.log(`APART  ${name}\n       ${difference.faults.slice(0, 4).join("\n       ")}${difference.faults.length > 4 ? `\n       and ${difference.faults.length - 4} more` : ""}`);
  } else if (difference.isSame) ++n_same;
  else {
    ++n_near;
    console.log(`near   ${name}: ${difference.most.toExponential(1)}${difference.places ? `, ${difference.places} numbers of places among equals` : ""}`);
  }
}
console.log(`${n_same} the same to the byte, ${n_near} within ${near} (greatest ${most.toExponential(1)}), ${n_apart} apart; native ${native_s.toFixed(1)} s, module ${module_s.toFixed(1)} s`);
if (n_apart > 0 || n_same === 0) process.exit(1);
