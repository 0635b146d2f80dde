// SPDX-License-Identifier: MIT
#include "solver/boardtest/board.hpp"

#include "materials/assert.hpp"
#include "materials/error.hpp"
#include "materials/table.hpp"
#include "solver/boardtest/free_beam.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace hollowtop {
namespace {

// Estimates of ours on published comparisons, where not said otherwise; the guide names them.
constexpr double tone_over_load_bending =
    1.10; // of 1.14 (Hassan, Horacek and Tippner 2013, BioResources 8(2):1634) some is shear
constexpr double tone_over_load_along = 1.175; // of 1.22, same source
constexpr double tone_over_load_error = 0.04;  // 95 % within 8 %
constexpr double uneven_board =
    0.02; // a bend test with an error budget of 2.2 % is good for 6 % at 95 %: (3.0^2 - 2.2^2)^1/2
constexpr double uneven_strip = 0.06; // across the grain: good for 15 % at 95 %
constexpr double moisture_rate =
    0.015; // E12 = E (1 + 0.015 (u - 12)), between two published rules of 1 and 2 %
constexpr double moisture_rate_error = 0.0025; // 95 % within 0.005
constexpr double density_rate = 0.005;         // EN 384, from memory
constexpr double plate_from = 1.0 / 3;         // width over span

/// All that a modulus is reckoned from. An error belongs to one of them.
struct Inputs {
    double length = 0, width = 0, thickness = 0, mass = 1, span = 1, load = 1, slope = 1, hertz = 1,
           E_over_G = 15;
    double poisson_product = 0, moisture = 12, rate = moisture_rate, static_ratio = 1, even = 1;
};

/// Stiffness at `moisture` over that at 12 %, drier wood without limit.
double stiffness_at(double moisture, double rate) { return 1 / (1 + rate * (moisture - 12)); }

struct Ways {
    TestKind kind{};
    std::optional<double> to_moisture{}; ///< none: as tested
    bool is_plate = false;
};

double plain_modulus(const Inputs& in, TestKind kind) {
    const double volume = in.length * in.width * in.thickness;
    switch (kind) {
    case TestKind::bend:
        return in.load * std::pow(in.span, 3) / (4 * in.width * std::pow(in.thickness, 3) * in.slope);
    case TestKind::tone_bending:
        // kg/mm/s2 = 1e-3 N/mm2
        return 48 * std::pow(std::numbers::pi / slender_tone, 2) * in.mass * in.hertz * in.hertz *
               std::pow(in.length / in.thickness, 3) / in.width * 1e-3;
    case TestKind::tone_along:
        return 4 * in.length * in.length * in.hertz * in.hertz * in.mass / volume * 1e-3;
    }
    return 0;
}

double shear_factor(const Inputs& in, TestKind kind) {
    switch (kind) {
    case TestKind::bend:
        return 1 + 1.2 * in.E_over_G *
                       std::pow(in.thickness / in.span, 2); // Timoshenko, rectangle, coefficient 5/6
    case TestKind::tone_bending:
        return shear_factor_of_tone(in.E_over_G, in.thickness / in.length);
    case TestKind::tone_along:
        break;
    }
    return 1;
}

double modulus_of(const Inputs& in, const Ways& ways) {
    double E = plain_modulus(in, ways.kind) * shear_factor(in, ways.kind) * in.even / in.static_ratio;
    if (ways.is_plate) E *= 1 - in.poisson_product;
    if (ways.to_moisture) E *= stiffness_at(*ways.to_moisture, in.rate) / stiffness_at(in.moisture, in.rate);
    return E;
}

struct Source {
    ErrorFrom from;
    double Inputs::*input;
    double error;
};

std::vector<ErrorPart> parts_of(const Inputs& in, const Ways& ways, const std::vector<Source>& sources) {
    std::vector<ErrorPart> parts;
    for (const Source& source : sources) {
        if (!(source.error > 0)) continue;
        Inputs more = in, less = in;
        more.*source.input += source.error;
        less.*source.input -= source.error;
        const double share = std::log(modulus_of(more, ways) / modulus_of(less, ways)) / 2;
        if (std::abs(share) > 1e-7) parts.push_back({source.from, share});
    }
    return parts;
}

double size_of(const std::vector<ErrorPart>& parts) {
    double squares = 0;
    for (const ErrorPart& part : parts) squares += part.share * part.share;
    return std::sqrt(squares);
}

/// The gain of wood that dries on is not counted below 12 %, as nowhere in this program.
double counted_moisture(const TestedBoard& board) {
    const double tested = board.moisture_percent->value,
                 piece = board.piece_moisture_percent.value_or(tested);
    return piece < tested ? std::min(tested, std::max(piece, 12.0)) : piece;
}

void refuse(bool is_wrong, Message what, Message remedy) {
    if (is_wrong) throw Error(ErrorKind::input, Fault{"", std::move(what), std::move(remedy)});
}

/// Faults of the set-up that no arithmetic mends.
void warn_of_set_up(TestOutcome& outcome, const TestedBoard& board) {
    std::vector<Message>& told = outcome.warnings;
    constexpr double least = 14, wanted = 20, hard_MPa = 8, hard_across_MPa = 1;
    const double slender = outcome.slenderness;
    if (outcome.kind != TestKind::tone_along && slender < least)
        told.push_back(said("only {} times as long as deep: 14 is the least, 24 to 30 best; {} % of the "
                            "movement is shear, which "
                            "rests on a G that nobody measured",
                            number(slender),
                            number(100 * outcome.shear_share / (1 + outcome.shear_share), significant(2))));
    else if (outcome.kind == TestKind::bend && slender < wanted)
        told.push_back(
            said("{} times as long as deep: 24 to 30 would rest less on the shear modulus", number(slender)));
    const double hard = board.across ? hard_across_MPa : hard_MPa;
    if (outcome.stress_MPa > hard)
        told.push_back(said(
            "the greatest load stressed the wood to {}, over {}: the readings may hold some that does not "
            "come back, and the board has been tried hard",
            amount(outcome.stress_MPa, Unit::MPa), amount(hard, Unit::MPa)));
}

void warn_of_line(TestOutcome& outcome, const BoardTest& test) {
    std::vector<Message>& told = outcome.warnings;
    const Line& line = *outcome.line;
    if (line.off) {
        const LoadReading& reading = test.readings[line.off->index];
        told.push_back(said(
            "reading {} ({} at {}) lies {} off the line of the others: read that step again; without it the "
            "stiffness is {} % of what is told here",
            line.off->index + 1, amount(reading.deflection_mm, Unit::mm, decimals(3)),
            amount(reading.load_N, Unit::N), amount(std::abs(line.off->off_mm), Unit::mm, significant(2)),
            number(100 * line.slope / line.off->slope_without)));
    } else if (line.scatters) {
        told.push_back(said(
            "the readings lie {} about their line, more than a gauge good for {} explains: something slips, "
            "creeps or touches; that scatter is what is reckoned with",
            amount(line.scatter_mm, Unit::mm, significant(2)),
            amount(test.gauge_mm, Unit::mm, significant(2))));
    }
    if (line.curves && *line.curves > 0)
        told.push_back(said("the board gives {} % more per newton at the end than at the beginning: too much "
                            "load, or a board that "
                            "slides in on its bars; use the first steps alone",
                            number(100 * *line.curves, significant(2))));
    if (line.curves && *line.curves < 0)
        told.push_back(
            said("the board gives {} % less per newton at the end than at the beginning: it settled on its "
                 "bars first, or "
                 "touches something; preload it with a tenth of the load and set the gauge to nought then",
                 number(-100 * *line.curves, significant(2))));
    if (line.gap_mm)
        told.push_back(said("on the way back the gauge showed {} {} at the same loads: the bars crush or "
                            "creep; wait less, or gauge the "
                            "board at its supports too",
                            amount(std::abs(*line.gap_mm), Unit::mm, significant(2)),
                            *line.gap_mm > 0 ? "more" : "less"));
    if (test.readings.size() == 2)
        told.push_back("two readings always lie on a line: a third would show a slip");
    const auto [low, high] =
        std::minmax_element(test.readings.begin(), test.readings.end(),
                            [](const auto& a, const auto& b) { return a.load_N < b.load_N; });
    const double moved = (high->load_N - low->load_N) * line.slope;
    constexpr double least_moved = 50, usual_most = 0.01;
    if (moved < least_moved * test.gauge_mm)
        told.push_back(
            said("the board moved {} in all, little for a gauge good for {}: load more, or use a longer span",
                 amount(moved, Unit::mm, significant(2)), amount(test.gauge_mm, Unit::mm, significant(2))));
    if (moved > usual_most * test.span.value)
        told.push_back(said(
            "the board moved {}, over a hundredth of the span: a beam bends otherwise by then; load less",
            amount(moved, Unit::mm, significant(2))));
}

} // namespace

double bending_modulus(double modulus) { return modulus / materials::rule("wood_rules", "E_L_rule").value; }

TestOutcome outcome_of(const TestedBoard& board, const BoardTest& test) {
    TestOutcome outcome{.kind = test.kind, .name = test.name};
    const bool is_bend = test.kind == TestKind::bend;
    Inputs in{.length = board.length.value, .width = board.width.value, .thickness = board.thickness.value};
    in.E_over_G = board.E_over_G.value;
    in.poisson_product = board.poisson_product;
    std::vector<Source> sources{{ErrorFrom::thickness, &Inputs::thickness, board.thickness.error},
                                {ErrorFrom::width, &Inputs::width, board.width.error}};
    if (is_bend) {
        refuse(!(test.span.value > 0), "a bend test needs the span between its bars", "give the span");
        refuse(board.length.value > 0 && test.span.value > board.length.value,
               said("the span of {} is longer than the board ({})",
                    amount(test.span.value, Unit::mm, significant(6)),
                    amount(board.length.value, Unit::mm, significant(6))),
               "the span is what lies between the middles of the bars");
        in.span = test.span.value;
        outcome.line = line_through(test.readings, test.gauge_mm);
        in.slope = outcome.line->slope;
        in.even = 1;
        sources.insert(sources.end(), {{ErrorFrom::span, &Inputs::span, test.span.error},
                                       {ErrorFrom::load, &Inputs::load, test.load_error},
                                       {ErrorFrom::reading, &Inputs::slope, outcome.line->slope_error},
                                       {ErrorFrom::board_is_even, &Inputs::even,
                                        board.across ? uneven_strip : uneven_board}});
        double most = 0;
        for (const LoadReading& reading : test.readings) most = std::max(most, std::abs(reading.load_N));
        outcome.stress_MPa = 1.5 * most * in.span / (in.width * in.thickness * in.thickness);
        outcome.slenderness = in.span / in.thickness;
    } else {
        refuse(!board.mass_kg, "a tone needs the weight of the board", "weigh it whole");
        refuse(!(board.length.value > 0), "a tone needs the length of the board", "give its length");
        in.mass = board.mass_kg->value;
        in.hertz = test.hertz.value;
        in.static_ratio = test.kind == TestKind::tone_bending ? tone_over_load_bending : tone_over_load_along;
        sources.insert(sources.end(), {{ErrorFrom::length, &Inputs::length, board.length.error},
                                       {ErrorFrom::mass, &Inputs::mass, board.mass_kg->error},
                                       {ErrorFrom::tone, &Inputs::hertz, test.hertz.error},
                                       {ErrorFrom::static_ratio, &Inputs::static_ratio,
                                        in.static_ratio * tone_over_load_error}});
        outcome.slenderness = in.length / in.thickness;
    }
    sources.push_back({ErrorFrom::shear, &Inputs::E_over_G, board.E_over_G.error});
    Ways ways{.kind = test.kind};
    ways.is_plate = is_bend && in.width > plate_from * in.span;
    // whether the bars hold it straight across is not known: half of the share either way
    if (ways.is_plate)
        sources.push_back({ErrorFrom::plate, &Inputs::poisson_product, board.poisson_product / 2});
    Ways ways_12 = ways;
    if (board.moisture_percent && !board.across) {
        in.moisture = board.moisture_percent->value;
        ways.to_moisture = counted_moisture(board);
        ways_12.to_moisture = 12;
        sources.push_back({ErrorFrom::meter, &Inputs::moisture, board.moisture_percent->error});
        sources.push_back({ErrorFrom::moisture_rate, &Inputs::rate, moisture_rate_error});
        if (*ways.to_moisture == in.moisture)
            ways.to_moisture.reset(); // as tested: nothing is corrected, nothing is in doubt
    }
    outcome.apparent = plain_modulus(in, test.kind);
    outcome.modulus = modulus_of(in, ways);
    outcome.modulus_12 = modulus_of(in, ways_12);
    outcome.parts = parts_of(in, ways, sources);
    outcome.uncertainty = size_of(outcome.parts);
    outcome.uncertainty_12 = size_of(parts_of(in, ways_12, sources));
    outcome.shear_share = shear_factor(in, test.kind) - 1;
    if (ways.is_plate) outcome.plate_share = 1 / (1 - board.poisson_product) - 1;
    if (test.kind == TestKind::tone_bending)
        outcome.isotropic = outcome.modulus / (1 + outcome.shear_share) *
                            isotropic_factor_of_tone(0.3, in.thickness / in.length);
    warn_of_set_up(outcome, board);
    if (is_bend) warn_of_line(outcome, test);
    return outcome;
}

std::optional<Gauged> density_of(const TestedBoard& board) {
    if (!board.mass_kg || !(board.length.value > 0)) return std::nullopt;
    constexpr double mm3_per_m3 = 1e9;
    double density =
        board.mass_kg->value / (board.length.value * board.width.value * board.thickness.value) * mm3_per_m3;
    double squares = 0;
    for (const Gauged& gauged : {*board.mass_kg, board.length, board.width, board.thickness})
        squares += std::pow(gauged.error / gauged.value, 2);
    if (board.moisture_percent && board.piece_moisture_percent) {
        const double off = board.moisture_percent->value - *board.piece_moisture_percent;
        density *= 1 - density_rate * off;
        if (off != 0) squares += std::pow(density_rate * board.moisture_percent->error, 2);
    }
    return Gauged{.value = density, .error = density * std::sqrt(squares)};
}

Gauged updated(Gauged prior, Gauged measured) {
    const double a = 1 / (prior.error * prior.error), b = 1 / (measured.error * measured.error);
    return {.value = (a * prior.value + b * measured.value) / (a + b), .error = 1 / std::sqrt(a + b)};
}

namespace {

bool is_of_one_test(ErrorFrom from) { return from == ErrorFrom::reading || from == ErrorFrom::tone; }

/// Covariance of the logarithms.
double shared(const TestOutcome& a, const TestOutcome& b) {
    double sum = 0;
    for (const ErrorPart& one : a.parts)
        for (const ErrorPart& other : b.parts)
            if (one.from == other.from && !is_of_one_test(one.from)) sum += one.share * other.share;
    return sum;
}

} // namespace

Together together_of(const std::vector<TestOutcome>& tests) {
    HOLLOWTOP_ASSERT(!tests.empty());
    Together all;
    double sum = 0;
    for (const TestOutcome& test : tests) {
        all.weights.push_back(1 / (test.uncertainty * test.uncertainty));
        sum += all.weights.back();
    }
    double mean = 0, mean_12 = 0, u_12 = 0;
    for (std::size_t i = 0; i < tests.size(); ++i) {
        all.weights[i] /= sum;
        mean += all.weights[i] * std::log(tests[i].modulus);
        mean_12 += all.weights[i] * std::log(tests[i].modulus_12);
    }
    double variance = 0, odds = band_90, between = 0;
    for (std::size_t i = 0; i < tests.size(); ++i) {
        for (std::size_t j = 0; j < tests.size(); ++j)
            variance += all.weights[i] * all.weights[j] *
                        (i == j ? tests[i].uncertainty * tests[i].uncertainty : shared(tests[i], tests[j]));
        for (std::size_t j = 0; j < i; ++j) {
            const double apart = std::abs(std::log(tests[i].modulus / tests[j].modulus));
            const double own = std::sqrt(std::max(1e-12, std::pow(tests[i].uncertainty, 2) +
                                                             std::pow(tests[j].uncertainty, 2) -
                                                             2 * shared(tests[i], tests[j])));
            if (apart / own > odds) {
                odds = apart / own;
                all.at_odds = {j, i};
            }
        }
        between += all.weights[i] * std::pow(std::log(tests[i].modulus) - mean, 2);
        u_12 += all.weights[i] * (std::pow(tests[i].uncertainty_12, 2) - std::pow(tests[i].uncertainty, 2));
    }
    all.modulus = std::exp(mean);
    all.modulus_12 = std::exp(mean_12);
    const double explained = std::sqrt(variance);
    // Tests at odds: neither is known to be the right one, so the band reaches over both.
    all.uncertainty = all.at_odds ? std::sqrt(variance + between) : explained;
    all.scatter_factor = all.uncertainty / explained;
    all.uncertainty_12 = std::sqrt(std::max(0.0, std::pow(all.uncertainty, 2) + u_12));
    return all;
}

} // namespace hollowtop
