#include "report/bar_figures.h"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "base/units.h"
#include "report/svg.h"

namespace rollwright::report {
namespace {

namespace unit = base::unit;
using ops::BarRateResult;
using ops::BarSettingResult;

double mm(base::Length l) { return unit::mm.of(l); }

std::string whole(double value) {
  char text[32];
  std::snprintf(text, sizeof text, "%.0f", value);
  return text;
}

// A sheet of paper in millimetres of the bar: y to the left is drawn to the left, so that the bar is seen as the driver sees it.
class Sheet {
 public:
  explicit Sheet(double scale) : scale_(scale) {}

  [[nodiscard]] std::string at(double u, double v) const { return coordinate(u * scale_) + " " + coordinate(v * scale_); }
  void path(const std::vector<PlotPoint>& points, double width, const char* colour, const char* dash = "") {
    std::string d;
    for (const auto& [u, v] : points) d += (d.empty() ? "M" : "L") + at(u, v);
    body_ += "<path d=\"" + d + "\" fill=\"none\" stroke=\"" + colour + "\" stroke-width=\"" + coordinate(width) + "\" stroke-linejoin=\"round\"" +
             (*dash ? " stroke-dasharray=\"" + std::string(dash) + "\"" : "") + "/>\n";
  }
  void circle(double u, double v, double radius) {
    body_ += "<circle cx=\"" + coordinate(u * scale_) + "\" cy=\"" + coordinate(v * scale_) + "\" r=\"" + coordinate(radius) + "\" fill=\"#fff\" stroke=\"#000\" stroke-width=\"1.2\"/>\n";
  }
  void block(double u, double v, double half_u, double half_v) {
    body_ += "<rect x=\"" + coordinate((u - half_u) * scale_) + "\" y=\"" + coordinate((v - half_v) * scale_) + "\" width=\"" + coordinate(2 * half_u * scale_) + "\" height=\"" +
             coordinate(2 * half_v * scale_) + "\" fill=\"#fff\" stroke=\"#000\" stroke-width=\"1.2\"/>\n";
  }
  void text(double u, double v, const std::string& words, const char* anchor = "middle") {
    body_ += "<text x=\"" + coordinate(u * scale_) + "\" y=\"" + coordinate(v * scale_) + "\" text-anchor=\"" + anchor + "\" font-size=\"12\">" + escaped(words) + "</text>\n";
  }
  // A dimension across the sheet at height v, with its two witness lines from `from_v`.
  void across(double u1, double u2, double v, double from_v, const std::string& words) {
    tick(u1, v, from_v);
    tick(u2, v, from_v);
    path({{u1, v}, {u2, v}}, 0.7, "#000");
    arrows(u1, u2, v, true);
    text(0.5 * (u1 + u2), v - 4 / scale_, words);
  }
  void down(double v1, double v2, double u, const std::string& words) {
    path({{u, v1}, {u, v2}}, 0.7, "#000");
    arrows(v1, v2, u, false);
    text(u + 5 / scale_, 0.5 * (v1 + v2) + 4 / scale_, words, "start");
  }
  [[nodiscard]] std::string take() { return std::move(body_); }

 private:
  void tick(double u, double v, double from_v) { path({{u, from_v}, {u, v + (v > from_v ? 6 : -6) / scale_}}, 0.5, "#777"); }
  void arrows(double a, double b, double other, bool is_across) {
    const double size = 5 / scale_, sense = b > a ? 1.0 : -1.0;
    for (const auto& [tip, way] : {std::pair{a, sense}, {b, -sense}}) {
      const auto point = [&](double along, double aside) {
        return is_across ? PlotPoint{tip + way * along, other + aside} : PlotPoint{other + aside, tip + way * along};
      };
      path({point(size, 0.35 * size), point(0, 0), point(size, -0.35 * size)}, 0.9, "#000");
    }
  }
  double scale_;
  std::string body_;
};

const BarSettingResult* pick(const BarRateResult& bar, bool stiffest) {
  const auto less = [](const BarSettingResult& a, const BarSettingResult& b) { return a.rate_per_side.value < b.rate_per_side.value; };
  if (bar.settings.empty()) return nullptr;
  return stiffest ? &*std::max_element(bar.settings.begin(), bar.settings.end(), less) : &*std::min_element(bar.settings.begin(), bar.settings.end(), less);
}

}  // namespace

std::string bar_drawing(const BarRateResult& bar) {
  const auto& d = bar.drawing;
  if (d.line.size() < 2) return {};
  double low[3] = {1e300, 1e300, 1e300}, high[3] = {-1e300, -1e300, -1e300}, thickest = 0.0;
  for (const auto& p : d.line) {
    for (std::size_t i = 0; i < 3; ++i) {
      low[i] = std::min(low[i], mm(p.point[i]));
      high[i] = std::max(high[i], mm(p.point[i]));
    }
    thickest = std::max(thickest, 2.0 * mm(p.radius));
  }
  const double width = high[1] - low[1];
  if (!(width > 1.0)) return {};
  constexpr double kPaper = 640.0, kMargin = 70.0;
  const double scale = (kPaper - 2 * kMargin) / width;
  Sheet sheet(scale);
  const double gap = 60.0 / scale;
  // From above: x forward is up the sheet. From behind: z is up the sheet.
  const auto above = [&](const ops::Point& p) { return PlotPoint{high[1] - mm(p[1]), high[0] - mm(p[0])}; };
  const double behind_top = (high[0] - low[0]) + 2.2 * gap;
  const auto behind = [&](const ops::Point& p) { return PlotPoint{high[1] - mm(p[1]), behind_top + high[2] - mm(p[2])}; };
  for (const bool from_above : {true, false}) {
    const auto place = [&](const ops::Point& p) { return from_above ? above(p) : behind(p); };
    // Outline: the bar's own thickness in black, filled white, centreline dash-dotted. Runs of one thickness are one stroke.
    std::vector<PlotPoint> centre;
    for (const auto& p : d.line) centre.push_back(place(p.point));
    for (const auto& [more, colour] : {std::pair{2.4, "#000"}, {0.0, "#fff"}}) {
      std::size_t from = 0;
      for (std::size_t i = 1; i < d.line.size(); ++i) {
        const bool ends = i + 1 == d.line.size() || std::abs(mm(d.line[i + 1].radius) - mm(d.line[i].radius)) > 1e-6;
        if (!ends) continue;
        sheet.path({centre.begin() + static_cast<std::ptrdiff_t>(from), centre.begin() + static_cast<std::ptrdiff_t>(i) + 1}, 2.0 * mm(d.line[i].radius) * scale + more, colour);
        from = i;
      }
    }
    sheet.path(centre, 0.6, "#555", "9 2 2 2");
    for (const auto& b : d.bushings) {
      const auto [u, v] = place(b.point);
      sheet.block(u, v, std::max(8.0, 0.5 * mm(b.width)), thickest);
    }
    for (const auto& h : d.holes) {
      const auto [u, v] = place(h.point);
      sheet.circle(u, v, 3.5);
      if (from_above) sheet.text(u + (h.side == bar::Side::left ? -12 : 12) / scale, v + 4 / scale, h.id, h.side == bar::Side::left ? "end" : "start");
    }
  }
  double bottom = behind_top + (high[2] - low[2]) + 0.7 * gap;
  if (bar.as_tape) {
    const auto& t = *bar.as_tape;
    const double axis_x = d.bushings.empty() ? 0.0 : mm(d.bushings[0].point[0]);
    const double mid_u = 0.5 * width, axis_v = high[0] - axis_x;
    const double out = t.points_forward ? 1.0 : -1.0;  // dimensions stand where the arms are not
    const double first = axis_v + out * 26 / scale, second = axis_v + out * 48 / scale;
    sheet.across(mid_u - 0.5 * mm(t.bushing_spacing), mid_u + 0.5 * mm(t.bushing_spacing), first, axis_v, whole(mm(t.bushing_spacing)));
    sheet.across(mid_u - 0.5 * mm(t.straight), mid_u + 0.5 * mm(t.straight), second, axis_v, whole(mm(t.straight)) + " corner to corner");
    for (std::size_t i = 0; i < t.levers.size() && i < 6; ++i) {
      const double u = mid_u + 0.5 * mm(t.straight) - (46 + 44 * static_cast<double>(i)) / scale;
      sheet.down(axis_v, axis_v - out * mm(t.levers[i]), u, whole(mm(t.levers[i])));
    }
    if (std::abs(mm(t.drop)) > 0.5) {
      sheet.text(mid_u, bottom, "hole 1 lies " + whole(std::abs(mm(t.drop))) + " mm " + (mm(t.drop) > 0 ? "below" : "above") + " the straight");
      bottom += 0.4 * gap;
    }
  }
  sheet.text(0.5 * width, (high[0] - low[0]) + 0.55 * gap, "from above, forward is up");
  sheet.text(0.5 * width, behind_top - 0.55 * gap, "from behind");
  const double top = -1.1 * gap;
  char box[120];
  std::snprintf(box, sizeof box, "%s %s %s %s", coordinate(-kMargin).c_str(), coordinate(top * scale).c_str(), coordinate(kPaper).c_str(), coordinate((bottom - top) * scale).c_str());
  return "<svg viewBox=\"" + std::string(box) + "\" role=\"img\" aria-label=\"Flat drawing of the bar, from above and from behind, with its dimensions in millimetres\">\n" +
         sheet.take() + "</svg>\n<p class=\"pencil\">Dimensions in mm, to the middle of the bar. Section: " + escaped(d.section) + ".</p>\n";
}

std::string bar_stress_figure(const BarRateResult& bar) {
  const auto *soft = pick(bar, false), *stiff = pick(bar, true);
  if (soft == nullptr || soft->along.empty()) return {};
  double most = 0.0;
  for (const auto* s : {soft, stiff}) most = std::max(most, unit::mpa_per_mm.of(s->max_stress));
  Plot plot("Stress along the bar per mm of link travel", {0.0, mm(bar.length), "from the right end, mm", 0.0, 0}, {0.0, 1.12 * most, "MPa per mm of travel", 0.0, 0});
  for (const auto* s : {soft, stiff}) {
    if (s == stiff && soft == stiff) break;
    std::vector<PlotPoint> points;
    for (const auto& p : s->along) points.emplace_back(mm(p.station), unit::mpa_per_mm.of(p.von_mises));
    plot.line(points, s == soft ? "before" : "after");
    const PlotPoint worst{mm(s->worst.station), unit::mpa_per_mm.of(s->max_stress)};
    const bool is_right = worst.first > 0.7 * mm(bar.length);
    if (s == soft && soft != stiff) plot.circle(worst, "before mark");
    else plot.triangle(worst, "after fill");
    // The softer setting lies below the stiffer one; so does its label.
    plot.text(worst, s->id + ", " + whole(worst.second), is_right ? "end" : "start", is_right ? -8 : 8, s == soft && soft != stiff ? 16 : -6);
  }
  return plot.svg();
}

std::string bar_holes_figure(const BarRateResult& bar) {
  if (bar.settings.size() < 2) return {};
  double low = 1e300, high = 0.0, least = 1e300, most = 0.0;
  const auto lever = [](const BarSettingResult& s) { return 0.5 * (mm(s.lever_left) + mm(s.lever_right)); };
  for (const auto& s : bar.settings) {
    low = std::min(low, unit::n_per_mm.of(s.rate_per_side.low));
    high = std::max(high, unit::n_per_mm.of(s.rate_per_side.high));
    least = std::min(least, lever(s));
    most = std::max(most, lever(s));
  }
  const double room = std::max(5.0, 0.15 * (most - least)), tall = std::max(0.5, 0.1 * (high - low));
  Plot plot("Rate of every setting against the mean lever of its holes", {least - room, most + room, "mean lever of the two holes, mm", 0.0, 0},
            {std::max(0.0, low - tall), high + tall, "N/mm per side in roll", 0.0, 0});
  std::vector<std::pair<PlotPoint, std::string>> labels;
  for (const auto& s : bar.settings) {
    const double x = lever(s), y = unit::n_per_mm.of(s.rate_per_side.value);
    plot.line({{x, unit::n_per_mm.of(s.rate_per_side.low)}, {x, unit::n_per_mm.of(s.rate_per_side.high)}}, "tick");
    if (std::abs(mm(s.lever_left) - mm(s.lever_right)) < 1.0) plot.circle({x, y}, "dot fill", 4.5);
    else plot.cross({x, y}, "dot");
    // Mirrored settings fall on one place and share a label.
    const auto same = std::find_if(labels.begin(), labels.end(), [&](const auto& l) { return std::abs(l.first.first - x) < 0.5 && std::abs(l.first.second - y) < 0.01 * y; });
    if (same == labels.end()) labels.push_back({{x, y}, s.id});
    else same->second += ", " + s.id;
  }
  for (const auto& [place, words] : labels) {
    const bool is_far = place.first > least + 0.75 * (most - least);
    plot.text(place, words, is_far ? "end" : "start", is_far ? -9 : 9, 4);
  }
  return plot.svg();
}

std::string bar_curve_figure(const ops::BarCurveResult& curve) {
  if (curve.settings.empty() || curve.settings[0].points.size() < 2) return {};
  double reach = 0.0, force = 0.0;
  for (const auto& s : curve.settings) {
    for (const auto& p : s.points) {
      reach = std::max(reach, std::abs(mm(p.travel)));
      force = std::max({force, std::abs(p.force_left.si()), std::abs(p.force_right.si())});
    }
  }
  Plot plot("Link force against travel", {-reach, reach, "link travel, mm", 0.0, 0}, {-1.1 * force, 1.1 * force, "force at the left link, N", 0.0, 0});
  for (const auto& s : curve.settings) {
    std::vector<PlotPoint> points;
    for (const auto& p : s.points) points.emplace_back(mm(p.travel), p.force_left.si());
    plot.line(points, "after");
    const double end = unit::n_per_mm.of(s.linear_rate) * reach;
    if (end < 1.1 * force) plot.line({{-reach, -end}, {reach, end}}, "before");
    plot.text(points.back(), s.id, "end", -6, -6);
  }
  return plot.svg();
}

}  // namespace rollwright::report
