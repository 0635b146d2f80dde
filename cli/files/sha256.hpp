// SPDX-License-Identifier: MIT
#pragma once
/// \file  A fingerprint of a file: SHA-256 (FIPS 180-4, Secure Hash Standard, 2015, section 6.2), in
/// lower-case hexadecimal.
/// Whoever holds the piece file can make the same with sha256sum and so tell which file a report was made
/// from.

#include <string>
#include <string_view>

namespace hollowtop::cli {

/// 64 digits.
std::string sha256(std::string_view bytes);

} // namespace hollowtop::cli
