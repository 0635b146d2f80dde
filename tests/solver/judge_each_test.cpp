// SPDX-License-Identifier: MIT
#include "solver/variants/judge_each.hpp"

#include "materials/error.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <mutex>
#include <set>
#include <stdexcept>
#include <thread>

using namespace hollowtop;

namespace {

/// A plain board on two bearers, as quick to check as any.
Piece board(double thickness) {
    Piece piece;
    piece.top.length = 500;
    piece.top.width = 200;
    piece.top.thickness = thickness;
    piece.top.wood = "cherry_black";
    piece.top.outline = RectangleShape{.box = {0, 500, 0, 200}, .corner_radius = 0};
    for (const double x : {30.0, 470.0})
        piece.supports.push_back(
            {.name = "bearer",
             .kind =
                 Bearer{.from = {x, 20}, .to = {x, 180}, .width = 20, .hold_down = true, .stiffness = {}}});
    piece.loads.push_back(
        {.name = "pot",
         .duration = Duration::short_term,
         .kind = PatchLoad{
             .force = 100, .at = {250, 100}, .size_x = 60, .size_y = 60, .travels = false, .over = {}}});
    return piece;
}

JudgeEachOptions quick(int threads) {
    JudgeEachOptions options;
    options.check.mesh = CheckOptions::Mesh::coarse;
    options.check.threads = threads;
    return options;
}

Piece thicker(std::size_t i) { return board(12 + static_cast<double>(i)); }

} // namespace

TEST_CASE("pieces are told in their order, alike on one thread and on two", "[solver][slow]") {
    std::vector<double> one, two;
    CHECK(judge_each(8, thicker, quick(1),
                     [&](const Judged& j) { one.push_back(j.result->situations.back().sag_mm); }) == 8);
    std::size_t expected = 0;
    CHECK(judge_each(8, thicker, quick(2), [&](const Judged& j) {
              CHECK(j.index == expected++);
              two.push_back(j.result->situations.back().sag_mm);
          }) == 8);
    CHECK(one == two);
    CHECK(std::is_sorted(one.rbegin(), one.rend())); // thicker sags less
    CHECK(judge_each(8, thicker, quick(1), [&](const Judged& j) {
              CHECK(j.result->situations.back().sag_mm ==
                    check_piece(thicker(j.index), quick(1).check).result.situations.back().sag_mm);
          }) == 8);
}

TEST_CASE("with little memory one thread judges, and what it tells is the same", "[solver]") {
    std::vector<double> roomy, narrow;
    judge_each(3, thicker, quick(1),
               [&](const Judged& j) { roomy.push_back(j.result->situations.back().sag_mm); });
    std::mutex guard;
    std::set<std::thread::id> judging;
    const auto piece_of = [&](std::size_t i) {
        const std::lock_guard lock(guard);
        judging.insert(std::this_thread::get_id());
        return thicker(i);
    };
    JudgeEachOptions options = quick(8);
    options.most_bytes = 1;
    judge_each(3, piece_of, options,
               [&](const Judged& j) { narrow.push_back(j.result->situations.back().sag_mm); });
    CHECK(judging.size() == 1);
    CHECK(narrow == roomy);
}

TEST_CASE("a piece that makes no sense has a problem and stops nobody", "[solver]") {
    std::vector<std::string> problems;
    const auto piece_of = [](std::size_t i) {
        if (i == 1) throw Error(ErrorKind::input, Fault{"here", "is wrong", ""});
        return board(i == 2 ? -5 : 20);
    };
    judge_each(4, piece_of, quick(2), [&](const Judged& j) {
        problems.push_back(in_own_units(j.problem));
        CHECK(j.result.has_value() == j.problem.empty());
    });
    REQUIRE(problems.size() == 4);
    CHECK(problems[0].empty());
    CHECK(problems[1] == "here: is wrong");
    CHECK(problems[2].rfind("top.thickness: ", 0) == 0);
    CHECK(problems[3].empty());
}

TEST_CASE("a run that is stopped keeps what is done, and goes on from there", "[solver][slow]") {
    int asked = 0;
    JudgeEachOptions options = quick(1);
    options.stop = [&] { return ++asked > 1; };
    std::vector<std::size_t> seen;
    const auto done = judge_each(6, thicker, options, [&](const Judged& j) { seen.push_back(j.index); });
    CHECK(done >= 1);
    CHECK(done < 6);
    options = quick(1);
    options.first = done;
    CHECK(judge_each(6, thicker, options, [&](const Judged& j) { seen.push_back(j.index); }) == 6 - done);
    CHECK(seen == std::vector<std::size_t>{0, 1, 2, 3, 4, 5});
}

TEST_CASE("what the caller throws ends the run and comes out", "[solver][long]") {
    CHECK_THROWS_AS(
        judge_each(6, thicker, quick(2), [](const Judged&) { throw std::runtime_error("disk full"); }),
        std::runtime_error);
    CHECK_THROWS_AS(
        judge_each(
            6, [](std::size_t) -> Piece { throw std::logic_error("ours"); }, quick(2), [](const Judged&) {}),
        std::logic_error);
}
