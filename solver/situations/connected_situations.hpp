// SPDX-License-Identifier: MIT
#pragma once
/// \file  What supports, rails and screws carry in each situation: the contact problem at the connections
/// (docs/method.md, contact), before the top's own movements are asked for.

#include "solver/model/model.hpp"
#include "solver/numeric/complementarity.hpp"
#include "solver/situations/situations.hpp"

#include <span>
#include <vector>

namespace hollowtop {

/// What each connection carries in a situation.
struct ConnectedSituation {
    SituationPlan plan;
    ContactAnswer
        answer; ///< one entry a connection of Model::connections; rigid motions of the top first, then six a bar
};

/// Which connections press, a row a situation.
std::vector<std::vector<char>> pressing_of(std::span<const ConnectedSituation> connected);

/// `guess`: what pressed on another mesh or in a piece like this one, a row a situation; a good one saves time,
/// and changes no number. Where what passes would tip the top, so much of it is set down as does not quite
/// (SituationPlan::set_down). Throws Error(not_computable) where no support forces balance what stays, naming the
/// line about which the top tips.
std::vector<ConnectedSituation> connect_situations(const Model& model, std::vector<SituationPlan> plans,
                                                   std::span<const std::vector<char>> guess = {});
std::vector<ConnectedSituation> connect_situations(const Piece& piece, const Model& model,
                                                   std::span<const std::vector<char>> guess = {});

/// Nodal forces of the connections on the top, N and N mm, one column of Factor::n_dofs() a situation.
std::vector<double> connection_forces_of(const Model& model, std::span<const ConnectedSituation> connected);
/// The same after the columns that are there.
void append_connection_forces(const Model& model, std::span<const ConnectedSituation> connected,
                              std::vector<double>& columns);
/// What the loads do, which the model knows, added to the factor's answers, one column a situation.
void add_moved_by_loads(const Model& model, std::span<const ConnectedSituation> connected,
                        std::span<double> answered);

} // namespace hollowtop
