// SPDX-License-Identifier: MIT
#include "cli/report/sections/factors.hpp"

#include "cli/words/said.hpp"

#include <cmath>
#include <string_view>

namespace hollowtop::cli {
namespace {

constexpr std::string_view times = " x ", over = " / ", equals = " = ";

std::string_view trimmed(std::string_view text) {
    while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
    while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
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

/// Behind the last ": " or "; " that stands in no bracket.
std::string last_clause(const std::string& text) {
    int depth = 0;
    std::size_t from = 0;
    for (std::size_t at = 0; at + 1 < text.size(); ++at) {
        depth += text[at] == '(' ? 1 : text[at] == ')' ? -1 : 0;
        if (depth == 0 && (text[at] == ';' || text[at] == ':') && text[at + 1] == ' ') from = at + 2;
    }
    return text.substr(from);
}

} // namespace

std::optional<Reckoned> reckoned_of(const Message& basis, double capacity, Units units) {
    Reckoned out;
    std::string before; // since the last factor
    bool ended = false;
    const auto close = [&] {
        if (out.factors.empty()) {
            out.start = last_clause(before);
            out.start_source = cut_source(out.start);
        } else {
            out.factors.back().source = cut_source(before);
            out.factors.back().why = before;
        }
        before.clear();
    };
    for (const MessagePart& part : parts_of(basis)) {
        if (const auto* text = std::get_if<std::string>(&part)) {
            before += *text;
            continue;
        }
        const Amounts& amounts = std::get<Amounts>(part);
        const bool is_number = amounts.unit == Unit::none && amounts.values.size() == 1;
        if (is_number && (before.ends_with(times) || before.ends_with(over))) {
            const bool divides = before.ends_with(over);
            before.resize(before.size() - times.size());
            close();
            out.factors.push_back(
                {.divides = divides, .value = amounts.values.front(), .why = {}, .source = {}});
        } else if (!out.factors.empty() && amounts.unit == Unit::MPa && before.ends_with(equals)) {
            before.resize(before.size() - equals.size());
            close();
            out.value = amounts.values.front();
            ended = true;
            break;
        } else {
            before += in_words(Message(amounts), units);
        }
    }
    constexpr double noise = 1e-9;
    if (!ended || !(out.value > 0) || std::abs(out.value - capacity) > noise * capacity) return std::nullopt;
    out.start_value = out.value;
    for (const Factor& factor : out.factors)
        out.start_value *= factor.divides ? factor.value : 1 / factor.value;
    return out;
}

} // namespace hollowtop::cli
