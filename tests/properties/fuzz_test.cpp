// SPDX-License-Identifier: MIT
// Random sensible pieces through the whole check: every one ends in finite numbers that balance, or in words.
#include "materials/error.hpp"
#include "solver/check/check_piece.hpp"
#include "tests/properties/pieces_for_tests.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

using namespace hollowtop;

namespace {

/// Empty where the result is sound.
std::string unsound(const Result& result) {
    const auto wrong = [](double v) { return !std::isfinite(v); };
    for (const SituationResult& s : result.situations) {
        if (wrong(s.sag_mm) || wrong(s.applied_N) || wrong(s.sag_limit_mm) || wrong(s.sag_at.x) ||
            wrong(s.sag_at.y))
            return in_own_units(s.name) + ": sag or load";
        if (s.dish_mm && wrong(*s.dish_mm)) return in_own_units(s.name) + ": dish";
        if (s.tipping_factor && wrong(*s.tipping_factor)) return in_own_units(s.name) + ": tipping";
        if (!(s.equilibrium_error < 1e-7))
            return in_own_units(s.name) + ": equilibrium " + std::to_string(s.equilibrium_error);
        if (!(s.residual < 1e-5)) return in_own_units(s.name) + ": residual";
        for (const Reaction& r : s.reactions)
            if (wrong(r.force_N)) return in_own_units(s.name) + ": reaction";
        for (const ProbeReading& p : s.probes)
            for (const double v : numbers_of(p))
                if (wrong(v)) return in_own_units(s.name) + ": probe";
    }
    for (const CheckResult& c : result.checks)
        if (wrong(c.demand) || wrong(c.capacity) || wrong(c.utilisation) || c.utilisation < 0) return c.check;
    for (std::size_t k = 0; k < result.frequency_Hz.size(); ++k)
        if (wrong(result.frequency_Hz[k]) || result.frequency_Hz[k] <= 0 ||
            (k > 0 && result.frequency_Hz[k] < result.frequency_Hz[k - 1]))
            return "frequencies";
    for (const double v : {result.mass.solid_kg, result.mass.top_kg, result.mesh.sag_error_percent,
                           result.mesh.stress_error_percent})
        if (wrong(v) || v < 0) return "mass or mesh";
    if (result.mass.top_kg > result.mass.solid_kg * (1 + 1e-6))
        return "heavier than solid"; // cut cells are exact to 1e-8
    return {};
}

struct Count {
    int sound = 0, refused = 0;
};

Count run(std::uint32_t from, std::uint32_t to, double share_of_side) {
    Count count;
    for (std::uint32_t seed = from; seed < to; ++seed) {
        const Piece piece = random_piece(seed);
        INFO(outline_of_random(piece));
        try {
            const double size = std::max(piece.top.length, piece.top.width) * share_of_side;
            const Result result =
                check_piece(
                    piece,
                    {.mesh = CheckOptions::Mesh::coarse, .mesh_size = size, .threads = 1, .progress = {}})
                    .result;
            CHECK(unsound(result) == "");
            ++count.sound;
        } catch (const Error& error) {
            CHECK(error.kind() == ErrorKind::not_computable);
            REQUIRE_FALSE(error.faults().empty());
            for (const Fault& fault : error.faults()) {
                CHECK(in_own_units(fault.what).size() > 10);
                CHECK_FALSE(fault.remedy.empty());
                CHECK(in_own_units(fault.what).find("enough digits") ==
                      std::string::npos); // a fault of ours, not of the piece
            }
            ++count.refused;
        }
    }
    return count;
}

} // namespace

TEST_CASE("a random piece gives finite numbers that balance, or words", "[properties][fuzz][slow]") {
    const Count count = run(1, 5, 0.34);
    CHECK(count.sound >= 3); // the rest may tip
}

TEST_CASE("twenty-four more random pieces give finite numbers that balance, or words",
          "[properties][fuzz][slow]") {
    const Count few = run(5, 9, 0.34), count = run(100, 120, 0.25);
    INFO(count.sound << " sound, " << count.refused << " refused");
    CHECK(few.sound >= 3);
    CHECK(count.sound >= 15); // the rest may tip
}

TEST_CASE("a slanting held line carries after the years what it carried at once", "[properties][creep]") {
    // its springs' forces were once read without the creep factor of the years
    Piece piece = bare_top();
    piece.supports = {{.name = "slant", .kind = Held{.from = {150, 60}, .to = {190, 540}, .down = true}},
                      {.name = "straight", .kind = Held{.from = {850, 60}, .to = {850, 540}, .down = true}}};
    piece.loads = {area_load(0.0005, Duration::long_term)};
    const Answer answer = answer_of(piece);
    CHECK(answer.solved[0].equilibrium_error < 1e-8);
    CHECK(answer.solved[1].equilibrium_error < 1e-8);
}
