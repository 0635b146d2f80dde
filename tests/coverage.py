#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Which lines of materials and solver the tests have run, by plain gcov.

    cmake -B build/coverage -G Ninja -DHOLLOWTOP_NATIVE=ON -DHOLLOWTOP_TESTS=ON -DHOLLOWTOP_COVERAGE=ON
    cmake --build build/coverage --target tests_materials tests_solver
    build/coverage/tests/tests_materials '~[slow]'; build/coverage/tests/tests_solver '~[slow]'
    python3 tests/coverage.py build/coverage [LEAST_PERCENT]

Prints each file's share, the worst first, and the lines that did not run of those under LEAST_PERCENT (90). A line of a header counts as
run where any source ran it. Status 1 where a room as a whole is under it."""
import collections
import json
import pathlib
import subprocess
import sys


home = pathlib.Path(__file__).resolve().parents[1]


def main():
    build, least = pathlib.Path(sys.argv[1]), float(sys.argv[2]) if len(sys.argv) > 2 else 90.0
    ran = collections.defaultdict(lambda: collections.defaultdict(int))  # file -> line -> times
    for room in ["materials", "solver"]:
        # a source that no test links has notes and no data: its lines count as not run
        for notes in sorted((build / "CMakeFiles" / f"hollowtop_{room}.dir").rglob("*.gcno")):
            told = subprocess.run(["gcov", "--json-format", "--stdout", str(notes)], capture_output=True, text=True, check=True).stdout
            for report in told.splitlines():
                report = json.loads(report)
                for file in report["files"]:
                    # as the build maps it, or relative to where the compiler ran
                    path = (pathlib.Path(report["current_working_directory"]) / file["file"]).resolve()
                    name = str(path.relative_to(home)) if path.is_relative_to(home) else file["file"].lstrip("/")
                    if name.startswith(("materials/", "solver/")):
                        for line in file["lines"]:
                            ran[name][line["line_number"]] += line["count"]
    if not ran:
        sys.exit("nothing is counted there")
    share = {name: 100 * sum(n > 0 for n in lines.values()) / len(lines) for name, lines in ran.items()}
    for name in sorted(share, key=share.get):
        if share[name] < least:
            print(f"{share[name]:6.1f} %  {name}: not run " + " ".join(str(n) for n, times in sorted(ran[name].items()) if times == 0))
    status = 0
    for room in ["materials", "solver"]:
        lines = [times for name, of in ran.items() if name.startswith(room) for times in of.values()]
        percent = 100 * sum(times > 0 for times in lines) / len(lines)
        below = sum(share[name] < least for name in share if name.startswith(room))
        files = sum(name.startswith(room) for name in share)
        print(f"{percent:6.1f} %  {room}: {len(lines)} lines in {files} files, {below} of them under {least:g} %")
        status = status or percent < least
    return int(status)


if __name__ == "__main__":
    sys.exit(main())
