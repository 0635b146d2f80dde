#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""Solves a hollowed top as a solid of orthotropic wood, by the finite element library GetFEM (Debian: python3-getfem), which
is no part of the program: a second opinion on what the program computes as a shell.

    solve_top.py TOP.json                    three meshes, the extrapolated values and their errors
    solve_top.py TOP.json --write            the same, written as a case into validation/cases
    solve_top.py TOP.json --live PROGRAM     two coarser meshes, held against PROGRAM and against the stored case

27-node hexahedra whose faces lie on every wall; cells grow from the walls. Bearers are lines of the underside with w = 0,
both ways; loads lie on the top face. N, mm, MPa; z is 0 on the top face and -thickness below.
"""
import json
import pathlib
import subprocess
import sys

import getfem as gf
import numpy as np

CASES = pathlib.Path(__file__).resolve().parent.parent / "cases"
FINENESS = [1.0, 0.75, 0.55]  # size of the cells; 1: half a skin beside a wall, two skins far from it
LIVE = [1.5, 1.0]
SOURCE = ("three-dimensional orthotropic elasticity by the finite element library GetFEM, 27-node hexahedra on three meshes, extrapolated "
          "(validation/solid/solve_top.py); wood constants, sizes and loads invented")


def inside(polygon, x, y):
    odd = False
    for (x0, y0), (x1, y1) in zip(polygon, polygon[1:] + polygon[:1]):
        if (y0 > y) != (y1 > y) and x < x0 + (y - y0) / (y1 - y0) * (x1 - x0):
            odd = not odd
    return odd


def corners(recess):
    if "polygon" in recess:
        return recess["polygon"]
    (x0, x1), (y0, y1) = recess["x"], recess["y"]
    return [[x0, y0], [x1, y0], [x1, y1], [x0, y1]]


def graded(lines, walls, smallest, largest):
    """Lines from the first to the last of `lines`, through all of them; cells grow with the distance from the walls."""
    out = [lines[0]]
    for a, b in zip(lines, lines[1:]):
        x = np.linspace(a, b, 201)
        size = np.minimum(largest, smallest + 0.5 * np.min([np.abs(x - wall) for wall in walls], axis=0))
        count = np.concatenate([[0], np.cumsum((1 / size[1:] + 1 / size[:-1]) / 2 * (x[1] - x[0]))])
        n = max(1, round(count[-1]))
        out += list(np.interp(count[-1] * np.arange(1, n) / n, count, x)) + [b]
    return np.array(out)


def mesh_of(piece, fineness):
    top, t = piece["top"], piece["top"]["thickness"]
    xs, ys, zs = {0, top["length"]}, {0, top["width"]}, {0, -t}
    walls = [set(), set()]
    for recess in piece["recesses"]:
        for p in corners(recess):
            walls[0].add(p[0])
            walls[1].add(p[1])
        zs.add(recess["depth"] - t)
    xs, ys = xs | walls[0], ys | walls[1]
    for support in piece["supports"]:
        xs.add(support["from"][0])
    for load in piece["loads"]:
        if load["kind"] == "patch":
            xs |= {load["at"][0] - load["size"][0] / 2, load["at"][0] + load["size"][0] / 2}
            ys |= {load["at"][1] - load["size"][1] / 2, load["at"][1] + load["size"][1] / 2}
    skin = t - max(recess["depth"] for recess in piece["recesses"])
    plane = [graded(sorted(lines), sorted(near), 0.5 * skin * fineness, 2 * skin * fineness) for lines, near in zip((xs, ys), walls)]
    high = []
    for a, b in zip(sorted(zs), sorted(zs)[1:]):
        n = max(1, round(1.5 * (b - a) / (skin * fineness)))
        high += list(np.linspace(a, b, n + 1)[:-1])
    mesh = gf.Mesh("cartesian", *plane, np.array(high + [0.0]))
    gone = []
    for cell in mesh.cvid():
        points = mesh.pts_from_cvid(cell)[0]
        x, y, z = points.mean(axis=1)
        if any(z < recess["depth"] - t and inside(corners(recess), x, y) for recess in piece["recesses"]):
            gone.append(cell)
    mesh.del_convex(gone)
    mesh.optimize_structure()
    return mesh


def stiffness(top, nu13, nu23):
    """The tensor C of stress = C : strain, in the axes of the top; the grain runs along x (0) or along y (90)."""
    e = top["elastic"]
    S = np.array([[1 / e["E1"], -e["nu12"] / e["E1"], -nu13 / e["E1"]],
                  [-e["nu12"] / e["E1"], 1 / e["E2"], -nu23 / e["E2"]],
                  [-nu13 / e["E1"], -nu23 / e["E2"], 1 / e["E3"]]])
    normal, shear = np.linalg.inv(S), {(0, 1): e["G12"], (0, 2): e["G13"], (1, 2): e["G23"]}
    axis = [1, 0, 2] if top.get("grain", 0) == 90 else [0, 1, 2]  # of the wood, for each axis of the top
    C = np.zeros((3, 3, 3, 3))
    for i in range(3):
        for j in range(3):
            C[i, i, j, j] = normal[axis[i], axis[j]]
            if i != j:
                C[i, j, i, j] = C[i, j, j, i] = shear[tuple(sorted((axis[i], axis[j])))]
    return C


def solve(task, fineness):
    piece = task["piece"]
    top, t = piece["top"], piece["top"]["thickness"]
    mesh = mesh_of(piece, fineness)
    mf, mim = gf.MeshFem(mesh, 3), gf.MeshIm(mesh, gf.Integ("IM_GAUSS_PARALLELEPIPED(3,4)"))
    mf.set_fem(gf.Fem("FEM_QK(3,2)"))
    faces = mesh.outer_faces_with_direction([0, 0, 1], 0.01)
    model = gf.Model("real")
    model.add_fem_variable("u", mf)
    C = stiffness(top, task["nu13"], task["nu23"])
    model.add_initialized_data("C", C.flatten(order="F"), [3, 3, 3, 3])
    model.add_linear_term(mim, "(C:Grad_u):Grad_Test_u")
    for k, load in enumerate(piece["loads"]):
        pressure = load.get("pressure", 0) / 1000  # kPa
        chosen = []
        for cell, face in faces.T:
            x, y, z = mesh.pts_from_cvid(cell)[0].mean(axis=1)
            top_face = np.isclose(mesh.pts_from_cvid(cell)[0][2].max(), 0)
            under = load["kind"] == "area" or all(abs((x, y)[i] - load["at"][i]) < load["size"][i] / 2 for i in (0, 1))
            if top_face and under:
                chosen.append((cell, face))
        if load["kind"] == "patch":
            pressure = load["force"] / load["size"][0] / load["size"][1]
        mesh.set_region(100 + k, np.array(chosen).T)
        model.add_source_term_brick(mim, "u", f"[0,0,{-pressure}]", 100 + k)
    nodes = mf.basic_dof_nodes()
    held = np.zeros(mf.nbdof())
    direction = np.arange(mf.nbdof()) % 3
    for support in piece["supports"]:
        line = np.isclose(nodes[0], support["from"][0]) & np.isclose(nodes[2], -t)
        held[line & (direction == 2)] = 1
    first = np.isclose(nodes[0], piece["supports"][0]["from"][0]) & np.isclose(nodes[2], -t)
    held[first & np.isclose(nodes[1], 0) & (direction < 2)] = 1  # against drifting away in the plane: no force
    held[first & np.isclose(nodes[1], top["width"]) & (direction == 0)] = 1
    hold = gf.Spmat("empty", mf.nbdof(), mf.nbdof())
    hold.set_diag(held * 1e14)
    model.add_explicit_matrix("u", "u", hold, True, True)
    model.solve("lsolver", "mumps")
    return read(task, model, mesh, mf), mf.nbdof()


def read(task, model, mesh, mf):
    """By their place in the result: movement down at each probe, mean stresses over a square one skin wide."""
    piece = task["piece"]
    t = piece["top"]["thickness"]
    u, nodes = model.variable("u"), mf.basic_dof_nodes()
    out = {"/situations/0/sag_mm": float(-u[2::3][np.isclose(nodes[2][2::3], 0)].min())}
    probes = np.array(piece["probe"], dtype=float)
    moved = np.asarray(model.interpolation("u", np.vstack([probes.T, np.full(len(probes), -1e-6)]), mesh)).reshape(3, -1, order="F")
    for i, w in enumerate(moved[2]):
        out[f"/situations/0/probes/{i}/w_mm"] = float(-w)
    for i in task["stresses"]:
        depth = max((r["depth"] for r in piece["recesses"] if inside(corners(r), *probes[i])), default=0)
        skin = t - depth
        gauss, weight = np.polynomial.legendre.leggauss(6)
        grid = np.array([[probes[i][0] + skin / 2 * a, probes[i][1] + skin / 2 * b] for a in gauss for b in gauss]).T
        for name, z in (("top", -1e-6), ("bottom", -skin + 1e-6)):
            stress = model.interpolation("C:Grad_u", np.vstack([grid, np.full(36, z)]), mesh)
            stress = np.asarray(stress).reshape(3, 3, 36, order="F")
            for k in (0, 1):
                axis = k if piece["top"].get("grain", 0) == 0 else 1 - k  # the result tells along the grain first, then across
                out[f"/situations/0/probes/{i}/stress_{name}_MPa/{k}"] = float(stress[axis, axis] @ np.outer(weight, weight).ravel() / 4)
    return out


def extrapolated(runs, fineness):
    """From the last two meshes: value and error. The error is taken to fall as size^2; as the error of what is left stands the
    last step, or what an order of 1.1 would give instead, for walls have re-entrant edges, whichever is more."""
    a, b, r = runs[-2], runs[-1], fineness[-2] / fineness[-1]
    step = {k: b[k] - a[k] for k in b}
    return {k: (b[k] + d / (r ** 2 - 1), abs(d) * max(1, 1 / (r ** 1.1 - 1) - 1 / (r ** 2 - 1))) for k, d in step.items()}


def case_text(task, text, values):
    """The case file: the piece as it stands in `text`, an expected value a line."""
    largest = max((abs(v) for k, (v, _) in values.items() if "stress" in k), default=0)
    expect = []
    for what, (value, error) in values.items():
        entry = {"what": what, "value": float(f"{value:.6g}")}
        if "stress" not in what:
            own = 100 * error / abs(value)
            entry["tolerance_percent"] = float(f"{1 + own:.3g}")
            entry["note"] = f"1 % is asked of every movement of a hollowed top; the reference is good to {own:.2g} %"
        else:
            entry["tolerance"] = float(f"{0.04 * largest + error:.3g}")
            entry["note"] = f"4 % of the largest stress of the case; the reference is good to {error:.2g} MPa"
        expect.append("    " + json.dumps(entry))
    head = {"id": task["id"], "title": task["title"], "source": SOURCE, "status": "computed",
            "why": "A miss points to: the step between rim and skin (reference surface, give of the wall)",
            "note": f"For the solid also nu13 = {task['nu13']}, nu23 = {task['nu23']}."}
    piece = text[text.index('  "piece": {'):text.index('  "stresses"')]
    return "{\n" + "".join(f"  {json.dumps(k)}: {json.dumps(v)},\n" for k, v in head.items()) + piece + \
        '  "expect": [\n' + ",\n".join(expect) + "\n  ]\n}\n"


def value_at(result, pointer):
    for key in pointer.split("/")[1:]:
        result = result[int(key)] if isinstance(result, list) else result[key]
    return result


def live(task, name, program):
    """1 where a value lies outside: the shell against the solid, and the solid against what is stored."""
    solved = extrapolated([solve(task, f)[0] for f in LIVE], LIVE)
    stored = {e["what"]: e for e in json.loads((CASES / f"{name}.json").read_text())["expect"]}
    piece = json.dumps(task["piece"])
    ran = subprocess.run([program, "check", "-", "--json", "-"], input=piece, capture_output=True, text=True)
    result, missed = json.loads(ran.stdout), 0
    print(f"{'':48}{'solid':>10}{'error':>9}{'stored':>10}{'shell':>10}")
    for what, (value, error) in solved.items():
        shell, entry = value_at(result, what), stored[what]
        allowed = entry.get("tolerance", entry.get("tolerance_percent", 0) / 100 * abs(entry["value"]))
        ok = abs(shell - value) <= allowed + error and abs(value - entry["value"]) <= allowed / 2 + error
        missed += not ok
        print(f"{what:48}{value:10.5g}{error:9.2g}{entry['value']:10.5g}{shell:10.5g}{'' if ok else '  miss'}")
    return 1 if missed else 0


def main():
    gf.util_trace_level(0)
    gf.util_warning_level(0)
    path = pathlib.Path(sys.argv[1])
    task = json.loads(path.read_text())
    if "--live" in sys.argv:
        return live(task, path.stem, sys.argv[sys.argv.index("--live") + 1])
    runs = []
    fineness = task.get("fineness", FINENESS)
    for f in fineness:
        values, n = solve(task, f)
        runs.append(values)
        print(f"{n} unknowns: sag {values['/situations/0/sag_mm']:.6g} mm", flush=True)
    values = extrapolated(runs, fineness)
    for what, (value, error) in values.items():
        print(f"{what:48}" + "".join(f"{r[what]:12.6g}" for r in runs) + f"{value:12.6g} +- {error:.2g}")
    if "--write" in sys.argv:
        (CASES / f"{path.stem}.json").write_text(case_text(task, path.read_text(), values))
    return 0


sys.exit(main())
