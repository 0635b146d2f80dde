#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Prints papers by a headless Chromium and counts their pages: the client's is one, the maker's two at most, the
engineer's six at most, on A4 and on Letter; no page is four fifths empty (by pdftotext of poppler-utils, where
there is one). Says so and ends well where there is no Chromium.

    python3 tests/papers/pages.py HOLLOWTOP [PIECE ...]

Without pieces: an example, a piece that fails with all that would help it, and a top with twelve recesses."""

import json
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile

MOST = {"client": 1, "maker": 2, "engineer": 6}
LEAST_FULL = 0.2  # of what lies between the margins
MARGIN = 13 / 297  # of a page's height, above and below
SIZES = {"A4": "210mm 297mm", "Letter": "8.5in 11in"}


def pads(length, width, inset=60):
    return [{"kind": "pad", "at": [x, y], "size": [60, 60]}
            for x in (inset, length - inset) for y in (inset, width - inset)]


def failing():
    """A wide thin top under people who lean on it: over its limits, with stiffeners and a cover's neighbours."""
    return {"hollowtop": 1, "title": "Too thin a desk (invented)",
            "top": {"length": 1500, "width": 700, "thickness": 26, "wood": "black cherry"},
            "recesses": [{"name": "well", "rim": 90, "depth": 13, "corner_radius": 15}],
            "supports": pads(1500, 700),
            "limits": {"dish": 0.3},
            "loads": [{"name": "books", "kind": "area", "pressure": "1 kPa", "duration": "long"},
                      {"name": "someone leans on the middle of the front edge", "kind": "patch", "force": "600 N",
                       "at": [750, 60], "size": [100, 100]},
                      {"name": "someone leans on the back edge", "kind": "patch", "force": "400 N",
                       "at": [750, 640], "size": [100, 100]}]}


def twelve():
    recesses = [{"name": f"well {3 * i + j + 1}", "depth": 14, "corner_radius": 12,
                 "x": [110 + 450 * i, 510 + 450 * i], "y": [90 + 245 * j, 290 + 245 * j], "root_radius": 3}
                for i in range(4) for j in range(3)]
    return {"hollowtop": 1, "title": "Top with twelve wells (invented)",
            "top": {"length": 2000, "width": 900, "thickness": 40, "wood": "white oak"},
            "recesses": recesses, "supports": pads(2000, 900, 45),
            "loads": [{"name": "books", "kind": "area", "pressure": "0.8 kPa", "duration": "long"},
                      {"name": "someone leans on the edge", "kind": "patch", "force": "500 N", "at": [1000, 40],
                       "size": [80, 80]}]}


def pages_of(chromium, page, size, folder):
    sized = folder / "sized.html"
    style = f"<style>@page{{size:{SIZES[size]}}}</style></head>"
    sized.write_text(page.replace("</head>", style, 1), encoding="utf-8")
    printed = folder / "printed.pdf"
    printed.unlink(missing_ok=True)
    subprocess.run([chromium, "--headless", "--no-sandbox", "--disable-gpu", f"--user-data-dir={folder}/profile",
                    "--no-pdf-header-footer", f"--print-to-pdf={printed}", sized.as_uri()],
                   check=True, capture_output=True, timeout=120)
    return len(re.findall(rb"/Type\s*/Page\b(?!s)", printed.read_bytes())), emptiest(printed)


def emptiest(printed):
    """How far down the words of the emptiest page reach, as a share of what lies between the margins."""
    if shutil.which("pdftotext") is None:
        return 1
    boxes = subprocess.run(["pdftotext", "-bbox", str(printed), "-"], check=True, capture_output=True).stdout.decode()
    full = []
    for page in re.findall(r"<page .*?</page>", boxes, re.DOTALL):
        height = float(re.search(r'height="([\d.]+)"', page)[1])
        ends = [float(y) / height for y in re.findall(r'yMax="([\d.]+)"', page)]
        body = [y for y in ends if MARGIN < y < 1 - MARGIN]
        full.append((max(body, default=MARGIN) - MARGIN) / (1 - 2 * MARGIN))
    return min(full, default=0)


def main():
    program = str(pathlib.Path(sys.argv[1]).resolve())
    chromium = shutil.which("chromium") or shutil.which("chromium-browser")
    if chromium is None:
        print("pages: no Chromium here, none counted")
        return 0
    root = pathlib.Path(__file__).resolve().parents[2]
    wrong = 0
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        pieces = [(pathlib.Path(p), ["--quick"], list(MOST)) for p in sys.argv[2:]]
        if not pieces:
            for made, of in ((failing(), "failing"), (twelve(), "twelve")):
                (folder / f"{of}.json").write_text(json.dumps(made), encoding="utf-8")
            pieces = [(root / "docs/examples/reading_table.json", [], list(MOST)),
                      (folder / "failing.json", ["--mesh", "coarse"], ["client", "engineer"]),
                      (folder / "twelve.json", ["--quick", "--mesh", "coarse"], ["maker", "engineer"])]
        for piece, options, papers in pieces:
            for paper in papers:
                made = subprocess.run([program, "report", str(piece), "--for", paper, "--out", "-", *options],
                                      capture_output=True, check=False)
                if made.returncode > 1:
                    print(made.stderr.decode(), end="")
                    return 1
                for size in SIZES:
                    n, full = pages_of(chromium, made.stdout.decode(), size, folder)
                    faults = ["TOO LONG"] * (not 0 < n <= MOST[paper]) + ["NEARLY EMPTY"] * (full < LEAST_FULL)
                    wrong += len(faults)
                    print(f"{piece.stem}, {paper}, {size}: {n} of {MOST[paper]}, the emptiest {full:.0%} full",
                          *faults)
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
