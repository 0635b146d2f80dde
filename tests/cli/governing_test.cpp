// SPDX-License-Identifier: MIT
// Every check can be the one that decides: tests/cli/governing/ holds an invented piece for each, named after
// it.
#include "cli/read/piece_file.hpp"
#include "cli/words/said.hpp"
#include "materials/digits.hpp"
#include "materials/table.hpp"
#include "solver/check/check_piece.hpp"
#include "solver/checks/checks.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <filesystem>
#include <set>
#include <string>
#include <vector>

using namespace hollowtop;

namespace {

const std::filesystem::path folder =
    std::filesystem::path(HOLLOWTOP_SOURCE_DIR) / "tests" / "cli" / "governing";

/// Advice never decides.
const std::set<std::string> advice{"push on the skin", "feels springy", "heel on the skin"};
/// Their stress or force is also a part of "stresses together" and of "screws in both", or shears the top
/// that hands it on: they decide where it stands alone, which checks_shear_test.cpp, checks_bars_test.cpp and
/// checks_screws_test.cpp in tests/solver show.
const std::set<std::string> shares{"shear in the plane", "screws in shear", "stiffener shear"};

std::string file_of(std::string check) {
    std::replace(check.begin(), check.end(), ' ', '_');
    return (folder / (check + ".json")).string();
}

/// Without what stands in double quotes, which is somebody's word.
std::string without_quoted(const std::string& text) {
    std::string rest;
    bool quoted = false;
    for (const char c : text) {
        if (c == '"')
            quoted = !quoted;
        else if (!quoted)
            rest += c;
    }
    return rest;
}

/// A source keeps the units in which it is quoted.
std::string without_sources(std::string text) {
    for (const std::string& source :
         {materials::cited(materials::rule("wood_rules", "weakest_link_volume_handbook"))})
        for (auto at = text.find(source); at != std::string::npos; at = text.find(source))
            text.erase(at, source.size());
    return text;
}

/// In inches no amount may be left in our own units.
void expect_no_amount_left(const Result& result) {
    std::vector<Message> all = result.assumptions;
    all.insert(all.end(), result.warnings.begin(), result.warnings.end());
    all.push_back(result.pays);
    for (const CheckResult& check : result.checks)
        all.insert(all.end(), {check.situation, check.basis, check.remedy});
    for (const SituationResult& situation : result.situations) all.push_back(situation.name);
    CHECK(all.size() > 10);
    for (const Message& message : all) {
        const std::string text = without_sources(without_quoted(cli::in_words(message, Units::inch)));
        CAPTURE(text);
        CHECK_FALSE(states_amount(text));
    }
}

} // namespace

TEST_CASE("every check governs a piece of its own", "[checks][slow]") {
    std::size_t n = 0;
    CheckOptions quick;
    quick.mesh = CheckOptions::Mesh::coarse;
    quick.threads = 1;
    quick.essentials = true;
    for (const Check& check : table_of_checks()) {
        if (advice.count(check.name) || shares.count(check.name)) continue;
        CAPTURE(check.name);
        ++n;
        const Result result = check_piece(cli::load_piece(file_of(check.name)), quick).result;
        CHECK(result.governing_check == check.name);
        CHECK(result.governing_utilisation > 0.25); // what decides is of some weight, too
        expect_no_amount_left(result);
    }
    const auto files = std::distance(std::filesystem::directory_iterator(folder), {});
    CHECK(static_cast<std::size_t>(files) == n); // no piece without a check
}
