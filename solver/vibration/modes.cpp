// SPDX-License-Identifier: MIT
#include "solver/vibration/modes.hpp"

#include "materials/assert.hpp"
#include "materials/error.hpp"
#include "solver/numeric/symmetric_eigen.hpp"

#include <Eigen/Core>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <numbers>
#include <vector>

namespace hollowtop {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

/// Both relative to 1/lambda. A frequency is right to about the square of its residual: eight digits of
/// frequencies alone, ten where shapes are asked for that others are made of.
struct Sharpness {
    double stops_at, residual_limit;
    explicit Sharpness(const ModeProblem& problem)
        : stops_at(problem.sharp_shapes && problem.count > 1 ? 1e-6 : 1e-4),
          residual_limit(problem.sharp_shapes && problem.count > 1 ? 1e-5 : 1e-4) {}
};
constexpr Index block_width =
    8; ///< one sweep through the factor takes as long for fewer; more modes come with more steps
constexpr int most_steps = 40;
/// A direction of which less than this share is left once the others are taken away is rounding error.
constexpr double independent = 1e-10;
/// Below this share so many digits are gone that the rest is cleaned once more (Daniel and others 1976, from
/// memory).
constexpr double cancelled = 1e-2;

struct Pairs {
    VectorXd values;  ///< rising
    MatrixXd vectors; ///< column by column
};
Pairs eigen_of(const MatrixXd& symmetric) {
    const SymmetricEigen eigen = symmetric_eigen(
        {symmetric.data(), static_cast<std::size_t>(symmetric.size())}, static_cast<int>(symmetric.rows()));
    return {Eigen::Map<const VectorXd>(eigen.values.data(), symmetric.rows()),
            Eigen::Map<const MatrixXd>(eigen.vectors.data(), symmetric.rows(), symmetric.cols())};
}

/// The same numbers always, and along no symmetry: a linear congruential sequence (constants: Knuth, The Art
/// of Computer
/// Programming, vol. 2, section 3.3.4, from memory; any full-period pair would do).
MatrixXd starting_block(Index n, Index columns) {
    MatrixXd block(n, columns);
    std::uint64_t state = 1;
    for (Index j = 0; j < columns; ++j)
        for (Index i = 0; i < n; ++i) {
            state = state * 6364136223846793005u + 1442695040888963407u;
            block(i, j) = static_cast<double>(state >> 11) * 0x1p-53 - 0.5;
        }
    return block;
}

/// Vectors that are orthonormal in M, and M times each, side by side.
class Basis {
  public:
    explicit Basis(const ModeProblem& problem) : problem_(problem) {}

    Index size() const { return size_; }
    auto vectors(Index first, Index count) const { return vectors_.middleCols(first, count); }
    auto inertia(Index first, Index count) const { return inertia_.middleCols(first, count); }

    MatrixXd mass(const MatrixXd& x) const {
        MatrixXd result(x.rows(), x.cols());
        problem_.apply_mass(x.data(), result.data(), static_cast<int>(x.cols()));
        return result;
    }

    /// Takes away from `block`, and from `weighed` which is M times it, what lies along the basis. Returns
    /// the parts taken.
    MatrixXd project(MatrixXd& block, MatrixXd& weighed) const {
        if (size_ == 0) return MatrixXd::Zero(0, block.cols());
        MatrixXd parts = inertia(0, size_).transpose() * block;
        block.noalias() -= vectors(0, size_) * parts;
        weighed.noalias() -= inertia(0, size_) * parts;
        return parts;
    }

    /// Adds the independent directions of a block that has been projected; `whole` is the norm each column
    /// had before.
    /// Returns their number, and in `factor` what makes the block of them: block = new vectors x factor.
    Index add(MatrixXd block, MatrixXd weighed, const VectorXd& whole, MatrixXd& factor) {
        factor = MatrixXd::Identity(block.cols(), block.cols());
        for (int pass = 0; pass < 2; ++pass) { // once is right to the root of the rounding
            MatrixXd gram = block.transpose() * weighed;
            gram = 0.5 * (gram + gram.transpose()).eval();
            if (!gram.allFinite()) return 0;
            VectorXd scale = VectorXd::Ones(block.cols());
            if (pass == 0)
                for (Index j = 0; j < block.cols(); ++j) scale[j] = whole[j] > 0 ? 1 / whole[j] : 0;
            const Pairs eigen = eigen_of(scale.asDiagonal() * gram * scale.asDiagonal());
            std::vector<Index> kept;
            for (Index j = block.cols(); j-- > 0;)
                if (eigen.values[j] > (pass == 0 ? independent * independent : 0.25)) kept.push_back(j);
            if (kept.empty()) return 0;
            MatrixXd turn(block.cols(), static_cast<Index>(kept.size())),
                back(static_cast<Index>(kept.size()), block.cols());
            for (Index k = 0; k < turn.cols(); ++k) {
                const Index j = kept[static_cast<std::size_t>(k)];
                const double root = std::sqrt(eigen.values[j]);
                turn.col(k) = scale.asDiagonal() * eigen.vectors.col(j) / root;
                for (Index i = 0; i < block.cols(); ++i)
                    back(k, i) = scale[i] > 0 ? root * eigen.vectors(i, j) / scale[i] : 0;
            }
            block = (block * turn).eval();
            factor = (back * factor).eval();
            weighed = (weighed * turn).eval();
            if (pass == 0 && eigen.values[kept.back()] < cancelled * cancelled) {
                weighed = mass(block);   // afresh: the smallest directions were cancelled out of greater ones
                project(block, weighed); // and once more, for what rounding left in the first projection
            }
        }
        const Index more = block.cols();
        grow(more);
        vectors_.middleCols(size_, more) = block;
        inertia_.middleCols(size_, more) = weighed;
        size_ += more;
        return more;
    }

  private:
    void grow(Index more) {
        if (size_ + more <= vectors_.cols()) return;
        const Index room = std::max(size_ + more, 2 * vectors_.cols());
        vectors_.conservativeResize(problem_.n, room);
        inertia_.conservativeResize(problem_.n, room);
    }

    const ModeProblem& problem_;
    MatrixXd vectors_, inertia_;
    Index size_ = 0;
};

VectorXd mass_norms(const MatrixXd& block, const MatrixXd& weighed) {
    VectorXd norms(block.cols());
    for (Index j = 0; j < block.cols(); ++j)
        norms[j] = std::sqrt(std::max(0.0, block.col(j).dot(weighed.col(j))));
    return norms;
}

/// Displacements, free of the rigid motions, for forces that are balanced first: symmetric.
MatrixXd inverse(const ModeProblem& problem, const Basis& rigid, MatrixXd forces) {
    const Index m = rigid.size();
    if (m > 0) forces -= rigid.inertia(0, m) * (rigid.vectors(0, m).transpose() * forces).eval();
    problem.apply_stiffness_inverse(forces.data(), static_cast<int>(forces.cols()));
    if (m > 0) forces -= rigid.vectors(0, m) * (rigid.inertia(0, m).transpose() * forces).eval();
    return forces;
}

struct Ritz {
    MatrixXd shapes; ///< n x found
    bool sure = false;
};

/// The `count` shapes of greatest 1/lambda that block Lanczos finds.
Ritz lanczos(const ModeProblem& problem, const Basis& rigid, Index count) {
    const Index n = problem.n, width = std::min(n, block_width);
    const Sharpness sharpness(problem);
    Basis basis(problem);
    // the starting block once through K^-1 M, which removes what has no mass
    MatrixXd first = starting_block(n, width);
    if (!problem.start.empty()) {
        const Index given = std::min(width, static_cast<Index>(problem.start.size()) / n);
        constexpr double a_little = 1e-3;
        for (Index j = 0; j < given; ++j) {
            const auto column = Eigen::Map<const VectorXd>(problem.start.data() + j * n, n);
            first.col(j) = column + a_little * column.cwiseAbs().maxCoeff() * first.col(j);
        }
    }
    const MatrixXd block = inverse(problem, rigid, basis.mass(first));
    if (!block.allFinite()) return {};
    MatrixXd factor, projected, weighed = basis.mass(block);
    Index last = basis.add(block, weighed, mass_norms(block, weighed), factor), start = 0;
    Ritz ritz;
    for (int step = 0; step < most_steps && last > 0; ++step) {
        MatrixXd image = inverse(problem, rigid, basis.inertia(start, last));
        if (!image.allFinite()) return {};
        weighed = basis.mass(image);
        const VectorXd whole = mass_norms(image, weighed);
        const Index size = basis.size();
        const MatrixXd parts = basis.project(image, weighed);
        projected.conservativeResize(size, size);
        projected.rightCols(last) = parts;
        projected.bottomLeftCorner(last, size - last) = parts.topRows(size - last).transpose();
        start = size;
        const Index added = size < n ? basis.add(image, weighed, whole, factor) : 0;
        const Pairs eigen = eigen_of(0.5 * (projected + projected.transpose()));
        const Index found = std::min(count, size);
        const double greatest = eigen.values[size - 1];
        bool settled = size >= count;
        for (Index k = 0; k < found && settled && added > 0; ++k) {
            const VectorXd tail = eigen.vectors.col(size - 1 - k).tail(last);
            settled = (factor * tail).norm() <= sharpness.stops_at * eigen.values[size - 1 - k];
        }
        last = added;
        if (!settled && added > 0) continue;
        ritz.sure = settled && eigen.values[0] > -1e-8 * greatest; // a negative one: the body flies apart
        ritz.shapes = basis.vectors(0, size) * eigen.vectors.rightCols(found).rowwise().reverse();
        break;
    }
    return ritz;
}

/// The one place where N and kg meet: lambda in N/mm/kg, 1 N = 1000 kg mm/s2.
double frequency_in_Hz(double lambda) { return std::sqrt(1000.0 * lambda) / (2.0 * std::numbers::pi); }

} // namespace

Modes natural_modes(const ModeProblem& problem) {
    HOLLOWTOP_ASSERT(problem.count >= 1);
    Basis rigid(problem);
    for (const std::vector<double>& motion : problem.free_rigid_modes) {
        MatrixXd column = Eigen::Map<const VectorXd>(motion.data(), problem.n);
        MatrixXd factor, weighed = rigid.mass(column);
        const VectorXd whole = mass_norms(column, weighed);
        rigid.project(column, weighed);
        const bool is_left = mass_norms(column, weighed)[0] > 1e-8 * whole[0];
        if (!is_left || rigid.add(column, weighed, whole, factor) == 0)
            throw Error(ErrorKind::not_computable,
                        Fault{"", "the rigid motions of the top are not independent", ""});
    }

    const Ritz ritz = lanczos(problem, rigid, std::min<Index>(problem.count, problem.n));
    Modes modes;
    bool sure = ritz.sure && ritz.shapes.cols() == problem.count;
    if (ritz.shapes.cols() == 0) return modes;

    // Each shape once more through K^-1 M, its Rayleigh quotient and its own residual, by the products alone.
    MatrixXd shapes = inverse(problem, rigid, rigid.mass(ritz.shapes));
    MatrixXd weighed = rigid.mass(shapes);
    const VectorXd norms = mass_norms(shapes, weighed);
    for (Index k = 0; k < shapes.cols(); ++k) {
        shapes.col(k) /= norms[k];
        weighed.col(k) /= norms[k];
    }
    const MatrixXd images = inverse(problem, rigid, weighed);
    const MatrixXd overlap = shapes.transpose() * weighed;
    const VectorXd quotient = weighed.cwiseProduct(images).colwise().sum();
    const MatrixXd rest = images - shapes * quotient.asDiagonal();
    const VectorXd residual = mass_norms(rest, rigid.mass(rest));
    for (Index k = 0; k < shapes.cols(); ++k) {
        const double inverse_eigenvalue = quotient[k];
        const bool is_apart = (overlap.col(k).head(k).cwiseAbs().array() < 1e-6).all(); // none of them twice
        if (!(inverse_eigenvalue > 0) ||
            !(residual[k] <= Sharpness(problem).residual_limit * inverse_eigenvalue) || !is_apart) {
            sure = false;
            continue;
        }
        Index greatest = 0;
        shapes.col(k).cwiseAbs().maxCoeff(&greatest);
        const VectorXd shape = shapes(greatest, k) < 0 ? VectorXd(-shapes.col(k)) : VectorXd(shapes.col(k));
        modes.frequency_Hz.push_back(frequency_in_Hz(1 / inverse_eigenvalue));
        modes.shape.emplace_back(shape.begin(), shape.end());
    }
    modes.converged = sure;
    return modes;
}

} // namespace hollowtop
