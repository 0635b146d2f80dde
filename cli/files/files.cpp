// SPDX-License-Identifier: MIT
#include "cli/files/files.hpp"

#include "cli/words/messages.hpp"

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <fcntl.h>
#include <filesystem>
#include <memory>
#include <string>
#include <system_error>
#include <unistd.h>
#include <utility>
#include <vector>

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

/// What is really written to: the file behind a symbolic link, there already or not.
fs::path target_of(const std::string& file) {
    std::error_code error;
    fs::path target = file;
    constexpr int most_links = 40; // as the system follows
    for (int links = 0; links < most_links && fs::is_symlink(fs::symlink_status(target, error)); ++links) {
        const fs::path to = fs::read_symlink(target, error);
        if (error) break;
        target = to.is_absolute() ? to : target.parent_path() / to;
    }
    const fs::path real = fs::canonical(target, error);
    if (!error) return real;
    const fs::path folder =
        fs::canonical(target.parent_path().empty() ? fs::path(".") : target.parent_path(), error);
    return error ? target : folder / target.filename();
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

namespace {

[[noreturn]] void fail(const Output& output, int number, std::string remedy) {
    Error error(ErrorKind::not_computable, {.place = output.option,
                                            .what = "could not be written: " + reason(number),
                                            .remedy = std::move(remedy)});
    error.file = output.file;
    throw error;
}

/// Files that wait to be renamed; what still waits in the end is taken away.
class Waiting {
  public:
    Waiting() = default;
    Waiting(const Waiting&) = delete;
    Waiting& operator=(const Waiting&) = delete;
    ~Waiting() {
        for (const Part& part : parts_) ::unlink(part.part.c_str());
    }
    void add(const Output& output, const fs::path& target) {
        parts_.push_back({&output, temporary_beside(target), target});
        const fs::path& part = parts_.back().part;
        Descriptor file(part, O_WRONLY | O_CREAT | O_EXCL);
        if (!file.is_open() || !write_all(file.number(), output.content) || ::fsync(file.number()) != 0 ||
            !file.close())
            fail(output, errno, unchanged);
    }
    void rename() {
        std::vector<fs::path> made; // that were not there before
        while (!parts_.empty()) {
            const Part part = parts_.back();
            std::error_code error;
            const bool is_new = !fs::exists(part.target, error);
            if (is_new) made.push_back(part.target);
            fs::rename(part.part, part.target, error);
            if (error) {
                for (const fs::path& one : made) ::unlink(one.c_str());
                fail(*part.output, error.value(), unchanged);
            }
            parts_.pop_back();
        }
    }

  private:
    static constexpr const char* unchanged = "the file is as it was before";
    struct Part {
        const Output* output;
        fs::path part, target;
    };
    std::vector<Part> parts_;
};

} // namespace

void write_files(const std::vector<Output>& outputs) {
    std::vector<std::pair<const Output*, fs::path>> special;
    Waiting waiting;
    for (const Output& output : outputs) {
        if (output.file == "-") continue;
        const fs::path target = target_of(output.file);
        if (is_special(target))
            special.emplace_back(&output, target);
        else
            waiting.add(output, target);
    }
    for (const auto& [output, target] : special) {
        Descriptor file(target, O_WRONLY);
        if (!file.is_open() || !write_all(file.number(), output->content) || !file.close())
            fail(*output, errno, "no file was written");
    }
    for (const Output& output : outputs)
        if (output.file == "-") print(output.content);
    waiting.rename();
}

void write_file(const std::string& file, const std::string& option, const std::string& content) {
    write_files({{.file = file, .option = option, .content = content}});
}

void print(const std::string& text) {
    const bool written =
        std::fwrite(text.data(), 1, text.size(), stdout) == text.size() && std::fflush(stdout) == 0;
    if (!written)
        throw Error(ErrorKind::not_computable,
                    Fault{"standard output", "could not be written: " + reason(errno), ""});
}

bool is_same_file(const std::string& one, const std::string& other) {
    std::error_code error;
    if (one == standard_input || other == standard_input) return false;
    return (fs::equivalent(one, other, error) && !error) || target_of(one) == target_of(other);
}

} // namespace hollowtop::cli
