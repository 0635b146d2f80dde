// SPDX-License-Identifier: MIT
#pragma once
/// \file  What may be otherwise about a top than its file says, each with how much and on whose word.
///
/// Two layers. `Input`s are what a solve is asked about: the modulus of each board in its place, and others
/// that go for the whole top; in natural logarithms, lengths in mm. `Cause`s are what scatters, each a normal
/// variable of its own (mean 0, deviation 1): inputs = shift + mix x causes. The lot that boards come from
/// and the moisture of the day go for all boards at once.
/// Sources: scatter of wood, Wood Handbook table 5-6 (materials/data/wood_rules.csv); what is judgement says
/// so in `basis`.

#include "materials/message.hpp"
#include "solver/piece/piece.hpp"

#include <cstddef>
#include <span>
#include <string>
#include <vector>

namespace hollowtop {

/// `whole`: all boards together, beside what each does alone.
enum class InputKind { whole, boards, across, shear, density, thickness, depth, load };

struct Input {
    InputKind kind = InputKind::boards;
    std::size_t first_board = 0, end_board = 0; ///< of `boards`: neighbours that go together
    double step = 0;                            ///< how far off a solve is asked, in the input's own measure
};

struct Cause {
    std::string key{};    ///< a word for files: "boards", "lot", "moisture", "across", ...
    Message name{};       ///< in the maker's words
    double deviation = 0; ///< one standard deviation: a share, or mm where `in_mm`
    bool in_mm = false;
    Message basis{}; ///< where the deviation comes from
};

struct Inputs {
    std::vector<Input> inputs{};
    std::vector<Cause> causes{};
    std::vector<double> shift{}; ///< of each input, at the middle of what is believed
    std::vector<double> mix{};   ///< [input][cause], row by row
    Piece base{};                ///< all inputs at nought: boards set apart, so that every piece has one mesh

    double at(std::size_t input, std::size_t cause) const { return mix[input * causes.size() + cause]; }
};

struct Tolerances {
    double thickness_mm = 0.3, depth_mm = 0.3; ///< plus or minus, about 95 %; common practice
    bool loads_known = false;                  ///< weighed
};

/// Prior of one board's modulus (mean 0 in logarithms, deviation `prior`) updated by a measurement that says
/// `value` with deviation `error`: the linear-Gaussian rule (Gelman et al., Bayesian Data Analysis, 2013,
/// section 2.5).
struct Updated {
    double mean = 0, deviation = 0;
};
Updated updated(double prior, double value, double error);

/// Deviation in logarithms of a lognormal with that coefficient of variation.
double log_deviation(double coefficient_of_variation);

/// `placed`: with the loads of its use, and loads that travel at their worst places (CheckOutcome::placed).
Inputs inputs_of(const Piece& placed, const Tolerances& tolerances = {});

/// The base with its inputs so.
Piece piece_at(const Inputs& inputs, std::span<const double> values);

/// shift + mix x causes.
std::vector<double> inputs_from(const Inputs& inputs, std::span<const double> causes);

} // namespace hollowtop
