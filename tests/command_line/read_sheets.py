# SPDX-License-Identifier: MIT
# read_sheets.py tiles FILE.html   puts the sheets of a template together by their crosses alone, as one does with paper, and prints as JSON
#                                  {"sheets": n, "crosses": n, "furthest_mm": how far the drawing of any sheet then lies from the first's, "bars": ...}
# read_sheets.py depth FILE.png    {"width", "height", "bits", "pixels_per_metre", "comment", "values": {grey: how many pixels}}
# Other hands than ours read the files: html.parser, zlib.
import json
import math
import struct
import sys
import zlib
from collections import Counter
from html.parser import HTMLParser


class Sheets(HTMLParser):
    def __init__(self):
        super().__init__()
        self.sheets, self.group, self.sheet = [], [], None

    def handle_starttag(self, tag, attributes):
        given = dict(attributes)
        if tag == "div" and given.get("class") == "sheet":
            self.sheet = {"name": given["data-name"], "crosses": [], "bars": {}}
            self.sheets.append(self.sheet)
        if self.sheet is None:
            return
        if tag == "svg" and given.get("class") != "window":
            box = [float(x) for x in given["viewbox"].split()]
            assert abs(float(given["width"].removesuffix("mm")) - box[2]) < 1e-9, "a unit is a millimetre"
            assert abs(float(given["height"].removesuffix("mm")) - box[3]) < 1e-9, "a unit is a millimetre"
            self.sheet["paper"] = box
        if tag == "svg" and given.get("class") == "window":
            box = [float(x) for x in given["viewbox"].split()]
            assert [box[2], box[3]] == [float(given["width"]), float(given["height"])], "1:1 in the window too"
            self.sheet["shift"] = [float(given["x"]) - box[0], float(given["y"]) - box[1]]
            self.sheet["window"] = box
        if tag == "g":
            self.group.append(given.get("class"))

    def handle_startendtag(self, tag, attributes):
        given = dict(attributes)
        if self.sheet is None:
            return
        if tag == "circle" and "CROSS" in self.group:
            self.sheet["crosses"].append((float(given["cx"]), float(given["cy"])))
        if tag == "line" and self.group and self.group[-1] in ("SCALE_X", "SCALE_Y"):
            length = math.hypot(float(given["x2"]) - float(given["x1"]), float(given["y2"]) - float(given["y1"]))
            bars = self.sheet["bars"]
            bars[self.group[-1]] = max(bars.get(self.group[-1], 0), length)

    def handle_endtag(self, tag):
        if tag == "g" and self.sheet is not None:
            self.group.pop()


def tiles(file):
    reader = Sheets()
    reader.feed(open(file, encoding="utf-8").read())
    sheets = [sheet for sheet in reader.sheets if sheet["name"] != "map"]
    for sheet in sheets:  # where each cross stands on the paper; by which drawing place it is called
        sheet["on_paper"] = {(round(x, 3), round(y, 3)): (x + sheet["shift"][0], y + sheet["shift"][1]) for x, y in sheet["crosses"]}
    placed = {0: (0.0, 0.0)}  # where the corner of each sheet comes to lie
    grew = True
    while grew:
        grew = False
        for k, sheet in enumerate(sheets):
            if k in placed:
                continue
            for other, corner in list(placed.items()):
                shared = sheet["on_paper"].keys() & sheets[other]["on_paper"].keys()
                if len(shared) < 2:
                    continue
                moves = [tuple(sheets[other]["on_paper"][c][i] + corner[i] - sheet["on_paper"][c][i] for i in (0, 1)) for c in shared]
                placed[k] = tuple(sum(m[i] for m in moves) / len(moves) for i in (0, 1))
                grew = True
                break
    first = sheets[0]["shift"]
    furthest = 0
    for k, corner in placed.items():
        furthest = max(furthest, *(abs(corner[i] + sheets[k]["shift"][i] - first[i]) for i in (0, 1)))
    xs = [x for s in sheets for x in (s["window"][0], s["window"][0] + s["window"][2])]
    ys = [y for s in sheets for y in (s["window"][1], s["window"][1] + s["window"][3])]
    return {
        "sheets": len(sheets),
        "placed": len(placed),
        "crosses": sum(len(s["crosses"]) for s in sheets),
        "furthest_mm": furthest,
        "covers": [min(xs), min(ys), max(xs), max(ys)],
        "paper": sheets[0]["paper"][2:],
        "bars": sorted({round(length, 6) for s in sheets for length in s["bars"].values()}),
        "bars_of_each": sorted({len(s["bars"]) for s in sheets}),
    }


def depth(file):
    data = open(file, "rb").read()
    assert data[:8] == b"\x89PNG\r\n\x1a\n"
    at, chunks = 8, {}
    while at < len(data):
        size, kind = struct.unpack(">I4s", data[at : at + 8])
        content = data[at + 8 : at + 8 + size]
        assert struct.unpack(">I", data[at + 8 + size : at + 12 + size])[0] == zlib.crc32(kind + content)
        chunks[kind.decode()] = content
        at += 12 + size
    width, height, bits, colour, _, _, interlace = struct.unpack(">IIBBBBB", chunks["IHDR"])
    assert (colour, interlace) == (0, 0)
    raw = zlib.decompress(chunks["IDAT"])
    row_bytes = 2 * width + 1
    assert len(raw) == row_bytes * height
    above, values = bytes(2 * width), Counter()
    for row in range(height):
        line = raw[row * row_bytes : (row + 1) * row_bytes]
        assert line[0] == 2
        above = bytes((a + b) & 255 for a, b in zip(line[1:], above)) if any(line[1:]) else above
        values.update(struct.unpack(f">{width}H", above))
    return {
        "width": width,
        "height": height,
        "bits": bits,
        "pixels_per_metre": struct.unpack(">IIB", chunks["pHYs"])[0],
        "comment": chunks["tEXt"].split(b"\0")[1].decode("ascii"),
        "values": dict(values),
    }


print(json.dumps(tiles(sys.argv[2]) if sys.argv[1] == "tiles" else depth(sys.argv[2])))
