// SPDX-License-Identifier: MIT
// What the program leaves behind where it cannot write, and where it writes.
#include "run_for_tests.hpp"

#include <catch2/catch.hpp>

#include <sys/stat.h>
#include <unistd.h>

using Catch::Matchers::Contains;

namespace {

constexpr const char* tray = R"({"hollowtop": 1, "units": "mm",
  "top": {"length": 700, "width": 300, "thickness": 30, "wood": "black_cherry"},
  "recesses": [{"name": "well", "x": [120, 580], "y": [80, 220], "depth": 12, "corner_radius": 10}],
  "supports": [{"kind": "pad", "at": [60, 60], "size": [60, 60]}, {"kind": "pad", "at": [640, 60], "size": [60, 60]},
               {"kind": "pad", "at": [60, 240], "size": [60, 60]}, {"kind": "pad", "at": [640, 240], "size": [60, 60]}],
  "loads": [{"name": "books", "kind": "area", "pressure": "0.5 kPa", "duration": "long"}]})";

/// The program under a limit of the shell, such as "ulimit -f 1".
Ran run_under(const std::string& limit, const std::string& words) {
    return run_other({"/bin/sh", "-c", limit + "; exec " + HOLLOWTOP_PROGRAM + " " + words});
}

using Names = std::vector<std::string>;

} // namespace

TEST_CASE("a file that cannot be written leaves none of the others, and the status is 3", "[command_line]") {
    const Folder folder;
    const std::string piece = folder.put("tray.json", tray), svg = folder.path() + "/a.svg",
                      json = folder.path() + "/a.json", page = folder.path() + "/a.html";
    for (const auto& words :
         {std::vector<std::string>{"template", piece, "--svg", svg, "--dxf", "/dev/full"},
          {"report", "--quick", "--mesh", "coarse", piece, "--out", page, "--json", "/dev/full"},
          {"check", "--mesh", "coarse", piece, "--out", "/dev/full", "--json", json},
          {"check", "--mesh", "coarse", piece, "--fields", "/dev/full", "--json", json},
          {"movement", piece, "--json", "/dev/full"}}) {
        const Ran ran = run(words);
        CAPTURE(words, ran.err);
        CHECK(ran.status == 3);
        CHECK(ran.out.empty());
        CHECK_THAT(ran.err, Contains("could not be written: No space left on device"));
        CHECK(folder.names() == Names{"tray.json"});
    }
}

TEST_CASE("a file that may grow no more is an error of writing, not the end of the program",
          "[command_line]") {
    const Folder folder;
    const std::string piece = folder.put("tray.json", tray), svg = folder.path() + "/a.svg",
                      dxf = folder.path() + "/a.dxf";
    const Ran ran = run_under("ulimit -f 1", "template " + piece + " --svg " + svg + " --dxf " + dxf);
    CHECK(ran.status == 3);
    CHECK_THAT(ran.err, Contains("could not be written: File too large"));
    CHECK(folder.names() == Names{"tray.json"});
}

TEST_CASE("a link that leads to nothing yet is followed", "[command_line]") {
    const Folder folder;
    const std::string piece = folder.put("tray.json", tray), link = folder.path() + "/link.svg";
    REQUIRE(::symlink("real.svg", link.c_str()) == 0);
    CHECK(run({"template", "--quiet", piece, "--svg", link}).status == 0);
    struct stat about {};
    REQUIRE(::lstat(link.c_str(), &about) == 0);
    CHECK(S_ISLNK(about.st_mode));
    CHECK_THAT(content_of(folder.path() + "/real.svg"), Contains("<svg"));
}

TEST_CASE("one file spelled in two ways is seen as one", "[command_line]") {
    const Folder folder;
    const std::string piece = folder.put("tray.json", tray), at = folder.path();
    REQUIRE(::symlink(".", (at + "/here").c_str()) == 0);
    REQUIRE(::symlink("a.svg", (at + "/link.svg").c_str()) == 0);
    for (const std::string& other : std::vector<std::string>{
             "/./a.svg", "/here/a.svg", "/here/../" + at.substr(at.rfind('/') + 1) + "/a.svg", "/link.svg"}) {
        CAPTURE(other);
        const Ran ran = run({"template", piece, "--svg", at + "/a.svg", "--dxf", at + other});
        CHECK(ran.status == 2);
        CHECK_THAT(ran.err, Contains("--dxf: this is the file of --svg too"));
    }
    CHECK_THAT(run({"check", piece, "--json", at + "/a.svg", "--out", at + "/here/a.svg"}).err,
               Contains("--out: this is the file of --json too"));
    CHECK_THAT(run({"check", piece, "--fields", at + "/a.svg", "--out", at + "/link.svg"}).err,
               Contains("--fields: this is the file of --out too"));
    CHECK_THAT(run({"check", piece, "--json", at + "/here/tray.json"}).err,
               Contains("is the piece file itself"));
    CHECK(content_of(piece) == tray);
    CHECK(folder.names() == Names{"here", "link.svg", "tray.json"});
}

TEST_CASE("a small stack changes no answer", "[command_line]") {
    const Folder folder;
    const std::string piece = folder.put("tray.json", tray);
    const Ran whole = run({"check", "--mesh", "coarse", "--threads", "2", piece});
    CHECK(whole.status <= 1);
    const Ran ran = run_under("ulimit -s 256", "check --mesh coarse --threads 2 " + piece);
    CHECK(ran.status == whole.status);
    CHECK(ran.err == whole.err);
    CHECK(ran.out == whole.out);
}
