// SPDX-License-Identifier: MIT
#pragma once
/// \file  Runs the real program and keeps what it prints, as a person or a script would see it.

#include <map>
#include <string>
#include <vector>

struct Ran {
    int status = -1; ///< exit status; -1 where a signal ended it
    std::string out, err;
};

/// Runs the program with these words; `variables` are added to an otherwise plain environment.
Ran run(const std::vector<std::string>& words, const std::map<std::string, std::string>& variables = {});

/// Can this system give a terminal? A bare chroot cannot.
bool has_terminals();

/// The same with standard output and standard error on a terminal of their own; both end up in `out`.
Ran run_on_terminal(const std::vector<std::string>& words,
                    const std::map<std::string, std::string>& variables = {});

/// Any other program, such as the checker of JSON Schema.
Ran run_other(const std::vector<std::string>& command);

/// A folder of its own, gone with the value.
class Folder {
  public:
    Folder();
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
    ~Folder();
    const std::string& path() const { return path_; }
    /// Writes a file into it and gives its path.
    std::string put(const std::string& name, const std::string& content) const;
    /// Names of the files in it, hidden ones too, sorted.
    std::vector<std::string> names() const;

  private:
    std::string path_;
};

std::string content_of(const std::string& file);

/// A path in the project's folder, such as "docs/examples/desk.json".
std::string of_the_project(const std::string& path);
