#include "tests/support/fingerprint.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstdlib>
#include <fmt/format.h>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>
#include <stdexcept>

namespace headroom::tests {
namespace {

using nlohmann::json;

constexpr double sum_tolerance = 1e-9; // of compilers and libraries; answers agree to 1e-10

// 1 to 2, spread evenly: the golden ratio's multiples.
double weight(std::size_t place) {
    double whole = 0.0;
    return 1.0 + std::modf(0.6180339887498949 * static_cast<double>(place), &whole);
}

void add_leaves(Fingerprints &prints, const std::string &name, const std::string &place,
                const json &value) {
    if (value.is_object()) {
        for (auto part = value.begin(); part != value.end(); ++part)
            add_leaves(prints, name, place + (place.empty() ? "" : "/") + part.key(), *part);
        return;
    }
    if (value.is_array()) {
        for (const json &part : value)
            add_leaves(prints, name, place + "[]", part);
        return;
    }
    for (Fingerprint *print : {&prints[place], &prints[name]}) {
        if (value.is_number())
            print->add(value.get<double>());
        else
            print->add(value.is_string() ? value.get<std::string>() : value.dump());
    }
}

std::map<std::string, std::string> rows_of(const std::string &file) {
    std::map<std::string, std::string> rows;
    std::ifstream in(file);
    for (std::string line; std::getline(in, line);)
        if (const std::size_t comma = line.find(','); comma != std::string::npos)
            rows[line.substr(0, comma)] = line.substr(comma + 1);
    return rows;
}

} // namespace

void Fingerprint::add(double number) {
    const double weighted = weight(numbers_++) * number;
    sum_ += weighted;
    magnitude_ += std::abs(weighted);
}

void Fingerprint::add(std::string_view word) {
    ++words_;
    const auto mix = [&](unsigned char byte) { hash_ = (hash_ ^ byte) * 0x100000001b3u; };
    for (const char c : word)
        mix(static_cast<unsigned char>(c));
    mix(0);
}

std::string Fingerprint::row() const {
    return fmt::format("{},{:.12g},{},{:016x}", numbers_, sum_, words_, hash_);
}

bool Fingerprint::agrees_with(const std::string &row) const {
    std::istringstream fields(row);
    std::string numbers, sum, words_and_hash;
    std::getline(fields, numbers, ',');
    std::getline(fields, sum, ',');
    std::getline(fields, words_and_hash);
    return numbers == std::to_string(numbers_) &&
           words_and_hash == fmt::format("{},{:016x}", words_, hash_) &&
           std::abs(std::strtod(sum.c_str(), nullptr) - sum_) <= sum_tolerance * magnitude_;
}

void add_json(Fingerprints &prints, const std::string &name, const std::string &text) {
    add_leaves(prints, name, "", json::parse(text));
}

void add_text(Fingerprint &print, std::string_view text) {
    static constexpr std::string_view digits = "0123456789";
    while (!text.empty()) {
        print.add(text.substr(0, text.find_first_of(digits)));
        text.remove_prefix(std::min(text.size(), text.find_first_of(digits)));
        double number = 0.0;
        const auto read = std::from_chars(text.data(), text.data() + text.size(), number);
        if (read.ptr != text.data())
            print.add(number);
        text.remove_prefix(static_cast<std::size_t>(read.ptr - text.data()));
    }
}

std::vector<std::string> not_as_on_file(const Fingerprints &prints, const std::string &name) {
    const std::string file = std::string(SOURCE_DIR) + "/tests/regression/on_file/" + name + ".csv";
    if (std::getenv("HEADROOM_WRITE_REGRESSION") != nullptr) {
        std::ofstream out(file);
        out << "place,numbers,sum,words,hash\n";
        for (const auto &[place, print] : prints)
            out << place << ',' << print.row() << '\n';
        if (!out.flush())
            throw std::runtime_error("cannot write " + file);
    }
    std::map<std::string, std::string> rows = rows_of(file);
    rows.erase("place");
    std::vector<std::string> out;
    for (const auto &[place, print] : prints)
        if (const auto row = rows.extract(place); row.empty())
            out.push_back(fmt::format("{}: not on file", place));
        else if (!print.agrees_with(row.mapped()))
            out.push_back(fmt::format("{}: {}, on file {}", place, print.row(), row.mapped()));
    for (const auto &[place, row] : rows)
        out.push_back(fmt::format("{}: gone, on file {}", place, row));
    return out;
}

} // namespace headroom::tests
