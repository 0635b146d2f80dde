// SPDX-License-Identifier: MIT
#include "materials/table_data.hpp"

#include <catch2/catch.hpp>

#include <filesystem>
#include <fstream>
#include <sstream>

using hollowtop::materials::table_text;

TEST_CASE("every table is built in, to the last byte", "[materials]") {
    int n_tables = 0;
    for (const auto& entry : std::filesystem::directory_iterator(HOLLOWTOP_SOURCE_DIR "/materials/data")) {
        if (entry.path().extension() != ".csv") continue;
        std::ifstream file(entry.path(), std::ios::binary);
        std::ostringstream text;
        text << file.rdbuf();
        INFO(entry.path());
        CHECK((table_text(entry.path().stem().string()) == text.str()));
        ++n_tables;
    }
    CHECK(n_tables > 0);
}

TEST_CASE("a table that does not exist has no text", "[materials]") {
    CHECK(table_text("no such table").empty());
}
