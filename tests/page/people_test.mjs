// SPDX-License-Identifier: MIT
// The page as people use it, opened from disk in a browser:
//   HOLLOWTOP_PROGRAM=build/release/hollowtop node --test tests/page/people_test.mjs
// HOLLOWTOP_PAGE: the page (hollowtop.html of HOLLOWTOP_PAGE_BUILD, or of build/page, where not given).
// HOLLOWTOP_PAGE_BROWSER: chrome or firefox.
// HOLLOWTOP_PAGE_PATIENCE: by how much a busy machine may be slower. HOLLOWTOP_PAGE_SHOTS: a folder for pictures.
import assert from "node:assert/strict";
import {execFileSync} from "node:child_process";
import {existsSync, readFileSync, writeFileSync} from "node:fs";
import {join} from "node:path";
import {after, before, test} from "node:test";
import {parse, valueOf} from "../../cli/page/piece.js";
import {
  axe,
  begin,
  bench,
  comeIn,
  complaints,
  file,
  focus,
  folder,
  goOut,
  kind,
  native,
  page,
  patience,
  piece,
  program,
  requests,
  sameAsNative,
  settled,
  shot,
  shots,
  tabTo,
  table,
  text,
  typeOver,
  wait,
} from "./person.mjs";

before(comeIn);
after(goOut);

test("a dining table goes from the first question to a verdict by the keyboard alone", async () => {
  await begin(null, 900, 900);
  await tabTo((at) => at.startsWith("start-use"));
  await page.keyboard.type("dining");
  await tabTo((at) => at.startsWith("start-length"));
  await typeOver("1600");
  await tabTo((at) => at.startsWith("start-width"));
  await typeOver("800");
  await tabTo((at) => at.startsWith("start-thickness"));
  await typeOver("40");
  await page.keyboard.press("Enter");
  await page.waitForFunction(
    () => document.querySelector("#title")?.textContent?.includes("1600 mm x 800 mm x 40 mm"),
    {timeout: 120_000},
  );
  await settled();
  assert.match(await text("#answer .sentence"), /^This top meets the limits set/);
  assert.match(await text("#live"), /^This top meets the limits set/);
  await page.waitForFunction(() => document.activeElement?.id === "verdict", {timeout: 10_000});
  await shot("first");
  await sameAsNative({alike: [1600, 800]});
});

test("an angle is added with its screws by the keyboard and pulled by arrows; the program says the same", async () => {
  await begin(table);
  await page.keyboard.press("Tab");
  await tabTo((at) => at.endsWith("a stiffener"));
  await page.keyboard.press("Enter");
  await page.waitForFunction(() => document.activeElement?.classList.contains("part"), {timeout: 5000});
  await page.keyboard.press("Enter");
  await page.waitForFunction(() => document.activeElement?.classList.contains("handle"), {timeout: 5000});
  const before = valueOf(parse(await piece())).stiffeners;
  assert.equal(before.length, 1);
  assert.ok(before[0].screws.diameter > 0 && before[0].screws.spacing > 0);
  await page.keyboard.press("ArrowDown");
  await page.keyboard.down("Shift");
  await page.keyboard.press("ArrowDown");
  await page.keyboard.up("Shift");
  const moved = valueOf(parse(await piece())).stiffeners[0];
  assert.deepEqual([moved.from[1], moved.to[1]], [before[0].from[1] + 11, before[0].to[1] + 11]);
  await page.keyboard.press("Enter");
  await page.waitForSelector("#typing-number");
  await typeOver("940, 300"); // not in the middle: of two like places noise would choose one
  await page.keyboard.press("Enter");
  await settled();
  assert.equal(valueOf(parse(await piece())).stiffeners[0].from[1], 300);
  assert.equal((await page.$$(".stiffener .screw")).length > 5, true);
  await sameAsNative();
  await focus('[data-part="stiffeners.0"]');
  await page.keyboard.press("Delete");
  assert.equal(valueOf(parse(await piece())).stiffeners.length, 0);
});

test("a recess is drawn and pulled with the pointer, and an answer comes while it is pulled", async (t) => {
  const bare = JSON.stringify({...valueOf(parse(table)), recesses: undefined}, null, 1);
  await begin(bare);
  await page.$$eval("#adding button", (all) => all.find((b) => b.textContent === "a recess")?.click());
  await page.waitForSelector("#plan.drawing");
  // where the drawing itself says that the top lies: a box of it would hold its stroke too
  const top = await page.$eval('[data-part="top"] .shape', (e) => {
    const [x, y, right] = (e.getAttribute("d")?.match(/[\d.]+/g) ?? []).map(Number);
    const box = /** @type {SVGElement} */ (e).ownerSVGElement?.getBoundingClientRect();
    return {x: x + (box?.x ?? 0), y: y + (box?.y ?? 0), w: right - x};
  });
  const scale = top.w / 1900;
  await page.mouse.move(top.x + 150 * scale, top.y + 120 * scale);
  await page.mouse.down();
  await page.mouse.move(top.x + 900 * scale, top.y + 500 * scale, {steps: 6});
  await page.mouse.move(top.x + 1700 * scale, top.y + 730 * scale, {steps: 6});
  await page.mouse.up();
  await settled();
  const drawn = valueOf(parse(await piece())).recesses[0];
  const near = (/** @type {number[]} */ got, /** @type {number[]} */ want) =>
    got.every((v, i) => Number.isInteger(v) && Math.abs(v - want[i]) < 4);
  assert.ok(near(drawn.x, [150, 1700]) && near(drawn.y, [120, 730]), JSON.stringify(drawn));
  await page.waitForSelector('[data-handle="right"]');
  const grip = await page.$eval('[data-handle="right"] .grip', (e) => {
    const b = e.getBoundingClientRect();
    return {x: b.x + b.width / 2, y: b.y + b.height / 2};
  });
  await page.mouse.move(grip.x, grip.y);
  await page.mouse.down();
  /** @type {number[]} */ const times = [];
  await page.evaluate(() => {
    const now = ["#answer tbody", "#answer dl"].map((s) => document.querySelector(s)?.textContent).join();
    /** @type {any} */ (window).lastSeen = now;
  });
  for (let i = 1; i <= 6; i++) {
    const began = Date.now();
    await page.mouse.move(grip.x - 10 * i * scale * 5, grip.y);
    await page.waitForFunction(
      (/** @type {number} */ i) => {
        const w = /** @type {any} */ (window);
        const words = document.querySelector("#answer")?.textContent ?? "";
        const now = ["#answer tbody", "#answer dl"].map((s) => document.querySelector(s)?.textContent).join();
        if (!/Not final|first answer/.test(words) || w.lastSeen === `${now}`) return false;
        w.lastSeen = now;
        return i > 0;
      },
      {timeout: 60_000, polling: 10},
      i,
    );
    times.push((Date.now() - began) / 1000);
  }
  const middle = times.sort((a, b) => a - b)[3];
  t.diagnostic(`an answer after ${times.map((s) => s.toFixed(2)).join(", ")} s`);
  assert.match(await text("#answer"), /Not final|first answer/);
  await page.mouse.up();
  await settled();
  assert.ok(middle < 0.3 * patience, `${middle} s`);
  const pulled = valueOf(parse(await piece())).recesses[0];
  assert.equal(pulled.x[0], drawn.x[0]);
  assert.ok(Math.abs(pulled.x[1] - (drawn.x[1] - 300)) < 4, JSON.stringify(pulled));
  await sameAsNative();
  await page.click("#do-undo");
  assert.deepEqual(valueOf(parse(await piece())).recesses[0].x, drawn.x);
});

test("a piece file is opened, changed, saved, and the native program says the same of it", async () => {
  await begin(table);
  const given = join(folder, "bench.json");
  writeFileSync(given, bench);
  await /** @type {import("puppeteer-core").ElementHandle<HTMLInputElement>} */ (await page.$("#file")).uploadFile(
    given,
  );
  await page.waitForFunction(() => document.querySelector("#title")?.textContent === "Bench top with angles");
  await settled();
  await focus('[data-part="recesses.0"]');
  await page.keyboard.press("Enter");
  await page.waitForSelector('[id="f-recesses[0].depth"]');
  await focus('[id="f-recesses[0].depth"]');
  await typeOver("22");
  await page.keyboard.press("Tab");
  await settled();
  const saved = await piece();
  assert.equal(saved, bench.replace('"depth": 20', '"depth": 22'), "what is not changed stays as it was written");
  await sameAsNative();
  if (kind !== "chrome") return;
  const client = await page.createCDPSession();
  await client.send("Browser.setDownloadBehavior", {behavior: "allow", downloadPath: folder});
  await page.click("#do-save");
  for (let i = 0; i < 100 && !existsSync(join(folder, "Bench_top_with_angles.json")); i++) await wait(50);
  assert.equal(readFileSync(join(folder, "Bench_top_with_angles.json"), "utf8"), saved);
});

test("wrong numbers are told in the program's words at their field, and the drawing stays", async () => {
  await begin(table);
  await focus('[data-part="recesses.0"]');
  await page.keyboard.press("Enter");
  await page.waitForSelector('[id="f-recesses[0].depth"]');
  await focus('[id="f-recesses[0].depth"]');
  await typeOver("50");
  await page.keyboard.press("Tab");
  await page.waitForSelector(".faults", {timeout: 60_000});
  const words = '50 mm is deeper than the top (42 mm); give less than 42 mm, or "skin" instead';
  assert.ok((await text(".faults")).includes(words));
  assert.equal(await text('[id="f-recesses[0].depth-wrong"]'), words);
  assert.equal(await page.$eval('[id="f-recesses[0].depth"]', (e) => e.getAttribute("aria-invalid")), "true");
  assert.equal(
    (await page.$$("#answer .rows")).length,
    0,
    "no number of the drawing before stands there as if it were of this one",
  );
  await focus('[id="f-recesses[0].depth"]');
  await typeOver("abc");
  await page.keyboard.press("Tab");
  await page.waitForFunction(() =>
    document.getElementById("f-recesses[0].depth-wrong")?.textContent?.startsWith('"abc" is not a length'),
  );
  assert.equal(valueOf(parse(await piece())).recesses[0].depth, 50);
});

test("spoilt, huge and empty files are told in a sentence, and the drawing is not lost", async () => {
  await begin(table);
  const input = /** @type {import("puppeteer-core").ElementHandle<HTMLInputElement>} */ (await page.$("#file"));
  for (const [name, content] of /** @type {[string, Buffer][]} */ ([
    ["huge.json", Buffer.alloc(5e6, 32)],
    ["binary.json", Buffer.from([1, 2, 255, 254, 0])],
    ["empty.json", Buffer.alloc(0)],
    ["spoilt.json", Buffer.from('{"hollowtop": 1,\n "top": {"length": 3,}}')],
    ["none.json", Buffer.from('{"hollowtop": 1}')],
    ["deep.json", Buffer.from("[".repeat(100_000))],
  ])) {
    writeFileSync(join(folder, name), content);
    await input.uploadFile(join(folder, name));
    await page.waitForFunction(
      (/** @type {string} */ n) => document.querySelector("#told")?.textContent?.startsWith(n),
      {timeout: 60_000},
      name,
    );
    assert.match(await text("#told"), /The drawing stays as it was\.$/, name);
    assert.equal(await piece(), table, name);
    assert.equal(await text("#title"), "Reading table (invented)");
  }
});

test("the movement map and the numbers of a place are those of the fields that the program writes", async () => {
  await begin(table);
  await page.click("#map-on");
  await page.waitForSelector(".legend", {timeout: 60_000});
  await page.$eval("#place-x", (e) => {
    /** @type {HTMLInputElement} */ (e).value = "950";
  });
  await page.$eval("#place-y", (e) => {
    /** @type {HTMLInputElement} */ (e).value = "0";
  });
  await page.$eval("#place form", (e) => /** @type {HTMLFormElement} */ (e).requestSubmit());
  await page.waitForSelector("#place tbody tr");
  await shot("map");
  const rows = await page.$$eval("#place tbody tr", (all) =>
    all.map((r) => [...r.children].map((c) => c.textContent ?? "")),
  );
  writeFileSync(join(folder, "piece.json"), table);
  execFileSync(program, ["check", "piece.json", "--quiet", "--json", "a.json"], {cwd: folder});
  const result = JSON.parse(readFileSync(join(folder, "a.json"), "utf8"));
  const lean = result.situations.find((/** @type {any} */ s) => s.name === "someone leans on the edge");
  const row = rows.find((r) => r[0] === lean.name);
  assert.ok(row);
  // the sag is less what the supports themselves give: at the middle of the edge that is less than a twentieth
  assert.ok(Math.abs(parseFloat(row[1]) - lean.sag_mm) < 0.05 * lean.sag_mm + 0.05, `${row[1]} against ${lean.sag_mm}`);
});

test("a link gives the piece to another page, and a cut one changes nothing", async () => {
  await begin(table);
  await page.click("#do-link");
  await page.waitForFunction(() =>
    /** @type {HTMLInputElement} */ (document.querySelector("#link-text"))?.value.includes("#piece="),
  );
  const link = await page.$eval("#link-text", (e) => /** @type {HTMLInputElement} */ (e).value);
  await begin(bench);
  const hash = link.slice(link.indexOf("#"));
  await page.evaluate((h) => {
    location.hash = h;
  }, hash);
  await page.waitForFunction(() => document.querySelector("#title")?.textContent === "Reading table (invented)");
  await page.click("#do-undo");
  assert.equal(await piece(), bench);
  await page.evaluate(
    (h) => {
      location.hash = h;
    },
    hash.slice(0, 60),
  );
  await page.waitForFunction(() => document.querySelector("#told")?.textContent?.includes("cut short"));
  assert.equal(await piece(), bench);
});

test("a run that is stopped stops within a tenth of a second, and says that nothing is final", async (t) => {
  await begin(table);
  await page.$$eval("#papers button", (all) =>
    /** @type {HTMLElement} */ (all.find((b) => b.textContent === "How deep may it go?")).click(),
  );
  await page.waitForSelector("#answer .state button", {timeout: 5000});
  await wait(200);
  const took = await page.evaluate(async () => {
    const began = performance.now();
    /** @type {HTMLElement} */ (document.querySelector("#answer .state button")).click();
    while (!document.querySelector("#papers .wrong")) await new Promise((next) => setTimeout(next, 2));
    return (performance.now() - began) / 1000;
  });
  t.diagnostic(`stopped after ${took.toFixed(3)} s`);
  assert.equal(await text("#papers .wrong"), "Stopped.");
  assert.ok(took < 0.1 * patience, `${took} s`);
  await focus('[data-part="recesses.0"]');
  await page.keyboard.press("Enter");
  await page.waitForSelector('[data-handle="left"]');
  await focus('[data-handle="left"]');
  await page.keyboard.press("ArrowRight");
  await settled(); // the engine goes on
});

test("report, template and comparison are made, each a file to save", async () => {
  await begin(table);
  for (const [words, saved] of [
    // no two alike in turn: what the one before saved would be taken for an answer that is still to come
    ["Draw the template", 2],
    ["Make the report", 1],
    ["Compare", 2],
  ]) {
    await page.$$eval(
      "#papers button",
      (all, w) => /** @type {HTMLElement} */ (all.find((b) => b.textContent?.startsWith(String(w)))).click(),
      words,
    );
    await page.waitForFunction(
      (/** @type {number} */ n) =>
        !document.querySelector("#papers .pending") && document.querySelectorAll("#papers .result button").length === n,
      {timeout: 240_000},
      Number(saved),
    );
    assert.equal((await page.$$("#papers .wrong")).length, 0);
  }
});

test("axe finds nothing in any state, narrow or wide, light or dark; nothing is wider than its screen", async () => {
  const look = async (/** @type {string} */ state) => {
    for (const theme of ["light", "dark"])
      for (const width of [320, 360, 768, 1280]) {
        await page.select("#theme", theme);
        await page.setViewport({width, height: 900});
        await wait(120);
        const wide = await page.evaluate(() => [
          document.documentElement.scrollWidth,
          document.documentElement.clientWidth,
        ]);
        assert.equal(wide[0], wide[1], `${state} at ${width}`);
        await page.evaluate(axe);
        const found = await page.evaluate(async () => {
          const tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];
          const run = await /** @type {any} */ (window).axe.run(document, {runOnly: tags});
          return run.violations.map(
            (/** @type {any} */ v) =>
              `${v.id}: ${v.nodes.map((/** @type {any} */ n) => n.html.slice(0, 160)).join(" | ")}`,
          );
        });
        assert.deepEqual(found, [], `${state}, ${theme}, ${width} px`);
        if (shots) await shot(`${state}-${theme}-${width}`);
      }
    await page.setViewport({width: 1280, height: 1000});
  };
  await begin(bench);
  await look("answer");
  await focus('[data-part="stiffeners.0"]');
  await page.keyboard.press("Enter");
  await page.waitForSelector('[data-handle="from"]');
  await look("chosen");
  await focus('[data-handle="from"]');
  await page.keyboard.press("Enter");
  await page.waitForSelector("#typing-number");
  await look("typing");
  await page.keyboard.press("Escape");
  await page.click("#map-on");
  await page.waitForSelector(".legend", {timeout: 60_000});
  await look("map");
  await page.click("#do-new");
  await page.waitForSelector("#start-length");
  await look("questions");
  await focus('[data-part="recesses.0"]');
  await page.keyboard.press("Enter");
  await page.waitForSelector('[id="f-recesses[0].depth"]');
  await focus('[id="f-recesses[0].depth"]');
  await typeOver("60");
  await page.keyboard.press("Tab");
  await page.waitForSelector(".faults", {timeout: 60_000});
  await look("faults");
});

test("five hundred edits leave the memory of the page as it was", {skip: kind !== "chrome"}, async (t) => {
  await begin(table);
  const client = await page.createCDPSession();
  await client.send("HeapProfiler.enable");
  const used = async () => {
    await client.send("HeapProfiler.collectGarbage");
    const m = await page.metrics();
    return {heap: m.JSHeapUsedSize ?? 0, nodes: m.Nodes ?? 0, listeners: m.JSEventListeners ?? 0};
  };
  await focus('[data-part="recesses.0"]');
  await page.keyboard.press("Enter");
  await page.waitForSelector('[data-handle="left"]');
  const edits = async (/** @type {number} */ n) => {
    for (let i = 0; i < n; i++) {
      // each one a step of its own to go back to
      await focus(i % 2 ? '[data-handle="left"]' : '[data-handle="right"]');
      await page.keyboard.press(i % 4 < 2 ? "ArrowRight" : "ArrowLeft");
    }
    await settled();
  };
  await edits(260); // what can be undone is full by then
  const first = await used();
  await edits(240);
  const last = await used();
  t.diagnostic(
    `${(first.heap / 1e6).toFixed(2)} then ${(last.heap / 1e6).toFixed(2)} MB, ${first.nodes} then ${last.nodes} nodes`,
  );
  assert.ok(last.heap < first.heap + 0.5e6, `${first.heap} then ${last.heap}`);
  assert.ok(last.nodes < first.nodes + 200 && last.listeners < first.listeners + 50, JSON.stringify([first, last]));
});

test("no request has left the page, and no error stands in its console", () => {
  assert.deepEqual(requests, []);
  assert.deepEqual(complaints, []);
});
