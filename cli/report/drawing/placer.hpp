// SPDX-License-Identifier: MIT
#pragma once
/// \file  Places for labels that cover neither one another nor what must stay in sight.

#include "cli/report/drawing/svg.hpp"

#include <array>
#include <optional>
#include <string>
#include <vector>

namespace hollowtop::cli {

/// What a label may lie on: nothing that is drawn; thin lines, which read through its rim; walls and edges as
/// well.
enum class Over { nothing, lines, edges };
inline constexpr std::array<Over, 3> from_the_best{Over::nothing, Over::lines, Over::edges};

class Placer {
  public:
    /// Labels must stay inside the picture.
    Placer(double width, double height) : page_{0, 0, width, height} {}
    /// Labels must stay inside the box.
    explicit Placer(const Box& page) : page_(page) {}
    /// No label lies on the box.
    void take(const Box& box) { taken_.push_back(box); }
    /// Only a label that may lie on lines, or on edges too, lies on the box.
    void keep_off(const Box& box, Over least) { kept_off_.push_back({box, least}); }
    bool is_free(const Box& box, Over over = Over::edges) const;
    /// The first candidate whose words fit on nothing, else on lines, else on edges; its box is then taken.
    std::optional<Point> place(std::string_view words, const Lettering& lettering,
                               const std::vector<Point>& candidates);
    /// The first candidate at which all lines fit, one below another; it is the place of the first.
    std::optional<Point> place_lines(const std::vector<std::string>& lines, const Lettering& lettering,
                                     const std::vector<Point>& candidates, Over over);

  private:
    struct KeptOff {
        Box box;
        Over least;
    };
    Box page_;
    std::vector<Box> taken_;
    std::vector<KeptOff> kept_off_;
};

/// From one base line to the next.
double line_height(const Lettering& lettering);

/// The box about words turned by a quarter to the left (-90 degrees) about their place.
Box upright_box_of_words(Point at, std::string_view words, const Lettering& lettering);

} // namespace hollowtop::cli
