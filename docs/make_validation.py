#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Writes docs/validation.md from a run of the validation cases:

    hollowtop validate --quiet --json compared.json; python3 docs/make_validation.py compared.json

Nothing in the page is typed by hand but the words of FAMILIES and MISSES below.
"""
import json
import pathlib
import sys

DOCS = pathlib.Path(__file__).resolve().parent
CASES = DOCS.parent / "validation" / "cases"

FAMILIES = {
    "P": "Plates of one stiffness",
    "O": "Plates of wood",
    "R": "Grain at an angle, curved outlines, twist",
    "T": "Steps between two thicknesses",
    "B": "Strips and beams",
    "C": "Supports that only press",
    "V": "Natural frequencies",
    "W": "Weights",
    "K": "Facts of the trade",
    "A": "Shelf spans of a trade standard",
    "E": "Solid elasticity: what a plate theory must come near",
}

# What is known of each value outside its tolerance.
MISSES = {
    "T02": "The published beam has walls that do not give. Here they do, as the solid references (E) ask; without the strip the difference is 0.01 %.",
    "T10": "The published shell has walls that do not give, across or in twist. Here they do, as the solid references (E) ask: E04b and E08 are met so, and only so.",
}


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
            f"{len(rows)} values of {len(files)} cases, each a piece whose answer is published or follows from a formula. `hollowtop validate` runs them "
            "all; this page is made from such a run by docs/make_validation.py. Each case is a file in validation/cases: the piece, the source, "
            "and what a miss would point to.", "",
            "Status: *checked*: the number was read in a text of its source; *closed form*: a formula or series gives it; *computed*: another "
            "program's converged solution gives it; *from memory*: recalled, not found in a text.", "",
            f"Within their tolerances: {len(rows) - len(missed)}. Outside: {len(missed)}.", ""]
    if missed:
        page += ["## Misses", "", "| case | what | published | computed | difference | allowed |", "| --- | --- | --- | --- | --- | --- |"]
        page += [f"| {r['id']} | `{r['what']}` | {number(r['published'])} | {number(r.get('computed'))} | {difference(r)} | {tolerance(r)} |"
                 for r in missed]
        page.append("")
        page += [f"- {name}: {MISSES.get(name, 'not explained yet.')}" for name in sorted({r["id"] for r in missed})]
        page.append("")
    for letter, heading in FAMILIES.items():
        family = [name for name in files if name.startswith(letter)]
        if not family:
            continue
        page += [f"## {heading}", ""]
        for name in family:
            file, case = files[name]
            page += [f"### {name}: {case['title']}", "", f"{case['source']} ({case['status']}). [{file}](../validation/cases/{file})", ""]
            if "note" in case:
                page += [case["note"], ""]
            page += ["| what | published | computed | difference | allowed |", "| --- | --- | --- | --- | --- |"]
            page += [f"| `{r['what']}` | {number(r['published'])} | {number(r.get('computed'))} | {difference(r)} | {tolerance(r)}"
                     f"{'' if r['ok'] else ' **miss**'} |" for r in rows if r["id"] == name]
            page.append("")
    (DOCS / "validation.md").write_text("\n".join(page))


main()
