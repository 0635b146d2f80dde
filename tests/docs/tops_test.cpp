// SPDX-License-Identifier: MIT
// The judgement judged: docs/tops holds invented pieces as they stand in any home, which must meet their
// limits, and pieces with one plain fault, which must fail by the row of the checks that names it
// (docs/tops/expected.csv). The table of both in docs/method.md is held here.
//
// HOLLOWTOP_UPDATE_DOCS=1 in the environment writes what is computed into the table instead: look at the
// difference before you keep it.
#include "cli/read/piece_file.hpp"
#include "solver/check/check_piece.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <map>
#include <sstream>
#include <string>
#include <vector>

using namespace hollowtop;
namespace fs = std::filesystem;

namespace {

const fs::path docs = fs::path(HOLLOWTOP_SOURCE_DIR) / "docs";

struct Judged {
    std::string piece, title, row, situation;
    bool passes = false;
    double used = 0; ///< of the row
};

std::vector<std::string> pieces_in(const char* folder) {
    std::vector<std::string> names;
    for (const auto& entry : fs::directory_iterator(docs / "tops" / folder))
        if (entry.path().extension() == ".json") names.push_back(entry.path().stem().string());
    std::sort(names.begin(), names.end());
    return names;
}

Result checked(const char* folder, const std::string& name) {
    CheckOptions options;
    options.essentials = true;
    return check_piece(cli::load_piece((docs / "tops" / folder / (name + ".json")).string()), options).result;
}

std::string plain_title(const std::string& title) {
    const auto mark = title.find(" (invented)");
    return title.substr(0, mark);
}

/// piece -> the row that must fail.
std::map<std::string, std::string> expected_rows() {
    std::map<std::string, std::string> expected;
    std::ifstream in(docs / "tops" / "expected.csv");
    REQUIRE(in);
    std::string line;
    while (std::getline(in, line)) {
        if (line.empty() || line.front() == '#' || line.rfind("file,", 0) == 0) continue;
        std::istringstream cells(line);
        std::string name, row;
        std::getline(cells, name, ',');
        std::getline(cells, row, ',');
        expected[name] = row;
    }
    return expected;
}

/// The worst of the rows of one name.
const CheckResult* worst_row(const Result& result, const std::string& name) {
    const CheckResult* worst = nullptr;
    for (const CheckResult& row : result.checks)
        if (row.check == name && !row.advice && (!worst || row.utilisation > worst->utilisation))
            worst = &row;
    return worst;
}

std::string percent(double share) {
    return share >= 10 ? "over 1000 %" : std::to_string(std::lround(100 * share)) + " %";
}

std::string line_of(const Judged& judged) {
    return "| " + judged.title + " | " + judged.row + " | " + judged.situation + " | " +
           percent(judged.used) + " | " + (judged.passes ? percent(1 - judged.used) : "fails") + " |";
}

struct Page {
    std::vector<std::string> before, table, after;
};

Page read_page() {
    Page page;
    std::ifstream in(docs / "method.md");
    REQUIRE(in);
    int part = 0;
    for (std::string line; std::getline(in, line);) {
        if (line == "<!-- tops: end -->") part = 2;
        (part == 0 ? page.before : part == 1 ? page.table : page.after).push_back(line);
        if (line == "<!-- tops: made by tests/docs/tops_test.cpp -->") part = 1;
    }
    REQUIRE(part == 2);
    return page;
}

/// All but the two columns of percentages, which may differ by a rounded point from processor to processor.
std::string without_shares(const std::string& line) {
    std::string words;
    int column = 0;
    for (const char c : line) {
        if (c == '|') ++column;
        if (column < 4) words += c;
    }
    return words;
}

} // namespace

TEST_CASE("tops that stand in any home meet their limits, and tops with one plain fault fail by the row that "
          "names it",
          "[tops][slow][long]") {
    std::vector<std::string> table{"", "Tops that stand:", "", "| piece | governs | in | used | left |",
                                   "| --- | --- | --- | --- | --- |"};
    const std::vector<std::string> sound = pieces_in("stand"), faulty = pieces_in("broke");
    CHECK(sound.size() >= 30);
    CHECK(faulty.size() >= 20);
    for (const std::string& name : sound) {
        CAPTURE(name);
        const Result result = checked("stand", name);
        INFO(result.governing_check << ", " << in_own_units(result.governing_situation) << ": "
                                    << result.governing_utilisation);
        CHECK(result.passes);
        table.push_back(
            line_of({name, plain_title(result.title), result.governing_check,
                     in_own_units(result.governing_situation), result.passes, result.governing_utilisation}));
    }
    table.insert(table.end(), {"", "Tops that broke, each by one fault:", "",
                               "| piece | row that names the fault | in | used | verdict |",
                               "| --- | --- | --- | --- | --- |"});
    const std::map<std::string, std::string> expected = expected_rows();
    CHECK(expected.size() == faulty.size());
    for (const std::string& name : faulty) {
        CAPTURE(name);
        const Result result = checked("broke", name);
        INFO(result.governing_check << ", " << in_own_units(result.governing_situation) << ": "
                                    << result.governing_utilisation);
        CHECK_FALSE(result.passes);
        REQUIRE(expected.count(name) == 1);
        const CheckResult* const row = worst_row(result, expected.at(name));
        REQUIRE(row != nullptr);
        CHECK(row->utilisation > 1);
        table.push_back(line_of({name, plain_title(result.title), row->check, in_own_units(row->situation),
                                 false, row->utilisation}));
    }
    table.emplace_back("");

    const Page page = read_page();
    if (std::getenv("HOLLOWTOP_UPDATE_DOCS") != nullptr) {
        std::ofstream out(docs / "method.md");
        for (const std::vector<std::string>* part :
             {&page.before, static_cast<const std::vector<std::string>*>(&table), &page.after})
            for (const std::string& line : *part) out << line << '\n';
        REQUIRE(out);
        return;
    }
    REQUIRE(page.table.size() == table.size());
    for (std::size_t i = 0; i < table.size(); ++i)
        CHECK(without_shares(page.table[i]) == without_shares(table[i]));
}
