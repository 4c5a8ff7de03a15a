#include "solver/report/batch_report.hpp"

#include "solver/report/figures.hpp"
#include "solver/report/json.hpp"
#include "solver/report/table.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace headroom::solver {
namespace {

std::string one_line(std::string text) {
    std::replace_if(
        text.begin(), text.end(), [](char c) { return c == '\n' || c == '\r'; }, ' ');
    return text;
}

std::string cell(const std::optional<double> &value) {
    return value ? number(*value) : "";
}

std::string padded(const std::string &text, std::size_t width) {
    const auto shown = static_cast<std::size_t>(display_width(text));
    return text + std::string(width > shown ? width - shown : 0, ' ');
}

std::string kilopascal(const std::optional<double> &pressure_pa) {
    return pressure_pa ? signed_kpa(*pressure_pa) : "";
}

// The longest verdict would widen the column for all.
std::string short_verdict(const BatchRow &row) {
    return row.verdict == verdict_word(Verdict::ThermalNo) ? "thermally no" : row.verdict;
}

std::string text_line(const BatchRow &row, std::size_t file_width) {
    return fmt::format("{}  {:<12}  {:>8}  {:>8}  {}\n", padded(row.file, file_width),
                       short_verdict(row), kilopascal(row.headroom_pa),
                       kilopascal(row.headroom_low_pa),
                       one_line(row.fault.empty() ? row.index : row.fault));
}

std::string json_line(const BatchRow &row) {
    Json j = json_head("batch", row.house);
    j["file"] = row.file;
    j["verdict"] = row.verdict;
    j["exit_code"] = row.exit_code;
    j["headroom_pa"] = optional_json(row.headroom_pa);
    j["headroom_low_pa"] = optional_json(row.headroom_low_pa);
    j["headroom_high_pa"] = optional_json(row.headroom_high_pa);
    j["head_needed_pa"] = optional_json(row.needed_pa);
    j["head_available_pa"] = optional_json(row.available_pa);
    j["source_flow_m3_s"] = optional_json(row.flow_m3_s);
    j["flow_temperature_c"] = optional_json(row.flow_temperature_c);
    j["index_circuit"] = row.index;
    j["decided_by"] = row.decided_by;
    j["fault"] = row.fault;
    return j.dump(-1, ' ', false, Json::error_handler_t::replace) + "\n";
}

} // namespace

std::string batch_head(Format format, std::size_t file_width) {
    if (format == Format::Csv)
        return csv_record({"file", "house", "verdict", "exit_code", "headroom_pa",
                           "headroom_low_pa", "headroom_high_pa", "head_needed_pa",
                           "head_available_pa", "source_flow_m3_s", "flow_temperature_c",
                           "index_circuit", "decided_by", "fault"});
    if (format == Format::Json)
        return "";
    return fmt::format("{}  {:<12}  {:>8}  {:>8}  {}\n", padded("file", file_width), "verdict",
                       "headroom", "at least", "kPa; what decides");
}

std::string batch_line(const BatchRow &row, Format format, std::size_t file_width) {
    if (format == Format::Text)
        return text_line(row, file_width);
    if (format == Format::Json)
        return json_line(row);
    return csv_record({row.file, one_line(row.house), row.verdict, fmt::to_string(row.exit_code),
                       cell(row.headroom_pa), cell(row.headroom_low_pa), cell(row.headroom_high_pa),
                       cell(row.needed_pa), cell(row.available_pa), cell(row.flow_m3_s),
                       cell(row.flow_temperature_c), one_line(row.index), one_line(row.decided_by),
                       one_line(row.fault)});
}

} // namespace headroom::solver
