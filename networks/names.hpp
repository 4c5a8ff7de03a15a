#pragma once

#include "networks/house.hpp"

#include <map>
#include <set>
#include <string>
#include <vector>

namespace headroom::networks {

/// Every place (a flow and a return) and junction (a single point) that the house names.
class Names {
public:
    explicit Names(const House &house) {
        for (const Run &run : house.runs)
            if (!run.one_way) {
                ++runs_at_[run.from];
                ++runs_at_[run.to];
            }
        for (const auto &[name, count] : runs_at_)
            places_.insert(name);
        if (house.source)
            places_.insert("source");
        if (house.separator)
            places_.insert(house.separator->name);
        for (const Manifold &manifold : house.manifolds)
            places_.insert(manifold.name);
        for (const Run &run : house.runs)
            if (run.one_way) {
                add_junction(run.from);
                add_junction(run.to);
            }
    }

    bool place(const std::string &name) const { return places_.contains(name); }
    bool junction(const std::string &name) const { return junctions_.contains(name); }
    /// "X.flow" or "X.return" of a place.
    bool side_of_place(const std::string &name) const {
        for (const char *side : {".flow", ".return"})
            if (name.ends_with(side) &&
                place(name.substr(0, name.size() - std::string_view(side).size())))
                return true;
        return false;
    }
    int runs_at(const std::string &name) const {
        const auto found = runs_at_.find(name);
        return found == runs_at_.end() ? 0 : found->second;
    }
    const std::set<std::string> &junctions() const { return junctions_; }
    /// Every point: the junctions and both sides of every place.
    std::vector<std::string> points() const {
        std::vector<std::string> out(junctions_.begin(), junctions_.end());
        for (const std::string &name : places_)
            for (const char *side : {".flow", ".return"})
                out.push_back(name + side);
        return out;
    }
    std::vector<std::string> all() const {
        std::vector<std::string> out = points();
        out.insert(out.end(), places_.begin(), places_.end());
        return out;
    }
    std::vector<std::string> places() const { return {places_.begin(), places_.end()}; }

private:
    void add_junction(const std::string &name) {
        if (!side_of_place(name) && !places_.contains(name))
            junctions_.insert(name);
    }
    std::map<std::string, int> runs_at_;
    std::set<std::string> places_;
    std::set<std::string> junctions_;
};

} // namespace headroom::networks
