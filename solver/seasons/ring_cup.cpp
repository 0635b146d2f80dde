// SPDX-License-Identifier: MIT
#include "solver/seasons/ring_cup.hpp"

#include "materials/error.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace hollowtop {
namespace {

double sign_of(const RingBoard& board) { return board.bark_up ? 1 : -1; }

/// From the pith to the show face.
double to_show_face(const RingBoard& board, double thickness) {
    return board.bark_up ? board.pith + thickness : board.pith;
}

/// Rise of the show face, upwards +.
double show_rise(const RingBoard& board, double thickness, double k, double x) {
    return sign_of(board) * ring_rise(k, x, to_show_face(board, thickness));
}

double wave_of(const std::vector<double>& at, const std::vector<double>& height) {
    double x = 0, z = 0, xx = 0, xz = 0;
    const auto n = static_cast<double>(at.size());
    for (std::size_t i = 0; i < at.size(); ++i) {
        x += at[i] / n;
        z += height[i] / n;
    }
    for (std::size_t i = 0; i < at.size(); ++i) {
        xx += (at[i] - x) * (at[i] - x);
        xz += (at[i] - x) * (height[i] - z);
    }
    const double slope = xx > 0 ? xz / xx : 0;
    double low = 0, high = 0;
    for (std::size_t i = 0; i < at.size(); ++i) {
        const double above = height[i] - z - slope * (at[i] - x);
        low = std::min(low, above);
        high = std::max(high, above);
    }
    return high - low;
}

} // namespace

double ring_rise(double k, double x, double d) { return x == 0 ? 0 : -k * x * std::atan2(x, d); }

double ring_edge_turn(double k, double width, double y) {
    const double phi = std::atan2(width / 2, y);
    return k * (phi - std::sin(phi) * std::cos(phi));
}

double board_cup(const RingBoard& board, double thickness, double k) {
    return -show_rise(board, thickness, k, board.width / 2);
}

double board_scallop(const RingBoard& board, double thickness, double k) {
    const double turn = ring_edge_turn(k, board.width, board.pith + thickness / 2);
    return board_cup(board, thickness, k) - sign_of(board) * turn * board.width / 4;
}

PanelShape panel_shape(std::span<const RingBoard> boards, double thickness, double k) {
    constexpr int per_board = 24;
    PanelShape panel;
    double start = 0, level = 0, turn = 0; // where the board begins, and how the edge before it stands
    for (const RingBoard& board : boards) {
        if (!(board.width > 0))
            throw Error(ErrorKind::input,
                        {.place = "top.boards", .what = "a board has no width", .remedy = "give it"});
        const double half = board.width / 2;
        const double edge = sign_of(board) * ring_edge_turn(k, board.width, board.pith + thickness / 2);
        // edges turn by -edge on the left and +edge on the right against the board, which is laid to the edge before
        // it
        const double tilt = turn + edge;
        const double first = show_rise(board, thickness, k, -half) + tilt * half;
        for (int i = panel.at.empty() ? 0 : 1; i <= per_board; ++i) {
            const double x = -half + board.width * i / per_board;
            panel.at.push_back(start + half + x);
            panel.height.push_back(level + show_rise(board, thickness, k, x) - tilt * x - first);
        }
        start += board.width;
        level = panel.height.back();
        turn = tilt + edge;
    }
    const double whole = start > 0 ? start : 1, last = panel.height.empty() ? 0 : panel.height.back();
    for (std::size_t i = 0; i < panel.at.size(); ++i) {
        panel.height[i] -= last * panel.at[i] / whole;
        if (std::abs(panel.height[i]) > std::abs(panel.crown)) panel.crown = panel.height[i];
    }
    panel.wave = wave_of(panel.at, panel.height);
    return panel;
}

TurnedBoards flattest(std::span<const RingBoard> boards, double thickness, double k) {
    std::vector<RingBoard> now(boards.begin(), boards.end());
    TurnedBoards best{.turned = {}, .wave = panel_shape(now, thickness, k).wave};
    constexpr double worth = 0.02; // of the wave: less is not worth a turn
    // of a thousand boards only a few are turned: each pass costs the square of their number
    constexpr std::size_t effort = 4000;
    const std::size_t passes = std::min(boards.size(), effort / std::max<std::size_t>(1, boards.size()));
    for (std::size_t pass = 0; pass < passes; ++pass) {
        double least = best.wave * (1 - worth);
        int which = -1;
        for (std::size_t i = 0; i < now.size(); ++i) {
            now[i].bark_up = !now[i].bark_up;
            const double wave = panel_shape(now, thickness, k).wave;
            now[i].bark_up = !now[i].bark_up;
            if (wave < least) {
                least = wave;
                which = static_cast<int>(i);
            }
        }
        if (which < 0) break;
        now[static_cast<std::size_t>(which)].bark_up = !now[static_cast<std::size_t>(which)].bark_up;
        const auto known = std::find(best.turned.begin(), best.turned.end(), which);
        if (known == best.turned.end())
            best.turned.push_back(which);
        else
            best.turned.erase(known);
        best.wave = least;
    }
    return best;
}

std::vector<RingBoard> all_one_way(std::vector<RingBoard> boards, bool bark_up) {
    for (RingBoard& board : boards) board.bark_up = bark_up;
    return boards;
}

std::vector<RingBoard> alternating(std::vector<RingBoard> boards) {
    for (std::size_t i = 0; i < boards.size(); ++i) boards[i].bark_up = i % 2 == 0;
    return boards;
}

} // namespace hollowtop
