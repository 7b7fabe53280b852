#include "report/verdict_page.h"

#include <cmath>
#include <cstdio>

#include "base/units.h"
#include "report/figures.h"
#include "report/number_text.h"
#include "report/page.h"
#include "report/svg.h"

namespace rollwright::report {

namespace unit = base::unit;

namespace {

std::string hero(const std::string& label, const std::string& number, const std::string& small) {
  return "<div class=\"hero\"><span>" + escaped(label) + "</span><b>" + escaped(number) + " <small>" + escaped(small) + "</small></b></div>\n";
}

std::string signed_percent(double ratio) {
  char text[32];
  std::snprintf(text, sizeof text, "%+.0f", 100 * ratio);
  std::string s = text;
  if (s[0] == '-') s = "−" + s.substr(1);
  return s;
}

std::string change_hero(const std::string& label, const base::Interval<base::Ratio>& change) {
  char pm[32];
  std::snprintf(pm, sizeof pm, "± %.0f %%", 50 * (double(change.high) - double(change.low)));
  return hero(label, signed_percent(change.value), pm);
}

std::string money(base::Money amount, const std::string& currency) {
  char text[48];
  std::snprintf(text, sizeof text, "%.0f", amount.si());
  return std::string(text) + (currency.empty() ? "" : " " + currency);
}

std::string effects_table(const ops::VerdictResult& v) {
  std::string out = "<h2>Effect by effect</h2><table><thead><tr><th>What</th><th class=\"n\">before</th><th class=\"n\">after</th><th class=\"n\">change</th><th>from</th></tr></thead><tbody>\n";
  for (const auto& e : v.effects) {
    out += "<tr><td>" + escaped(e.what) + "</td><td class=\"n\">" + escaped(e.before) + "</td><td class=\"n\">" + escaped(e.after) + "</td><td class=\"n\">" + escaped(e.change) + "</td><td>" +
           escaped(e.from) + "</td></tr>\n";
  }
  return out + "</tbody></table>\n";
}

std::string alternatives_table(const ops::VerdictResult& v) {
  if (v.alternatives.empty()) return "";
  std::string out = "<h2>The same money would have bought</h2><table><thead><tr><th>What</th><th class=\"n\">price</th><th class=\"n\">lean</th><th class=\"n\">grip</th></tr></thead><tbody>\n";
  for (const auto& a : v.alternatives) {
    out += "<tr><td>" + escaped(a.name) + "</td><td class=\"n\">" + escaped(money(a.price, v.currency)) + "</td><td class=\"n\">" +
           escaped(number_text(a.roll_gradient_change.value, a.roll_gradient_change.pm(), &unit::percent)) + " %</td><td class=\"n\">" +
           escaped(number_text(a.limit_change.value.si(), a.limit_change.pm().si(), &unit::g)) + " g</td></tr>\n";
  }
  return out + "</tbody></table>\n";
}

std::string flags_list(const ops::VerdictResult& v) {
  if (!v.proof || v.proof->flags.empty()) return "";
  std::string out = "<h2>What limits the measurement</h2><ul>";
  for (const auto& f : v.proof->flags) out += "<li>" + escaped(f.text) + "</li>";
  return out + "</ul>\n";
}

}  // namespace

std::string verdict_body(const ops::VerdictResult& v) {
  std::string out = "<h1>Was it worth it?</h1><p class=\"pencil\">" + escaped(v.car) + (v.invented ? " (invented: this car does not exist)" : "") + "</p>\n";
  out += "<p class=\"said\">" + escaped(v.meaning) + "</p><p>" + escaped(v.why) + " " + escaped(v.next) + "</p>\n<div class=\"heroes\">";
  if (v.proof && v.proof->change) out += change_hero("lean, measured", *v.proof->change);
  out += change_hero("lean, forecast", v.forecast.changes.at(0).roll_gradient_change);
  if (v.total_cost.si() > 0) out += hero("cost with your hours", money(v.total_cost, v.currency), "");
  if (v.cost_per_percent) out += hero("for each per cent of lean", money(*v.cost_per_percent, v.currency), "");
  out += "</div>\n";
  if (v.proof && v.proof->forecast) out += "<p>" + escaped(v.proof->forecast->text) + "</p>\n";
  if (!v.felt.empty()) out += "<p>" + escaped(v.felt) + "</p>\n";
  out += "<div class=\"two\"><figure>" + lean_figure(v.forecast, v.proof ? &*v.proof : nullptr) +
         "<figcaption>Lean against lateral acceleration. Before: dashed, open circles. After: solid, triangles. Lines are the forecast at the stated values, marks are measured passes (mean of their corners; in a slalom the body swings a little past its steady lean).</figcaption></figure>\n";
  char g[16];
  std::snprintf(g, sizeof g, "%.1f", unit::g.of(v.forecast.lateral));
  out += "<figure>" + loads_figure(v.forecast) + "<figcaption>Load under each tyre in a left turn of " + g + " g. Depth is load. The sum that moves across stays nearly the same; the bar moves its split.</figcaption></figure></div>\n";
  out += effects_table(v);
  out += alternatives_table(v);
  out += flags_list(v);
  out += caution("Before you drive", "Torque every link, bracket and wheel nut to the maker's figure, turn the steering from lock to lock and look for contact, and check all of it again after the first 100 km. Test only on private ground with permission, never on a public road.");
  return out;
}

std::string verdict_evidence(const ops::VerdictResult& v) {
  std::string out;
  if (v.holes) {
    out += "<h2>All holes</h2><p>" + escaped(v.holes->meaning) + "</p><figure class=\"narrow\">" + holes_figure(*v.holes) +
           "<figcaption>Each point is one pair of settings, front and rear. On an upright line the balance is the same. A cross marks what something speaks against; the ring is the best for the wish.</figcaption></figure>\n";
  }
  return out;
}

}  // namespace rollwright::report
