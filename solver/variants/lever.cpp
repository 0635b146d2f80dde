// SPDX-License-Identifier: MIT
#include "solver/variants/lever.hpp"

#include "materials/section.hpp"
#include "solver/variants/edits.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <initializer_list>
#include <utility>

namespace hollowtop {

void add_section(const Piece& piece, std::vector<Lever>& levers) {
    if (piece.stiffeners.empty() || piece.stiffeners.front().metal.empty()) return;
    const std::string from = piece.stiffeners.front().section;
    for (const Stiffener& bar : piece.stiffeners)
        if (bar.section != from) return;
    const materials::Section drawn = materials::parse_section(from);
    std::vector<std::pair<double, std::string>> heavier;
    for (const materials::SectionRow& row : materials::tabulated_sections()) {
        const std::string text = materials::text_of_section(row);
        if (text.empty()) continue;
        const materials::Section section = materials::parse_section(text);
        if (section.kind == drawn.kind && section.area > 1.05 * drawn.area &&
            section.height <= 2.5 * drawn.height && section.I_yy > drawn.I_yy)
            heavier.emplace_back(section.area, text);
    }
    std::sort(heavier.begin(), heavier.end());
    constexpr size_t most = 3;
    std::vector<std::string> tried;
    const size_t count = std::min(most, heavier.size());
    for (size_t i = 0; i < count; ++i)
        tried.push_back(heavier[count == 1 ? 0 : i * (heavier.size() - 1) / (count - 1)].second);
    if (tried.empty()) return;
    levers.push_back(
        {.change = Remedy{.kind = "section", .section = from, .work = work::larger_bar},
         .n_steps = static_cast<int>(tried.size()),
         .changes_stiffeners_alone = true,
         .rises = false,
         .step = [tried](Piece& p, int k) { set_section(p, "", tried[static_cast<size_t>(k - 1)]); },
         .tell = [tried](Remedy& change, int k) { change.section = tried[static_cast<size_t>(k - 1)]; }});
}

void add_none(const Piece& piece, std::vector<Lever>& levers) {
    if (piece.stiffeners.empty()) return;
    const auto drawn = static_cast<double>(piece.stiffeners.size());
    levers.push_back(
        {.change = Remedy{.kind = "no_stiffener", .from = drawn, .to = drawn, .work = work::less_routing},
         .n_steps = 1,
         .changes_stiffeners_alone = true,
         .rises = false,
         .step = [](Piece& p, int) { p.stiffeners.clear(); },
         .tell = [](Remedy& change, int) { change.to = 0; }});
}

void add_number(const Piece& piece, std::vector<Lever>& levers) {
    const auto drawn = static_cast<double>(piece.stiffeners.size());
    std::vector<Stiffener> like = piece.stiffeners;
    if (like.empty()) {
        const auto first = first_stiffener(piece);
        if (!first) return;
        like = {*first};
    }
    const int more_than = static_cast<int>(piece.stiffeners.size());
    levers.push_back({.change = Remedy{.kind = "number",
                                       .from = drawn,
                                       .to = drawn,
                                       .section = like.front().section,
                                       .work = work::more_bars},
                      .n_steps = 2,
                      .changes_stiffeners_alone = true,
                      .rises = false,
                      .step =
                          [like, more_than](Piece& p, int k) {
                              p.stiffeners = like;
                              set_number(p, more_than + k);
                          },
                      .tell = [more_than](Remedy& change, int k) { change.to = more_than + k; }});
}

void add_screws(const Piece& piece, const std::vector<std::string>& failing, std::vector<Lever>& levers) {
    const auto fails = [&](std::initializer_list<const char*> rows) {
        return std::find_first_of(failing.begin(), failing.end(), rows.begin(), rows.end()) != failing.end();
    };
    std::vector<const Stiffener*> screwed;
    for (const Stiffener& bar : piece.stiffeners)
        if (is_screwed(bar.screws.holes) && bar.screws.diameter > 0) screwed.push_back(&bar);
    if (screwed.empty()) return;
    const Screws drawn = screwed.front()->screws;
    const bool shorter = fails({"points of the screws"}),
               longer = fails({"thread of the screws", "screws pulled out", "screws in both"}),
               wider = fails({"screws too close"}),
               closer = fails({"screws in shear", "screws pulled out", "screws in both"});
    constexpr int n_steps = 6;
    const auto length = [drawn](int k, bool less) {
        return std::round(drawn.length * (less ? 1 - 0.08 * k : 1 + 0.1 * k));
    };
    if (shorter || longer)
        levers.push_back({.change = Remedy{.kind = "screw_length",
                                           .from = drawn.length,
                                           .to = drawn.length,
                                           .work = work::screws},
                          .n_steps = n_steps,
                          .rises = false,
                          .step =
                              [=](Piece& p, int k) {
                                  for (Stiffener& bar : p.stiffeners)
                                      if (is_screwed(bar.screws.holes))
                                          bar.screws.length = length(k, shorter);
                              },
                          .tell = [=](Remedy& change, int k) { change.to = length(k, shorter); }});
    static constexpr std::array<double, 5> usual{5, 4.5, 4, 3.5, 3}; // mm, common practice
    std::vector<double> thinner;
    for (const double d : usual)
        if (d < drawn.diameter - 0.1 && d > 0.6 * drawn.diameter) thinner.push_back(d);
    if (!thinner.empty() && (shorter || longer || wider || fails({"wood at the screws"})))
        levers.push_back(
            {.change = Remedy{.kind = "screw_diameter",
                              .from = drawn.diameter,
                              .to = drawn.diameter,
                              .work = work::screws},
             .n_steps = static_cast<int>(thinner.size()),
             .rises = false,
             .step =
                 [thinner](Piece& p, int k) {
                     for (Stiffener& bar : p.stiffeners)
                         if (is_screwed(bar.screws.holes))
                             bar.screws.diameter = thinner[static_cast<size_t>(k - 1)];
                 },
             .tell = [thinner](Remedy& change, int k) { change.to = thinner[static_cast<size_t>(k - 1)]; }});
    if (!(drawn.spacing > 0) || !(wider || closer)) return;
    const auto spacing = [drawn, wider](int k) {
        return std::round(drawn.spacing * (wider ? 1 + 0.4 * k : 1 / (1 + 0.25 * k)));
    };
    levers.push_back({.change = Remedy{.kind = "screw_spacing",
                                       .from = drawn.spacing,
                                       .to = drawn.spacing,
                                       .work = work::screws},
                      .n_steps = wider ? n_steps : 4,
                      .rises = false,
                      .step = [spacing](Piece& p, int k) { set_spacing(p, "", spacing(k)); },
                      .tell = [spacing](Remedy& change, int k) { change.to = spacing(k); }});
}

} // namespace hollowtop
