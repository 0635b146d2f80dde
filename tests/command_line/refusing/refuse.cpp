// SPDX-License-Identifier: MIT
// Linked to the program's own main(): refuses the k-th block of memory, or the k-th thread, that the program asks for,
// and ends the program by a signal of its own where a block is given back twice.
//   HOLLOWTOP_REFUSE_MEMORY=K    refuses the K-th block (operator new, and malloc and mmap as the rooms call them)
//   HOLLOWTOP_REFUSE_AFTER=K     refuses the K-th and all after it
//   HOLLOWTOP_REFUSE_THREAD=K    refuses the K-th thread
//   HOLLOWTOP_REFUSE_THREADS=K   refuses the K-th and all after it
//   HOLLOWTOP_REFUSE_COUNT=FILE  writes how many blocks and threads were asked for
//   HOLLOWTOP_REFUSE_EACH=FILE   at each new way (call stack) to ask for a block a process is split off that is refused it;
//                                a line each: K, exit status or -1, signal or 0, size and hash of its output, what it said
//   HOLLOWTOP_REFUSE_STRIDE=N    with that: at each N-th of them
//   HOLLOWTOP_REFUSE_ALL_AFTER=1 with that: all blocks after it too
#include <algorithm>
#include <atomic>
#include <cerrno>
#include <csignal>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <dlfcn.h>
#include <execinfo.h>
#include <fcntl.h>
#include <new>
#include <pthread.h>
#include <sys/mman.h>
#include <sys/wait.h>
#include <unistd.h>

extern "C" void* __real_malloc(std::size_t size);
extern "C" void* __real_mmap(void* start, std::size_t size, int protection, int flags, int file,
                             off_t offset);

namespace {

std::atomic<long> n_blocks{0}, n_threads{0};
std::atomic<bool> is_refused{false};

long number_of(const char* variable) {
    const char* text = std::getenv(variable);
    return text == nullptr ? 0 : std::atol(text);
}

// ---- each way

constexpr std::size_t most_ways = std::size_t{1} << 18;
std::uint64_t ways[most_ways];

std::uint64_t mixed(std::uint64_t hash, std::uint64_t value) { return (hash ^ value) * 1099511628211ULL; }
constexpr std::uint64_t empty_hash = 14695981039346656037ULL;

/// What stands in a file, each line feed but the last as a bar.
std::size_t content_of(int file, char* text, std::size_t most) {
    const auto n = ::pread(file, text, most, 0);
    for (long i = 0; i + 1 < n; ++i)
        if (text[i] == '\n') text[i] = '|';
    return n > 0 ? static_cast<std::size_t>(n) : 0;
}

bool is_new_way() {
    void* frames[48];
    const int n = ::backtrace(frames, 48);
    std::uint64_t way = empty_hash;
    for (int i = 0; i < n; ++i) way = mixed(way, reinterpret_cast<std::uintptr_t>(frames[i]));
    std::size_t at = way % most_ways;
    while (ways[at] != 0 && ways[at] != way) at = (at + 1) % most_ways;
    if (ways[at] == way) return false;
    ways[at] = way;
    return true;
}

/// True in a process split off, which is to be refused this block; the other goes on once it has ended. Only for a program
/// of one thread.
bool is_split_off(long block) {
    static const int outcomes = [] {
        const char* name = std::getenv("HOLLOWTOP_REFUSE_EACH");
        return name == nullptr ? -1 : ::open(name, O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0666);
    }();
    static const bool is_after = std::getenv("HOLLOWTOP_REFUSE_ALL_AFTER") != nullptr;
    static const long stride = std::max(1L, number_of("HOLLOWTOP_REFUSE_STRIDE"));
    static long n_ways = 0;
    static bool is_inside =
        false; // the unwinder itself asks for memory once, and who was split off is not split again
    if (outcomes < 0) return false;
    if (is_inside) return is_after && is_refused;
    is_inside = true;
    if (!is_new_way() || ++n_ways % stride != 0) {
        is_inside = false;
        return false;
    }
    const int out = ::memfd_create("out", 0), err = ::memfd_create("err", 0);
    const pid_t other = ::fork();
    if (other == 0) {
        ::dup2(out, STDOUT_FILENO);
        ::dup2(err, STDERR_FILENO);
        ::alarm(60); // who waits for ever is ended
        return true;
    }
    int ended = 0;
    if (other < 0 || ::waitpid(other, &ended, 0) != other) std::abort();
    static char said[1 << 16];
    std::uint64_t hash = empty_hash;
    const std::size_t n_said = content_of(out, said, sizeof said);
    for (std::size_t i = 0; i < n_said; ++i) hash = mixed(hash, static_cast<unsigned char>(said[i]));
    char line[1 << 11];
    int n = std::snprintf(
        line, sizeof line, "%ld %d %d %zu %016llx ", block, WIFEXITED(ended) ? WEXITSTATUS(ended) : -1,
        WIFSIGNALED(ended) ? WTERMSIG(ended) : 0, n_said, static_cast<unsigned long long>(hash));
    n += static_cast<int>(content_of(err, line + n, 1900));
    if (line[n - 1] != '\n') line[n++] = '\n';
    if (::write(outcomes, line, static_cast<std::size_t>(n)) != n) std::abort();
    ::close(out);
    ::close(err);
    is_inside = false;
    return false;
}

// ---- refusing

bool refuses_block() {
    static const long one = number_of("HOLLOWTOP_REFUSE_MEMORY"), from = number_of("HOLLOWTOP_REFUSE_AFTER");
    const long block = ++n_blocks;
    const bool refused = block == one || (from > 0 && block >= from) || is_split_off(block);
    if (refused) is_refused = true;
    return refused;
}

/// What stands before each block.
struct Head {
    std::uint64_t state;
    void* start;
};
constexpr std::uint64_t in_use = 0x696e20757365ULL, given_back = 0x676f6e65ULL;

void* take(std::size_t size, std::size_t alignment) {
    if (refuses_block()) return nullptr;
    if (alignment < sizeof(Head)) alignment = sizeof(Head);
    if (size > SIZE_MAX - 2 * alignment) return nullptr;
    char* start = static_cast<char*>(__real_malloc(size + 2 * alignment));
    if (start == nullptr) return nullptr;
    const auto address = reinterpret_cast<std::uintptr_t>(start);
    char* block = start + ((address + sizeof(Head) + alignment - 1) / alignment * alignment - address);
    const Head head{in_use, start};
    std::memcpy(block - sizeof(Head), &head, sizeof head);
    return block;
}

void* take_or_throw(std::size_t size, std::size_t alignment) {
    void* block = take(size, alignment);
    if (block == nullptr) throw std::bad_alloc();
    return block;
}

void give_back(void* block) noexcept {
    if (block == nullptr) return;
    Head head;
    std::memcpy(&head, static_cast<char*>(block) - sizeof(Head), sizeof head);
    if (head.state != in_use) { // given back twice, or never taken
        void* frames[12];
        ::backtrace_symbols_fd(frames, ::backtrace(frames, 12), STDERR_FILENO);
        std::raise(SIGSYS);
    }
    head.state = given_back;
    std::memcpy(static_cast<char*>(block) - sizeof(Head), &head, sizeof head);
    if (!is_refused) std::free(head.start); // after that each is kept, so that a second time is seen
}

struct Counted {
    ~Counted() {
        const char* name = std::getenv("HOLLOWTOP_REFUSE_COUNT");
        if (name == nullptr) return;
        if (std::FILE* file = std::fopen(name, "w")) {
            std::fprintf(file, "%ld %ld\n", n_blocks.load(), n_threads.load());
            std::fclose(file);
        }
    }
} counted;

} // namespace

void* operator new(std::size_t size) { return take_or_throw(size, 16); }
void* operator new[](std::size_t size) { return take_or_throw(size, 16); }
void* operator new(std::size_t size, std::align_val_t at) {
    return take_or_throw(size, static_cast<std::size_t>(at));
}
void* operator new[](std::size_t size, std::align_val_t at) {
    return take_or_throw(size, static_cast<std::size_t>(at));
}
void* operator new(std::size_t size, const std::nothrow_t&) noexcept { return take(size, 16); }
void* operator new[](std::size_t size, const std::nothrow_t&) noexcept { return take(size, 16); }
void operator delete(void* block) noexcept { give_back(block); }
void operator delete[](void* block) noexcept { give_back(block); }
void operator delete(void* block, std::size_t) noexcept { give_back(block); }
void operator delete[](void* block, std::size_t) noexcept { give_back(block); }
void operator delete(void* block, std::align_val_t) noexcept { give_back(block); }
void operator delete[](void* block, std::align_val_t) noexcept { give_back(block); }
void operator delete(void* block, std::size_t, std::align_val_t) noexcept { give_back(block); }
void operator delete[](void* block, std::size_t, std::align_val_t) noexcept { give_back(block); }
void operator delete(void* block, const std::nothrow_t&) noexcept { give_back(block); }
void operator delete[](void* block, const std::nothrow_t&) noexcept { give_back(block); }

extern "C" void* __wrap_malloc(std::size_t size) {
    if (!refuses_block()) return __real_malloc(size);
    errno = ENOMEM;
    return nullptr;
}

extern "C" void* __wrap_mmap(void* start, std::size_t size, int protection, int flags, int file,
                             off_t offset) {
    if (!refuses_block()) return __real_mmap(start, size, protection, flags, file, offset);
    errno = ENOMEM;
    return MAP_FAILED;
}

extern "C" int pthread_create(pthread_t* thread, const pthread_attr_t* attributes, void* (*run)(void*),
                              void* given) noexcept {
    static const long one = number_of("HOLLOWTOP_REFUSE_THREAD"),
                      from = number_of("HOLLOWTOP_REFUSE_THREADS");
    const long number = ++n_threads;
    if (number == one || (from > 0 && number >= from)) return EAGAIN;
    using Create = int (*)(pthread_t*, const pthread_attr_t*, void* (*)(void*), void*);
    static const auto create = reinterpret_cast<Create>(::dlsym(RTLD_NEXT, "pthread_create"));
    return create(thread, attributes, run, given);
}
