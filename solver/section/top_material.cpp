// SPDX-License-Identifier: MIT
#include "solver/section/top_material.hpp"

#include "materials/panel.hpp"
#include "solver/piece/boards.hpp"

#include <algorithm>

namespace hollowtop {
namespace {

/// The bending modulus of each strip: its own, or what the constants take in its place.
std::vector<double> moduli_of(const Top& top, const std::vector<BoardStrip>& strips) {
    const materials::Wood& wood = materials::find_wood(top.wood);
    constexpr double trial = 10000;
    std::optional<double> handbook;
    std::vector<double> moduli;
    for (const BoardStrip& strip : strips) {
        if (!strip.measured.E_along && !handbook)
            handbook = trial * materials::wood_constants(wood, top.moisture_percent).E_L /
                       materials::wood_constants(wood, top.moisture_percent, trial).E_L;
        moduli.push_back(strip.measured.E_along ? *strip.measured.E_along : *handbook);
    }
    return moduli;
}

double mean_by_width(const std::vector<BoardStrip>& strips, const std::vector<double>& values) {
    double sum = 0, width = 0;
    for (std::size_t i = 0; i < strips.size(); ++i) {
        sum += (strips[i].to - strips[i].from) * values[i];
        width += strips[i].to - strips[i].from;
    }
    return sum / width;
}

bool any_of_its_own(const std::vector<BoardStrip>& strips) {
    return std::any_of(strips.begin(), strips.end(), [](const BoardStrip& s) { return s.of_its_own; });
}

/// Boards that are all alike are one board, to the last digit.
std::optional<double> modulus_of(const Top& top, const std::vector<BoardStrip>& strips) {
    if (!any_of_its_own(strips)) return top.measured.E_along;
    const std::vector<double> moduli = moduli_of(top, strips);
    const auto differs = [&](double modulus) { return modulus != moduli.front(); };
    return std::any_of(moduli.begin(), moduli.end(), differs) ? mean_by_width(strips, moduli)
                                                              : moduli.front();
}

std::optional<double> density_of(const Top& top, const std::vector<BoardStrip>& strips) {
    std::vector<double> densities;
    for (const BoardStrip& strip : strips)
        if (strip.measured.density_kg_m3) densities.push_back(*strip.measured.density_kg_m3);
    if (densities.size() < strips.size()) return top.measured.density_kg_m3; // not of all: no mean
    const auto differs = [&](double density) { return density != densities.front(); };
    return std::any_of(densities.begin(), densities.end(), differs) ? mean_by_width(strips, densities)
                                                                    : densities.front();
}

} // namespace

materials::WoodConstants wood_constants_of(const Top& top) {
    const std::vector<BoardStrip> strips = board_strips(top);
    materials::WoodConstants wood =
        materials::wood_constants(materials::find_wood(top.wood), top.moisture_percent,
                                  modulus_of(top, strips), density_of(top, strips));
    for (double* modulus : {&wood.E_R, &wood.E_T}) *modulus *= top.shares.across;
    for (double* modulus : {&wood.G_LR, &wood.G_LT, &wood.G_RT}) *modulus *= top.shares.shear;
    return wood;
}

BoardShares board_shares_of(const Top& top) {
    BoardShares shares{.across = across_boards(top), .lines = {}, .kind = {0}, .share = {1}};
    if (top.wood.empty() || top.elastic) return shares;
    const std::vector<BoardStrip> strips = board_strips(top);
    if (!any_of_its_own(strips) && !top.glue_lines_kept) return shares;
    const std::vector<double> moduli = moduli_of(top, strips);
    const double mean =
        *std::max_element(moduli.begin(), moduli.end()) == *std::min_element(moduli.begin(), moduli.end())
            ? moduli.front()
            : mean_by_width(strips, moduli);
    shares.kind.clear();
    shares.share.clear();
    for (std::size_t i = 0; i < strips.size(); ++i) {
        const double share = moduli[i] / mean;
        const auto known = std::find(shares.share.begin(), shares.share.end(), share);
        const auto kind = static_cast<int>(known - shares.share.begin());
        if (known == shares.share.end()) shares.share.push_back(share);
        if (i > 0 && kind == shares.kind.back() && !top.glue_lines_kept) continue;
        if (i > 0) shares.lines.push_back(strips[i].from);
        shares.kind.push_back(kind);
    }
    return shares;
}

std::optional<Elastic> stated_elastic(const Top& top) {
    if (top.elastic) {
        Elastic stated = *top.elastic;
        stated.E2 *= top.shares.across;
        if (stated.E3) *stated.E3 *= top.shares.across;
        for (double* modulus : {&stated.G12, &stated.G13, &stated.G23}) *modulus *= top.shares.shear;
        return stated;
    }
    if (top.sheet.empty()) return std::nullopt;
    const materials::PanelConstants panel = materials::panel_constants(
        materials::find_sheet(top.sheet), top.measured.E_along, top.measured.density_kg_m3);
    return Elastic{.E1 = panel.E1,
                   .E2 = panel.E2 * top.shares.across,
                   .nu12 = panel.nu12,
                   .G12 = panel.G12 * top.shares.shear,
                   .G13 = panel.G13 * top.shares.shear,
                   .G23 = panel.G23 * top.shares.shear,
                   .density_kg_m3 = panel.density_kg_m3,
                   .E3 = panel.E3};
}

materials::Sourced creep_of(const Piece& piece) {
    const int service_class = piece.allowables.service_class;
    return piece.top.sheet.empty()
               ? materials::k_def(service_class)
               : materials::panel_k_def(materials::find_sheet(piece.top.sheet), service_class);
}

} // namespace hollowtop
