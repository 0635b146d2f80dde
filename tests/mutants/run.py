#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Spoils the formulas of mutants.txt one by one in a copy of the project, and says which a quick test catches.

    python3 tests/mutants/run.py FOLDER [CMAKE_ARGUMENT...]
    MUTANTS=17-20 python3 tests/mutants/run.py FOLDER    those alone, counted from 1

FOLDER takes the copy and its build and may be kept for the next run. Status 1 where a mutant is not caught, where it does not
compile, or where the tests that are to catch it fail without it."""
import os
import pathlib
import shutil
import subprocess
import sys

home = pathlib.Path(__file__).resolve().parents[2]
rooms = ["materials", "solver"]


def read_mutants():
    mutants, one = [], {}
    for line in (home / "tests/mutants/mutants.txt").read_text().splitlines() + [""]:
        if line.startswith("#"):
            continue
        if line:
            key, value = line.split(None, 1)
            one[key] = value
        elif one:
            mutants.append(one)
            one = {}
    return mutants


def main():
    folder, arguments = pathlib.Path(sys.argv[1]).resolve(), sys.argv[2:]
    copy, build = folder / "main", folder / "b" / "main"
    copy.mkdir(parents=True, exist_ok=True)
    for name in ["CMakeLists.txt", "cmake", "packaging", "materials", "solver", "validation", "cli", "tests", "docs"]:
        source, target = home / name, copy / name
        if source.is_dir():
            # the times go with the files: what did not change is not built again
            shutil.copytree(source, target, dirs_exist_ok=True, copy_function=copy_if_other)
        else:
            copy_if_other(source, target)
    if not (build / "build.ninja").exists():
        subprocess.run(["cmake", "-S", copy, "-B", build, "-G", "Ninja", "-DHOLLOWTOP_NATIVE=ON", "-DHOLLOWTOP_TESTS=ON", *arguments],
                       check=True, stdout=subprocess.DEVNULL)

    def builds(room):
        return subprocess.run(["cmake", "--build", build, "--target", f"tests_{room}", "--", "--quiet"], capture_output=True).returncode == 0

    def passes(room, tests):
        """Also false where no test is meant: a list of nothing catches nothing and is a slip."""
        program = build / "tests" / f"tests_{room}"
        listed = subprocess.run([program, "--list-test-names-only", tests], capture_output=True).stdout
        if not listed.strip():
            sys.exit(f"no test of {room} is meant by {tests}")
        try:
            return subprocess.run([program, "--abort", tests], cwd=copy, capture_output=True, timeout=900).returncode == 0
        except subprocess.TimeoutExpired:
            sys.exit(f"{tests} of {room} takes over a quarter of an hour: neither caught nor not")

    mutants = read_mutants()
    if "MUTANTS" in os.environ:
        first, last = os.environ["MUTANTS"].split("-")
        mutants = mutants[int(first) - 1 : int(last)]
    for room in rooms:
        if not builds(room):
            sys.exit(f"tests_{room} does not build as it is")
    for room, tests in sorted({(m["file"].split("/")[0], m["first"] + "~[slow]") for m in mutants}):
        if not passes(room, tests):
            sys.exit(f"{tests} of {room} fails as it is")
    missed = 0
    for m in mutants:
        room, file = m["file"].split("/")[0], copy / m["file"]
        text = (home / m["file"]).read_text()
        if text.count(m["old"]) != 1:
            sys.exit(f"{m['file']}: \"{m['old']}\" stands there {text.count(m['old'])} times")
        file.write_text(text.replace(m["old"], m["new"]))
        if not builds(room):
            verdict = "DOES NOT COMPILE"
        elif not passes(room, m["first"] + "~[slow]"):
            verdict = "caught by " + m["first"]
        elif not passes(room, "~[slow]"):
            verdict = "caught by another"
        else:
            verdict = "NOT CAUGHT"
        missed += not verdict.startswith("caught")
        print(f"{verdict:24} {m['file']}: {m['formula']}", flush=True)
        file.write_text(text)
    print(f"{len(mutants)} formulas spoilt, {len(mutants) - missed} caught")
    return 1 if missed else 0


def copy_if_other(source, target):
    source, target = pathlib.Path(source), pathlib.Path(target)
    if not target.exists() or source.read_bytes() != target.read_bytes():
        shutil.copyfile(source, target)


if __name__ == "__main__":
    sys.exit(main())
