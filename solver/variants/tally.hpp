// SPDX-License-Identifier: MIT
#pragma once
/// \file  Variants counted and ranked as they come, none kept but those that will be shown.

#include "materials/message.hpp"
#include "solver/variants/row.hpp"

#include <cstddef>
#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <vector>

namespace hollowtop {

/// What a maker may want first.
enum class Preference { lightest, stiffest, cheapest };

struct TallyOptions {
    Preference wish = Preference::lightest;
    std::optional<double> most_kg; ///< heavier ones are not ranked
    std::size_t shown = 12;        ///< length of the list
    std::size_t dots = 4000;       ///< most points kept for the chart
};

struct RankedVariant {
    std::uint64_t variant = 0;
    StudyRow row;
};

/// Why some variants could not be made or computed.
struct Impossible {
    Message why;
    std::size_t count = 0;
    std::vector<std::uint64_t> variants; ///< the first of them
};

/// A variant as the chart shows it.
struct Dot {
    double mass_kg = 0, sag_mm = 0;
    bool passes = false;
};

class Tally {
  public:
    explicit Tally(TallyOptions options) : options_(options) {}
    /// In the order of the variants. A row that is empty is one that could not be made or computed; `why` says
    /// so.
    void add(std::uint64_t variant, const std::optional<StudyRow>& row, const Message& why = {});

    std::size_t all() const { return all_; }
    std::size_t passing() const { return passing_; }
    std::size_t impossible() const { return impossible_; }
    /// Their reasons, the most frequent first; what is beyond a hundred different ones is not kept.
    std::vector<Impossible> impossible_because() const;
    /// Those that pass (and are light enough), the best first.
    const std::vector<RankedVariant>& best() const { return best_; }
    /// Those that fail, the nearest to passing first.
    const std::vector<RankedVariant>& nearest() const { return nearest_; }
    /// Of those that pass: no other is lighter and sags less. The lightest first.
    const std::vector<RankedVariant>& pareto() const { return pareto_; }
    /// What governs how many of those that pass, and of those that fail, by the name of the check.
    const std::map<std::string, std::size_t>& governs_passing() const { return governs_passing_; }
    const std::map<std::string, std::size_t>& governs_failing() const { return governs_failing_; }
    /// Every variant, or of very many every second, fourth, ... one.
    const std::vector<Dot>& dots() const { return dots_; }
    std::size_t dot_stride() const { return stride_; }

  private:
    void rank(std::vector<RankedVariant>& list, RankedVariant one,
              bool (*before)(Preference, const StudyRow&, const StudyRow&)) const;
    void keep_dot(const StudyRow& row);
    TallyOptions options_;
    std::size_t all_ = 0, passing_ = 0, impossible_ = 0, rows_ = 0, stride_ = 1;
    std::vector<RankedVariant> best_, nearest_, pareto_;
    std::map<std::string, std::size_t> governs_passing_, governs_failing_;
    std::vector<Dot> dots_;
    std::vector<Impossible> because_;
};

} // namespace hollowtop
