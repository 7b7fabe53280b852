#include "report/job_sheet_page.h"

#include <cmath>
#include <cstdio>

#include "base/units.h"
#include "report/page.h"
#include "report/svg.h"

namespace rollwright::report {

namespace unit = base::unit;

namespace {

// Larger than other pages: read from the floor beside the car, ticked with a thick pencil.
constexpr const char* kStyle = R"(<style>
.job { font-size: 1.15rem; } .job ul { list-style: none; padding-left: 0; } .job table { font-size: 1.05rem; } .job td, .job th { padding: .45rem .6rem .45rem 0; }
.box { display: inline-block; width: 1.15em; height: 1.15em; border: 2px solid var(--ink); vertical-align: -.2em; }
.blank { min-width: 6.5rem; } .step { display: grid; grid-template-columns: 2.2rem 2.2rem 1fr; gap: 0 .5rem; margin: .7rem 0; break-inside: avoid; } .step > b { font-size: 1.3rem; }
.sheet { break-before: page; border-top: 2px solid var(--ink); margin-top: 1.6rem; padding-top: .8rem; } .line { border-bottom: 1.2px solid var(--ink); min-width: 9rem; height: 2rem; }
@media print { .job { font-size: 12pt; } .job table { font-size: 11pt; } .sheet { border-top: none; margin-top: 0; } }
</style>)";

const char* kBox = "<span class=\"box\"></span>";

std::string cell(const std::string& text, const char* kind = "") { return std::string("<td") + kind + ">" + escaped(text) + "</td>"; }

std::string number(double value, int decimals) {
  char text[40];
  std::snprintf(text, sizeof text, "%.*f", decimals, value);
  return text;
}

// Metric with imperial beside it: a wrench may be marked either way.
std::string torque(base::Moment m) { return number(unit::nm.of(m), 0) + " N·m (" + number(unit::pound_foot.of(m), 0) + " lbf·ft)"; }
std::string length(base::Length l) { return number(unit::mm.of(l), 1) + " mm (" + number(unit::inch.of(l), 2) + " in)"; }

std::string blank_rows(int rows, int columns) {
  std::string out;
  for (int i = 0; i < rows; ++i) {
    out += "<tr>";
    for (int c = 0; c < columns; ++c) out += "<td class=\"line\"></td>";
    out += "</tr>";
  }
  return out;
}

std::string head(const std::string& title, const ops::FitSheetResult& s) {
  return "<h1>" + escaped(title) + "</h1><p>" + escaped(s.car) + (s.invented ? " (invented: this car does not exist)" : "") + " · " + escaped(s.job) +
         "</p><p>Date ……………… &nbsp; Distance ……………… km</p>\n";
}

std::string statements(const std::vector<ops::SheetStatement>& rows) {
  std::string out = "<table>";
  for (const auto& r : rows) out += "<tr><th>" + escaped(r.item) + "</th>" + cell(r.text) + "</tr>";
  return out + "</table>";
}

std::string torque_table(const ops::FitSheetResult& s) {
  std::string out = "<h2>Torques</h2><table><thead><tr><th>What</th><th>Thread</th><th class=\"n\">Torque</th><th>From</th><th class=\"n\">Preload</th><th class=\"blank\">Done</th><th class=\"blank\">50 km</th></tr></thead><tbody>";
  for (const auto& b : s.torques) {
    out += "<tr>" + cell(b.name) + cell(b.thread) + "<td class=\"n\"><b>" + escaped(torque(b.torque)) + "</b></td>" + cell(b.is_makers ? "maker" : "computed") + "<td class=\"n\">" +
           escaped(number(1e-3 * b.preload.low.si(), 0) + " to " + number(1e-3 * b.preload.high.si(), 0) + " kN") + "</td><td>" + kBox + "</td><td>" + kBox + "</td></tr>";
  }
  if (s.torques.empty()) out += blank_rows(6, 7);
  return out + "</tbody></table>\n";
}

std::string link_table(const ops::FitSheetResult& s) {
  std::string out = "<h2>Links</h2><table><thead><tr><th>Side</th><th class=\"n\">Length, joint to joint</th><th>How</th><th class=\"blank\">Set to</th><th class=\"blank\">Thread left</th></tr></thead><tbody>";
  const auto row = [&](const char* side, const std::optional<base::Interval<base::Length>>& l) {
    std::string how;
    for (const auto& c : s.links) {
      if (c.side == side) how = c.advice;
    }
    out += "<tr><td>" + std::string(side) + "</td><td class=\"n\"><b>" + (l ? escaped(length(l->value)) : "………") + "</b>" +
           (l && l->pm().si() > 0 ? escaped(" ± " + number(unit::mm.of(l->pm()), 1)) : "") + "</td>" + cell(how) + "<td class=\"line\"></td><td class=\"line\"></td></tr>";
  };
  row("left", s.left_length);
  row("right", s.right_length);
  return out + "</tbody></table>\n";
}

}  // namespace

std::string job_sheet_body(const ops::FitSheetResult& s) {
  std::string out = std::string(kStyle) + "<div class=\"job\">" + head(s.title, s) + "<p class=\"said\">" + escaped(s.meaning) + "</p>\n";
  if (!s.stop_first.empty()) {
    std::string all;
    for (const auto& t : s.stop_first) all += t + " ";
    out += caution("Settle this before starting", all);
  }
  out += "<h2>Tools</h2><ul>";
  for (const auto& t : s.tools) out += "<li>" + std::string(kBox) + " " + escaped(t) + "</li>";
  out += "</ul>\n<h2>Parts, before anything comes off</h2><table><thead><tr><th>Part</th><th>Look for</th><th>Should be</th><th class=\"blank\">Measured</th><th>Good</th></tr></thead><tbody>";
  for (const auto& i : s.inspection) out += "<tr>" + cell(i.part) + cell(i.check) + cell(i.wanted) + "<td class=\"line\"></td><td>" + kBox + "</td></tr>";
  out += "</tbody></table>\n" + torque_table(s) + link_table(s) + "<h2>Order of work</h2>\n";
  for (const auto& step : s.steps) {
    if (!step.caution.empty()) out += caution(step.caution_title, step.caution);
    out += "<div class=\"step\"><b>" + std::to_string(step.number) + "</b><span>" + kBox + "</span><div><b>" + escaped(step.title) + "</b><br>" + escaped(step.text) + "</div></div>\n";
    if (step.title == "Through the travel") {
      out += "<ul>";
      for (const auto& t : s.through_travel) out += "<li>" + escaped(t) + "</li>";
      out += "</ul>\n";
    }
  }
  out += "<h2>Re-check</h2><table><thead><tr><th>When</th><th>What</th><th class=\"blank\">At km</th><th class=\"blank\">Signed</th></tr></thead><tbody>";
  for (const auto& c : s.recheck) out += "<tr>" + cell(c.when) + cell(c.what) + "<td class=\"line\"></td><td class=\"line\"></td></tr>";
  out += "</tbody></table>\n<h2>Signatures</h2><table>";
  for (const auto& name : s.signatures) out += "<tr><th>" + escaped(name) + "</th><td class=\"line\"></td><td class=\"line\"></td></tr>";
  out += "</table></div>\n";

  out += "<div class=\"job sheet\">" + head("Settings card", s) + "<table><thead><tr><th>Use</th><th>Front holes</th><th>Rear holes</th><th>Pressures, cold</th><th>Note</th></tr></thead><tbody>";
  for (const auto& c : s.settings_card) {
    out += "<tr><th>" + escaped(c.use) + "</th>";
    for (const std::string* t : {&c.front_bar, &c.rear_bar, &c.pressures, &c.note}) out += t->empty() ? std::string("<td class=\"line\"></td>") : cell(*t);
    out += "</tr>";
  }
  out += "</tbody></table><p>Hole 1 is the farthest from the bar's straight: softest. After changing holes set the links again by the window method. Never test on a public road.</p></div>\n";
  out += "<div class=\"job sheet\">" + head("For the scrutineer", s) + statements(s.scrutineer) + "<table><tr><th>Entrant</th><td class=\"line\"></td><th>Scrutineer</th><td class=\"line\"></td></tr></table></div>\n";
  out += "<div class=\"job sheet\">" + head("For the insurer", s) + statements(s.insurer) +
         "<p>Rules for suspension changes differ by state and country and change; the insurer was told before the car was driven on the road.</p><table><tr><th>Owner</th><td class=\"line\"></td><th>Date</th><td class=\"line\"></td></tr></table></div>\n";
  return out;
}

}  // namespace rollwright::report
