// SPDX-License-Identifier: MIT
#pragma once
/// \file  What a straightedge laid on the show face would tell: the greatest distance, up or down, between
/// the face and the chord that joins the straightedge's ends, anywhere on the top, along the grain and across
/// it. Against the flat top that left the shop, so all that the loads move counts. mm.
///
/// The face is looked at on lines a sixteenth of the straightedge apart, and on each at places as far apart;
/// from the best of them on different hills the straightedge is then moved and the place along it sought to a
/// hundredth of a millimetre. Where a line does not leave room for the whole straightedge, as on narrow or
/// round tops, it is as long as fits.

#include "solver/result/response.hpp"
#include "solver/shell/shell.hpp"

#include <functional>
#include <span>

namespace hollowtop {

constexpr double straightedge_mm = 600; ///< what lies on most benches: common practice

/// `dofs` as in SolvedSituation.
Flatness flatness_of(const Shell& shell, std::span<const double> dofs);

/// The same of any face over an outline; `grain_rad` is the direction of one of the two ways, from x. For
/// tests.
Flatness flatness_of(const Loop& outline, double grain_rad, const std::function<double(Point)>& upward);

} // namespace hollowtop
