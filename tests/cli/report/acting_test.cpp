// SPDX-License-Identifier: MIT
#include "cli/report/sections/acting.hpp"

#include "cli/read/piece_file.hpp"
#include "solver/check/check_piece.hpp"

#include <catch2/catch.hpp>

using namespace hollowtop;
using namespace hollowtop::cli;

TEST_CASE("each situation tells its loads: what stays, and what passes alone or together", "[report]") {
    const Piece piece = piece_of_json(R"({"hollowtop": 1,
      "top": {"length": 900, "width": 400, "thickness": 25, "wood": "white oak"},
      "supports": [{"kind": "pad", "at": [60, 60], "size": [40, 40]}, {"kind": "pad", "at": [840, 60], "size": [40, 40]},
                   {"kind": "pad", "at": [60, 340], "size": [40, 40]}, {"kind": "pad", "at": [840, 340], "size": [40, 40]}],
      "loads": [{"name": "books", "kind": "area", "pressure": "0.5 kPa", "duration": "long"},
                {"name": "a plant", "kind": "patch", "force": "100 N", "at": [200, 200], "size": [100, 100], "duration": "medium"},
                {"name": "a lamp", "kind": "patch", "force": "50 N", "at": [700, 200], "size": [100, 100], "duration": "medium"},
                {"name": "a guest, leaning", "kind": "patch", "force": "200 N", "at": [450, 60], "size": [100, 50]}]})");
    CheckOptions options;
    options.essentials = true;
    options.threads = 1;
    const Result result = check_piece(piece, options).result;
    const auto acting = acting_loads(piece, result, Units::mm);
    REQUIRE(acting.size() == result.situations.size());
    using Names = std::vector<std::string>;
    const Names standing{"own weight", "books"};
    CHECK(acting[0] == standing);
    CHECK(acting[1] == standing);
    CHECK(acting[2] == Names{"own weight", "books", "a plant"});
    CHECK(acting[4] == Names{"own weight", "books", "a guest, leaning"});
    CHECK(acting[5] == Names{"own weight", "books", "a plant", "a lamp"});
    CHECK(acting[6] == Names{"own weight", "books", "a guest, leaning", "a plant", "a lamp"});
    // loads that do not add up to what is applied are not told
    Result wrong = result;
    wrong.situations[6].applied_N += 100;
    CHECK(acting_loads(piece, wrong, Units::mm).empty());
}
