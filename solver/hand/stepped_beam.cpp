// SPDX-License-Identifier: MIT
#include "solver/hand/stepped_beam.hpp"

#include <algorithm>
#include <cmath>
#include <functional>

namespace hollowtop {
namespace {

/// What a section carries.
struct Carried {
    double moment = 0, shear = 0; ///< sagging +; growth of the moment with x
};

double share_left_of(const BeamStripLoad& load, double x) {
    if (load.to <= load.from) return load.from < x ? 1 : 0;
    return std::clamp((x - load.from) / (load.to - load.from), 0.0, 1.0);
}

Carried carried_at(const SteppedBeam& strip, const SteppedBeamAnswer& answer, double x) {
    Carried c;
    for (const BeamStripLoad& load : strip.loads) {
        const double share = share_left_of(load, x);
        if (share <= 0) continue;
        c.moment -= share * load.force * (x - (load.from + share * (load.to - load.from) / 2));
        c.shear -= share * load.force;
    }
    const auto support = [&](double at, double force, double couple) {
        if (x <= at) return;
        c.moment += force * (x - at) + couple;
        c.shear += force;
    };
    support(strip.left.at, answer.force[0], -answer.moment[0]);
    support(strip.right.at, answer.force[1], answer.moment[1]);
    return c;
}

std::vector<double> breaks_of(const SteppedBeam& strip) {
    std::vector<double> breaks{strip.left.at, strip.right.at};
    for (const BeamStep& step : strip.steps) breaks.insert(breaks.end(), {step.from, step.to});
    for (const BeamStripLoad& load : strip.loads) breaks.insert(breaks.end(), {load.from, load.to});
    const double low = strip.steps.front().from, high = strip.steps.back().to;
    for (double& x : breaks) x = std::clamp(x, low, high);
    return breaks;
}

/// Integral of M m / EI + V v / GA; `m` is straight between the breaks and `more`.
double work(const SteppedBeam& strip, const std::function<Carried(double)>& one,
            const std::function<Carried(double)>& other, std::vector<double> more = {}) {
    std::vector<double> breaks = breaks_of(strip);
    breaks.insert(breaks.end(), more.begin(), more.end());
    std::sort(breaks.begin(), breaks.end());
    double sum = 0;
    auto step = strip.steps.begin();
    for (std::size_t i = 0; i + 1 < breaks.size(); ++i) {
        const double from = breaks[i], to = breaks[i + 1], middle = (from + to) / 2, length = to - from;
        if (length <= 1e-9) continue;
        while (step + 1 != strip.steps.end() && middle > step->to) ++step;
        const double inset = 1e-9 * length; // to this side of what jumps
        const std::array<double, 3> at{from + inset, middle, to - inset};
        constexpr std::array<double, 3> weight{1.0 / 6, 4.0 / 6, 1.0 / 6};
        for (std::size_t k = 0; k < 3; ++k) {
            const Carried a = one(at[k]), b = other(at[k]);
            sum += weight[k] * length * (a.moment * b.moment / step->EI + a.shear * b.shear / step->GA);
        }
    }
    return sum;
}

/// The moment of a support that is turned by `turn` under the force it bears.
double holding_moment(const BeamStripSupport& support, double force, double turn) {
    const double whole = support.turning * std::abs(turn);
    if (!support.lets_go) return std::copysign(whole, turn);
    if (force <= 0) return 0;
    if (whole <= force * support.width / 6) return std::copysign(whole, turn);
    // pressed over the length c from one side, in a triangle: turning = k b^3 / 12, force = k turn c^2 / 2
    const double k = 12 * support.turning / std::pow(support.width, 3);
    const double c = std::sqrt(2 * force / (k * std::abs(turn)));
    return std::copysign(force * (support.width / 2 - c / 3), turn);
}

/// The moment m that the support gives where it turns by turn - compliance x m.
double settle(const BeamStripSupport& support, double force, double turn, double compliance) {
    if (support.turning <= 0) return 0;
    if (!support.lets_go) return turn / (1 / support.turning + compliance);
    double low = 0, high = std::abs(turn) / compliance;
    for (int i = 0; i < 60; ++i) {
        const double m = (low + high) / 2;
        (std::abs(holding_moment(support, force, std::abs(turn) - compliance * m)) > m ? low : high) = m;
    }
    return std::copysign(low, turn);
}

} // namespace

SteppedBeamAnswer solve_stepped_beam(const SteppedBeam& strip) {
    const double a = strip.left.at, length = strip.right.at - a;
    SteppedBeamAnswer answer;
    double moment = 0, total = 0;
    for (const BeamStripLoad& load : strip.loads) {
        total += load.force;
        moment += load.force * ((load.from + load.to) / 2 - a);
    }
    const double right_force = moment / length;
    answer.force = {total - right_force, right_force};
    const auto inside = [&](double x) { return x > a && x < strip.right.at; };
    const auto at_left = [&](double x) {
        return inside(x) ? Carried{1 - (x - a) / length, -1 / length} : Carried{};
    };
    const auto at_right = [&](double x) {
        return inside(x) ? Carried{(x - a) / length, 1 / length} : Carried{};
    };
    const SteppedBeamAnswer simple = answer;
    const auto loaded = [&](double x) { return carried_at(strip, simple, x); };
    const std::array<double, 2> turn{work(strip, loaded, at_left), work(strip, loaded, at_right)};
    const double f_ll = work(strip, at_left, at_left), f_lr = work(strip, at_left, at_right),
                 f_rr = work(strip, at_right, at_right);
    for (int round = 0; round < 40; ++round) {
        answer.moment[0] = settle(strip.left, answer.force[0], turn[0] - f_lr * answer.moment[1], f_ll);
        answer.moment[1] = settle(strip.right, answer.force[1], turn[1] - f_lr * answer.moment[0], f_rr);
        const double shift = (answer.moment[0] - answer.moment[1]) / length;
        answer.force = {simple.force[0] + shift, simple.force[1] - shift};
    }
    return answer;
}

double beam_movement(const SteppedBeam& strip, const SteppedBeamAnswer& answer, double x) {
    const double a = strip.left.at, b = strip.right.at;
    SteppedBeam unit = strip;
    unit.loads = {{x, x, 1}};
    SteppedBeamAnswer unit_answer;
    unit_answer.force = {1 - (x - a) / (b - a), (x - a) / (b - a)};
    return work(
        strip, [&](double s) { return carried_at(strip, answer, s); },
        [&](double s) { return carried_at(unit, unit_answer, s); }, {x});
}

} // namespace hollowtop
