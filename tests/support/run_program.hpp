// Runs the program itself, as a user would, and keeps what it wrote and how it ended. POSIX only.
#pragma once

#include <cerrno>
#include <cstdlib>
#include <fcntl.h>
#include <filesystem>
#include <fstream>
#include <spawn.h>
#include <sstream>
#include <stdexcept>
#include <string>
#include <sys/wait.h>
#include <unistd.h>
#include <vector>

extern char **environ;

namespace headroom::tests {

inline std::string file_text(const std::filesystem::path &file) {
    std::ifstream stream(file, std::ios::binary);
    std::ostringstream text;
    text << stream.rdbuf();
    return text.str();
}

inline void write_file(const std::filesystem::path &file, const std::string &text) {
    std::ofstream(file, std::ios::binary) << text;
}

/// A fresh empty folder, gone with everything in it when this goes.
class TemporaryFolder {
public:
    TemporaryFolder() {
        std::string name = std::filesystem::temp_directory_path() / "headroom-test-XXXXXX";
        if (::mkdtemp(name.data()) == nullptr)
            throw std::runtime_error("cannot make the folder " + name);
        path_ = name;
    }
    ~TemporaryFolder() {
        std::error_code ignored;
        std::filesystem::remove_all(path_, ignored);
    }
    TemporaryFolder(const TemporaryFolder &) = delete;
    TemporaryFolder &operator=(const TemporaryFolder &) = delete;

    std::filesystem::path operator/(const std::string &name) const { return path_ / name; }
    const std::filesystem::path &path() const { return path_; }

    std::vector<std::string> names() const {
        std::vector<std::string> out;
        for (const auto &entry : std::filesystem::directory_iterator(path_))
            out.push_back(entry.path().filename().string());
        return out;
    }

private:
    std::filesystem::path path_;
};

struct ProgramRun {
    int exit_code = -1; ///< 128 and the signal if one ended it
    std::string output;
    std::string errors;
};

/// The binary under test: the build's own, or the one that HEADROOM_PROGRAM names.
inline std::string program_path() {
    const char *other = std::getenv("HEADROOM_PROGRAM");
    return other != nullptr ? other : PROGRAM;
}

/// `output` is an open descriptor that takes standard output's place; -1 keeps what is written.
inline ProgramRun run_program(const std::vector<std::string> &arguments, int output = -1) {
    const TemporaryFolder folder;
    const std::string out_file = folder / "out";
    const std::string error_file = folder / "errors";
    std::string program = program_path();
    std::vector<std::string> words = arguments;
    std::vector<char *> argv{program.data()};
    for (std::string &word : words)
        argv.push_back(word.data());
    argv.push_back(nullptr);

    constexpr int flags = O_WRONLY | O_CREAT | O_TRUNC;
    posix_spawn_file_actions_t actions;
    posix_spawn_file_actions_init(&actions);
    posix_spawn_file_actions_addopen(&actions, STDIN_FILENO, "/dev/null", O_RDONLY, 0);
    if (output < 0)
        posix_spawn_file_actions_addopen(&actions, STDOUT_FILENO, out_file.c_str(), flags, 0600);
    else
        posix_spawn_file_actions_adddup2(&actions, output, STDOUT_FILENO);
    posix_spawn_file_actions_addopen(&actions, STDERR_FILENO, error_file.c_str(), flags, 0600);
    pid_t child = 0;
    const int fault = posix_spawn(&child, program.c_str(), &actions, nullptr, argv.data(), environ);
    posix_spawn_file_actions_destroy(&actions);
    if (fault != 0)
        throw std::runtime_error("cannot run " + program);
    int status = 0;
    while (::waitpid(child, &status, 0) < 0 && errno == EINTR) {
    }
    ProgramRun run;
    run.exit_code = WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
    run.output = file_text(out_file);
    run.errors = file_text(error_file);
    return run;
}

} // namespace headroom::tests
