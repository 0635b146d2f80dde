// SPDX-License-Identifier: MIT
#pragma once
/// \file  What the files of sense.cpp share: the faults found so far, and the piece's shapes traced once.
/// Private to them; the door is solver/piece/sense.hpp.

#include "materials/error.hpp"
#include "materials/message.hpp"
#include "solver/piece/limits.hpp"
#include "solver/piece/piece.hpp"
#include "solver/piece/trace.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace hollowtop {

struct FaultList {
    std::vector<Fault> faults;

    /// No more are gathered: whoever looks on can stop.
    bool is_full() const { return faults.size() >= most_faults; }

    void add(std::string place, Message what, Message remedy = {}) {
        if (is_full()) return;
        faults.push_back({std::move(place), std::move(what), std::move(remedy)});
    }
    /// Runs `look`; where it says that the input is wrong, its faults are taken over, at `place`.
    template <class LookUp> void look_up(const std::string& place, const LookUp& look) {
        try {
            look();
        } catch (const Error& error) {
            if (error.kind() != ErrorKind::input) throw;
            for (const Fault& fault : error.faults()) add(place, fault.what, fault.remedy);
        }
    }
    bool expect(bool holds, std::string place, Message what, Message remedy = {}) {
        if (!holds) add(std::move(place), std::move(what), std::move(remedy));
        return holds;
    }
    /// `value` is a finite number above zero, else "0 mm is not WHAT; give more than 0 mm". `unit_word`: of a
    /// unit that is the same for all readers, such as " Hz".
    bool expect_positive(double value, std::string place, std::string_view what, Unit unit = Unit::mm,
                         std::string_view unit_word = {});
    /// `value` lies within its bounds; not looked at where it is no number above zero, or nought that may be.
    bool expect_within(double value, const SizeBounds& bounds, std::string place);
    bool expect_at_most(std::size_t count, const MostParts& limit, std::string place);
    /// `value` is a finite number, zero or more.
    bool expect_not_negative(double value, std::string place, const Message& remedy_note = {});
};

/// The shapes of the piece in plan. Empty where a fault of the shape itself was found.
struct Plan {
    std::optional<Trace> outline;
    std::vector<std::optional<Trace>> recesses;
    std::vector<std::vector<std::optional<Trace>>> lands; ///< [recess][land]
};

/// "recesses[1]".
std::string item(std::string_view list, std::size_t index);

/// Thickness of the wood at a point of the top: full in the rim and on lands, the skin's in a recess.
double thickness_at(const Piece& piece, const Plan& plan, Point at);

/// More parts than are computed.
void look_at_counts(const Piece& piece, FaultList& list);

/// The parts of faults_of(), in the order of the file. Each adds what it finds; the first two fill the plan.
void look_at_top(const Piece& piece, Plan& plan, FaultList& list);
void look_at_recesses(const Piece& piece, Plan& plan, FaultList& list);
void look_at_holds(const Piece& piece, const Plan& plan, FaultList& list);
void look_at_stiffeners(const Piece& piece, const Plan& plan, FaultList& list);
void look_at_ends(const Piece& piece, const Plan& plan, FaultList& list);
void look_at_supports(const Piece& piece, const Plan& plan, FaultList& list);
void look_at_loads(const Piece& piece, const Plan& plan, FaultList& list);
void look_at_collisions(const Piece& piece, const Plan& plan, FaultList& list);

/// Adds a fault where part of the line lies off the top.
void expect_on_top(const Plan& plan, Point from, Point to, const std::string& place, FaultList& list);
/// Adds a fault where the point lies off the top.
void expect_on_top(const Plan& plan, Point at, const std::string& place, FaultList& list);

} // namespace hollowtop
