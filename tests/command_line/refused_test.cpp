// SPDX-License-Identifier: MIT
// What the program does where the system refuses it memory or threads (refusing/refuse.cpp).
#ifdef HOLLOWTOP_REFUSED
#include "run_for_tests.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cstdint>
#include <cstdio>
#include <sstream>

using Catch::Matchers::Contains;

namespace {

constexpr const char* shelf = R"({"hollowtop": 1, "units": "mm",
  "top": {"length": 700, "width": 300, "thickness": 30, "wood": "black_cherry"},
  "recesses": [{"name": "well", "x": [120, 580], "y": [80, 220], "depth": 12, "corner_radius": 10}],
  "stiffeners": [{"name": "bar", "section": "flat 30x4", "metal": "S235", "from": [140, 150], "to": [560, 150],
    "screws": {"diameter": 4, "length": 15, "spacing": 150, "holes": "slotted"}}],
  "supports": [{"kind": "pad", "at": [60, 60], "size": [60, 60]}, {"kind": "pad", "at": [640, 60], "size": [60, 60]},
               {"kind": "pad", "at": [60, 240], "size": [60, 60]}, {"kind": "pad", "at": [640, 240], "size": [60, 60]}],
  "loads": [{"name": "books", "kind": "area", "pressure": "0.5 kPa", "duration": "long"}]})";

/// Of what the program prints, as refuse.cpp writes it.
std::string hash_of(std::string text) {
    if (!text.empty()) std::replace(text.begin(), text.end() - 1, '\n', '|');
    std::uint64_t hash = 14695981039346656037ULL;
    for (const char c : text) hash = (hash ^ static_cast<unsigned char>(c)) * 1099511628211ULL;
    char digits[17];
    std::snprintf(digits, sizeof digits, "%016llx", static_cast<unsigned long long>(hash));
    return digits;
}

/// Who waits for ever is ended with status 124.
Ran refused(const std::vector<std::string>& variables, const std::vector<std::string>& words) {
    std::vector<std::string> command{"/usr/bin/env"};
    command.insert(command.end(), variables.begin(), variables.end());
    command.insert(command.end(), {"timeout", "300", HOLLOWTOP_REFUSED});
    command.insert(command.end(), words.begin(), words.end());
    return run_other(command);
}

constexpr const char* sentence = "hollowtop: the machine has not enough memory for this";

/// Refuses a block at every `stride`-th way by which one is asked for; gives how many those were.
int refuse_ways(const std::vector<std::string>& words, int stride, bool all_after) {
    const Folder folder;
    const std::string outcomes = folder.path() + "/outcomes";
    std::vector<std::string> variables{"HOLLOWTOP_REFUSE_EACH=" + outcomes,
                                       "HOLLOWTOP_REFUSE_STRIDE=" + std::to_string(stride)};
    if (all_after) variables.push_back("HOLLOWTOP_REFUSE_ALL_AFTER=1");
    const Ran whole = refused(variables, words);
    CHECK(whole.status <= 1);
    std::istringstream lines(content_of(outcomes));
    int n = 0;
    for (std::string line; std::getline(lines, line); ++n) {
        std::istringstream in(line);
        long block = 0;
        int status = 0, signal = 0;
        std::size_t size = 0;
        std::string hash, said;
        in >> block >> status >> signal >> size >> hash;
        std::getline(in >> std::ws, said);
        INFO("block " << block << ", signal " << signal << ", said: " << said);
        if (status == whole.status) {
            CHECK(hash == hash_of(whole.out)); // done without it, and nothing is missing
        } else {
            CHECK(status == 3);
            CHECK_THAT(said, Catch::Matchers::StartsWith(sentence));
        }
    }
    return n;
}

} // namespace

TEST_CASE("wherever memory is refused the program says so and ends with status 3",
          "[command_line][slow][long]") {
    const Folder folder;
    const std::string piece = folder.put("shelf.json", shelf);
    const bool all_after = GENERATE(false, true);
    CHECK(refuse_ways({"check", "--mesh", "coarse", "--threads", "1", piece}, 401, all_after) > 10);
    CHECK(refuse_ways({"movement", piece}, 101, all_after) > 5);
}

TEST_CASE("memory refused to one of several threads leaves none waiting", "[command_line][slow][long]") {
    const Folder folder;
    const std::string piece = folder.put("shelf.json", shelf), count = folder.path() + "/count";
    const std::vector<std::string> words{"check", "--mesh", "coarse", "--threads", "3", piece};
    const Ran whole = refused({"HOLLOWTOP_REFUSE_COUNT=" + count}, words);
    CHECK(whole.status <= 1);
    const long blocks = std::stol(content_of(count));
    REQUIRE(blocks > 1000);
    constexpr long tries = 24;
    for (long k = 0; k < tries; ++k) {
        const long block = blocks * (2 * k + 1) / (2 * tries);
        INFO("block " << block << " of about " << blocks);
        const Ran ran = refused({"HOLLOWTOP_REFUSE_MEMORY=" + std::to_string(block)}, words);
        if (ran.status == whole.status) {
            CHECK(ran.out == whole.out);
        } else {
            CHECK(ran.status == 3);
            CHECK_THAT(ran.err, Contains(sentence));
        }
    }
}

TEST_CASE("threads that the system refuses change no answer", "[command_line][slow][long]") {
    const Folder folder;
    const std::string piece = folder.put("shelf.json", shelf), count = folder.path() + "/count";
    const std::vector<std::string> words{"check", "--mesh", "coarse", "--threads", "3", piece};
    const Ran whole = refused({"HOLLOWTOP_REFUSE_COUNT=" + count}, words);
    CHECK(whole.status <= 1);
    long blocks = 0, threads = 0;
    std::istringstream(content_of(count)) >> blocks >> threads;
    REQUIRE(threads > 2);
    std::vector<std::string> which{"HOLLOWTOP_REFUSE_THREADS=1"}; // none at all: the caller alone
    const long step = std::max(1L, threads / 12);
    for (long k = 1; k <= threads; k += step) which.push_back("HOLLOWTOP_REFUSE_THREAD=" + std::to_string(k));
    for (const std::string& one : which) {
        INFO(one);
        const Ran ran = refused({one}, words);
        CHECK(ran.status == whole.status);
        CHECK(ran.err == whole.err);
        CHECK(ran.out == whole.out);
    }
}

TEST_CASE("a coarser mesh is advised only where one can be had", "[command_line]") {
    const Folder folder;
    const std::string piece = folder.put("shelf.json", shelf);
    const auto said = [&](std::vector<std::string> words) {
        const Ran ran = refused({"HOLLOWTOP_REFUSE_AFTER=5000"}, words);
        CHECK(ran.status == 3);
        CHECK_THAT(ran.err, Contains(sentence));
        return ran.err;
    };
    CHECK_THAT(said({"check", piece}), Contains("a coarser mesh (--mesh coarse) needs less"));
    CHECK_THAT(said({"check", "--mesh", "fine", piece}),
               Contains("a coarser mesh (--mesh coarse) needs less"));
    CHECK_THAT(said({"check", "--mesh", "coarse", piece}), !Contains("coarser"));
    CHECK_THAT(said({"check", "--mesh=coarse", piece}), !Contains("coarser"));
    CHECK_THAT(said({"movement", piece}), !Contains("coarser")); // it takes no mesh
}
#endif
