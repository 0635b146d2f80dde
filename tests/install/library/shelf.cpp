// SPDX-License-Identifier: MIT
// A shelf on two knife edges against 5 q L^4 / (384 E I) + q L^2 / (8 k G A), k = 5/6 (Timoshenko's beam).
#include "solver/check/check_piece.hpp"

#include <cmath>
#include <cstdio>

int main() {
    using namespace hollowtop;
    const double L = 1000, b = 100, t = 20, E = 10000, G = 700, q = 0.002;
    Piece shelf;
    shelf.top.length = L, shelf.top.width = b, shelf.top.thickness = t;
    shelf.top.outline = RectangleShape{.box = {0, L, 0, b}};
    shelf.top.elastic =
        Elastic{.E1 = E, .E2 = 500, .nu12 = 0, .G12 = G, .G13 = G, .G23 = 100, .density_kg_m3 = 500};
    for (const double x : {0.0, L})
        shelf.supports.push_back(
            {x == 0 ? "left" : "right", Bearer{.from = {x, 0}, .to = {x, b}, .hold_down = true}});
    shelf.loads = {{.name = "books", .kind = AreaLoad{.pressure = q, .over = {}}}};
    shelf.self_weight = false;
    const double sag = check_piece(shelf).result.situations.at(0).sag_mm;
    const double beam =
        5 * q * std::pow(L, 4) / (384 * E * t * t * t / 12) + q * L * L / (8 * 5.0 / 6 * G * t);
    std::printf("sag %.3f mm, by the beam %.3f mm\n", sag, beam);
    return std::abs(sag / beam - 1) < 0.005 ? 0 : 1; // 0.5 %: the mesh
}
