#pragma once

#include <Eigen/Dense>
#include <deque>

namespace headroom::solver {

/// Anderson mixing for x = g(x): the next x is the combination of the last few whose disagreements
/// g(x) - x, combined alike, come nearest to nothing. Converges where plain repetition overshoots,
/// and needs no derivative. `depth` last steps are kept; `share` of the remaining disagreement is
/// followed.
class AndersonMixing {
public:
    explicit AndersonMixing(std::size_t depth = 5, double share = 0.5)
        : depth_(depth), share_(share) {}

    Eigen::VectorXd next(const Eigen::VectorXd &x, const Eigen::VectorXd &g) {
        const Eigen::VectorXd miss = g - x;
        if (last_x_.size() == x.size()) {
            moves_.push_back(x - last_x_);
            changes_.push_back(miss - last_miss_);
            if (moves_.size() > depth_) {
                moves_.pop_front();
                changes_.pop_front();
            }
        }
        last_x_ = x;
        last_miss_ = miss;
        Eigen::VectorXd out = x + share_ * miss;
        if (moves_.empty())
            return out;
        const auto columns = static_cast<Eigen::Index>(moves_.size());
        Eigen::MatrixXd changes(x.size(), columns);
        for (Eigen::Index k = 0; k < columns; ++k)
            changes.col(k) = changes_[static_cast<std::size_t>(k)];
        const Eigen::VectorXd weights = changes.colPivHouseholderQr().solve(miss);
        for (Eigen::Index k = 0; k < columns; ++k)
            out -= weights[k] * (moves_[static_cast<std::size_t>(k)] + share_ * changes.col(k));
        return out;
    }

    /// Forgets what was learnt, as after a step that had to be taken back.
    void forget() {
        moves_.clear();
        changes_.clear();
        last_x_.resize(0);
    }

private:
    std::size_t depth_;
    double share_;
    std::deque<Eigen::VectorXd> moves_;
    std::deque<Eigen::VectorXd> changes_;
    Eigen::VectorXd last_x_;
    Eigen::VectorXd last_miss_;
};

} // namespace headroom::solver
