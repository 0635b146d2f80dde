// SPDX-License-Identifier: MIT
// What a recess holds and its cover, as they are read.
#include "cli/read/piece_file.hpp"
#include "cli/words/messages.hpp"
#include "materials/error.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <string>

using namespace hollowtop;
using namespace hollowtop::cli;
using Catch::Matchers::WithinRel;

namespace {

const std::string sound = R"({
  "hollowtop": 1,
  "top": {"length": 1900, "width": 850, "thickness": 42, "wood": "black_cherry"},
  "recesses": [{"name": "well", "x": [120, 1780], "y": [110, 740], "depth": 24,
    "holds": [{"name": "two leaves", "size": [600, 400, "1.4 cm"], "at": [900, 425], "weight": "9 kg", "hangs": "runners"},
              {"size": [100, 100, 10], "at": [300, 300], "hangs": "base"}],
    "cover": {"sheet": "MDF EN 4 6", "thickness": 4.5, "trim": "bar 35x8", "screws": {"diameter": 3.5, "spacing": 150, "holes": "round"}}}],
  "supports": [{"kind": "pad", "at": [90, 90], "size": [70, 70]}],
  "loads": [{"kind": "area", "pressure": "0.5 kPa"}]
})";

std::string with(const std::string& old_text, const std::string& new_text) {
    std::string text = sound;
    const auto at = text.find(old_text);
    REQUIRE(at != std::string::npos);
    return text.replace(at, old_text.size(), new_text);
}

std::string message(const std::string& text) {
    try {
        (void)piece_of_json(text);
    } catch (Error& error) {
        error.file = "piece.json";
        return message_of(error);
    }
    return "no error";
}

} // namespace

TEST_CASE("what a recess holds and its cover are read with their units", "[cli][holds]") {
    const Piece piece = piece_of_json(sound);
    const Recess& well = piece.recesses.at(0);
    REQUIRE(well.holds.size() == 2);
    CHECK(well.holds[0].name == "two leaves");
    CHECK(well.holds[0].size_x == 600);
    CHECK(well.holds[0].size_y == 400);
    CHECK_THAT(well.holds[0].height, WithinRel(14.0, 1e-14));
    CHECK(well.holds[0].at == Point{900, 425});
    CHECK_THAT(well.holds[0].weight_N, WithinRel(9 * 9.80665, 1e-14));
    CHECK(well.holds[0].hangs_on == HangsOn::runners);
    CHECK(well.holds[1].name == "thing 2");
    CHECK(well.holds[1].hangs_on == HangsOn::base);
    REQUIRE(well.cover);
    CHECK(well.cover->sheet == "mdf_en_4_6");
    CHECK(well.cover->thickness == 4.5);
    CHECK(well.cover->trim == "bar 35x8");
    CHECK(well.cover->screw_diameter == 3.5);
    CHECK(well.cover->screw_spacing == 150);
    CHECK(well.cover->holes == Holes::round);
    CHECK(piece_of_json(with(R"(, "holes": "round")", "")).recesses[0].cover->holes == Holes::slotted);
    CHECK_FALSE(piece_of_json(with(R"("at": [900, 425], )", "")).recesses[0].holds[0].at);
}

TEST_CASE("each fault of what a recess holds is told with its place and its remedy", "[cli][holds]") {
    struct Slip {
        std::string old_text, new_text, message;
    };
    // clang-format off
    const auto slip = GENERATE(values<Slip>({
        {R"("size": [600, 400, "1.4 cm"])", R"("size": [600, 400])", "recesses[0].holds[0].size: a thing that is kept has three sizes; write its length along x, along y, and its height, such as [600, 400, 38]"},
        {R"("size": [600, 400, "1.4 cm"], )", "", "recesses[0].holds[0].size: this key is missing; write its length along x, along y, and its height, such as [600, 400, 38]"},
        {R"("size": [600, 400, "1.4 cm"])", R"("size": [600, 0, 14])", "recesses[0].holds[0].size[1]: a size is more than 0; give its size"},
        {R"("hangs": "runners")", R"("hangs": "hooks")", "recesses[0].holds[0].hangs: \"hooks\" is not known here; write \"skin\", \"runners\" or \"base\""},
        {R"(, "hangs": "runners")", "", "recesses[0].holds[0].hangs: this key is missing; write \"skin\", \"runners\" or \"base\""},
        {R"("weight": "9 kg", )", "", "recesses[0].holds[0].weight: this key is missing; write a number or a text like \"600 N\", \"80 kg\" or \"180 lb\""},
        {R"("sheet": "MDF EN 4 6")", R"("sheet": "mdf_en_4_7")", "recesses[0].cover.sheet: no sheet \"mdf_en_4_7\" in the table of sheets; did you mean "},
        {R"("sheet": "MDF EN 4 6", )", "", "recesses[0].cover: a key is missing; give \"sheet\" or \"wood\""},
        {R"("trim": "bar 35x8")", R"("trim": "bat 35x8")", "recesses[0].cover.trim: "},
        {R"("spacing": 150)", R"("spacing": 0)", "recesses[0].cover.screws.spacing: 0 is too small; give more than 0"},
    }));
    // clang-format on
    const std::string told = message(with(slip.old_text, slip.new_text));
    INFO(told);
    CHECK(told.find(slip.message) != std::string::npos);
    CHECK(std::count(told.begin(), told.end(), '\n') <= 1);
}
