// SPDX-License-Identifier: MIT
// Random piece files through the commands that compute and draw, for as long as it is given:
//     fuzz_pieces FROM SECONDS FOLDER
// Each ends in numbers or in words: no fault of the program, nothing that is no number in what is printed, and a piece that
// check takes movement and report do not refuse (a template may: a cutter does not go everywhere). Prints what it met; on a
// finding the piece stays in FOLDER.
#include "cli/command_line.hpp"
#include "materials/error.hpp"
#include "tests/properties/piece_text_for_tests.hpp"

#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <fcntl.h>
#include <fstream>
#include <iterator>
#include <regex>
#include <string>
#include <unistd.h>
#include <vector>

namespace {

using namespace hollowtop;

std::string content_of(const std::string& file) {
    std::ifstream input(file, std::ios::binary);
    return {std::istreambuf_iterator<char>(input), {}};
}

enum class End { status_0, status_1, refused, not_computed, fault };

struct Ran {
    End end = End::fault;
    std::string told;
};

/// In this process, so that the sanitizers watch, with what it prints in a file.
Ran run(const std::vector<std::string>& words, const std::string& folder) {
    const std::string out = folder + "/printed.txt";
    std::fflush(stdout);
    std::fflush(stderr);
    const int file = open(out.c_str(), O_CREAT | O_TRUNC | O_WRONLY, 0600);
    const int kept = dup(STDOUT_FILENO);
    dup2(file, STDOUT_FILENO);
    close(file);
    std::vector<const char*> argv{"hollowtop"};
    for (const std::string& word : words) argv.push_back(word.c_str());
    Ran ran;
    try {
        const cli::Status status = cli::run_command_line(static_cast<int>(argv.size()), argv.data());
        ran.end = status == cli::Status::passes        ? End::status_0
                  : status == cli::Status::fails       ? End::status_1
                  : status == cli::Status::wrong_input ? End::refused
                                                       : End::not_computed;
    } catch (const Error& error) {
        ran.end = error.kind() == ErrorKind::input ? End::refused : End::not_computed;
        for (const Fault& fault : error.faults())
            ran.told += fault.place + ": " + in_own_units(fault.what) + '\n';
        if (ran.told.find("enough digits") != std::string::npos)
            ran.end = End::fault; // of ours, not of the piece
    } catch (const std::exception& fault) {
        ran.told = std::string("thrown: ") + fault.what();
    }
    std::fflush(stdout);
    dup2(kept, STDOUT_FILENO);
    close(kept);
    static const std::regex no_number("(^|[^A-Za-z])-?(nan|inf)([^A-Za-z]|$)");
    if (std::regex_search(content_of(out), no_number)) ran = {End::fault, "printed what is no number"};
    return ran;
}

} // namespace

int main(int argc, char** argv) {
    if (argc != 4) {
        std::fputs("fuzz_pieces FROM SECONDS FOLDER\n", stderr);
        return 2;
    }
    auto seed = static_cast<std::uint32_t>(std::stoul(argv[1]));
    const auto end = std::chrono::steady_clock::now() + std::chrono::seconds(std::stoul(argv[2]));
    const std::string folder = argv[3], piece = folder + "/piece.json";
    unsigned met[5] = {};
    unsigned pieces = 0, findings = 0;
    for (; std::chrono::steady_clock::now() < end; ++seed, ++pieces) {
        const bool crowded = seed % 8 == 7;
        std::ofstream(piece, std::ios::binary) << random_piece_text(
            seed, seed % 2 == 0 ? Units::mm : Units::inch, crowded ? Crowd::many : Crowd::few);
        std::vector<std::vector<std::string>> lines{
            {"check", piece, "--mesh", "coarse", "--json", folder + "/result.json"},
            {"movement", piece},
            {"template", piece, "--out", folder + "/template.svg"},
            {"template", piece, "--dxf", folder + "/template.dxf"},
        };
        if (!crowded) {
            lines.push_back({"compare", piece, "--mesh", "coarse", "--vary", "thickness=30,40", "--csv",
                             folder + "/rows.csv"});
            if (seed % 4 == 0)
                lines.push_back({"report", piece, "--mesh", "coarse", "--out", folder + "/report.html"});
        }
        for (const auto& words : lines) {
            // where the sanitizers end the program, this is the last line told
            std::fprintf(stderr, "seed %u: %s\r", seed, words.front().c_str());
            const Ran ran = run(words, folder);
            ++met[static_cast<int>(ran.end)];
            if (ran.end == End::refused && words.front() == "check") {
                std::printf("refused %u: %s", seed, ran.told.substr(0, ran.told.find('\n') + 1).c_str());
                break; // makes no sense to the others either
            }
            if (ran.end == End::not_computed && words.front() == "check")
                std::printf("not computed %u: %s", seed, ran.told.c_str());
            if (ran.end == End::fault ||
                (ran.end == End::refused && words.front() != "compare" && words.front() != "template")) {
                ++findings;
                const std::string kept =
                    folder + "/finding_" + std::to_string(seed) + "_" + words.front() + ".json";
                std::ofstream(kept, std::ios::binary) << content_of(piece);
                std::printf("FINDING %u %s: %s\n", seed, words.front().c_str(), ran.told.c_str());
            }
            std::fflush(stdout);
        }
    }
    std::printf(
        "%u pieces; commands that ended with 0: %u, 1: %u, refused: %u, not computed: %u; findings: %u\n",
        pieces, met[0], met[1], met[2], met[3], findings);
    return findings > 0 ? 1 : 0;
}
