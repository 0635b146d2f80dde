// SPDX-License-Identifier: MIT
// Sheet with surface resistance, 2 l thick, L = l S / D: Crank, The Mathematics of Diffusion, 1975, Eq. 4.50:
//     M(t) / M(end) = 1 - sum of 2 L^2 exp(-b^2 D t / l^2) / (b^2 (b^2 + L^2 + L)),   b tan b = L
// Air that swings as exp(i w t): the mean of the sheet swings by tanh(q l) / (q l) / (1 + D q tanh(q l) / S), q =
// sqrt(i w / D).
#include "solver/moisture/drying.hpp"

#include "solver/moisture/rim_section.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>
#include <numeric>
#include <vector>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

constexpr double day = 86400, year = 365 * day;
constexpr double D = 1.2e-4; // mm2/s
constexpr double bare = 1e-4, oil = 1.5e-5, film = 4e-6;

double root_of_series(double L, int n) { // b tan b = L in the n-th branch
    double low = n * std::numbers::pi, high = low + std::numbers::pi / 2;
    for (int i = 0; i < 200; ++i) {
        const double middle = (low + high) / 2;
        (middle * std::tan(middle) < L ? low : high) = middle;
    }
    return (low + high) / 2;
}

double share_taken_up(double half, double S, double time) {
    const double L = half * S / D;
    double left = 0;
    for (int n = 0; n < 400; ++n) {
        const double b = root_of_series(L, n);
        left += 2 * L * L * std::exp(-b * b * D * time / (half * half)) / (b * b * (b * b + L * L + L));
    }
    return 1 - left;
}

double total(const MoistureProfile& p) {
    return std::inner_product(p.width.begin(), p.width.end(), p.percent.begin(), 0.0);
}

/// Steps that grow from a thousandth of a day to a twelfth.
double mean_after(const DryingLine& line, double time, const RestMoisture& rest, double start, int cells) {
    MoistureProfile p = even_profile(line.thickness, start, cells);
    double now = 0;
    for (double step = day / 1000; now < time - 1; step = std::min(step * 1.15, day / 12)) {
        const double taken = std::min(step, time - now);
        dry(line, p, rest, now, taken);
        now += taken;
    }
    return total(p) / line.thickness;
}

} // namespace

TEST_CASE("a sheet under a finish takes up moisture as the series for surface resistance says",
          "[solver][published]") {
    for (const double S : {bare, oil, film})
        for (const double thickness : {18.0, 42.0})
            for (const double days : {2.0, 10.0, 40.0}) {
                CAPTURE(S, thickness, days);
                const DryingLine line{.thickness = thickness, .S_above = S, .S_below = S, .D_at_12 = D};
                const double share = (mean_after(line, days * day, air_over_both([](double) { return 7.0; }),
                                                 12, usual_cells) -
                                      12) /
                                     (7 - 12);
                CHECK_THAT(share, WithinRel(share_taken_up(thickness / 2, S, days * day), 0.001));
            }
}

TEST_CASE("a sheet in air that swings through the year swings as the periodic solution says",
          "[solver][published]") {
    using namespace std::complex_literals;
    const double omega = 2 * std::numbers::pi / year;
    for (const double S : {bare, film}) {
        CAPTURE(S);
        const double half = 21;
        const DryingLine line{.thickness = 2 * half, .S_above = S, .S_below = S, .D_at_12 = D};
        const std::complex<double> q = std::sqrt(1i * omega / D), t = std::tanh(q * half);
        const std::complex<double> swing = t / (q * half) / (1.0 + D * q * t / S);
        MoistureProfile p = even_profile(2 * half, 9);
        const RestMoisture rest = air_over_both([=](double time) { return 9 + 2 * std::cos(omega * time); });
        std::complex<double> seen = 0;
        constexpr int years = 4;
        for (int i = 0; i < years * 365; ++i) {
            dry(line, p, rest, i * day, day);
            if (i >= (years - 1) * 365)
                seen += (total(p) / (2 * half) - 9) * std::exp(-1i * omega * ((i + 1) * day)) * (2.0 / 365);
        }
        CHECK_THAT(std::abs(seen) / 2, WithinRel(std::abs(swing), 0.001));
        CHECK_THAT(std::arg(seen), WithinAbs(std::arg(swing), 0.001));
    }
}

TEST_CASE("half the step of time leaves a quarter of its error", "[solver][property]") {
    const DryingLine line{
        .thickness = 20, .S_above = oil, .S_below = film, .D_at_12 = D, .D_growth_per_percent = 0.12};
    const RestMoisture rest = air_over_both([](double time) { return 9 + 3 * std::sin(time / (4 * day)); });
    const auto with_steps = [&](int n) {
        MoistureProfile p = even_profile(line.thickness, 9);
        const double step = 8 * day / n;
        for (int i = 0; i < n; ++i) dry(line, p, rest, i * step, step);
        return total(p);
    };
    const double best = with_steps(1024), coarse = std::abs(with_steps(16) - best),
                 fine = std::abs(with_steps(32) - best);
    CHECK(coarse > 1e-6);
    CHECK_THAT(std::log2(coarse / fine), WithinAbs(2, 0.2));
}

TEST_CASE("what a sheet gains is what went in through its two faces", "[solver][property]") {
    const DryingLine line{
        .thickness = 30, .S_above = bare, .S_below = film, .D_at_12 = D, .D_growth_per_percent = 0.12};
    MoistureProfile p = even_profile(line.thickness, 12);
    const double before = total(p);
    double in = 0;
    for (int i = 0; i < 200; ++i) {
        const Faces g = dry(
            line, p, air_over_both([](double time) { return 8 + std::cos(time / (9 * day)); }), i * day, day);
        in += g.above + g.below;
    }
    CHECK(std::abs(in) > 10);
    CHECK_THAT(total(p) - before, WithinAbs(in, 1e-10 * before));
}

TEST_CASE("a diffusion that grows with moisture carries between two faces what Kirchhoff's integral says",
          "[solver][published]") {
    // at rest between 14 % above and 6 % below, with faces that hold nothing back: the flow is the integral of D du /
    // h
    constexpr double g = 0.12, h = 20, no_resistance = 1e3;
    const DryingLine line{.thickness = h,
                          .S_above = no_resistance,
                          .S_below = no_resistance,
                          .D_at_12 = D,
                          .D_growth_per_percent = g};
    MoistureProfile p = even_profile(h, 10);
    Faces in;
    for (int i = 0; i < 400; ++i)
        in = dry(
            line, p,
            [](double) {
                return Faces{14, 6};
            },
            i * day, day);
    const double flow = D * (std::exp(g * 2) - std::exp(g * -6)) / (g * h);
    CHECK_THAT(in.above / day, WithinRel(flow, 0.001));
    CHECK_THAT(in.below / day, WithinRel(-flow, 0.001));
}

TEST_CASE("a diffusion that grows with moisture is computed as well on the usual cells as on many",
          "[solver][property]") {
    for (const double S : {bare, film}) {
        const DryingLine line{
            .thickness = 42, .S_above = S, .S_below = S, .D_at_12 = D, .D_growth_per_percent = 0.12};
        for (const double days : {5.0, 30.0}) {
            const auto lost = [&](int cells) {
                return 12 -
                       mean_after(line, days * day, air_over_both([](double) { return 6.0; }), 12, cells);
            };
            CHECK_THAT(lost(usual_cells), WithinRel(lost(384), 0.001));
        }
    }
}

TEST_CASE("wood that rests in its air stays as it is, and a sealed sheet keeps what it holds",
          "[solver][property]") {
    for (const double S : {bare, 0.0}) {
        const DryingLine line{
            .thickness = 18, .S_above = S, .S_below = S, .D_at_12 = D, .D_growth_per_percent = 0.12};
        MoistureProfile p = even_profile(18, 9);
        for (int i = 0; i < 50; ++i)
            dry(line, p, air_over_both([=](double) { return S > 0 ? 9.0 : 5.0; }), i * day, day);
        for (const double percent : p.percent) CHECK_THAT(percent, WithinAbs(9, 1e-10));
    }
}

TEST_CASE("a skin that leads its rim leads by the shares of the design's own elements",
          "[solver][published]") {
    // skin 18 mm in a rim of 42 mm, an even step of the air, D 1.2e-10 m2/s: bare 0.44 on day 8, thin oil 0.39 on
    // day 17, film 0.34 on day 45, computed by independent elements and printed to two digits
    struct Case {
        double S, lead, on_day;
    };
    for (const Case& c : {Case{bare, 0.44, 8}, Case{oil, 0.39, 17}, Case{film, 0.34, 45}}) {
        CAPTURE(c.S);
        MoistureProfile skin = even_profile(18, 1), rim = even_profile(42, 1);
        double lead = 0, on_day = 0;
        for (int i = 0; i < 100 * 8; ++i) {
            for (MoistureProfile* p : {&skin, &rim}) {
                const double t = p == &skin ? 18 : 42;
                dry({.thickness = t, .S_above = c.S, .S_below = c.S, .D_at_12 = D}, *p,
                    air_over_both([](double) { return 0.0; }), i * day / 8, day / 8);
            }
            const double now = total(rim) / 42 - total(skin) / 18;
            if (now > lead) {
                lead = now;
                on_day = (i + 1) / 8.0;
            }
        }
        CHECK_THAT(lead, WithinAbs(c.lead, 0.0051));
        CHECK_THAT(on_day, WithinAbs(c.on_day, 1));
    }
}

TEST_CASE(
    "the straight part of a straight profile is the profile, and of one that is as much above as below none",
    "[solver]") {
    MoistureProfile p = even_profile(40, 0);
    double depth = 0;
    for (std::size_t i = 0; i < p.width.size(); ++i) {
        p.percent[i] = 10 - 3 * (depth + p.width[i] / 2) / 40;
        depth += p.width[i];
    }
    const StraightPart line = straight_part(p);
    CHECK_THAT(line.mean, WithinAbs(8.5, 1e-12));
    CHECK_THAT(line.difference, WithinAbs(3, 1e-12));
    CHECK_THAT(line.at(0), WithinAbs(10, 1e-12));
    for (std::size_t i = 0; i < p.width.size(); ++i)
        p.percent[i] = 5.0 + static_cast<double>(std::min(i, p.width.size() - 1 - i));
    CHECK_THAT(straight_part(p).difference, WithinAbs(0, 1e-12));
}

TEST_CASE("a rim that dries through its edge and the wall as well keeps what two sheets keep, multiplied",
          "[solver][published]") {
    // Newman's product: what is left of an even start in a bar is the product of what is left in two sheets, where D does
    // not depend on moisture (Crank, The Mathematics of Diffusion, 1975, ch. 2, for the product of solutions)
    for (const double factor : {1.0, 10.0})
        for (const double days : {5.0, 20.0}) {
            CAPTURE(factor, days);
            const RimSection rim{.width = 90,
                                 .depth = 42,
                                 .S_above = oil,
                                 .S_below = oil,
                                 .S_outer = oil,
                                 .S_wall = oil,
                                 .D_at_12 = D,
                                 .width_factor = factor};
            SectionMoisture moisture = even_section(rim, 12);
            const RestMoisture rest = air_over_both([](double) { return 7.0; });
            double now = 0;
            for (double step = day / 50; now < days * day - 1; step = std::min(step * 1.3, day / 2)) {
                const double taken = std::min(step, days * day - now);
                dry_section(rim, moisture, rest, now, taken);
                now += taken;
            }
            // a sheet whose D is f times as great is one of D whose S and time are S / f and f t
            const double across = 1 - share_taken_up(45, oil / factor, factor * days * day),
                         through = 1 - share_taken_up(21, oil, days * day);
            CHECK_THAT((moisture.mean() - 7) / 5, WithinRel(across * through, 0.003));
        }
}
