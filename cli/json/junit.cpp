// SPDX-License-Identifier: MIT
#include "cli/json/junit.hpp"

#include "cli/words/markup.hpp"

#include <algorithm>

namespace hollowtop::cli {
namespace {

std::string attribute(const char* name, const std::string& value) {
    return std::string(" ") + name + "=\"" + escaped_on_one_line(value) + '"';
}

std::string counts(const std::vector<TestLine>& lines) {
    const auto count = [&](TestLine::Outcome outcome) {
        return std::to_string(std::count_if(lines.begin(), lines.end(),
                                            [&](const TestLine& line) { return line.outcome == outcome; }));
    };
    return attribute("tests", std::to_string(lines.size())) +
           attribute("failures", count(TestLine::Outcome::failed)) +
           attribute("errors", count(TestLine::Outcome::not_computed)) + attribute("skipped", "0");
}

} // namespace

std::string junit_xml(const std::string& suite, const std::vector<TestLine>& lines) {
    std::string xml = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<testsuites" + attribute("name", suite) +
                      counts(lines) + ">\n  <testsuite" + attribute("name", suite) + counts(lines) + ">\n";
    for (const TestLine& line : lines) {
        xml += "    <testcase" + attribute("classname", line.group) + attribute("name", line.name);
        if (line.outcome == TestLine::Outcome::passed) {
            xml += "/>\n";
            continue;
        }
        const std::string element = line.outcome == TestLine::Outcome::failed ? "failure" : "error";
        xml += ">\n      <" + element + attribute("message", line.message) +
               attribute("type", line.outcome == TestLine::Outcome::failed ? "limit" : "not computed") + ">" +
               escaped(line.text) + "</" + element + ">\n    </testcase>\n";
    }
    return xml + "  </testsuite>\n</testsuites>\n";
}

} // namespace hollowtop::cli
