#include "solver/questions/explain.hpp"

#include "networks/diagnostic.hpp"

#include <algorithm>

namespace headroom::solver {
namespace {

constexpr std::size_t most_near = 5;

struct Known {
    std::string form; ///< as looked up
    std::string name;
};

std::vector<Known> known_words() {
    std::vector<Known> out;
    for (const TermGroup &group : term_groups())
        for (const Term &term : group.terms) {
            out.push_back({lookup_form(term.name), std::string(term.name)});
            for (const std::string &other : other_names(term))
                out.push_back({lookup_form(other), other});
        }
    return out;
}

// Those with a word of it in them come first, then those a few letters away.
std::vector<std::string> near_words(const std::string &form) {
    const std::vector<Known> known = known_words();
    std::vector<std::string> out;
    const auto add = [&](const std::string &name) {
        if (out.size() < most_near && std::find(out.begin(), out.end(), name) == out.end())
            out.push_back(name);
    };
    std::vector<std::string> forms;
    forms.reserve(known.size());
    for (const Known &word : known)
        forms.push_back(word.form);
    const auto add_nearest = [&] {
        const std::string near = networks::nearest(form, forms);
        for (const Known &word : known)
            if (!near.empty() && word.form == near)
                add(word.name);
        std::erase(forms, near);
    };
    add_nearest();
    if (form.size() > 2)
        for (const Known &word : known)
            if (word.form.find(form) != std::string::npos ||
                (" " + form + " ").find(" " + word.form + " ") != std::string::npos)
                add(word.name);
    add_nearest();
    add_nearest();
    return out;
}

bool answers_to(const Term &term, const std::string &form) {
    const std::vector<std::string> names = other_names(term);
    return std::any_of(names.begin(), names.end(),
                       [&](const std::string &name) { return lookup_form(name) == form; });
}

void look_up(const std::string &form, ExplainAnswer &out) {
    for (const TermGroup &group : term_groups())
        for (const Term &term : group.terms)
            if (form.empty() || lookup_form(term.name) == form)
                out.found.push_back({&group, &term});
            else if (answers_to(term, form))
                out.see_also.push_back({&group, &term});
    if (out.found.empty())
        out.found.swap(out.see_also);
}

} // namespace

ExplainAnswer explain(std::string_view word) {
    ExplainAnswer out;
    out.asked = word;
    const std::string form = lookup_form(word);
    look_up(form, out);
    if (out.found.empty() && form.ends_with('s'))
        look_up(form.substr(0, form.size() - 1), out);
    if (out.found.empty())
        out.near = near_words(form);
    return out;
}

} // namespace headroom::solver
