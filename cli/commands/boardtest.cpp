// SPDX-License-Identifier: MIT
// How stiff is this very board? A bend test, a tap, its weight.
#include "cli/commands/board_flags.hpp"
#include "cli/commands/rows.hpp"
#include "cli/commands/settings.hpp"
#include "cli/files/files.hpp"
#include "cli/read/load_readings.hpp"
#include "cli/read/table_of_json.hpp"
#include "cli/text/boardtest_text.hpp"
#include "cli/words/format.hpp"
#include "cli/words/quantity.hpp"
#include "cli/words/said.hpp"
#include "cli/words/words.hpp"
#include "materials/error.hpp"
#include "materials/wood.hpp"
#include "solver/boardtest/slips.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace hollowtop::cli {
namespace {

using namespace board_flags;

// clang-format off
constexpr std::array<Option, 24> options{
    wood_option, rings_option, length_option, width_option, thickness_option, mass_option, span_option, load_option, reading_option,
    readings_option, gauge_option, tone_option, along_option, moisture_option, piece_moisture_option, across_option, error_option,
    sheet_option, json_option, units_option, out_option, quiet_option, no_color_option, help_option};
// clang-format on

double ring_angle(const std::string& text) {
    if (const auto angle = ring_angle_of(text)) return *angle;
    double angle = -1;
    try {
        angle = parse_degrees(text);
    } catch (const Error&) {
    }
    if (!(angle >= 0 && angle <= 90))
        refuse(rings_option.name, in_quotes(text) + " is no way to saw a board",
               "give flatsawn, riftsawn or quartersawn, or an angle from 0 to 90");
    return angle;
}

/// Sizes that no board has are asked back before anything is made of them.
void expect_a_board(const TestedBoard& board) {
    const double L = board.length.value, b = board.width.value, h = board.thickness.value;
    constexpr double least_depths = 5, thinnest = 2, thickest = 200;
    const auto mm = [](double value) { return amount(value, Unit::mm, hollowtop::significant(4)); };
    if (h > b)
        refuse(thickness_option.name, said("{} is more than the width of {}", mm(h), mm(b)),
               "the board lies flat: the thickness is the lesser of the two");
    if (h < thinnest || h > thickest)
        refuse(thickness_option.name, said("{} is no thickness of a board to be bent", mm(h)),
               "is it of another unit? Write it with its unit, such as \"4 cm\"");
    if (L > 0 && L < least_depths * h)
        refuse(length_option.name, said("{} long and {} thick is a block", mm(L), mm(h)),
               "is one of them of another unit? Write each with its unit");
    if (L > 0 && L < b)
        refuse(length_option.name, said("{} is less than the width of {}", mm(L), mm(b)),
               "the length is what spans, with the grain across it too (--across)");
}

void expect_density(const BoardStory& story, std::vector<std::string>& warnings) {
    constexpr double least = 100, most = 1350; // balsa 120 to 160, lignum vitae 1250: from memory
    const double density = story.density->value;
    if (density < least || density > most)
        refuse(mass_option.name,
               said("a board of that size and weight has {} kg/m3, which no wood has", number(density)),
               density > most ? "is the weight of another unit, or the thickness centimetres?"
                              : "is the weight of another unit, or a size of another board?");
    if (!story.book) return;
    const Gauged& book = story.book->density_kg_m3;
    const double off = (density - book.value) / std::hypot(book.error, story.density->error);
    constexpr double far = 2.5;
    if (std::abs(off) > far)
        warnings.push_back("the board weighs " + fixed(density, 0) + " kg/m3, the mean of " + story.wood +
                           " is " + fixed(book.value, 0) + ": is it that wood, and dry?");
}

/// A result that no board has is refused, with the slip that would explain it.
void expect_plausible(const BoardStory& story, const BoardTest& test, const TestOutcome& outcome,
                      double newtons_over_mm, Units units, const std::string& place,
                      std::vector<std::string>& warnings) {
    if (story.across && !story.book) return; // a twentieth or a tenth: nothing to hold it against
    const Plausible plausible =
        story.book ? plausible_of(*story.book, story.across) : plausible_of_any_wood();
    const auto shown = [&](double value) { return modulus_text(value, units); };
    const std::vector<Message> slips = slips_of(story.board, test, outcome, plausible, newtons_over_mm);
    std::string guess;
    for (const Message& slip : slips) guess += (guess.empty() ? "" : "; or ") + in_words(slip, units);
    const std::string expected = story.book ? "the mean of " + story.wood + " is " + shown(plausible.expected)
                                            : "woods of the table have " + shown(2 * plausible.least) +
                                                  " to " + shown(plausible.most / 1.5);
    if (outcome.modulus > plausible.most || outcome.modulus < plausible.least)
        throw Error(ErrorKind::input,
                    Fault{place, "this would be a stiffness of " + shown(outcome.modulus) + "; " + expected,
                          guess.empty() ? "look through sizes, loads and readings and their units" : guess});
    constexpr double far = 2;
    if (!story.book) return;
    const Gauged& book = story.across ? story.book->E_across : story.book->E_along;
    const double off = (outcome.modulus_12 - book.value) /
                       std::hypot(book.error, outcome.uncertainty_12 * outcome.modulus_12);
    if (std::abs(off) > far)
        warnings.push_back(outcome.name + ": " + shown(outcome.modulus_12) + " is further from the mean of " +
                           story.wood + " than one board in twenty" +
                           (guess.empty() ? ": measure thickness and span again" : ": " + guess));
}

struct Series {
    BoardTest test;
    std::string place;
    double newtons_over_mm = 1;
};

/// CSV or JSON.
TypedReadings readings_in(const std::string& text, Units units) {
    static constexpr std::array<std::string_view, 2> columns{"load", "reading"};
    return load_readings_of(is_json(text) ? table_of_json(text, columns) : text, units);
}

std::vector<Series> bend_tests_of(Typed& typed, const Given& given, BoardStory& story) {
    std::vector<Series> all;
    const bool has_load = typed.has(load_option), has_reading = typed.has(reading_option),
               has_file = typed.has(readings_option);
    if (has_load != has_reading)
        refuse(has_load ? load_option.name : reading_option.name, "loads and readings go together",
               has_load ? "give --reading too" : "give --load too");
    if (!has_load && !has_file) {
        if (typed.has(span_option))
            refuse(span_option.name, "a span without readings",
                   "give --load and --reading, or --readings FILE");
        return all;
    }
    if (!typed.has(span_option))
        refuse(span_option.name, "this option is missing",
               "a bend test needs the span between the middles of the bars");
    BoardTest test{.kind = TestKind::bend, .span = typed.length(span_option, "span", 1, ErrorFrom::span)};
    test.load_error =
        typed.share("load", 0.01, "common practice: weights on a kitchen scale", ErrorFrom::load);
    if (typed.has(gauge_option))
        test.gauge_mm = at_option(gauge_option.name, [&] {
            return typed_lengths(typed.text(gauge_option), typed.units()).front();
        });
    if (!(test.gauge_mm > 0))
        refuse(gauge_option.name, "a gauge is good for something above zero",
               "give one division of its dial, such as \"0.01 mm\"");
    typed.tell({"gauge",
                typed.small_length(test.gauge_mm) + " a reading, or their scatter where that is more",
                typed.has(gauge_option) ? "stated" : "common practice: one division of a dial gauge",
                ErrorFrom::reading});
    const auto add = [&](TypedReadings readings, std::string name, std::string place) {
        test.name = std::move(name);
        test.readings = std::move(readings.readings);
        for (const std::string& note : readings.notes) story.notes.push_back(place + ": " + note);
        all.push_back({test, std::move(place), readings.newtons_over_mm});
    };
    if (has_load)
        add(typed_readings(typed.text(load_option), typed.text(reading_option), typed.units()), "bend test",
            reading_option.name);
    if (has_file)
        for (const std::string& file : parted(given.options.at(readings_option.name), '\n'))
            add(at_option(file.c_str(), [&] { return readings_in(read_file(file), typed.units()); }),
                "bend test " + file, file);
    return all;
}

void take_board(Typed& typed, BoardStory& story) {
    for (const Option* option : {&width_option, &thickness_option})
        if (!typed.has(*option))
            refuse(option->name, "this option is missing",
                   "give the size of the board, planed as it is tested");
    TestedBoard& board = story.board;
    board.across = story.across = typed.has(across_option);
    board.thickness = typed.length(thickness_option, "thickness", 0.1, ErrorFrom::thickness);
    board.width = typed.length(width_option, "width", 0.5, ErrorFrom::width);
    if (typed.has(length_option)) board.length = typed.length(length_option, "length", 1, ErrorFrom::length);
    expect_a_board(board);
    if (typed.has(mass_option)) {
        if (!typed.has(length_option))
            refuse(mass_option.name, "a weight without a length says nothing", "give --length too");
        board.mass_kg = typed.mass();
    }
    story.tested_at = typed.percent(moisture_option);
    story.piece_at = typed.percent(piece_moisture_option);
    if (story.piece_at && !story.tested_at)
        refuse(piece_moisture_option.name, "nothing is known of the moisture when tested",
               "give --moisture too");
    if (story.tested_at) board.moisture_percent = Gauged{*story.tested_at, typed.meter()};
    board.piece_moisture_percent = story.piece_at;

    const std::string cut = typed.has(rings_option) ? typed.text(rings_option) : "flatsawn";
    const double angle = ring_angle(cut);
    story.cut = angle == 0    ? "flatsawn"
                : angle == 90 ? "quartersawn"
                : angle == 45 ? "riftsawn"
                              : "rings at " + significant(angle, 3) + " degrees";
    board.E_over_G = usual_E_over_G;
    std::string basis = "E/G 15 +-2.9: no wood is named; from 10 to 20 evenly likely, Wood Handbook Table "
                        "5-1, its range, judgement";
    if (typed.has(wood_option)) {
        const materials::Wood& wood = at_option(wood_option.name, [&]() -> const materials::Wood& {
            return materials::find_wood(typed.text(wood_option));
        });
        story.wood = wood.common_name;
        try {
            story.book = handbook_of(wood, angle);
        } catch (const Error&) {
            story.notes.push_back("the tables hold no stiffness of " + story.wood +
                                  ": its shear modulus is taken as usual, and nothing is compared");
        }
    }
    if (story.book) {
        board.E_over_G = story.across ? story.book->across_over_G : story.book->E_over_G;
        board.poisson_product = story.book->poisson_product;
        basis = "E/G " + significant(board.E_over_G.value, 3) + " of the table of woods, scatter judgement";
    } else if (story.across) {
        board.E_over_G = {7.5, 1.5}; // E_T / G_RT from 5 to 10
        basis = "E/G 7.5 +-1.5 across the grain: no wood is named, from memory of Wood Handbook Table 5-1";
    }
    typed.tell({"shear", significant(100 * board.E_over_G.error / board.E_over_G.value, 2) + " %", basis,
                ErrorFrom::shear});
    if (!story.book) board.poisson_product = 0.02;
    typed.tell({"plate", "half of " + significant(100 * board.poisson_product, 2) + " %",
                "whether the bars keep it straight across is not known, judgement", ErrorFrom::plate});
    typed.tell({"even", story.across ? "6 %" : "2 %", "a bend test weighs the middle most, estimate",
                ErrorFrom::board_is_even});
    typed.tell({"ratio", "4 %", "estimate, see Ratio", ErrorFrom::static_ratio});
}

void put_posterior(BoardStory& story) {
    if (!story.book || !story.together) return;
    const Together& all = *story.together;
    const Gauged& prior = story.across ? story.book->E_across : story.book->E_along;
    // the handbook's mean at the moisture of the piece; its scatter dwarfs the error of that step
    const double to_the_piece = story.across ? 1 : all.modulus / all.modulus_12;
    story.posterior = updated({.value = to_the_piece * prior.value, .error = to_the_piece * prior.error},
                              {.value = all.modulus, .error = all.uncertainty * all.modulus});
}

Status run(const Given& given) {
    const Settings settings = settings_of(given);
    const Units units = settings.units.value_or(Units::mm);
    Typed typed(given, units);
    BoardStory story;
    try {
        take_board(typed, story);
        std::vector<Series> series = bend_tests_of(typed, given, story);
        for (const auto& [option, what, kind] : {std::tuple{&tone_option, "tone", TestKind::tone_bending},
                                                 {&along_option, "along", TestKind::tone_along}})
            if (typed.has(*option)) {
                constexpr double broad_peak =
                    0.005; // of a tone along; that in bending is told by its recording
                BoardTest test{.kind = kind,
                               .name =
                                   kind == TestKind::tone_bending ? "tap tone, bending" : "tap tone, along"};
                test.hertz = typed.tone(*option, what, kind == TestKind::tone_bending ? 0 : broad_peak);
                series.push_back({test, option->name, 1});
            }
        story.density = density_of(story.board);
        if (story.density) expect_density(story, story.warnings);
        if (given.has(sheet_option.name)) {
            if (!typed.has(length_option))
                refuse(length_option.name, "this option is missing", "the sheet is of a board of a size");
            put_text(settings, boardtest_sheet(story, settings.style(units)));
            return Status::passes;
        }
        if (series.empty() && !story.density)
            refuse("", "nothing was tested",
                   "give a bend test (--span, --load, --reading), a tone (--tone, --along, with --length and "
                   "--mass), or a weight (--length, --mass); --sheet tells how");
        for (const Series& one : series) {
            TestOutcome outcome =
                at_option(one.place.c_str(), [&] { return outcome_of(story.board, one.test); });
            expect_plausible(story, one.test, outcome, one.newtons_over_mm, units, one.place, story.warnings);
            for (const Message& warning : outcome.warnings)
                story.warnings.push_back((series.size() > 1 ? outcome.name + ": " : "") +
                                         in_words(warning, units));
            story.tests.push_back(std::move(outcome));
        }
    } catch (Error& error) {
        error = in_words(error, units);
        error.file = "hollowtop boardtest";
        throw;
    }
    if (!story.tests.empty()) story.together = together_of(story.tests);
    if (story.together && story.together->at_odds) {
        const auto [a, b] = *story.together->at_odds;
        story.warnings.push_back(
            story.tests[a].name + " and " + story.tests[b].name + " differ by " +
            fixed(100 * std::abs(story.tests[a].modulus / story.tests[b].modulus - 1), 0) +
            " %, more than their bands explain: one of them is wrong, or the board is uneven; the band is "
            "widened by " +
            significant(story.together->scatter_factor, 2));
    }
    put_posterior(story);
    story.errors = typed.told();
    std::vector<Output> outputs;
    if (!settings.json_file.empty()) add_json(outputs, settings.json_file, boardtest_json(story));
    if (settings.text_wanted()) add_text(outputs, settings, boardtest_text(story, settings.style(units)));
    write_files(outputs);
    return Status::passes;
}

} // namespace

extern const Command boardtest_command{
    .name = "boardtest",
    .one_line = "stiffness of a real board from a bend test, a tap tone, its weight",
    .names = "",
    .least_names = 0,
    .most_names = 0,
    .text = "Boards of one wood differ by a fifth and more. Bend this one over two bars with a few weights, "
            "or tap it, weigh it, "
            "and the calculation is of your board: the shear is taken off, every error is carried through, "
            "and the line to "
            "paste into the piece file is printed with its uncertainty. Several tests are put together by "
            "their weights. "
            "A number without a unit is N and mm, kg for --mass; lbf, inches and pounds with --units in.\n"
            "A stiff board need not be a strong one. Results that no board has are refused with the slip "
            "that would explain "
            "them. Exit status: 0 computed, 2 the input is wrong.",
    .example = "hollowtop boardtest --wood \"white oak\" --length 1800 --width 200 --thickness 40 --sheet\n"
               "hollowtop boardtest --wood \"white oak\" --length 1800 --width 200 --thickness 40 --mass "
               "\"10.1 kg\" --span 1500 "
               "--load \"0, 5, 10, 15, 20 kg\" --reading \"0.02, 0.30, 0.57, 0.85, 1.13\" --tone \"53 Hz\" "
               "--moisture 9",
    .options = options,
    .run = run,
};

} // namespace hollowtop::cli
