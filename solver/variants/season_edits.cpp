// SPDX-License-Identifier: MIT
#include "solver/variants/season_edits.hpp"

#include "materials/error.hpp"
#include "solver/piece/groove.hpp"
#include "solver/variants/edits.hpp"

#include <algorithm>
#include <cstddef>

namespace hollowtop {

void set_finish(Piece& piece, const std::string& finish) {
    piece.top.finish = {.above = finish, .below = finish, .recess = finish};
}

void lay_boards(Piece& piece, Laid laid) {
    std::vector<Board>& boards = piece.top.each_board;
    if (boards.empty() ||
        std::any_of(boards.begin(), boards.end(), [](const Board& board) { return !board.rings; }))
        throw Error(ErrorKind::input, {.place = "top.boards",
                                       .what = "how the rings of each board lie is not said",
                                       .remedy = R"(give each its "width", "pith" and "bark")"});
    for (std::size_t i = 0; i < boards.size(); ++i)
        boards[i].rings->bark_up = laid == Laid::bark_up || (laid == Laid::alternating && i % 2 == 0);
}

void set_slot_length(Piece& piece, const std::string& name, double length) {
    set_holes(piece, name, Holes::slotted);
    for (Stiffener& bar : piece.stiffeners)
        if (name.empty() || bar.name == name) bar.screws.slot_length = length;
}

void set_groove(Piece& piece, const std::string& name, double depth) {
    bool found = false;
    for (const Stiffener& bar : piece.stiffeners) {
        if (bar.screws.holes != Holes::dovetail || (!name.empty() && bar.name != name)) continue;
        const std::string groove = groove_of(bar);
        for (Recess& recess : piece.recesses)
            if (recess.name == groove) {
                recess.depth = depth;
                found = true;
            }
    }
    if (!found)
        throw Error(ErrorKind::input, {.place = "stiffeners",
                                       .what = name.empty() ? "none slides in a groove"
                                                            : "\"" + name + "\" slides in no groove",
                                       .remedy = R"(draw one with a "groove" first)"});
}

void set_ends(Piece& piece, double width) {
    if (!piece.ends)
        throw Error(ErrorKind::input, {.place = "ends",
                                       .what = "the piece has no breadboard ends",
                                       .remedy = R"(draw them in "ends" first)"});
    if (width > 0)
        piece.ends->width = width;
    else
        piece.ends.reset();
}

} // namespace hollowtop
