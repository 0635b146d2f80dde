// SPDX-License-Identifier: MIT
#include "cli/files/line_file.hpp"

#include "cli/words/words.hpp"
#include "materials/error.hpp"

#include <cerrno>
#include <system_error>
#include <unistd.h>

namespace hollowtop::cli {
namespace {

std::string reason_of_system() { return std::error_code(errno, std::generic_category()).message(); }

} // namespace

void LineFile::Closer::operator()(std::FILE* file) const {
    if (file != nullptr && file != stdout) std::fclose(file);
}

LineFile::LineFile(const std::string& file, std::string option, bool goes_on)
    : file_(file), option_(std::move(option)) {
    if (file == "-") {
        out_.reset(stdout);
        return;
    }
    if (goes_on) out_.reset(std::fopen(file.c_str(), "r+"));
    if (!out_) out_.reset(std::fopen(file.c_str(), "w+"));
    if (!out_)
        throw Error(ErrorKind::input,
                    Fault{option_, in_quotes(file) + " cannot be written: " + reason_of_system(),
                          "name another file"});
}

void LineFile::read(const std::function<bool(const std::string&)>& take) {
    if (out_.get() == stdout) return;
    std::rewind(out_.get());
    std::string line;
    long kept = 0;
    for (int c = std::fgetc(out_.get()); c != EOF; c = std::fgetc(out_.get())) {
        if (c != '\n') {
            line += static_cast<char>(c);
            continue;
        }
        if (!take(line)) break;
        kept += static_cast<long>(line.size()) + 1;
        ++lines_;
        line.clear();
    }
    if (::ftruncate(::fileno(out_.get()), kept) != 0 || std::fseek(out_.get(), kept, SEEK_SET) != 0)
        throw Error(ErrorKind::not_computable,
                    Fault{option_, in_quotes(file_) + " cannot be gone on with: " + reason_of_system(),
                          "name another file"});
}

void LineFile::put(const std::string& line) {
    if (std::fwrite(line.data(), 1, line.size(), out_.get()) != line.size() || std::fflush(out_.get()) != 0)
        throw Error(ErrorKind::not_computable,
                    Fault{option_, in_quotes(file_) + " takes no more: " + reason_of_system(),
                          "make room, and go on with --resume"});
    ++lines_;
}

} // namespace hollowtop::cli
