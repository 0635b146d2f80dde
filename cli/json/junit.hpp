// SPDX-License-Identifier: MIT
#pragma once
/// \file  What was checked as a file of tests, in the XML form that JUnit made usual and build servers read: common practice,
/// no standard says it. Elements testsuites, testsuite, testcase, failure, error. No times and no date: two runs give the
/// same bytes.

#include <string>
#include <vector>

namespace hollowtop::cli {

struct TestLine {
    enum class Outcome { passed, failed, not_computed };
    std::string group, name; ///< "classname" and "name"
    Outcome outcome = Outcome::passed;
    std::string message; ///< one line; empty where passed
    std::string text{};  ///< what else there is to say
};

std::string junit_xml(const std::string& suite, const std::vector<TestLine>& lines);

} // namespace hollowtop::cli
