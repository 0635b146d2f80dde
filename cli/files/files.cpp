// SPDX-License-Identifier: MIT
#include "cli/files/files.hpp"

#include "cli/words/messages.hpp"

#include <cerrno>
#include <cstring>
#include <fcntl.h>
#include <filesystem>
#include <memory>
#include <string>
#include <system_error>
#include <unistd.h>

namespace hollowtop::cli {
namespace {

namespace fs = std::filesystem;

[[noreturn]] void refuse(const std::string& file, const std::string& place, std::string what,
                         std::string remedy) {
    throw error_in(file, {.place = place, .what = std::move(what), .remedy = std::move(remedy)});
}

std::string reason(int number) { return std::error_code(number, std::generic_category()).message(); }

/// An open file that closes itself.
class Descriptor {
  public:
    Descriptor(const fs::path& path, int flags) : number_(::open(path.c_str(), flags | O_CLOEXEC, 0666)) {}
    Descriptor(const Descriptor&) = delete;
    Descriptor& operator=(const Descriptor&) = delete;
    ~Descriptor() { close(); }
    int number() const { return number_; }
    bool is_open() const { return number_ >= 0; }
    bool close() {
        const int number = number_;
        number_ = -1;
        return number < 0 || ::close(number) == 0;
    }

  private:
    int number_;
};

bool write_all(int number, const std::string& content) {
    std::size_t done = 0;
    while (done < content.size()) {
        const auto written = ::write(number, content.data() + done, content.size() - done);
        if (written < 0 && errno == EINTR) continue;
        if (written < 0) return false;
        done += static_cast<std::size_t>(written);
    }
    return true;
}

/// What is really written to: the file behind a symbolic link.
fs::path target_of(const std::string& file) {
    std::error_code error;
    const fs::path real = fs::canonical(file, error);
    return error ? fs::path(file) : real;
}

fs::path temporary_beside(const fs::path& target) {
    return target.parent_path() /
           ("." + target.filename().string() + "." + std::to_string(::getpid()) + ".part");
}

bool is_special(const fs::path& target) {
    std::error_code error;
    const auto status = fs::status(target, error);
    return !error && fs::exists(status) && !fs::is_regular_file(status) && !fs::is_directory(status);
}

} // namespace

namespace {

/// All that comes from an open file. `file` names it in messages.
std::string read_all(int number, const std::string& file) {
    std::string content;
    constexpr std::size_t at_a_time = 65536;
    for (;;) {
        const std::size_t before = content.size();
        content.resize(before + at_a_time);
        const auto got = ::read(number, content.data() + before, at_a_time);
        content.resize(before + (got > 0 ? static_cast<std::size_t>(got) : 0));
        if (got < 0 && errno == EINTR) continue;
        if (got < 0) refuse(file, "", "the file cannot be read: " + reason(errno), "check who may read it");
        if (got == 0) return content;
        if (content.size() > largest_file)
            refuse(file, "", "the file is larger than 10 MB", "a piece file has a few thousand characters");
    }
}

} // namespace

std::string read_file(const std::string& file) {
    if (file == standard_input) {
        static const std::string typed = read_all(STDIN_FILENO, "standard input"); // it can be read but once
        return typed;
    }
    std::error_code error;
    const auto status = fs::status(file, error);
    if (!fs::exists(status)) refuse(file, "", "there is no such file", "check the name and the folder");
    if (fs::is_directory(status)) refuse(file, "", "this is a folder", "name a file in it");
    const Descriptor input(file, O_RDONLY);
    if (!input.is_open())
        refuse(file, "", "the file cannot be read: " + reason(errno), "check who may read it");
    return read_all(input.number(), file);
}

void ensure_writable(const std::string& file, const std::string& option) {
    const fs::path target = target_of(file);
    std::error_code error;
    if (file.empty()) refuse("", option, "the name of the file is empty", "name a file");
    if (fs::is_directory(target, error)) refuse(file, option, "this is a folder", "name a file in it");
    if (is_special(target)) {
        if (::access(target.c_str(), W_OK) != 0)
            refuse(file, option, "cannot be written: " + reason(errno), "name another file");
        return;
    }
    if (fs::exists(target, error) && ::access(target.c_str(), W_OK) != 0)
        refuse(file, option, "cannot be written: " + reason(errno), "name another file");
    const fs::path trial = temporary_beside(target);
    Descriptor output(trial, O_WRONLY | O_CREAT | O_EXCL);
    if (!output.is_open())
        refuse(file, option, "cannot be written: " + reason(errno),
               "name a file in a folder that you may write to");
    ::unlink(trial.c_str());
}

void write_file(const std::string& file, const std::string& option, const std::string& content) {
    const fs::path target = target_of(file);
    const auto fail = [&](int number) {
        refuse(file, option, "could not be written: " + reason(number), "the file is as it was before");
    };
    if (is_special(target)) {
        Descriptor output(target, O_WRONLY);
        if (!output.is_open() || !write_all(output.number(), content) || !output.close()) fail(errno);
        return;
    }
    const fs::path part = temporary_beside(target);
    Descriptor output(part, O_WRONLY | O_CREAT | O_EXCL);
    if (!output.is_open()) fail(errno);
    if (!write_all(output.number(), content) || ::fsync(output.number()) != 0 || !output.close()) {
        const int number = errno;
        ::unlink(part.c_str());
        fail(number);
    }
    std::error_code error;
    fs::rename(part, target, error);
    if (error) {
        ::unlink(part.c_str());
        fail(error.value());
    }
}

bool is_same_file(const std::string& one, const std::string& other) {
    std::error_code error;
    return fs::equivalent(one, other, error) && !error;
}

} // namespace hollowtop::cli
