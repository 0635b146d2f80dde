// SPDX-License-Identifier: MIT
#include "cli/read/piece_file.hpp"

#include "cli/words/messages.hpp"
#include "materials/error.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <string>
#include <variant>

using namespace hollowtop;
using namespace hollowtop::cli;
using Catch::Matchers::WithinRel;

namespace {

constexpr double rounding = 1e-14; // one multiplication by an exact constant

/// A sound piece with every key of the interface but those that exclude one another.
const std::string sound = R"({
  "hollowtop": 1, "title": "sound", "units": "mm",
  "top": {"length": 1900, "width": 850, "thickness": 42, "wood": "black_cherry", "grain": 0, "rings": "flatsawn",
          "outline": {"shape": "rectangle", "corner_radius": 0}, "moisture": 8,
          "measured": {"E_along": 9800, "density": 590}, "boards": [140, 150, 140, 140, 140, 140]},
  "recesses": [{"name": "well", "x": [120, 1780], "y": [110, 740], "depth": 24, "corner_radius": 10, "root_radius": 3,
                "lands": [{"name": "arm", "x": [900, 1000], "y": [400, 500], "corner_radius": 5}]}],
  "stiffeners": [{"name": "front", "section": "angle 30x30x3", "metal": "S235", "from": [150, 200], "to": [1750, 200],
                  "screws": {"diameter": 4.5, "length": 15, "spacing": 180, "holes": "slotted"}}],
  "supports": [
    {"kind": "pad", "at": [90, 90], "size": [70, 70], "hold_down": true, "stiffness": 50},
    {"kind": "pad", "at": [1810, 90], "size": [70, 70]},
    {"kind": "bearer", "from": [300, 760], "to": [1600, 760], "width": 40},
    {"kind": "rail", "from": [90, 90], "to": [1810, 90], "section": "bar 22x90", "wood": "black cherry"},
    {"kind": "held", "from": [10, 10], "to": [10, 800], "holds": ["down", "across"], "level": "bottom"},
    {"kind": "built_in", "name": "wall", "from": [1890, 10], "to": [1890, 800]}],
  "loads": [
    {"name": "books", "kind": "area", "pressure": "0.5 kPa", "duration": "long", "over": {"x": [0, 900], "y": [0, 850]}},
    {"name": "seat", "kind": "patch", "force": "100 kg", "at": [950, 60], "size": [200, 100], "duration": "short"},
    {"kind": "patch", "force": 300, "for": "strength", "at": "worst", "over": {"x": [0, 900], "y": [0, 850]}, "size": [50, 50]},
    {"name": "leaning", "kind": "line", "force": "300 N", "from": [600, 0], "to": [1300, 0], "for": "stability"}],
  "use": "dining",
  "limits": {"sag": "span/320", "sag_years": "7 mm", "dish": "0.5 mm", "flatness": "0.8 mm", "flatness_years": "1.2 mm", "frequency": "8 Hz"},
  "self_weight": false,
  "allowables": {"basis": "class", "class": "D30", "service_class": 1},
  "climate": {"low": {"temperature": "18 C", "humidity": 30}, "high": {"temperature": "64 F", "humidity": "60 %"}, "years": 10},
  "probe": [[950, 425], [10, 20]]
})";

std::string with(const std::string& old_text, const std::string& new_text) {
    std::string text = sound;
    const auto at = text.find(old_text);
    REQUIRE(at != std::string::npos);
    REQUIRE(text.find(old_text, at + 1) == std::string::npos);
    return text.replace(at, old_text.size(), new_text);
}

std::string message(const std::string& text) {
    try {
        (void)piece_of_json(text);
    } catch (Error& error) {
        CHECK(error.kind() == ErrorKind::input);
        error.file = "piece.json";
        return message_of(error);
    }
    return "no error";
}

} // namespace

TEST_CASE("every key of the piece file is read", "[cli]") {
    const Piece piece = piece_of_json(sound);
    CHECK(piece.title == "sound");
    CHECK(piece.top.length == 1900);
    CHECK(piece.top.thickness == 42);
    CHECK(piece.top.wood == "cherry_black");
    CHECK(piece.top.moisture_percent == 8);
    CHECK(piece.top.measured.E_along == 9800);
    CHECK(piece.top.measured.density_kg_m3 == 590);
    CHECK(piece.top.boards == 6);
    REQUIRE(piece.recesses.size() == 1);
    CHECK(std::get<RectangleShape>(piece.recesses[0].shape).box == Rectangle{120, 1780, 110, 740});
    CHECK(std::get<RectangleShape>(piece.recesses[0].shape).corner_radius == 10);
    CHECK(piece.recesses[0].depth == 24);
    CHECK(piece.recesses[0].root_radius == 3);
    CHECK(std::get<RectangleShape>(piece.recesses[0].lands.at(0).shape).corner_radius == 5);
    CHECK(piece.stiffeners.at(0).section == "angle 30x30x3");
    CHECK(piece.stiffeners[0].metal == "S235");
    CHECK(piece.stiffeners[0].screws.spacing == 180);
    CHECK(piece.stiffeners[0].screws.holes == Holes::slotted);
    REQUIRE(piece.supports.size() == 6);
    CHECK(std::get<Pad>(piece.supports[0].kind).hold_down);
    CHECK(std::get<Pad>(piece.supports[0].kind).stiffness == 50);
    CHECK(std::get<Bearer>(piece.supports[2].kind).width == 40);
    CHECK(std::get<Rail>(piece.supports[3].kind).wood == "cherry_black");
    const Held& held = std::get<Held>(piece.supports[4].kind);
    CHECK((held.down && held.across && !held.tilt && !held.twist && !held.along));
    CHECK(held.level == Level::bottom);
    CHECK(std::get<BuiltIn>(piece.supports[5].kind).to == Point{1890, 800});
    REQUIRE(piece.loads.size() == 4);
    CHECK_THAT(std::get<AreaLoad>(piece.loads[0].kind).pressure, WithinRel(0.0005, rounding));
    CHECK(std::get<AreaLoad>(piece.loads[0].kind).over == Rectangle{0, 900, 0, 850});
    CHECK(piece.loads[0].duration == Duration::long_term);
    CHECK_THAT(std::get<PatchLoad>(piece.loads[1].kind).force, WithinRel(980.665, rounding));
    CHECK(std::get<PatchLoad>(piece.loads[2].kind).travels);
    CHECK(std::get<PatchLoad>(piece.loads[2].kind).over.has_value());
    CHECK(std::get<LineLoad>(piece.loads[3].kind).to == Point{1300, 0});
    CHECK(piece.loads[3].duration == Duration::short_term);
    CHECK(piece.loads[0].judged_for == LoadFor::everyday);
    CHECK(piece.loads[2].judged_for == LoadFor::strength);
    CHECK(piece.loads[3].judged_for == LoadFor::stability);
    CHECK(piece.use == "dining");
    CHECK(piece.limits.sag.is_share_of_span);
    CHECK(piece.limits.sag.divisor == 320);
    CHECK_FALSE(piece.limits.sag_years.is_share_of_span);
    CHECK(piece.limits.sag_years.length == 7);
    CHECK(piece.limits.dish.length == 0.5);
    CHECK(piece.limits.dish.is_stated);
    CHECK(piece.limits.flatness == 0.8);
    CHECK(piece.limits.flatness_years == 1.2);
    CHECK(piece.limits.frequency_Hz == 8);
    CHECK_FALSE(piece.self_weight);
    CHECK(piece.allowables.basis == AllowablesBasis::strength_class);
    CHECK(piece.allowables.strength_class == "D30");
    CHECK(piece.climate->low->temperature_C == 18);
    CHECK_THAT(piece.climate->high->temperature_C, WithinRel(160.0 / 9, rounding)); // (64 - 32) / 1.8
    CHECK(piece.climate->high->humidity_percent == 60);
    REQUIRE(piece.probes.size() == 2);
    CHECK(piece.probes[1] == Point{10, 20});
}

TEST_CASE("supports and loads without a name are called by their kind and number", "[cli]") {
    const Piece piece = piece_of_json(sound);
    CHECK(piece.supports[0].name == "pad 1");
    CHECK(piece.supports[1].name == "pad 2");
    CHECK(piece.supports[2].name == "bearer 1");
    CHECK(piece.supports[3].name == "rail 1");
    CHECK(piece.supports[4].name == "held line 1");
    CHECK(piece.supports[5].name == "wall");
    CHECK(piece.loads[2].name == "load 3");
}

TEST_CASE("what is not said gets the defaults of the interface", "[cli]") {
    const Piece piece = piece_of_json(
        R"({"hollowtop": 1, "top": {"length": 900, "width": 300, "thickness": 20, "wood": "white oak"}})");
    CHECK(piece.units == Units::mm);
    CHECK(piece.limits.sag.divisor == 300);
    CHECK(piece.limits.sag_years.divisor == 250);
    CHECK_FALSE(piece.limits.dish.is_stated);
    CHECK_FALSE(piece.limits.flatness.has_value());
    CHECK_FALSE(piece.limits.frequency_Hz.has_value());
    CHECK(piece.self_weight);
    CHECK(piece.allowables.basis == AllowablesBasis::handbook);
    CHECK(std::get<RectangleShape>(piece.top.outline).box == Rectangle{0, 900, 0, 300});
}

TEST_CASE("a skin is a depth seen from the other side", "[cli]") {
    const Piece piece = piece_of_json(with(R"("depth": 24)", R"("skin": "18 mm")"));
    CHECK(piece.recesses[0].depth == 24);
}

TEST_CASE("an outline may be an ellipse or a polygon, which says length and width by itself", "[cli]") {
    const std::string head = R"({"hollowtop": 1, "top": {"thickness": 20, "wood": "white oak", )";
    const Piece oval =
        piece_of_json(head + R"("length": 900, "width": 300, "outline": {"shape": "ellipse"}}})");
    CHECK(std::get<EllipseShape>(oval.top.outline).box == Rectangle{0, 900, 0, 300});
    const Piece corners = piece_of_json(
        head +
        R"("outline": {"shape": "polygon", "points": [[0, 0], [800, 0], [700, 400], [0, 400]], "corner_radius": 20}}})");
    CHECK(std::get<PolygonShape>(corners.top.outline).points.size() == 4);
    CHECK(std::get<PolygonShape>(corners.top.outline).corner_radius == 20);
    CHECK(corners.top.length == 800);
    CHECK(corners.top.width == 400);
}

TEST_CASE("a recess may be drawn by its rim or by its corners", "[cli]") {
    const std::string box = R"("x": [120, 1780], "y": [110, 740])";
    const Piece rim = piece_of_json(with(box, R"("rim": 110)"));
    CHECK(std::get<RimShape>(rim.recesses[0].shape).rim == 110);
    CHECK(std::get<RimShape>(rim.recesses[0].shape).corner_radius == 10);
    const Piece polygon =
        piece_of_json(with(box, R"("polygon": [[120, 110], [1780, 110], [1780, 740], [120, 740]])"));
    CHECK(std::get<PolygonShape>(polygon.recesses[0].shape).points.size() == 4);
}

TEST_CASE("a bar that is let in is a recess as wide and as long as it is, and slides there without screws",
          "[cli]") {
    const std::string screws =
        R"(, "screws": {"diameter": 4.5, "length": 15, "spacing": 180, "holes": "slotted"}})";
    const std::string bar =
        R"("section": "angle 30x30x3", "metal": "S235", "from": [150, 200], "to": [1750, 200])";
    const std::string old_text = bar + ",\n                  \"screws\": {\"diameter\": 4.5, \"length\": 15, "
                                       "\"spacing\": 180, \"holes\": \"slotted\"}}";
    const std::string batten =
        R"("section": "bar 40x30", "wood": "black cherry", "from": [300, 50], "to": [1500, 50])";
    const Piece slid = piece_of_json(with(old_text, batten + R"(, "groove": 12})"));
    REQUIRE(slid.recesses.size() == 2);
    CHECK(slid.recesses[1].depth == 12);
    CHECK(std::get<RectangleShape>(slid.recesses[1].shape).box == Rectangle{300, 1500, 30, 70});
    CHECK(slid.stiffeners[0].screws.holes == Holes::dovetail);
    const Piece screwed = piece_of_json(with(old_text, batten + R"(, "groove": 12)" + screws));
    CHECK(screwed.recesses.size() == 2);
    CHECK(screwed.stiffeners[0].screws.holes == Holes::slotted);
    CHECK_THAT(message(with(old_text, bar + R"(, "groove": 12})")),
               Catch::Matchers::Contains("stiffeners[0].groove: overlaps"));
    CHECK_THAT(message(with(old_text, batten + R"(, "screws": {"holes": "dovetail"}})")),
               Catch::Matchers::Contains("slides in no groove"));
}

TEST_CASE("slots may say how long they are, and only slots", "[cli]") {
    const auto slot = [](const char* words) { return with(R"("holes": "slotted")", words); };
    const Piece piece = piece_of_json(slot(R"("holes": "slotted", "slot_length": "14 mm")"));
    CHECK(piece.stiffeners[0].screws.slot_length == 14.0);
    CHECK_FALSE(piece_of_json(sound).stiffeners[0].screws.slot_length);
    CHECK_THAT(message(slot(R"("holes": "round", "slot_length": 14)")),
               Catch::Matchers::Contains("only slots have a length"));
    CHECK_THAT(message(slot(R"("holes": "slotted", "slot_length": 4)")),
               Catch::Matchers::Contains("lets a screw of 4.5 mm go nowhere"));
}

TEST_CASE("breadboard ends want a rectangular top, room for their tongue, and no recess in them", "[cli]") {
    const auto ends = [](const char* words) {
        return with(R"("use": "dining")", std::string(R"("use": "dining", "ends": )") + words);
    };
    const Piece piece = piece_of_json(ends(R"({"width": 90, "tongue": "30 mm", "peg": 8, "pegs": 5})"));
    REQUIRE(piece.ends);
    CHECK(piece.ends->wood == piece.top.wood);
    CHECK(piece.ends->pegs == 5);
    CHECK(piece.ends->peg == 8);
    CHECK_THAT(message(ends(R"({"width": 90, "tongue": 95})")),
               Catch::Matchers::Contains("a tongue of 95 mm in an end of 90 mm"));
    CHECK_THAT(message(ends(R"({"width": 130, "tongue": 30})")),
               Catch::Matchers::Contains("reaches into a breadboard end"));
}

TEST_CASE("rings are named by the cut or by an angle", "[cli]") {
    const auto [text, angle] = GENERATE(table<std::string, double>({{R"("flatsawn")", 0},
                                                                    {R"("riftsawn")", 45},
                                                                    {R"("quartersawn")", 90},
                                                                    {"30", 30},
                                                                    {R"("plainsawn")", 0},
                                                                    {R"("plain-sawn")", 0},
                                                                    {R"("Flat sawn")", 0},
                                                                    {R"("flat cut")", 0},
                                                                    {R"("slash-sawn")", 0},
                                                                    {R"("rift")", 45},
                                                                    {R"("Rift Sawn")", 45},
                                                                    {R"("quarter sawn")", 90},
                                                                    {R"("quarter-sawn")", 90},
                                                                    {R"("quartered")", 90}}));
    CHECK(piece_of_json(with(R"("rings": "flatsawn")", R"("rings": )" + text)).top.ring_angle_deg == angle);
}

TEST_CASE("inches turn numbers into inches, pounds and pounds per square foot", "[cli]") {
    const Piece piece = piece_of_json(R"({"hollowtop": 1, "units": "in",
        "top": {"length": "6'", "width": 33.5, "thickness": "1-5/8 in", "wood": "white oak"},
        "supports": [{"kind": "bearer", "from": [4, 4], "to": [4, 30], "width": 1}, {"kind": "bearer", "from": [68, 4], "to": [68, 30], "width": 1}],
        "loads": [{"kind": "area", "pressure": 30}, {"kind": "patch", "force": 180, "at": [36, 16], "size": [8, "20 cm"]}]})");
    CHECK_THAT(piece.top.length, WithinRel(1828.8, rounding));
    CHECK_THAT(piece.top.width, WithinRel(850.9, rounding));
    CHECK_THAT(piece.top.thickness, WithinRel(41.275, rounding));
    CHECK_THAT(std::get<AreaLoad>(piece.loads[0].kind).pressure,
               WithinRel(30 * 47.88025898033584e-6, 1e-12)); // psf in Pa
    CHECK_THAT(std::get<PatchLoad>(piece.loads[1].kind).force, WithinRel(180 * 4.4482216152605, rounding));
    CHECK_THAT(std::get<PatchLoad>(piece.loads[1].kind).size_x, WithinRel(203.2, rounding));
    CHECK_THAT(std::get<PatchLoad>(piece.loads[1].kind).size_y, WithinRel(200.0, rounding));
}

TEST_CASE("each fault of a piece file is told in one line with its place and its remedy", "[cli]") {
    struct Slip {
        std::string old_text, new_text, message;
    };
    // clang-format off
    const auto slip = GENERATE(values<Slip>({
        {R"("hollowtop": 1)", R"("hollowtop": 2)", "hollowtop: this version of the piece file is not known; write \"hollowtop\": 1"},
        {R"("hollowtop": 1, )", "", "hollowtop: this key is missing; start the file with \"hollowtop\": 1"},
        {R"("title": "sound")", R"("title": 5)", "title: 5 is not a text; write it in double quotes"},
        {R"("title": "sound")", R"("title": "a\u001b[31m")", "title: this text holds a line break or another control character; keep it to one line"},
        {R"("title": "sound")", R"("titel": "sound")", "titel: no such key; did you mean \"title\"?"},
        {R"("title": "sound")", R"("zzzzzzz": "sound")", "zzzzzzz: no such key; the keys here are \"hollowtop\", \"title\", \"units\", \"top\", \"recesses\", \"stiffeners\", \"ends\", \"supports\", \"loads\", \"use\", \"limits\", \"self_weight\", \"allowables\", \"climate\", \"probe\", \"report\" and \"$schema\""},
        {R"("units": "mm")", R"("units": "cm")", "units: \"cm\" is not known here; write \"mm\" or \"in\""},
        {R"("thickness": 42)", R"("thickness": "42")", "top.thickness: \"42\" has no unit; write the number without quotes, or with its unit: \"42 mm\", \"4.2 cm\", \"1-5/8 in\" or \"3'6\\\"\""},
        {R"("thickness": 42)", R"("thickness": -42)", "top.thickness: -42 is too small; give more than 0"},
        {R"("thickness": 42)", R"("thickness": 1e99)", "top.thickness: 1e+99 is too large; give at most 100 m"},
        {R"("thickness": 42, )", "", "top.thickness: this key is missing; write a number or a text like \"42 mm\" or \"1-5/8 in\""},
        {R"("thickness": 42)", R"("thickness": [42])", "top.thickness: a list is not a length; write a number or a text like \"42 mm\" or \"1-5/8 in\""},
        {R"("thickness": 42)", R"("thickness": null)", "top.thickness: null is not a length; write a number or a text like \"42 mm\" or \"1-5/8 in\""},
        {R"("wood": "black_cherry", "grain")", R"("wood": "oak", "grain")", "top.wood: "},
        {R"("wood": "black_cherry", "grain")", R"("wood": "blak cherry", "grain")", "top.wood: "},
        {R"("wood": "black_cherry", "grain")", R"("grain")", "top: a key is missing; give \"wood\", \"sheet\" or \"elastic\""},
        {R"("rings": "flatsawn")", R"("rings": "bent")", "top.rings: \"bent\" is no way to saw a board; write \"flatsawn\", \"riftsawn\" or \"quartersawn\", or an angle from 0 (flat) to 90 (quarter)"},
        {R"("rings": "flatsawn")", R"("rings": 95)", "top.rings: this is no way to saw a board; write \"flatsawn\", \"riftsawn\" or \"quartersawn\", or an angle from 0 (flat) to 90 (quarter)"},
        {R"("shape": "rectangle")", R"("shape": "round")", "top.outline.shape: \"round\" is not known here; did you mean \"ellipse\"? Write \"rectangle\", \"ellipse\" or \"polygon\""},
        {R"("moisture": 8)", R"("moisture": 80)", "top.moisture: 80 is too large; give more than 0 and at most 30"},
        {R"("boards": [140, 150, 140, 140, 140, 140])", R"("boards": 2.5)", "top.boards: this is no number of boards; write how many boards, such as 6, or their widths, such as [140, 150, 140]"},
        {R"("depth": 24)", R"("dept": 24)", "recesses[0]: a key is missing; give \"depth\" or \"skin\""},
        {R"("depth": 24)", R"("depth": 24, "skin": 18)", "recesses[0]: \"depth\" and \"skin\" are both given; keep one of them"},
        {R"("depth": 24)", R"("skin": 42)", "recesses[0].skin: this is no less than the thickness of the top; give what is to be left above the recess"},
        {R"("x": [120, 1780], "y": [110, 740], )", "", "recesses[0]: nothing says where it lies; give \"x\" and \"y\", or \"polygon\", or \"rim\""},
        {R"("x": [120, 1780], )", R"("rim": 100, )", "recesses[0]: \"x\" and \"rim\" are both given; keep \"x\" and \"y\", or \"polygon\", or \"rim\""},
        {R"("x": [120, 1780])", R"("x": [1780, 120])", "recesses[0].x: the second value is not greater than the first; write it as [from, to]"},
        {R"("x": [120, 1780])", R"("x": [120])", "recesses[0].x: this list has 1 value; write it as [from, to]"},
        {R"("x": [120, 1780])", R"("x": 120)", "recesses[0].x: 120 stands here; write it as [from, to]"},
        {R"("metal": "S235", )", "", "stiffeners[0]: a key is missing; give \"metal\", \"wood\" or \"elastic\""},
        {R"("section": "angle 30x30x3", )", "", "stiffeners[0].section: this key is missing; write a text in double quotes"},
        {R"("holes": "slotted")", R"("holes": "slots")", "stiffeners[0].screws.holes: \"slots\" is not known here; did you mean \"slotted\"? Write \"round\", \"oversize\", \"slotted\", \"bonded\" or \"dovetail\""},
        {R"("spacing": 180)", R"("spacing": 180, "at": [80])", "stiffeners[0].screws: \"spacing\" and \"at\" are both given; keep one of them"},
        {R"({"kind": "pad", "at": [1810, 90])", R"({"kind": "leg", "at": [1810, 90])", "supports[1].kind: \"leg\" is not known here; did you mean \"pad\"? Write \"pad\", \"bearer\", \"rail\", \"held\" or \"built_in\""},
        {R"({"kind": "pad", "at": [1810, 90])", R"({"at": [1810, 90])", "supports[1].kind: this key is missing; write \"pad\", \"bearer\", \"rail\", \"held\" or \"built_in\""},
        {R"({"kind": "pad", "at": [1810, 90], "size": [70, 70]})", "7", "supports[1]: 7 stands here, not an object; write { ... } with keys inside"},
        {R"("hold_down": true)", R"("hold_down": "-3 N")", "supports[0].hold_down: \"-3 N\" is too small; give more than 0"},
        {R"("hold_down": true)", R"("hold_down": {"screws": 0, "diameter": 5, "length": 20})", "supports[0].hold_down.screws: 0 is too small; give at least 1"},
        {R"("hold_down": true)", R"("hold_down": "yes")", "supports[0].hold_down: \"yes\" stands here; write true or false, without quotes"},
        {R"(["down", "across"])", R"(["up"])", "supports[4].holds[0]: \"up\" is not known here; write \"down\", \"tilt\", \"twist\", \"along\" or \"across\""},
        {R"("holds": ["down", "across"], )", "", "supports[4].holds: this key is missing; write a list of \"down\", \"tilt\", \"twist\", \"along\", \"across\""},
        {R"("duration": "short")", R"("duration": "short", "for": "show")", "loads[1].for: \"show\" is not known here; write \"everyday\", \"strength\" or \"stability\""},
        {R"("duration": "long")", R"("duration": "forever")", "loads[0].duration: \"forever\" is not known here; write \"permanent\", \"long\", \"medium\", \"short\", \"hour\", \"minutes\" or \"instantaneous\""},
        {R"("pressure": "0.5 kPa")", R"("pressure": "0.5 kN")", "loads[0].pressure: \"0.5 kN\": \"kN\" is no unit of pressure here; use one of kPa, Pa, MPa, kN/m2, N/m2, N/mm2, kg/m2, kgf/m2, psf, lb/ft2, psi"},
        {R"("at": [950, 60])", R"("at": "middle")", "loads[1].at: this is no place; write a point as [x, y], or \"worst\""},
        {R"("at": [950, 60], )", "", "loads[1].at: this key is missing; write a point as [x, y], or \"worst\""},
        {R"("force": "300 N", "from")", R"("force": "300 N", "at": [1, 2], "from")", "loads[3].at: a line lies between \"from\" and \"to\"; leave it out, or write \"worst\""},
        {R"("sag": "span/320")", R"("sag": "span:320")", "limits.sag: \"span:320\" is not a share of the span; write it like \"span/300\""},
        {R"("dish": "0.5 mm")", R"("dish": 0)", "limits.dish: 0 is too small; give more than 0"},
        {R"("self_weight": false)", R"("self_weight": 0)", "self_weight: 0 stands here; write true or false, without quotes"},
        {R"("basis": "class", "class": "D30")", R"("basis": "class")", "allowables.class: this key is missing; write the strength class, such as \"D30\""},
        {R"("service_class": 1)", R"("service_class": 4)", "allowables.service_class: 4 is too large; give at least 1 and at most 3"},
        {R"("service_class": 1)", R"("service_class": 1.5)", "allowables.service_class: 1.5 is not a whole number; write it without a fraction"},
        {R"("basis": "class")", R"("basis": "code")", "allowables.basis: \"code\" is not known here; write \"handbook\" or \"class\""},
        {R"("temperature": "18 C")", R"("temperature": "18")", "climate.low.temperature: \"18\" is not a temperature; write it like \"18 C\" or \"64 F\""},
        {R"([[950, 425], [10, 20]])", R"([[950, 425], 10])", "probe[1]: 10 stands here; write a point as [x, y]"},
        {R"("probe": [[950, 425], [10, 20]])", R"("probe": {})", "probe: an object stands here, not a list; write [ ... ] with the values inside"},
    }));
    // clang-format on
    CAPTURE(slip.new_text);
    std::string text = sound;
    const auto at = text.find(slip.old_text);
    REQUIRE(at != std::string::npos);
    text.replace(at, slip.old_text.size(), slip.new_text);
    const std::string told = message(text);
    const std::string expected = "piece.json: " + slip.message;
    const bool words_of_another_room =
        slip.message.ends_with(": "); // its own tests hold the rest of the sentence
    if (slip.new_text.find("\"dept\"") != std::string::npos)
        CHECK(told ==
              "piece.json: recesses[0].dept: no such key; did you mean \"depth\"?\n" + expected + '\n');
    else if (words_of_another_room)
        CHECK(told.substr(0, expected.size()) == expected);
    else
        CHECK(told == expected + '\n');
}

TEST_CASE("independent faults are told in one run, those of sense with those of reading", "[cli]") {
    std::string text = with(R"("metal": "S235")", R"("metl": "S235")");
    text.replace(text.find(R"("pressure": "0.5 kPa")"), 21, R"("pressure": "0.5 kP")");
    text.replace(text.find(R"("depth": 24)"), 11, R"("depth": 45)");
    CHECK(message(text) ==
          "piece.json: stiffeners[0].metl: no such key; did you mean \"metal\"?\n"
          "piece.json: stiffeners[0]: a key is missing; give \"metal\", \"wood\" or \"elastic\"\n"
          "piece.json: loads[0].pressure: \"0.5 kP\": \"kP\" is no unit of pressure here; use one of kPa, "
          "Pa, MPa, kN/m2, "
          "N/m2, N/mm2, kg/m2, kgf/m2, psf, lb/ft2, psi\n"
          "piece.json: recesses[0].depth: 45 mm is deeper than the top (42 mm); give less than 42 mm, or "
          "\"skin\" instead\n");
}

TEST_CASE("of very many faults a dozen are shown and the rest are counted", "[cli]") {
    std::string text =
        R"({"hollowtop": 1, "top": {"length": 900, "width": 300, "thickness": 20, "wood": "white oak"}, "probe": [)";
    for (int i = 0; i < 20; ++i) text += i == 0 ? "1" : ",1";
    const std::string told = message(text + "]}");
    CHECK(std::count(told.begin(), told.end(), '\n') == 13);
    CHECK(told.ends_with("piece.json: and 8 more\n"));
}

TEST_CASE("a piece that is no object is refused in words", "[cli]") {
    CHECK(message("[]") == "piece.json: a list stands here, not an object; write { ... } with keys inside\n");
    CHECK(message("3") == "piece.json: 3 stands here, not an object; write { ... } with keys inside\n");
}

TEST_CASE("what holds a top down is a yes, a force or screws", "[cli]") {
    const auto with = [](const std::string& hold_down) {
        const std::string text =
            R"({"hollowtop": 1, "top": {"length": 800, "width": 400, "thickness": 25, "wood": "white oak"}, "supports": [
            {"kind": "bearer", "from": [50, 0], "to": [50, 400], "width": 40, "hold_down": )" +
            hold_down + R"(}, {"kind": "bearer", "from": [750, 0], "to": [750, 400], "width": 40}],
            "loads": [{"name": "lean", "kind": "patch", "force": "100 N", "at": [400, 200], "size": [80, 80], "duration": "short"}]})";
        return std::get<Bearer>(piece_of_json(text).supports[0].kind);
    };
    CHECK_FALSE(with("false").hold_down);
    CHECK(with("true").hold_down);
    CHECK_FALSE(with("true").held_by.strength_N);
    CHECK(with(R"("900 N")").hold_down);
    CHECK_THAT(*with(R"("900 N")").held_by.strength_N, WithinRel(900, rounding));
    const HoldDown screwed = with(R"({"screws": 2, "diameter": 5, "length": 20})").held_by;
    CHECK(with(R"({"screws": 2, "diameter": 5, "length": 20})").hold_down);
    CHECK((screwed.screws == 2 && screwed.diameter == 5 && screwed.length == 20));
}

TEST_CASE("boards are a number, widths, or objects with what was measured on each", "[cli]") {
    const Piece piece = piece_of_json(with(
        R"("boards": [140, 150, 140, 140, 140, 140])",
        R"("boards": [{"width": "14 cm", "measured": {"E_along": 9100, "uncertainty": {"E_along": "4 %"}}}, 150, {"width": 560}])"));
    REQUIRE(piece.top.each_board.size() == 3);
    CHECK(piece.top.boards == 3);
    CHECK_THAT(piece.top.each_board[0].width, WithinRel(140.0, rounding));
    CHECK(piece.top.each_board[0].measured.E_along == 9100);
    CHECK_THAT(piece.top.each_board[0].measured.u_E_along_percent.value(), WithinRel(4.0, rounding));
    CHECK(piece.top.each_board[1] == Board{.width = 150});
    CHECK(piece.top.each_board[2].measured == Measured{});
}

TEST_CASE("a measured value may say how well it is known", "[cli]") {
    const Piece piece = piece_of_json(with(
        R"("measured": {"E_along": 9800, "density": 590})",
        R"("measured": {"E_along": 9800, "density": 590, "uncertainty": {"E_along": 3.1, "density": 1.5}})"));
    CHECK(piece.top.measured.u_E_along_percent == 3.1);
    CHECK(piece.top.measured.u_density_percent == 1.5);
}

TEST_CASE("boards and uncertainties that make no sense are named with their place", "[cli]") {
    const auto says = [](const std::string& old_text, const std::string& new_text, const std::string& words) {
        CAPTURE(new_text);
        const std::string told = message(with(old_text, new_text));
        CAPTURE(told);
        CHECK(told.find(words) != std::string::npos);
    };
    const std::string boards = R"("boards": [140, 150, 140, 140, 140, 140])";
    says(boards, R"("boards": [{"measured": {"E_along": 9000}}])", "top.boards[0].width");
    says(boards, R"("boards": [{"width": 140, "modulus": 9000}])", "top.boards[0]");
    const std::string measured = R"("measured": {"E_along": 9800, "density": 590})";
    says(measured, R"("measured": {"E_along": 9800, "uncertainty": {"E_along": 300}})",
         "top.measured.uncertainty.E_along");
}

TEST_CASE("a title of 200 characters is read in any script, one more is too long", "[cli]") {
    const auto piece_called = [](const std::string& title) {
        return R"({"hollowtop": 1, "title": ")" + title +
               R"(", "top": {"length": 900, "width": 400, "thickness": 25, "wood": "white oak"}})";
    };
    for (const std::string character : {"x", "ö", "ش", "木"}) {
        std::string title;
        for (int k = 0; k < 200; ++k) title += character;
        CAPTURE(character);
        CHECK(piece_of_json(piece_called(title)).title == title);
        CHECK_THROWS_AS(piece_of_json(piece_called(title + character)), hollowtop::Error);
    }
}
