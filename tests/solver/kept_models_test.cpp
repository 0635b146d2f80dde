// SPDX-License-Identifier: MIT
#include "solver/check/kept_models.hpp"

#include "solver/check/check_piece.hpp"
#include "solver/variants/edits.hpp"
#include "tests/solver/tray_for_tests.hpp"

#include <catch2/catch.hpp>

#include <span>
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

CheckOptions checked(KeptModels* kept) {
    CheckOptions options;
    options.mesh = CheckOptions::Mesh::coarse;
    options.threads = 1;
    options.kept = kept;
    return options;
}

} // namespace

TEST_CASE("a model is kept for other stiffeners, and made afresh for another depth or mesh", "[solver]") {
    KeptModels kept;
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

TEST_CASE("a model that is still held is not given away", "[solver]") {
    KeptModels kept;
    const ModelUse held = kept.use(tray_on_a_bar(), coarse());
    CHECK(kept.use(tray_on_a_bar(), coarse()).model != held.model);
}

TEST_CASE("a kept model gives the same bits as a fresh one", "[solver][slow]") {
    KeptModels kept;
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
    KeptModels kept;
    ModelOptions options = coarse();
    options.bonded = false;
    const auto all_of = [&](const Model& model) { return *model.connections.between->at_creep(1.6); };
    for (const double spacing : {90.0, 50.0, 90.0, 70.0, 50.0})
        for (const Holes holes : {Holes::slotted, Holes::round})
            for (const char* metal : {"S235", "6060-T66"}) { // the same places, another bar
                Piece piece = tray_on_a_bar();
                set_spacing(piece, "", spacing);
                set_holes(piece, "", holes);
                set_metal(piece, "", metal);
                const Model& with = *kept.use(piece, options).model;
                const Model fresh = make_model(piece, options);
                REQUIRE(with.connections.connections.size() == fresh.connections.connections.size());
                CHECK(with.columns->of == fresh.columns->of);
                CHECK(with.columns->compliance == fresh.columns->compliance);
                CHECK(all_of(with) == all_of(fresh));
                CHECK(with.bonded.connections.empty());
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
