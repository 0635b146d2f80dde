// SPDX-License-Identifier: MIT
#include "cli/files/sha256.hpp"

#include <catch2/catch.hpp>

using namespace hollowtop::cli;

TEST_CASE("the fingerprint is that of the standard's own examples", "[report]") {
    // NIST, Secure Hash Standard, example values: "abc", the 448-bit text, a million times "a"; and the empty
    // text.
    CHECK(sha256("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    CHECK(sha256("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq") ==
          "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
    CHECK(sha256("") == "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
    CHECK(sha256(std::string(1'000'000, 'a')) ==
          "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
}

TEST_CASE("texts that differ in one bit have other fingerprints, at every length around a block",
          "[report]") {
    for (std::size_t length = 54; length <= 66; ++length) {
        std::string text(length, 'x');
        const std::string before = sha256(text);
        text.back() = 'y';
        CHECK(sha256(text) != before);
        CHECK(before.size() == 64);
    }
}
