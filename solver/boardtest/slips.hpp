// SPDX-License-Identifier: MIT
#pragma once
/// \file  A result that no board has, and the slip of the pen that would explain it: centimetres for
/// millimetres, columns in the other order, the second tone.

#include "solver/boardtest/board.hpp"
#include "solver/boardtest/handbook.hpp"

#include <vector>

namespace hollowtop {

/// What is expected of the board before the test, MPa, and how far from it a result is no longer believed.
struct Plausible {
    double expected = 0;
    double least = 0, most = 0;
};
/// Of a wood with a handbook mean: from three tenths of it to twice.
Plausible plausible_of(const Handbook& book, bool across);
/// Where no wood is named: all that the table of woods holds, with the same scatter.
Plausible plausible_of_any_wood();

/// The slips that would turn the result into one between 0.6 and 1.6 of what is expected, the likeliest
/// first; none where it is as expected. `newtons_over_mm`: one in the unit of the loads as typed over one in
/// that of the deflections, N/mm; for columns in the other order.
std::vector<Message> slips_of(const TestedBoard& board, const BoardTest& test, const TestOutcome& outcome,
                              const Plausible& plausible, double newtons_over_mm);

} // namespace hollowtop
