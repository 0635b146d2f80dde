// SPDX-License-Identifier: MIT
#include "solver/readout/stresses_at.hpp"

#include "solver/model/make_model.hpp"
#include "solver/readout/gather.hpp"
#include "tests/solver/model_for_tests.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <memory>
#include <vector>

using namespace hollowtop;

namespace {

Piece table(double load) {
    Piece piece = invented_top();
    for (const Point& p : {Point{60, 60}, {940, 60}, {940, 540}, {60, 540}}) piece.supports.push_back(pad(p));
    piece.recesses = {{.name = "well",
                       .shape = RectangleShape{.box = {150, 850, 120, 480}, .corner_radius = 20},
                       .depth = 15,
                       .root_radius = 0,
                       .lands = {}}};
    piece.loads = {spread(0.0004, Duration::long_term), patch_of(load, {480, 260}, 120, 90)};
    piece.self_weight = true;
    return piece;
}

bool same(const StressSample& a, const StressSample& b) {
    return a.at == b.at && a.thickness == b.thickness && a.top == b.top && a.bottom == b.bottom &&
           a.shear == b.shear;
}

} // namespace

TEST_CASE("points keep their numbers however many more are asked for", "[solver][stresses_at]") {
    const Piece piece = table(300);
    const Model model = make_unfactored_model(piece, coarse());
    MeansAt means;
    std::vector<std::pair<Point, std::size_t>> told;
    for (int k = 0; k < 3000; ++k) { // past several doublings of the table; a part of them off the top
        const Point p{-20.0 + 0.37 * k, 5.0 + 0.41 * (k % 1500)};
        told.emplace_back(p, means.number_of(model.shell, p));
    }
    CHECK(means.asked() == told.size());
    std::size_t on_top = 0;
    for (const auto& [p, number] : told) {
        CHECK(means.number_of(model.shell, p) == number);
        const bool is_on = p.x >= 0 && p.x <= 1000 && p.y >= 0 && p.y <= 600;
        CHECK((number != MeansAt::off_the_top) == is_on);
        on_top += is_on;
        if (is_on && number % 100 == 0) CHECK(means.mean(model.shell, p, number).at == p);
    }
    CHECK(means.size() == on_top);
    CHECK(means.number_of(model.shell, {0.0, 100}) == means.number_of(model.shell, {-0.0, 100}));
}

TEST_CASE("stresses of pieces read together are those of each alone, to the last bit",
          "[solver][stresses_at]") {
    const Piece piece = table(300);
    const auto model = std::make_shared<const Model>(make_model(piece, coarse()));
    std::vector<std::vector<SolvedSituation>>
        solved; // as of pieces that differ: ten situations in all; the second group of eight starts within a piece
    for (int k = 0; k < 4; ++k) {
        solved.push_back(solve_situations(piece, *model));
        for (SolvedSituation& s : solved.back())
            for (double& v : s.dofs) v *= 1 + 0.1 * k;
    }
    solved[1].pop_back();
    solved[2].pop_back();
    const Readings readings = readings_of(model->shell);
    std::vector<const std::vector<SolvedSituation>*> pieces;
    pieces.reserve(solved.size());
    for (const auto& one : solved) pieces.push_back(&one);
    const std::vector<Readout> together = read_stresses_together(model, pieces, readings, nullptr);
    REQUIRE(together.size() == 4);
    const std::vector<Point> points{{500, 300}, {160, 130}, {151, 121}, {60, 60}, {999, 1}};
    for (std::size_t k = 0; k < solved.size(); ++k) {
        const Readout alone = read_out(model, solved[k], readings);
        REQUIRE(together[k].survey.size() == solved[k].size());
        for (std::size_t s = 0; s < solved[k].size(); ++s) {
            REQUIRE(together[k].survey[s].size() == readings.survey.size());
            CHECK(std::equal(alone.survey[s].begin(), alone.survey[s].end(), together[k].survey[s].begin(),
                             same));
            for (const Point& p : points) {
                const StressSample *const one = alone.stresses->at(p, s), *const other =
                                                                              together[k].stresses->at(
                                                                                  p, together[k].first_field +
                                                                                         s);
                REQUIRE(one);
                REQUIRE(other);
                CHECK(same(*one, *other));
                CHECK(together[k].stresses->at(p, together[k].first_field + s) == other); // stays where it is
            }
            CHECK(together[k].stresses->at({-1, 300}, together[k].first_field + s) == nullptr);
        }
    }
}
