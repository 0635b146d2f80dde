// SPDX-License-Identifier: MIT
// What a maker expects of more and less: deeper, thicker, further apart, held and not held, a little to the
// left.
#include "solver/check/check_piece.hpp"
#include "tests/properties/pieces_for_tests.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

using namespace hollowtop;

namespace {

Piece on_four_pads(double depth, bool hold_down = true) {
    Piece piece = bare_top();
    if (depth > 0)
        piece.recesses = {recess_of(RectangleShape{.box = {110, 890, 100, 500}, .corner_radius = 0}, depth)};
    piece.supports = {pad_at({60, 60}, hold_down), pad_at({940, 60}, hold_down), pad_at({60, 540}, hold_down),
                      pad_at({940, 540}, hold_down)};
    piece.loads = {area_load(0.002)};
    piece.self_weight = false;
    return piece;
}

double sag(const Answer& answer) { return answer.response.situations.back().sag_mm; }

/// Greatest face stress along and across the grain all over the top: from the survey's worst in ever smaller
/// steps.
std::array<double, 2> greatest_stress(const Answer& answer) {
    const StressField& field = answer.response.situations.back().stress;
    std::array<double, 2> most{};
    for (std::size_t axis = 0; axis < 2; ++axis) {
        const auto size = [axis](const StressSample& s) {
            return std::max(std::abs(s.top[axis]), std::abs(s.bottom[axis]));
        };
        Point at{};
        for (const StressSample& s : field.survey)
            if (size(s) > most[axis]) {
                most[axis] = size(s);
                at = s.at;
            }
        for (double step = 20; step > 0.02;) {
            bool better = false;
            for (const Point by : {Point{step, 0}, {-step, 0}, {0, step}, {0, -step}}) {
                const Point p{at.x + by.x, at.y + by.y};
                const StressSample* const there = field.at(p);
                if (!there || size(*there) <= most[axis]) continue;
                most[axis] = size(*there);
                at = p;
                better = true;
            }
            if (!better) step /= 2;
        }
    }
    return most;
}

} // namespace

TEST_CASE("a deeper recess makes a top softer, lighter, and its skin dish more", "[properties][monotone]") {
    double last_sag = 0, last_dish = 0, last_volume = std::numeric_limits<double>::max();
    for (const double depth : {0.0, 4.0, 8.0, 12.0, 16.0, 20.0, 23.0, 26.0}) {
        const Answer answer = answer_of(on_four_pads(depth));
        INFO(depth << " mm deep");
        CHECK(sag(answer) > last_sag);
        const double volume = volume_of(answer.model->shell.field, answer.model->shell.mesh);
        CHECK(volume < last_volume);
        if (depth > 0) CHECK(*answer.response.situations.back().dish_mm > last_dish);
        last_sag = sag(answer);
        last_volume = volume;
        last_dish = answer.response.situations.back().dish_mm.value_or(0);
    }
}

TEST_CASE("a thicker top sags less, with and without a recess of the same depth", "[properties][monotone]") {
    for (const double depth : {0.0, 15.0}) {
        double last = std::numeric_limits<double>::max();
        for (const double thickness : {20.0, 24.0, 30.0, 38.0, 50.0}) {
            Piece piece = on_four_pads(depth);
            piece.top.thickness = thickness;
            const double now = sag(answer_of(piece));
            CHECK(now < last);
            last = now;
        }
    }
}

TEST_CASE("a wider rim never makes a top softer", "[properties][monotone]") {
    double last = std::numeric_limits<double>::max();
    for (const double rim : {50.0, 70.0, 95.0, 130.0, 180.0}) {
        Piece piece = on_four_pads(0);
        piece.recesses = {recess_of(RimShape{.rim = rim, .corner_radius = 0}, 18)};
        const double now = sag(answer_of(piece));
        CHECK(now < last);
        last = now;
    }
}

TEST_CASE("a land left standing stiffens the top", "[properties][monotone]") {
    Piece bare = on_four_pads(20), with_land = bare;
    with_land.recesses[0].lands = {
        {.name = "land", .shape = RectangleShape{.box = {450, 550, 100, 500}, .corner_radius = 0}}};
    CHECK(sag(answer_of(with_land)) < sag(answer_of(bare)));
}

TEST_CASE("a natural frequency falls as a top of the same shape gets more to carry",
          "[properties][monotone]") {
    Piece piece = on_four_pads(12);
    double last = std::numeric_limits<double>::max();
    for (const double pressure : {0.0001, 0.0005, 0.002}) {
        piece.loads = {area_load(pressure, Duration::long_term)};
        const double now = answer_of(piece, 1).frequency_Hz.at(0);
        CHECK(now < last);
        last = now;
    }
}

TEST_CASE("pads moved a little move the answer a little", "[properties][smooth]") {
    // pads wander inwards by 1 mm a step, over mesh lines; a step's change stays near the steady change
    std::vector<double> sags;
    for (int k = 0; k <= 24; ++k) {
        Piece piece = on_four_pads(12);
        for (Support& support : piece.supports) {
            Pad& pad = std::get<Pad>(support.kind);
            pad.at.x += pad.at.x < 500 ? k : -k;
        }
        sags.push_back(sag(answer_of(piece, coarse_mesh(piece, 4))));
    }
    const double steady = (sags.back() - sags.front()) / 24;
    for (std::size_t k = 1; k < sags.size(); ++k) {
        INFO("step " << k << ": " << sags[k] - sags[k - 1] << " mm against " << steady << " mm");
        CHECK(std::abs(sags[k] - sags[k - 1] - steady) <
              0.003 * sags[k]); // the mesh's own error is near that
    }
}

TEST_CASE("a pad that only presses lets go where a pad that holds down pulls", "[properties][contact]") {
    Piece loose = on_four_pads(0, false);
    loose.supports = {pad_at({200, 60}),  pad_at({500, 60}),  pad_at({800, 60}),
                      pad_at({200, 540}), pad_at({500, 540}), pad_at({800, 540})};
    // across the whole top between the first two rows: the third would be pulled up
    loose.loads = {
        {.name = "line", .kind = LineLoad{.force = 500, .from = {350, 0}, .to = {350, 600}, .over = {}}}};
    Piece held = loose;
    for (Support& support : held.supports) std::get<Pad>(support.kind).hold_down = true;
    const Answer free_answer = answer_of(loose), held_answer = answer_of(held);
    const auto& free_forces = free_answer.response.situations[0].supports;
    const auto& held_forces = held_answer.response.situations[0].supports;
    for (const std::size_t k : {2u, 5u}) {
        CHECK(free_forces[k].lifts);
        CHECK(free_forces[k].force_N == 0);
        CHECK_FALSE(held_forces[k].lifts);
        CHECK(held_forces[k].force_N < 0);
    }
    for (const SupportForce& force : free_forces) CHECK(force.force_N >= 0);
    CHECK(movement_at(held_answer.model->shell, held_answer.solved[0].dofs, {350, 300}) >
          movement_at(free_answer.model->shell, free_answer.solved[0].dofs, {350, 300}));
}

TEST_CASE("a recess edge moved by tenths of a millimetre moves every answer by as little",
          "[properties][smooth][slow]") {
    // 5 mm in 50 steps: across the line of a knife edge, where mesh lines meet and part; of two recesses
    // whose rib shrinks until the strips of its walls meet; and of a rounded recess. No step may differ from
    // the steady change by more than the mesh error stated for that mesh, or a tenth of a per cent where less
    // is stated.
    struct Walk {
        const char* what;
        double start;
        bool along_y, rib;
        double radius;
    };
    for (const Walk& walk : {Walk{"across a knife edge", 897.5, false, false, 0},
                             {"a rib between recesses", 822.5, false, true, 0},
                             {"round corners", 530, true, false, 20}}) {
        std::array<std::vector<double>, 4> values;
        MeshError error;
        for (int k = 0; k <= 50; ++k) {
            Piece piece = bare_top();
            const double edge = walk.start + 0.1 * k;
            const Rectangle box =
                walk.along_y ? Rectangle{150, 850, 100, edge} : Rectangle{150, edge, 100, 500};
            piece.recesses = {recess_of(RectangleShape{.box = box, .corner_radius = walk.radius}, 18)};
            if (walk.rib)
                piece.recesses.push_back(
                    recess_of(RectangleShape{.box = {860, 960, 100, 500}, .corner_radius = 0}, 10));
            piece.supports = {knife_edge({80, 0}, {80, 600}, true), knife_edge({900, 0}, {900, 600}, true)};
            if (walk.rib) piece.supports = on_four_pads(0).supports;
            piece.loads = {area_load(0.002)};
            piece.self_weight = false;
            const Answer high = answer_of(piece, coarse_mesh(piece, 4));
            const auto stress = greatest_stress(high);
            values[0].push_back(sag(high));
            values[1].push_back(*high.response.situations[0].dish_mm);
            values[2].push_back(stress[0]);
            values[3].push_back(stress[1]);
            if (k == 25) {
                const Answer low = answer_of(piece, coarse_mesh(piece, 3));
                error = error_between(piece, low, high);
            }
        }
        for (std::size_t v = 0; v < values.size(); ++v) {
            const double steady = (values[v].back() - values[v].front()) / 50;
            const double allowed = std::max(v < 2 ? error.sag_percent : error.stress_percent, 0.1) / 100;
            for (std::size_t k = 1; k < values[v].size(); ++k) {
                INFO(walk.what << ", value " << v << ", step " << k << ": " << values[v][k - 1] << " -> "
                               << values[v][k] << ", steady " << steady << ", allowed " << allowed);
                CHECK(std::abs(values[v][k] - values[v][k - 1] - steady) < allowed * std::abs(values[v][k]));
            }
        }
    }
}
