// SPDX-License-Identifier: MIT
#pragma once
/// \file  How much memory a model takes with all that was read of it. What is left out (names, short lists) is
/// less than a hundredth.

#include "solver/model/model.hpp"
#include "solver/readout/gather.hpp"
#include "solver/vibration/top_modes.hpp"

#include <cstddef>

namespace hollowtop {

/// The factor, the element matrices, loads and their answers, and what is kept for connections seen before. Of
/// a factored model.
std::size_t bytes_of(const Model& model);

std::size_t bytes_of(const Readings& readings);

std::size_t bytes_of(const TopModes& modes);

} // namespace hollowtop
