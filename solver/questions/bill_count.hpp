// Lines of a bill as things are counted, the same thing on one line. For bill.cpp alone.
#pragma once

#include "networks/house.hpp"
#include "solver/questions/bill.hpp"

#include <algorithm>
#include <string>
#include <vector>

namespace headroom::solver {

/// What is counted.
struct Item {
    std::string group, what, unit;
};

/// `there`: it stands in the house already. Prices are those of the house.
class Count {
public:
    explicit Count(const networks::House &house) : prices_(house.prices) {}

    void piece(Item item, double quantity, bool there, networks::Priced price,
               double factor = 1.0) {
        add(std::move(item), quantity, there, prices_[price] * factor, !prices_.given(price), 0.0);
    }
    void pipe(const networks::PipeChoice &pipe, double metres, bool there) {
        if (pipe.bore_m > 0.0)
            add({"pipe", pipe.name, "m"}, metres, there,
                prices_.pipe_per_metre(pipe.name, pipe.bore_m), !prices_.pipes.contains(pipe.name),
                0.0);
    }
    void work(Item item, double quantity, bool there, networks::Priced price) {
        const double hour = prices_[networks::Priced::Hour];
        add(std::move(item), quantity, there, prices_[price], !prices_.given(price),
            hour > 0.0 ? prices_[price] / hour : 0.0);
    }
    /// Work counted in hours, done anew by every change.
    void setting(const std::string &what, double quantity, bool there, networks::Priced hours) {
        BillLine &line = add(
            {"work", what, ""}, quantity, there, prices_[hours] * prices_[networks::Priced::Hour],
            !prices_.given(hours) || !prices_.given(networks::Priced::Hour), prices_[hours]);
        line.redone = true;
    }
    void unpriced(Item item, bool there) {
        BillLine &line = add(std::move(item), 1.0, there, 0.0, false, 0.0);
        line.each.reset();
    }
    std::vector<BillLine> lines;

private:
    BillLine &add(Item item, double quantity, bool there, double each, bool invented,
                  double hours_each) {
        auto line = std::find_if(lines.begin(), lines.end(), [&](const BillLine &known) {
            return known.group == item.group && known.what == item.what;
        });
        if (line == lines.end()) {
            lines.push_back({});
            line = lines.end() - 1;
            line->group = std::move(item.group);
            line->what = std::move(item.what);
            line->unit = std::move(item.unit);
            line->each = each;
            line->invented = invented;
            line->hours_each = hours_each;
        }
        line->quantity += quantity;
        line->there += there ? quantity : 0.0;
        return *line;
    }
    const networks::Prices &prices_;
};

} // namespace headroom::solver
