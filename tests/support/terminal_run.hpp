// Runs the program in a pseudo terminal of a stated width, with stated environment variables alone.
#pragma once

#include <cerrno>
#include <fcntl.h>
#include <pty.h>
#include <stdexcept>
#include <string>
#include <sys/wait.h>
#include <unistd.h>
#include <vector>

namespace headroom::tests {

struct TerminalRun {
    int exit_code = -1;
    std::string output; ///< standard output or, if asked for, error, as the terminal got it
};

/// `columns` 0: a terminal that does not know its width.
inline TerminalRun run_in_terminal(const std::vector<std::string> &arguments, int columns,
                                   const std::vector<std::string> &environment,
                                   bool complaints = false) {
    std::string program = PROGRAM;
    std::vector<std::string> words = arguments;
    std::vector<std::string> settings = environment;
    std::vector<char *> argv{program.data()};
    std::vector<char *> envp;
    for (std::string &word : words)
        argv.push_back(word.data());
    for (std::string &setting : settings)
        envp.push_back(setting.data());
    argv.push_back(nullptr);
    envp.push_back(nullptr);
    winsize size{};
    size.ws_row = 50;
    size.ws_col = static_cast<unsigned short>(columns);
    termios raw{};
    cfmakeraw(&raw); // line ends as written
    int terminal = -1;
    const pid_t child = forkpty(&terminal, nullptr, &raw, &size);
    if (child < 0)
        throw std::runtime_error("no pseudo terminal");
    if (child == 0) {
        // Answers alone, or complaints and progress alone.
        ::close(complaints ? STDOUT_FILENO : STDERR_FILENO);
        ::open("/dev/null", O_WRONLY);
        execve(argv[0], argv.data(), envp.data());
        _exit(127);
    }
    TerminalRun run;
    char buffer[4096];
    for (;;) {
        const ssize_t got = ::read(terminal, buffer, sizeof buffer);
        if (got < 0 && errno == EINTR)
            continue;
        if (got <= 0)
            break; // its other end is closed
        run.output.append(buffer, static_cast<std::size_t>(got));
    }
    int status = 0;
    while (::waitpid(child, &status, 0) < 0 && errno == EINTR) {
    }
    ::close(terminal);
    run.exit_code = WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
    return run;
}

} // namespace headroom::tests
