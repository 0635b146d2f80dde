// SPDX-License-Identifier: MIT
#include "materials/moisture.hpp"
#include "materials/wood.hpp"
#include "solver/piece/boards.hpp"
#include "solver/seasons/year_of_top.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop {
namespace {

constexpr double near_pith = 60;  // mm: no board of furniture wood is cut much nearer (judgement)
constexpr double flat_rings = 20; // degrees
constexpr double wide_enough = 4; // thicknesses: below, more than the bend of a board counts

} // namespace

std::vector<RingBoard> ring_boards_of(const Top& top) {
    std::vector<RingBoard> boards;
    const std::vector<BoardStrip> strips = board_strips(top);
    for (std::size_t i = 0; i < strips.size(); ++i) {
        const bool known = i < top.each_board.size() && top.each_board[i].rings;
        const Rings rings = known ? *top.each_board[i].rings : Rings{.pith = near_pith};
        boards.push_back(
            {.width = strips[i].to - strips[i].from, .pith = rings.pith, .bark_up = rings.bark_up});
    }
    return boards;
}

std::optional<RingsTold> rings_of(const Piece& piece, const MoistureRange& range) {
    const Top& top = piece.top;
    if (top.boards < 1 || top.ring_angle_deg > flat_rings) return std::nullopt;
    const materials::Wood& wood = materials::find_wood(top.wood);
    const double k_a_point =
        materials::movement_per_percent(wood, 0).value - materials::movement_per_percent(wood, 90).value;
    RingsTold told;
    told.are_known =
        !top.each_board.empty() && std::all_of(top.each_board.begin(), top.each_board.end(),
                                               [](const Board& board) { return board.rings.has_value(); });
    told.k_dry = -k_a_point * range.shrinking_points();
    told.k_damp = k_a_point * range.growing_points();
    const double k = std::abs(told.k_dry) >= std::abs(told.k_damp) ? told.k_dry : told.k_damp;
    const std::vector<RingBoard> boards = ring_boards_of(top);
    const double t = top.thickness;
    told.near_pith_crown = std::abs(panel_shape(all_one_way(boards, false), t, k).crown);
    told.near_pith_wave = panel_shape(alternating(boards), t, k).wave;
    if (!told.are_known) return told;
    told.dry = panel_shape(boards, t, told.k_dry);
    told.damp = panel_shape(boards, t, told.k_damp);
    told.wave_pith_up = panel_shape(all_one_way(boards, false), t, k).wave;
    told.wave_bark_up = panel_shape(all_one_way(boards, true), t, k).wave;
    told.wave_alternating = panel_shape(alternating(boards), t, k).wave;
    told.turned = flattest(boards, t, k);
    for (std::size_t i = 0; i < boards.size(); ++i) {
        if (boards[i].width < wide_enough * t) told.narrow.push_back(i);
        told.greatest_scallop = std::max(told.greatest_scallop, std::abs(board_scallop(boards[i], t, k)));
        const double cup = std::abs(board_cup(boards[i], t, k));
        if (cup <= told.greatest_cup) continue;
        told.greatest_cup = cup;
        told.worst_board = i;
    }
    return told;
}

} // namespace hollowtop
