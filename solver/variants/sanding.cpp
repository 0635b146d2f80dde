// SPDX-License-Identifier: MIT
#include "solver/variants/sanding.hpp"

#include "solver/check/check_piece.hpp"
#include "solver/variants/judge_each.hpp"

#include <utility>

namespace hollowtop {

Piece sanded(Piece piece, double off) {
    piece.top.thickness -= off;
    if (piece.top.surveyed)
        for (double& thickness : piece.top.surveyed->thickness) thickness -= off;
    for (Recess& recess : piece.recesses)
        if (recess.surveyed)
            for (double& skin : recess.surveyed->thickness) skin -= off;
    return piece;
}

std::vector<Sanded> sanding_reserve(const Piece& piece, int threads) {
    CheckOptions options;
    options.threads = threads;
    options.essentials = true;
    std::vector<Sanded> all;
    for (const double off : sanding_steps) {
        Sanded one{.off = off};
        try {
            const Result result = check_piece(sanded(piece, off), options).result;
            one.passes = result.passes;
            one.check = result.governing_check;
            one.utilisation = result.governing_utilisation;
        } catch (const Error& error) {
            one.problem = problem_of(error);
        }
        all.push_back(std::move(one));
    }
    return all;
}

} // namespace hollowtop
