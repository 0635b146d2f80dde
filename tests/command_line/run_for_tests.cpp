// SPDX-License-Identifier: MIT
#include "run_for_tests.hpp"

#include <algorithm>
#include <array>
#include <cerrno>
#include <cstdlib>
#include <fcntl.h>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <poll.h>
#include <pty.h>
#include <stdexcept>
#include <sys/wait.h>
#include <unistd.h>

namespace {

[[noreturn]] void become(const std::vector<std::string>& command,
                         const std::vector<std::string>& environment) {
    std::vector<char*> words;
    for (const std::string& word : command) words.push_back(const_cast<char*>(word.c_str()));
    words.push_back(nullptr);
    std::vector<char*> variables;
    for (const std::string& variable : environment) variables.push_back(const_cast<char*>(variable.c_str()));
    variables.push_back(nullptr);
    ::execve(words.front(), words.data(), variables.data());
    ::_exit(127);
}

std::vector<std::string> environment_of(const std::map<std::string, std::string>& variables) {
    std::vector<std::string> environment{"PATH=/usr/bin:/bin", "TERM=xterm"};
    for (const auto& [name, value] : variables) environment.push_back(name + '=' + value);
    return environment;
}

/// Reads from every descriptor until all are closed.
void drain(const std::vector<std::pair<int, std::string*>>& sources) {
    std::vector<pollfd> waiting;
    for (const auto& [number, text] : sources)
        waiting.push_back({.fd = number, .events = POLLIN, .revents = 0});
    std::size_t n_open = sources.size();
    std::array<char, 4096> buffer{};
    while (n_open > 0) {
        if (::poll(waiting.data(), waiting.size(), -1) < 0 && errno != EINTR)
            throw std::runtime_error("poll failed");
        for (std::size_t i = 0; i < waiting.size(); ++i) {
            if (waiting[i].fd < 0 || waiting[i].revents == 0) continue;
            const auto got = ::read(waiting[i].fd, buffer.data(), buffer.size());
            if (got > 0) {
                sources[i].second->append(buffer.data(), static_cast<std::size_t>(got));
            } else if (got == 0 || errno != EINTR) { // a terminal whose other side is gone reads as an error
                ::close(waiting[i].fd);
                waiting[i].fd = -1;
                --n_open;
            }
        }
    }
}

int status_of(pid_t child) {
    int status = 0;
    while (::waitpid(child, &status, 0) < 0 && errno == EINTR) {
    }
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

Ran run_piped(const std::vector<std::string>& command, const std::vector<std::string>& environment) {
    std::array<int, 2> out{};
    std::array<int, 2> err{};
    if (::pipe(out.data()) != 0 || ::pipe(err.data()) != 0) throw std::runtime_error("pipe failed");
    const pid_t child = ::fork();
    if (child < 0) throw std::runtime_error("fork failed");
    if (child == 0) {
        const int nothing = ::open("/dev/null", O_RDONLY);
        ::dup2(nothing, STDIN_FILENO);
        ::dup2(out[1], STDOUT_FILENO);
        ::dup2(err[1], STDERR_FILENO);
        for (const int number : {out[0], out[1], err[0], err[1], nothing}) ::close(number);
        become(command, environment);
    }
    ::close(out[1]);
    ::close(err[1]);
    Ran ran;
    drain({{out[0], &ran.out}, {err[0], &ran.err}});
    ran.status = status_of(child);
    return ran;
}

std::vector<std::string> program_with(const std::vector<std::string>& words) {
    std::vector<std::string> command{HOLLOWTOP_PROGRAM};
    command.insert(command.end(), words.begin(), words.end());
    return command;
}

} // namespace

Ran run(const std::vector<std::string>& words, const std::map<std::string, std::string>& variables) {
    return run_piped(program_with(words), environment_of(variables));
}

Ran run_other(const std::vector<std::string>& command) { return run_piped(command, environment_of({})); }

bool has_terminals() {
    int terminal = -1, other_side = -1;
    if (::openpty(&terminal, &other_side, nullptr, nullptr, nullptr) != 0) return false;
    ::close(terminal);
    ::close(other_side);
    return true;
}

Ran run_on_terminal(const std::vector<std::string>& words,
                    const std::map<std::string, std::string>& variables) {
    const auto command = program_with(words);
    const auto environment = environment_of(variables);
    int terminal = -1;
    const pid_t child = ::forkpty(&terminal, nullptr, nullptr, nullptr);
    if (child < 0) throw std::runtime_error("forkpty failed");
    if (child == 0) become(command, environment);
    Ran ran;
    drain({{terminal, &ran.out}});
    ran.status = status_of(child);
    return ran;
}

Folder::Folder() {
    std::string pattern = (std::filesystem::temp_directory_path() / "hollowtop-test-XXXXXX").string();
    if (::mkdtemp(pattern.data()) == nullptr) throw std::runtime_error("mkdtemp failed");
    path_ = pattern;
}

Folder::~Folder() {
    std::error_code ignored; // a folder left behind in /tmp harms nobody
    std::filesystem::remove_all(path_, ignored);
}

std::string Folder::put(const std::string& name, const std::string& content) const {
    const std::string file = path_ + '/' + name;
    std::ofstream(file, std::ios::binary) << content;
    return file;
}

std::vector<std::string> Folder::names() const {
    std::vector<std::string> names;
    for (const auto& entry : std::filesystem::directory_iterator(path_))
        names.push_back(entry.path().filename().string());
    std::sort(names.begin(), names.end());
    return names;
}

std::string content_of(const std::string& file) {
    std::ifstream input(file, std::ios::binary);
    return {std::istreambuf_iterator<char>(input), {}};
}

std::string of_the_project(const std::string& path) { return std::string(HOLLOWTOP_SOURCE_DIR) + '/' + path; }
