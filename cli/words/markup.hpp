// SPDX-License-Identifier: MIT
#pragma once
/// \file  Text inside markup: the one way from words that somebody wrote to XML and HTML.

#include <string>
#include <string_view>

namespace hollowtop::cli {

/// The text for the inside of an element or an attribute, whatever bytes it is made of: what is no character of XML 1.0
/// (2.2), and every byte that is not UTF-8, becomes U+FFFD.
std::string escaped(std::string_view text);

/// The same with line feeds and tabulators written out: in an attribute they would be read as blanks (XML 1.0, 3.3.3).
std::string escaped_on_one_line(std::string_view text);

} // namespace hollowtop::cli
