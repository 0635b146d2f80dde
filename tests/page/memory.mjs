// SPDX-License-Identifier: MIT
/**
 * @file Does the module keep what it took? node memory.mjs BUILD [RUNS]: so many checks, each of another depth, in one module; ends
 * with status 1 where the last four fifths of the runs took any memory beyond what the first took.
 */
import { readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { load } from "../../cli/page/in_node.mjs";

const [build, runs = "500"] = process.argv.slice(2);
const home = join(dirname(fileURLToPath(import.meta.url)), "../..");
const table = readFileSync(join(home, "docs/examples/reading_table.json"), "utf8");
const module = await load(build);
const n = Number(runs);
let first = 0, last = 0;
for (let i = 0; i < n; ++i) {
  // comments are skipped: the same piece, a text of another length
  const done = module.run(["check", "piece.json", "--mesh", "coarse", "--json", "answer.json"], { "piece.json": `// ${"x".repeat(i % 50)}\n${table}` });
  if (done.status > 1) throw new Error(done.err);
  last = done.memory;
  if (i < n / 5) first = Math.max(first, last);
}
console.log(`${n} checks in one module: ${first / 2 ** 20} MiB after the first ${Math.ceil(n / 5)}, ${last / 2 ** 20} MiB at the end`);
if (last > first) process.exit(1);
