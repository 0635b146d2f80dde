// SPDX-License-Identifier: MIT
#include "solver/check/check_piece.hpp"
#include "solver/check/kept_work.hpp"
#include "solver/variants/edits.hpp"
#include "tests/solver/tray_for_tests.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cstddef>
#include <functional>
#include <span>
#include <utility>
#include <vector>

using namespace hollowtop;

namespace {

Piece tray_on_a_bar() {
    Piece piece = tray();
    Stiffener bar;
    bar.name = "bar";
    bar.section = "flat 25x4";
    bar.metal = "S235";
    bar.from = {100, 140};
    bar.to = {500, 140};
    bar.screws = {
        .diameter = 4, .length = 12, .spacing = 90, .at = {}, .holes = Holes::slotted, .stiffness = {}};
    piece.stiffeners.push_back(bar);
    return piece;
}

ModelOptions coarse() {
    return {.shell = {.size = {.largest = 90, .at_walls = 20, .at_edges = 60, .growth = 1}, .order = 3}};
}

constexpr std::size_t plenty = std::size_t{1} << 30;

CheckOptions checked(KeptWork* kept) {
    CheckOptions options;
    options.mesh = CheckOptions::Mesh::coarse;
    options.threads = 1;
    options.kept = kept;
    return options;
}

} // namespace

TEST_CASE("a model is kept for other stiffeners, and made afresh for another depth or mesh", "[solver]") {
    KeptModels kept(plenty);
    Piece piece = tray_on_a_bar();
    const auto address = [&](const Piece& p, const ModelOptions& options) {
        return kept.use(p, options).model.get();
    };
    const Model* first = address(piece, coarse());
    set_section(piece, "", "angle 25x25x3");
    set_spacing(piece, "", 60);
    CHECK(address(piece, coarse()) == first);
    set_place(piece, "", 160);
    CHECK(address(piece, coarse()) == first);
    Piece deeper = piece;
    set_depth(deeper, "", 9);
    CHECK(address(deeper, coarse()) != first);
    ModelOptions other = coarse();
    other.shell.order = 4;
    CHECK(address(piece, other) != first);
}

TEST_CASE("stiffeners wish for no mesh of their own, so a kept model's mesh serves all", "[solver]") {
    Piece piece = tray_on_a_bar(), bare = piece;
    bare.stiffeners.clear();
    piece.stiffeners.push_back(piece.stiffeners.front());
    piece.stiffeners.back().from = {300, 80}; // across
    piece.stiffeners.back().to = {300, 220};
    const MeshWishes wishes = plan_model(bare, true).supports.wishes;
    CHECK_FALSE(wishes.attractors_x.empty()); // of the pads
    CHECK(plan_model(piece, true).supports.wishes == wishes);
}

TEST_CASE("a model is kept apart by whatever else it depends on", "[solver]") {
    const std::vector<std::pair<const char*, std::function<void(Piece&)>>> changes{
        {"outline",
         [](Piece& p) {
             p.top.outline = EllipseShape{{0, p.top.length, 0, p.top.width}};
         }},
        {"thickness of the top", [](Piece& p) { p.top.thickness += 1; }},
        {"grain", [](Piece& p) { p.top.grain_deg = 90; }},
        {"rings", [](Piece& p) { p.top.ring_angle_deg = 45; }},
        {"moisture", [](Piece& p) { p.top.moisture_percent = 8; }},
        {"wood", [](Piece& p) { p.top.wood = "oak_white"; }},
        {"own weight", [](Piece& p) { p.self_weight = !p.self_weight; }},
        {"a support", [](Piece& p) { p.supports.pop_back(); }},
        {"a load", [](Piece& p) {
             p.loads.push_back({"cup", Duration::short_term, PatchLoad{50, {120, 120}, 60, 60, false, {}}});
         }}};
    for (const auto& [name, change] : changes) {
        CAPTURE(name);
        Piece piece = tray_on_a_bar(), other = piece;
        change(other);
        REQUIRE_FALSE(other == piece);
        KeptModels kept(plenty);
        const Model* const first = kept.use(piece, coarse()).model.get();
        CHECK(kept.use(other, coarse()).model.get() != first);
        CHECK(kept.use(piece, coarse()).model.get() == first);
    }
    const std::vector<std::pair<const char*, std::function<void(ModelOptions&)>>> options{
        {"size of cells", [](ModelOptions& o) { o.shell.size.largest = 70; }},
        {"order", [](ModelOptions& o) { o.shell.order = 4; }},
        {"compliance of walls", [](ModelOptions& o) { o.shell.with_wall_compliance = false; }},
        {"reference surface", [](ModelOptions& o) { o.shell.reference_depth = 5; }},
        {"finer cells",
         [](ModelOptions& o) {
             o.finer_at.attractors_x.push_back({300, 10});
         }},
        {"beds", [](ModelOptions& o) { o.coarse_beds = true; }}};
    for (const auto& [name, change] : options) {
        CAPTURE(name);
        const Piece piece = tray_on_a_bar();
        ModelOptions other = coarse();
        change(other);
        KeptModels kept(plenty);
        const Model* const first = kept.use(piece, coarse()).model.get();
        CHECK(kept.use(piece, other).model.get() != first);
        CHECK(kept.use(piece, coarse()).model.get() == first);
    }
}

TEST_CASE("a plan kept for one order serves another only where it asks for the same", "[solver]") {
    KeptModels kept(plenty);
    Piece piece = tray_on_a_bar();
    ModelOptions plain = coarse(), glued_too = coarse();
    plain.bonded = false;
    kept.use(piece, plain);
    set_metal(piece, "", "6060-T66");
    CHECK(kept.use(piece, plain).model->bonded.all.empty());
    CHECK(kept.use(piece, glued_too).model->bonded.all.size() ==
          make_model(piece, glued_too).bonded.all.size());
    ModelOptions beds = plain;
    beds.coarse_beds = true;
    piece.supports.front() = {
        .name = "bearer",
        .kind = Bearer{.from = {30, 30}, .to = {30, 270}, .width = 40, .hold_down = false, .stiffness = {}}};
    kept.use(piece, plain);
    kept.use(piece, beds);
    set_metal(piece, "", "S235");
    for (const ModelOptions& one : {plain, beds}) {
        const Model fresh = make_model(piece, one);
        const Model& with = *kept.use(piece, one).model;
        REQUIRE(with.supports.points.size() == fresh.supports.points.size());
        CHECK(with.points.size() == fresh.points.size());
    }
    CHECK(make_model(piece, beds).supports.points.size() < make_model(piece, plain).supports.points.size());
    set_metal(piece, "", "6060-T66"); // the same plan but for what the bar is of
    kept.use(piece, glued_too);
    set_metal(piece, "", "S235");
    const double E = kept.use(piece, glued_too).model->bars.beams.front().E;
    CHECK(E == make_model(piece, glued_too).bars.beams.front().E);
}

TEST_CASE("models are kept up to so many bytes, the ones used last", "[solver]") {
    Piece piece = tray_on_a_bar();
    std::size_t one = 0;
    {
        KeptModels kept(plenty);
        kept.use(piece, coarse());
        one = kept.bytes();
        const Factor::Cost cost = make_model(piece, coarse()).factor->cost();
        CHECK(static_cast<double>(one) > sizeof(double) * cost.factor_entries);
    }
    const auto deep = [&](double depth) {
        Piece other = piece;
        set_depth(other, "", depth);
        return other;
    };
    KeptModels kept(5 * one / 2); // two, and a half more
    std::size_t most = 0;
    for (const double depth : {7.0, 8.0, 9.0, 10.0}) {
        kept.use(deep(depth), coarse());
        CHECK(kept.bytes() <= 5 * one / 2);
        most = std::max(most, kept.size());
    }
    CHECK(most == 2);
    KeptModels roomy(plenty);
    std::vector<const Model*> models;
    for (const double depth : {7.0, 8.0, 9.0}) models.push_back(roomy.use(deep(depth), coarse()).model.get());
    CHECK(roomy.size() == 3);
    CHECK(roomy.use(deep(7), coarse()).model.get() == models[0]);
    KeptModels none(0);
    {
        const ModelUse held = none.use(piece, coarse());
        CHECK(none.size() == 1);
    }
    none.use(deep(9), coarse());
    CHECK(none.size() <= 1);
}

TEST_CASE("what a kept model has come to know counts too", "[solver]") {
    KeptModels kept(plenty);
    Piece piece = tray_on_a_bar();
    std::size_t before = 0;
    for (const double spacing : {90.0, 60.0, 40.0, 30.0}) { // more screws, which are kept beside the others
        set_spacing(piece, "", spacing);
        const ModelUse use = kept.use(piece, coarse());
        CHECK(kept.bytes() > before);
        before = kept.bytes();
        use.readings();
        CHECK((kept.bytes() > before || spacing < 90));
        before = kept.bytes();
    }
}

TEST_CASE("eight threads share the memory that one has alone", "[solver]") {
    const std::size_t some = std::size_t{4} << 30;
    for (const int wanted : {1, 2, 8, 64, 256}) {
        const ThreadShares shares = shared_out(some, wanted);
        CAPTURE(wanted);
        CHECK(shares.threads >= 1);
        CHECK(shares.threads <= wanted);
        CHECK(static_cast<std::size_t>(shares.threads) * (shares.kept_bytes + bytes_of_work) <= some);
    }
    CHECK(shared_out(some, 8).threads == 8);
    CHECK(shared_out(some, 1).kept_bytes == some - bytes_of_work);
    CHECK(shared_out(some, 256).threads == static_cast<int>(some / (bytes_of_work + least_kept_bytes)));
    CHECK(shared_out(some, 256).kept_bytes >= least_kept_bytes);
    CHECK(shared_out(1, 8).threads == 1);
    CHECK(shared_out(1, 8).kept_bytes == 0);
    CHECK(share_of_memory() > bytes_of_work);
}

TEST_CASE("a model that is still held is not given away", "[solver]") {
    KeptModels kept(plenty);
    const ModelUse held = kept.use(tray_on_a_bar(), coarse());
    CHECK(kept.use(tray_on_a_bar(), coarse()).model != held.model);
}

TEST_CASE("a kept model gives the same bits as a fresh one", "[solver][slow]") {
    KeptWork kept;
    Piece piece = tray_on_a_bar();
    for (const char* section : {"flat 25x4", "angle 25x25x3", "bar 5x25"}) {
        for (const double spacing : {90.0, 50.0}) {
            set_section(piece, "", section);
            set_spacing(piece, "", spacing);
            const Result with = check_piece(piece, checked(&kept)).result,
                         without = check_piece(piece, checked(nullptr)).result;
            REQUIRE(with.checks.size() == without.checks.size());
            for (std::size_t i = 0; i < with.checks.size(); ++i)
                CHECK(with.checks[i].demand == without.checks[i].demand);
            CHECK(with.frequency_Hz == without.frequency_Hz);
            CHECK(with.assumptions == without.assumptions);
            REQUIRE(with.stiffening);
            CHECK(with.stiffening->bonded_mm == without.stiffening->bonded_mm);
        }
    }
}

TEST_CASE("places of screws that come back have the flexibility of a fresh model", "[solver]") {
    KeptModels kept(plenty);
    ModelOptions options = coarse();
    options.bonded = false;
    const auto all_of = [&](const Model& model) { return *model.connections.between->after_creep(1.6); };
    for (const double spacing : {90.0, 50.0, 90.0, 70.0, 50.0})
        for (const Holes holes : {Holes::slotted, Holes::round})
            for (const char* metal : {"S235", "6060-T66"}) { // the same places, another bar
                Piece piece = tray_on_a_bar();
                set_spacing(piece, "", spacing);
                set_holes(piece, "", holes);
                set_metal(piece, "", metal);
                const Model& with = *kept.use(piece, options).model;
                const Model fresh = make_model(piece, options);
                REQUIRE(with.connections.all.size() == fresh.connections.all.size());
                CHECK(with.columns->of == fresh.columns->of);
                CHECK(with.columns->compliance == fresh.columns->compliance);
                CHECK(all_of(with) == all_of(fresh));
                CHECK(with.bonded.all.empty());
            }
}

TEST_CASE("pieces checked together come out as one by one, whichever stand beside them", "[solver][slow]") {
    std::vector<Piece> pieces;
    for (const char* section : {"flat 25x4", "angle 25x25x3"})
        for (const double spacing : {90.0, 50.0}) {
            Piece piece = tray_on_a_bar();
            set_section(piece, "", section);
            set_spacing(piece, "", spacing);
            pieces.push_back(piece);
        }
    set_number(pieces[1], 2);
    set_depth(pieces[3], "", 9); // another mesh, in the middle of the row
    pieces.push_back(pieces[0]);
    pieces.insert(pieces.begin() + 2, pieces[0]);
    pieces[2].top.thickness = -1; // makes no sense
    CheckOptions options = checked(nullptr);
    options.essentials = true;
    const std::vector<CheckAttempt> together = check_pieces(pieces, options),
                                    fewer = check_pieces(std::span(pieces).subspan(1), options);
    REQUIRE(together.size() == pieces.size());
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        CAPTURE(i);
        CHECK(together[i].outcome.has_value() == (i != 2));
        CHECK(together[i].error.has_value() == (i == 2));
        if (i == 2) continue;
        const Result alone = check_piece(pieces[i], options).result;
        const Result& one = together[i].outcome->result;
        REQUIRE(one.checks.size() == alone.checks.size());
        for (std::size_t k = 0; k < one.checks.size(); ++k)
            CHECK(one.checks[k].demand == alone.checks[k].demand);
        CHECK(one.frequency_Hz == alone.frequency_Hz);
        CHECK(one.mesh.sag_error_percent == alone.mesh.sag_error_percent);
        CHECK(one.screws.size() == alone.screws.size());
        if (i > 0) CHECK(fewer[i - 1].outcome->result.situations[0].sag_mm == one.situations[0].sag_mm);
    }
}
