// SPDX-License-Identifier: MIT
#include "cli/files/line_file.hpp"

#include "materials/error.hpp"

#include <catch2/catch.hpp>

#include <filesystem>
#include <fstream>
#include <random>
#include <sstream>

using namespace hollowtop;
using namespace hollowtop::cli;

namespace {

struct File {
    std::string name = (std::filesystem::temp_directory_path() /
                        ("hollowtop_lines_" + std::to_string(std::random_device{}())))
                           .string();
    explicit File(const std::string& content) { std::ofstream(name) << content; }
    ~File() {
        std::error_code ignored;
        std::filesystem::remove(name, ignored);
    }
    File(const File&) = delete;
    File& operator=(const File&) = delete;
    std::string content() const {
        std::ostringstream out;
        out << std::ifstream(name).rdbuf();
        return out.str();
    }
};

} // namespace

TEST_CASE("a file that is gone on with loses only what was cut off", "[cli]") {
    const File file("one\ntwo\nthr");
    LineFile lines(file.name, "--csv", true);
    std::vector<std::string> seen;
    lines.read([&](const std::string& line) {
        seen.push_back(line);
        return true;
    });
    CHECK(seen == std::vector<std::string>{"one", "two"});
    CHECK(lines.lines() == 2);
    lines.put("three\n");
    CHECK(file.content() == "one\ntwo\nthree\n");
}

TEST_CASE("lines that are not wanted are cut away", "[cli]") {
    const File file("one\nbad\ntwo\n");
    LineFile lines(file.name, "--csv", true);
    lines.read([](const std::string& line) { return line != "bad"; });
    CHECK(file.content() == "one\n");
}

TEST_CASE("a new run empties the old file, and a line is in the file as soon as it is put", "[cli]") {
    const File file("old\n");
    LineFile lines(file.name, "--csv", false);
    CHECK(file.content().empty());
    lines.put("new\n");
    CHECK(file.content() == "new\n");
}

TEST_CASE("a file that cannot be written is refused by its option", "[cli]") {
    try {
        LineFile lines("/nowhere/at/all.csv", "--csv", false);
        FAIL("it was taken");
    } catch (const Error& error) {
        CHECK(error.faults().front().place == "--csv");
    }
}
