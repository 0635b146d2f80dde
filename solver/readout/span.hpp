// SPDX-License-Identifier: MIT
#pragma once
/// \file  The span that a sag is a share of: how far apart the supports about its place are, in the direction
/// in which the top spans there. It looks at supports and place alone, so that turning the drawing changes
/// nothing. mm.
///
/// Between the supports: from the place straight ahead and straight back to the lines that hold the top; the
/// least sum over all directions is the shortest way across. Between two bearers, two walls or the sides of a
/// frame that is the distance of their middles. A foot is seldom straight ahead: there two circles that touch
/// at the place, one on either side of the line across the direction, are each grown until they meet one, and
/// their diameters count. Among single feet that runs from corner to corner, which is longer than a top of
/// feet spans: there the supports that see the place (no other support lies in the circle whose diameter
/// joins the two) stand for the rectangle with their greatest distance and their least width, and its longer
/// side is the span. The shorter of the two counts.
///
/// Where lines that hold the top lie straight ahead and behind the other way too, as in a frame all round,
/// the top spans both ways: of two strips that cross each carries by its bending stiffness over the fourth
/// power of its length (Grashof's strips, from memory), and the span is the mean of both lengths by what each
/// carries.
///
/// A rail bends under what it carries, and that is part of the sag: where there are rails the span from leg
/// to leg counts if it is greater.

#include "solver/piece/piece.hpp"
#include "solver/result/response.hpp"

#include <functional>
#include <map>
#include <mutex>
#include <utility>
#include <vector>

namespace hollowtop {

/// Bending stiffness of the top along a direction, on whatever scale; the same every way where it is empty.
using WayStiffness = std::function<double(Point)>;

/// Past the supports (outside of the smallest convex shape that holds all that the top rests on) the span is
/// that of the room behind them, and the overhang the distance to them. Where nothing spans (a pedestal, one
/// bearer) it is the spread of what the top rests on there. Nought where nothing holds the top up.
Span span_at(const std::vector<Support>& supports, Point place, const WayStiffness& stiffness = {});

/// The spans of one top, each place reckoned once, for who asks for the same places again and again; on any thread.
class KeptSpans {
  public:
    KeptSpans(std::vector<Support> supports, WayStiffness stiffness)
        : supports_(std::move(supports)), stiffness_(std::move(stiffness)) {}
    Span at(Point place) const;

  private:
    std::vector<Support> supports_;
    WayStiffness stiffness_;
    mutable std::mutex guard_;
    mutable std::map<std::pair<double, double>, Span> known_;
};

} // namespace hollowtop
