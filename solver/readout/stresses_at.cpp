// SPDX-License-Identifier: MIT
#include "solver/readout/stresses_at.hpp"

#include <algorithm>
#include <bit>
#include <utility>

namespace hollowtop {
namespace {

std::uint64_t hash_of(Point p) { // + 0.0: nought has two signs
    const std::uint64_t bits = (std::bit_cast<std::uint64_t>(p.x + 0.0) * 0x9E3779B97F4A7C15u) ^
                               std::bit_cast<std::uint64_t>(p.y + 0.0);
    return (bits * 0xD1B54A32D192ED03u) >> 20;
}

FieldsAbreast abreast(std::span<const SolvedSituation* const> situations) {
    std::vector<std::span<const double>> fields;
    fields.reserve(situations.size());
    for (const SolvedSituation* s : situations) fields.emplace_back(s->dofs);
    return FieldsAbreast(fields);
}

std::vector<double> creep_factors_of(std::span<const SolvedSituation* const> situations) {
    std::vector<double> creep_factors;
    for (const SolvedSituation* s : situations) creep_factors.push_back(s->plan.creep_factor);
    return creep_factors;
}

void reduce(StressSample& sample, double creep_factor) {
    if (creep_factor == 1) return;
    for (double& v : sample.top) v /= creep_factor;
    for (double& v : sample.bottom) v /= creep_factor;
    for (double& v : sample.shear) v /= creep_factor;
}

std::vector<std::vector<StressSample>> at_creep(std::vector<std::vector<StressSample>> rows,
                                                std::span<const double> creep_factors) {
    for (size_t s = 0; s < rows.size(); ++s)
        for (StressSample& sample : rows[s]) reduce(sample, creep_factors[s]);
    return rows;
}

} // namespace

size_t bytes_of_parts(const StrainMean& mean) {
    size_t bytes = mean.parts.capacity() * sizeof(StrainMean::Part);
    for (const StrainMean::Part& part : mean.parts) bytes += part.nodes.capacity() * sizeof(double);
    return bytes;
}

StressSample stress_in(const Shell& shell, const SolvedSituation& situation, const StrainMean& mean) {
    StressSample sample = stress_of(shell, mean, situation.dofs);
    reduce(sample, situation.plan.creep_factor);
    return sample;
}

std::vector<std::vector<StressSample>> stresses_in(const Shell& shell,
                                                   std::span<const SolvedSituation* const> situations,
                                                   std::span<const StrainMean> means) {
    return at_creep(stresses_of(shell, means, abreast(situations)), creep_factors_of(situations));
}

MeansAt::MeansAt() : slots_(1024) {}

MeansAt::Slot& MeansAt::slot_of(Point point) {
    const size_t mask = slots_.size() - 1;
    for (size_t i = hash_of(point) & mask;; i = (i + 1) & mask)
        if (slots_[i].number == empty || slots_[i].at == point) return slots_[i];
}

size_t MeansAt::number_of(const Shell& shell, Point point) {
    Slot* slot = &slot_of(point);
    if (slot->number == empty) {
        if (2 * ++asked_ > slots_.size()) {
            const std::vector<Slot> before = std::exchange(slots_, std::vector<Slot>(2 * slots_.size()));
            for (const Slot& one : before)
                if (one.number != empty) slot_of(one.at) = one;
            slot = &slot_of(point);
        }
        const bool on_top = region_at(shell.field, point) != outside;
        *slot = {.at = point, .number = on_top ? static_cast<std::uint32_t>(means_.size()) : off};
        if (on_top) means_.emplace_back();
    }
    return slot->number == off ? off_the_top : slot->number;
}

const StrainMean& MeansAt::mean(const Shell& shell, Point point, size_t number) {
    std::optional<StrainMean>& mean = means_[number];
    if (!mean) {
        mean = strain_mean(shell, point);
        in_parts_ += bytes_of_parts(*mean);
    }
    return *mean;
}

StressesAt::StressesAt(std::shared_ptr<const Model> model, std::span<const SolvedSituation* const> situations,
                       std::shared_ptr<MeansAt> means)
    : model_(std::move(model)), means_(std::move(means)), fields_(abreast(situations)),
      creep_factor_(creep_factors_of(situations)) {}

const StressSample* StressesAt::at(Point point, size_t situation) {
    const size_t number = means_->number_of(model_->shell, point),
                 group = situation / FieldsAbreast::group_size;
    if (number == MeansAt::off_the_top) return nullptr;
    const size_t key = number * fields_.n_groups() + group;
    if (key >= place_.size()) place_.resize(means_->size() * fields_.n_groups(), 0);
    if (place_[key] == 0) {
        if (n_samples_ % chunk == 0) samples_.push_back(std::make_unique_for_overwrite<Samples[]>(chunk));
        const std::span<StressSample> fresh{samples_.back()[n_samples_ % chunk].data(),
                                            fields_.size_of(group)};
        fields_.stresses(model_->shell, means_->mean(model_->shell, point, number), group, fresh);
        for (size_t lane = 0; lane < fresh.size(); ++lane)
            reduce(fresh[lane], creep_factor_[group * FieldsAbreast::group_size + lane]);
        place_[key] = static_cast<std::uint32_t>(++n_samples_);
    }
    const size_t place = place_[key] - 1;
    return &samples_[place / chunk][place % chunk][situation % FieldsAbreast::group_size];
}

std::vector<std::vector<StressSample>> StressesAt::at_all(std::span<const StrainMean> means) const {
    return at_creep(stresses_of(model_->shell, means, fields_), creep_factor_);
}

} // namespace hollowtop
