// SPDX-License-Identifier: MIT
#pragma once
/// \file  A drawing in DXF, release 12, plain text: what every router's and every cutter's software reads.
/// Format: Autodesk, DXF reference, release 12 (AC1009): groups of a code and a value, a line each. Lengths
/// in mm, y upwards.

#include "solver/piece/piece.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace hollowtop::cli {

/// A corner of a closed line; `bulge` is the tangent of a quarter of the angle of the arc to the next corner,
/// counter-clockwise
/// +, 0 for a straight side.
struct DxfVertex {
    Point at{};
    double bulge = 0;
};

class Dxf {
  public:
    /// A layer's name: capitals, digits and "_"; colours by the format's numbers (1 red, 3 green, 5 blue, 7
    /// black or white).
    void layer(std::string_view name, int colour);
    void line(std::string_view layer, Point from, Point to);
    void closed(std::string_view layer, const std::vector<DxfVertex>& vertices);
    void circle(std::string_view layer, Point centre, double radius);
    /// A release 12 text is plain ASCII. Latin letters with marks are spelt by their plain ones ("ä" as "ae"); of all
    /// other scripts each character is kept as \\U+XXXX, which programs for such drawings read as that character.
    void text(std::string_view layer, Point at, double height, std::string_view words);
    std::string file() const;

  private:
    std::string layers_, entities_;
    int n_layers_ = 0;
    bool any_ = false;
    Point least_{}, most_{};
    void reach(Point at);
};

} // namespace hollowtop::cli
