// SPDX-License-Identifier: MIT
// What the page does without a browser: lengths, the text of a piece, its drawing.
//   node --test tests/page/modules_test.mjs
// With HOLLOWTOP_PROGRAM, the native program, screws and answers are held against what it says.
import assert from "node:assert/strict";
import {execFileSync} from "node:child_process";
import {mkdtempSync, readFileSync, readdirSync, rmSync} from "node:fs";
import {tmpdir} from "node:os";
import {dirname, join} from "node:path";
import {test} from "node:test";
import {fileURLToPath} from "node:url";
import {answerOf, faultsOf} from "../../cli/page/answer.js";
import {drawing, viewOf} from "../../cli/page/drawing.js";
import {handlesOf} from "../../cli/page/handles.js";
import {History} from "../../cli/page/history.js";
import {fieldsOf, levelsOf, valuesAt} from "../../cli/page/map.js";
import {modelOf} from "../../cli/page/model.js";
import {partsView} from "../../cli/page/parts.js";
import {PieceError, parse, pathOf, valueOf, withValue, withValues, without} from "../../cli/page/piece.js";
import {fragmentOf, pieceOfFragment} from "../../cli/page/store.js";
import {lengthOf, plainLength, snapped, writtenLength} from "../../cli/page/units.js";

const home = join(dirname(fileURLToPath(import.meta.url)), "../..");
const examples = readdirSync(join(home, "docs/examples"))
  .filter((name) => name.endsWith(".json"))
  .map((name) => ({name, text: readFileSync(join(home, "docs/examples", name), "utf8")}));
/** JSON without its comments, by another way than the page's. @param {string} text */
const plain = (text) =>
  JSON.parse(text.replace(/("(?:\\.|[^"\\])*")|\/\/[^\n]*|\/\*[^]*?\*\//g, (_, quoted) => quoted ?? ""));
/** @param {any} value what it is without prototypes */
const bare = (value) => JSON.parse(JSON.stringify(value));

test("lengths are read as makers write them: an inch is 25.4 mm", () => {
  const read = [
    ["42", "mm", 42],
    ["42 mm", "in", 42],
    ["4.2 cm", "mm", 42],
    ["1-5/8 in", "mm", 1.625 * 25.4],
    ['1 5/8"', "mm", 1.625 * 25.4],
    ["4-3/8", "in", 4.375 * 25.4],
    ["3/8", "in", 0.375 * 25.4],
    ["3'6\"", "mm", 42 * 25.4],
    ["3 ft 6 in", "mm", 42 * 25.4],
    ["-5", "mm", -5],
  ];
  for (const [text, units, mm] of read) {
    const got = lengthOf(text, /** @type {any} */ (units));
    assert.ok(got !== null && Math.abs(got - Number(mm)) < 1e-9, `${text}: ${got}`);
  }
  for (const text of ["", "abc", "5/0", "1,900", "12 parsec", "1--2", "NaN"])
    assert.equal(lengthOf(text, "mm"), null, text);
});

test("inches are shown in sixteenths where a rule shows them, and as decimals where it does not", () => {
  assert.equal(plainLength(4.375 * 25.4, "in"), "4-3/8");
  assert.equal(plainLength(12 * 25.4, "in"), "12");
  assert.equal(plainLength(25.4 / 16, "in"), "1/16");
  assert.equal(plainLength(120, "in"), "4.724");
  assert.equal(plainLength(120, "mm"), "120");
  for (let sixteenth = 0; sixteenth < 200; sixteenth++)
    assert.ok(
      Math.abs(Number(lengthOf(plainLength((sixteenth * 25.4) / 16, "in"), "in")) - (sixteenth * 25.4) / 16) < 1e-9,
    );
});

test("what is pulled stays on whole millimetres or on sixteenths", () => {
  assert.equal(snapped(120.4, "mm"), 120);
  assert.ok(Math.abs((snapped(120.4, "in") / 25.4) * 16 - Math.round((120.4 / 25.4) * 16)) < 1e-9);
});

test("a length keeps the unit that stood in the file", () => {
  assert.equal(writtenLength(50.8, "mm", "4 in"), "2 in");
  assert.equal(writtenLength(50.8, "in", "42 mm"), "50.8 mm");
  assert.equal(writtenLength(50.8, "in", 3), 2);
  assert.equal(writtenLength(50.8, "mm"), 50.8);
});

test("every example is read as a common reader of JSON reads it", () => {
  for (const {name, text} of examples) assert.deepEqual(bare(valueOf(parse(text))), plain(text), name);
});

test("a changed number leaves every other letter of the file alone", () => {
  for (const {name, text} of examples) {
    const before = plain(text).top.thickness,
      now = withValue(text, ["top", "thickness"], 77);
    const lines = text.split("\n"),
      changed = now.split("\n");
    assert.equal(changed.length, lines.length, name);
    const other = changed.filter((line, i) => line !== lines[i]);
    assert.equal(other.length, 1, name);
    assert.equal(plain(now).top.thickness, 77);
    assert.equal(withValue(now, ["top", "thickness"], before), text, name);
  }
});

test("parts are added and taken away, and the comments beside them stay", () => {
  for (const {name, text} of examples) {
    const value = plain(text);
    const load = {name: "one more", kind: "patch", force: "50 kg", at: [300, 200], size: [100, 100]};
    const n = value.loads?.length ?? 0;
    const more = withValue(text, ["loads", n], load);
    assert.deepEqual(plain(more), {...value, loads: [...(value.loads ?? []), load]}, name);
    if (n > 0) assert.equal(without(more, ["loads", n]), text, name);
    const comments = (/** @type {string} */ t) => t.match(/^\s*\/\/.*$/gm)?.length ?? 0;
    for (let i = 0; i < (value.supports?.length ?? 0); i++) {
      const fewer = without(text, ["supports", i]);
      assert.deepEqual(
        plain(fewer).supports,
        value.supports.filter((/** @type {any} */ _, /** @type {number} */ k) => k !== i),
        name,
      );
      assert.equal(comments(fewer), comments(text), name);
    }
  }
});

test("what is no JSON is refused with its line", () => {
  for (const [text, line] of /** @type {[string, number][]} */ ([
    ['{"a": [1,}', 1],
    ['{\n"a": 1\n"b": 2}', 3],
    ['{"a": "x', 1],
    ["", 1],
    ['{"a": 1} x', 1],
    ["[".repeat(200), 1],
    ["/* no end", 1],
    ['{"a": 01}', 1],
  ]))
    assert.throws(
      () => parse(text),
      (error) => error instanceof PieceError && error.message.startsWith(`line ${line}, `),
      text,
    );
});

test("places of faults lead to what they speak of", () => {
  assert.deepEqual(pathOf("recesses[1].lands[0].x[1]"), ["recesses", 1, "lands", 0, "x", 1]);
  assert.deepEqual(faultsOf("piece.json: recesses[0].depth: 50 mm is deeper than the top (42 mm)\n"), [
    {place: "recesses[0].depth", what: "50 mm is deeper than the top (42 mm)"},
  ]);
});

test("every handle put where it stands changes nothing, and elsewhere moves there", () => {
  for (const {name, text} of examples) {
    const model = modelOf(valueOf(parse(text)));
    for (const part of model.parts)
      for (const handle of handlesOf(model, part)) {
        assert.deepEqual(plain(withValues(text, handle.edits(handle.at))), plain(text), `${name}: ${handle.label}`);
        const to = /** @type {[number, number]} */ ([
          handle.at[0] + (handle.axes === "y" ? 0 : 8),
          handle.at[1] + (handle.axes === "x" ? 0 : 8),
        ]);
        const moved = modelOf(valueOf(parse(withValues(text, handle.edits(to)))));
        const same = moved.parts.find((p) => p.id === part.id);
        const there = same && handlesOf(moved, same).find((x) => x.key === handle.key);
        // a length in inches is written to a thousandth: half of one is 0.0127 mm
        assert.ok(
          there && Math.hypot(there.at[0] - to[0], there.at[1] - to[1]) < 0.02,
          `${name}: ${handle.label}: ${there?.at} not ${to}`,
        );
      }
  }
});

test("a longer top takes along what stands in its far half", () => {
  const {text} = /** @type {{text: string}} */ (examples.find((e) => e.name === "reading_table.json"));
  const model = modelOf(valueOf(parse(text)));
  const length = handlesOf(model, model.parts[0]).find((x) => x.key === "length");
  assert.ok(length);
  const now = plain(withValues(text, length.edits([2000, 0]))),
    before = plain(text);
  assert.equal(now.top.length, 2000);
  assert.deepEqual(now.recesses[0].x, [120, 1880]);
  assert.deepEqual(
    now.supports.map((/** @type {any} */ s) => s.at[0]),
    [80, 1920, 80, 1920],
  );
  assert.deepEqual(
    now.supports.map((/** @type {any} */ s) => s.at[1]),
    before.supports.map((/** @type {any} */ s) => s.at[1]),
  );
  assert.equal(now.loads[1].at[0], 1000); // what stood in the middle stays there
});

test("what was drawn before comes back, step by step, and the steps of one pull are one", () => {
  const history = new History("a");
  history.put("b");
  history.put("c", "pull");
  history.put("d", "pull");
  assert.equal(history.undo(), "b");
  assert.equal(history.redo(), "d");
  assert.equal(history.undo(), "b");
  assert.equal(history.undo(), "a");
  assert.equal(history.canUndo, false);
  history.put("e");
  assert.equal(history.canRedo, false);
});

test("a linear field is read between its points as it is, and beside the top nothing is", () => {
  const value = (/** @type {number} */ x, /** @type {number} */ y) => 3 + 0.25 * x - 0.125 * y;
  const points = [];
  for (let j = 0; j < 4; j++) for (let i = 0; i < 5; i++) points.push([i * 40, j * 30]);
  const cells = [];
  for (let j = 0; j < 3; j++)
    for (let i = 0; i < 4; i++) cells.push([j * 5 + i, j * 5 + i + 1, j * 5 + i + 6, j * 5 + i + 5]);
  const vtu = `<VTKFile><Piece NumberOfPoints="${points.length}" NumberOfCells="${cells.length}"><Points>
<DataArray type="Float64" NumberOfComponents="3" format="ascii">
${points.map((p) => `${p[0]} ${p[1]} 0`).join("\n")}
</DataArray></Points><DataArray type="Int32" Name="connectivity" format="ascii">${cells.flat().join(" ")}</DataArray>
<DataArray type="Float64" Name="movement_mm, &quot;a&quot;" format="ascii">
${points.map((p) => value(p[0], p[1])).join(" ")}</DataArray></Piece></VTKFile>`;
  const fields = fieldsOf(vtu);
  assert.ok(fields);
  for (const [x, y] of [
    [0, 0],
    [17, 44],
    [159.5, 89],
    [80, 30],
  ]) {
    const got = valuesAt(fields, x, y)?.get('movement_mm, "a"');
    assert.ok(got !== undefined && Math.abs(got - value(x, y)) < 1e-9, `${x}, ${y}: ${got}`);
  }
  assert.equal(valuesAt(fields, 300, 10), null);
  assert.equal(fieldsOf("nothing"), null);
});

test("the bands of a map are of one round width and hold all values", () => {
  for (const [low, high] of [
    [-0.3, 2.14],
    [0, 0.004],
    [0.7, 0.71],
    [-12, 33],
  ]) {
    const levels = levelsOf(low, high),
      step = levels[1] - levels[0];
    assert.ok(levels[0] <= low + 1e-12 && levels[levels.length - 1] >= high - 1e-12, levels.join());
    assert.ok(levels.length >= 4 && levels.length <= 12, levels.join());
    const digit = step / 10 ** Math.floor(Math.log10(step) + 1e-9);
    assert.ok(
      [1, 2, 2.5, 5].some((d) => Math.abs(d - digit) < 1e-6),
      `${step}`,
    );
  }
});

test("a link gives back the piece that was put into it, and a cut one gives none", async () => {
  for (const {text} of examples) {
    const fragment = await fragmentOf(text);
    assert.equal(await pieceOfFragment(fragment), text);
    await assert.rejects(pieceOfFragment(fragment.slice(0, fragment.length / 2)));
  }
  assert.equal(await pieceOfFragment("#head"), null);
});

test("the words of a mark stand upon no other words of the drawing", () => {
  const value = {
    hollowtop: 1,
    top: {length: 1900, width: 850, thickness: 42, wood: "black cherry"},
    recesses: [{name: "well", x: [135, 1765], y: [135, 715], depth: 23}],
  };
  const model = modelOf(value),
    view = viewOf(model, 300, 160);
  const at = /** @type {[number, number]} */ ([135, 310]);
  const marks = [0, 1].map((i) => ({at, label: `stresses together 8${i} %`, over: false}));
  const shown = {selected: "", units: /** @type {"mm"} */ ("mm"), map: false, marks, place: null, drawn: null, hands: {part: () => ({}), handle: () => ({})}, wrong: new Set()};
  const words = [];
  const gather = (/** @type {any} */ spec) => {
    if (spec.tag === "text" && spec.children[0]) words.push(spec);
    for (const child of spec.children) if (typeof child !== "string") gather(child);
  };
  for (const spec of drawing(model, view, /** @type {any} */ (shown)))
    if (["lettering", "marks"].includes(spec.key)) gather(spec);
  assert.ok(words.length >= 4);
  const boxes = words.map((s) => {
    const wide = 7 * String(s.children[0]).length,
      from = Number(s.attributes.x) - (s.attributes["text-anchor"] === "middle" ? wide / 2 : 0);
    return {x0: from, x1: from + wide, y: Number(s.attributes.y)};
  });
  for (const [i, a] of boxes.entries())
    for (const b of boxes.slice(i + 1)) assert.ok(a.x0 > b.x1 || a.x1 < b.x0 || Math.abs(a.y - b.y) >= 13);
});

test("no value, however spoilt, trips the drawing, the handles or the fields", () => {
  const hands = {part: () => ({}), handle: () => ({})};
  const owner = {select: () => {}, put: () => {}, remove: () => {}, typed: () => {}};
  const draw = (/** @type {any} */ value, /** @type {string} */ name) => {
    const model = modelOf(value),
      view = viewOf(model, 640, 480);
    const shown = {
      selected: "",
      units: /** @type {"mm"} */ ("mm"),
      map: false,
      marks: [],
      place: null,
      drawn: null,
      hands,
    };
    const concerned = model.parts.filter((p) => p.id === "top" || `${name}.`.startsWith(`${p.id}.`));
    for (const part of concerned) {
      const about = {...shown, selected: part.id, wrong: new Set()};
      assert.ok(drawing(model, view, about).length > 0, name);
      for (const handle of handlesOf(model, part)) assert.ok(handle.label, name);
      const listed = {...about, model, faults: [], typed: new Map(), woods: []};
      assert.ok(partsView(listed, owner).length > 0, name);
    }
  };
  const pieces = examples.filter((e) => e.name === "bench_top.json").map((e) => e.text);
  const corpus = join(home, "tests/fuzz/corpus/piece");
  for (const name of readdirSync(corpus)) pieces.push(readFileSync(join(corpus, name), "utf8"));
  let drawn = 0;
  /** @param {any} root @param {any} at @param {string[]} path */
  const spoil = (root, at, path) => {
    if (at === null || typeof at !== "object") return;
    for (const key of Object.keys(at)) {
      const before = at[key];
      for (const other of [null, "x", -1e9, [], {}, true]) {
        at[key] = other;
        draw(root, [...path, key].join("."));
        drawn++;
      }
      at[key] = before;
      spoil(root, before, [...path, key]);
    }
  };
  for (const text of pieces) {
    let value;
    try {
      value = valueOf(parse(text));
    } catch (error) {
      assert.ok(error instanceof PieceError, String(error));
      continue;
    }
    spoil(value, value, []);
  }
  assert.ok(drawn > 500, `${drawn}`);
});

const program = process.env.HOLLOWTOP_PROGRAM;
test("screws are drawn where the program puts them, and no row of an answer is lost", {skip: !program}, () => {
  const folder = mkdtempSync(join(tmpdir(), "hollowtop-modules-"));
  try {
    for (const name of ["bench_top.json", "reading_table.json"]) {
      const file = join(home, "docs/examples", name);
      const out = execFileSync(
        /** @type {string} */ (program),
        ["check", file, "--json", join(folder, "a.json"), "--no-color"],
        {encoding: "utf8"},
      );
      const result = JSON.parse(readFileSync(join(folder, "a.json"), "utf8"));
      const model = modelOf(valueOf(parse(readFileSync(file, "utf8"))));
      const drawn = model.parts.flatMap((p) => p.screws ?? []);
      assert.equal(drawn.length, result.screws.length, name);
      // along the bar to the digit; across it they sit in the flange
      drawn.forEach((s, i) => assert.ok(Math.abs(s[0] - result.screws[i].at_mm[0]) < 1e-6, `${name}, screw ${i}`));
      const answer = answerOf(out);
      assert.match(answer.verdict, /^This top meets the limits set/);
      assert.equal(answer.rows.length, 5);
      const worst = answer.rows[0];
      assert.equal(worst.what, result.governing.check);
      assert.equal(worst.used, `${Math.ceil(100 * result.governing.utilisation - 1e-9)} %`); // shown rounded up
      for (const label of ["Nearest", "Weight", "Sag at once", "After years", "How sure"])
        assert.ok(
          answer.lines.some((l) => l.label === label),
          `${name}: ${label}`,
        );
    }
  } finally {
    rmSync(folder, {recursive: true});
  }
});
