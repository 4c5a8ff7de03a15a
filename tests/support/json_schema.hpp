// JSON against a schema: the few keywords of JSON Schema 2020-12 that the project's schema uses. A
// keyword it does not know is a fault, so that none is passed over.
#pragma once

#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>
#include <string>
#include <vector>

namespace headroom::tests {

class JsonSchema {
public:
    explicit JsonSchema(nlohmann::json schema) : root_(std::move(schema)) {}

    const nlohmann::json &root() const { return root_; }

    /// What in the value is against the definition of that name, each with its place.
    std::vector<std::string> faults(const nlohmann::json &value, const std::string &name) const {
        std::vector<std::string> out;
        check(value, root_.at("$defs").at(name), "", out);
        return out;
    }

private:
    using Json = nlohmann::json;

    const Json &referred(const Json &rule) const {
        return root_.at(Json::json_pointer(rule.at("$ref").get<std::string>().substr(1)));
    }

    static bool is(const Json &value, const std::string &type) {
        if (type == "number")
            return value.is_number();
        return type == "integer"  ? value.is_number_integer()
               : type == "string" ? value.is_string()
               : type == "object" ? value.is_object()
               : type == "array"  ? value.is_array()
               : type == "null"   ? value.is_null()
                                  : type == "boolean" && value.is_boolean();
    }

    static bool is_one_of(const Json &value, const Json &types) {
        if (types.is_string())
            return is(value, types);
        return std::any_of(types.begin(), types.end(),
                           [&](const Json &type) { return is(value, type); });
    }

    void check_object(const Json &value, const Json &rule, const std::string &at,
                      std::vector<std::string> &out) const {
        for (const Json &key : rule.value("required", Json::array()))
            if (!value.contains(key.get<std::string>()))
                out.push_back(at + ": lacks `" + key.get<std::string>() + "`");
        const Json properties = rule.value("properties", Json::object());
        for (auto item = value.begin(); item != value.end(); ++item) {
            if (properties.contains(item.key()))
                check(*item, properties.at(item.key()), at + "/" + item.key(), out);
            else if (!rule.value("additionalProperties", true))
                out.push_back(at + ": unknown key `" + item.key() + "`");
        }
    }

    void check(const Json &value, const Json &rule, const std::string &at,
               std::vector<std::string> &out) const {
        static const std::set<std::string> known{
            "$ref",     "anyOf",      "type",  "const", "enum",
            "required", "properties", "items", "unit",  "additionalProperties",
            "title",    "description"};
        for (auto keyword = rule.begin(); keyword != rule.end(); ++keyword)
            if (!known.contains(keyword.key()))
                out.push_back(at + ": keyword `" + keyword.key() + "` is not understood");
        if (rule.contains("$ref"))
            check(value, referred(rule), at, out);
        if (rule.contains("anyOf")) {
            std::vector<std::string> nearest;
            for (const Json &choice : rule.at("anyOf")) {
                std::vector<std::string> against;
                check(value, choice, at, against);
                if (against.empty()) {
                    nearest.clear();
                    break;
                }
                nearest = std::move(against);
            }
            out.insert(out.end(), nearest.begin(), nearest.end());
        }
        if (rule.contains("const") && value != rule.at("const"))
            out.push_back(at + ": is " + value.dump() + ", not " + rule.at("const").dump());
        if (rule.contains("enum") && std::find(rule.at("enum").begin(), rule.at("enum").end(),
                                               value) == rule.at("enum").end())
            out.push_back(at + ": " + value.dump() + " is none of " + rule.at("enum").dump());
        if (rule.contains("type") && !is_one_of(value, rule.at("type"))) {
            out.push_back(at + ": " + value.dump().substr(0, 40) + " is no " +
                          rule.at("type").dump());
            return;
        }
        if (value.is_object())
            check_object(value, rule, at, out);
        if (value.is_array() && rule.contains("items"))
            for (std::size_t i = 0; i < value.size(); ++i)
                check(value[i], rule.at("items"), at + "/" + std::to_string(i), out);
    }

    Json root_;
};

} // namespace headroom::tests
