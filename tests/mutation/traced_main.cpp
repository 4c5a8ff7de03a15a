// The main of the suites that try mutants: after each test case it notes its time and what was
// reached meanwhile, by the test case itself or by the program it started.
#define CATCH_CONFIG_MAIN
#include "mutant.hpp"
#include <catch2/catch.hpp>
#include <cstring>
#include <fstream>
#include <set>
#include <sys/resource.h>
namespace {
double spent() {
    double sum = 0.0;
    for (int who : {RUSAGE_SELF, RUSAGE_CHILDREN}) {
        rusage used{};
        getrusage(who, &used);
        sum += static_cast<double>(used.ru_utime.tv_sec + used.ru_stime.tv_sec) +
               1e-6 * static_cast<double>(used.ru_utime.tv_usec + used.ru_stime.tv_usec);
    }
    return sum;
}
struct Notes : Catch::TestEventListenerBase {
    using TestEventListenerBase::TestEventListenerBase;
    const char *file = std::getenv("HEADROOM_MUTANT_NOTES");
    double start = 0.0;
    void testCaseStarting(const Catch::TestCaseInfo &) override {
        std::memset(headroom_mutation::seen, 0, sizeof headroom_mutation::seen);
        start = spent();
    }
    void testCaseEnded(const Catch::TestCaseStats &stats) override {
        if (!file)
            return;
        std::set<int> reached;
        for (std::size_t i = 0; i < sizeof headroom_mutation::seen; ++i)
            if (headroom_mutation::seen[i])
                reached.insert(static_cast<int>(i));
        if (const char *by_program = std::getenv("HEADROOM_MUTANT_TRACE")) {
            std::ifstream in(by_program);
            for (int i = 0; in >> i;)
                reached.insert(i);
            std::remove(by_program);
        }
        std::ofstream out(file, std::ios::app);
        out << stats.testInfo.name << '\t' << !stats.totals.assertions.failed << '\t'
            << spent() - start << '\t';
        for (int i : reached)
            out << i << ' ';
        out << '\n';
    }
};
CATCH_REGISTER_LISTENER(Notes)
} // namespace
