// SPDX-License-Identifier: MIT
// What is kept of allowables is told apart by all that they depend on.
#include "solver/capacity/allowables.hpp"

#include "tests/solver/tray_for_tests.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cstddef>
#include <functional>
#include <optional>
#include <utility>
#include <vector>

using namespace hollowtop;

namespace {

struct Asked {
    Piece piece = tray();
    Duration duration = Duration::short_term;
    LoadFor judged_for = LoadFor::everyday;
};
using Changes = std::vector<std::pair<const char*, std::function<void(Asked&)>>>;

std::vector<double> values_of(const std::optional<materials::AllowableStresses>& a) {
    if (!a) return {};
    return {a->bending_along.value, a->tension_across.value,       a->compression_across.value,
            a->shear.value,         a->tension_across_block.value, a->rolling_shear.value,
            a->bearing.value};
}

/// Each change moves the answer, and what is kept gives the moved one.
void expect_apart(const Asked& first, const Changes& changes) {
    for (const auto& [name, change] : changes) {
        CAPTURE(name);
        Asked other = first;
        change(other);
        const auto one = values_of(allowables_of(first.piece, first.duration, first.judged_for)),
                   two = values_of(allowables_of(other.piece, other.duration, other.judged_for));
        REQUIRE(one != two);
        KeptAllowables kept;
        CHECK(values_of(kept.of(first.piece, first.duration, first.judged_for)) == one);
        CHECK(values_of(kept.of(other.piece, other.duration, other.judged_for)) == two);
        CHECK(values_of(kept.of(first.piece, first.duration, first.judged_for)) == one);
    }
}

} // namespace

TEST_CASE("kept allowables of clear wood are told apart by wood, rings, moisture, grade and load",
          "[solver]") {
    Asked first;
    first.piece.top.ring_angle_deg = 0;
    first.piece.allowables.strength_class = "D30"; // stated, and not asked for
    expect_apart(first, {{"wood", [](Asked& a) { a.piece.top.wood = "oak_white"; }},
                         {"rings", [](Asked& a) { a.piece.top.ring_angle_deg = 90; }},
                         {"moisture", [](Asked& a) { a.piece.top.moisture_percent = 16; }},
                         {"grade", [](Asked& a) { a.piece.allowables.grade_ratio = 0.6; }},
                         {"duration", [](Asked& a) { a.duration = Duration::permanent; }},
                         {"purpose", [](Asked& a) { a.judged_for = LoadFor::strength; }},
                         {"sheet", [](Asked& a) { a.piece.top.sheet = "plywood_range"; }},
                         {"basis", [](Asked& a) {
                              a.piece.allowables.basis = AllowablesBasis::strength_class;
                              a.piece.allowables.strength_class = "D30";
                          }}});
}

TEST_CASE("kept allowables of a strength class are told apart by class, air and duration", "[solver]") {
    Asked first;
    first.piece.allowables.basis = AllowablesBasis::strength_class;
    first.piece.allowables.strength_class = "D30";
    expect_apart(first, {{"class", [](Asked& a) { a.piece.allowables.strength_class = "D40"; }},
                         {"service class", [](Asked& a) { a.piece.allowables.service_class = 3; }},
                         {"duration", [](Asked& a) { a.duration = Duration::permanent; }}});
}

TEST_CASE("of allowables a few are kept, whatever is asked for", "[solver]") {
    Asked asked;
    KeptAllowables kept;
    std::size_t most = 0;
    for (int k = 0; k < 100; ++k) {
        asked.piece.top.moisture_percent = 7 + 0.05 * k;
        kept.of(asked.piece, asked.duration);
        most = std::max(most, kept.bytes());
    }
    CHECK(most > 0);
    CHECK(most < 300'000);
    const auto& again = kept.of(asked.piece, asked.duration);
    CHECK(&again == &kept.of(asked.piece, asked.duration)); // known
}
