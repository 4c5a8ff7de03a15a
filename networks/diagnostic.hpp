// Faults of the input as data: where, what, and the fix. Nothing here prints.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace headroom::networks {

/// A place in an input file; line and column count from 1. Line 0 means the file as a whole.
struct Place {
    int line = 0;
    int column = 0;
    int length = 1; ///< characters to underline
};

enum class Severity { Error, Warning };

struct Diagnostic {
    Severity severity = Severity::Error;
    std::string code;    ///< kebab-case, stable; `headroom explain` knows it
    std::string message; ///< stands alone, lower case, no full stop
    Place place;
    std::string help; ///< the fix
};

struct SourceText {
    std::string name; ///< as the user wrote it
    std::string text;
};

/// `error[code]: message`, `  --> file:line:column`, the line, carets, `help:`.
std::string render(const Diagnostic &diagnostic, const SourceText &source);

/// Thrown by Diagnostics once a file has more faults than anyone would read; read_house catches it.
struct TooManyFaults {};

/// Collects the faults of one file in the order of their places.
class Diagnostics {
public:
    static constexpr std::size_t most_faults = 100;

    void error(std::string code, Place place, std::string message, std::string help = {});
    void warning(std::string code, Place place, std::string message, std::string help = {});
    void add(Diagnostic fault);
    bool has_errors() const;
    /// Sorted by line and column, errors and warnings together.
    std::vector<Diagnostic> sorted() const;

private:
    std::vector<Diagnostic> all_;
};

/// The known word nearest to `word` by edit distance, empty when none is near enough to suggest.
std::string nearest(std::string_view word, const std::vector<std::string> &known);

} // namespace headroom::networks
