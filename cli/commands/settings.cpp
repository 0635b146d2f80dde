// SPDX-License-Identifier: MIT
#include "cli/commands/settings.hpp"

#include "cli/files/files.hpp"
#include "cli/words/quantity.hpp"
#include "cli/words/words.hpp"
#include "materials/error.hpp"

#include <cerrno>
#include <charconv>
#include <cstdio>
#include <cstdlib>
#include <system_error>
#include <unistd.h>

namespace hollowtop::cli {
namespace {

[[noreturn]] void refuse(const Option& option, std::string what, std::string remedy) {
    throw Error(ErrorKind::input, Fault{option.name, std::move(what), std::move(remedy)});
}

void read_mesh(const std::string& text, CheckOptions& check) {
    constexpr const char* way = "give coarse, normal, fine or a length such as 25mm or 1in";
    if (text == "coarse") {
        check.mesh = CheckOptions::Mesh::coarse;
    } else if (text == "normal") {
        check.mesh = CheckOptions::Mesh::normal;
    } else if (text == "fine") {
        check.mesh = CheckOptions::Mesh::fine;
    } else {
        double size = 0;
        try {
            size = Length::parse(text).mm();
        } catch (const Error&) {
            refuse(mesh_option, in_quotes(text) + " is no fineness", way);
        }
        constexpr double least = 1;
        constexpr double most = 1000;
        if (!(size >= least && size <= most))
            refuse(mesh_option, in_quotes(text) + " is out of reach", "give 1 mm to 1000 mm");
        check.mesh_size = size;
    }
}

int read_threads(const std::string& text) {
    constexpr int most = 256;
    int threads = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), threads);
    if (error != std::errc{} || end != text.data() + text.size() || threads < 1 || threads > most)
        refuse(threads_option, in_quotes(text) + " is no number of threads",
               "give a whole number from 1 to 256");
    return threads;
}

} // namespace

Settings settings_of(const Given& given) {
    Settings settings;
    settings.quiet = given.has(quiet_option.name);
    if (given.has(units_option.name)) {
        const std::string& word = given.options.at(units_option.name);
        if (word != "mm" && word != "in")
            refuse(units_option, in_quotes(word) + " is not known here", "give mm or in");
        settings.units = word == "mm" ? Units::mm : Units::inch;
    }
    if (given.has(mesh_option.name)) read_mesh(given.options.at(mesh_option.name), settings.check);
    if (given.has(threads_option.name))
        settings.check.threads = read_threads(given.options.at(threads_option.name));
    if (given.has(json_option.name)) {
        settings.json_file = given.options.at(json_option.name);
        if (!settings.json_to_output()) ensure_writable(settings.json_file, json_option.name);
    }
    if (given.has(out_option.name)) {
        settings.out_file = given.options.at(out_option.name);
        if (settings.out_file == "-") settings.out_file.clear();
        if (!settings.out_file.empty()) {
            ensure_writable(settings.out_file, out_option.name);
        }
    }
    ensure_apart(given.names, {{json_option.name, settings.json_file}, {out_option.name, settings.out_file}});
    const char* const no_color = std::getenv("NO_COLOR"); // by custom: set and not empty, whatever its value
    const bool colour_refused = given.has(no_color_option.name) || (no_color != nullptr && *no_color != '\0');
    settings.coloured = !colour_refused && settings.out_file.empty() && ::isatty(STDOUT_FILENO) == 1;
    settings.bar_wanted = !settings.quiet && ::isatty(STDERR_FILENO) == 1;
    return settings;
}

void ensure_apart(const std::vector<std::string>& pieces,
                  const std::vector<std::pair<const char*, std::string>>& outputs) {
    const auto is_file = [](const std::string& file) { return !file.empty() && file != "-"; };
    for (std::size_t i = 0; i < outputs.size(); ++i) {
        const auto& [option, file] = outputs[i];
        if (!is_file(file)) continue;
        for (const std::string& piece : pieces)
            if (is_same_file(piece, file))
                throw Error(ErrorKind::input, Fault{option, in_quotes(file) + " is the piece file itself",
                                                    "name another file"});
        for (std::size_t j = 0; j < i; ++j)
            if (is_file(outputs[j].second) && is_same_file(file, outputs[j].second))
                throw Error(ErrorKind::input,
                            Fault{option, "this is the file of " + std::string(outputs[j].first) + " too",
                                  "name another file"});
    }
}

std::string junit_file_of(const Given& given) {
    if (!given.has(junit_option.name)) return {};
    const std::string& file = given.options.at(junit_option.name);
    if (file == "-") refuse(junit_option, "is not written to standard output", "name a file");
    ensure_writable(file, junit_option.name);
    return file;
}

void add_text(std::vector<Output>& outputs, const Settings& settings, std::string text) {
    if (!settings.text_wanted()) return;
    const std::string& file = settings.out_file;
    outputs.push_back(
        {.file = file.empty() ? "-" : file, .option = out_option.name, .content = std::move(text)});
}

void add_json(std::vector<Output>& outputs, const std::string& file, std::string json) {
    if (!file.empty())
        outputs.push_back({.file = file, .option = json_option.name, .content = std::move(json)});
}

void put_text(const Settings& settings, const std::string& text) {
    std::vector<Output> outputs;
    add_text(outputs, settings, text);
    write_files(outputs);
}

} // namespace hollowtop::cli
