// SPDX-License-Identifier: MIT
#pragma once
/// \file  The natural frequencies of a top on bars, from the modes of the bare top and what it yields at rest
/// where bars and supports touch it.
///
/// A top that hangs free (but for lines that hold it) has its own modes: they depend neither on its pads nor
/// on what is screwed under it. With the lowest of them, and the yielding that the others would add at rest,
/// each arrangement of stiffeners is a problem of some thirty unknowns (MacNeal, A hybrid method of component
/// mode synthesis, Computers and Structures 1, 1971, from memory).
/// What is left out is the inertia of that yielding: about (f / f_left_out)^4 of a natural frequency.

#include "solver/situations/respond.hpp"

#include <memory>
#include <vector>

namespace hollowtop {

/// Modes x of the top as it floats, x' M x = 1 kg, M with the loads that stay: rigid motions first, then the
/// lowest others.
struct TopModes {
    std::vector<std::vector<double>> shapes; ///< over all dofs
    std::vector<double> lambda;              ///< N/mm/kg; 0 for the rigid motions
    int n_rigid = 0;
    std::vector<std::vector<double>> yields; ///< of the pinned top to M x, one a rigid motion
    std::vector<double> between;             ///< (M x_i)' yields_j, n_rigid squared
    /// Shapes and yields along each of the columns that were asked for last; what touches the top in the same
    /// places sees them again.
    std::shared_ptr<const TopColumns> seen_at{};
    std::vector<std::vector<double>> shapes_seen{}, yields_seen{};
};

/// `n_bent` of the others; the usual number is four times the natural frequencies that are told. Throws
/// Error(not_computable) where they do not converge.
TopModes top_modes(const Model& model, int n_bent = 24);

/// The lowest `count` natural frequencies, Hz, of the top with its bars: connections that hold both ways or
/// press when the top is at rest hold both ways.
/// The bars' mass counts where they touch the wood; how they twist and stretch by themselves does not.
std::vector<double> frequencies_on_bars(const Model& model, TopModes& modes,
                                        const std::vector<SolvedSituation>& solved, int count);

} // namespace hollowtop
