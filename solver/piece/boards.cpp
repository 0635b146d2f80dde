// SPDX-License-Identifier: MIT
#include "solver/piece/boards.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace hollowtop {
namespace {

struct Reach {
    double from = 0, to = 0;
};

Reach reach_across(const Top& top) {
    const Point n = across_boards(top);
    const double x = n.x * top.length, y = n.y * top.width;
    return {std::min(0.0, x) + std::min(0.0, y), std::max(0.0, x) + std::max(0.0, y)};
}

} // namespace

Point across_boards(const Top& top) {
    const double angle = top.grain_deg * std::numbers::pi / 180;
    Point n{-std::sin(angle), std::cos(angle)};
    constexpr double nothing = 1e-12;
    for (double* c : {&n.x, &n.y})
        if (std::abs(*c) < nothing) *c = 0;
    if (n.y < 0 || (n.y == 0 && n.x < 0)) n = {-n.x, -n.y};
    return n;
}

double extent_across(const Top& top) {
    const Reach reach = reach_across(top);
    return reach.to - reach.from;
}

std::vector<BoardStrip> board_strips(const Top& top) {
    const Reach reach = reach_across(top);
    std::vector<Board> boards = top.each_board;
    if (boards.empty()) boards.assign(static_cast<std::size_t>(std::max(1, top.boards)), {.width = 1});
    double sum = 0;
    for (const Board& board : boards) sum += board.width;
    std::vector<BoardStrip> strips;
    double at = 0;
    for (const Board& board : boards) {
        BoardStrip strip{.from = reach.from + (reach.to - reach.from) * at / sum,
                         .to = reach.from + (reach.to - reach.from) * (at + board.width) / sum,
                         .measured = top.measured,
                         .of_its_own = board.measured.E_along.has_value()};
        if (board.measured.E_along) {
            strip.measured.E_along = board.measured.E_along;
            strip.measured.u_E_along_percent = board.measured.u_E_along_percent;
        }
        if (board.measured.density_kg_m3) {
            strip.measured.density_kg_m3 = board.measured.density_kg_m3;
            strip.measured.u_density_percent = board.measured.u_density_percent;
        }
        strips.push_back(strip);
        at += board.width;
    }
    return strips;
}

} // namespace hollowtop
