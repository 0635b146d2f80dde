# SPDX-License-Identifier: MIT
# read_report.py PAGE RESULT.json [MOVEMENT.json | --part]: holds every number of a report against the JSON of the same piece, the words it
# shows against the number, and the boxes of the labels in its pictures against one another. Says what is wrong; status 1.
# Another hand than ours reads the page: Python's html.parser and json.
import json
import math
import re
import sys
from html.parser import HTMLParser

VOID = {"meta", "link", "br", "hr", "img", "line", "rect", "circle", "path", "polygon", "polyline"}
UNITS = {"kg/m³": 1, "lb/ft³": 0.062427960576145, "ksi": 0.1450377377302, "mm": 1, "in": 1 / 25.4, "N": 1, "lbf": 1 / 4.4482216152605, "kg": 1, "lb": 1 / 0.45359237, "MPa": 1, "psi": 145.0377377302, "Hz": 1}
faults = []


class Page(HTMLParser):
    def __init__(self):
        super().__init__()
        self.open, self.numbers, self.pictures, self.text, self.tags = [], [], {}, "", []

    def handle_starttag(self, tag, attributes):
        given = dict(attributes)
        self.tags.append((tag, given))
        if tag == "svg":
            self.picture = given["id"]
            self.pictures[self.picture] = []
        if tag not in VOID:
            self.open.append([tag, given, ""])

    def handle_startendtag(self, tag, attributes):
        self.tags.append((tag, dict(attributes)))

    def handle_data(self, data):
        self.text += data
        for element in self.open:
            element[2] += data

    def handle_endtag(self, tag):
        if not self.open or self.open[-1][0] != tag:
            faults.append(f"</{tag}> closes {self.open[-1][0] if self.open else 'nothing'}")
            return
        _, given, text = self.open.pop()
        if "data-json" in given or "data-movement" in given:
            self.numbers.append((given.get("value", given.get("data-value")), given.get("data-json"), given.get("data-movement"), text))
        if tag == "text":
            self.pictures[self.picture].append((given, text))


def at(value, pointer):
    for part in pointer.split("/")[1:]:
        value = value[int(part)] if isinstance(value, list) else value[part]
    return value


def fraction(text):
    found = re.fullmatch(r"(-?)(?:(\d+)-)?(\d+)/(\d+)", text)
    if found:
        size = int(found[2] or 0) + int(found[3]) / int(found[4])
        return -size if found[1] else size
    return None


def plain(text):
    """With the signs of a keyboard: a true minus, times and apostrophe are typography."""
    return text.replace("\u2212", "-").replace("\u00d7", "x").replace("\u2019", "'").replace("\u201c", "\"").replace("\u201d", "\"")


def shown_is(value, text, pointer):
    """Does the text say the value, to its own last digit? Shares of a limit are rounded up, margins down."""
    under = re.fullmatch(r"under ([\d.]+) (mm|in)", text)
    if under:
        return 0 < abs(value) * UNITS[under[2]] < float(under[1])
    if text == "over 1000 %":
        return value >= 10
    found = re.match(r"-?\d+(?:\.\d+)?(?:e-?\d+)?(?![-/\d])", text)
    first = text.split(" ")[0]
    step = 1 / 32 + 1e-9
    if fraction(first) is not None:
        return abs(abs(value) / 25.4 - abs(fraction(first))) <= 2 * step
    if not found:
        return False
    shown, digits = float(found[0]), len(found[0].partition(".")[2])
    half = 0.5 * 10**-digits * (1 + 1e-9)
    if "e" in found[0]:
        return math.isclose(shown, value, rel_tol=0.06)
    unit = text[found.end() :].strip().split(" ")[0]
    if unit == "%":
        if pointer.endswith(("/utilisation", "/strength_used", "/worst")):
            return shown == max(math.ceil(100 * value - 1e-9), 101 if value > 1 else 0)
        if pointer.endswith("error_percent"):
            return 0 <= shown - value <= 0.1 + 1e-9 or abs(shown - value) <= half
        share = value if pointer.endswith("percent") or pointer.startswith("/data/") else 100 * value
        return abs(shown - share) <= 2 * half
    if pointer.endswith("slope_mm_per_100_N") and unit == "in":
        value *= 4.4482216152605  # shown per 100 lbf
    if unit in UNITS:
        inwards = pointer.endswith(("gap_each_side_mm", "play_each_way_mm", "slot_length_mm", "limit_at")) or (pointer.startswith("/remedies/") and pointer.endswith("/to_mm"))  # rounded up, or down, to what is marked out
        if shown < 0 < value:
            return False
        gap = abs(shown) - abs(value) * UNITS[unit]  # "hollows by 0.3 mm" drops the sign
        return abs(gap) <= (2 * half + (1 / 16 if unit == "in" else 0) if inwards else half) or (unit == "in" and digits == 0 and abs(gap) <= step)
    return abs(shown - abs(value)) <= 2 * half or abs(shown - abs(value) / 25.4) <= step


OTHER = {"mm": ("in", 1 / 25.4), "MPa": ("psi", UNITS["psi"]), "kPa": ("psf", 20.885434233150), "N": ("lbf", UNITS["lbf"]), "kg": ("lb", UNITS["lb"]), "cm3": ("in3", 2.54**-3)}
NUMBER = r"-?\d+(?:\.\d+)?"
AMOUNTS = re.compile(rf"(?<![\w./^-])(?:(x )?({NUMBER}(?:(?: to | by | x | and | or |, y ){NUMBER})*) mm|({NUMBER}(?: to {NUMBER})*) (MPa|kPa|N|kg|cm3)|({NUMBER}) C)(?![\w/^*])")


SOURCES = re.compile(r"\(Barrett's .*?Table 5-3a")  # a source keeps the units in which it is quoted


def says(text, value, unit, slack):
    """Does the text of a sentence in inches say this many of the unit? `slack`: what rounding took from the JSON's sentence."""
    if fraction(text) is not None or (unit == "in" and "." not in text):
        return abs((fraction(text) if "/" in text else float(text)) - value) <= 1 / 32 + slack + 1e-9
    digits = len(text.partition(".")[2])
    return abs(float(text) - value) <= (max(0.5 * 10**-digits, 5e-4 * value if unit == "psi" else 0, 5e-3 * value if unit == "psf" else 0) + slack) * (1 + 1e-9)


def is_told(sentence):
    """Does the sentence of the JSON stand on the page, in the units of the page?"""
    sentence = plain(sentence)
    if not in_inches:
        return sentence in page.text
    pattern, wanted, last = "", [], 0
    quoted = [source.span() for source in SOURCES.finditer(sentence)]
    for found in AMOUNTS.finditer(sentence):
        if any(start <= found.start() < end for start, end in quoted):
            continue
        pattern += re.escape(sentence[last : found.start()])
        last = found.end()
        if found[5]:
            pattern += re.escape(f"{float(found[5]) * 9 / 5 + 32:.0f} F")
            continue
        unit, factor = OTHER[found[4] or "mm"]
        numbers = re.findall(NUMBER, found[2] or found[3])
        joints = re.split(NUMBER, found[2] or found[3])
        shown = "".join(re.escape(joint) + (r"(-?[\d./]+(?:-[\d/]+)?)" if i < len(numbers) else "") for i, joint in enumerate(joints))
        pattern += re.escape(found[1] or "") + shown + " " + unit
        wanted += [(float(n) * factor, unit, 0.5 * 10 ** -len(n.partition(".")[2]) * factor) for n in numbers]
        if unit == "in":
            pattern += "(?: " + r"\(" + shown.replace("-?", "") + r"\))?"
            wanted += [(float(n) * factor, unit, 0.5 * 10 ** -len(n.partition(".")[2]) * factor) for n in numbers]
    pattern += re.escape(sentence[last:])
    return any(all(text is None or says(text, *want) for text, want in zip(found.groups(), wanted)) for found in re.finditer(pattern, page.text))


def box(given, text):
    size, x, y = float(given["font-size"]), float(given["x"]), float(given["y"])
    width = size * sum(0.35 if c in " .,il'" else 0.85 if c.isupper() or c in "mw%" else 0.57 for c in text)
    left = {"start": x, "middle": x - width / 2, "end": x - width}[given.get("text-anchor", "start")]
    if "transform" in given:
        return (x - 0.75 * size, y - width / 2, x + 0.2 * size, y + width / 2)
    return (left, y - 0.75 * size, left + width, y + 0.2 * size)


page = Page()
source = open(sys.argv[1], encoding="utf-8").read()
page.feed(source)
page.close()
page.text = plain(page.text)
in_inches = "at x, y (in)" in page.text
result = json.load(open(sys.argv[2], encoding="utf-8"))
movement = json.load(open(sys.argv[3], encoding="utf-8")) if len(sys.argv) > 3 and sys.argv[3] != "--part" else None
if page.open:
    faults.append(f"never closed: {[element[0] for element in page.open]}")

seen = set()
for value, in_result, in_movement, text in page.numbers:
    pointer = in_result or in_movement
    if in_movement and movement is None:
        continue
    expected = at(result if in_result else movement, pointer)
    seen.add(pointer if in_result else "movement" + pointer)
    if float(value) != expected:
        faults.append(f"{pointer}: the page has {value}, the JSON {expected}")
    if not shown_is(expected, plain(text.strip()), pointer):
        faults.append(f"{pointer}: {expected} is shown as {text!r}")
wanted = ["/mass/solid_kg", "/mass/top_kg", "/mass/total_kg", "/mesh/sag_error_percent", "/mesh/stress_error_percent"]
wanted += [f"/checks/{i}/{key}" for i in range(len(result["checks"])) for key in ("demand", "capacity", "utilisation", "margin")]
wanted += [f"/situations/{i}/{key}" for i in range(len(result["situations"])) for key in ("sag_mm", "sag_limit_mm", "applied_N", "sag_at_mm/0")]
wanted += [f"/screws/{i}/{key}" for i in range(len(result["screws"])) for key in ("shear_N", "withdrawal_N")]
wanted += [f"/stiffeners/{i}/mass_kg" for i in range(len(result["stiffeners"]))]
trials = result["trials"] or {"changes": [], "sag_band": None, "proof_test": None}
wanted += [] if not result["trials"] else [f"/trials/as_drawn/{key}" for key in ("sag_mm", "governing/utilisation")]
wanted += [f"/trials/changes/{i}/result/{key}" for i, row in enumerate(trials["changes"]) if row["result"] for key in ("sag_mm", "governing/utilisation")]
wanted += [f"/trials/changes/{i}/limit_at" for i, row in enumerate(trials["changes"]) if row["limit_at"] is not None]
wanted += [f"/trials/sag_band/{key}_mm" for key in ("low", "drawn", "high")] if trials["sag_band"] else []
if trials["proof_test"]:
    wanted += [f"/trials/proof_test/gauges/{i}/slope_mm_per_100_N" for i in range(len(trials["proof_test"]["gauges"]))]
    wanted += [f"/trials/proof_test/steps/{i}/readings_mm/{k}" for i, step in enumerate(trials["proof_test"]["steps"]) for k in range(len(step["readings_mm"]))]
wanted += [f"/data/{i}/value" for i in range(len(result["data"]))]
wanted += [f"/pushes/{i}/{key}" for i, push in enumerate(result["pushes"]) for key in ("force_N", "size_mm", "dish_mm", "dish_limit_mm", "strength_used") if push[key] is not None]
wanted += [f"/by_hand/rows/{i}/{key}" for i, row in enumerate(result["by_hand"]["rows"]) for key in ("sag_mm", "computed_over_hand") if row[key] is not None]
wanted += [f"/solid_equal/{key}" for key in ("sag_mm", "thickness_mm", "mass_kg") if result["solid_equal"] and result["solid_equal"][key]]
wanted += [f"/sag_in_time/rows/{i}/sag_mm" for i in range(len(result["sag_in_time"]["rows"]))]
wanted += [f"/travels/{t}/fields/{k}/worst" for t, travel in enumerate(result["travels"]) for k, field in enumerate(travel["fields"]) if field["check"] != "lift-off" and field["worst"] >= 0.1]
for i, remedy in enumerate(result["remedies"] or []):
    if remedy["utilisation"] > 0:
        wanted += [f"/remedies/{i}/{key}" for key in remedy if key in ("utilisation", "mass_kg", "from", "to", "from_mm", "to_mm", "from_share", "to_share")]
for row in result["by_hand"]["rows"]:
    if row["why_not"] and "--part" not in sys.argv and not is_told(row["why_not"]):
        faults.append(f"not on the page as text: {row['why_not']!r}")
for push in result["pushes"]:
    if "--part" not in sys.argv and not is_told(push["source"]):
        faults.append(f"not on the page as text: {push['source']!r}")
if "--part" not in sys.argv and (result["verdict"] == "fails") != ("What would make it meet the limits" in page.text):
    faults.append("what would help is told of a piece that passes, or not of one that fails")
if movement:
    wanted += ["movement/width/shrinks_mm", "movement/width/grows_mm", "movement/width/gap_each_side_mm"]
is_part = "--part" in sys.argv  # one paper alone: it need not hold all
if is_part:
    wanted = []
faults += [f"{pointer}: not on the page" for pointer in wanted if pointer not in seen]

if plain(result["title"]) not in page.text:
    faults.append(f"not on the page as text: {result['title']!r}")
worst = {}  # of each check the situation that uses most, which the page tells
for check in result["checks"]:
    if check["check"] not in worst or check["utilisation"] > worst[check["check"]]["utilisation"]:
        worst[check["check"]] = check
for words in [] if is_part else [*result["warnings"], *result["cautions"], *result["assumptions"], *(check["basis"] for check in worst.values())]:
    if not is_told(words):
        faults.append(f"not on the page as text: {words!r}")

for name, texts in page.pictures.items():
    boxes = [(text, box(given, text)) for given, text in texts]
    for i, (one, a) in enumerate(boxes):
        for other, b in boxes[i + 1 :]:
            if a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]:
                faults.append(f"{name}: {one!r} covers {other!r}")

ids = [given["id"] for _, given in page.tags if "id" in given]
faults += [f"id {name} twice" for name in sorted(set(ids)) if ids.count(name) > 1]
for tag, given in page.tags:
    if tag == "img" and given.get("src", "").startswith("data:image/") and given.get("alt"):
        continue  # a photograph that lies in the page
    if tag in ("script", "link", "img", "iframe", "object", "embed"):
        faults.append(f"<{tag}> on a page that needs nothing else")
    for key, value in given.items():
        if key.startswith("on") or key in ("src", "srcset", "xlink:href") or (key == "href" and not value.startswith("#")):
            faults.append(f"<{tag} {key}={value!r}> reaches out of the page")
    if tag == "svg" and ("aria-labelledby" not in given or given.get("role") != "img"):
        faults.append(f"picture {given.get('id')} has no text alternative")
for outside in ("http:", "https:", "@import"):
    if outside in source.partition("<pre")[0]:
        faults.append(f"{outside} on a page that needs nothing else")

print("\n".join(faults[:40]))
print(f"{len(page.numbers)} numbers, {len(page.pictures)} pictures")
sys.exit(1 if faults else 0)
