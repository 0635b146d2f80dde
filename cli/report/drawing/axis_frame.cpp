// SPDX-License-Identifier: MIT
#include "cli/report/drawing/axis_frame.hpp"

#include "cli/report/drawing/colours.hpp"
#include "cli/words/format.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop::cli {
namespace {

constexpr double letter = 12;
constexpr double room_a_tick_across = 90, room_a_tick_upwards = 55;

} // namespace

std::vector<double> round_ticks(double low, double high, int wanted) {
    const double range = std::max(high - low, 1e-9 * std::max({1.0, std::abs(low), std::abs(high)}));
    const double rough = range / std::max(wanted, 1), power = std::pow(10, std::floor(std::log10(rough)));
    double step = power;
    for (const double times : {1.0, 2.0, 5.0, 10.0}) {
        step = times * power;
        if (step >= rough * (1 - 1e-9)) break;
    }
    std::vector<double> ticks;
    for (double k = std::ceil(low / step - 1e-9); k * step <= high + 1e-9 * step; ++k)
        ticks.push_back(k * step);
    if (ticks.empty()) ticks.push_back(std::round(low / step) * step);
    return ticks;
}

AxisFrame::AxisFrame(Svg& svg, const Box& box, NumberAxis across, NumberAxis upwards)
    : box_(box), across_(std::move(across)), upwards_(std::move(upwards)) {
    const int n_across = std::max(2, static_cast<int>((box.x1 - box.x0) / room_a_tick_across));
    const int n_upwards = std::max(2, static_cast<int>((box.y1 - box.y0) / room_a_tick_upwards));
    const Look hair{.stroke = ink::hair, .width = 1};
    for (const double tick : round_ticks(across_.low, across_.high, n_across)) {
        const double x = at(tick, upwards_.low).x;
        svg.line({x, box.y0}, {x, box.y1}, hair);
        svg.text({x, box.y1 + 1.5 * letter}, significant(tick, 6),
                 {.size = letter, .fill = ink::soft, .anchor = Anchor::middle});
    }
    for (const double tick : round_ticks(upwards_.low, upwards_.high, n_upwards)) {
        const double y = at(across_.low, tick).y;
        svg.line({box.x0, y}, {box.x1, y}, hair);
        svg.text({box.x0 - 0.6 * letter, y + 0.35 * letter}, significant(tick, 6),
                 {.size = letter, .fill = ink::soft, .anchor = Anchor::end});
    }
    const Look line{.stroke = ink::line, .width = 1};
    svg.line({box.x0, box.y1}, {box.x1, box.y1}, line);
    svg.line({box.x0, box.y0}, {box.x0, box.y1}, line);
    svg.text({(box.x0 + box.x1) / 2, box.y1 + 3.2 * letter}, across_.label,
             {.size = letter, .fill = ink::text, .anchor = Anchor::middle});
    svg.text({box.x0, box.y0 - letter}, upwards_.label,
             {.size = letter, .fill = ink::text, .anchor = Anchor::start});
}

Point AxisFrame::at(double across, double upwards) const {
    return {box_.x0 + (across - across_.low) / (across_.high - across_.low) * (box_.x1 - box_.x0),
            box_.y1 - (upwards - upwards_.low) / (upwards_.high - upwards_.low) * (box_.y1 - box_.y0)};
}

} // namespace hollowtop::cli
