// SPDX-License-Identifier: MIT
#include "cli/commands/shells.hpp"

#include "cli/commands/command.hpp"

#include <string_view>

namespace hollowtop::cli {
namespace {

/// What may stand in a place of the command line.
enum class Kind { free, words, file, folder, piece };

struct Offer {
    Kind kind = Kind::free;
    std::string words; ///< parted by spaces
};

bool holds(std::string_view text, std::string_view part) { return text.find(part) != std::string_view::npos; }

Offer offer_of(const Option& option) {
    if (*option.words != '\0') return {Kind::words, option.words};
    if (holds(option.value, "FILE")) return {Kind::file, ""};
    return {holds(option.value, "FOLDER") ? Kind::folder : Kind::free, ""};
}

Offer offer_of(const Command& command) {
    if (command.offered != nullptr) {
        std::string words;
        for (const std::string& word : command.offered()) words += (words.empty() ? "" : " ") + word;
        return {Kind::words, words};
    }
    return {holds(command.names, "PIECE") ? Kind::piece : Kind::free, ""};
}

/// The text in single quotes, as each of the three shells reads them.
std::string quoted_for_shell(std::string_view text, bool is_fish = false) {
    std::string out = "'";
    for (const char c : text) {
        if (c == '\'')
            out += is_fish ? "\\'" : "'\\''";
        else if (c == '\\' && is_fish)
            out += "\\\\";
        else
            out += c;
    }
    return out + '\'';
}

std::string bash_offer(const Offer& offer) {
    switch (offer.kind) {
    case Kind::words:
        return "_hollowtop_words " + quoted_for_shell(offer.words);
    case Kind::file:
        return "_hollowtop_files -f";
    case Kind::folder:
        return "_hollowtop_files -d";
    case Kind::piece:
        return "_hollowtop_files -f -X '!*.json'";
    case Kind::free:
        break;
    }
    return ":";
}

std::string names_of_options(const Command& command) {
    std::string names;
    for (const Option& option : command.options) {
        names += (names.empty() ? "" : " ") + std::string(option.name);
        if (*option.also != '\0') names += ' ' + std::string(option.also);
    }
    return names;
}

/// Words are broken at "=" too: `--mesh=co` arrives as three.
constexpr const char* bash_head = R"(# Completion of hollowtop for bash, made by: hollowtop completion bash
_hollowtop_words() { mapfile -t COMPREPLY < <(compgen -W "$1" -- "$word"); }
_hollowtop_files() {
    compopt -o filenames
    mapfile -t COMPREPLY < <(compgen "$@" -- "$word"; [ "$1" = -d ] || compgen -d -- "$word")
    mapfile -t COMPREPLY < <(printf '%s\n' "${COMPREPLY[@]}" | sort -u | grep .)
}
_hollowtop() {
    local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD-1]}
    if [ "$word" = = ]; then
        word=
    elif [ "$before" = = ]; then
        before=${COMP_WORDS[COMP_CWORD-2]}
    fi
    COMPREPLY=()
)";

} // namespace

std::string bash_completion() {
    std::string names, values, rest;
    for (const Command& command : commands()) {
        names += std::string(command.name) + ' ';
        for (const Option& option : command.options) {
            if (*option.value == '\0') continue;
            const std::string before = std::string("\"") + command.name + ' ';
            values += "    " + before + option.name + '"' +
                      (*option.also == '\0' ? "" : " | " + before + option.also + '"') + ") " +
                      bash_offer(offer_of(option)) + "; return ;;\n";
        }
        rest += std::string("    ") + command.name + ") if [[ $word == -* ]]; then _hollowtop_words " +
                quoted_for_shell(names_of_options(command)) + "; else " + bash_offer(offer_of(command)) +
                "; fi ;;\n";
    }
    return bash_head +
           ("    if [ \"$COMP_CWORD\" -eq 1 ]; then\n        _hollowtop_words " +
            quoted_for_shell(names + "--help --version") +
            "\n        return\n    fi\n    case \"${COMP_WORDS[1]} $before\" in\n") +
           values + "    esac\n    case ${COMP_WORDS[1]} in\n" + rest +
           "    esac\n}\ncomplete -F _hollowtop hollowtop\n";
}

namespace {

/// Colons and brackets part the pieces of a specification.
std::string zsh_text(std::string_view text) {
    std::string out;
    for (const char c : text) {
        if (c == ':' || c == '[' || c == ']' || c == '\\') out += '\\';
        out += c;
    }
    return out;
}

std::string zsh_offer(const Offer& offer) {
    switch (offer.kind) {
    case Kind::words:
        return "(" + offer.words + ")";
    case Kind::file:
        return "_files";
    case Kind::folder:
        return "_files -/";
    case Kind::piece:
        return "_files -g \"*.json\"";
    case Kind::free:
        break;
    }
    return " ";
}

std::string zsh_line(const std::string& name, const Option& option) {
    const bool has_value = *option.value != '\0';
    std::string before;
    if (option.repeats)
        before = "*";
    else if (*option.also != '\0')
        before = "(" + std::string(option.name) + ' ' + option.also + ')';
    const bool is_long = name.size() > 2;
    return "            " +
           quoted_for_shell(
               before + name + (has_value && is_long ? "=" : "") + "[" + zsh_text(option.text) + "]" +
               (has_value ? ":" + zsh_text(option.value) + ":" + zsh_offer(offer_of(option)) : "")) +
           " \\\n";
}

std::string fish_offer(const Offer& offer) {
    switch (offer.kind) {
    case Kind::words:
        return " -a " + quoted_for_shell(offer.words, true);
    case Kind::file:
        return " -F";
    case Kind::folder:
        return " -a '(__fish_complete_directories)'";
    case Kind::piece:
        return " -a '(__fish_complete_suffix .json)'";
    case Kind::free:
        break;
    }
    return "";
}

std::string fish_line(const std::string& when, const Option& option) {
    const Offer offer = offer_of(option);
    return when + " -l " + std::string(option.name).substr(2) +
           (*option.also == '\0' ? "" : " -s " + std::string(option.also).substr(1)) +
           (*option.value == '\0'      ? ""
            : offer.kind == Kind::file ? " -r"
                                       : " -x") +
           (*option.value == '\0' ? "" : fish_offer(offer)) + " -d " + quoted_for_shell(option.text, true) +
           '\n';
}

} // namespace

std::string zsh_completion() {
    std::string names, rest;
    for (const Command& command : commands()) {
        names += "        " + quoted_for_shell(std::string(command.name) + ':' + command.one_line) + '\n';
        rest += std::string("    ") + command.name + ")\n        _arguments \\\n";
        for (const Option& option : command.options) {
            rest += zsh_line(option.name, option);
            if (*option.also != '\0') rest += zsh_line(option.also, option);
        }
        if (*command.names != '\0')
            rest += "            " +
                    quoted_for_shell(std::string(command.most_names > 1 ? "*" : "1") + ":" +
                                     zsh_text(command.names) + ":" + zsh_offer(offer_of(command))) +
                    " \\\n";
        rest += "            && return ;;\n";
    }
    return "#compdef hollowtop\n# Completion of hollowtop for zsh, made by: hollowtop completion zsh\n"
           "_hollowtop() {\n    if (( CURRENT == 2 )); then\n        local -a commands\n        "
           "commands=(\n" +
           names +
           "        '--help:show the help'\n        '--version:show the version'\n        )\n"
           "        _describe -t commands command commands\n        return\n    fi\n"
           "    shift words\n    (( CURRENT-- ))\n    case ${words[1]} in\n" +
           rest +
           "    esac\n}\nif [ \"${funcstack[1]}\" = _hollowtop ]; then\n    _hollowtop \"$@\"\nelse\n"
           "    compdef _hollowtop hollowtop\nfi\n";
}

std::string fish_completion() {
    std::string out = "# Completion of hollowtop for fish, made by: hollowtop completion fish\n"
                      "complete -c hollowtop -f\n"
                      "complete -c hollowtop -n __fish_use_subcommand -l help -d 'show the help'\n"
                      "complete -c hollowtop -n __fish_use_subcommand -l version -d 'show the version'\n";
    for (const Command& command : commands()) {
        out += std::string("complete -c hollowtop -n __fish_use_subcommand -a ") + command.name + " -d " +
               quoted_for_shell(command.one_line, true) + '\n';
        const std::string when =
            std::string("complete -c hollowtop -n '__fish_seen_subcommand_from ") + command.name + "'";
        for (const Option& option : command.options) out += fish_line(when, option);
        const Offer offer = offer_of(command);
        if (offer.kind != Kind::free) out += when + fish_offer(offer) + '\n';
    }
    return out;
}

} // namespace hollowtop::cli
