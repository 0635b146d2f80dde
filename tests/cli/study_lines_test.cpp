// SPDX-License-Identifier: MIT
#include "cli/json/study_lines.hpp"

#include "solver/checks/checks.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>

using namespace hollowtop;
using namespace hollowtop::cli;
using Catch::Matchers::WithinRel;

namespace {

VariantLine sample() {
    StudyRow row;
    row.passes = true;
    row.governing_check = "dish";
    row.governing_situation = "a \"heavy\" box, set down";
    row.utilisation = 0.875;
    row.mass_kg = 31.25;
    row.stiffeners_kg = 1.0 / 3;
    row.sag_mm = 2.0625;
    row.sag_limit_mm = 6;
    row.dish_mm = 0.5;
    row.uses.assign(table_of_checks().size(), -1);
    for (std::size_t i = 0; i < row.uses.size(); ++i)
        if (table_of_checks()[i].name == std::string("dish")) row.uses[i] = 0.875;
    row.season_uses = {1.5, -1};
    return {.variant = 17, .choices = {"16 mm", "angle, odd"}, .row = row, .problem = {}};
}

} // namespace

TEST_CASE("a line of CSV reads back as what was written", "[cli]") {
    const VariantLine line = sample();
    const std::string text = csv_line(line);
    REQUIRE(text.back() == '\n');
    const auto back = read_csv_line(text.substr(0, text.size() - 1), 2);
    REQUIRE(back);
    CHECK(back->variant == 17);
    CHECK(back->choices == line.choices);
    REQUIRE(back->row);
    CHECK(back->row->passes);
    CHECK(back->row->governing_situation == line.row->governing_situation);
    CHECK(back->row->mass_kg == 31.25);
    CHECK_THAT(back->row->stiffeners_kg, WithinRel(1.0 / 3, 1e-11)); // twelve digits are written
    CHECK_FALSE(back->row->cost);
    CHECK(back->row->dish_mm == 0.5);
    CHECK(back->row->uses == line.row->uses);
    CHECK(back->row->season_uses == line.row->season_uses);
    CHECK(csv_line(*back) == text);
}

TEST_CASE("a variant's seasons read back as they were written, and stay away where they were not asked for",
          "[cli]") {
    VariantLine line = sample();
    line.seasons = SeasonNumbers{.free_mm = 3.5, .held_mm = 1.25, .boards_mm = {}, .tension_MPa = 0.75};
    const std::string text = csv_line(line);
    const auto back = read_csv_line(text.substr(0, text.size() - 1), 2);
    REQUIRE(back);
    REQUIRE(back->seasons);
    CHECK(back->seasons->free_mm == 3.5);
    CHECK(back->seasons->held_mm == 1.25);
    CHECK_FALSE(back->seasons->boards_mm);
    CHECK(back->seasons->tension_MPa == 0.75);
    CHECK(csv_line(*back) == text);
    CHECK(nlohmann::json::parse(json_line({"depth", "section"}, line))["seasons"]["pull_MPa"] == 0.75);
    const std::string without = csv_line(sample());
    CHECK_FALSE(read_csv_line(without.substr(0, without.size() - 1), 2)->seasons);
}

TEST_CASE("a heading names as many columns as a line has", "[cli]") {
    const std::string heading = csv_heading({"depth", "section"}),
                      line = csv_line({.variant = 1, .choices = {"a", "b"}, .row = {}, .problem = "x"});
    CHECK(std::count(heading.begin(), heading.end(), ',') == std::count(line.begin(), line.end(), ','));
}

TEST_CASE("a line that was cut off is seen", "[cli]") {
    const std::string whole = csv_line(sample());
    for (const std::size_t length : {whole.size() / 2, std::size_t{3}, std::size_t{0}})
        CHECK_FALSE(read_csv_line(whole.substr(0, length), 2));
    CHECK_FALSE(read_csv_line(whole.substr(0, whole.size() - 1), 3));
    CHECK_FALSE(read_csv_line("variant,depth", 2));
}

TEST_CASE("a variant that cannot be made keeps its reason on one line", "[cli]") {
    const VariantLine line{
        .variant = 3, .choices = {"x"}, .row = {}, .problem = "recesses[0].depth: too\ndeep"};
    const std::string text = csv_line(line);
    CHECK(std::count(text.begin(), text.end(), '\n') == 1);
    const auto back = read_csv_line(text.substr(0, text.size() - 1), 1);
    REQUIRE(back);
    CHECK_FALSE(back->row);
    CHECK(back->problem == "recesses[0].depth: too deep");
}

TEST_CASE("a line of JSON is an object with the same numbers", "[cli]") {
    const std::string text = json_line({"depth", "section"}, sample());
    CHECK(std::count(text.begin(), text.end(), '\n') == 1);
    const auto json = nlohmann::json::parse(text);
    CHECK(json["variant"] == 17);
    CHECK(json["choices"]["section"] == "angle, odd");
    CHECK(json["verdict"] == "passes");
    CHECK(json["utilisation"]["dish"] == 0.875);
    CHECK(json["utilisation"]["held across the grain"] == 1.5);
    CHECK(json["utilisation"].size() == 2);
    CHECK(json["cost"].is_null());
    CHECK(json["stiffeners_kg"] == 1.0 / 3);
}

TEST_CASE("what a file was written for reads back from CSV and from JSON", "[cli]") {
    const WrittenFor what{.version = "1.2.3", .piece = "abc", .mesh = "25 mm", .settings = "def"};
    const std::string csv = csv_written_for(what), json = json_written_for(what);
    CHECK(csv == "# hollowtop 1.2.3, mesh 25 mm, piece abc, settings def\n");
    REQUIRE(read_written_for(csv.substr(0, csv.size() - 1)));
    CHECK(*read_written_for(csv.substr(0, csv.size() - 1)) == what);
    REQUIRE(read_written_for(json.substr(0, json.size() - 1)));
    CHECK(*read_written_for(json.substr(0, json.size() - 1)) == what);
    for (const char* line : {"", "#", "# hollowtop 1.2.3, mesh 25 mm", "variant,depth", "{", "{}",
                             R"({"hollowtop": 1, "mesh": "a", "piece": "b", "settings": "c"})"})
        CHECK_FALSE(read_written_for(line));
}

TEST_CASE("in what two files differ is named", "[cli]") {
    const WrittenFor one{.version = "1", .piece = "a", .mesh = "coarse", .settings = "s"};
    CHECK(differences(one, one) == "");
    WrittenFor other = one;
    other.piece = "b";
    CHECK(differences(one, other) == "the piece");
    other.mesh = "fine";
    other.version = "2";
    CHECK(differences(one, other) == "the piece, the mesh (coarse, now fine) and the version (1, now 2)");
}
