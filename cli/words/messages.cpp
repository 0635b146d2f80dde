// SPDX-License-Identifier: MIT
#include "cli/words/messages.hpp"

#include "solver/piece/limits.hpp"

#include <algorithm>
#include <cstdio>
#include <utility>

namespace hollowtop::cli {

namespace {

/// Nothing of a file or a command line reaches a terminal as a command.
std::string harmless(std::string text) {
    std::replace_if(
        text.begin(), text.end(),
        [](char c) { return (static_cast<unsigned char>(c) < ' ' && c != '\n') || c == '\x7f'; }, '?');
    return text;
}

} // namespace

Error error_in(const std::string& file, Fault fault) {
    Error error(ErrorKind::input, std::move(fault));
    error.file = file;
    return error;
}

std::string message_of(const Error& error) {
    const std::string head = error.file.empty() ? "hollowtop" : error.file;
    std::string text;
    const std::size_t n_shown = std::min(error.faults().size(), most_faults_shown);
    for (std::size_t i = 0; i < n_shown; ++i) {
        const Fault& fault = error.faults()[i];
        text += head + ": " + (fault.place.empty() ? "" : fault.place + ": ") + in_own_units(fault.what) +
                (fault.remedy.empty() ? "" : "; " + in_own_units(fault.remedy)) + '\n';
    }
    if (n_shown < error.faults().size())
        text += head + ": and " + (error.faults().size() >= most_faults ? "at least " : "") +
                std::to_string(error.faults().size() - n_shown) + " more\n";
    return harmless(std::move(text));
}

void show(const Error& error) { std::fputs(message_of(error).c_str(), stderr); }

void show(const std::string& sentence) {
    std::fputs(harmless("hollowtop: " + sentence + '\n').c_str(), stderr);
}

} // namespace hollowtop::cli
