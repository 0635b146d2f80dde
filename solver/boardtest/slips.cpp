// SPDX-License-Identifier: MIT
#include "solver/boardtest/slips.hpp"

#include "materials/table.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop {
namespace {

struct Slip {
    Message what;
    double factor = 1; ///< on the modulus, were it so
};

constexpr double gravity = 9.80665, inch = 25.4;

std::vector<Slip> slips_in_bending(const BoardTest& test, const TestOutcome& outcome,
                                   double newtons_over_mm) {
    const double slope = outcome.line->slope;
    std::vector<Slip> slips{
        {"the columns may stand in the other order: load first, then what the gauge showed",
         slope * slope * newtons_over_mm * newtons_over_mm},
        {"the readings may be centimetres, read as millimetres", 0.1},
        {"the readings may be hundredths of a millimetre, as the dial counts them", 100},
        {"the readings may be inches, read as millimetres", 1 / inch},
        {"the readings may be thousandths of an inch, read as millimetres", 1000 / inch},
        {"the loads may be kilograms, read as newtons", gravity},
        {"the loads may be newtons, read as kilograms", 1 / gravity},
        {"the loads may be grams, read as kilograms", 1e-3},
    };
    constexpr double short_span = 300, shorter_span = 10; // as typed
    if (test.span.value < shorter_span)
        slips.push_back({"the span may be metres, read as millimetres", 1e9});
    else if (test.span.value < short_span)
        slips.push_back({"the span may be centimetres, read as millimetres", 1e3});
    if (test.readings.size() == 2)
        slips.push_back({"one of the two readings may be that of no load, with the load of the other", 2});
    return slips;
}

std::vector<Slip> slips_of_tone(const TestedBoard& board, const BoardTest& test, const TestOutcome& outcome) {
    constexpr double second_tone = 2.757; // of a slender bar: (7.853 / 4.730)^2
    std::vector<Slip> slips{{"the tone may be given in kilohertz", 1e6}};
    const bool is_bending = test.kind == TestKind::tone_bending;
    BoardTest other = test;
    other.kind = is_bending ? TestKind::tone_along : TestKind::tone_bending;
    const double otherwise = outcome_of(board, other).modulus / outcome.modulus;
    if (is_bending) {
        slips.push_back({said("this may be the second tone: the first would be near {} Hz; tap the middle, "
                              "hold the board where the tone is "
                              "quiet, 0.224 of the length from each end",
                              number(test.hertz.value / second_tone, significant(2))),
                         1 / (second_tone * second_tone)});
        slips.push_back({"this may be the tone along the length (--along)", otherwise});
        slips.push_back({"this may be a tone of twisting, which a wide board gives: gauge at mid width, or "
                         "saw off a strip",
                         0.4});
    } else {
        slips.push_back({"this may be a tone of bending (--tone)", otherwise});
        slips.push_back({"this may be the second tone along the length: the first is half of it", 0.25});
    }
    slips.push_back(
        {"this may be an overtone that the microphone heard louder: look for a clear peak at half of it",
         0.25});
    return slips;
}

} // namespace

Plausible plausible_of(const Handbook& book, bool across) {
    const double expected = across ? book.E_across.value : book.E_along.value;
    return {.expected = expected, .least = 0.3 * expected, .most = 2 * expected};
}

Plausible plausible_of_any_wood() {
    double least = 1e9, most = 0, sum = 0;
    int n = 0;
    const double no_shear = materials::rule("wood_rules", "E_L_rule").value;
    for (const materials::Wood& wood : materials::woods()) {
        if (!wood.moe) continue;
        const double E = no_shear * *wood.moe;
        least = std::min(least, E);
        most = std::max(most, E);
        sum += E;
        ++n;
    }
    return {.expected = sum / n, .least = least / 2, .most = most * 1.5};
}

std::vector<Message> slips_of(const TestedBoard& board, const BoardTest& test, const TestOutcome& outcome,
                              const Plausible& plausible, double newtons_over_mm) {
    constexpr double low = 0.6, high = 1.6;
    if (outcome.modulus >= low * plausible.expected && outcome.modulus <= high * plausible.expected)
        return {};
    std::vector<Slip> slips = test.kind == TestKind::bend ? slips_in_bending(test, outcome, newtons_over_mm)
                                                          : slips_of_tone(board, test, outcome);
    const bool is_along = test.kind == TestKind::tone_along;
    constexpr double thin = 15, thinner = 6, narrow = 100; // as typed, before such a slip is thought of
    const double width = board.width.value, h = board.thickness.value;
    if (h < thin)
        slips.push_back({"the thickness may be centimetres, read as millimetres", is_along ? 0.1 : 1e-3});
    if (h < thinner)
        slips.push_back({"the thickness may be inches, read as millimetres",
                         is_along ? 1 / inch : 1 / (inch * inch * inch)});
    if (width < narrow) slips.push_back({"the width may be centimetres, read as millimetres", 0.1});
    slips.push_back({"width and thickness may stand in each other's place", h * h / (width * width)});
    // without the share of shear, which goes with the sizes as they were typed
    const double bare = outcome.modulus / (1 + outcome.shear_share);
    const auto ratio = [&](const Slip& slip) { return slip.factor * bare / plausible.expected; };
    std::erase_if(slips, [&](const Slip& slip) { return !(ratio(slip) >= low && ratio(slip) <= high); });
    std::stable_sort(slips.begin(), slips.end(), [&](const Slip& a, const Slip& b) {
        return std::abs(std::log(ratio(a))) < std::abs(std::log(ratio(b)));
    });
    std::vector<Message> told;
    constexpr std::size_t most_told = 3;
    for (Slip& slip : slips)
        if (told.size() < most_told) told.push_back(std::move(slip.what));
    return told;
}

} // namespace hollowtop
