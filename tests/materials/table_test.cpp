// SPDX-License-Identifier: MIT
#include "materials/table.hpp"

#include "materials/error.hpp"

#include <catch2/catch.hpp>

#include <functional>
#include <string>
#include <vector>

using namespace hollowtop;
using namespace hollowtop::materials;

namespace {

std::string message_of(const std::function<void()>& what) {
    try {
        what();
    } catch (const Error& error) {
        return error.faults().front().place + " | " + in_own_units(error.faults().front().what);
    }
    return "no error";
}

} // namespace

TEST_CASE("a table keeps quoted commas, doubled quotes and line breaks", "[materials]") {
    const Table table = read_table(
        "t.csv", "# said first\nid,name,x\na,\"one, \"\"two\"\"\",1.5\n# in between\nb,\"two\nlines\",\n");
    REQUIRE(table.columns == std::vector<std::string>{"id", "name", "x"});
    REQUIRE(table.rows.size() == 2);
    CHECK(table.rows[0].cells[1] == "one, \"two\"");
    CHECK(table.rows[0].line == 3);
    CHECK(table.rows[1].cells[1] == "two\nlines");
    CHECK(table.rows[1].line == 5);
    CHECK(row_of(table, "a").number("x") == 1.5);
}

TEST_CASE("lines may end in carriage return and newline, and the last in neither", "[materials]") {
    const Table table = read_table("t.csv", "id,x\r\na,1\r\nb,2");
    REQUIRE(table.rows.size() == 2);
    CHECK(row_of(table, "b").number("x") == 2);
    CHECK(row_of(table, "a").text("x") == "1");
}

TEST_CASE("an empty cell is no value, not zero", "[materials]") {
    const Table table = read_table("t.csv", "id,x\na,\nb,0\n");
    CHECK_FALSE(row_of(table, "a").number("x").has_value());
    CHECK(row_of(table, "b").number("x") == 0);
    CHECK(message_of([&] { row_of(table, "a").required("x"); }) == "t.csv:2: x | a number is missing");
}

TEST_CASE("what is wrong in a table is named by file, line and column", "[materials]") {
    const Table table = read_table("t.csv", "# first\nid,x\na,1.5mm\n");
    CHECK(message_of([&] { row_of(table, "a").number("x"); }) == "t.csv:3: x | \"1.5mm\" is no number");
    CHECK(message_of([&] { row_of(table, "a").number("y"); }) == "t.csv:3: y | no such column");
    CHECK(message_of([&] { row_of(table, "c"); }) == "t.csv | no row \"c\"");
    CHECK(message_of([] { read_table("t.csv", "id,x\na\n"); }) == "t.csv:2 | 1 cells under 2 columns");
    CHECK(message_of([] { read_table("t.csv", "id,x\na,\"b\n"); }) ==
          "t.csv:2 | a quote is opened and never closed");
    CHECK(message_of([] { read_table("t.csv", "# nothing\n"); }) == "t.csv | no line names the columns");
    CHECK(message_of([] { materials::table("no_such_table"); }) ==
          "no_such_table.csv | no line names the columns");
}

TEST_CASE("infinity and not-a-number are no numbers of a table", "[materials]") {
    const Table table = read_table("t.csv", "id,x\na,inf\nb,nan\n");
    CHECK(message_of([&] { row_of(table, "a").number("x"); }) == "t.csv:2: x | \"inf\" is no number");
    CHECK(message_of([&] { row_of(table, "b").number("x"); }) == "t.csv:3: x | \"nan\" is no number");
}

TEST_CASE("ranges and bounds are read as what they bound", "[materials]") {
    const Table table =
        read_table("t.csv", "id,x\na,600-800\nb,>=900\nc,<=3.5\nd,>5.5\ne,>4-6\nf,12\ng,\nh,a-b\n");
    CHECK(row_of(table, "a").range("x") == Range{600, 800});
    CHECK(row_of(table, "b").range("x") == Range{900, std::nullopt});
    CHECK(row_of(table, "c").range("x") == Range{std::nullopt, 3.5});
    CHECK(row_of(table, "d").range("x") == Range{5.5, std::nullopt});
    CHECK(row_of(table, "e").range("x") == Range{4, 6});
    CHECK(row_of(table, "f").range("x") == Range{12, 12});
    CHECK_FALSE(row_of(table, "g").range("x").has_value());
    CHECK(message_of([&] { row_of(table, "h").range("x"); }) ==
          "t.csv:9: x | \"a-b\" is no number and no range");
}

TEST_CASE("a rule comes with its source and status", "[materials]") {
    const Sourced found = rule("wood_rules", "fractile_5");
    CHECK(found.value == 1.645); // the 5 % point of the normal distribution
    CHECK_FALSE(found.source.empty());
    CHECK(found.status == "checked");
    CHECK(rule("screw_rules", "wh_withdrawal_c").value == 108.25); // Wood Handbook Eq. 8-10
}
