# SPDX-License-Identifier: MIT
# read_template.py FILE.svg FILE.dxf: reads both drawings of a template, each with a reader that is not ours (xml.etree for SVG, ezdxf
# for DXF where it is installed, else the few lines below), and prints what is in them as JSON, in millimetres from the corner of the
# top that lies at the lower left as drawn, y upwards: {"svg": {layer: [...]}, "dxf": {layer: [...]}}.
# A closed line is {"box": [x0, y0, x1, y1], "area": ..., "length": ...}, a circle {"at": [x, y], "radius": ...}.
import cmath
import json
import math
import re
import sys
import xml.etree.ElementTree as ElementTree


def arc_points(a, b, radius, clockwise, up):
    """Points on the short circular arc from a to b; `clockwise` in a frame with y upwards (up) or downwards."""
    a, b = complex(*a), complex(*b)
    half = abs(b - a) / 2
    radius = max(radius, half)
    rise = math.sqrt(max(radius * radius - half * half, 0))
    side = -1 if clockwise == up else 1  # where the centre lies from the chord, left +
    centre = (a + b) / 2 + side * rise * 1j * (b - a) / abs(b - a)
    start, turn = cmath.phase(a - centre), cmath.phase((b - centre) / (a - centre))
    turn = -abs(turn) if (clockwise == up) else abs(turn)
    points = [centre + radius * cmath.exp(1j * (start + turn * k / 64)) for k in range(1, 64)]
    return [(p.real, p.imag) for p in points] + [(b.real, b.imag)]


def closed(points):
    area = length = 0
    for (x0, y0), (x1, y1) in zip(points, points[1:] + points[:1]):
        area += (x0 * y1 - x1 * y0) / 2
        length += math.hypot(x1 - x0, y1 - y0)
    xs, ys = zip(*points)
    return {"box": [min(xs), min(ys), max(xs), max(ys)], "area": abs(area), "length": length}


def svg_path(d):
    points = []
    for kind, numbers in re.findall(r"([MLAZ])([^MLAZ]*)", d):
        n = [float(x) for x in numbers.split()]
        if kind in "ML":
            points.append((n[0], n[1]))
        elif kind == "A":
            stretch = n[0] / n[1]  # a quarter of an ellipse is a circle's, stretched
            start, end = (points[-1][0], points[-1][1] * stretch), (n[5], n[6] * stretch)
            points += [(x, y / stretch) for x, y in arc_points(start, end, n[0], n[4] == 1, False)]
    return points


def read_svg(file):
    root = ElementTree.parse(file).getroot()
    name = "{http://www.w3.org/2000/svg}"
    width, height = (float(root.get(key).removesuffix("mm")) for key in ("width", "height"))
    box = [float(x) for x in root.get("viewBox").split()]
    assert abs(width - box[2]) < 1e-9 and abs(height - box[3]) < 1e-9, "one unit is one millimetre"
    found = {}
    for group in root.iter(name + "g"):
        for element in group:
            layer = found.setdefault(group.get("class"), [])
            if element.tag == name + "path":
                layer.append(closed(svg_path(element.get("d"))))
            elif element.tag == name + "circle":
                layer.append({"at": [float(element.get("cx")), float(element.get("cy"))], "radius": float(element.get("r"))})
            elif element.tag == name + "line" and group.get("class") == "SCALE":
                layer.append([float(element.get(key)) for key in ("x1", "y1", "x2", "y2")])
    return found


def read_dxf_by_hand(file):
    lines = open(file, encoding="ascii").read().split("\n")
    pairs = [(int(code), value) for code, value in zip(lines[0::2], lines[1::2])]
    entities, current = [], None
    for code, value in pairs[pairs.index((2, "ENTITIES")) + 1 :]:
        if code == 0:
            current = {"kind": value}
            entities.append(current)
        else:
            current[code] = value
    found, vertices = {}, []
    for e in entities:
        number = lambda code: float(e.get(code, 0))
        if e["kind"] == "POLYLINE":
            vertices = []
        elif e["kind"] == "VERTEX":
            vertices.append((number(10), number(20), number(42)))
        elif e["kind"] == "SEQEND":
            found.setdefault(e[8], []).append(vertices)
        elif e["kind"] == "CIRCLE":
            found.setdefault(e[8], []).append({"at": [number(10), number(20)], "radius": number(40)})
        elif e["kind"] == "LINE":
            found.setdefault(e[8], []).append([number(10), number(20), number(11), number(21)])
    return found


def read_dxf_by_ezdxf(file):
    import ezdxf

    document = ezdxf.readfile(file)
    assert document.dxfversion == "AC1009"
    found = {}
    for e in document.modelspace():
        layer = found.setdefault(e.dxf.layer, [])
        if e.dxftype() == "POLYLINE":
            assert e.is_closed
            layer.append([(v.dxf.location.x, v.dxf.location.y, v.dxf.get("bulge", 0)) for v in e.vertices])
        elif e.dxftype() == "CIRCLE":
            layer.append({"at": [e.dxf.center.x, e.dxf.center.y], "radius": e.dxf.radius})
        elif e.dxftype() == "LINE":
            layer.append([e.dxf.start.x, e.dxf.start.y, e.dxf.end.x, e.dxf.end.y])
    return found


def rounded_corners(vertices):
    points = []
    for (x0, y0, bulge), (x1, y1, _) in zip(vertices, vertices[1:] + vertices[:1]):
        points.append((x0, y0))
        if bulge:
            radius = math.hypot(x1 - x0, y1 - y0) / 2 / math.sin(2 * math.atan(abs(bulge)))
            points += arc_points((x0, y0), (x1, y1), radius, bulge < 0, True)[:-1]
    return closed(points)


def about_the_corner(found, x, y, down):
    place = lambda p: [p[0] - x, (y - p[1]) if down else p[1] - y]
    for layer in found.values():
        for shape in layer:
            if isinstance(shape, dict) and "box" in shape:
                a, b = place(shape["box"][:2]), place(shape["box"][2:])
                shape["box"] = [min(a[0], b[0]), min(a[1], b[1]), max(a[0], b[0]), max(a[1], b[1])]
            elif isinstance(shape, dict):
                shape["at"] = place(shape["at"])
    return found


svg = read_svg(sys.argv[1])
top = svg["OUTLINE"][0]["box"]
svg = about_the_corner(svg, top[0], top[3], True)
try:
    dxf, reader = read_dxf_by_ezdxf(sys.argv[2]), "ezdxf"
except ImportError:
    dxf, reader = read_dxf_by_hand(sys.argv[2]), "own lines"
if reader == "ezdxf":
    by_hand = read_dxf_by_hand(sys.argv[2])
    assert {layer: len(shapes) for layer, shapes in by_hand.items()} == {layer: len(s) for layer, s in dxf.items() if s}
for layer, shapes in dxf.items():
    dxf[layer] = [rounded_corners(s) if isinstance(s, list) and s and isinstance(s[0], tuple) else s for s in shapes]
top = dxf["OUTLINE"][0]["box"]
dxf = about_the_corner(dxf, top[0], top[1], False)
print(json.dumps({"svg": svg, "dxf": dxf, "reader": reader}))
