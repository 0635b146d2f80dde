// SPDX-License-Identifier: MIT
#pragma once
/// \file  A top's first two years in its room: moisture through skin and rim day by day, and what it does to the
/// shape and to the wood across the grain.
///
///     percent
///        12 |--.____              rim: weeks behind the air
///           |   \   `---.___
///         8 |    `-.________`--   skin: days behind; between the two it bows, for the rim holds its edges
///           +---------------------> days since moving in
///
/// Formulas, sources, limits: docs/seasons.md. mm, MPa; moisture in percent; days from the first of the month of
/// moving in. Advice, no verdict: the coefficients rest on memory.

#include "materials/finish.hpp"
#include "materials/message.hpp"
#include "solver/moisture/drying.hpp"
#include "solver/moisture/room_air.hpp"
#include "solver/piece/moisture_range.hpp"
#include "solver/seasons/held_shape.hpp"
#include "solver/seasons/rim_lead.hpp"
#include "solver/seasons/ring_cup.hpp"
#include "solver/seasons/year_ways.hpp"
#include "solver/seasons/zone_fields.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hollowtop {

/// The state on the last day of a month.
struct YearMonth {
    int month = 0;                             ///< 1 January
    double air_percent = 0;                    ///< that wood in this air comes to
    double full_percent = 0, skin_percent = 0; ///< means; the skin is the thinnest
    double width_change = 0;                   ///< since it was made, mm
    Cup shape;
    double tension = 0; ///< greatest at any place, MPa; of the month's worst day
};

/// The state at the end of a day.
struct YearDay {
    double air_percent = 0;
    double full_percent = 0, skin_percent = 0; ///< means, as of a month
    double show_face_percent = 0;              ///< of the full thickness, right at its top face
    double rise_across = 0, out_of_flat = 0;   ///< mm, lying free; crown +
};

/// The greatest tension across the grain at any place: for comparing ways, and held against no strength, for by the same
/// reckoning thick solid tops, which live, would crack (docs/seasons.md).
struct SeasonTension {
    WorstDay greatest; ///< MPa, relaxed
    Point at{};
    bool in_a_skin = false;
    double divisor = 1;      ///< by which creep lessens it
    double without_give = 0; ///< on its worst day, did wood not give with its moisture
};

/// What the rings of its boards do to the panel as a strip across the grain: at most over the seasons.
struct RingsTold {
    bool are_known = false;
    double k_dry = 0, k_damp = 0; ///< e_T - e_R from made to the dry and to the damp season
    PanelShape dry, damp;         ///< as laid
    double wave_pith_up = 0, wave_bark_up = 0, wave_alternating = 0; ///< in the season that moves them more
    TurnedBoards turned;
    double greatest_cup = 0; ///< of one board of its own, mm
    std::size_t worst_board = 0;
    double greatest_scallop = 0; ///< of one board between its glue lines, which no hold takes away
    /// Boards narrower than four thicknesses, by index: their edges warp on each other, and what is told of them may err by more
    /// than a twentieth.
    std::vector<std::size_t> narrow{};
    double near_pith_crown = 0; ///< where nothing is known: all one way, piths 60 mm away
    double near_pith_wave = 0;  ///< the same laid alternately
    /// As laid, on its supports and over its bars with its weight, each in its season; where it has both and rings are known.
    std::optional<HeldShape> stands_dry{}, stands_damp{};
};

/// Where it stands, on the day of the first year that it is farthest from flat lying free, and on the day of both years
/// that its full thickness has moved most.
struct Standing {
    int worst_day = 0, moved_day = 0;
    HeldShape worst, moved;
    std::optional<HeldShape> worst_without_bars{},
        moved_without_bars{}; ///< where it has stiffeners or breadboard ends
};

struct YearOfTop {
    std::vector<Zone> zones;
    FaceFinishes finish; ///< ids, each of them
    bool finish_is_usual = false;
    int month = 0; ///< of moving in
    bool month_is_usual = false;
    double start_percent = 0;
    materials::Sourced across;     ///< movement a point
    std::vector<YearMonth> months; ///< twelve
    std::vector<YearDay> days;     ///< of two years
    WorstOfYear first, second;
    std::optional<RimLead> edges{}; ///< the first year's lead where the rim dries through its edges as well
    SeasonTension tension;
    std::vector<Otherwise> doubled; ///< coefficients twice or half as great
    std::vector<Otherwise> helps;   ///< that lessen the first year's worst departure from flat, best first
    std::optional<RingsTold> rings;
    std::optional<Standing> standing; ///< of a top that has a weight and supports
    MoistureRange range;
    double error_percent = 0;
    std::vector<Message> assumptions, warnings;
};

struct YearOptions {
    int threads = 1;
    bool briefly = false; ///< without `doubled` and `helps`, and what would be without bars
};

/// Throws Error(input) where the top is of stated constants or of a sheet, or the air is impossible, and
/// Error(not_computable) where the top cannot be solved.
YearOfTop year_of_top(const Piece& piece, const YearOptions& options);

/// Boards as they lie, brought to the top's own width; piths 60 mm away where not known.
std::vector<RingBoard> ring_boards_of(const Top& top);

/// What the rings do, by the boards of the piece; nothing where it has no boards or one of them is not known to
/// differ.
std::optional<RingsTold> rings_of(const Piece& piece, const MoistureRange& range);

} // namespace hollowtop
