// SPDX-License-Identifier: MIT
#include "cli/report/drawing/validation_pictures.hpp"

#include "cli/words/format.hpp"
#include "validation/families.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace hollowtop::cli {
namespace {

constexpr const char* ink_of_words = "currentColor"; // of the words about the picture
constexpr double reach = 1.5;                        // shares of what is allowed that a picture shows
constexpr double letter = 11;

double within_reach(double share) { return std::clamp(share, -reach, reach); }

void put_words(Svg& svg, Point at, const std::string& words, Anchor anchor) {
    svg.text(at, words, {.size = letter, .fill = ink_of_words, .anchor = anchor});
}

} // namespace

std::optional<double> share_of_allowed(const validation::Comparison& c) {
    const double allowed =
        c.tolerance.is_percent ? c.tolerance.size / 100 * std::abs(c.published) : c.tolerance.size;
    if (!c.computed || !std::isfinite(*c.computed) || allowed <= 0) return {};
    return (*c.computed - c.published) / allowed;
}

Svg convergence_picture(const ValidatedCase& one) {
    constexpr double width = 336, height = 118, left = 44, right = 24, top = 12, bottom = 34;
    Svg svg("meshes-" + one.about.id, width, height, "Meshes of " + one.about.id,
            "Differences of this case's values on its meshes, as shares of what is allowed.");
    double least = 0, most = 0;
    for (const MeshRun& mesh : one.meshes) {
        if (mesh.dofs <= 0) continue;
        least = least > 0 ? std::min(least, mesh.dofs) : mesh.dofs;
        most = std::max(most, mesh.dofs);
    }
    const double range = most > least ? std::log(most / least) : 1;
    const auto at = [&](double dofs, double share) {
        return Point{left + (dofs > 0 && most > least ? std::log(dofs / least) / range : 0.5) *
                                (width - left - right),
                     top + (1 - within_reach(share) / reach) / 2 * (height - top - bottom)};
    };
    const double upper = at(0, 1).y, lower = at(0, -1).y;
    svg.rectangle({left, upper}, width - left - right, lower - upper,
                  {.fill = ink_of_words, .opacity = 0.08});
    svg.line({left, at(0, 0).y}, {width - right, at(0, 0).y},
             {.stroke = ink_of_words, .width = 1, .opacity = 0.5});
    svg.open({{"class", "soft"}});
    for (const double share : {-1.0, 0.0, 1.0})
        put_words(svg, {left - 6, at(0, share).y + 4},
                  share == 0  ? "0"
                  : share > 0 ? "+1"
                              : "-1",
                  Anchor::end);
    double last = -100;
    for (const MeshRun& mesh : one.meshes)
        if (const double x = at(mesh.dofs, 0).x; mesh.dofs > 0 && x > last + 52) {
            put_words(svg, {x, height - bottom + 15}, significant(mesh.dofs, 6), Anchor::middle);
            last = x;
        }
    put_words(svg, {(left + width - right) / 2, height - 4}, "unknowns", Anchor::middle);
    svg.close();
    for (std::size_t line = 0; line < one.lines().size(); ++line) {
        std::vector<Point> points;
        for (const MeshRun& mesh : one.meshes)
            if (line < mesh.lines.size())
                if (const auto share = share_of_allowed(mesh.lines[line]))
                    points.push_back(at(mesh.dofs, *share));
        if (!one.lines()[line].ok) svg.open({{"class", "miss"}});
        if (points.size() > 1) svg.polyline(points, {.stroke = ink_of_words, .width = 1, .opacity = 0.7});
        for (const Point& point : points) svg.circle(point, 2, {.fill = ink_of_words, .opacity = 0.8});
        if (!one.lines()[line].ok) svg.close();
    }
    return svg;
}

Svg overview_picture(const std::vector<ValidatedCase>& cases, const std::string& id_end, double width) {
    const bool is_narrow = width < 500;
    const double left = is_narrow ? 10 : 330, right = 14, row = is_narrow ? 46 : 26, top = 10, bottom = 40;
    std::vector<const validation::Family*> families;
    for (const validation::Family& family : validation::families)
        if (std::any_of(cases.begin(), cases.end(), [&](const ValidatedCase& one) {
                return &validation::family_of(one.about.id) == &family;
            }))
            families.push_back(&family);
    const double height = top + row * static_cast<double>(families.size()) + bottom, end = height - bottom;
    Svg svg(
        "overview" + id_end, width, height, "All differences",
        "One row a family of cases, one dot a value: how far it lies off, as a share of what is allowed.");
    const auto x_of = [&](double share) {
        return left + (within_reach(share) / reach + 1) / 2 * (width - left - right);
    };
    svg.rectangle({x_of(-1), top}, x_of(1) - x_of(-1), end - top, {.fill = ink_of_words, .opacity = 0.08});
    svg.line({x_of(0), top}, {x_of(0), end}, {.stroke = ink_of_words, .width = 1, .opacity = 0.5});
    for (std::size_t k = 0; k < families.size(); ++k) {
        const double y = top + row * (static_cast<double>(k) + (is_narrow ? 0.75 : 0.5));
        put_words(svg, is_narrow ? Point{left, y - 18} : Point{left - 10, y + 4},
                  std::string(families[k]->heading), is_narrow ? Anchor::start : Anchor::end);
        for (const ValidatedCase& one : cases) {
            if (&validation::family_of(one.about.id) != families[k]) continue;
            for (const validation::Comparison& c : one.lines())
                if (const auto share = share_of_allowed(c)) {
                    if (!c.ok) svg.open({{"class", "miss"}});
                    svg.circle({x_of(*share), y}, 3, {.fill = ink_of_words, .opacity = c.ok ? 0.35 : 1});
                    if (!c.ok) svg.close();
                }
        }
    }
    svg.open({{"class", "soft"}});
    for (const double share : {-1.0, 0.0, 1.0})
        put_words(svg, {x_of(share), end + 16}, share == 0 ? "0" : share > 0 ? "+1" : "-1", Anchor::middle);
    put_words(svg, {x_of(0), end + 33}, "difference / what is allowed", Anchor::middle);
    svg.close();
    return svg;
}

} // namespace hollowtop::cli
