// SPDX-License-Identifier: MIT
// A strip with a free curvature and a bar under it. Side by side: free curvature x EI top / (EI top + EI bar). As one
// section: N and M of each part about one line must vanish together, as of two layers (Timoshenko 1925).
#include "solver/seasons/held_shape.hpp"

#include "solver/capacity/screw_borne.hpp"

#include <Eigen/Dense>
#include <catch2/catch.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>
#include <vector>

using namespace hollowtop;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

constexpr double L = 800, b = 30, h1 = 25, E1 = 700, h2 = 6, E2 = 205000;

/// Across the grain, stiff in shear as beam theory has it, on two knife edges.
Piece strip(Holes holes) {
    Piece piece;
    piece.top.length = L;
    piece.top.width = b;
    piece.top.thickness = h1;
    piece.top.grain_deg = 90;
    piece.top.outline = RectangleShape{{0, L, 0, b}, 0};
    piece.top.elastic = Elastic{E1, E1, 0, 1e6, 1e6, 1e6, {}};
    piece.self_weight = false;
    for (const double x : {0.0, L})
        piece.supports.push_back(
            {x == 0 ? "left" : "right",
             Bearer{.from = {x, 0}, .to = {x, b}, .width = 0, .hold_down = true, .stiffness = {}}});
    Screws screws{.diameter = 4, .length = 25, .spacing = 0, .at = {}, .holes = holes, .stiffness = 1e5};
    for (double s = 10; s < L; s += 20) screws.at.push_back(s);
    piece.stiffeners.push_back({.name = "flat",
                                .section = "flat 30x6",
                                .metal = "",
                                .wood = "",
                                .elastic = BarElastic{E2, 1e7, 0},
                                .from = {0, b / 2},
                                .to = {L, b / 2},
                                .screws = std::move(screws)});
    return piece;
}

HeldShape held(const Piece& piece, ZoneStrain strain) {
    const std::array<std::vector<ZoneStrain>, 1> one{std::vector<ZoneStrain>{strain}};
    return held_shapes(piece, {{.thickness = h1, .is_full = true}}, one, 1).front();
}

/// Curvature, crown +, of a top with the free strain glued to its bar.
double as_one_section(ZoneStrain strain) {
    const double EA1 = E1 * b * h1, EI1 = E1 * b * h1 * h1 * h1 / 12, EA2 = E2 * b * h2,
                 EI2 = E2 * b * h2 * h2 * h2 / 12,
                 z = -(h1 + h2) / 2; // of the bar, from the top's middle, up +
    // e + z k in each part: EA1 (e - mean) + EA2 (e + z k) = 0, EI1 (k - free) + EI2 k + z EA2 (e + z k) = 0
    const double a11 = EA1 + EA2, a12 = EA2 * z, a22 = EI1 + EI2 + EA2 * z * z;
    const double r1 = EA1 * strain.mean, r2 = EI1 * strain.difference / h1;
    return (a11 * r2 - a12 * r1) / (a11 * a22 - a12 * a12);
}

/// A strip of free curvature on knife edges at its two ends, over a loose bar as long: two beams, between them wood that
/// only presses, in stations of a few millimetres out to the ends, and screws that only pull. A force of each by whether
/// its gap is open. Deflection of a beam on its ends under a unit force: Timoshenko, Strength of Materials Part I, 1955.
struct TwoBeams {
    double EI_top = 0, EI_bar = 0, presses = 0, pulls = 0; ///< N/mm a mm of length; N/mm a screw
    double most_rise = 0, most_pull = 0;                   ///< found

    void solve(double free_curvature, const std::vector<double>& screws) {
        constexpr double step = 2.5;
        std::vector<double> at;
        for (double x = step / 2; x < L; x += step) at.push_back(x);
        const std::size_t n_wood = at.size();
        at.insert(at.end(), screws.begin(), screws.end());
        const auto n = static_cast<Eigen::Index>(at.size());
        const auto place = [&](Eigen::Index i) { return at[static_cast<std::size_t>(i)]; };
        const auto of = [](double x, double a) {
            const double b2 = L - a;
            return x <= a ? b2 * x * (L * L - b2 * b2 - x * x) / (6 * L)
                          : a * (L - x) * (2 * L * x - x * x - a * a) / (6 * L);
        };
        Eigen::MatrixXd unit(n, n); // deflection x EI
        Eigen::VectorXd free(n);
        for (Eigen::Index i = 0; i < n; ++i) {
            free[i] = free_curvature * place(i) * (L - place(i)) / 2; // crown +
            for (Eigen::Index j = 0; j < n; ++j) unit(i, j) = of(place(i), place(j));
        }
        std::vector<char> acts(at.size(), 1);
        for (int pass = 0; pass < 100; ++pass) {
            std::vector<Eigen::Index> acting;
            for (Eigen::Index i = 0; i < n; ++i)
                if (acts[static_cast<std::size_t>(i)]) acting.push_back(i);
            // gap g = rise of strip - bar = -f / k of what acts; the bar's own rigid motion a + c x
            const auto m = static_cast<Eigen::Index>(acting.size());
            Eigen::MatrixXd system = Eigen::MatrixXd::Zero(m + 2, m + 2);
            Eigen::VectorXd right = Eigen::VectorXd::Zero(m + 2);
            for (Eigen::Index i = 0; i < m; ++i) {
                const Eigen::Index here = acting[static_cast<std::size_t>(i)];
                for (Eigen::Index j = 0; j < m; ++j)
                    system(i, j) =
                        unit(here, acting[static_cast<std::size_t>(j)]) * (1 / EI_top + 1 / EI_bar);
                system(i, i) += 1 / (static_cast<std::size_t>(here) < n_wood ? presses * step : pulls);
                system(i, m) = -1;
                system(i, m + 1) = -place(here);
                system(m, i) = 1;
                system(m + 1, i) = place(here);
                right[i] = -free[here];
            }
            const Eigen::VectorXd x = system.partialPivLu().solve(right);
            Eigen::VectorXd force = Eigen::VectorXd::Zero(n); // on the strip, upwards
            for (Eigen::Index i = 0; i < m; ++i) force[acting[static_cast<std::size_t>(i)]] = x[i];
            const Eigen::VectorXd bent = unit * force, rise = free + bent / EI_top;
            bool same = true;
            most_rise = most_pull = 0;
            for (Eigen::Index i = 0; i < n; ++i) {
                const auto here = static_cast<std::size_t>(i);
                const double gap = rise[i] + bent[i] / EI_bar - x[m] - x[m + 1] * place(i);
                const char now = here < n_wood ? gap < 0 : gap > 0;
                same = same && now == acts[here];
                acts[here] = now;
                if (std::abs(rise[i]) > std::abs(most_rise)) most_rise = rise[i];
                if (here >= n_wood) most_pull = std::max(most_pull, -force[i]);
            }
            if (same) return;
        }
        FAIL("the two beams do not settle");
    }
};

} // namespace

TEST_CASE("without a bar a strip on its supports bows as it does when it lies free", "[solver][published]") {
    Piece piece = strip(Holes::slotted);
    piece.stiffeners.clear();
    const ZoneStrain strain{0.002, 0.001};
    CHECK_THAT(held(piece, strain).shape.across.value, WithinRel(0.001 / h1 * L * L / 8, 1e-6));
}

TEST_CASE("a bar in slots leaves of a bow the share that the top has of both stiffnesses",
          "[solver][published]") {
    // bowed either way; slots let the wood slide by up to a screw's width
    const double EI1 = E1 * h1 * h1 * h1, EI2 = E2 * h2 * h2 * h2;
    const double crown = 0.001 / h1 * L * L / 8, share = EI1 / (EI1 + EI2);
    const HeldShape crowned = held(strip(Holes::slotted), {0, 0.001});
    CHECK_THAT(crowned.shape.across.value, WithinRel(crown * share, 0.01));
    CHECK(crowned.greatest_pull > 0);
    // hollow, the bar's ends hang on the outermost screws, which take nearly all of it and give: more is left
    const HeldShape hollow = held(strip(Holes::slotted), {0, -0.001});
    CHECK(hollow.shape.across.value < -crown * share);
    CHECK(hollow.shape.across.value > -crown * share * 1.05);
    CHECK(hollow.greatest_pull > 2 * crowned.greatest_pull);
    CHECK(std::min(hollow.pulled_at.x, L - hollow.pulled_at.x) < 15);
}

TEST_CASE("a bar in round holes bends a strip that dries as two layers glued to one another bend",
          "[solver][published]") {
    const ZoneStrain dry{-0.004, 0};
    const double k = as_one_section(dry);
    CHECK(k < 0); // the wood above is shortened: hollow
    const HeldShape round = held(strip(Holes::round), dry), bonded = held(strip(Holes::bonded), dry);
    CHECK_THAT(bonded.shape.across.value, WithinRel(k * L * L / 8, 0.01));
    CHECK_THAT(round.shape.across.value, WithinRel(k * L * L / 8, 0.03)); // screws every 20 mm give a little
    CHECK(round.greatest_shear > 0);
    // in slots the same drying bends nothing: it slides
    CHECK_THAT(held(strip(Holes::slotted), dry).shape.across.value,
               WithinAbs(0, 0.01 * std::abs(k) * L * L / 8));
}

TEST_CASE("slots that are shorter than the wood's way bend the strip as round holes would",
          "[solver][property]") {
    const double free_way = 4; // a slot of three screws' width lets a screw of 4 mm go 4 mm each way
    const double just = 2 * free_way / L;
    const double within = held(strip(Holes::slotted), {-0.9 * just, 0}).shape.across.value,
                 beyond = held(strip(Holes::slotted), {-2 * just, 0}).shape.across.value;
    CHECK_THAT(within, WithinAbs(0, 0.01));
    CHECK(beyond < -0.5);
}

TEST_CASE("under its weight alone a top at rest is as it was, and no screw is pulled by the season",
          "[solver]") {
    Piece piece = strip(Holes::slotted);
    const HeldShape still = held(piece, {0, 0});
    CHECK_THAT(still.shape.out_of_flat, WithinAbs(0, 1e-12));
    CHECK_THAT(still.greatest_pull, WithinAbs(0, 1e-9));
    CHECK(still.lets_go.empty());
}

TEST_CASE("one-sided screws and wood that only presses leave of a bow what two beams between them leave",
          "[solver][published]") {
    Piece piece = strip(Holes::slotted);
    const double thread = 19; // of 25 mm through a flat of 6
    TwoBeams beams{.EI_top = E1 * b * h1 * h1 * h1 / 12,
                   .EI_bar = E2 * b * h2 * h2 * h2 / 12,
                   .presses = E1 * b / h1,
                   .pulls = 25 * 4 * thread}; // as technical approvals of wood screws state it, from memory
    for (const double spacing : {20.0, 130.0}) {
        CAPTURE(spacing);
        piece.stiffeners[0].screws.at.clear();
        for (double s = 10; s < L; s += spacing) piece.stiffeners[0].screws.at.push_back(s);
        for (const double difference : {0.001, -0.001}) {
            CAPTURE(difference);
            beams.solve(difference / h1, piece.stiffeners[0].screws.at);
            const HeldShape there = held(piece, {0, difference});
            CHECK_THAT(there.shape.across.value, WithinRel(beams.most_rise, 0.02));
            CHECK_THAT(there.greatest_pull, WithinRel(beams.most_pull, 0.02));
        }
    }
}

TEST_CASE("slots hardly longer than the screws in them bend a strip that dries as round holes do",
          "[solver][published]") {
    // a slot is three screws long: one of a hundredth of a millimetre lets it go as far, and the wood goes 1.6 mm
    const auto thin = [](Holes holes) {
        Piece piece = strip(holes);
        piece.stiffeners[0].screws.diameter = 0.01;
        return piece;
    };
    const ZoneStrain dry{-0.004, 0};
    const double round = held(thin(Holes::round), dry).shape.across.value;
    CHECK(round < -0.5);
    CHECK_THAT(held(thin(Holes::slotted), dry).shape.across.value, WithinRel(round, 0.02));
}

TEST_CASE(
    "slots as short as their screws hold as round holes do, and longer ones than the wood goes not at all",
    "[solver][published]") {
    const ZoneStrain dry{-0.004, 0}; // 1.6 mm at each end
    const double round = held(strip(Holes::round), dry).shape.across.value;
    REQUIRE(round < -0.5);
    Piece piece = strip(Holes::slotted);
    piece.stiffeners[0].screws.slot_length = 4.001;
    CHECK_THAT(held(piece, dry).shape.across.value, WithinRel(round, 0.02));
    piece.stiffeners[0].screws.slot_length = 4 + 2 * 1.7;
    CHECK_THAT(held(piece, dry).shape.across.value, WithinAbs(0, 0.01 * std::abs(round)));
    piece.stiffeners[0].screws.slot_length = 4 + 2 * 0.8; // it goes half of its way
    const double half = held(piece, dry).shape.across.value;
    CHECK(half < 0.1 * round);
    CHECK(half > 0.9 * round);
}

TEST_CASE("a dovetail holds a bow both ways alike and lets the wood shrink along it", "[solver][published]") {
    const Piece piece = strip(Holes::dovetail);
    const double EI1 = E1 * h1 * h1 * h1, EI2 = E2 * h2 * h2 * h2;
    const double crown = 0.001 / h1 * L * L / 8, share = EI1 / (EI1 + EI2);
    const HeldShape up = held(piece, {0, 0.001}), down = held(piece, {0, -0.001});
    CHECK_THAT(up.shape.across.value, WithinRel(crown * share, 0.01));
    CHECK_THAT(down.shape.across.value, WithinRel(-crown * share, 0.01));
    CHECK_THAT(up.greatest_on_tail, WithinRel(down.greatest_on_tail, 1e-6)); // nothing lets go
    CHECK(up.greatest_on_tail > 0);
    CHECK(up.greatest_pull == 0); // no screw
    CHECK_THAT(held(piece, {-0.004, 0}).shape.across.value,
               WithinAbs(0, 1e-4 * std::abs(as_one_section({-0.004, 0})) * L * L / 8));
}

TEST_CASE("breadboard ends leave of a cup the share that the top has of both stiffnesses",
          "[solver][published]") {
    // ends of 15 mm on a strip of 30 mm: all of it lies on them
    Piece piece = strip(Holes::slotted);
    piece.stiffeners.clear();
    piece.ends = Ends{.width = b / 2, .tongue = 10, .wood = "cherry_black", .peg = 0, .pegs = 3};
    // cherry: bending modulus 10300 at 12 %, E_L a tenth more (Wood Handbook tables 5-3a and 5-1)
    const double E_end = 1.1 * 10300, share = E1 / (E1 + E_end), free = 0.001 / h1;
    // Two beams and the wood pressed between them: at the strip's ends the moment grows from nothing, as of a beam on a
    // bed (Hetenyi, Beams on Elastic Foundation, 1946), and leaves free (1 - share) / (2 beta^2) more
    const double EI1 = E1 * b * h1 * h1 * h1 / 12, EI2 = E_end * b * h1 * h1 * h1 / 12,
                 beta2 = std::sqrt(E1 / h1 * b / 4 * (1 / EI1 + 1 / EI2)),
                 left = free * share * L * L / 8 + free * (1 - share) / (2 * beta2);
    const HeldShape up = held(piece, {0, 0.001}), down = held(piece, {0, -0.001});
    CHECK_THAT(up.shape.across.value, WithinRel(left, 0.015)); // in stretches of 12 mm
    CHECK_THAT(down.shape.across.value, WithinRel(-left, 0.015));
    // shrinking evenly it slides past them
    CHECK_THAT(held(piece, {-0.004, 0.001}).shape.across.value, WithinRel(up.shape.across.value, 1e-3));
}

TEST_CASE("screws that yield all along pull no harder than they bear, and bend the strip by just that",
          "[solver][published]") {
    Piece piece = strip(Holes::round);
    const double stiff = 12000; // so that every screw yields
    piece.top.elastic = Elastic{stiff, stiff, 0, 1e6, 1e6, 1e6, 600.0};
    piece.self_weight = false;
    const ScrewBorne borne = borne_by_screw(piece, piece.stiffeners[0], 19);
    // thin plate, EN 1995-1-1 eq. 8.9: f_h 0.082 (1 - 0.01 d) rho, M_y 0.3 f_u d^2.6, d = 1.1 x the root of 0.7 x 4
    const double d = 1.1 * 0.7 * 4, f_h = 0.082 * (1 - 0.01 * d) * 600, M_y = 0.3 * 600 * std::pow(d, 2.6);
    const double thin = std::min(0.4 * f_h * 19 * d, 1.15 * std::sqrt(2 * M_y * f_h * d));
    CHECK(borne.shear_N >= thin * (1 - 1e-9)); // a flat of 6 is thick, and bears more
    CHECK(borne.shear_N < 2.5 * thin);
    const HeldShape there = held(piece, {-0.05, 0});
    CHECK(there.yields);
    CHECK_THAT(there.greatest_shear, WithinRel(borne.shear_N, 0.01));
    // between its ends and x the strip is pushed by the screws there: M = N (h1 + h2) / 2, shared by both bars
    const double EI = (stiff * h1 * h1 * h1 + E2 * h2 * h2 * h2) * b / 12;
    double sag = 0; // at the middle, moment against the unit force's L/4, by halves
    const double step = 0.5;
    for (double x = step / 2; x < L / 2; x += step) {
        double push = 0;
        for (const double s : piece.stiffeners[0].screws.at)
            if (s < x) push += borne.shear_N;
        sag += 2 * step * push * (h1 + h2) / 2 / EI * x / 2;
    }
    CHECK_THAT(there.shape.across.value, WithinRel(-sag, 0.02));
    piece.top.elastic->density_kg_m3.reset();
    const HeldShape unknown = held(piece, {-0.05, 0});
    CHECK_FALSE(unknown.yields);
    CHECK(unknown.greatest_shear > 2 * there.greatest_shear);
}

TEST_CASE("boards all one way up bow a strip as their rings say, and a bar in slots leaves its share of that",
          "[solver][published]") {
    // eight boards of 100 mm, pith 60 mm below their undersides: (2 k / w) (atan a - a / (1 + a^2)), a = w / (2 y)
    constexpr double k = -0.01, w = L / 8, y = 60 + h1 / 2, a = w / (2 * y);
    const double crown =
        -2 * k / w * (std::atan(a) - a / (1 + a * a)) * L * L / 8; // hollow where bark lies above
    const std::array<double, 1> season{k};
    Piece bare = strip(Holes::slotted);
    bare.stiffeners.clear();
    bare.top.boards = 8;
    std::vector<RingBoard> boards(8, RingBoard{.width = w, .pith = 60, .bark_up = true});
    CHECK_THAT(held_rings(bare, boards, season, 1).front().shape.across.value, WithinRel(-crown, 0.01));
    for (RingBoard& board : boards) board.bark_up = false;
    CHECK_THAT(held_rings(bare, boards, season, 1).front().shape.across.value, WithinRel(crown, 0.01));
    Piece over_a_bar = strip(Holes::slotted);
    over_a_bar.top.boards = 8;
    const double EI1 = E1 * h1 * h1 * h1, EI2 = E2 * h2 * h2 * h2;
    CHECK_THAT(held_rings(over_a_bar, boards, season, 1).front().shape.across.value,
               WithinRel(crown * EI1 / (EI1 + EI2), 0.01));
    // turn about, each takes back what the one beside it gave: what is left is the bow of one board, not of eight
    for (std::size_t i = 0; i < boards.size(); i += 2) boards[i].bark_up = true;
    CHECK(std::abs(held_rings(bare, boards, season, 1).front().shape.across.value) < crown / 10);
}

TEST_CASE("a wide board that bends in the shell, with its own wave on it, cups as the exact field of its "
          "rings has it",
          "[solver][published]") {
    // wider than four of its thicknesses; face at d from the pith, x atan(x / d) at its edge
    constexpr double k = -0.01, pith = 500;
    const std::array<double, 1> season{k};
    Piece piece = strip(Holes::slotted);
    piece.stiffeners.clear();
    piece.top.boards = 1;
    for (const bool bark_up : {true, false}) {
        const RingBoard board{.width = L, .pith = pith, .bark_up = bark_up};
        const std::vector<RingBoard> one{board};
        const double d = bark_up ? pith + h1 : pith,
                     exact = k * L / 2 * std::atan(L / 2 / d) * (bark_up ? 1 : -1);
        const double bent = held_rings(piece, one, season, 1).front().shape.across.value;
        CHECK(bent / exact > 0);
        CHECK(bent / exact < 0.5); // most of it is a free shear
        CHECK_THAT(bent + board_scallop(board, h1, k), WithinRel(exact, 0.05));
    }
}
