// SPDX-License-Identifier: MIT
#pragma once
/// \file  Small matrices of sections as plain arrays, so that no header brings in the matrix library.

#include <array>

namespace hollowtop {

using Matrix3 = std::array<double, 9>;  ///< row-major
using Matrix6 = std::array<double, 36>; ///< row-major
using Matrix8 = std::array<double, 64>; ///< row-major

/// By cofactors; of a regular matrix.
inline Matrix3 inverse3(const Matrix3& m) {
    const double c00 = m[4] * m[8] - m[5] * m[7], c01 = m[5] * m[6] - m[3] * m[8],
                 c02 = m[3] * m[7] - m[4] * m[6];
    const double det = m[0] * c00 + m[1] * c01 + m[2] * c02;
    return {c00 / det, (m[2] * m[7] - m[1] * m[8]) / det, (m[1] * m[5] - m[2] * m[4]) / det,
            c01 / det, (m[0] * m[8] - m[2] * m[6]) / det, (m[2] * m[3] - m[0] * m[5]) / det,
            c02 / det, (m[1] * m[6] - m[0] * m[7]) / det, (m[0] * m[4] - m[1] * m[3]) / det};
}

} // namespace hollowtop
