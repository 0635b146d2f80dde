// SPDX-License-Identifier: MIT
#pragma once
/// \file  One small drawing: lines, shapes and words in SVG 1.1, each picture with a text alternative.
///
///     (0, 0) +-----------> x     width x height in the drawing's own units; one unit is one CSS pixel where the
///            |                   picture is shown at its natural size
///            v  y
///
/// Everything is said by presentation attributes, so a drawing looks the same inside a page and as a file of
/// its own.
/// Words from a piece file may hold anything: they are escaped here. Numbers are written with at most three
/// decimals.

#include "cli/words/markup.hpp"
#include "solver/piece/piece.hpp"

#include <cstddef>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace hollowtop::cli {

/// "12", "12.5", "-0.125": at most three decimals, no trailing zeros.
std::string coordinate(double value);

/// How a shape is drawn. A colour is anything SVG takes ("#24566b", "url(#hatch)"); "none" leaves it out.
struct Look {
    std::string fill = "none";
    std::string stroke = "none";
    double width = 1;      ///< of the stroke
    std::string dash = {}; ///< such as "4 3"; empty: a full line
    double opacity = 1;
    bool even_odd = false; ///< of a path: what lies within an even number of its runs is left out
};

enum class Anchor { start, middle, end };

/// How words are drawn; `at` is on their base line.
struct Lettering {
    double size = 12;
    std::string fill = "#26231f";
    Anchor anchor = Anchor::start;
    bool bold = false;
    double turn_deg = 0;   ///< about `at`, clockwise as seen
    std::string halo = {}; ///< colour of a rim about the letters, so that they read on lines; empty: none
};

using Attributes = std::vector<std::pair<std::string, std::string>>;

/// The outline of a shape: lines and circular or elliptic arcs, in one or several closed or open runs.
class SvgPath {
  public:
    SvgPath& move(Point to);
    SvgPath& line(Point to);
    /// An arc on an ellipse parallel to the axes. `clockwise` as seen on the screen.
    SvgPath& arc(Point to, double rx, double ry, bool clockwise, bool the_long_way = false);
    SvgPath& close();
    SvgPath& polygon(const std::vector<Point>& points);
    SvgPath& circle(Point centre, double radius);
    bool empty() const { return d_.empty(); }
    const std::string& d() const { return d_; }

  private:
    std::string d_;
};

class Svg {
  public:
    /// `id` names the picture within its page: letters, digits and hyphens. `title` is its name in a few
    /// words and `description` what a reader who cannot see it needs to know.
    Svg(std::string id, double width, double height, std::string title, std::string description);

    double width() const { return width_; }
    double height() const { return height_; }

    void line(Point from, Point to, const Look& look);
    void polyline(const std::vector<Point>& points, const Look& look);
    void polygon(const std::vector<Point>& points, const Look& look);
    void rectangle(Point corner, double width, double height, const Look& look, double radius = 0);
    void circle(Point centre, double radius, const Look& look);
    void path(const SvgPath& path, const Look& look);
    void text(Point at, std::string_view words, const Lettering& lettering = {},
              const Attributes& attributes = {});

    /// What is drawn until close() lies in a group. Attributes are escaped.
    void open(const Attributes& attributes = {});
    void close();
    /// A clip of that shape; gives the attribute for open() that applies it.
    std::pair<std::string, std::string> clip(const SvgPath& shape);
    /// Parallel lines as a fill: gives what stands as a Look's fill.
    std::string hatch(double spacing, double turn_deg, const std::string& colour, double line_width,
                      const std::string& ground = "none");

    /// What stands between the tags, without title and description: for a drawing that holds this one.
    std::string inner() const;
    /// The element, for a page.
    std::string element() const;
    /// A file of its own. Where `natural_width` is given ("210mm"), with that size.
    std::string file(const std::string& natural_width = {}, const std::string& natural_height = {}) const;

  private:
    std::string rendered(const std::string& root_attributes) const;
    std::string id_, title_, description_, definitions_, body_;
    double width_, height_;
    int n_definitions_ = 0;
    int n_open_ = 0;
};

/// How wide words will be, on the safe side for any ordinary typeface.
double width_of_words(std::string_view words, double size);

struct Box {
    double x0 = 0, y0 = 0, x1 = 0, y1 = 0;
    bool meets(const Box& other) const {
        return x0 < other.x1 && other.x0 < x1 && y0 < other.y1 && other.y0 < y1;
    }
};
/// The box about words drawn unturned at a place.
Box box_of_words(Point at, std::string_view words, const Lettering& lettering);

} // namespace hollowtop::cli
