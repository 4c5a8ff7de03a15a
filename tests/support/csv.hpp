// CSV as RFC 4180 has it, each record ended by CR and LF, read back.
#pragma once

#include <stdexcept>
#include <string>
#include <vector>

namespace headroom::tests {

inline std::vector<std::vector<std::string>> csv_records(const std::string &text) {
    std::vector<std::vector<std::string>> records;
    std::vector<std::string> record{""};
    bool quoted = false;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const char c = text[i];
        if (quoted) {
            if (c != '"') {
                record.back() += c;
            } else if (i + 1 < text.size() && text[i + 1] == '"') {
                record.back() += '"';
                ++i;
            } else {
                quoted = false;
            }
        } else if (c == '"' && record.back().empty()) {
            quoted = true;
        } else if (c == ',') {
            record.emplace_back();
        } else if (c == '\r' && i + 1 < text.size() && text[i + 1] == '\n') {
            ++i;
            records.push_back(std::move(record));
            record = {""};
        } else {
            record.back() += c;
        }
    }
    if (quoted || record.size() > 1 || !record.front().empty())
        throw std::runtime_error("the last CSV record does not end");
    return records;
}

} // namespace headroom::tests
