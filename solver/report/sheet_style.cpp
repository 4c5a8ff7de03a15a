// The look of the sheet. Colours have a contrast of 4.5 and more on their ground; what a colour
// tells, a dash, a shape or a word tells too.
#include "solver/report/sheet_parts.hpp"

namespace headroom::solver {
namespace {

constexpr std::string_view page_style = R"css(
:root { color: #1b1b1b; background: #fff; font: 16px/1.5 system-ui, "DejaVu Sans", sans-serif; }
* { box-sizing: border-box; }
body { margin: 0 auto; max-width: 66rem; padding: 0 1rem 3rem; overflow-wrap: anywhere; }
h1 { font-size: 1.6rem; line-height: 1.2; margin: 1rem 0 .5rem; }
h2 { font-size: 1.35rem; margin: 2.5rem 0 .5rem; border-bottom: 3px solid #2f4858; }
h3 { font-size: 1.08rem; margin: 1.6rem 0 .3rem; }
a { color: #0b4a7a; }
a:focus-visible, .scroll:focus-visible { outline: 3px solid #7a4a00; outline-offset: 2px; }
.skip { position: absolute; left: -99rem; }
.skip:focus { position: static; }
nav ul { display: flex; flex-wrap: wrap; gap: .3rem 1.2rem; list-style: none; padding: 0; }
.verdict { font-size: 1.2rem; padding: .7rem 1rem; border: 2px solid; border-left-width: 12px; }
.yes { border-color: #1f6b3a; background: #eef7f0; }
.no { border-color: #8d1f1f; background: #fbf0ee; }
.marginal { border-color: #7a4a00; background: #fdf6e6; }
.caution { padding: .5rem 1rem; border-left: 6px solid #7a4a00; background: #fdf6e6; }
.note { color: #474747; }
.scroll { overflow-x: auto; max-width: 100%; }
table { border-collapse: collapse; font-size: .92rem; margin: .4rem 0; min-width: 50%; }
caption { text-align: left; font-weight: 600; padding: .5rem 0 .3rem; }
th, td { border-bottom: 1px solid #b9b9b9; padding: .25rem .6rem .25rem 0; text-align: left;
  vertical-align: top; overflow-wrap: normal; }
tbody th { font-weight: 500; }
tbody th:not(.n), td:not(.n):not(.fill) { min-width: 6.5rem; }
thead th { border-bottom: 2px solid #2f4858; vertical-align: bottom; }
thead small { font-weight: 400; color: #474747; white-space: nowrap; }
.n { text-align: right; font-variant-numeric: tabular-nums; padding-left: .4rem; }
.fill { min-width: 5.2rem; border-left: 1px solid #b9b9b9; padding-left: .4rem; }
td.fill { height: 2rem; }
figure { margin: 1.2rem 0; }
figure h3 { margin: 0 0 .3rem; }
figcaption { font-size: .92rem; }
svg { display: block; height: auto; }
figure svg { min-width: 40rem; max-width: none; }
@media screen and (min-width: 68rem) { figure svg { max-width: 100%; } }
.key { display: flex; flex-wrap: wrap; gap: .6rem 2rem; margin: .6rem 0; padding: 0; }
.key div { min-width: 8rem; }
.key dt { font-size: .88rem; color: #474747; }
.key dd { margin: 0; font-size: 1.3rem; font-weight: 600; }
)css";

constexpr std::string_view drawing_style = R"css(
svg text { font-size: 12px; fill: #1b1b1b; }
svg .strong { font-weight: 600; }
svg .small { font-size: 11px; fill: #333; }
svg .halo { paint-order: stroke; stroke: #fff; stroke-width: 4px; stroke-linejoin: round; }
.flow { stroke: #a1301a; fill: none; }
.back { stroke: #1d5a9c; stroke-dasharray: 7 4; fill: none; }
.turn { stroke: #5d4560; }
.gap { stroke: #fff; }
.index { stroke: #f4d98b; fill: #f4d98b; }
.joint { fill: #1b1b1b; }
.post { stroke: #2f4858; }
.vessel { fill: #e3e8ec; stroke: #2f4858; stroke-width: 1.5; }
.machine { fill: #f4f1ea; stroke: #2f4858; stroke-width: 1.5; }
.outline { fill: none; stroke: #2f4858; stroke-dasharray: 2 3; }
.slab { fill: #eeebe4; stroke: #77706a; }
.hatch-mark, .mark { stroke: #5d5852; stroke-width: 1.2; }
.symbol { fill: #fff; stroke: #1b1b1b; stroke-width: 1.5; }
.ink { fill: #1b1b1b; }
.grid { stroke: #dedede; }
.axis { stroke: #1b1b1b; stroke-width: 1.5; }
.curve { fill: none; stroke-linejoin: round; }
.a { stroke: #6f3800; }
.b { stroke: #0b5e3c; }
.c { stroke: #1d5a9c; }
.d { stroke: #6b2a82; }
.dots { stroke-dasharray: 2 5; stroke-linecap: round; }
.dashes { stroke-dasharray: 10 5; }
.bar { stroke: #1b1b1b; stroke-width: 1; }
.own { fill: #41708f; }
.surplus { fill: #f1dfb4; }
.dot { stroke-width: 2.5; }
.flow-dot { fill: #a1301a; stroke: #a1301a; }
.back-dot { fill: #fff; stroke: #1d5a9c; }
.isotherm { stroke: #a1301a; stroke-width: 1.2; }
.layer-cover { fill: #c9a26f; stroke: #5d5852; }
.layer-screed { fill: #e9e6e0; stroke: #5d5852; }
.layer-board { fill: #e4ecdc; stroke: #5d5852; }
.layer-insulation { fill: #fbf1cf; stroke: #5d5852; }
.layer-slab { fill: #d2d4d6; stroke: #5d5852; }
.pipe-wall { fill: #5d5852; }
.pipe-water { fill: #f6d5cb; }
)css";

constexpr std::string_view print_style = R"css(
@page { size: A4; margin: 14mm; }
@page across { size: A4 landscape; margin: 12mm; }
@media print {
  :root { font-size: 10.5pt; }
  body { max-width: none; padding: 0; }
  #verdict, #household { font-size: 9pt; line-height: 1.3; }
  #household h2, #household h3 { margin: .5rem 0 .2rem; }
  #household p, #household ul, #verdict p { margin: .25rem 0; }
  #household li { margin: .1rem 0; }
  #household table { font-size: 8pt; }
  #household th, #household td { padding-top: .1rem; padding-bottom: .1rem; }
  nav, .skip { display: none; }
  a { color: inherit; text-decoration: none; }
  h2, h3, caption { break-after: avoid; page-break-after: avoid; }
  section.page { break-before: page; page-break-before: always; }
  tr, figure, .verdict, .caution, li { break-inside: avoid; page-break-inside: avoid; }
  thead { display: table-header-group; }
  .scroll { overflow: visible; }
  table { width: 100%; font-size: 8.5pt; }
  th, td { padding-right: .3rem; }
  tbody th:not(.n), td:not(.n):not(.fill) { min-width: 0; }
  tbody th:not(.n), td:not(.n) { overflow-wrap: anywhere; }
  .fill { min-width: 3.6rem; }
  figure svg { min-width: 0; max-width: 100%; max-height: 215mm; }
  figure.wide { page: across; break-before: page; break-after: page; }
  figure.wide svg { max-height: 150mm; }
  svg, .verdict, .caution { print-color-adjust: exact; -webkit-print-color-adjust: exact; }
}
)css";

} // namespace

std::string sheet_style() {
    std::string out(page_style);
    out += drawing_style;
    out += print_style;
    return out;
}

} // namespace headroom::solver
