// SPDX-License-Identifier: MIT
#pragma once
/// \file  What the maker draws: plain values, in N, mm, MPa, kg and degrees, that say what is to be built.
///
///        y ^
///    width |  +-----------------------------+      seen from above; the top face is z = 0, z points up,
///          |  |  rim  +-----------------+   |      the underside is z = -thickness; recesses are cut
///          |  |       |     recess      |   |      from below.
///          |  |       +-----------------+   |
///        0 +--+-----------------------------+--> x
///             0                           length
///
/// Nothing here computes; solver/piece/sense.hpp says whether a piece makes sense.

#include "materials/duration.hpp"
#include "materials/message.hpp"

#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace hollowtop {

struct Point {
    double x = 0;
    double y = 0;
    bool operator==(const Point&) const = default;
};

/// An axis-parallel rectangle, x0 <= x1 and y0 <= y1.
struct Rectangle {
    double x0 = 0, x1 = 0, y0 = 0, y1 = 0;
    bool operator==(const Rectangle&) const = default;
};

// ---- shapes in plan
// -------------------------------------------------------------------------------------------

struct RectangleShape {
    Rectangle box;
    double corner_radius = 0;
    bool operator==(const RectangleShape&) const = default;
};
/// The ellipse that fills `box`.
struct EllipseShape {
    Rectangle box;
    bool operator==(const EllipseShape&) const = default;
};
/// A simple polygon, either way round; its corners may be rounded.
struct PolygonShape {
    std::vector<Point> points;
    double corner_radius = 0;
    bool operator==(const PolygonShape&) const = default;
};
/// Everything further than `rim` from the outline.
struct RimShape {
    double rim = 0;
    double corner_radius = 0;
    bool operator==(const RimShape&) const = default;
};

// ---- the top
// --------------------------------------------------------------------------------------------------

/// Elastic constants of a flat sheet or of wood in its own axes: axis 1 along the grain, 2 across it in the
/// plane, 3 through the thickness. MPa; density in kg/m3.
struct Elastic {
    double E1 = 0, E2 = 0, nu12 = 0, G12 = 0, G13 = 0, G23 = 0;
    std::optional<double> density_kg_m3{};
    std::optional<double> E3{}; ///< through the thickness, for bearing; where not given E2 stands in
    bool operator==(const Elastic&) const = default;
};

/// Values measured on the maker's own boards; each replaces the handbook's.
struct Measured {
    std::optional<double> E_along; ///< bending modulus along the grain, MPa
    std::optional<double> density_kg_m3;
    /// Standard uncertainties, one standard deviation, percent of the value; empty where not said.
    std::optional<double> u_E_along_percent{}, u_density_percent{};
    bool operator==(const Measured&) const = default;
};

/// How the growth rings of a flat-sawn board lie: circles about the pith of its tree.
struct Rings {
    double pith = 0;      ///< distance of the pith from the face that is nearer to it, mm
    bool bark_up = false; ///< the face that was nearer to the bark lies above
    bool operator==(const Rings&) const = default;
};

/// One of the boards that are glued up; what is not measured on it is as of the whole top.
struct Board {
    double width = 0;
    Measured measured{};
    std::optional<Rings> rings{};
    bool operator==(const Board&) const = default;
};

/// How far this wood's moduli across the grain and in shear are from those that belong to its modulus along
/// it. No part of the file: what is asked "what if" of a top.
struct StiffnessShares {
    double across = 1, shear = 1;
    bool operator==(const StiffnessShares&) const = default;
};

/// What each face is finished with: ids in the table of finishes; empty where not said.
struct FaceFinishes {
    std::string above, below; ///< top face; underside outside the recesses
    std::string recess;       ///< floors of the recesses
    bool operator==(const FaceFinishes&) const = default;
};

/// How thick wood was found to be: values at the crossings of an even grid over `box`, row by row from y0 up, each from
/// x0 on. Between them it is bilinear, beyond them that of the nearest edge (solver/piece/skin.hpp). mm.
struct SkinGrid {
    Rectangle box;
    int nx = 0, ny = 0; ///< crossings each way, 2 at least
    std::vector<double> thickness;
    bool operator==(const SkinGrid&) const = default;
};

struct Top {
    double length = 0, width = 0, thickness = 0;
    std::string wood;    ///< id in the table of woods; empty where `sheet` or `elastic` is given
    std::string sheet{}; ///< id in the table of sheets: plywood, MDF, particleboard
    double grain_deg = 0;
    double ring_angle_deg = 0; ///< 0 flat-sawn, 45 rift-sawn, 90 quarter-sawn
    std::variant<RectangleShape, EllipseShape, PolygonShape> outline;
    double moisture_percent = 12;
    Measured measured;
    std::optional<Elastic> elastic;
    std::vector<Board> each_board; ///< from the edge nearest the origin; empty where not said
    int boards = 0;                ///< number of boards glued up; 0 where not said
    StiffnessShares shares{};
    bool glue_lines_kept = false; ///< the mesh keeps every glue line, also between boards that are alike
    FaceFinishes finish{};
    std::optional<SkinGrid> surveyed{}; ///< where it is not alike all over; then `thickness` is its mean
    bool operator==(const Top&) const = default;
};

struct Land {
    std::string name;
    std::variant<RectangleShape, PolygonShape> shape;
    bool operator==(const Land&) const = default;
};

/// How what lies in a recess is held up.
enum class HangsOn { skin, runners, base };
/// Something kept in a recess.
struct Kept {
    std::string name;
    double size_x = 0, size_y = 0, height = 0;
    std::optional<Point> at{}; ///< its middle; the recess's own where not given
    double weight_N = 0;
    HangsOn hangs_on = HangsOn::skin;
    bool operator==(const Kept&) const = default;
};
/// How a bar is held: by screws in such holes, by glue, or by its own dovetailed edges in a groove.
enum class Holes { round, oversize, slotted, bonded, dovetail };
inline bool is_screwed(Holes holes) { return holes != Holes::bonded && holes != Holes::dovetail; }

/// What closes a recess from below: it lies in the mouth of the recess, flush with the underside.
struct Cover {
    std::string sheet, wood; ///< ids; one of them
    double thickness = 0;
    std::string trim; ///< section of the strip that holds its edge, such as "bar 35x8"; empty: none
    std::optional<double> screw_diameter{}, screw_spacing{}; ///< of the screws along its edge
    Holes holes = Holes::slotted;                            ///< for those screws
    bool operator==(const Cover&) const = default;
};

struct Recess {
    std::string name;
    std::variant<RectangleShape, PolygonShape, RimShape> shape;
    double depth = 0;       ///< below the underside; the skin is thickness - depth
    double root_radius = 0; ///< the cutter's corner radius at the recess floor
    std::vector<Land> lands;
    std::vector<Kept> holds{};
    std::optional<Cover> cover{};
    std::optional<SkinGrid> surveyed{}; ///< where the skin is uneven; then `depth` is that of its mean
    bool operator==(const Recess&) const = default;
};

// ---- stiffeners
// -----------------------------------------------------------------------------------------------

struct Screws {
    double diameter = 0, length = 0;
    double spacing = 0;     ///< 0 where `at` is given
    std::vector<double> at; ///< distances from the stiffener's start
    Holes holes = Holes::slotted;
    std::optional<double> stiffness;     ///< slip stiffness, N/mm a screw
    std::optional<double> slot_length{}; ///< of a slot over all, mm; none: solver/piece/screw_holes.hpp
    bool operator==(const Screws&) const = default;
};

/// Stiffener material stated by its constants. MPa, kg/m3.
struct BarElastic {
    double E = 0, G = 0;
    double density_kg_m3 = 0;
    bool operator==(const BarElastic&) const = default;
};

struct Stiffener {
    std::string name;
    std::string section; ///< as written, such as "angle 30x30x3"
    std::string metal;   ///< id; empty where wood or elastic is given
    std::string wood;
    std::optional<BarElastic> elastic;
    Point from, to;
    Screws screws;
    bool operator==(const Stiffener&) const = default;
};

/// Breadboard ends: a board across each end of a rectangular top, its grain along that end, on a tongue of the top;
/// fixed in the middle, it lets the top move past. `Top::length` counts them in.
struct Ends {
    double width = 0;  ///< along the top's grain
    double tongue = 0; ///< how far the top reaches into it
    std::string wood;  ///< id
    double peg = 0;    ///< diameter; 0 where not said
    int pegs = 3;      ///< each end, evenly; the middle one is fixed
    bool operator==(const Ends&) const = default;
};

// ---- supports
// -------------------------------------------------------------------------------------------------

/// What holds the top down at a support, where the maker says it: a strength, or screws up into the top.
struct HoldDown {
    std::optional<double> strength_N{}; ///< of the clip or button there, all together
    int screws = 0;                     ///< how many, all together
    double diameter = 0, length = 0;    ///< of a screw; `length` in the top's wood
    bool operator==(const HoldDown&) const = default;
};

struct Pad {
    Point at;
    double size_x = 0, size_y = 0;
    bool hold_down = false;
    std::optional<double> stiffness{}; ///< MPa/mm
    HoldDown held_by{};
    bool packed = false;            ///< what is left between it and the floor of a recess is filled
    std::optional<double> height{}; ///< of its body below the top, mm
    bool operator==(const Pad&) const = default;
};
/// A straight support; width 0 is a knife edge.
struct Bearer {
    Point from, to;
    double width = 0;
    bool hold_down = false;
    std::optional<double> stiffness{}; ///< MPa/mm; N/mm per mm of length where the width is 0
    HoldDown held_by{};
    bool packed = false;
    std::optional<double> height{};
    bool operator==(const Bearer&) const = default;
};
struct Rail {
    Point from, to;
    std::string section, metal, wood;
    std::optional<BarElastic> elastic;
    bool hold_down = false;
    HoldDown held_by{};
    bool operator==(const Rail&) const = default;
};
enum class Level { top, middle, bottom };
/// A line held as a wall or a textbook holds it, both ways.
struct Held {
    Point from, to;
    bool down = false;   ///< w
    bool tilt = false;   ///< turning about the line
    bool twist = false;  ///< turning about the normal to the line in the plane
    bool along = false;  ///< in-plane movement along the line, at `level`
    bool across = false; ///< in-plane movement across the line, at `level`
    Level level = Level::middle;
    bool operator==(const Held&) const = default;
};
struct BuiltIn {
    Point from, to;
    bool operator==(const BuiltIn&) const = default;
};

struct Support {
    std::string name; ///< as given, else "pad 1", "bearer 2", ... by kind and order
    std::variant<Pad, Bearer, Rail, Held, BuiltIn> kind;
    bool operator==(const Support&) const = default;
};

// ---- loads
// ----------------------------------------------------------------------------------------------------

struct AreaLoad {
    double pressure = 0; ///< MPa, downward
    std::optional<Rectangle> over;
    bool operator==(const AreaLoad&) const = default;
};
/// A force spread evenly over the part of the rectangle that lies on the top; `size` 0 x 0 is a point.
struct PatchLoad {
    double force = 0; ///< N, downward
    Point at;
    double size_x = 0, size_y = 0;
    bool travels = false; ///< "at": "worst"
    std::optional<Rectangle> over;
    bool operator==(const PatchLoad&) const = default;
};
struct LineLoad {
    double force = 0; ///< N, downward, spread evenly along the line
    Point from, to;
    bool travels = false;
    std::optional<Rectangle> over;
    bool operator==(const LineLoad&) const = default;
};

/// A clamp at the edge that holds an arm or a vice: the weight at the arm's end turns it, so that it presses
/// on the top face with its upper pad and from below with its lower one.
struct ClampLoad {
    double force = 0;                ///< N, downward, of all that hangs on it
    Point at;                        ///< middle of both pads
    Point hangs_at;                  ///< the place over which the weight hangs; it may lie off the top
    double above_x = 0, above_y = 0; ///< size of the pad on the top face
    double below_x = 0, below_y = 0; ///< and of the one against the underside
    bool operator==(const ClampLoad&) const = default;
};

/// What a load is judged for: everyday loads for everything; strength loads for stresses, screws and contact,
/// their sag is told and not limited; stability loads for tipping and lift-off alone.
enum class LoadFor { everyday, strength, stability };
/// The words of the piece file.
constexpr const char* to_word(LoadFor judged_for) {
    return judged_for == LoadFor::everyday   ? "everyday"
           : judged_for == LoadFor::strength ? "strength"
                                             : "stability";
}

struct Load {
    std::string name;
    Duration duration = Duration::short_term;
    std::variant<AreaLoad, PatchLoad, LineLoad, ClampLoad> kind;
    LoadFor judged_for = LoadFor::everyday;
    std::optional<Point> found_at{}; ///< one of the worst places of a load that travels, which rests there
    bool operator==(const Load&) const = default;
};

// ---- limits, allowables, climate
// ------------------------------------------------------------------------------

/// A length, or the span divided by `divisor`.
struct MovementLimit {
    bool is_share_of_span = false;
    double divisor = 0;     ///< where is_share_of_span
    double length = 0;      ///< mm, where not
    bool is_stated = false; ///< by the maker; a stated use sets only what is not
    Message source{};       ///< where a limit that a use brought comes from; else empty
    bool operator==(const MovementLimit&) const = default;
};

struct Limits {
    MovementLimit sag{.is_share_of_span = true, .divisor = 300};
    MovementLimit sag_years{.is_share_of_span = true, .divisor = 250};
    MovementLimit dish{}; ///< a length, judged only where stated
    std::optional<double> flatness{},
        flatness_years{}; ///< mm under a straightedge, where stated or by the stated use
    std::optional<double> frequency_Hz;
    bool need_not_be_flat = false; ///< a stated use sets no limit of flatness
    Message flatness_source{};     ///< where a limit of flatness that a use brought comes from; else empty
    bool operator==(const Limits&) const = default;
};

enum class AllowablesBasis { handbook, strength_class };

struct Allowables {
    AllowablesBasis basis = AllowablesBasis::handbook;
    /// Strength ratio of the grade: 1 is clear straight-grained wood. 0.8 stands for sound furniture boards
    /// whose grain runs off by 1 in 10 (Wood Handbook ch. 5, slope of grain: 0.81; from memory).
    double grade_ratio = 0.8;
    bool grade_is_stated = false; ///< by the maker
    std::string strength_class;   ///< EN 338, such as "D30"
    int service_class = 1;        ///< EN 1995-1-1 2.3.1.3
    bool operator==(const Allowables&) const = default;
};

struct Air {
    double temperature_C = 20;
    double humidity_percent = 50;
    bool operator==(const Air&) const = default;
};
struct Climate {
    std::optional<Air> low, high;
    double years = 10; ///< after which the sag under what stays is told
    std::vector<Air>
        months{}; ///< means from January to December; twelve, or none where `low` and `high` tell
    std::optional<Air> shop{}; ///< where the wood comes to rest before the piece moves in
    int move_in = 0;           ///< month in which it does, 1 January; 0 where not said
    bool operator==(const Climate&) const = default;
};

// ---- the piece
// ------------------------------------------------------------------------------------------------

enum class Units { mm, inch };

struct Piece {
    std::string title;
    Units units =
        Units::mm; ///< what the file was written in and the text output speaks; values here are always mm
    Top top;
    std::vector<Recess> recesses;
    std::vector<Stiffener> stiffeners;
    std::optional<Ends> ends{};
    std::vector<Support> supports;
    std::vector<Load> loads;
    std::string use; ///< empty where no use is stated
    Limits limits;
    bool self_weight = true;
    Allowables allowables;
    std::optional<Climate> climate;
    std::vector<Point> probes;
    bool holds_weigh =
        false; ///< what hangs in the recesses is among `loads` already (solver/situations/recess_loads.hpp)
    bool operator==(const Piece&) const = default;
};

} // namespace hollowtop
