// SPDX-License-Identifier: MIT
#include "cli/report/workshop/dxf.hpp"

#include <catch2/catch.hpp>

using namespace hollowtop::cli;

TEST_CASE("a drawing is written group by group as release 12 asks", "[report]") {
    Dxf dxf;
    dxf.layer("WALL", 1);
    dxf.line("WALL", {0, 0}, {10, 0});
    dxf.closed("WALL", {{{0, 0}, 0}, {{10, 0}, 1}});
    dxf.circle("WALL", {5, 5}, 2.5);
    dxf.text("WALL", {1, 2}, 5, "Sch\xC3\xB6n 1");
    const std::string file = dxf.file();
    CHECK(file.rfind("0\nSECTION\n2\nHEADER\n9\n$ACADVER\n1\nAC1009\n", 0) == 0);
    CHECK(file.find("0\nLAYER\n2\nWALL\n70\n0\n62\n1\n6\nCONTINUOUS\n") != std::string::npos);
    CHECK(file.find("0\nLINE\n8\nWALL\n10\n0.000000\n20\n0.000000\n30\n0.000000\n11\n10.000000\n21\n0."
                    "000000\n31\n0.000000\n") != std::string::npos);
    CHECK(file.find("0\nVERTEX\n8\nWALL\n10\n10.000000\n20\n0.000000\n30\n0.000000\n42\n1."
                    "000000000000\n0\nSEQEND\n8\nWALL\n") != std::string::npos);
    CHECK(file.find("0\nCIRCLE\n8\nWALL\n10\n5.000000\n20\n5.000000\n30\n0.000000\n40\n2.500000\n") !=
          std::string::npos);
    CHECK(file.find("1\nSchoen 1\n") != std::string::npos);
    CHECK(file.find("9\n$EXTMAX\n10\n10.000000\n20\n7.500000\n") != std::string::npos);
    CHECK(file.ends_with("0\nENDSEC\n0\nEOF\n"));
}
