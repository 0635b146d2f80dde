#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Lays pages out in a headless Chromium and measures them: no label of a picture covers another or is cut off, labels
are at least 8 pt and tables 9 pt, on a wide screen, on a telephone of 360 px and on paper; nothing sticks out sideways.
Says so and ends well where there is no Chromium.

    python3 tests/papers/labels.py HOLLOWTOP [PIECE ...]
    python3 tests/papers/labels.py --axe axe.min.js HOLLOWTOP [PIECE ...]     also, light and dark, with axe-core

Without pieces: a top with twelve recesses, and one with a title of one long word."""

import html
import json
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile

import pages

A4_WIDE = (210 - 2 * 15) / 25.4 * 96  # px between the margins
VIEWS = {"wide": 1000, "telephone": 360, "paper": 0}
DARK = "@media screen and (prefers-color-scheme:dark)"

MEASURE = """
<script>
window.addEventListener('load', async () => {
  const found = [], page = document.documentElement, paper = PAPER;
  const shown = e => e.getBoundingClientRect().width > 0;
  if (!paper && page.scrollWidth > page.clientWidth + 1)
    found.push('the page is ' + page.scrollWidth + ' px wide, its window ' + page.clientWidth);
  const right = document.body.getBoundingClientRect().right + 1.5;
  if (paper)
    for (const e of document.querySelectorAll('body *'))
      if (shown(e) && e.getBoundingClientRect().right > right && !e.closest('pre'))
        found.push('beyond the margin: ' + e.tagName + ' ' + e.textContent.slice(0, 40));
  for (const e of document.querySelectorAll('td,th,caption')) {
    const size = 0.75 * parseFloat(getComputedStyle(e).fontSize);
    if (paper && shown(e) && size < 8.95) found.push('a table at ' + size.toFixed(2) + ' pt: ' + e.textContent);
  }
  for (const svg of document.querySelectorAll('svg')) {
    const frame = svg.getBoundingClientRect();
    if (!frame.width) continue;
    const labels = [...svg.querySelectorAll('text')].map(e => {
      const m = e.getScreenCTM(), scale = Math.hypot(m.a, m.b);
      return {e, box: e.getBoundingClientRect(), size: parseFloat(getComputedStyle(e).fontSize) * scale,
              turned: e.hasAttribute('transform'), words: svg.id + ': ' + e.textContent};
    });
    for (const l of labels) {
      if (0.75 * l.size < 7.95) found.push('at ' + (0.75 * l.size).toFixed(2) + ' pt, ' + l.words);
      const b = l.box, out = Math.max(frame.left - b.left, b.right - frame.right, frame.top - b.top,
                                      b.bottom - frame.bottom);
      if (out > 0.25 * l.size) found.push('cut off, ' + l.words);
    }
    // a line's box is taller than its letters: 0.75 above the line and 0.2 below it
    const ink = l => {
      const b = l.box, slack = l.turned ? (b.width - 0.95 * l.size) / 2 : (b.height - 0.95 * l.size) / 2;
      return l.turned ? {x0: b.left + slack, x1: b.right - slack, y0: b.top, y1: b.bottom}
                      : {x0: b.left, x1: b.right, y0: b.top + slack, y1: b.bottom - slack};
    };
    for (let i = 0; i < labels.length; ++i)
      for (let j = i + 1; j < labels.length; ++j) {
        const a = ink(labels[i]), b = ink(labels[j]);
        if (Math.min(a.x1, b.x1) - Math.max(a.x0, b.x0) > 1 && Math.min(a.y1, b.y1) - Math.max(a.y0, b.y0) > 1)
          found.push('"' + labels[j].e.textContent + '" covers ' + labels[i].words);
      }
  }
  if (window.axe)
    for (const v of (await axe.run(document)).violations)
      found.push('axe-core: ' + v.id + ', ' + v.nodes[0].html.slice(0, 120));
  const told = JSON.stringify(found);
  if (parent !== window) parent.postMessage(told, '*');
  else document.body.textContent = 'FOUND' + told + 'END';
});
</script>"""

FRAME = """<!DOCTYPE html><title>frame</title><iframe src="page.html" style="width:%dpx;height:900px;border:0"></iframe>
<script>addEventListener('message', e => { document.body.textContent = 'FOUND' + e.data + 'END'; });</script>"""


def one_word():
    made = pages.failing()
    made["title"] = "Tischunterseitenaushub" * 9
    made["recesses"][0]["name"] = "Wohnzimmertischunterseitenaushub"
    made["loads"][1]["name"] = "Schreibtischkantenbelastung" * 3
    return made


def laid_out(page, view, dark):
    """The page as it is on paper, by making its rules for paper hold; or in the dark, likewise."""
    if view == "paper":
        page = page.replace("@media print", "@media all").replace("@media screen", "@media speech")
        page = page.replace("@media (max-width", "@media speech and (max-width")
        page = page.replace("</head>", f"<style>body{{width:{A4_WIDE}px!important}}</style></head>", 1)
    return page.replace(DARK, "@media screen") if dark else page


def measured(chromium, page, view, dark, axe, folder):
    script = f"<script>{axe}</script>" if axe else ""
    script += MEASURE.replace("PAPER", "true" if view == "paper" else "false")
    (folder / "page.html").write_text(laid_out(page, view, dark).replace("</body>", script + "</body>"),
                                      encoding="utf-8")
    start = folder / "page.html"
    if view == "telephone":  # a window is never so narrow, a frame may be
        start = folder / "frame.html"
        start.write_text(FRAME % VIEWS[view], encoding="utf-8")
    out = subprocess.run([chromium, "--headless", "--no-sandbox", "--disable-gpu", "--allow-file-access-from-files",
                          f"--user-data-dir={folder}/profile", "--window-size=1400,1000",
                          "--virtual-time-budget=60000", "--dump-dom", start.as_uri()],
                         check=True, capture_output=True, timeout=180).stdout.decode()
    told = re.search("FOUND(.*)END", out, re.DOTALL)
    return json.loads(html.unescape(told[1])) if told else ["could not be measured"]


def main():
    given = sys.argv[1:]
    axe = ""
    if given[0] == "--axe":
        axe = pathlib.Path(given[1]).read_text(encoding="utf-8")
        given = given[2:]
    program = str(pathlib.Path(given[0]).resolve())
    chromium = shutil.which("chromium") or shutil.which("chromium-browser")
    if chromium is None:
        print("labels: no Chromium here, none measured")
        return 0
    wrong = 0
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        pieces = [pathlib.Path(p) for p in given[1:]]
        if not pieces:
            for made, of in ((pages.twelve(), "twelve"), (one_word(), "one_word")):
                pieces.append(folder / f"{of}.json")
                pieces[-1].write_text(json.dumps(made), encoding="utf-8")
        for piece in pieces:
            made = subprocess.run([program, "report", str(piece), "--quick", "--mesh", "coarse", "--out", "-"],
                                  capture_output=True, check=False)
            if made.returncode > 1:
                print(made.stderr.decode(), end="")
                return 1
            for view in VIEWS:
                for dark in [False, True] if axe and view == "wide" else [False]:
                    found = measured(chromium, made.stdout.decode(), view, dark, axe, folder)
                    wrong += len(found)
                    print(f"{piece.stem}, {view}{', dark' if dark else ''}: {len(found)} found", *found, sep="\n  ")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
