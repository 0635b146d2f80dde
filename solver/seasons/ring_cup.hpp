// SPDX-License-Identifier: MIT
#pragma once
/// \file  Boards that cup because their rings are circles, and the panel they are glued up into.
///
///      ______________________   bark face            r, theta: about the pith
///      |        . - .        |                       k = e_T - e_R: how much more a ring shrinks along
///      |     .         .     |   y to mid-section    itself than across itself; drying: k < 0
///      |___._____________.___|   pith face
///                +               pith
///
/// u_r = e_R r, u_theta = k r theta leaves no stress, so it is exact: a face at the distance d from the pith moves
/// by -k x atan(x / d) along the line from the pith, x from the board's middle. Drying hollows the bark face. The
/// board's edges turn by k (phi - sin phi cos phi) only, phi = atan(w / 2y): the rest of the bend is a shear that is
/// free. Boards glued edge to edge keep their edges together, so a panel all one way up bends by 2 k (phi - sin phi
/// cos phi) / w, not as one wide board would.
/// mm, radians. Limits: a free strip across the grain; flat-sawn boards whose pith lies under their middle.

#include <span>
#include <vector>

namespace hollowtop {

struct RingBoard {
    double width = 0;
    double pith = 0; ///< from the face that is nearer to it
    bool bark_up = false;
};

/// How far the face at the distance d from the pith moves away from the pith at x from the middle; 0 there.
double ring_rise(double k, double x, double d);

/// By how much an edge of a board turns, y from the pith to mid-section.
double ring_edge_turn(double k, double width, double y);

/// Cup of one board of its own: its show face's middle above the chord of its edges.
double board_cup(const RingBoard& board, double thickness, double k);

/// What of that is no bend of its edges but a free shear between them: it comes on top of whatever a panel of such boards
/// does, held or free. Glued up a board bends by its edges' turn alone, and this is its own wave between two glue lines.
double board_scallop(const RingBoard& board, double thickness, double k);

/// The show face of a panel along a line across the grain.
struct PanelShape {
    std::vector<double> at, height; ///< from the first edge; heights above the chord between the two edges
    double crown = 0;               ///< of those furthest from the chord, with its sign: hollow -
    double wave = 0;                ///< highest above lowest, about the straight line that fits best
};
/// `thickness` of the panel. Throws Error(input) where a width is not more than 0.
PanelShape panel_shape(std::span<const RingBoard> boards, double thickness, double k);

/// The boards turned so that the panel stays flattest, by its wave: every single turn is tried, the best kept, until
/// none helps.
struct TurnedBoards {
    std::vector<int> turned; ///< indices, in the order of what each gains
    double wave = 0;
};
TurnedBoards flattest(std::span<const RingBoard> boards, double thickness, double k);

std::vector<RingBoard> all_one_way(std::vector<RingBoard> boards, bool bark_up);
std::vector<RingBoard> alternating(std::vector<RingBoard> boards);

} // namespace hollowtop
