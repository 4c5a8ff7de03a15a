// `--watch`: a process that answers whenever the file is saved, until it is interrupted.
#include "tests/support/run_program.hpp"
#include "tests/support/small_house.hpp"

#include <catch2/catch.hpp>

#include <chrono>
#include <csignal>
#include <thread>

using namespace headroom::tests;

namespace {

/// The program in the background, what it writes kept in files.
class Background {
public:
    explicit Background(std::vector<std::string> arguments) {
        std::string program = PROGRAM;
        std::vector<char *> argv{program.data()};
        for (std::string &word : arguments)
            argv.push_back(word.data());
        argv.push_back(nullptr);
        constexpr int flags = O_WRONLY | O_CREAT | O_TRUNC;
        posix_spawn_file_actions_t actions;
        posix_spawn_file_actions_init(&actions);
        posix_spawn_file_actions_addopen(&actions, STDOUT_FILENO, out().c_str(), flags, 0600);
        posix_spawn_file_actions_addopen(&actions, STDERR_FILENO, errors().c_str(), flags, 0600);
        REQUIRE(posix_spawn(&child_, program.c_str(), &actions, nullptr, argv.data(), environ) ==
                0);
        posix_spawn_file_actions_destroy(&actions);
    }
    ~Background() {
        if (child_ > 0) {
            ::kill(child_, SIGKILL);
            ::waitpid(child_, nullptr, 0);
        }
    }
    Background(const Background &) = delete;
    Background &operator=(const Background &) = delete;

    std::string out() const { return folder_ / "out"; }
    std::string errors() const { return folder_ / "errors"; }

    /// Waits until a file holds a text, for a minute at most (a loaded machine).
    static bool comes(const std::string &file, const std::string &text) {
        for (int i = 0; i < 1200; ++i) {
            if (file_text(file).find(text) != std::string::npos)
                return true;
            std::this_thread::sleep_for(std::chrono::milliseconds(50));
        }
        return false;
    }

    int end_with(int signal) {
        ::kill(child_, signal);
        int status = 0;
        ::waitpid(child_, &status, 0);
        child_ = 0;
        return WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
    }

private:
    TemporaryFolder folder_;
    pid_t child_ = 0;
};

std::string house_named(const std::string &name, const std::string &head = "5 m") {
    SmallHouse house;
    house.name = name;
    house.shutoff_head = head;
    return house.text();
}

} // namespace

TEST_CASE("A watched file is answered again after each save, whichever way an editor saves it") {
    const TemporaryFolder folder;
    const std::string file = folder / "house.yaml";
    write_file(file, house_named("First"));
    Background run({"drive", file, "--watch"});
    REQUIRE(Background::comes(run.out(), "First\nyes"));
    write_file(file, house_named("Second house"));
    REQUIRE(Background::comes(run.out(), "was saved ----\n\nSecond house\nyes"));
    const std::string beside = folder / "house.yaml~new";
    write_file(beside, house_named("Third"));
    std::filesystem::rename(beside, file);
    REQUIRE(Background::comes(run.out(), "was saved ----\n\nThird\nyes"));
    std::filesystem::remove(file); // and one that takes it away first
    std::this_thread::sleep_for(std::chrono::milliseconds(400));
    write_file(file, house_named("Fourth", "0.5 m"));
    REQUIRE(Background::comes(run.out(), "was saved ----\n\nFourth\nno"));
    CHECK(run.end_with(SIGINT) == 1); // the last verdict's
    CHECK(file_text(run.errors()).empty());
}

TEST_CASE("A faulty save shows what is wrong, and the next good one is answered") {
    const TemporaryFolder folder;
    const std::string file = folder / "house.yaml";
    write_file(file, house_named("Good"));
    Background run({"flows", file, "--watch"});
    REQUIRE(Background::comes(run.out(), "Good\n"));
    write_file(file, house_named("Bad") + "nonsense: 3\n");
    REQUIRE(Background::comes(run.errors(), "nonsense"));
    write_file(file, house_named("Good again"));
    REQUIRE(Background::comes(run.out(), "Good again\n"));
    CHECK(run.end_with(SIGTERM) == 0);
}

TEST_CASE("Watching ends at once where there is no file, and is for text alone") {
    const TemporaryFolder folder;
    CHECK(run_program({"drive", folder / "none.yaml", "--watch"}).exit_code == 2);
    const std::string file = folder / "house.yaml";
    write_file(file, house_named("House"));
    const ProgramRun json = run_program({"drive", file, "--watch", "--format", "json"});
    CHECK(json.exit_code == 2);
    CHECK_THAT(json.errors, Catch::Contains("`--watch` shows text"));
}
