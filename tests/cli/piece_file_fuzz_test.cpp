// SPDX-License-Identifier: MIT
// Whatever stands in a piece file, the reader answers with a piece or with an error that has a place or a
// sentence: it never crashes, hangs or lets another exception out.
#include "cli/read/piece_file.hpp"
#include "cli/words/messages.hpp"
#include "materials/error.hpp"

#include <catch2/catch.hpp>

#include <array>
#include <fstream>
#include <iterator>
#include <random>
#include <string>
#include <string_view>

using namespace hollowtop;
using namespace hollowtop::cli;

namespace {

std::string example(const std::string& name) {
    std::ifstream input(std::string(HOLLOWTOP_SOURCE_DIR) + "/docs/examples/" + name, std::ios::binary);
    return {std::istreambuf_iterator<char>(input), {}};
}

/// Bits that upset readers: wrong kinds, wild numbers, half structures, odd bytes.
constexpr std::array<std::string_view, 24> bits{
    "null", "true",       "-1",        "0",  "1e308", "-1e-308", "99999999999999999999",
    "\"\"", "\"1/0 in\"", "\"42 mm\"", "[]", "{}",    "[[]]",    "{\"x\":",
    ",",    ":",          "\"",        "]",  "}",     "//",      "/*",
    "\xff", "\\u0000",    "\"worst\""};

class Mutator {
  public:
    explicit Mutator(unsigned seed) : random_(seed) {}

    std::string mutated(std::string text) {
        const int n_changes = 1 + pick(4);
        for (int i = 0; i < n_changes; ++i) change(text);
        return text;
    }

  private:
    // The library's own distributions differ from one standard library to the next; the remainder does not.
    int pick(int below) { return static_cast<int>(random_() % static_cast<unsigned>(below)); }
    std::size_t place_in(const std::string& text) {
        return static_cast<std::size_t>(pick(static_cast<int>(text.size()) + 1));
    }

    /// A number or a text of the file, from its start to its end.
    void replace_a_value(std::string& text) {
        const std::size_t from = text.find_first_of("0123456789\"", place_in(text));
        if (from == std::string::npos) return;
        const std::size_t to =
            text[from] == '"' ? text.find('"', from + 1) : text.find_first_not_of("0123456789.-", from);
        const std::size_t length = to == std::string::npos ? 1 : to - from + (text[from] == '"' ? 1 : 0);
        text.replace(from, length, bits[static_cast<std::size_t>(pick(static_cast<int>(bits.size())))]);
    }

    void change(std::string& text) {
        switch (pick(5)) {
        case 0:
            text.erase(place_in(text), static_cast<std::size_t>(pick(20)));
            break;
        case 1:
            text.insert(place_in(text), bits[static_cast<std::size_t>(pick(static_cast<int>(bits.size())))]);
            break;
        case 2:
            if (!text.empty()) text[place_in(text) % text.size()] = static_cast<char>(pick(256));
            break;
        case 3:
            text.insert(place_in(text), text.substr(place_in(text), static_cast<std::size_t>(pick(60))));
            break;
        default:
            replace_a_value(text);
            break;
        }
    }

    std::mt19937 random_;
};

} // namespace

TEST_CASE("the reader answers two thousand spoilt piece files with a piece or with an error", "[cli][fuzz]") {
    Mutator mutator(20240229);
    int n_pieces = 0;
    int n_errors = 0;
    const std::array<std::string, 3> originals{example("reading_table.json"), example("counter.json"),
                                               example("desk.json")};
    for (int i = 0; i < 2000; ++i) {
        const std::string text = mutator.mutated(originals[static_cast<std::size_t>(i) % originals.size()]);
        INFO(text);
        try {
            (void)piece_of_json(text);
            ++n_pieces;
        } catch (const Error& error) {
            ++n_errors;
            REQUIRE(error.kind() == ErrorKind::input);
            REQUIRE_FALSE(error.faults().empty());
            for (const Fault& fault : error.faults()) REQUIRE_FALSE(fault.what.empty());
            const std::string message = message_of(error);
            // Nothing of the file may reach a terminal as a command.
            REQUIRE(message.find('\x1b') == std::string::npos);
            REQUIRE(message.find('\0') == std::string::npos);
        }
    }
    CHECK(n_pieces > 50); // else the mutations are too wild to test what lies behind the parser
    CHECK(n_errors > 500);
}
