#include "report/page.h"

#include "report/svg.h"

namespace rollwright::report {
namespace {

// Ink on paper, four line weights; before is dashed, after solid. Colours follow the workbench and carry nothing alone.
constexpr const char* kStyle = R"(
:root { --ink:#1c2326; --pencil:#50585a; --line:#737b7a; --before:#1b4c9c; --after:#b2301a; --tape:#f5c736; }
@page { size: auto; margin: 14mm; }
* { box-sizing: border-box; }
body { margin: 0 auto; max-width: 60rem; padding: 1.2rem; color: var(--ink); background: #fff; font: 1rem/1.4 "Atkinson Hyperlegible Next", "Atkinson Hyperlegible", system-ui, sans-serif; }
main { border: 2.5px solid var(--ink); padding: 1.2rem 1.4rem; }
h1 { font-size: 1.9rem; font-weight: 500; margin: 0 0 .2rem; } h2 { font-size: 1.2rem; font-weight: 600; margin: 1.3rem 0 .4rem; }
p { margin: .3rem 0; max-width: 46rem; } .pencil, small { color: var(--pencil); }
.said { font-size: 1.35rem; line-height: 1.25; margin: .6rem 0; }
.heroes { display: flex; flex-wrap: wrap; gap: .6rem 2.4rem; margin: .8rem 0; } .hero b { display: block; font-weight: 500; font-size: 2.3rem; line-height: 1.05; } .hero b small { font-size: 1.1rem; }
.two { display: grid; grid-template-columns: 1fr 1fr; gap: 0 1.6rem; } @media (max-width: 44rem) { .two { grid-template-columns: 1fr; } }
figure { margin: .4rem 0; break-inside: avoid; } figure.narrow { max-width: 34rem; } figcaption { font-size: .85rem; color: var(--pencil); }
svg { width: 100%; height: auto; } svg text { font-size: 13px; fill: var(--ink); } svg text.small { font-size: 10.5px; }
.axis, .before, .after, .tick, .grid, .dot, .ring { fill: none; stroke: var(--ink); stroke-width: 1.2; } .grid { stroke: #c3c9c1; stroke-width: .7; } .tick { stroke-width: .7; }
.before { stroke: var(--before); stroke-width: 2; stroke-dasharray: 7 4; } .after { stroke: var(--after); stroke-width: 2.4; } .mark { stroke-dasharray: none; fill: #fff; }
.after.fill { fill: var(--after); stroke: none; } .dot.fill { fill: var(--ink); stroke: none; } .ring { stroke-width: 2; } .block { stroke: var(--ink); stroke-width: 1.4; }
table { border-collapse: collapse; width: 100%; font-size: .93rem; break-inside: auto; } th, td { text-align: left; padding: .28rem .7rem .28rem 0; border-bottom: 1px solid var(--line); vertical-align: top; } th { font-weight: 600; } td.n, th.n { text-align: right; white-space: nowrap; } tr { break-inside: avoid; }
.caution { display: grid; grid-template-columns: 16px 1fr; gap: 0 .8rem; border: 1.8px solid var(--ink); margin: .8rem 0; break-inside: avoid; } .caution::before { content: ""; background: repeating-linear-gradient(-45deg, var(--tape) 0 8px, var(--ink) 8px 16px); -webkit-print-color-adjust: exact; print-color-adjust: exact; } .caution div { padding: .5rem .6rem .5rem 0; } .caution b { display: block; }
details { margin-top: .8rem; } summary { min-height: 2.75rem; padding: .6rem 0; font-weight: 600; cursor: pointer; }
footer { margin-top: .8rem; font-size: .82rem; color: var(--pencil); } ul { margin: .3rem 0; padding-left: 1.2rem; }
@media print { body { padding: 0; font-size: 9.5pt; max-width: none; } html.one-page, .one-page body { font-size: 8.2pt; } .one-page h2 { margin-top: .5rem; } .one-page svg { max-height: 46mm; } .one-page td, .one-page th { padding-top: .12rem; padding-bottom: .12rem; } main { padding: .7rem 1rem; } h1 { font-size: 17pt; } h2 { margin-top: .7rem; } .hero b { font-size: 20pt; } .two { grid-template-columns: 1fr 1fr; } figure.narrow { max-width: 28rem; } details:not([open]) { display: none; } th, td { padding-top: .18rem; padding-bottom: .18rem; } :root { --before:#000; --after:#000; --pencil:#222; --tape:#fff; } }
)";

}  // namespace

std::string page(const std::string& title, const std::string& body, const std::string& build, Paper paper) {
  return std::string("<!doctype html>\n<html lang=\"en\"") + (paper == Paper::one_page ? " class=\"one-page\"" : "") + "><head><meta charset=\"utf-8\"><meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>" + escaped(title) +
         " · Rollwright</title>\n<style>" + kStyle + "</style></head>\n<body><main>\n" + body + "</main>\n<footer>Rollwright " + escaped(build) +
         ". For your own car, on private ground, within the maker's manual and your local rules; have safety-relevant work checked by a licensed workshop.</footer></body></html>\n";
}

std::string caution(const std::string& title, const std::string& text) {
  return "<div class=\"caution\"><div><b>" + escaped(title) + "</b>" + escaped(text) + "</div></div>\n";
}

}  // namespace rollwright::report
