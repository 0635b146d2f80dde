// SPDX-License-Identifier: MIT
#pragma once
/// \file  Where on the top a number made of the stresses is greatest.

#include "solver/result/response.hpp"

#include <cstddef>
#include <functional>
#include <span>

namespace hollowtop {

/// A number made of the stresses at one place, from any function of a sample.
class StressMetric {
  public:
    template <class Function>
    StressMetric(Function of) // NOLINT(google-explicit-constructor): a lambda is one
        : of_(of), of_all_([of](std::span<const StressSample> samples, std::span<double> values) {
              for (std::size_t i = 0; i < samples.size(); ++i) values[i] = of(samples[i]);
          }) {}
    double operator()(const StressSample& sample) const { return of_(sample); }
    /// Of each sample.
    void operator()(std::span<const StressSample> samples, std::span<double> values) const {
        of_all_(samples, values);
    }

  private:
    std::function<double(const StressSample&)> of_;
    std::function<void(std::span<const StressSample>, std::span<double>)> of_all_;
};

/// Where a metric of the stress is greatest: the best of the survey, then refined by a pattern search to
/// about a millimetre.
/// A value that is not finite is given back at once. Throws Error(not_computable) where the survey is empty.
struct Worst {
    double value = 0;
    StressSample sample;
};
Worst worst_of(const StressField& field, const StressMetric& metric);

} // namespace hollowtop
