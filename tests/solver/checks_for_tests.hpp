// SPDX-License-Identifier: MIT
#pragma once
/// \file  Hand-made responses for the tests of the checks: an oak top 1000 x 600 x 30 whose stresses the test
/// writes.

#include "materials/duration.hpp"
#include "solver/checks/checks.hpp"
#include "solver/checks/judges.hpp"
#include "solver/shell/shell.hpp"

#include <deque>
#include <functional>
#include <list>
#include <memory>
#include <optional>
#include <string>
#include <utility>

namespace hollowtop {

inline Piece oak_top() {
    Piece piece;
    piece.top.length = 1000;
    piece.top.width = 600;
    piece.top.thickness = 30;
    piece.top.wood = "oak_white";
    piece.top.ring_angle_deg = 90;
    piece.allowables.grade_ratio = 1;
    for (const Point at : {Point{50, 50}, Point{950, 50}, Point{50, 550}, Point{950, 550}})
        piece.supports.push_back({"pad", Pad{.at = at, .size_x = 60, .size_y = 60, .stiffness = {}}});
    return piece;
}

/// A field from a function of the place, surveyed every 50 mm.
inline StressField field_of(std::function<StressSample(Point)> at) {
    StressField field;
    for (double x = 25; x < 1000; x += 50)
        for (double y = 25; y < 600; y += 50) field.survey.push_back(at({x, y}));
    field.at = [at = std::move(at),
                told = std::make_shared<std::deque<StressSample>>()](Point p) -> const StressSample* {
        const bool on_top = p.x >= 0 && p.x <= 1000 && p.y >= 0 && p.y <= 600;
        return on_top ? &told->emplace_back(at(p)) : nullptr;
    };
    return field;
}

/// The same stresses everywhere.
inline StressField even_field(std::array<double, 3> top, std::array<double, 3> bottom,
                              std::array<double, 2> shear = {}) {
    return field_of([=](Point p) {
        return StressSample{.at = p, .thickness = 12, .top = top, .bottom = bottom, .shear = shear};
    });
}

inline SituationResponse situation(const std::string& name, Stage stage, Duration duration) {
    SituationResponse one;
    one.name = name;
    one.stage = stage;
    one.duration = duration;
    one.span = {.span_mm = 900, .overhang_mm = 0};
    one.stress = even_field({}, {});
    return one;
}

inline Response response_of(SituationResponse one) {
    Response response;
    response.situations.push_back(std::move(one));
    return response;
}

/// The first situation as a check is handed it.
inline CheckInput input_of(const Piece& piece, const Response& response) {
    const SituationResponse& first = response.situations.front();
    static std::list<std::optional<materials::AllowableStresses>> kept; // an input only refers to them
    kept.push_back(allowables_of(piece, first.duration));
    return {.piece = piece,
            .response = response,
            .situation = first,
            .plane = plane_of(piece),
            .allowables = kept.back()};
}

} // namespace hollowtop
