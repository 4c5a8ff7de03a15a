// The whole line in process: an example house with some of its text changed, read, asked every
// question and reported in every form.
#include "networks/reader.hpp"
#include "solver/report/report.hpp"
#include "tests/fuzz/fuzz.hpp"
#include "tests/fuzz/mutate_house.hpp"

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstring>

using namespace headroom;

namespace {

template <class Answer> void report_in_every_form(const Answer &answer) {
    for (const auto format : {solver::Format::Text, solver::Format::Json, solver::Format::Csv})
        fuzz::must(!solver::report(answer, format).empty(), "an answer has words");
}

void check(const solver::DriveAnswer &answer) {
    if (answer.verdict == solver::Verdict::NotSolved)
        return;
    fuzz::must(std::isfinite(answer.needed_pa) && std::isfinite(answer.available_pa) &&
                   std::isfinite(answer.headroom_pa) && std::isfinite(answer.headroom_low_pa) &&
                   std::isfinite(answer.headroom_high_pa),
               "heads are finite");
    fuzz::must(!answer.sentence.empty(), "a verdict has a sentence");
    for (const solver::EmitterRow &row : answer.emitters)
        fuzz::must(std::isfinite(row.design_l_min) && std::isfinite(row.own_loss_pa) &&
                       std::isfinite(row.surplus_pa) && std::isfinite(row.reaches_share),
                   "an emitter's figures are finite");
}

} // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t *data, std::size_t size) {
    const std::string text(reinterpret_cast<const char *>(data), size);
    networks::Diagnostics diagnostics;
    const auto house = networks::read_house(text, diagnostics);
    if (!house)
        return 0;
    if (solver::why_not_driven(*house).empty()) {
        const solver::DriveAnswer answer = solver::drive(*house);
        check(answer);
        report_in_every_form(answer);
    }
    const solver::FlowsAnswer flows = solver::flows(*house);
    if (flows.outcome.converged())
        report_in_every_form(flows);
    if (!house->rooms.empty())
        report_in_every_form(solver::losses(*house));
    return 0;
}

extern "C" std::size_t LLVMFuzzerMutate(std::uint8_t *data, std::size_t size, std::size_t most);

extern "C" std::size_t LLVMFuzzerCustomMutator(std::uint8_t *data, std::size_t size,
                                               std::size_t most, unsigned seed) {
    if (seed % 32 == 0)
        return LLVMFuzzerMutate(data, size, most);
    const std::string changed =
        fuzz::mutated_house(std::string(reinterpret_cast<const char *>(data), size), seed);
    if (changed.size() > most)
        return size;
    std::memcpy(data, changed.data(), changed.size());
    return changed.size();
}
