#pragma once

#include <string>

namespace headroom::solver {

/// Shows how far long work has come on standard error, if that is a terminal; wipes the line at the
/// end. Quiet in a pipe and for the first second.
class ProgressLine {
public:
    explicit ProgressLine(std::string what);
    ~ProgressLine();
    ProgressLine(const ProgressLine &) = delete;
    ProgressLine &operator=(const ProgressLine &) = delete;
    void show(int done);

private:
    std::string what_;
    bool terminal_;
    bool shown_ = false;
    long long started_ms_;
    long long last_ms_ = 0;
};

} // namespace headroom::solver
