#include <algorithm>
#include <cmath>
#include <cstdio>

#include "ops/shared/sentences.h"
#include "ops/shared/sharing.h"

namespace rollwright::ops {
namespace {

namespace unit = base::unit;

std::string number(double value, int decimals) {
  char text[48];
  std::snprintf(text, sizeof text, "%.*f", decimals, value);
  std::string s = text;
  if (!s.empty() && s[0] == '-') s = "−" + s.substr(1);
  return s;
}

// A number for a drawing: an ordinary minus sign.
std::string turned(double degrees) {
  char text[48];
  std::snprintf(text, sizeof text, "%.1f", degrees);
  return text;
}

std::string words(double x, double y, double size, const std::string& text, const std::string& more = "") {
  return "<text x=\"" + number(x, 0) + "\" y=\"" + number(y, 0) + "\" font-size=\"" + number(size, 0) + "\"" + more + ">" + text + "</text>\n";
}

// A car from behind, leaning to the right by `lean`, drawn at twice its angle and said so: one or two degrees are hardly seen.
constexpr double kShownTimes = 2.0;
std::string car(double x, double y, double lean_deg, const std::string& line, const std::string& label) {
  const std::string turn = "rotate(" + turned(kShownTimes * lean_deg) + ")";
  std::string out = "<g transform=\"translate(" + number(x, 0) + " " + number(y, 0) + ")\">\n";
  out += "<path d=\"M-170 92H170\" class=\"thin\"/>\n";
  out += "<rect x=\"-122\" y=\"32\" width=\"38\" height=\"60\" rx=\"8\" class=\"" + line + "\"/><rect x=\"84\" y=\"32\" width=\"38\" height=\"60\" rx=\"8\" class=\"" + line + "\"/>\n";
  out += "<g transform=\"" + turn + "\"><path d=\"M-112 44V-2Q-112 -18 -98 -22L-72 -72Q-68 -80 -58 -80H58Q68 -80 72 -72L98 -22Q112 -18 112 -2V44Z\" class=\"" + line + "\"/><path d=\"M-82 -26L-62 -66H62L82 -26Z\" class=\"thin\"/></g>\n";
  out += "<text y=\"128\" font-size=\"24\" text-anchor=\"middle\">" + label + "</text>\n</g>\n";
  return out;
}

}  // namespace

std::string share_picture(const ShareSheet& s) {
  const bool is_measured = s.measured_change.has_value();
  const auto& change = is_measured ? *s.measured_change : s.forecast_change;
  const double middle = 100 * double(change.value), half = 50 * (double(change.high) - double(change.low));
  const double g = 0.5;
  const auto lean = [&](const base::Interval<base::AnglePerAcceleration>& i) { return g * unit::deg_per_g.of(i.value); };
  const std::string verdict = worth_words(s.worth);
  const std::string said = "leans " + number(std::abs(middle), 0) + " ± " + number(half, 0) + " % " + (middle <= 0 ? "less" : "more") + (is_measured ? ", measured" : ", as forecast, not measured");

  std::string out = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"1200\" height=\"630\" viewBox=\"0 0 1200 630\" role=\"img\" aria-label=\"" + verdict + ": " + said + "\">\n";
  out += "<style>text{font-family:'Atkinson Hyperlegible Next','Atkinson Hyperlegible',system-ui,sans-serif;fill:#1c2326}"
         ".before,.after{fill:#fff;stroke-width:4;stroke:#1b4c9c}.before{stroke-dasharray:12 7}.after{stroke:#b2301a}.thin{fill:none;stroke:#50585a;stroke-width:2}</style>\n";
  out += "<rect width=\"1200\" height=\"630\" fill=\"#fff\"/><rect x=\"16\" y=\"16\" width=\"1168\" height=\"598\" fill=\"none\" stroke=\"#1c2326\" stroke-width=\"4\"/>\n";
  out += words(60, 110, 76, verdict) + words(60, 168, 40, said);
  std::string parts;
  for (const auto part : s.changed) parts += std::string(parts.empty() ? "" : ", ") + part_words(part);
  if (!parts.empty()) out += words(60, 212, 26, "Changed: " + parts);
  out += car(260, 370, lean(s.lean_before), "before", "before: leans " + number(lean(s.lean_before), 1) + "° at 0.5 g");
  out += car(640, 370, lean(s.lean_after), "after", "after: leans " + number(lean(s.lean_after), 1) + "° at 0.5 g");
  // The interval against what was wanted.
  const double low = std::min({100 * double(change.low), 100 * double(s.wanted_change), 100 * double(s.forecast_change.low)}) - 5, high = std::max(5.0, 100 * double(change.high) + 3);
  const auto at = [&](double percent) { return 860 + 270 * (percent - low) / (high - low); };
  const auto bar = [&](const base::Interval<base::Ratio>& i, double y, const char* style) {
    return "<path d=\"M" + number(at(100 * double(i.low)), 0) + " " + number(y, 0) + "H" + number(at(100 * double(i.high)), 0) + "\" style=\"" + style + "\"/><circle cx=\"" + number(at(100 * double(i.value)), 0) +
           "\" cy=\"" + number(y, 0) + "\" r=\"8\" fill=\"#1c2326\"/>\n";
  };
  const auto upright = [&](double percent, const std::string& text) {
    const double x = at(percent);
    return "<path d=\"M" + number(x, 0) + " 270V430\" class=\"thin\"/>" + words(x, 458, 22, text, " text-anchor=\"middle\"");
  };
  out += upright(0, "no change") + (at(0) - at(100 * double(s.wanted_change)) > 96 ? upright(100 * double(s.wanted_change), "wanted") : "");
  out += words(860, 306, 22, "forecast") + bar(s.forecast_change, 326, "stroke:#50585a;stroke-width:6;stroke-dasharray:4 5");
  if (is_measured) out += words(860, 376, 22, "measured") + bar(change, 396, "stroke:#b2301a;stroke-width:10");
  std::string cost = s.work.si() > 0.0 ? number(unit::hours.of(s.work), 1) + " h of work" : s.total_cost ? "no own work" : "cost not said";
  if (s.total_cost) cost = s.currency + " " + number(s.parts_cost->si(), 0) + " of parts, " + cost;
  if (s.forecast_held) cost += *s.forecast_held ? "; the forecast held" : "; the forecast did not hold";
  out += words(60, 552, 28, cost);
  out += words(60, 590, 20, std::string("Leaning drawn at twice its angle; bars cover nineteen times in twenty.") + (s.invented ? " An invented car." : ""));
  out += words(1140, 590, 20, "Rollwright", " text-anchor=\"end\"");
  return out + "</svg>\n";
}

}  // namespace rollwright::ops
