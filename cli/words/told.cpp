// SPDX-License-Identifier: MIT
#include "cli/words/told.hpp"

#include "cli/words/format.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <optional>

namespace hollowtop::cli {
namespace {

bool is_digit(char c) { return c >= '0' && c <= '9'; }
/// Of a word, a number, a formula or a name with a number in it. Bytes of UTF-8 too.
bool is_joined(char c) {
    return is_digit(c) || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_' || c == '^' ||
           c == '/' || c == '*' || (static_cast<unsigned char>(c) & 0x80U) != 0;
}

// ---- amounts in the other system
// --------------------------------------------------------------------------------

double inches_of(double mm) { return Length::from_mm(mm).inches(); }

constexpr double least_fraction = 1.0 / 16;

/// "0.47", "0.118", "0.0039": fine enough for what is meant.
std::string decimal_inches(double mm) {
    const double inches = inches_of(mm), size = std::abs(inches);
    constexpr double coarse = 0.25, fine = 0.01;
    if (size >= coarse) return fixed(inches, 2);
    return size >= fine || size == 0 ? fixed(inches, size == 0 ? 0 : 3) : significant(inches, 2);
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
    return std::abs(lbf) < 10 ? significant(lbf, 2) : fixed(lbf, 0);
}
std::string psi_words(double MPa) { return significant(Pressure::from_MPa(MPa).psi(), 4); }
std::string psf_words(double kPa) {
    constexpr double square_inches_a_square_foot = 144;
    return significant(Pressure::from_MPa(kPa / 1000).psi() * square_inches_a_square_foot, 3);
}
std::string cubic_inch_words(double cm3) {
    constexpr double cm3_a_cubic_inch = 2.54 * 2.54 * 2.54;
    return significant(cm3 / cm3_a_cubic_inch, 3);
}
std::string fahrenheit_words(double celsius) { return fixed(celsius * 9 / 5 + 32, 0); }
std::string pounds_words(double kg) { return fixed(pounds_of_kg(kg), 1); }

struct Unit {
    std::string_view word, other;
    std::string (*shown)(double); ///< nullptr: a length
};
constexpr std::array<Unit, 7> units_known{{{"mm", "in", nullptr},
                                           {"cm3", "in3", cubic_inch_words},
                                           {"MPa", "psi", psi_words},
                                           {"kPa", "psf", psf_words},
                                           {"kg", "lb", pounds_words},
                                           {"N", "lbf", force_words},
                                           {"C", "F", fahrenheit_words}}};

// ---- reading
// ----------------------------------------------------------------------------------------------------

struct Number {
    double value = 0;
    std::size_t end = 0; ///< behind its last digit
};

std::optional<Number> number_at(std::string_view text, std::size_t at) {
    std::size_t end = at < text.size() && text[at] == '-' ? at + 1 : at;
    const std::size_t first = end;
    while (end < text.size() && is_digit(text[end])) ++end;
    if (end == first) return std::nullopt;
    if (end + 1 < text.size() && text[end] == '.' && is_digit(text[end + 1])) {
        ++end;
        while (end < text.size() && is_digit(text[end])) ++end;
    }
    double value = 0;
    const auto [rest, error] =
        std::from_chars(text.data() + at, text.data() + end, value, std::chars_format::fixed);
    if (error != std::errc{} || rest != text.data() + end) return std::nullopt;
    return Number{value, end};
}

bool stands_at(std::string_view text, std::size_t at, std::string_view word) {
    return text.substr(std::min(at, text.size()), word.size()) == word;
}

/// "20 and 45 mm": numbers that share the unit behind the last.
struct Amounts {
    std::vector<double> values;
    std::vector<std::string_view> joints; ///< between them
    std::string_view close;               ///< ")" of "(950, 60) mm"
    const Unit* unit = nullptr;           ///< none behind a bare place
    bool is_place = false;
    bool in_inches = false; ///< a place as the solver writes it for a piece in inches
    std::size_t end = 0;
};

/// The unit word at that place, and nothing joined to it.
const Unit* unit_at(std::string_view text, std::size_t at) {
    for (const Unit& unit : units_known)
        if (stands_at(text, at, unit.word) &&
            (at + unit.word.size() >= text.size() || !is_joined(text[at + unit.word.size()])))
            return &unit;
    return nullptr;
}

/// Reads the unit behind `at`; false where there is none.
bool read_unit(std::string_view text, std::size_t at, Amounts& amounts) {
    const std::size_t word = at < text.size() && text[at] == ' ' ? at + 1 : at;
    const Unit* unit = unit_at(text, word);
    if (!unit) return false;
    const bool only_of_a_length = amounts.values.size() > 1 && unit->shown != nullptr &&
                                  std::any_of(amounts.joints.begin(), amounts.joints.end(),
                                              [](std::string_view j) { return j == " x "; });
    if (only_of_a_length) return false; // "0.9 x 12000 MPa" is a product, not two stresses
    amounts.unit = unit;
    amounts.end = word + unit->word.size();
    return true;
}

std::string_view joint_at(std::string_view text, std::size_t at, bool is_place, bool in_bracket) {
    constexpr std::array<std::string_view, 5> joints{" to ", " by ", " x ", " and ", " or "};
    if (is_place) return stands_at(text, at, ", y ") ? text.substr(at, 4) : std::string_view{};
    if (in_bracket && stands_at(text, at, ", ")) return text.substr(at, 2);
    for (const std::string_view joint : joints)
        if (stands_at(text, at, joint)) return text.substr(at, joint.size());
    return {};
}

/// What begins at `at` and ends with a unit.
std::optional<Amounts> amounts_at(std::string_view text, std::size_t at) {
    const auto is_behind = [&](std::string_view word) {
        return at >= word.size() && stands_at(text, at - word.size(), word) &&
               (at == word.size() || !is_joined(text[at - word.size() - 1]));
    };
    Amounts amounts;
    const bool is_x = is_behind("x ");
    const bool in_bracket = at > 0 && text[at - 1] == '(';
    amounts.is_place = is_x || is_behind("y ");
    for (std::size_t from = at;;) {
        const auto number = number_at(text, from);
        if (!number) return std::nullopt;
        amounts.values.push_back(number->value);
        if (read_unit(text, number->end, amounts)) return amounts;
        if (in_bracket && amounts.values.size() == 2 && stands_at(text, number->end, ")") &&
            read_unit(text, number->end + 1, amounts)) {
            amounts.close = text.substr(number->end, 1);
            amounts.is_place = true;
            return amounts;
        }
        if (is_x && amounts.values.size() == 2) { // a bare place is in mm
            constexpr std::string_view inches = " in";
            amounts.in_inches =
                stands_at(text, number->end, inches) &&
                (number->end + inches.size() >= text.size() || !is_joined(text[number->end + inches.size()]));
            amounts.end = number->end + (amounts.in_inches ? inches.size() : 0);
            return amounts;
        }
        const std::string_view joint = joint_at(text, number->end, is_x, in_bracket);
        if (joint.empty()) return std::nullopt;
        amounts.joints.push_back(joint);
        from = number->end + joint.size();
    }
}

// ---- writing
// ----------------------------------------------------------------------------------------------------

template <class Shown> std::string row_of(const Amounts& amounts, Shown&& shown) {
    std::string text;
    for (std::size_t i = 0; i < amounts.values.size(); ++i)
        text += (i > 0 ? std::string(amounts.joints[i - 1]) : std::string()) + shown(amounts.values[i]);
    return text + std::string(amounts.close);
}

/// `bracket_fits`: a bracket may stand behind it.
std::string in_inches(const Amounts& amounts, bool bracket_fits) {
    if (!amounts.unit) return row_of(amounts, [](double mm) { return sixteenths(inches_of(mm)); });
    const std::string other = " " + std::string(amounts.unit->other);
    if (amounts.unit->shown) return row_of(amounts, amounts.unit->shown) + other;
    const auto fraction = [](double mm) { return sixteenths(inches_of(mm)); };
    if (amounts.is_place) return row_of(amounts, fraction) + other;
    const auto& values = amounts.values;
    if (std::all_of(values.begin(), values.end(), is_sixteenths)) return row_of(amounts, fraction) + other;
    const bool any_small = std::any_of(values.begin(), values.end(), [](double mm) {
        return mm != 0 && std::abs(inches_of(mm)) < least_fraction;
    });
    if (any_small || !bracket_fits) return row_of(amounts, decimal_inches) + other;
    return row_of(amounts, fraction) + other + " (" + row_of(amounts, decimal_inches) + ")";
}

std::string in_mm_place(const Amounts& amounts) {
    return row_of(amounts, [](double inches) { return fixed(Length::from_inches(inches).mm(), 0); }) + " mm";
}

bool name_stands_at(std::string_view text, std::size_t at, std::string_view name) {
    const std::size_t end = at + name.size();
    return stands_at(text, at, name) && (at == 0 || !is_joined(text[at - 1])) &&
           (end >= text.size() || !is_joined(text[end]));
}

class Teller {
  public:
    Teller(std::string_view text, Units units, std::span<const std::string> names)
        : text_(text), units_(units), names_(names) {}

    std::string tell() {
        while (at_ < text_.size()) {
            if (keep_name() || turn_amounts()) continue;
            const char c = text_[at_];
            if (c == '"') quoted_ = quoted_ ? false : text_.find('"', at_ + 1) != std::string_view::npos;
            if (c == '(') ++open_brackets_;
            if (c == ')' && open_brackets_ > 0) --open_brackets_;
            keep(1);
        }
        return out_;
    }

  private:
    void keep(std::size_t n) {
        out_ += text_.substr(at_, n);
        at_ += n;
    }

    bool keep_name() {
        for (const std::string& name : names_)
            if (!name.empty() && name_stands_at(text_, at_, name)) {
                keep(name.size());
                return true;
            }
        return false;
    }

    bool starts_number() const {
        if (!is_digit(text_[at_]) && text_[at_] != '-') return false;
        if (at_ == 0) return true;
        const char before = text_[at_ - 1];
        if (text_[at_] == '-') return before == ' ' || before == '(';
        const bool is_grouped = before == ' ' && at_ > 1 && is_digit(text_[at_ - 2]); // "1 300 N"
        return !is_joined(before) && before != '.' && before != ',' && before != '-' && !is_grouped;
    }

    bool turn_amounts() {
        if (!starts_number()) return false;
        const auto amounts = amounts_at(text_, at_);
        const bool is_told_place = amounts && amounts->is_place && amounts->values.size() == 2;
        const bool turns = amounts && (amounts->in_inches ? units_ == Units::mm : units_ == Units::inch) &&
                           (!quoted_ || is_told_place);
        if (!turns) {
            if (const auto number = number_at(text_, at_))
                keep(amounts && amounts->in_inches ? amounts->end - at_ : number->end - at_);
            else
                keep(1);
            return true;
        }
        const bool bracket_fits = open_brackets_ == 0 && !stands_at(text_, amounts->end, " (");
        out_ += units_ == Units::mm ? in_mm_place(*amounts) : in_inches(*amounts, bracket_fits);
        if (!amounts->close.empty() && open_brackets_ > 0) --open_brackets_;
        at_ = amounts->end;
        return true;
    }

    std::string_view text_;
    Units units_;
    std::span<const std::string> names_;
    std::string out_{};
    std::size_t at_ = 0;
    int open_brackets_ = 0;
    bool quoted_ = false;
};

template <class Each> void each_sentence(Result& result, Each&& each) {
    each(result.governing_situation);
    for (SituationResult& s : result.situations) each(s.name);
    for (CheckResult& check : result.checks) each(check.situation), each(check.basis), each(check.remedy);
    if (result.stiffening) each(result.stiffening->situation);
    for (SkinPush& push : result.pushes) each(push.source);
    each(result.sag_in_time_basis);
    for (HandEstimate& row : result.by_hand) each(row.situation), each(row.why_not);
    if (result.solid_equal) each(result.solid_equal->situation), each(result.solid_equal->why_not);
    each(result.pays);
    for (InRecess& recess : result.in_recesses) {
        for (KeptResult& kept : recess.holds)
            for (KeptResult::Way& way : kept.ways) each(way.basis);
        if (recess.cover) each(recess.cover->sag_basis), each(recess.cover->play_basis);
    }
    for (auto* list : {&result.assumptions, &result.warnings, &result.cautions})
        for (std::string& sentence : *list) each(sentence);
}

template <class Each> void each_sentence(Seasons& seasons, Each&& each) {
    for (StiffenerMovement& stiffener : seasons.stiffeners)
        if (stiffener.restraint && stiffener.restraint->screw_limit)
            each(stiffener.restraint->screw_limit->source);
    for (SeasonCheck& check : seasons.checks) each(check.what), each(check.basis), each(check.remedy);
    for (auto* list : {&seasons.assumptions, &seasons.warnings})
        for (std::string& sentence : *list) each(sentence);
}

} // namespace

std::string told(std::string_view sentence, Units units, std::span<const std::string> names) {
    return Teller(sentence, units, names).tell();
}

std::vector<std::string> names_like_amounts(const Piece& piece) {
    std::vector<std::string> names;
    const auto add = [&](const auto& parts) {
        for (const auto& part : parts)
            if (told(part.name, Units::inch) != part.name || told(part.name, Units::mm) != part.name)
                names.push_back(part.name);
    };
    add(piece.loads);
    add(piece.recesses);
    for (const Recess& recess : piece.recesses) add(recess.holds);
    add(piece.stiffeners);
    add(piece.supports);
    std::stable_sort(names.begin(), names.end(),
                     [](const auto& a, const auto& b) { return a.size() > b.size(); });
    return names;
}

Result told(Result result, Units units, std::span<const std::string> names) {
    each_sentence(result, [&](std::string& sentence) { sentence = told(sentence, units, names); });
    return result;
}

Seasons told(Seasons seasons, Units units, std::span<const std::string> names) {
    each_sentence(seasons, [&](std::string& sentence) { sentence = told(sentence, units, names); });
    return seasons;
}

std::vector<std::string> told(std::span<const std::string> sentences, Units units,
                              std::span<const std::string> names) {
    std::vector<std::string> out;
    out.reserve(sentences.size());
    for (const std::string& sentence : sentences) out.push_back(told(sentence, units, names));
    return out;
}

Fault told(Fault fault, Units units, std::span<const std::string> names) {
    fault.what = told(fault.what, units, names);
    fault.remedy = told(fault.remedy, units, names);
    return fault;
}

Error told(const Error& error, Units units, std::span<const std::string> names) {
    std::vector<Fault> faults;
    for (const Fault& fault : error.faults()) faults.push_back(told(fault, units, names));
    Error turned(error.kind(), std::move(faults));
    turned.file = error.file;
    return turned;
}

} // namespace hollowtop::cli
