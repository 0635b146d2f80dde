#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Writes docs/validation.md from a run of the validation cases:

    hollowtop validate --quiet --json compared.json; python3 docs/make_validation.py compared.json

Nothing in the page is typed by hand but its first lines below.
"""
import json
import pathlib
import sys

DOCS = pathlib.Path(__file__).resolve().parent
CASES = DOCS.parent / "validation" / "cases"

FIRST = "PORTBCSVWKAEG"  # the order of the families, by the letter of their cases


def number(value):
    return "-" if value is None else f"{value:.6g}"


def tolerance(row):
    if "tolerance_percent" in row:
        return f"{row['tolerance_percent']:g} %"
    return f"{row['tolerance']:g}"


def difference(row):
    if row.get("difference_percent") is not None:
        return f"{row['difference_percent']:+.2f} %"
    if row.get("computed") is not None:
        return f"{row['computed'] - row['published']:+.2g}"
    return row.get("problem") or "-"


def main():
    rows = json.loads(pathlib.Path(sys.argv[1]).read_text())
    if isinstance(rows, dict):
        rows = rows["comparisons"]
    files = {}
    for path in sorted(CASES.glob("*.json")):
        case = json.loads(path.read_text())
        files[case["id"]] = (path.name, case)
    missed = [row for row in rows if not row["ok"]]
    page = ["# Validation", "",
            f"{len(rows)} values of {len(files)} cases, each a piece whose answer is published, follows from a formula or was computed by another program. `hollowtop validate` runs them "
            "all, and with `--out validation.html` writes them as a page with every value on three meshes; this page is made from such a run by docs/make_validation.py. "
            "Each case is a file in validation/cases: the piece, the source, and what a miss would point to. No hollowed top that was loaded and measured is among them: "
            "none is published, to our knowledge ([validation/measured](../validation/measured/README.md)).", "",
            "Published by others are those of status *checked*: the number was read in a text of its source; and *from memory*: recalled, not found in a text. Of the others no printed number is compared: *closed form*: a formula or series gives it; *computed*: a reference, another "
            "program's converged solution.", "",
            f"Within their tolerances: {len(rows) - len(missed)}. Outside: {len(missed)}.", ""]
    if missed:
        page += ["## Misses", "", "| case | what | reference | computed | difference | allowed |", "| --- | --- | --- | --- | --- | --- |"]
        page += [f"| {r['id']} | `{r['what']}` | {number(r['published'])} | {number(r.get('computed'))} | {difference(r)} | {tolerance(r)} |"
                 for r in missed]
        page.append("")
        page += [f"- {name}: {files[name][1].get('miss', 'not explained yet.')}" for name in sorted({r["id"] for r in missed})]
        page.append("")
    families = {}
    for row in rows:
        families.setdefault(row["family"], {})[row["id"]] = None
    order = sorted(families, key=lambda heading: FIRST.index(next(iter(families[heading]))[0]))
    for heading in order:
        family = list(families[heading])
        page += [f"## {heading}", ""]
        for name in family:
            file, case = files[name]
            page += [f"### {name}: {case['title']}", "", f"{case['source']} ({case['status']}). [{file}](../validation/cases/{file})", ""]
            if "note" in case:
                page += [case["note"], ""]
            page += ["| what | reference | computed | difference | allowed |", "| --- | --- | --- | --- | --- |"]
            page += [f"| `{r['what']}` | {number(r['published'])} | {number(r.get('computed'))} | {difference(r)} | {tolerance(r)}"
                     f"{'' if r['ok'] else ' **miss**'} |" for r in rows if r["id"] == name]
            page.append("")
    (DOCS / "validation.md").write_text("\n".join(page))


main()
