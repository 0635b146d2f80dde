// SPDX-License-Identifier: MIT
#pragma once
/// \file  One kind of change in steps, what each kind costs in work, and the levers of stiffeners; put together in
/// levers.hpp. mm.

#include "solver/piece/piece.hpp"
#include "solver/result/result.hpp"

#include <functional>
#include <string>
#include <vector>

namespace hollowtop {

/// One kind of change in steps 1 .. n_steps.
struct Lever {
    Remedy change; ///< its kind, where it starts, and how much work it is
    int n_steps = 0;
    bool changes_stiffeners_alone = false; ///< then the bare top's models serve every step
    bool rises = true; ///< each step helps more than the one before: halving finds the least; else one by one
    /// Of steps that do not rise: no one uses less than another by more than that; 0 where nothing is known of it.
    double most_apart = 0;
    std::function<void(Piece&, int)> step{};
    std::function<void(Remedy&, int)> tell{}; ///< fills in where step k ends
};

/// What a change costs beside its weight: the least first.
namespace work {
constexpr int fewer_loads = 9, other_wood = 8, other_board = 7, more_bars = 5, larger_bar = 4, moved_feet = 3,
              pads = 2, screws = 1, less_routing = 0;
} // namespace work

/// Heavier sections of the same kind from the table, for every stiffener.
void add_section(const Piece& piece, std::vector<Lever>& levers);
/// One stiffener more, or two; of a top that has none a usual angle.
void add_number(const Piece& piece, std::vector<Lever>& levers);
/// Does the top do without?
void add_none(const Piece& piece, std::vector<Lever>& levers);
/// Screws of the stiffeners: what the failing checks ask for.
void add_screws(const Piece& piece, const std::vector<std::string>& failing, std::vector<Lever>& levers);

} // namespace hollowtop
