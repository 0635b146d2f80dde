// SPDX-License-Identifier: MIT
#pragma once
/// \file  A place in the piece file while it is read: knows its path, its units and where faults are
/// collected.
/// A reader never stops at the first fault: it notes the fault with its place, leaves the value as it was and
/// goes on, so that three slips are told in one run.
///
///     object.only({"at", "size", "hold_down"});                      refuses every other key, with the nearest known one
///     object.length("thickness", top.thickness, required_positive);  reads one key into a variable

#include "cli/files/json_text.hpp"
#include "materials/error.hpp"
#include "solver/piece/limits.hpp"
#include "solver/piece/piece.hpp"

#include <initializer_list>
#include <limits>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace hollowtop::cli {

/// What a key must obey: whether it must be there, and between which bounds its number lies.
struct Rule {
    bool required = false;
    double least = -std::numeric_limits<double>::infinity();
    double most = std::numeric_limits<double>::infinity();
    bool above_least = false; ///< the least itself is refused too
};
inline constexpr Rule any{};
inline constexpr Rule positive{.least = 0, .above_least = true};
inline constexpr Rule not_negative{.least = 0};
inline constexpr Rule required{.required = true};
inline constexpr Rule required_positive{.required = true, .least = 0, .above_least = true};
inline constexpr Rule required_not_negative{.required = true, .least = 0};

class Cursor {
  public:
    Cursor(const JsonValue& value, std::string place, Units units, std::vector<Fault>& faults)
        : value_(&value), place_(std::move(place)), units_(units), faults_(&faults) {}

    const std::string& place() const { return place_; }
    const JsonValue& value() const { return *value_; }
    Units units() const { return units_; }
    void use_units(Units units) { units_ = units; }

    /// Notes a fault here, or at a key of this object.
    void fault(Message what, Message remedy = {}) const;
    void fault_at(std::string_view key, Message what, Message remedy = {}) const;

    // ---- of an object
    // -----------------------------------------------------------------------------------------
    /// True where this is an object; every key that is not in the list is a fault with the nearest known key.
    bool only(std::initializer_list<std::string_view> keys) const;
    bool has(std::string_view key) const;
    std::optional<Cursor> find(std::string_view key) const; ///< nothing where the key is absent
    /// Of these keys exactly one must be there: returns it, or notes a fault and returns nothing.
    std::optional<std::string_view> one_of(std::initializer_list<std::string_view> keys) const;

    // Each reads the key into `out` and returns true; where the key is absent or at fault, `out` stays as it
    // was.
    bool length(std::string_view key, double& out, Rule rule = any) const;   ///< mm
    bool force(std::string_view key, double& out, Rule rule = any) const;    ///< N
    bool pressure(std::string_view key, double& out, Rule rule = any) const; ///< MPa
    bool degrees(std::string_view key, double& out, Rule rule = any) const;
    bool percent(std::string_view key, double& out, Rule rule = any) const;
    bool hertz(std::string_view key, double& out, Rule rule = any) const;
    bool celsius(std::string_view key, double& out, Rule rule = any) const;
    bool modulus_MPa(std::string_view key, double& out, Rule rule = any) const;
    bool density_kg_m3(std::string_view key, double& out, Rule rule = any) const;
    bool number(std::string_view key, double& out, Rule rule = any) const;
    bool whole_number(std::string_view key, int& out, Rule rule = any) const;
    bool boolean(std::string_view key, bool& out) const;
    bool text(std::string_view key, std::string& out, Rule rule = any) const;
    /// The index in `words` of the word that stands there.
    bool word(std::string_view key, std::span<const std::string_view> words, std::size_t& out,
              Rule rule = any) const;
    bool point(std::string_view key, Point& out, Rule rule = any) const;
    /// [lower, upper], the lower first.
    bool range(std::string_view key, double& lower, double& upper, Rule rule = any) const;
    /// {"x": [..], "y": [..]}
    bool rectangle(std::string_view key, Rectangle& out) const;

    // ---- of a list, or of the value itself
    // ----------------------------------------------------------------------
    /// The list's values, each with its own place; a fault and none where this is no list.
    std::vector<Cursor> items() const;
    /// The same; none, and a fault, where the list has more than that.
    std::vector<Cursor> items(const MostParts& limit) const;
    std::optional<double> as_length() const;
    std::optional<double> as_degrees() const;
    std::optional<Point> as_point() const;
    std::optional<std::string> as_text() const;
    std::optional<std::size_t> as_word(std::span<const std::string_view> words) const;

    /// Runs a parser of the value's text; a fault here, and nothing, where it throws.
    template <class Parse> auto parsed(Parse parse) const -> std::optional<decltype(parse())> {
        try {
            return parse();
        } catch (const Error& error) {
            for (const Fault& found : error.faults()) fault(found.what, found.remedy);
            return std::nullopt;
        }
    }

  private:
    struct Quantity;
    std::optional<double> quantity(const Quantity& kind) const;
    bool read(std::string_view key, double& out, Rule rule, const Quantity& kind) const;
    bool in_bounds(double number, const Rule& rule) const;
    std::string place_of(std::string_view key) const;
    std::string shown() const; ///< the value as it was written, for a message
    std::optional<std::vector<double>> lengths(std::size_t count, const char* what) const;

    static const Quantity length_kind, force_kind, pressure_kind, degree_kind, percent_kind, hertz_kind,
        celsius_kind, modulus_kind, density_kind, plain_kind;

    const JsonValue* value_;
    std::string place_;
    Units units_;
    std::vector<Fault>* faults_;
};

} // namespace hollowtop::cli
