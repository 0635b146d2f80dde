// SPDX-License-Identifier: MIT
// The targets without libFuzzer: every file of the corpus as it is, then as many spoilt ones as are asked for. An input
// follows from the seed and its number alone.
//     fuzz_replay PROJECT N SEED               all targets
//     fuzz_replay PROJECT N SEED TARGET NUMBER writes that one input to standard output
#include "tests/fuzz/targets.hpp"

#include <algorithm>
#include <array>
#include <csignal>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <iterator>
#include <random>
#include <string>
#include <vector>

namespace {

using namespace hollowtop;

/// Of its own folder, and of the other that holds such files.
std::vector<std::string> corpus_of(const FuzzTarget& target, const std::filesystem::path& project) {
    std::vector<std::filesystem::path> names;
    for (const auto& entry : std::filesystem::directory_iterator(project / "tests/fuzz/corpus" / target.name))
        names.push_back(entry.path());
    if (!target.also.empty())
        for (const auto& entry : std::filesystem::directory_iterator(project / target.also))
            names.push_back(entry.path());
    std::sort(names.begin(), names.end());
    std::vector<std::string> texts;
    for (const auto& name : names) {
        std::ifstream input(name, std::ios::binary);
        texts.emplace_back(std::istreambuf_iterator<char>(input), std::istreambuf_iterator<char>());
    }
    return texts;
}

/// What upsets readers, of all of them alike.
constexpr std::array<std::string_view, 40> bits{
    "null", "true", "-1",  "0",  "1e308",  "-1e-308", "99999999999999999999",
    "nan",  "inf",  "1/0", "[",  "]",      "{",       "}",
    "\"",   "\"\"", ",",   ";",  "\t",     "\r",      "\n",
    "#",    "%",    "-",   "+",  ".",      "\xff",    "\xEF\xBB\xBF",
    "/*",   "//",   "in",  "mm", "kg",     "lb",      "'",
    "x",    "0x1p", "1e",  "m2", "\\u0000"};

std::string input_of(const std::vector<std::string>& texts, std::uint32_t seed, std::uint32_t number) {
    if (number < texts.size()) return texts[number];
    std::seed_seq sequence{seed, number};
    std::mt19937 random(sequence);
    const auto below = [&](std::size_t n) { return n == 0 ? 0 : static_cast<std::size_t>(random() % n); };
    std::string text = texts[below(texts.size())];
    for (std::size_t n = 1 + below(4); n > 0; --n) {
        const std::size_t at = below(text.size() + 1);
        switch (below(6)) {
        case 0:
            text.erase(at, below(20));
            break;
        case 1:
            text.insert(at, bits[below(bits.size())]);
            break;
        case 2:
            if (at < text.size()) text[at] = static_cast<char>(below(256));
            break;
        case 3:
            text.insert(at, text.substr(below(text.size() + 1), below(60)));
            break;
        case 4: { // a number or a word of it
            const std::size_t from = std::min(text.find_first_of("0123456789\"", at), text.size());
            const std::size_t to = std::min(text.find_first_not_of("0123456789.-/", from), text.size());
            text.replace(from, std::max<std::size_t>(to - from, 1), bits[below(bits.size())]);
            break;
        }
        default: { // the head of one, the tail of another
            const std::string& other = texts[below(texts.size())];
            text = text.substr(0, at) + other.substr(below(other.size() + 1));
        }
        }
    }
    return text;
}

std::string_view current_target;
std::uint32_t current_number = 0;

extern "C" void tell_where(int signal) {
    std::fprintf(stderr, "fuzz_replay: target %.*s, input %u\n", static_cast<int>(current_target.size()),
                 current_target.data(), current_number);
    std::signal(signal, SIG_DFL);
    std::raise(signal);
}

} // namespace

int main(int argc, char** argv) {
    if (argc != 4 && argc != 6) {
        std::cerr << "fuzz_replay PROJECT N SEED [TARGET NUMBER]\n";
        return 2;
    }
    const std::filesystem::path project = argv[1];
    const auto number = [&](int i) { return static_cast<std::uint32_t>(std::stoul(argv[i])); };
    const std::uint32_t n = number(2), seed = number(3);
    if (argc == 6) {
        std::cout << input_of(corpus_of(fuzz_target(argv[4]), project), seed, number(5));
        return 0;
    }
    std::signal(SIGABRT, tell_where);
    for (const FuzzTarget& target : fuzz_targets()) {
        const std::vector<std::string> texts = corpus_of(target, project);
        if (texts.empty()) {
            std::cerr << "no corpus for " << target.name << '\n';
            return 1;
        }
        current_target = target.name;
        const auto all = static_cast<std::uint32_t>(texts.size()) + n;
        for (current_number = 0; current_number < all; ++current_number)
            target.run(input_of(texts, seed, current_number));
        std::cout << target.name << ": " << texts.size() << " files and " << n << " spoilt ones\n";
    }
    return 0;
}
