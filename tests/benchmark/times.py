#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""How long the program takes, by the clock and of processor, and how much memory at most, beside SciPy (Debian:
python3-scipy, a tool of this script alone) at the same unknowns.

    times.py BUILD                    everything, some minutes; BUILD has the program and benchmark_stiffness
    times.py BUILD --only WORD        the lines that hold the word
    times.py BUILD --keep FOLDER      writes what is printed to FOLDER/times.txt too (tests/benchmark/runs/...)
    times.py BUILD --runs N           shortest of N runs (3)

All pieces that are not docs/examples are invented here. A line says: clock, processor, peak memory, exit status (1: a check
fails), what is wished for where something is. Shortest of the runs: the one least disturbed.
"""
import argparse
import json
import math
import os
import pathlib
import subprocess
import sys
import tempfile
import time

PROJECT = pathlib.Path(__file__).resolve().parent.parent.parent
EXAMPLES = PROJECT / "docs" / "examples"
LEGS = [{"kind": "pad", "at": at, "size": [60, 60], "hold_down": True} for at in ([60, 60], [1540, 60], [60, 840], [1540, 840])]


def top(outline=None):
    """An invented oak top on four legs with one load."""
    piece = {"hollowtop": 1, "title": "invented", "units": "mm",
             "top": {"length": 1600, "width": 900, "thickness": 40, "wood": "white oak", "rings": "flatsawn", "moisture": 8},
             "supports": LEGS,
             "loads": [{"name": "books", "kind": "area", "pressure": "0.3 kPa", "duration": "long"}]}
    if outline:
        piece["top"]["outline"] = dict(outline, shape="polygon")
    return piece


def pocketed(columns, rows):
    """So many equal pockets in a grid."""
    piece = top()
    x0, x1, y0, y1, web = 130, 1470, 130, 770, 12
    wide, deep = (x1 - x0 + web) / columns - web, (y1 - y0 + web) / rows - web
    piece["recesses"] = [{"name": f"p{i}-{j}", "depth": 22,
                          "x": [round(x0 + i * (wide + web), 3), round(x0 + i * (wide + web) + wide, 3)],
                          "y": [round(y0 + j * (deep + web), 3), round(y0 + j * (deep + web) + deep, 3)]}
                         for j in range(rows) for i in range(columns)]
    return piece


def many_cornered(n):
    """An outline of so many corners: a superellipse, which no arc follows."""
    points = []
    for k in range(n):
        angle = 2 * math.pi * k / n
        c, s = math.cos(angle), math.sin(angle)
        points.append([round(800 + 800 * math.copysign(abs(c) ** 0.5, c), 4), round(450 + 450 * math.copysign(abs(s) ** 0.5, s), 4)])
    piece = top({"points": points})
    piece["supports"] = [dict(leg, at=[220 if leg["at"][0] < 800 else 1380, 200 if leg["at"][1] < 450 else 700]) for leg in LEGS]
    return piece


def run(command):
    """Seconds by the clock and of processor, peak MiB, exit status."""
    begin = time.perf_counter()
    child = subprocess.Popen([str(word) for word in command], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, cwd=PROJECT)
    _, status, usage = os.wait4(child.pid, 0)
    child.returncode = os.waitstatus_to_exitcode(status)
    return time.perf_counter() - begin, usage.ru_utime + usage.ru_stime, usage.ru_maxrss / 1024, child.returncode


class Page:
    def __init__(self, options):
        self.options, self.lines = options, []

    def say(self, line=""):
        print(line, flush=True)
        self.lines.append(line)

    def wants(self, name):
        return not self.options.only or self.options.only in name

    def measure(self, name, command, wished="", runs=None):
        if not self.wants(name):
            return
        seen = [run(command) for _ in range(runs or self.options.runs)]
        wall, processor, peak, status = min(s[0] for s in seen), min(s[1] for s in seen), max(s[2] for s in seen), seen[0][3]
        self.say(f"{name:44} {wall:8.2f} s {processor:8.2f} s {peak:7.0f} MiB  status {status}  {wished}")


def beside_scipy(page, build, piece, folder, size):
    """The factor and the solve of one load case, against SciPy's sparse direct solver on the same matrix."""
    import numpy
    import scipy.sparse
    import scipy.sparse.linalg
    told = subprocess.run([build / "benchmark_stiffness", piece, folder, "1", "4", str(size)], check=True, capture_output=True, text=True)
    ours = json.loads(told.stdout)
    read = lambda name, kind: numpy.fromfile(pathlib.Path(folder) / name, dtype=kind)
    force, moved = read("force.f64", "f8"), read("moved.f64", "f8")
    matrix = scipy.sparse.coo_matrix((read("values.f64", "f8"), (read("rows.i32", "i4"), read("columns.i32", "i4"))),
                                     shape=(len(force), len(force))).tocsc()
    best, answer = None, None
    for order in ("MMD_AT_PLUS_A", "COLAMD"):
        begin = time.process_time()
        factor = scipy.sparse.linalg.splu(matrix, permc_spec=order, diag_pivot_thresh=0.0,
                                          options={"SymmetricMode": order == "MMD_AT_PLUS_A"})
        factored = time.process_time()
        answer = factor.solve(force)
        solved = time.process_time()
        if best is None or solved - begin < sum(best):
            best = (factored - begin, solved - factored)
    differ = numpy.max(numpy.abs(answer - moved)) / numpy.max(numpy.abs(moved))
    us = ours["factor"][1] + ours["solve"][1]
    page.say(f"{pathlib.Path(piece).stem:20} {ours['unknowns']:8d} unknowns  assembling {ours['assembling'][1]:.3f} s, factor {ours['factor'][1]:.3f} s, "
             f"solve {ours['solve'][1]:.4f} s;  SciPy factor {best[0]:.2f} s, solve {best[1]:.3f} s: {sum(best) / us:.0f} times as long; "
             f"answers differ by {differ:.0e}")


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("build", type=pathlib.Path)
    parser.add_argument("--only", default="")
    parser.add_argument("--keep", type=pathlib.Path)
    parser.add_argument("--runs", type=int, default=3)
    options = parser.parse_args()
    build = options.build.resolve()
    program = build / "hollowtop"
    page = Page(options)
    load = os.getloadavg()[0]
    page.say(f"{os.cpu_count()} processors; {load:.1f} programs were waiting to run at the start; shortest of {options.runs} runs")
    page.say(f"{'':44} {'clock':>10} {'processor':>10} {'peak':>11}")
    with tempfile.TemporaryDirectory() as folder:
        def put(name, piece):
            path = pathlib.Path(folder) / (name + ".json")
            path.write_text(json.dumps(piece))
            return path

        wished = {"bench_top": "0.3 s", "reading_table": "0.13 s", "oval_table": "0.6 s of processor, 300 MB"}
        for piece in sorted(EXAMPLES.glob("*.json")):
            page.measure(f"check {piece.stem}", [program, "check", "--quiet", piece], wished.get(piece.stem, "400 MB"))
        reading, bench = EXAMPLES / "reading_table.json", EXAMPLES / "bench_top.json"
        page.measure("deepest reading_table", [program, "deepest", "--quiet", reading], "3 s")
        for threads in (1, 2):
            page.measure(f"1000 stiffener variants, {threads} thread(s)",
                         [program, "compare", bench, "--quiet", "--threads", threads,
                          "--vary", "section=angle 20x20x3, angle 25x25x3, angle 25x25x4, angle 30x30x3, angle 30x30x4, angle 35x35x4, "
                          "angle 35x35x5, bar 5x25, flat 40x5, tube 20x20x2",
                          "--vary", "spacing=100,125,150,175,200", "--vary", "holes=slotted, round",
                          "--vary", "screw=3.5x18, 3.6x18, 4x18, 4.1x18, 4.5x18, 4.6x18, 5x18, 5.1x18, 6x18, 6.1x18"],
                         "3 s on two", runs=1)
            page.measure(f"200 depth variants, {threads} thread(s)",
                         [program, "compare", reading, "--quiet", "--threads", threads,
                          "--vary", "depth=8..27 step 1", "--vary", "rim=90..135 step 5"], "10 s on two", runs=1)
        for columns, rows in ((5, 2), (10, 10), (20, 20)):
            page.measure(f"check of {columns * rows} recesses", [program, "check", "--quiet", put("pockets", pocketed(columns, rows))],
                         "3 s, 1 GB" if columns == 20 else "", runs=1)
        for n in (20, 200, 1000):  # the most that are computed (docs/limits.md)
            page.measure(f"check of an outline of {n} corners", [program, "check", "--quiet", put("corners", many_cornered(n))],
                         "0.5 s" if n == 1000 else "", runs=1)
        if page.wants("SciPy"):
            page.say()
            page.say("beside SciPy, one load case, processor time on one thread")
            for size in (136, 80, 50):
                beside_scipy(page, build, reading, folder, size)
    if options.keep:
        options.keep.mkdir(parents=True, exist_ok=True)
        (options.keep / "times.txt").write_text("\n".join(page.lines) + "\n")


if __name__ == "__main__":
    sys.exit(main())
