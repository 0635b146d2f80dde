// SPDX-License-Identifier: MIT
#include "cli/text/boardtest_text.hpp"
#include "cli/text/page.hpp"
#include "cli/words/format.hpp"
#include "solver/boardtest/free_beam.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace hollowtop::cli {
namespace {

constexpr double gravity = 9.80665, kg_a_pound = 0.45359237;

/// Five steps of whole kilograms or pounds that stress the wood as a bend test may and move the gauge by
/// some millimetres.
struct Steps {
    double span = 0, each_N = 0;
    std::string unit;
    double one_N = 0;
};

Steps steps_of(const TestedBoard& board, double E, Units units, bool across) {
    constexpr double overhang = 40, longest = 30, gentle_MPa = 5, gentle_across_MPa = 0.8, wanted_mm = 3,
                     least_mm = 1, handy_N = 400;
    constexpr int n = 5;
    const double h = board.thickness.value, b = board.width.value;
    Steps steps{.unit = units == Units::mm ? "kg" : "lb",
                .one_N = gravity * (units == Units::mm ? 1 : kg_a_pound)};
    steps.span = std::min(board.length.value - 2 * overhang, longest * h);
    const double grid = units == Units::mm ? 10 : 25.4;
    steps.span = std::floor(steps.span / grid) * grid;
    const double by_stress = (across ? gentle_across_MPa : gentle_MPa) * b * h * h / (1.5 * steps.span);
    const double by_movement = wanted_mm * 4 * E * b * h * h * h / std::pow(steps.span, 3);
    // what one can lift on and off, unless the gauge would hardly move
    const double handy = std::max(handy_N, by_movement * least_mm / wanted_mm);
    const double each = std::min({by_stress, by_movement, handy}) / n / steps.one_N;
    const double step = each >= 2 ? 1 : each >= 0.5 ? 0.5 : each >= 0.1 ? 0.1 : 0.01;
    steps.each_N = std::max(step, std::floor(each / step) * step) * steps.one_N;
    return steps;
}

std::string load_text(double newtons, const Steps& steps) {
    return significant(newtons / steps.one_N, 3) + " " + steps.unit;
}

} // namespace

std::string boardtest_sheet(const BoardStory& story, const TextStyle& style) {
    const Units units = style.units;
    const TestedBoard& board = story.board;
    const double E = story.book ? (story.across ? story.book->E_across : story.book->E_along).value
                                : (story.across ? 900 : 12000);
    const double rho = story.density ? story.density->value
                       : story.book  ? story.book->density_kg_m3.value
                                     : 650;
    const double h = board.thickness.value, L = board.length.value;
    const Steps steps = steps_of(board, E, units, story.across);
    Page page;
    page.heading("Bench sheet: how stiff is this board?");
    page.paragraph(dimension_text(L, units) + " x " + dimension_text(board.width.value, units) + " x " +
                   dimension_text(h, units) +
                   (story.wood.empty() ? ", wood not named" : ", " + story.wood + ", " + story.cut) +
                   (story.across ? ", grain across the strip" : ", grain along it") +
                   ". What is expected below is a mean: a board may be a fifth off.");
    page.blank();
    page.heading("Bend test (the surest)");
    page.bullet("Plane it first. Two round bars of 15 to 25 mm on stiff blocks, " +
                dimension_text(steps.span, units) +
                " between their middles: " + significant(steps.span / h, 3) +
                " times the thickness (20 is wanted, 14 the least; common practice). "
                "Mark faces and ends.");
    page.bullet("A gauge of 0.01 mm at mid span, on a bridge that rests on the board over the bars, so that "
                "what the bars crush does not count.");
    page.bullet(
        "Lay the weights on a wooden strip across the full width at mid span. Preload with " +
        load_text(steps.each_N / 2, steps) +
        ", set the gauge to nought, then up and down again in these steps, each read within a minute.");
    page.bullet("Turn the board over and repeat. Keep hands and feet from under it; lay something soft below "
                "the middle.");
    page.blank();
    std::vector<Row> rows;
    const double shear = 1 + 1.2 * board.E_over_G.value * std::pow(h / steps.span, 2);
    for (int i = 1; i <= 5; ++i) {
        const double F = i * steps.each_N;
        const double d = F * std::pow(steps.span, 3) / (4 * E * board.width.value * h * h * h) * shear;
        rows.push_back({{std::to_string(i), load_text(F, steps), reading_text(d, units), "________",
                         "________", "________", "________"},
                        Tone::plain});
    }
    page.table({{.heading = "step"},
                {.heading = "load", .to_the_right = true},
                {.heading = "expected", .to_the_right = true},
                {.heading = "up"},
                {.heading = "down"},
                {.heading = "turned, up"},
                {.heading = "down"}},
               rows);
    page.paragraph("Greatest stress " +
                   stress_text(1.5 * 5 * steps.each_N * steps.span / (board.width.value * h * h), units) +
                   " (5 to 8 MPa along the grain, 1 across, are the most).");
    page.blank();
    page.heading("Tap tones (a check that costs a minute)");
    // speed of sound along the grain, mm/s, by the stiffness of a tone: 1.10 and 1.175 of that under load
    const auto speed = [&](double ratio) { return std::sqrt(ratio * E * 1e12 / rho); };
    const double slender =
        slender_tone / (2 * std::numbers::pi * std::sqrt(12.0)) * h / (L * L) * speed(1.10);
    if (h / L < 0.2)
        page.bullet("Bending: soft foam " + dimension_text(0.224 * L, units) +
                    " from each end; tap the middle with a knuckle, a telephone's spectrum near an "
                    "end, 2 s or more. Expected near " +
                    significant(slender / std::sqrt(shear_factor_of_tone(board.E_over_G.value, h / L)), 2) +
                    " Hz: the lowest clear peak, quiet over the foam, loud at middle and ends (common "
                    "practice). Tone ________ Hz");
    page.bullet("Along: tap one end with a light hammer, listen at the other. Expected near " +
                significant(speed(1.175) / (2 * L), 2) + " Hz. Tone ________ Hz");
    page.blank();
    page.heading("Size, weight, moisture");
    page.bullet("Thickness at nine places at least: it counts three times. ____ ____ ____ ____ ____ ____ "
                "____ ____ ____");
    page.bullet("Length ________   width ________   span ________   weight ________");
    page.bullet("Moisture by the meter ________ %   temperature ________   air ________ %   date ________");
    page.blank();
    page.paragraph("Then: hollowtop boardtest --length ... --width ... --thickness ... --mass ... --span ... "
                   "--load ... --reading ... "
                   "(or --readings FILE.csv), --tone, --along, --moisture.");
    return page.text(style.coloured);
}

} // namespace hollowtop::cli
