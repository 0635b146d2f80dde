// SPDX-License-Identifier: MIT
// Every fault of what a recess holds and of its cover, to the last letter: "place: what; remedy".
#include "solver/piece/sense.hpp"

#include <catch2/catch.hpp>

#include <functional>
#include <string>
#include <vector>

using namespace hollowtop;

namespace {

/// An invented table whose recess keeps a tray and a box, under a cover.
Piece table() {
    Piece piece;
    piece.top.length = 1900;
    piece.top.width = 850;
    piece.top.thickness = 42;
    piece.top.wood = "black_cherry";
    piece.top.outline = RectangleShape{{0, 1900, 0, 850}, 0};
    piece.top.moisture_percent = 8;
    piece.recesses = {{"well",
                       RectangleShape{{120, 1780, 110, 740}, 0},
                       24,
                       0,
                       {{"land", RectangleShape{{120, 1780, 400, 440}, 0}}}}};
    piece.recesses[0].holds = {{.name = "tray",
                                .size_x = 400,
                                .size_y = 200,
                                .height = 12,
                                .at = Point{500, 250},
                                .weight_N = 60,
                                .hangs_on = HangsOn::runners},
                               {.name = "box",
                                .size_x = 100,
                                .size_y = 200,
                                .height = 12,
                                .at = Point{800, 250},
                                .weight_N = 10,
                                .hangs_on = HangsOn::skin}};
    piece.recesses[0].cover = Cover{.sheet = "mdf_en_4_6",
                                    .wood = "",
                                    .thickness = 5,
                                    .trim = "bar 35x8",
                                    .screw_diameter = 3.5,
                                    .screw_spacing = 150};
    piece.supports = {{"pad", Pad{{90, 90}, 70, 70, true, {}}}};
    return piece;
}

std::string text_of(const std::vector<Fault>& faults) {
    std::string text;
    for (const Fault& fault : faults)
        text += fault.place + ": " + in_own_units(fault.what) +
                (fault.remedy.empty() ? "" : "; " + in_own_units(fault.remedy)) + "\n";
    return text;
}

struct Slip {
    std::function<void(Recess&)> make;
    std::string message;
};

} // namespace

TEST_CASE("faults of what a recess holds are told to the letter", "[holds]") {
    REQUIRE(text_of(faults_of(table())) == "");
    const std::vector<Slip> slips{
        {[](Recess& r) { r.holds[0].size_y = 0; },
         "recesses[0].holds[0].size[1]: 0 mm is not a size; give more than 0 mm"},
        {[](Recess& r) { r.holds[0].height = -2; },
         "recesses[0].holds[0].size[2]: -2 mm is not a size; give more than 0 mm"},
        {[](Recess& r) { r.holds[0].weight_N = -1; },
         "recesses[0].holds[0].weight: -1 N is not a weight; give 0 N or more"},
        {[](Recess& r) {
             r.holds[0].at = Point{300, 250};
         },
         "recesses[0].holds[0]: reaches 20 mm out of its recess at x 100, y 150; give a smaller size, or "
         "another place in \"at\""},
        {[](Recess& r) {
             r.holds[1].at = Point{1000, 320};
         },
         "recesses[0].holds[1]: overlaps lands[0] at x 1000, y 420; move it beside the land"},
        {[](Recess& r) {
             r.holds[1].at = Point{700, 250};
         },
         "recesses[0].holds[1]: overlaps holds[0] (\"tray\") at x 650, y 250; things may touch but not "
         "overlap: give each its \"at\", or one for the pile"},
        {[](Recess& r) { r.cover->thickness = 0; },
         "recesses[0].cover.thickness: 0 mm is not a thickness; give more than 0 mm"},
        {[](Recess& r) { r.cover->thickness = 7; }, "recesses[0].cover.thickness: 7 mm is no thickness of "
                                                    "\"mdf_en_4_6\"; give more than 4 mm, at most 6 mm"},
        {[](Recess& r) { r.cover = Cover{.sheet = "birch_ply_9", .wood = "", .thickness = 8, .trim = ""}; },
         "recesses[0].cover.thickness: 8 mm is no thickness of \"birch_ply_9\"; it is 9 mm thick"},
        {[](Recess& r) { r.cover = Cover{.sheet = "mdf_typical", .wood = "", .thickness = 24, .trim = ""}; },
         "recesses[0].cover.thickness: 24 mm fills the recess, which is 24 mm deep; give less than 24 mm"},
        {[](Recess& r) { r.cover->sheet.clear(); },
         "recesses[0].cover: does not say what it is made of; give \"sheet\" or \"wood\""},
        {[](Recess& r) { r.cover->wood = "black_cherry"; },
         "recesses[0].cover: is made of more than one thing; give \"sheet\" or \"wood\""},
        {[](Recess& r) { r.cover->screw_diameter = 0; },
         "recesses[0].cover.screws.diameter: 0 mm is not a screw; give more than 0 mm"},
        {[](Recess& r) { r.cover->screw_spacing = 0; },
         "recesses[0].cover.screws.spacing: 0 mm is not a spacing; give more than 0 mm"},
    };
    for (const Slip& slip : slips) {
        Piece piece = table();
        slip.make(piece.recesses[0]);
        INFO("expected: " << slip.message);
        CHECK(text_of(faults_of(piece)) == slip.message + "\n");
    }
}

TEST_CASE("a recess that is open all round has no rim for a cover", "[holds]") {
    Piece piece = table();
    piece.recesses[0].shape = RectangleShape{{0, 1900, 0, 850}, 0};
    CHECK(text_of(faults_of(piece)) ==
          "recesses[0].cover: has no rim to hang on: the recess is open all round; leave a rim\n");
}
