// SPDX-License-Identifier: MIT
// Every command that the guide shows is run here, and what it prints is compared with what the guide shows.
//
//   ```json NAME.json     the block becomes a file of that name, in one fresh folder a document
//   ```console            `$ command` and below it what it prints (both streams), until the next command
//
// HOLLOWTOP_UPDATE_DOCS=1 in the environment writes what is printed into the document instead: look at the
// difference before you keep it.

#include <catch2/catch.hpp>

#include <algorithm>
#include <array>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <unistd.h>
#include <vector>

namespace fs = std::filesystem;

namespace {

using Lines = std::vector<std::string>;

Lines lines_of(const fs::path& file) {
    std::ifstream in(file);
    REQUIRE(in);
    Lines lines;
    for (std::string line; std::getline(in, line);) lines.push_back(line);
    return lines;
}

void write_lines(const fs::path& file, const Lines& lines) {
    std::ofstream out(file);
    for (const std::string& line : lines) out << line << '\n';
    REQUIRE(out);
}

/// A folder that goes away with its holder.
struct FreshFolder {
    fs::path path;
    FreshFolder() {
        std::string name = (fs::temp_directory_path() / "hollowtop_docs_XXXXXX").string();
        REQUIRE(mkdtemp(name.data()) != nullptr);
        path = name;
    }
    ~FreshFolder() {
        std::error_code ignored;
        fs::remove_all(path, ignored);
    }
    FreshFolder(const FreshFolder&) = delete;
    FreshFolder& operator=(const FreshFolder&) = delete;
};

/// What a command prints, run in `folder` with the program under test first on the path.
Lines printed_by(const std::string& command, const fs::path& folder) {
    const fs::path script = folder / ".command", output = folder / ".output";
    write_lines(script, {"cd '" + folder.string() + "'",
                         "PATH='" + fs::path(HOLLOWTOP_PROGRAM).parent_path().string() + "':$PATH", command});
    const int status = std::system(("sh '" + script.string() + "' >'" + output.string() + "' 2>&1").c_str());
    REQUIRE(status != -1);
    return lines_of(output);
}

/// The document as it should read: its own lines, with the printed ones in place of those below each command.
struct Run {
    Lines lines;
    int n_commands = 0;
};

Run run_document(const Lines& lines) {
    const FreshFolder folder;
    Run run;
    for (std::size_t i = 0; i < lines.size(); ++i) {
        run.lines.push_back(lines[i]);
        if (lines[i].rfind("```", 0) != 0 || lines[i] == "```") continue;
        const auto end = std::find(lines.begin() + static_cast<std::ptrdiff_t>(i) + 1, lines.end(), "```");
        REQUIRE(end != lines.end());
        const Lines block(lines.begin() + static_cast<std::ptrdiff_t>(i) + 1, end);
        if (lines[i] == "```console") {
            REQUIRE(!block.empty());
            REQUIRE(block.front().rfind("$ ", 0) == 0);
            for (const std::string& line : block) {
                if (line.rfind("$ ", 0) != 0) continue;
                run.lines.push_back(line);
                ++run.n_commands;
                const Lines printed = printed_by(line.substr(2), folder.path);
                run.lines.insert(run.lines.end(), printed.begin(), printed.end());
            }
        } else {
            if (lines[i].rfind("```json ", 0) == 0) write_lines(folder.path / lines[i].substr(8), block);
            run.lines.insert(run.lines.end(), block.begin(), block.end());
        }
        i += block.size();
    }
    return run;
}

} // namespace

TEST_CASE("every command that the guide shows prints what the guide shows", "[docs][slow]") {
    const bool update = std::getenv("HOLLOWTOP_UPDATE_DOCS") != nullptr;
    std::vector<fs::path> documents;
    for (const auto& entry : fs::directory_iterator(fs::path(HOLLOWTOP_SOURCE_DIR) / "docs" / "guide"))
        if (entry.path().extension() == ".md") documents.push_back(entry.path());
    std::sort(documents.begin(), documents.end());
    REQUIRE_FALSE(documents.empty());
    int n_commands = 0;
    for (const fs::path& document : documents) {
        INFO(document.filename().string());
        const Lines shown = lines_of(document);
        const Run run = run_document(shown);
        n_commands += run.n_commands;
        if (update) write_lines(document, run.lines);
        const auto [at, printed] =
            std::mismatch(shown.begin(), shown.end(), run.lines.begin(), run.lines.end());
        const bool same = at == shown.end() && printed == run.lines.end();
        INFO("line " << at - shown.begin() + 1 << "\nshown:   " << (at == shown.end() ? "(end)" : *at)
                     << "\nprinted: " << (printed == run.lines.end() ? "(end)" : *printed));
        CHECK((same || update));
    }
    CHECK(n_commands > 0);
}

TEST_CASE("a guide that shows what is not printed is seen", "[docs]") {
    const Run run =
        run_document({"text", "```console", "$ echo one; echo two >&2", "three", "$ false", "```", "end"});
    CHECK(run.n_commands == 2);
    CHECK(run.lines ==
          Lines{"text", "```console", "$ echo one; echo two >&2", "one", "two", "$ false", "```", "end"});
    const Run file = run_document({"```json a.json", "{}", "```", "```console", "$ cat a.json", "```"});
    CHECK(file.lines == Lines{"```json a.json", "{}", "```", "```console", "$ cat a.json", "{}", "```"});
}
