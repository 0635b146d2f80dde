// SPDX-License-Identifier: MIT
#include "solver/variants/season_edits.hpp"

#include "materials/error.hpp"

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

} // namespace hollowtop
