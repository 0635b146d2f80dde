// SPDX-License-Identifier: MIT
#include "cli/command_line.hpp"
#include "cli/messages.hpp"

#include <exception>
#include <new>
#include <string>

int main(int argc, char** argv) {
    using namespace hollowtop;
    using cli::Status;
    Status status = Status::not_computed;
    try {
        status = cli::run_command_line(argc, argv);
    } catch (const Error& error) {
        cli::show(error);
        status = error.kind() == ErrorKind::input ? Status::wrong_input : Status::not_computed;
    } catch (const std::bad_alloc&) {
        cli::show("the machine has not enough memory for this; a coarser mesh (--mesh coarse) needs less");
    } catch (const std::exception& fault) {
        cli::show(std::string("a fault of the program itself (") + fault.what() +
                  "); please report it with the piece file");
    } catch (...) {
        cli::show("a fault of the program itself; please report it with the piece file");
    }
    return static_cast<int>(status);
}
