// SPDX-License-Identifier: MIT
#include "cli/words/messages.hpp"

#include "materials/section.hpp"

#include <catch2/catch.hpp>

using namespace hollowtop;

TEST_CASE("what somebody typed never reaches a terminal as a command", "[cli]") {
    Error error(ErrorKind::input, Fault{"a\x1b[2J", "b\r\x07", "c\x7f"});
    error.file = std::string("d\0e", 3);
    CHECK(cli::message_of(error) == "d?e: a?[2J: b??; c?\n");
    try {
        (void)materials::parse_section("te\x1bl"); // once told as it was typed
        FAIL("taken");
    } catch (const Error& refused) {
        CHECK(cli::message_of(refused).find('\x1b') == std::string::npos);
    }
}
