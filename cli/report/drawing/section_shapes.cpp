// SPDX-License-Identifier: MIT
#include "cli/report/drawing/section_shapes.hpp"

namespace hollowtop::cli {

std::vector<Rectangle> parts_of_section(const materials::Section& s) {
    const double h = s.height, t = s.thickness, y0 = s.contact_y0, y1 = s.contact_y1, middle = (y0 + y1) / 2;
    const auto part = [](double left, double right, double lowest, double highest) {
        return Rectangle{.x0 = left, .x1 = right, .y0 = lowest, .y1 = highest};
    };
    switch (s.kind) {
    case materials::SectionKind::angle:
        return {part(0, y1, -t, 0), part(0, t, -h, -t)};
    case materials::SectionKind::channel:
        return {part(0, s.width, -t, 0), part(0, t, -h + t, -t), part(0, s.width, -h, -h + t)};
    case materials::SectionKind::tee:
        return {part(y0, y1, -t, 0), part(middle - t / 2, middle + t / 2, -h, -t)};
    case materials::SectionKind::tube:
        return {part(y0, y1, -t, 0), part(y0, y0 + t, -h + t, -t), part(y1 - t, y1, -h + t, -t),
                part(y0, y1, -h, -h + t)};
    case materials::SectionKind::flat:
    case materials::SectionKind::bar:
        break;
    }
    return {part(y0, y1, -h, 0)};
}

} // namespace hollowtop::cli
