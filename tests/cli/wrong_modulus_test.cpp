// SPDX-License-Identifier: MIT
// A modulus that is wrong in one of the two theories of sag is told, on the drawn pieces that have an estimate by hand
// (tests/command_line/drawn, all invented): the computed sags of one piece beside the estimates of the other.
#include "cli/read/piece_file.hpp"
#include "materials/wood.hpp"
#include "materials/wood_constants.hpp"
#include "solver/check/check_piece.hpp"
#include "solver/hand/hand_rows.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <fstream>
#include <iterator>
#include <string>

using namespace hollowtop;

namespace {

Piece drawn(const std::string& name) {
    std::ifstream file(std::string(HOLLOWTOP_SOURCE_DIR) + "/tests/command_line/drawn/" + name + ".json");
    return cli::piece_of_json(std::string(std::istreambuf_iterator<char>(file), {}));
}

Result coarse_result(const Piece& piece) {
    CheckOptions options;
    options.threads = 1;
    options.unrefined = options.no_advice = true;
    options.mesh = CheckOptions::Mesh::coarse;
    return check_piece(piece, options).result;
}

/// What is warned of where `computed` was computed and `reckoned` estimated by hand.
std::size_t warnings_of(const Result& computed, const Result& reckoned) {
    Result both = computed;
    both.warnings.clear();
    both.by_hand.clear();
    for (const HandEstimate& row : reckoned.by_hand) {
        const auto s = std::find_if(computed.situations.begin(), computed.situations.end(),
                                    [&](const SituationResult& situation) {
                                        return in_own_units(situation.name) == in_own_units(row.situation);
                                    });
        if (!row.sag_mm || s == computed.situations.end()) continue;
        HandEstimate estimate = row;
        estimate.computed_over_hand = s->sag_mm / *row.sag_mm;
        estimate.agrees =
            *estimate.computed_over_hand >= least_over_hand && *estimate.computed_over_hand <= most_over_hand;
        both.by_hand.push_back(estimate);
    }
    CHECK(both.by_hand.size() > 1);
    warn_of_disagreement(both);
    return both.warnings.size();
}

} // namespace

TEST_CASE("a modulus that is wrong by two in one of the two theories is warned of on what people draw, and "
          "in both is not",
          "[cli][study][slow]") {
    struct Drawn {
        const char* name;
        double
            times; ///< the conference table of half the modulus leaves a support, where there is no estimate
    };
    for (const auto& [name, times] : {Drawn{"01_trestle_table", 0.5}, Drawn{"07_bench_seat", 0.5},
                                      Drawn{"08_conference_table", 2}, Drawn{"09_in_inches", 0.5}}) {
        CAPTURE(name);
        const Piece right = drawn(name);
        Piece wrong = right;
        wrong.top.measured.E_along =
            times *
            materials::wood_constants(materials::find_wood(right.top.wood), right.top.moisture_percent).E_L /
            1.1;
        const Result as_drawn = coarse_result(right), other = coarse_result(wrong);
        CHECK(warnings_of(as_drawn, as_drawn) == 0);
        CHECK(warnings_of(other, other) == 0);
        CHECK(warnings_of(other, as_drawn) == 1);
        CHECK(warnings_of(as_drawn, other) == 1);
    }
}
