// SPDX-License-Identifier: MIT
#include "cli/command_line.hpp"

#include "cli/commands/help.hpp"
#include "cli/commands/settings.hpp"
#include "cli/words/messages.hpp"
#include "cli/words/words.hpp"
#include "solver/piece/version.hpp"

#include <CLI/CLI.hpp>

#include <algorithm>
#include <string>
#include <string_view>
#include <vector>

namespace hollowtop::cli {
namespace {

[[noreturn]] void refuse(const std::string& command, std::string place, std::string what,
                         std::string remedy) {
    throw error_in(command.empty() ? "hollowtop" : "hollowtop " + command,
                   {.place = std::move(place), .what = std::move(what), .remedy = std::move(remedy)});
}

std::string or_help(const std::string& guess, const std::string& command) {
    return guess.empty() ? "see hollowtop " + (command.empty() ? "" : command + " ") + "--help" : guess;
}

/// One command's parser and the variables that it fills.
class Parser {
  public:
    explicit Parser(const Command& command)
        : command_(command), app_("", command.name), values_(command.options.size()) {
        app_.set_help_flag();
        app_.allow_extras();
        for (std::size_t i = 0; i < command.options.size(); ++i) {
            const Option& option = command.options[i];
            const std::string written =
                *option.also == '\0' ? option.name : std::string(option.also) + "," + option.name;
            if (*option.value == '\0')
                app_.add_flag(written)->disable_flag_override();
            else
                app_.add_option(written, values_[i])
                    ->multi_option_policy(option.repeats ? CLI::MultiOptionPolicy::Join
                                                         : CLI::MultiOptionPolicy::Throw);
        }
        if (*command.names != '\0') app_.add_option("names", names_);
    }

    Given parse(std::vector<std::string> words) {
        std::reverse(words.begin(), words.end()); // the library takes them from the back
        try {
            app_.parse(std::move(words));
        } catch (const CLI::ParseError& error) {
            refuse_parse(error);
        }
        for (const std::string& extra : app_.remaining()) refuse_extra(extra);
        Given given{.names = names_, .options = {}};
        for (std::size_t i = 0; i < command_.options.size(); ++i)
            if (app_.count(command_.options[i].name) > 0)
                given.options[command_.options[i].name] = values_[i];
        return given;
    }

  private:
    [[noreturn]] void refuse_parse(const CLI::ParseError& error) {
        const std::string_view told = error.what();
        for (const Option& option : command_.options) {
            const std::string_view name = option.name;
            // The library speaks of an option as "--json: ..." and of a switch as "quiet was ...".
            const bool is_meant = told.substr(0, name.size()) == name ||
                                  told.substr(0, name.size() - 1) == std::string(name.substr(2)) + ' ';
            if (!is_meant) continue;
            if (*option.value == '\0')
                refuse(command_.name, option.name, "this option takes no value", "leave the value out");
            const bool repeated = !option.repeats && app_.count(option.name) > 1;
            refuse(command_.name, option.name, repeated ? "this option is given twice" : "a value is missing",
                   repeated ? "keep one of them" : std::string("write ") + option.name + ' ' + option.value);
        }
        refuse(command_.name, "", error.what(), or_help("", command_.name));
    }

    [[noreturn]] void refuse_extra(const std::string& extra) {
        if (extra.empty() || extra.front() != '-')
            refuse(command_.name, cli::in_quotes(extra), "this command takes no such word",
                   or_help("", command_.name));
        std::vector<std::string_view> known;
        for (const Option& option : command_.options) known.emplace_back(option.name);
        const std::string name = extra.substr(0, extra.find('='));
        refuse(command_.name, name, "no such option", or_help(did_you_mean(name, known), command_.name));
    }

    const Command& command_;
    CLI::App app_;
    std::vector<std::string> values_;
    std::vector<std::string> names_;
};

const Command& find_command(const std::string& name) {
    std::vector<std::string_view> known;
    for (const Command& command : commands()) {
        if (name == command.name) return command;
        known.emplace_back(command.name);
    }
    const bool is_option = name.front() == '-';
    refuse("", cli::in_quotes(name).substr(1, cli::in_quotes(name).size() - 2),
           is_option ? "no such option" : "no such command",
           or_help(is_option ? "" : did_you_mean(name, known), ""));
}

void expect_names(const Command& command, const Given& given) {
    const std::size_t count = given.names.size();
    if (count < command.least_names)
        refuse(command.name, "", std::string(command.names) + " is missing",
               "write hollowtop " + std::string(command.name) + ' ' + command.names);
    if (count > command.most_names)
        refuse(command.name, cli::in_quotes(given.names[command.most_names]), "one word too many",
               or_help("", command.name));
}

} // namespace

Status run_command_line(int argc, const char* const* argv) {
    const std::vector<std::string> words(argv + std::min(argc, 1), argv + argc);
    if (words.empty()) refuse("", "", "a command is missing", "see hollowtop --help");
    if (words.front() == "--help" || words.front() == "-h" || words.front() == "help") {
        print(program_help());
        return Status::passes;
    }
    if (words.front() == "--version") {
        print(std::string("hollowtop ") + program_version + "\n");
        return Status::passes;
    }
    if (words.front().empty()) refuse("", "", "a command is missing", "see hollowtop --help");
    const Command& command = find_command(words.front());
    for (const std::string& word : words)
        if (word == "--help" || word == "-h") {
            print(command_help(command));
            return Status::passes;
        }
    const Given given = Parser(command).parse({words.begin() + 1, words.end()});
    expect_names(command, given);
    return command.run(given);
}

} // namespace hollowtop::cli
