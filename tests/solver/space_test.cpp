// SPDX-License-Identifier: MIT
#include "solver/variants/space.hpp"

#include "materials/error.hpp"

#include <catch2/catch.hpp>

#include <set>

using namespace hollowtop;

namespace {

Axis axis(const std::string& name, int rank, const std::vector<double>& values) {
    Axis result{.name = name, .rank = rank, .choices = {}};
    for (const double v : values)
        result.choices.push_back({std::to_string(static_cast<int>(v)), [name, v](Piece& piece) {
                                      if (name == "length")
                                          piece.top.length = v;
                                      else
                                          piece.top.width = piece.top.length + v;
                                  }});
    return result;
}

} // namespace

TEST_CASE("every combination is there once, the first axis changing most slowly", "[solver]") {
    const VariantSpace space = make_space({}, {axis("length", 0, {1000, 2000}), axis("width", 1, {1, 2, 3})});
    REQUIRE(count_of(space) == 6);
    std::set<std::pair<double, double>> seen;
    for (std::uint64_t v = 0; v < 6; ++v) {
        const Piece piece = variant_of(space, v);
        CHECK(piece.top.length == (v < 3 ? 1000 : 2000));
        CHECK(piece.top.width == piece.top.length + static_cast<double>(v % 3 + 1));
        seen.insert({piece.top.length, piece.top.width});
    }
    CHECK(seen.size() == 6);
}

TEST_CASE("an axis of a lower rank is applied first, wherever it is given", "[solver]") {
    const VariantSpace space = make_space({}, {axis("width", 1, {5}), axis("length", 0, {700})});
    CHECK(space.axes[0].name == "length");
    CHECK(variant_of(space, 0).top.width == 705);
}

TEST_CASE("a space that is empty or too large is refused", "[solver]") {
    CHECK_THROWS_AS(make_space({}, {axis("length", 0, {})}), Error);
    const std::vector<double> thousand(1000, 1);
    std::vector<Axis> axes;
    for (int k = 0; k < 5; ++k) axes.push_back(axis("length", 0, thousand));
    CHECK_THROWS_AS(make_space({}, axes), Error);
}

TEST_CASE("a sample has so many different variants, rising, the same for the same seed", "[solver]") {
    const auto sample = sample_of(1'000'000, 500, 7);
    REQUIRE(sample.size() == 500);
    CHECK(std::is_sorted(sample.begin(), sample.end()));
    CHECK(std::adjacent_find(sample.begin(), sample.end()) == sample.end());
    CHECK(sample.back() < 1'000'000);
    CHECK(sample == sample_of(1'000'000, 500, 7));
    CHECK(sample != sample_of(1'000'000, 500, 8));
    CHECK(sample_of(4, 9, 1) == std::vector<std::uint64_t>{0, 1, 2, 3});
}

TEST_CASE("a sample prefers no part of the space", "[solver]") {
    // 20 000 draws into 10 parts: 2 000 each, standard deviation 42; six of them would come once in a
    // thousand million runs
    std::array<int, 10> parts{};
    for (const std::uint64_t v : sample_of(1'000'000'000, 20'000, 3))
        ++parts[static_cast<std::size_t>(v / 100'000'000)];
    for (const int n : parts) CHECK(std::abs(n - 2000) < 6 * 42);
}
