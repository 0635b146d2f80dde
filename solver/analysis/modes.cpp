// SPDX-License-Identifier: MIT
#include "solver/analysis/modes.hpp"

#include "materials/assert.hpp"
#include "materials/error.hpp"

#include <Eigen/Core>
#include <Spectra/SymGEigsShiftSolver.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <numbers>
#include <stdexcept>

namespace hollowtop {

namespace {

using Eigen::VectorXd;

/// How sharply a search looks: both relative to 1/lambda.
struct Sharpness {
    double tolerance; ///< where the search stops
    double
        residual_limit; ///< what a mode must satisfy; its frequency is then right to about the square of it
};
constexpr Sharpness sharp{1e-10, 1e-7};
constexpr Sharpness blunt{1e-3, 1e-2}; ///< enough to tell that nothing lower is left
constexpr int restart_limit = 300;
/// A search that finds less than this share of the first 1/lambda has found rounding errors.
constexpr double nothing_left = 1e-12;

struct Mode {
    double inverse_eigenvalue = 0;
    VectorXd shape; ///< x'Mx = 1
    bool is_solution = false;
};

/// The two products, the first kept free of the motions that are taken out.
class Operators {
  public:
    explicit Operators(const ModeProblem& problem) : problem_(problem) {}

    int n() const { return problem_.n; }

    /// Spectra asks for the same product two or three times in a row: the last is remembered.
    const VectorXd& mass(const VectorXd& x) const {
        if (last_in_.size() == x.size() && std::equal(x.begin(), x.end(), last_in_.begin()))
            return last_mass_;
        last_in_ = x;
        last_mass_.resize(n());
        problem_.apply_mass(x.data(), last_mass_.data());
        return last_mass_;
    }

    double mass_norm(const VectorXd& x) const { return std::sqrt(std::max(0.0, x.dot(mass(x)))); }

    /// Takes a motion out from now on. Its part along those taken out before is removed first; false if little is left.
    bool take_out(VectorXd motion) {
        const double whole = mass_norm(motion);
        for (int pass = 0; pass < 2; ++pass) // the second pass removes what rounding left in the first
            for (std::size_t k = 0; k < out_.size(); ++k) motion -= out_[k] * mass_out_[k].dot(motion);
        const double norm = mass_norm(motion);
        if (!(norm > 1e-8 * whole)) return false;
        motion /= norm;
        mass_out_.push_back(mass(motion));
        out_.push_back(std::move(motion));
        return true;
    }

    /// Forces are balanced against the motions taken out, the displacements are made M-orthogonal to them: symmetric.
    VectorXd inverse(VectorXd f) const {
        for (std::size_t k = 0; k < out_.size(); ++k) f -= mass_out_[k] * out_[k].dot(f);
        VectorXd u(n());
        problem_.apply_stiffness_inverse(f.data(), u.data());
        for (std::size_t k = 0; k < out_.size(); ++k) u -= out_[k] * mass_out_[k].dot(u);
        return u;
    }

  private:
    const ModeProblem& problem_;
    std::vector<VectorXd> out_, mass_out_; ///< M-orthonormal, and M times each
    mutable VectorXd last_in_, last_mass_;
};

/// What Spectra asks of K^-1; `scale` brings the greatest 1/lambda near one, where its tolerance is a relative one.
struct InverseOperator {
    using Scalar = double;
    const Operators& operators;
    double scale;

    Eigen::Index rows() const { return operators.n(); }
    Eigen::Index cols() const { return operators.n(); }
    void set_shift(double) {}
    void perform_op(const double* in, double* out) const {
        Eigen::Map<VectorXd>(out, rows()) = operators.inverse(Eigen::Map<const VectorXd>(in, rows())) / scale;
    }
};

struct MassOperator {
    using Scalar = double;
    const Operators& operators;

    Eigen::Index rows() const { return operators.n(); }
    Eigen::Index cols() const { return operators.n(); }
    void perform_op(const double* in, double* out) const {
        Eigen::Map<VectorXd>(out, rows()) = operators.mass(Eigen::Map<const VectorXd>(in, rows()));
    }
};

/// Always the same, and along no symmetry: a linear congruential sequence (constants: Knuth, The Art of Computer
/// Programming, vol. 2, section 3.3.4, from memory; any full-period pair would do).
VectorXd starting_vector(int n) {
    VectorXd x(n);
    std::uint64_t state = 1;
    for (double& value : x) {
        state = state * 6364136223846793005u + 1442695040888963407u;
        value = static_cast<double>(state >> 11) * 0x1p-53 - 0.5;
    }
    return x;
}

/// The eigenvector once more through K^-1 M (which removes what has no mass), its Rayleigh quotient and its residual.
Mode polished(const Operators& operators, const VectorXd& ritz, double residual_limit) {
    Mode mode;
    mode.shape = operators.inverse(operators.mass(ritz));
    mode.shape /= operators.mass_norm(mode.shape);
    const VectorXd image = operators.inverse(operators.mass(mode.shape));
    mode.inverse_eigenvalue = mode.shape.dot(operators.mass(image));
    const double residual = operators.mass_norm(image - mode.inverse_eigenvalue * mode.shape);
    mode.is_solution = mode.inverse_eigenvalue > 0 && residual <= residual_limit * mode.inverse_eigenvalue;
    return mode;
}

struct Search {
    std::vector<Mode> modes; ///< those that converged
    bool complete = false;   ///< as many as were asked for
};

/// Are all of them solutions, and none of them twice?
bool are_sound(const Operators& operators, const std::vector<Mode>& modes) {
    for (std::size_t i = 0; i < modes.size(); ++i) {
        if (!modes[i].is_solution) return false;
        const VectorXd inertia = operators.mass(modes[i].shape);
        for (std::size_t j = 0; j < i; ++j)
            if (!(std::abs(inertia.dot(modes[j].shape)) < 1e-6)) return false;
    }
    return true;
}

Search search_once(const Operators& operators, int count, const Sharpness& sharpness, int basis, double scale,
                   const VectorXd& start) {
    Search result;
    InverseOperator inverse{operators, scale};
    MassOperator mass{operators};
    using Solver =
        Spectra::SymGEigsShiftSolver<InverseOperator, MassOperator, Spectra::GEigsMode::ShiftInvert>;
    try {
        Solver solver(inverse, mass, count, basis, 0.0);
        solver.init(start.data());
        solver.compute(Spectra::SortRule::LargestMagn, restart_limit, sharpness.tolerance,
                       Spectra::SortRule::SmallestAlge);
        const Eigen::MatrixXd vectors = solver.eigenvectors();
        for (Eigen::Index k = 0; k < vectors.cols(); ++k)
            result.modes.push_back(polished(operators, vectors.col(k), sharpness.residual_limit));
        result.complete =
            solver.info() == Spectra::CompInfo::Successful && are_sound(operators, result.modes);
    } catch (
        const std::
            logic_error&) { // a step broke down: an outcome of the search, not a fault; the caller sees it
        result.complete = false;
    } catch (const std::runtime_error&) {
        result.complete = false;
    }
    return result;
}

/// The `count` greatest 1/lambda of what has not been taken out; none greater than `floor` is an answer too.
Search search(const Operators& operators, int count, const Sharpness& sharpness, double floor) {
    Search result;
    VectorXd start = operators.inverse(operators.mass(starting_vector(operators.n())));
    const double before = operators.mass_norm(start);
    start = operators.inverse(operators.mass(start));
    const double scale = operators.mass_norm(start) / before; // an average of the greatest 1/lambda
    if (!(before > 0) || !std::isfinite(scale) || !(scale > floor)) {
        result.complete = before == 0 || scale <= floor;
        return result;
    }
    // The search space must not be wider than there are independent motions with mass, which only trying tells.
    int basis = std::min(operators.n(), std::max(2 * count + 4, 8));
    while (true) {
        result = search_once(operators, count, sharpness, basis, scale, start);
        if (result.complete || basis <= count + 1) return result;
        basis = std::max(basis / 2, count + 1);
    }
}

/// The one place where N and kg meet: lambda in N/mm/kg, 1 N = 1000 kg mm/s2.
double frequency_in_Hz(double lambda) { return std::sqrt(1000.0 * lambda) / (2.0 * std::numbers::pi); }

void sort_modes(std::vector<Mode>& modes) {
    std::stable_sort(modes.begin(), modes.end(), [](const Mode& a, const Mode& b) {
        return a.inverse_eigenvalue > b.inverse_eigenvalue;
    });
}

} // namespace

Modes natural_modes(const ModeProblem& problem) {
    HOLLOWTOP_ASSERT(problem.count >= 1);
    Operators operators(problem);
    for (const std::vector<double>& motion : problem.free_rigid_modes)
        if (!operators.take_out(Eigen::Map<const VectorXd>(motion.data(), problem.n)))
            throw Error(ErrorKind::not_computable,
                        Fault{"", "the rigid motions of the top are not independent", ""});

    const int wanted = std::min(problem.count, problem.n - 1); // Spectra finds at most all but one
    std::vector<Mode> found;
    bool sure = wanted == problem.count;
    if (wanted >= 1) {
        Search first = search(operators, wanted, sharp, 0);
        sure = sure && first.complete;
        found = std::move(first.modes);
    }
    sort_modes(found);

    // Look again without what was found, until nothing lower is left: frequencies that occur more than once.
    for (const Mode& mode : found) sure = operators.take_out(mode.shape) && sure;
    while (sure && !found.empty()) {
        const double floor = nothing_left * found.front().inverse_eigenvalue;
        const double highest_kept = found[static_cast<std::size_t>(wanted) - 1].inverse_eigenvalue;
        Search again = search(operators, 1, blunt, floor);
        sure = again.complete;
        if (!sure || again.modes.empty()) break;
        if (again.modes.front().inverse_eigenvalue * (1 + blunt.residual_limit) < highest_kept) break;
        again = search(operators, 1, sharp, floor);
        sure = again.complete && !again.modes.empty();
        if (!sure) break;
        Mode& mode = again.modes.front();
        if (mode.inverse_eigenvalue <= highest_kept * (1 + 10 * sharp.tolerance)) break;
        sure = operators.take_out(mode.shape);
        found.push_back(std::move(mode));
        sort_modes(found);
    }
    if (found.size() > static_cast<std::size_t>(std::max(wanted, 0)))
        found.resize(static_cast<std::size_t>(wanted));

    Modes modes;
    for (const Mode& mode : found) {
        if (!mode.is_solution) {
            sure = false;
            continue;
        }
        Eigen::Index greatest = 0;
        mode.shape.cwiseAbs().maxCoeff(&greatest);
        const VectorXd shape = mode.shape[greatest] < 0 ? VectorXd(-mode.shape) : mode.shape;
        modes.frequency_Hz.push_back(frequency_in_Hz(1 / mode.inverse_eigenvalue));
        modes.shape.emplace_back(shape.begin(), shape.end());
    }
    modes.converged = sure && static_cast<int>(modes.frequency_Hz.size()) == problem.count;
    return modes;
}

} // namespace hollowtop
