// SPDX-License-Identifier: MIT
// Random pieces against themselves: said otherwise, seen otherwise, loaded twice as much, hollowed deeper.
#include "cli/read/piece_file.hpp"
#include "materials/error.hpp"
#include "solver/interface/contact_point.hpp"
#include "tests/properties/piece_text_for_tests.hpp"
#include "tests/properties/pieces_for_tests.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <numeric>
#include <optional>

using namespace hollowtop;

namespace {

/// How many pieces: so many, or with HOLLOWTOP_THOROUGH five hundred.
std::uint32_t pieces_of(std::uint32_t usual) {
    return std::getenv("HOLLOWTOP_THOROUGH") != nullptr ? 500 : usual;
}

/// Nothing where it cannot be computed, as where it tips.
std::optional<Answer> try_answer(const Piece& piece, int threads = 1) {
    try {
        ModelOptions options = coarse_mesh(piece);
        options.threads = threads;
        return answer_of(piece, options);
    } catch (const Error& error) {
        CHECK(error.kind() == ErrorKind::not_computable);
        return std::nullopt;
    }
}

/// Greatest difference of sags (over the sag), of forces (over the load) and of movements at the probes (over the greatest),
/// where loads and what they do are `times` as large in `other`, or its supports stand in the `reversed` order.
double difference(const Answer& one, const Answer& other, double times = 1, bool reversed = false) {
    REQUIRE(one.response.situations.size() == other.response.situations.size());
    double worst = 0;
    for (std::size_t i = 0; i < one.response.situations.size(); ++i) {
        const SituationResponse &a = one.response.situations[i], &b = other.response.situations[i];
        worst = std::max(worst, std::abs(times * a.sag_mm - b.sag_mm) / (times * a.sag_mm));
        REQUIRE(a.supports.size() == b.supports.size());
        for (std::size_t k = 0; k < a.supports.size(); ++k) {
            const std::size_t there = reversed ? a.supports.size() - 1 - k : k;
            worst = std::max(worst, std::abs(times * a.supports[k].force_N - b.supports[there].force_N) /
                                        std::abs(times * a.applied_N));
        }
        double greatest = a.sag_mm;
        for (const ProbeReading& probe : a.probes) greatest = std::max(greatest, std::abs(probe.w_mm));
        for (std::size_t k = 0; k < a.probes.size(); ++k)
            worst =
                std::max(worst, std::abs(times * a.probes[k].w_mm - b.probes[k].w_mm) / (times * greatest));
    }
    return worst;
}

/// Does any edge of it run aslant or round? Cells that those cross are not the same after a quarter turn.
bool is_slanted(const Piece& piece) {
    const auto aslant = [](const auto& shape) {
        if constexpr (requires { shape.points; })
            return true;
        else if constexpr (requires { shape.corner_radius; })
            return shape.corner_radius > 0;
        else
            return true;
    };
    if (std::visit(aslant, piece.top.outline)) return true;
    for (const Recess& recess : piece.recesses) {
        if (std::visit(aslant, recess.shape)) return true;
        for (const Land& land : recess.lands)
            if (std::visit(aslant, land.shape)) return true;
    }
    return false;
}

template <class List> void reverse(List& list) { std::reverse(list.begin(), list.end()); }

/// Twice the work that the loads of the first situation do.
double work_of(const Answer& answer) {
    const SolvedSituation& s = answer.solved.front();
    double work = 0;
    for (const ActingLoad& acting : s.plan.loads) {
        const std::vector<double>& force = answer.model->loads[static_cast<std::size_t>(acting.load)].forces;
        work += acting.factor * std::inner_product(force.begin(), force.end(), s.dofs.begin(), 0.0);
    }
    return work;
}

/// As in invariance_test.cpp; a foot looser than there, for random pieces are less well held.
constexpr double same = 1e-6;

/// Runs `hold` on random pieces that can be computed; most must be.
template <class Hold> void on_random_pieces(std::uint32_t n, Hold hold) {
    std::uint32_t held = 0;
    for (std::uint32_t seed = 1000; seed < 1000 + n; ++seed) {
        const Piece piece = random_piece(seed);
        INFO(outline_of_random(piece));
        const std::optional<Answer> answer = try_answer(piece);
        if (!answer) continue;
        hold(piece, *answer);
        ++held;
    }
    CHECK(held > n / 2);
}

} // namespace

TEST_CASE(
    "a random piece is the same in a mirror and with its parts in another order, and twice on two threads",
    "[properties][metamorphic][slow]") {
    on_random_pieces(pieces_of(8), [](const Piece& piece, const Answer& answer) {
        const auto mirrored = try_answer(mirrored_in_x(piece));
        REQUIRE(mirrored);
        CHECK(difference(answer, *mirrored) < same);
        Piece other = piece;
        reverse(other.recesses);
        reverse(other.supports);
        for (Recess& recess : other.recesses) reverse(recess.lands);
        const auto reordered = try_answer(other);
        REQUIRE(reordered);
        CHECK(difference(answer, *reordered, 1, true) < same);
        const auto on_two = try_answer(piece, 2);
        REQUIRE(on_two);
        CHECK(difference(answer, *on_two) == 0);
    });
}

TEST_CASE("a random piece of straight edges is the same after a quarter turn",
          "[properties][metamorphic][slow]") {
    std::uint32_t turned_ones = 0;
    const std::uint32_t n = pieces_of(8);
    for (std::uint32_t seed = 1000; turned_ones < n && seed < 1000 + 40 * n; ++seed) {
        const Piece piece = random_piece(seed);
        if (is_slanted(piece)) continue;
        INFO(outline_of_random(piece));
        const auto answer = try_answer(piece);
        if (!answer) continue;
        const auto other = try_answer(turned(piece));
        REQUIRE(other);
        CHECK(difference(*answer, *other) < same);
        ++turned_ones;
    }
    CHECK(turned_ones == n);
}

TEST_CASE("twice the load does twice as much to a random piece without weight",
          "[properties][metamorphic][slow]") {
    // What opens under a load opens under its double: proportional, though not additive. Not where a support lies under a
    // recess: the gap closes under one load and not under the other.
    std::uint32_t proportional = 0;
    on_random_pieces(pieces_of(10), [&](const Piece& piece, const Answer& as_drawn) {
        const std::vector<ContactPoint>& points = as_drawn.model->points;
        if (std::any_of(points.begin(), points.end(), [](const ContactPoint& p) { return p.gap > 0; }))
            return;
        const auto loaded = [&](double times) {
            Piece light = piece;
            light.self_weight = false;
            for (Load& load : light.loads) {
                if (auto* area = std::get_if<AreaLoad>(&load.kind)) area->pressure *= times;
                if (auto* patch = std::get_if<PatchLoad>(&load.kind)) patch->force *= times;
                if (auto* line = std::get_if<LineLoad>(&load.kind)) line->force *= times;
            }
            return light;
        };
        const auto one = try_answer(loaded(1));
        if (!one) return;
        const auto two = try_answer(loaded(2));
        REQUIRE(two);
        CHECK(difference(*one, *two, 2) < same);
        ++proportional;
    });
    CHECK(proportional > pieces_of(10) / 3);
}

TEST_CASE("a random piece hollowed deeper gives way more", "[properties][metamorphic][slow]") {
    // Wood taken away never stiffens: the work of given loads grows (minimum of complementary energy)
    on_random_pieces(pieces_of(10), [](const Piece& piece, const Answer&) {
        if (piece.recesses.empty()) return;
        Piece shallow = piece;
        shallow.self_weight = false;
        const auto one = try_answer(shallow);
        Piece deep = shallow;
        for (Recess& recess : deep.recesses) recess.depth += 0.1 * (piece.top.thickness - recess.depth);
        const auto two = try_answer(deep);
        if (!one || !two) return;
        INFO("work " << work_of(*one) << " before, " << work_of(*two) << " after");
        CHECK(work_of(*two) > work_of(*one));
    });
}

TEST_CASE("a random piece written in inches is the one written in millimetres",
          "[properties][metamorphic][slow]") {
    std::uint32_t held = 0;
    const std::uint32_t n = pieces_of(6);
    for (std::uint32_t seed = 0; held < n && seed < 12 * n; ++seed) {
        INFO("seed " << seed);
        Piece in_mm, in_inches;
        try {
            in_mm = cli::piece_of_json(random_piece_text(seed, Units::mm));
        } catch (const Error&) {
            // a rib at the least width may be refused in one unit and, by a last digit, not in the other
            continue;
        }
        in_inches = cli::piece_of_json(random_piece_text(seed, Units::inch));
        for (Piece* piece : {&in_mm, &in_inches}) {
            piece->use.clear();
            std::erase_if(piece->loads, [](const Load& load) {
                const auto* patch = std::get_if<PatchLoad>(&load.kind);
                return patch != nullptr && patch->travels; // sought by whole checks elsewhere
            });
        }
        const auto one = try_answer(in_mm), other = try_answer(in_inches);
        REQUIRE(one.has_value() == other.has_value());
        if (!one) continue;
        CHECK(difference(*one, *other) < same);
        ++held;
    }
    CHECK(held == n);
}
