#include "report/figures.h"

#include <algorithm>
#include <cstdio>
#include <tuple>
#include <cmath>

#include "base/units.h"
#include "report/svg.h"

namespace rollwright::report {

namespace unit = base::unit;

namespace {

void mark_passes(Plot& plot, const ops::OutingRecord& outing, bool is_before) {
  for (const auto& pass : outing.passes) {
    if (!pass.is_used) continue;
    const PlotPoint at{unit::g.of(pass.peak_lateral), unit::deg.of(pass.peak_roll)};
    is_before ? plot.circle(at, "before mark") : plot.triangle(at, "after fill");
  }
}

std::string number(double value, int decimals) {
  char text[48];
  std::snprintf(text, sizeof text, "%.*f", decimals, value);
  return text;
}

}  // namespace

std::string lean_figure(const ops::CompareResult& forecast, const ops::TestProveResult* proof) {
  double most_lean = 1.0, most_g = 0.5;
  for (std::size_t s = 0; s < 2; ++s) {
    for (const auto& p : forecast.setups[s].curve) {
      most_lean = std::max(most_lean, unit::deg.of(p.roll));
      most_g = std::max(most_g, unit::g.of(p.lateral));
    }
  }
  Plot plot("Lean against lateral acceleration, before and after", {0, std::ceil(most_g * 10) / 10, "lateral acceleration, g", 0.1, 1},
            {0, std::ceil(most_lean), "lean, degrees", 1, 0});
  for (std::size_t s = 0; s < 2; ++s) {
    const auto& setup = forecast.setups[s];
    std::vector<PlotPoint> points;
    for (const auto& p : setup.curve) points.push_back({unit::g.of(p.lateral), unit::deg.of(p.roll)});
    if (points.empty()) continue;
    plot.line(points, s == 0 ? "before" : "after");
    const auto& end = points[points.size() * 3 / 4];
    plot.text(end, setup.name, "end", -8, -8);
  }
  if (proof != nullptr) {
    if (proof->before) mark_passes(plot, *proof->before, true);
    if (proof->after) mark_passes(plot, *proof->after, false);
  }
  return plot.svg();
}

std::string loads_figure(const ops::CompareResult& forecast) {
  constexpr double kWidth = 560, kHeight = 250, kGround = 30, kBlock = 52;
  double most = 1.0;
  for (std::size_t s = 0; s < 2; ++s) {
    for (const auto* axle : {&forecast.setups[s].front, &forecast.setups[s].rear}) most = std::max(most, axle->right_load.value.si());
  }
  std::string out = "<svg viewBox=\"0 0 560 250\" role=\"img\" aria-label=\"Load under each tyre in the corner, before and after\">\n"
                    "<defs><pattern id=\"hatch\" width=\"6\" height=\"6\" patternUnits=\"userSpaceOnUse\"><path d=\"M0 6L6 0\" class=\"tick\"/></pattern>"
                    "<pattern id=\"cross\" width=\"6\" height=\"6\" patternUnits=\"userSpaceOnUse\"><path d=\"M0 6L6 0M0 0L6 6\" class=\"tick\"/></pattern></defs>\n"
                    "<path class=\"axis\" d=\"M0 30H560\"/>\n";
  for (std::size_t s = 0; s < 2; ++s) {
    const auto& setup = forecast.setups[s];
    const double left = s == 0 ? 20 : kWidth / 2 + 20;
    out += "<text x=\"" + coordinate(left) + "\" y=\"18\">" + escaped(setup.name) + "</text>\n";
    int column = 0;
    for (const auto& [load, name, pattern] : {std::tuple{&setup.front.left_load, "front left", "hatch"}, std::tuple{&setup.front.right_load, "front right", "hatch"},
                                              std::tuple{&setup.rear.left_load, "rear left", "cross"}, std::tuple{&setup.rear.right_load, "rear right", "cross"}}) {
      const double x = left + column * 62, depth = load->value.si() / most * (kHeight - kGround - 40);
      out += "<rect class=\"block\" fill=\"url(#" + std::string(pattern) + ")\" x=\"" + coordinate(x) + "\" y=\"" + coordinate(kGround) + "\" width=\"" + coordinate(kBlock) + "\" height=\"" +
             coordinate(depth) + "\"/><text x=\"" + coordinate(x + kBlock / 2) + "\" y=\"" + coordinate(kGround + depth + 15) + "\" text-anchor=\"middle\">" +
             number(load->value.si() / unit::kGravity, 0) + " kg</text><text class=\"small\" x=\"" + coordinate(x + kBlock / 2) + "\" y=\"" + coordinate(kGround + depth + 29) +
             "\" text-anchor=\"middle\">" + name + "</text>\n";
      ++column;
    }
  }
  return out + "</svg>\n";
}

std::string holes_figure(const ops::HolesResult& holes) {
  double low = 1e9, high = -1e9, left = 1e9, right = -1e9;
  for (const auto& p : holes.points) {
    const double lean = unit::deg_per_g.of(p.roll_gradient.value), share = unit::percent.of(p.front_load_transfer_share.value);
    low = std::min(low, lean);
    high = std::max(high, lean);
    left = std::min(left, share);
    right = std::max(right, share);
  }
  const double margin_y = 0.08 * (high - low) + 0.1, margin_x = 0.08 * (right - left) + 0.5;
  Plot plot("All holes: lean against balance", {left - margin_x, right + margin_x, "front axle's part of the load shift, %  (left: livelier tail)", 0, 0},
            {low - margin_y, high + margin_y, "lean, deg/g", 0, 1}, 560, 360);
  for (std::size_t i = 0; i < holes.points.size(); ++i) {
    const auto& p = holes.points[i];
    const PlotPoint at{unit::percent.of(p.front_load_transfer_share.value), unit::deg_per_g.of(p.roll_gradient.value)};
    const bool is_best = !holes.best.empty() && holes.best.front().point == static_cast<int>(i);
    if (is_best) plot.circle(at, "ring", 12);
    if (p.is_now) {
      plot.circle(at, "before mark", 6);
      plot.text(at, "now", "start", 10, 4);
    } else if (!p.cautions.empty()) {
      plot.cross(at, "dot");
    } else {
      plot.circle(at, "dot fill", 3);
    }
    if (is_best && !p.is_now) plot.text(at, "best for the wish", "end", -14, 4);
  }
  return plot.svg();
}

}  // namespace rollwright::report
