// SPDX-License-Identifier: MIT
#pragma once
/// \file  Places for labels that cover neither one another nor what must stay in sight.

#include "cli/report/svg.hpp"

#include <optional>
#include <vector>

namespace hollowtop::cli {

class Placer {
  public:
    /// Labels must stay inside the picture.
    Placer(double width, double height) : page_{0, 0, width, height} {}
    /// Labels must stay inside the box.
    explicit Placer(const Box& page) : page_(page) {}
    void take(const Box& box) { taken_.push_back(box); }
    bool is_free(const Box& box) const;
    /// The first candidate whose words fit; its box is then taken.
    std::optional<Point> place(std::string_view words, const Lettering& lettering,
                               const std::vector<Point>& candidates);

  private:
    Box page_;
    std::vector<Box> taken_;
};

/// The box about words turned by a quarter to the left (-90 degrees) about their place.
Box upright_box_of_words(Point at, std::string_view words, const Lettering& lettering);

} // namespace hollowtop::cli
