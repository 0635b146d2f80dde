// SPDX-License-Identifier: MIT
#include "solver/survey/kriging.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

const Rectangle box{0, 1000, 0, 600};

/// Invented: a tilt and a wave.
double invented(Point p) {
    return 18 + 0.001 * p.x - 0.0005 * p.y + 0.3 * std::sin(p.x / 150) * std::cos(p.y / 130);
}

std::vector<Observed> readings(int nx, int ny, double sd) {
    std::vector<Observed> all;
    for (int j = 0; j < ny; ++j)
        for (int i = 0; i < nx; ++i) {
            const Point at{1000.0 * (i + 0.5) / nx, 600.0 * (j + 0.5) / ny};
            all.push_back({at, invented(at), sd});
        }
    return all;
}

} // namespace

TEST_CASE("a field goes through readings that have no error", "[solver][survey]") {
    const std::vector<Observed> all = readings(5, 3, 1e-4);
    const Kriging field(all, box);
    for (const Observed& one : all) {
        CHECK_THAT(field.at(one.at).mean, WithinAbs(one.value, 1e-4));
        CHECK_THAT(field.at(one.at).sd, WithinAbs(0, 2e-4));
    }
    CHECK(field.at({1000, 600}).sd > 10 * field.at(all.front().at).sd);
}

TEST_CASE("one reading says the same of all the recess, and the less surely the farther away",
          "[solver][survey]") {
    const std::vector<Observed> one{{{500, 300}, 18.4, 0.1}};
    const Kriging field(one, box);
    CHECK_THAT(field.at({500, 300}).mean, WithinAbs(18.4, 1e-9));
    CHECK_THAT(field.at({20, 580}).mean, WithinAbs(18.4, 1e-9));
    CHECK_THAT(field.at({500, 300}).sd, WithinAbs(0.1, 1e-9)); // the reading's own error and no more
    CHECK(field.at({20, 580}).sd > field.at({300, 300}).sd);
}

TEST_CASE("what the others foretell of a reading is what a field without it says", "[solver][survey]") {
    std::vector<Observed> all = readings(4, 3, 0.15);
    all[5].value += 0.8;
    const Bumps bumps{.sill = 0.4, .range = 250};
    const std::vector<Kriging::LeftOut> left = Kriging(all, box, &bumps).leave_one_out();
    for (std::size_t i = 0; i < all.size(); ++i) {
        std::vector<Observed> others = all;
        others.erase(others.begin() + static_cast<std::ptrdiff_t>(i));
        const Estimate there = Kriging(others, box, &bumps).at(all[i].at);
        CHECK_THAT(left[i].difference, WithinAbs(all[i].value - there.mean, 1e-9));
        CHECK_THAT(left[i].sd, WithinRel(std::hypot(there.sd, all[i].sd), 1e-9));
    }
}

TEST_CASE("a further reading takes away what its covariance foretells", "[solver][survey]") {
    const Bumps bumps{.sill = 0.4, .range = 250};
    std::vector<Observed> all = readings(3, 2, 0.1);
    const Kriging before(all, box, &bumps);
    const Point added{480, 310}, seen{560, 260};
    const double with = before.covariance(seen, added), own = before.covariance(added, added);
    CHECK_THAT(before.covariance(seen, seen), WithinRel(std::pow(before.at(seen).sd, 2), 1e-9));
    all.push_back({added, 18, 0.2});
    const double after = std::pow(Kriging(all, box, &bumps).at(seen).sd, 2);
    CHECK_THAT(after, WithinRel(std::pow(before.at(seen).sd, 2) - with * with / (own + 0.04), 1e-9));
}

TEST_CASE("a sum over places is as sure as their covariances say, and a further reading takes of it what "
          "they foretell",
          "[solver][survey]") {
    const Bumps bumps{.sill = 0.4, .range = 250};
    std::vector<Observed> all = readings(3, 2, 0.1);
    const std::vector<Weighed> places{{{480, 310}, 0.5}, {{700, 200}, -0.2}, {{150, 520}, 0.9}};
    const Kriging before(all, box, &bumps);
    double mean = 0, variance = 0;
    for (const Weighed& a : places) {
        mean += a.weight * before.at(a.at).mean;
        for (const Weighed& b : places) variance += a.weight * b.weight * before.covariance(a.at, b.at);
    }
    CHECK_THAT(before.sum(places).mean, WithinRel(mean, 1e-9));
    CHECK_THAT(std::pow(before.sum(places).sd, 2), WithinRel(variance, 1e-9));
    const std::vector<Point> further{{560, 260}, {900, 500}};
    const Kriging::Removal removal = before.removal(places, further, 0.2);
    CHECK_THAT(removal.variance, WithinRel(variance, 1e-9));
    for (std::size_t k = 0; k < further.size(); ++k) {
        std::vector<Observed> more = all;
        more.push_back({further[k], 18, 0.2});
        const double after = std::pow(Kriging(more, box, &bumps).sum(places).sd, 2);
        CHECK_THAT(variance - removal.removed[k], WithinRel(after, 1e-9));
    }
}

TEST_CASE("thousands of readings become means of neighbours that say the same", "[solver][survey]") {
    std::vector<Observed> all = readings(60, 50, 0.2);
    const std::vector<Observed> few = thinned_to(all, box, 240);
    CHECK(few.size() <= 240);
    CHECK(few.size() > 150);
    double sum = 0, total = 0;
    for (const Observed& one : few) sum += one.value / static_cast<double>(few.size());
    for (const Observed& one : all) total += one.value / static_cast<double>(all.size());
    CHECK_THAT(sum, WithinAbs(total, 0.02)); // cells hold not quite the same number each
    CHECK(few.front().sd < 0.1);             // of a dozen readings with 0.2 each
    CHECK_THAT(Kriging(few, box).at({500, 300}).mean, WithinAbs(invented({500, 300}), 0.1));
}
