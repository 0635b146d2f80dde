// SPDX-License-Identifier: MIT
#pragma once
/// \file  The first natural frequencies of the top on its supports, loads that stay taken as mass. Hz.
/// Supports that press under the standing loads are taken as held both ways; those that the top has left are
/// not.

#include "solver/situations/respond.hpp"
#include "solver/vibration/top_modes.hpp"

#include <optional>
#include <vector>

namespace hollowtop {

/// Empty where the top has no mass. `count` natural frequencies, lowest first. Throws Error(not_computable)
/// where they do not converge.
/// `kept`: the modes of the bare top, found where they are not there yet; a model whose stiffeners alone
/// change keeps them.
std::vector<double> first_frequencies(const Model& model, const std::vector<SolvedSituation>& solved,
                                      int count = 6, std::optional<TopModes>* kept = nullptr);

} // namespace hollowtop
