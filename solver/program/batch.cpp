#include "solver/program/batch.hpp"

#include "networks/document.hpp"
#include "networks/reader.hpp"
#include "solver/program/complaint.hpp"
#include "solver/program/load.hpp"
#include "solver/program/progress.hpp"
#include "solver/report/batch_report.hpp"
#include "solver/report/json.hpp"
#include "solver/report/table.hpp"

#include <algorithm>
#include <array>
#include <atomic>
#include <charconv>
#include <condition_variable>
#include <cstdio>
#include <filesystem>
#include <fmt/format.h>
#include <mutex>
#include <thread>

namespace headroom::solver {
namespace {

namespace fs = std::filesystem;

// Verdicts of rows that are no answer, with their codes.
constexpr std::array unanswered{std::pair{"not read", 2}, std::pair{"not judged", 2},
                                std::pair{"not solved", 3}, std::pair{"failed", 4}};

ExitCode refused(const Arguments &arguments, const std::string &code, const std::string &message,
                 const std::string &help, ExitCode exit_code = ExitCode::bad_input) {
    complain(code, message, help, arguments.text.colour);
    return exit_code;
}

// The house files under a folder, named from there, in the order of their names' bytes.
std::vector<std::string> house_files(const std::string &folder, std::error_code &code) {
    std::vector<std::string> files;
    for (fs::recursive_directory_iterator it(folder, code), end; !code && it != end;
         it.increment(code)) {
        const fs::path &path = it->path();
        if ((path.extension() == ".yaml" || path.extension() == ".yml") &&
            !fs::is_directory(path, code))
            files.push_back(path.lexically_relative(folder).generic_string());
    }
    std::sort(files.begin(), files.end());
    return files;
}

// Every n-th file from the i-th on, for `i/n`.
bool keep_shard(std::vector<std::string> &files, const std::string &shard) {
    if (shard.empty())
        return true;
    std::size_t part = 0, parts = 0;
    const char *end = shard.data() + shard.size();
    const auto first = std::from_chars(shard.data(), end, part);
    if (first.ec != std::errc() || first.ptr == end || *first.ptr != '/')
        return false;
    const auto second = std::from_chars(first.ptr + 1, end, parts);
    if (second.ec != std::errc() || second.ptr != end || part < 1 || part > parts)
        return false;
    std::vector<std::string> kept;
    for (std::size_t i = part - 1; i < files.size(); i += parts)
        kept.push_back(std::move(files[i]));
    files = std::move(kept);
    return true;
}

BatchRow row_of(const std::string &folder, const std::string &file,
                models::FloorResponseCache &floors) {
    BatchRow row;
    try {
        networks::Diagnostics diagnostics;
        std::optional<networks::House> house;
        if (const auto text = file_text((fs::path(folder) / file).string()))
            house = networks::read_house(*text, diagnostics);
        if (house) {
            row = batch_row(std::move(*house), floors);
        } else {
            row.verdict = "not read";
            row.exit_code = ExitCode::bad_input;
            const auto faults = diagnostics.sorted();
            row.fault = "it cannot be read";
            if (!faults.empty())
                row.fault = fmt::format(
                    "line {}: {}{}", faults.front().place.line, faults.front().message,
                    faults.size() > 1 ? fmt::format(" (and {} more)", faults.size() - 1) : "");
        }
    } catch (const std::exception &fault) {
        row.verdict = "failed";
        row.exit_code = ExitCode::program_fault;
        row.fault = fmt::format("a fault of the program: {}", fault.what());
    }
    row.file = file;
    return row;
}

// Rows in the order of the files, whichever thread has them first.
class Rows {
public:
    Rows(const std::string &folder, const std::vector<std::string> &files, std::size_t first)
        : folder_(folder), files_(files), next_(first), rows_(files.size()), ready_(files.size()) {
        const unsigned threads = std::max(1u, std::thread::hardware_concurrency());
        for (unsigned t = 0; t < threads; ++t)
            threads_.emplace_back([this] { work(); });
    }
    ~Rows() {
        next_ = files_.size();
        for (std::thread &thread : threads_)
            thread.join();
    }
    Rows(const Rows &) = delete;
    Rows &operator=(const Rows &) = delete;

    BatchRow take(std::size_t i) {
        std::unique_lock lock(mutex_);
        done_.wait(lock, [&] { return ready_[i] != 0; });
        return std::move(rows_[i]);
    }

private:
    void work() {
        for (std::size_t i = next_++; i < files_.size(); i = next_++) {
            BatchRow row = row_of(folder_, files_[i], floors_);
            const std::lock_guard lock(mutex_);
            rows_[i] = std::move(row);
            ready_[i] = 1;
            done_.notify_one();
        }
    }

    const std::string &folder_;
    const std::vector<std::string> &files_;
    std::atomic<std::size_t> next_;
    models::FloorResponseCache floors_;
    std::mutex mutex_;
    std::condition_variable done_;
    std::vector<BatchRow> rows_;
    std::vector<char> ready_;
    std::vector<std::thread> threads_;
};

// What a run that was stopped has left of this output.
struct Kept {
    std::string text; // its whole lines
    std::size_t rows = 0;
    int worst = 0; // highest code of a row that is no answer
    bool fits = true;
};

// A file's name as a CSV record begins with it.
std::string file_cell(const std::string &file) {
    const std::string record = csv_record({file});
    return record.substr(0, record.find_last_not_of("\r\n") + 1);
}

// The code of a row as written, if it is the row of this file.
std::optional<int> code_of(const std::string &line, const std::string &file, Format format) {
    if (format == Format::Json) {
        const Json row = Json::parse(line, nullptr, false);
        if (row.is_discarded() || row.value("file", "") != file)
            return std::nullopt;
        return row.value("exit_code", 0);
    }
    if (!line.starts_with(file_cell(file) + ","))
        return std::nullopt;
    for (const auto &[verdict, code] : unanswered)
        if (line.find(fmt::format(",{},{},", verdict, code)) != std::string::npos)
            return code;
    return 0;
}

// A last line that was cut short is left out. Text rows are not kept: they are for people.
Kept kept_rows(const std::string &part, const std::vector<std::string> &files, Format format) {
    Kept kept;
    if (format == Format::Text)
        return kept;
    const std::string text = file_text(part).value_or("");
    const std::string head = batch_head(format, 0);
    const std::size_t last = text.rfind('\n');
    if (last == std::string::npos)
        return kept;
    const std::size_t whole = last + 1;
    kept.text = text.substr(0, whole);
    kept.fits = kept.text.starts_with(head);
    for (std::size_t at = head.size(); kept.fits && at < whole;) {
        const std::size_t end = text.find('\n', at) + 1;
        const auto code = kept.rows < files.size()
                              ? code_of(text.substr(at, end - at), files[kept.rows], format)
                              : std::nullopt;
        kept.fits = code.has_value();
        kept.worst = std::max(kept.worst, code.value_or(0) >= 2 ? *code : 0);
        ++kept.rows;
        at = end;
    }
    return kept;
}

// Writes head and rows; false if that fails.
bool write_rows(std::FILE *to, const Arguments &arguments, const std::vector<std::string> &files,
                Kept &kept) {
    std::size_t width = 4;
    for (const std::string &file : files)
        width = std::max(width, static_cast<std::size_t>(display_width(file)));
    const std::string start =
        kept.text.empty() ? batch_head(arguments.format, width) : std::move(kept.text);
    if (std::fputs(start.c_str(), to) < 0)
        return false;
    ProgressLine progress(fmt::format("of {} houses judged", files.size()));
    Rows rows(arguments.file, files, kept.rows);
    for (std::size_t i = kept.rows; i < files.size(); ++i) {
        const BatchRow row = rows.take(i);
        kept.worst = std::max(kept.worst, row.exit_code >= 2 ? row.exit_code : 0);
        if (std::fputs(batch_line(row, arguments.format, width).c_str(), to) < 0 ||
            std::fflush(to) != 0)
            return false;
        progress.show(static_cast<int>(i + 1));
    }
    return std::fflush(to) == 0;
}

bool write_to_file(const Arguments &arguments, const std::string &part,
                   const std::vector<std::string> &files, Kept &kept) {
    std::FILE *to = std::fopen(part.c_str(), "wb");
    if (to == nullptr)
        return false;
    const bool wrote = write_rows(to, arguments, files, kept);
    if (std::fclose(to) != 0 || !wrote)
        return false;
    std::error_code code;
    fs::rename(part, arguments.output, code);
    return !code;
}

} // namespace

ExitCode batch(const Arguments &arguments) {
    std::error_code code;
    std::vector<std::string> files = house_files(arguments.file, code);
    if (code)
        return refused(arguments, "no-folder", fmt::format("cannot list `{}`", arguments.file),
                       "name a folder that holds house files");
    if (!keep_shard(files, arguments.shard))
        return refused(arguments, "arguments",
                       fmt::format("`{}` is no part of the files", arguments.shard),
                       "`--shard 2/5` takes the second of every five files");
    if (files.empty())
        return refused(arguments, "no-file",
                       fmt::format("there is no house file to judge under `{}`", arguments.file),
                       "house files end in .yaml or .yml");
    const bool to_file = !arguments.output.empty();
    const std::string part = arguments.output + ".part";
    Kept kept = to_file ? kept_rows(part, files, arguments.format) : Kept{};
    if (!kept.fits)
        return refused(arguments, "other-rows",
                       fmt::format("`{}` holds rows of other files or another form", part),
                       "remove it, or name another output");
    if (!(to_file ? write_to_file(arguments, part, files, kept)
                  : write_rows(stdout, arguments, files, kept)))
        return refused(arguments, "cannot-write",
                       to_file ? fmt::format("`{}`", arguments.output) : "standard output",
                       "check the folder, its permissions and the space left",
                       ExitCode::cannot_write);
    return static_cast<ExitCode>(kept.worst);
}

} // namespace headroom::solver
