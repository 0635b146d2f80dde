// SPDX-License-Identifier: MIT
#include "cli/words/said.hpp"

#include "cli/words/format.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace hollowtop::cli {
namespace {

double inches_of(double mm) { return Length::from_mm(mm).inches(); }
std::string fraction_words(double mm) { return sixteenths(inches_of(mm)); }

constexpr double least_fraction = 1.0 / 16;

/// "0.47", "0.118", "0.0039": fine enough for what is meant.
std::string decimal_inches(double mm) {
    const double inches = inches_of(mm), size = std::abs(inches);
    constexpr double coarse = 0.25, fine = 0.01;
    if (size >= coarse) return fixed(inches, 2);
    return size >= fine || size == 0 ? fixed(inches, size == 0 ? 0 : 3) : cli::significant(inches, 2);
}

/// Is it as many sixteenths, as far as anyone can mark out?
bool is_sixteenths(double mm) {
    constexpr double noise_mm = 0.05;
    const double inches = inches_of(mm);
    return std::abs(mm - Length::from_inches(std::round(inches * 16) / 16).mm()) <= noise_mm &&
           (mm == 0 || std::abs(inches) > least_fraction / 2);
}

std::string force_words(double newtons) {
    const double lbf = Force::from_N(newtons).lbf();
    return std::abs(lbf) < 10 ? cli::significant(lbf, 2) : fixed(lbf, 0);
}
std::string psi_words(double MPa) { return cli::significant(Pressure::from_MPa(MPa).psi(), 4); }
std::string psf_words(double kPa) { return cli::significant(Pressure::from_MPa(kPa / 1000).psf(), 3); }
std::string cubic_inch_words(double cm3) {
    constexpr double mm_per_cm = 10;
    const double inches_per_cm = inches_of(mm_per_cm);
    return cli::significant(cm3 * inches_per_cm * inches_per_cm * inches_per_cm, 3);
}
std::string fahrenheit_words(double celsius) { return fixed(celsius * 9 / 5 + 32, 0); }
std::string pounds_words(double kg) { return fixed(pounds_of_kg(kg), 1); }

std::string lengths_in_inches(const Amounts& lengths, bool bracket_fits) {
    const auto& values = lengths.values;
    if (std::all_of(values.begin(), values.end(), is_sixteenths))
        return row_of(lengths, fraction_words) + " in";
    const bool any_small = std::any_of(values.begin(), values.end(), [](double mm) {
        return mm != 0 && std::abs(inches_of(mm)) < least_fraction;
    });
    if (any_small || !bracket_fits) return row_of(lengths, decimal_inches) + " in";
    return row_of(lengths, fraction_words) + " in (" + row_of(lengths, decimal_inches) + ")";
}

/// As the piece's file has it: with a decimal, to three digits.
std::string drawn_in_inches(const Amounts& place) {
    return row_of(place, [](double mm) { return in_digits(inches_of(mm), hollowtop::significant(3)); }) +
           (place.is_bare ? "" : " in");
}

/// What our own digits show as nothing is nothing.
Amounts without_noise(Amounts amounts) {
    for (double& value : amounts.values)
        if (const std::string shown = in_digits(value, amounts.digits); shown == "0" || shown == "-0")
            value = 0;
    return amounts;
}

template <class Each> void each_message(Result& result, Each&& each) {
    each(result.governing_situation);
    for (SituationResult& s : result.situations) each(s.name);
    for (CheckResult& check : result.checks) each(check.situation), each(check.basis), each(check.remedy);
    for (StiffenerResult& stiffener : result.stiffeners) each(stiffener.not_judged);
    if (result.stiffening) each(result.stiffening->situation);
    for (SkinPush& push : result.pushes) each(push.source);
    each(result.sag_in_time_basis);
    for (HandEstimate& row : result.by_hand) each(row.situation), each(row.why_not);
    if (result.solid_equal) each(result.solid_equal->situation), each(result.solid_equal->why_not);
    each(result.pays);
    for (InRecess& recess : result.in_recesses) {
        for (KeptResult& kept : recess.holds)
            for (KeptResult::Way& way : kept.ways) each(way.basis);
        if (!recess.cover) continue;
        for (Message* message :
             {&recess.cover->material, &recess.cover->sag_basis, &recess.cover->play_basis})
            each(*message);
        for (Message& message : recess.cover->not_judged) each(message);
    }
    for (auto* list : {&result.assumptions, &result.warnings, &result.cautions})
        for (Message& message : *list) each(message);
}

template <class Each> void each_message(Seasons& seasons, Each&& each) {
    for (StiffenerMovement& stiffener : seasons.stiffeners)
        if (stiffener.restraint && stiffener.restraint->screw_limit)
            each(stiffener.restraint->screw_limit->source);
    for (SeasonCheck& check : seasons.checks) each(check.what), each(check.basis), each(check.remedy);
    for (auto* list : {&seasons.assumptions, &seasons.warnings})
        for (Message& message : *list) each(message);
}

auto puts_into_words(Units units) {
    return [units](Message& message) { message = Message(in_words(message, units)); };
}

} // namespace

std::string in_inches(const Amounts& given, bool bracket_fits) {
    if (given.is_drawn_in_inches) return drawn_in_inches(given);
    const Amounts amounts = without_noise(given);
    switch (amounts.unit) {
    case Unit::none:
        return in_own_units(given);
    case Unit::mm:
        if (amounts.is_place) return row_of(amounts, fraction_words) + (amounts.is_bare ? "" : " in");
        return lengths_in_inches(amounts, bracket_fits);
    case Unit::cm3:
        return row_of(amounts, cubic_inch_words) + " in3";
    case Unit::MPa:
        return row_of(amounts, psi_words) + " psi";
    case Unit::kPa:
        return row_of(amounts, psf_words) + " psf";
    case Unit::kg:
        return row_of(amounts, pounds_words) + " lb";
    case Unit::N:
        return row_of(amounts, force_words) + " lbf";
    case Unit::C:
        return row_of(amounts, fahrenheit_words) + " F";
    }
    return in_own_units(given);
}

std::string in_words(const Message& message, Units units) {
    return units == Units::inch ? rendered(message, in_inches) : in_own_units(message);
}

std::vector<std::string> in_words(const std::vector<Message>& messages, Units units) {
    std::vector<std::string> all;
    all.reserve(messages.size());
    for (const Message& message : messages) all.push_back(in_words(message, units));
    return all;
}

std::string as_drawn(const Message& message) {
    return rendered(message, [](const Amounts& amounts, bool) {
        return amounts.is_drawn_in_inches ? drawn_in_inches(amounts) : in_own_units(amounts);
    });
}

Result in_words(Result result, Units units) {
    each_message(result, puts_into_words(units));
    return result;
}

Seasons in_words(Seasons seasons, Units units) {
    each_message(seasons, puts_into_words(units));
    return seasons;
}

Fault in_words(Fault fault, Units units) {
    for (Message* message : {&fault.what, &fault.remedy}) *message = Message(in_words(*message, units));
    return fault;
}

Error in_words(const Error& error, Units units) {
    std::vector<Fault> faults;
    for (const Fault& fault : error.faults()) faults.push_back(in_words(fault, units));
    Error worded(error.kind(), std::move(faults));
    worded.file = error.file;
    return worded;
}

} // namespace hollowtop::cli
