// SPDX-License-Identifier: MIT
#include "cli/report/sections/factors.hpp"

#include "cli/words/said.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <string_view>

namespace hollowtop::cli {
namespace {

constexpr std::string_view equals = " = ";

/// What stands before a factor, and the factor's name where it has one.
struct Marker {
    std::string_view text;
    bool divides;
    std::string_view name;
};
constexpr std::array<Marker, 3> markers{
    {{" x ", false, ""}, {" x k_mod ", false, "k_mod"}, {" / ", true, ""}}};

/// That the text ends with; none where a bracket is open: a factor in it belongs to a source.
const Marker* marker_at_end(std::string_view text) {
    if (std::count(text.begin(), text.end(), '(') > std::count(text.begin(), text.end(), ')')) return nullptr;
    for (const Marker& marker : markers)
        if (text.ends_with(marker.text)) return &marker;
    return nullptr;
}

std::string_view trimmed(std::string_view text) {
    while (!text.empty() && (text.front() == ' ' || text.front() == ',')) text.remove_prefix(1);
    while (!text.empty() && (text.back() == ' ' || text.back() == ',')) text.remove_suffix(1);
    return text;
}

/// What stands in the brackets at the end of the text is cut off it and returned.
std::string cut_source(std::string& text) {
    text = trimmed(text);
    if (!text.ends_with(")")) return {};
    int depth = 0;
    for (std::size_t at = text.size(); at-- > 0;) {
        depth += text[at] == ')' ? 1 : text[at] == '(' ? -1 : 0;
        if (depth > 0) continue;
        const std::string source = text.substr(at + 1, text.size() - at - 2);
        text = trimmed(std::string_view(text).substr(0, at));
        return source;
    }
    return {};
}

/// Where what follows the last ": " or "; " that stands in no bracket begins.
std::size_t last_clause_at(const std::string& text) {
    int depth = 0;
    std::size_t from = 0;
    for (std::size_t at = 0; at + 1 < text.size(); ++at) {
        depth += text[at] == '(' ? 1 : text[at] == ')' ? -1 : 0;
        if (depth == 0 && (text[at] == ';' || text[at] == ':') && text[at + 1] == ' ') from = at + 2;
    }
    return from;
}

} // namespace

std::optional<Reckoned> reckoned_of(const Message& basis, double capacity, std::string_view unit,
                                    Units units) {
    const Unit of = unit_of(unit);
    if (of != Unit::MPa && of != Unit::mm && of != Unit::N) return std::nullopt;
    Reckoned out;
    std::string before;         // since the last factor
    std::optional<double> told; // the last amount of that unit before the first factor
    bool ended = false;
    const auto close = [&] {
        if (out.factors.empty()) {
            out.start = before.substr(last_clause_at(before));
            out.start_source = cut_source(out.start);
        } else {
            Factor& factor = out.factors.back();
            factor.source = cut_source(before);
            factor.why += (factor.why.empty() || before.empty() ? "" : " ") + before;
        }
        before.clear();
    };
    for (const MessagePart& part : parts_of(basis)) {
        if (const auto* text = std::get_if<std::string>(&part)) {
            before += *text;
            continue;
        }
        const Amounts& amounts = std::get<Amounts>(part);
        const bool is_one = amounts.values.size() == 1, is_number = amounts.unit == Unit::none && is_one;
        const Marker* marker = is_number ? marker_at_end(before) : nullptr;
        if (marker != nullptr) {
            before.resize(before.size() - marker->text.size());
            close();
            out.factors.push_back({.divides = marker->divides,
                                   .value = amounts.values.front(),
                                   .why = std::string(marker->name),
                                   .source = {}});
        } else if (!out.factors.empty() && of == Unit::MPa && amounts.unit == of &&
                   before.ends_with(equals)) {
            before.resize(before.size() - equals.size());
            close();
            out.value = amounts.values.front();
            ended = true;
            break;
        } else {
            if (out.factors.empty() && amounts.unit == of && is_one) told = amounts.values.front();
            before += in_words(Message(amounts), units);
        }
    }
    constexpr double noise = 1e-9;
    if (out.factors.empty()) return std::nullopt;
    double of_start = 1; // what is left of it
    for (const Factor& factor : out.factors) of_start *= factor.divides ? 1 / factor.value : factor.value;
    if (!ended) { // the sentence ends with its last factor, and its value is the capacity
        if (last_clause_at(before) > 0) return std::nullopt;
        close();
        out.value = capacity;
        const bool is_so = told && std::abs(*told * of_start - capacity) <= noise * capacity;
        if (of != Unit::N && !is_so) return std::nullopt; // of a force the start is not told
    }
    if (!(out.value > 0) || std::abs(out.value - capacity) > noise * capacity) return std::nullopt;
    out.start_value = out.value / of_start;
    return out;
}

} // namespace hollowtop::cli
