#include "solver/report/sheet_report.hpp"

#include "solver/report/figures.hpp"
#include "solver/report/html.hpp"
#include "solver/report/sheet_parts.hpp"

namespace headroom::solver {
namespace {

const char *verdict_look(Verdict verdict) {
    switch (verdict) {
    case Verdict::Yes:
        return "yes";
    case Verdict::Marginal:
        return "marginal";
    default:
        return "no";
    }
}

std::string key_figure(std::string_view what, const std::string &value) {
    return fmt::format("<div><dt>{}</dt><dd>{}</dd></div>\n", what, escaped(value));
}

std::string key_figures(const DriveAnswer &drive) {
    if (drive.index.empty())
        return {};
    std::string out = "<dl class=\"key\">\n";
    out += key_figure("head needed", kpa(drive.needed_pa) + " kPa");
    out += key_figure("head available", kpa(drive.available_pa) + " kPa");
    out += key_figure("headroom", signed_kpa(drive.headroom_pa) + " kPa");
    out += key_figure("within", fmt::format("{} to {} kPa", signed_kpa(drive.headroom_low_pa),
                                            signed_kpa(drive.headroom_high_pa)));
    out += key_figure("flow at the source", fixed(drive.source_l_min, 1) + " l/min");
    out += key_figure("water sent / back",
                      fmt::format("{} / {} °C", fixed(drive.flow_temperature_c, 1),
                                  fixed(drive.return_temperature_c, 1)));
    out += key_figure("index circuit", drive.index);
    return out + "</dl>\n";
}

std::string head(const SheetAnswer &answer) {
    const DriveAnswer &drive = answer.drive;
    std::string out =
        fmt::format("<header id=\"verdict\">\n<h1>{}</h1>\n<p class=\"verdict "
                    "{}\">{}</p>\n",
                    escaped(answer.house), verdict_look(drive.verdict), escaped(drive.sentence));
    for (std::size_t i = 1; i < drive.reasons.size(); ++i)
        out += paragraph("And: " + drive.reasons[i]);
    if (!answer.note.empty())
        out += paragraph(answer.note, "note");
    return out + key_figures(drive) + "</header>\n";
}

std::string contents(const SheetAnswer &answer) {
    std::string out = "<nav aria-label=\"Parts of this sheet\"><ul>\n"
                      "<li><a href=\"#household\">For the household</a></li>\n"
                      "<li><a href=\"#system\">The system</a></li>\n";
    if (answer.season)
        out += "<li><a href=\"#year\">The year</a></li>\n";
    return out + "<li><a href=\"#fitter\">For the fitter</a></li>\n"
                 "<li><a href=\"#record\">For the file</a></li>\n</ul></nav>\n";
}

} // namespace

std::string sheet_page(const SheetAnswer &answer, std::string_view version) {
    std::string out = "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
                      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n";
    out += fmt::format("<title>{}: heating sheet</title>\n<style>{}</style>\n</head>\n<body>\n"
                       "<a class=\"skip\" href=\"#household\">Skip to the sheet</a>\n",
                       escaped(answer.house), sheet_style());
    out += head(answer) + contents(answer) + "<main>\n";
    out += sheet_customer(answer) + sheet_system(answer);
    if (answer.season)
        out += sheet_year(answer);
    out += sheet_fitter(answer) + sheet_record(answer, version);
    return out + "</main>\n</body>\n</html>\n";
}

} // namespace headroom::solver
