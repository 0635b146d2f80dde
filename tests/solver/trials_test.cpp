// SPDX-License-Identifier: MIT
#include "solver/variants/trials.hpp"

#include "tray_for_tests.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace hollowtop;
using Catch::Matchers::WithinRel;

TEST_CASE("a changed piece is told as a check of it finds it, and in full where a limit comes near",
          "[solver][slow][long]") {
    CheckOptions options;
    options.mesh = CheckOptions::Mesh::coarse;
    const CheckOutcome drawn = check_piece(tray(), options);
    const Trials trials = trials_of(drawn, options);
    CHECK(trials.base.utilisation == drawn.result.governing_utilisation);
    const std::vector<Change> changes = changes_of(drawn.placed, drawn.result);
    REQUIRE(trials.changes.size() == changes.size());
    for (std::size_t i = 0; i < changes.size(); ++i) {
        CheckOptions same = options;
        same.mesh_size = drawn.result.mesh.size_mm;
        const Result check = check_piece(changes[i].piece, same).result;
        const ChangeRow& row = trials.changes[i];
        REQUIRE(row.row);
        CHECK(row.kind == changes[i].kind);
        if (check.mesh.elements != drawn.result.mesh.elements) continue; // that check went on to a finer mesh
        // one solution, other threads; or the ratio of two solves on a coarser mesh, which errs alike in both
        const double near = row.in_full ? 1e-9 : 0.02;
        CAPTURE(i, row.in_full);
        CHECK_THAT(row.row->sag_mm, WithinRel(row_of(changes[i].piece, check, {}).sag_mm, near));
        CHECK_THAT(row.row->utilisation, WithinRel(check.governing_utilisation, near));
        CHECK(row.row->governing_check == check.governing_check);
        CHECK(row.row->passes == check.passes);
        CHECK((row.in_full || std::abs(check.governing_utilisation - 1) > near_limit / 2));
    }
    REQUIRE(trials.band);
    CHECK(trials.band->low_mm < trials.band->drawn_mm);
    CHECK(trials.band->drawn_mm < trials.band->high_mm);
    // stiffness and sag are inverse to each other but for the supports' own give
    CHECK_THAT(trials.band->high_mm, WithinRel(trials.band->drawn_mm / 0.8, 0.05));
    REQUIRE(trials.proof);
    CHECK(trials.proof->steps.size() == proof_shares.size());
}

TEST_CASE("a change that cannot be made is told as such", "[solver][long]") {
    Piece piece = tray();
    std::get<Pad>(piece.supports[0].kind).at.x =
        22; // its pad ends 2 mm inside the top: it cannot move out by 10
    const CheckOutcome drawn = check_piece(piece, {});
    for (const ChangeRow& row : trials_of(drawn, {}).changes) {
        CAPTURE(static_cast<int>(row.kind));
        CHECK(row.row.has_value() == row.problem.empty());
    }
}
