// SPDX-License-Identifier: MIT
#include "solver/uncertainty/inputs.hpp"

#include "materials/digits.hpp"
#include "materials/panel.hpp"
#include "materials/sheet.hpp"
#include "materials/table.hpp"
#include "materials/wood.hpp"
#include "materials/wood_constants.hpp"
#include "solver/piece/boards.hpp"

#include <algorithm>
#include <cmath>

namespace hollowtop {
namespace {

/// A bend test with its correction: plus or minus 6 % at about 95 % (judgement), where the maker states
/// nothing.
constexpr double bend_test_percent = 3;
/// Of constants stated as such, and of sheets, whose scatter no table of ours gives: judgement.
constexpr double stated_percent = 3, sheet_percent = 12;
/// Share of the variance between boards of a species that those of one top have in common, as they often come
/// from one tree or one stack: judgement. Half and half leaves the band between that of boards drawn alone
/// and of one board.
constexpr double lot_share = 0.5;
/// Of E_T/E_L, E_R/E_L and of the shear moduli over E_L: judgement, no table of ours gives it.
constexpr double ratio_deviation = 0.15;
/// A moisture meter and a season, in percent points (judgement); 1.5 % of stiffness a point (from memory).
constexpr double moisture_points = 1.5, stiffness_per_point = 0.015;
constexpr double load_deviation = 0.10; ///< judgement
constexpr std::size_t most_inputs_of_boards = 8;
constexpr double far = 1.3; ///< deviations off at which a solve is asked

double cov(const char* id) { return materials::rule("wood_rules", id).value / 100; }

/// Bending modulus that stands for a board where none was measured.
double handbook_modulus(const Top& top) {
    constexpr double trial = 10000;
    const materials::Wood& wood = materials::find_wood(top.wood);
    return trial * materials::wood_constants(wood, top.moisture_percent).E_L /
           materials::wood_constants(wood, top.moisture_percent, trial).E_L;
}

class Making {
  public:
    explicit Making(const Piece& placed) { made_.base = placed; }

    std::size_t cause(Cause cause) {
        made_.causes.push_back(std::move(cause));
        return made_.causes.size() - 1;
    }
    std::size_t input(Input input, double shift = 0) {
        made_.inputs.push_back(input);
        made_.shift.push_back(shift);
        return made_.inputs.size() - 1;
    }
    void mix(std::size_t input, std::size_t cause, double deviation) {
        if (deviation != 0) terms_.push_back({input, cause, deviation});
    }
    /// An input with a cause of its own.
    void alone(InputKind kind, Cause one) {
        const double deviation = one.deviation;
        const std::size_t c = cause(std::move(one));
        mix(input({.kind = kind}), c, deviation);
    }
    Piece& base() { return made_.base; }

    Inputs done() {
        made_.mix.assign(made_.inputs.size() * made_.causes.size(), 0);
        for (const Term& term : terms_)
            made_.mix[term.input * made_.causes.size() + term.cause] += term.deviation;
        for (std::size_t i = 0; i < made_.inputs.size(); ++i) {
            double square = 0;
            for (std::size_t c = 0; c < made_.causes.size(); ++c) square += std::pow(made_.at(i, c), 2);
            constexpr double least = 0.01; // also of what does not scatter a slope is wanted
            made_.inputs[i].step = std::max(least, far * std::sqrt(square));
        }
        return std::move(made_);
    }

  private:
    struct Term {
        std::size_t input, cause;
        double deviation;
    };
    Inputs made_{};
    std::vector<Term> terms_{};
};

/// Lays the boards out one by one, each with the modulus that the check gives it.
std::vector<BoardStrip> set_apart(Top& top) {
    std::vector<BoardStrip> strips = board_strips(top);
    const double handbook = top.measured.E_along ? *top.measured.E_along : handbook_modulus(top);
    std::vector<Board> boards;
    for (const BoardStrip& strip : strips) {
        Board board{.width = strip.to - strip.from, .measured = strip.measured};
        if (!board.measured.E_along) board.measured.E_along = handbook;
        boards.push_back(std::move(board));
    }
    top.each_board = std::move(boards);
    top.boards = static_cast<int>(top.each_board.size());
    top.glue_lines_kept = top.each_board.size() > 1;
    return strips;
}

Message board_name(std::size_t first, std::size_t end, std::size_t n) {
    if (n == 1) return "the boards' stiffness along the grain";
    if (end - first == 1) return said("stiffness of board {}", first + 1);
    return said("stiffness of boards {} to {}", first + 1, end);
}

void add_boards(Making& making) {
    Top& top = making.base().top;
    const std::vector<BoardStrip> strips = set_apart(top);
    const std::size_t n = strips.size(), n_groups = std::min(n, most_inputs_of_boards);
    const double handbook = handbook_modulus(top), prior = log_deviation(cov("cov_moe"));
    const bool any_unmeasured =
        std::any_of(strips.begin(), strips.end(), [](const BoardStrip& s) { return !s.measured.E_along; });
    const bool one_measured_for_all = n > 1 && top.measured.E_along.has_value();
    std::optional<std::size_t> lot, measured_together;
    if (n > 1 && any_unmeasured)
        lot = making.cause({.key = "lot",
                            .name = "the lot that the boards come from",
                            .deviation = std::sqrt(lot_share) * prior,
                            .basis = "half of the variance of the modulus between pieces of a species (Wood "
                                     "Handbook table 5-6), taken as common to the boards of one top "
                                     "(judgement)"});
    const std::size_t moisture = making.cause(
        {.key = "moisture",
         .name = "the wood's moisture on the day",
         .deviation = moisture_points * stiffness_per_point,
         .basis = said("plus or minus {} points of moisture content (judgement), {} % of "
                       "stiffness a point (from memory)",
                       materials::digits(moisture_points), materials::digits(100 * stiffness_per_point))});
    // What goes for all boards alike is asked about together: the logarithm of a movement is a straight line in
    // it, while one board after another it is a curve that would have to be put together from all pairs.
    const std::optional<std::size_t> whole =
        n_groups > 1 ? std::optional(making.input({.kind = InputKind::whole, .end_board = n})) : std::nullopt;
    const bool lot_is_whole = std::none_of(
        strips.begin(), strips.end(), [](const BoardStrip& s) { return s.measured.E_along.has_value(); });
    const bool measure_is_whole =
        std::none_of(strips.begin(), strips.end(), [](const BoardStrip& s) { return s.of_its_own; });
    struct Balanced {
        std::size_t input;
        double width, scatter;
        std::size_t cause;
    };
    std::vector<Balanced> balanced; // boards of which only their mean was measured
    if (whole) making.mix(*whole, moisture, moisture_points * stiffness_per_point);
    if (whole && lot && lot_is_whole) making.mix(*whole, *lot, std::sqrt(lot_share) * prior);
    for (std::size_t g = 0; g < n_groups; ++g) {
        const std::size_t first = g * n / n_groups, end = (g + 1) * n / n_groups;
        // of neighbours that go together the mean, by width; each board's own part averages out
        double width = 0, squares = 0, common = 0, shift = 0;
        bool measured = false;
        for (std::size_t b = first; b < end; ++b) width += strips[b].to - strips[b].from;
        for (std::size_t b = first; b < end; ++b) {
            const BoardStrip& strip = strips[b];
            const double share = (strip.to - strip.from) / width;
            if (!strip.measured.E_along) {
                squares += share * share * (n > 1 ? 1 - lot_share : 1) * prior * prior;
                common += share;
                continue;
            }
            measured = true;
            const double error = strip.measured.u_E_along_percent.value_or(bend_test_percent) / 100;
            const double value = std::log(*strip.measured.E_along / handbook);
            const Updated now = updated(prior, value, error);
            shift += share * (now.mean - value);
            if (!strip.of_its_own && one_measured_for_all) { // one value for all boards: they go together
                if (!measured_together)
                    measured_together = making.cause(
                        {.key = "measured",
                         .name = "the modulus measured for the whole top",
                         .deviation = now.deviation,
                         .basis = strip.measured.u_E_along_percent
                                      ? Message("the uncertainty stated for the measurement")
                                      : Message("a bend test, plus or minus 6 % at about 95 % (judgement)")});
                common += share;
                continue;
            }
            squares += share * share * now.deviation * now.deviation;
        }
        const std::size_t input =
            making.input({.kind = InputKind::boards, .first_board = first, .end_board = end}, shift);
        if (!whole) making.mix(input, moisture, moisture_points * stiffness_per_point);
        if (lot && !(whole && lot_is_whole)) making.mix(input, *lot, std::sqrt(lot_share) * prior * common);
        if (measured_together) {
            const Updated now =
                updated(prior, 0, top.measured.u_E_along_percent.value_or(bend_test_percent) / 100);
            if (!whole || !measure_is_whole)
                making.mix(input, *measured_together, now.deviation * common);
            else if (g == 0)
                making.mix(*whole, *measured_together, now.deviation);
        }
        if (measured_together && squares == 0) { // about the mean that was measured
            const double scatter = std::sqrt(1 - lot_share) * prior / std::sqrt(double(end - first));
            balanced.push_back(
                {input, width, scatter,
                 making.cause({.key = "boards",
                               .name = board_name(first, end, n),
                               .deviation = scatter,
                               .basis = "half of the variance between pieces of a species "
                                        "(Wood Handbook table 5-6; the half is judgement), about "
                                        "the mean that was measured"})});
        }
        if (squares > 0) {
            const std::size_t own = making.cause(
                {.key = "boards",
                 .name = board_name(first, end, n),
                 .deviation = std::sqrt(squares),
                 .basis = measured ? Message("what was measured on it, with its uncertainty, and the "
                                             "handbook's scatter (Wood Handbook table 5-6)")
                                   : Message("coefficient of variation between pieces of a species, Wood "
                                             "Handbook table 5-6")});
            making.mix(input, own, std::sqrt(squares));
        }
    }
    double all = 0;
    for (const Balanced& one : balanced) all += one.width;
    for (const Balanced& one : balanced)
        for (const Balanced& other : balanced)
            making.mix(one.input, other.cause,
                       other.scatter * ((one.input == other.input ? 1 : 0) - other.width / all));
}

} // namespace

Updated updated(double prior, double value, double error) {
    const double weight = prior * prior / (prior * prior + error * error);
    return {.mean = weight * value, .deviation = std::sqrt(weight) * error};
}

double log_deviation(double coefficient_of_variation) {
    return std::sqrt(std::log1p(coefficient_of_variation * coefficient_of_variation));
}

Inputs inputs_of(const Piece& placed, const Tolerances& tolerances) {
    Making making(placed);
    making.base().use.clear(); // its loads and limits are there already
    const Top& top = making.base().top;
    const bool is_wood = !top.wood.empty() && !top.elastic;
    if (is_wood) {
        add_boards(making);
    } else {
        const bool is_sheet = !top.elastic;
        const bool measured = is_sheet && top.measured.E_along.has_value();
        making.alone(InputKind::boards,
                     {.key = "boards",
                      .name = is_sheet ? Message("the sheet's stiffness") : Message("the stated stiffness"),
                      .deviation = (measured   ? top.measured.u_E_along_percent.value_or(bend_test_percent)
                                    : is_sheet ? sheet_percent
                                               : stated_percent) /
                                   100,
                      .basis = measured ? Message("the measurement") : Message("judgement")});
    }
    making.alone(InputKind::across, {.key = "across",
                                     .name = "stiffness across the grain against that along it",
                                     .deviation = ratio_deviation,
                                     .basis = "judgement"});
    making.alone(InputKind::shear, {.key = "shear",
                                    .name = "shear stiffness against that along the grain",
                                    .deviation = ratio_deviation,
                                    .basis = "judgement"});
    if (is_wood && placed.self_weight) {
        const bool measured = top.measured.density_kg_m3.has_value();
        making.alone(
            InputKind::density,
            {.key = "density",
             .name = "the wood's density",
             .deviation = measured ? top.measured.u_density_percent.value_or(bend_test_percent) / 100
                                   : log_deviation(cov("cov_sg")),
             .basis = measured ? Message("what was measured")
                               : Message("coefficient of variation of the specific gravity between pieces of "
                                         "a species, Wood Handbook table 5-6")});
    }
    const Message practice = "plus or minus twice that at about 95 % (common practice)";
    if (top.sheet.empty() && tolerances.thickness_mm > 0)
        making.alone(InputKind::thickness, {.key = "thickness",
                                            .name = "thickness of the boards as planed",
                                            .deviation = tolerances.thickness_mm / 2,
                                            .in_mm = true,
                                            .basis = practice});
    if (!placed.recesses.empty() && tolerances.depth_mm > 0)
        making.alone(InputKind::depth, {.key = "depth",
                                        .name = "depth of the recess as routed",
                                        .deviation = tolerances.depth_mm / 2,
                                        .in_mm = true,
                                        .basis = practice});
    if (!placed.loads.empty() && !tolerances.loads_known)
        making.alone(InputKind::load, {.key = "load",
                                       .name = "the everyday loads, all alike",
                                       .deviation = load_deviation,
                                       .basis = "judgement"});
    return making.done();
}

std::vector<double> inputs_from(const Inputs& inputs, std::span<const double> causes) {
    std::vector<double> values = inputs.shift;
    for (std::size_t i = 0; i < values.size(); ++i)
        for (std::size_t c = 0; c < causes.size(); ++c) values[i] += inputs.at(i, c) * causes[c];
    return values;
}

namespace {

void scale_stiffness(Top& top, const Input& input, double factor) {
    if (top.elastic) {
        Elastic& e = *top.elastic;
        for (double* modulus : {&e.E1, &e.E2, &e.G12, &e.G13, &e.G23}) *modulus *= factor;
        if (e.E3) *e.E3 *= factor;
    } else if (!top.sheet.empty()) {
        const materials::Sheet& sheet = materials::find_sheet(top.sheet);
        top.measured.E_along = factor * materials::panel_constants(sheet, top.measured.E_along).E1;
    } else {
        for (std::size_t b = input.first_board; b < input.end_board; ++b)
            *top.each_board[b].measured.E_along *= factor;
    }
}

void scale_density(Top& top, double factor) {
    if (!top.measured.density_kg_m3)
        top.measured.density_kg_m3 =
            materials::wood_constants(materials::find_wood(top.wood), top.moisture_percent).density_kg_m3;
    *top.measured.density_kg_m3 *= factor;
    for (Board& board : top.each_board)
        if (board.measured.density_kg_m3) *board.measured.density_kg_m3 *= factor;
}

void scale_load(Load& load, double factor) {
    if (auto* area = std::get_if<AreaLoad>(&load.kind)) area->pressure *= factor;
    if (auto* patch = std::get_if<PatchLoad>(&load.kind)) patch->force *= factor;
    if (auto* line = std::get_if<LineLoad>(&load.kind)) line->force *= factor;
    if (auto* clamp = std::get_if<ClampLoad>(&load.kind)) clamp->force *= factor;
}

} // namespace

Piece piece_at(const Inputs& inputs, std::span<const double> values) {
    Piece piece = inputs.base;
    for (std::size_t i = 0; i < inputs.inputs.size(); ++i) {
        const Input& input = inputs.inputs[i];
        const double value = values[i];
        if (value == 0) continue;
        switch (input.kind) {
        case InputKind::whole:
        case InputKind::boards:
            scale_stiffness(piece.top, input, std::exp(value));
            break;
        case InputKind::across:
            piece.top.shares.across *= std::exp(value);
            break;
        case InputKind::shear:
            piece.top.shares.shear *= std::exp(value);
            break;
        case InputKind::density:
            scale_density(piece.top, std::exp(value));
            break;
        case InputKind::thickness: // the router is set from the underside: the skin takes all of it
            piece.top.thickness += value;
            break;
        case InputKind::depth:
            for (Recess& recess : piece.recesses) recess.depth += value;
            break;
        case InputKind::load:
            for (Load& load : piece.loads) // the force of a test is what it is
                if (load.judged_for == LoadFor::everyday) scale_load(load, std::exp(value));
            break;
        }
    }
    return piece;
}

} // namespace hollowtop
