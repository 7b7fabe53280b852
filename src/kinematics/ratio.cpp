#include "kinematics/ratio.h"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "stats/distributions.h"
#include "stats/regression.h"

namespace rollwright::kinematics {

namespace {

std::string text(const char* format, auto... values) {
  char buffer[300];
  std::snprintf(buffer, sizeof buffer, format, values...);
  return buffer;
}

}  // namespace

base::Outcome<base::Answer<RatioResult>> ratio(const RatioTable& table) {
  base::Problems problems;
  std::vector<double> z, y;
  for (std::size_t i = 0; i < table.readings.size(); ++i) {
    const double w = table.readings[i].wheel.si() - table.ride_height.si(), d = table.readings[i].device.si();
    if (!std::isfinite(w) || !std::isfinite(d) || std::abs(w) > 1.0 || std::abs(d) > 3.0) {
      problems.push_back(base::input_problem("out_of_range", text("readings[%zu]", i), "This reading is not a length on a suspension.",
                                             "wheel within 1 m of ride height, device below 3 m", "Are all readings in millimetres?"));
    }
    z.push_back(w);
    y.push_back(d);
  }
  if (z.size() < 3) {
    problems.push_back(base::input_problem("too_few", "readings", "A slope with an interval needs at least three readings.", "3 or more, 7 is good",
                                           "Read every 10 to 15 mm from droop to bump."));
  }
  if (!problems.empty()) return base::fail(std::move(problems));
  const auto [low, high] = std::minmax_element(z.begin(), z.end());
  if (*high - *low < 0.020) {
    return base::fail(base::input_problem("too_little_travel", "readings", text("The wheel moves only %.0f mm; reading errors drown the slope.", 1e3 * (*high - *low)),
                                          "at least 20 mm, 60 mm is good"));
  }
  if (*low > 0.010 || *high < -0.010) {
    return base::fail(base::input_problem("ride_height_outside", "ride_height", text("All readings lie away from ride height (%.0f to %.0f mm from it).", 1e3 * *low, 1e3 * *high),
                                          "a ride height between the readings", "Give the wheel reading of the loaded car at rest."));
  }

  const std::vector<double> ones(z.size(), 1.0);
  std::vector<double> squares;
  for (const double v : z) squares.push_back(0.5 * v * v);
  auto line = stats::least_squares({ones, z}, y);
  if (!line) return base::fail(std::move(line.error()));
  RatioResult r;
  stats::Regression fit = *line;
  if (z.size() >= 5) {
    // Curvature is judged against the larger of the residuals and what a tape can do.
    auto curve = stats::least_squares({ones, z, squares}, y);
    if (curve) {
      const double scale = std::max(1.0, table.reading_sd.si() / std::max(curve->residual_deviation, 1e-12));
      if (std::abs(curve->coefficient[2]) > 2.0 * scale * curve->standard_error[2]) {
        fit = *curve;
        r.is_curved = true;
      }
    }
  }
  const double slope = fit.coefficient[1], size = std::abs(slope);
  const double spread = std::max(fit.residual_deviation, table.reading_sd.si());
  const double error = fit.standard_error[1] * (fit.residual_deviation > 0.0 ? spread / fit.residual_deviation : 0.0);
  // With a perfect fit the standard error is zero and says nothing; then the tape's own error decides.
  double safe = error;
  if (!(fit.residual_deviation > 1e-9)) {
    double mean = 0.0, sum = 0.0;
    for (const double v : z) mean += v / static_cast<double>(z.size());
    for (const double v : z) sum += (v - mean) * (v - mean);
    safe = table.reading_sd.si() / std::sqrt(sum);
  }
  const double t = stats::student_t_quantile(0.975, fit.degrees_of_freedom);
  const double half = t * safe;
  if (size < 0.05 || size < half) {
    return base::fail(base::no_answer("no_slope", "readings", text("The device hardly moves with the wheel (%.3f per mm, ± %.3f): no ratio can be told.", size, half),
                                      "a device that moves", "Are the right two heights in the table?"));
  }
  if (size > 1.25 && !table.accept_unusual) {
    return base::fail(base::input_problem("ratio_inverted", "readings",
        text("The device would move %.2f mm per mm of wheel. That is rare; %.2f, with the columns exchanged, is usual.", size, 1.0 / size),
        "device/wheel, mostly 0.4 to 1.05", "Is the wheel's column really the wheel's? If so, say that the unusual ratio is meant."));
  }
  base::Answer<RatioResult> answer;
  r.ratio = {size, half / base::kCoverage95, base::Origin::measured};
  r.interval = {size, size - half, size + half};
  r.device_shortens = slope < 0.0;
  r.change_per_metre = r.is_curved ? fit.coefficient[2] * (slope < 0.0 ? -1.0 : 1.0) : 0.0;
  r.residual_sd = base::Length(fit.residual_deviation);
  for (const double e : fit.residual) r.residuals.push_back(base::Length(e));
  // One reading that stands far off the others' line: more than four of their spreads and 3 mm.
  for (std::size_t i = 0; i < z.size(); ++i) {
    std::vector<double> zs, ys;
    for (std::size_t j = 0; j < z.size(); ++j) {
      if (j != i) zs.push_back(z[j]), ys.push_back(y[j]);
    }
    if (zs.size() < 4) break;
    const auto rest = stats::fit_line(zs, ys);
    if (!rest) continue;
    const double off = y[i] - rest->coefficient[0] - rest->coefficient[1] * z[i];
    if (std::abs(off) > 0.003 && std::abs(off) > 6.0 * std::max(rest->residual_deviation, table.reading_sd.si())) {
      answer.warn("slipped_reading", text("Reading %zu stands %.1f mm off the line of the others. Read it again, or leave it out.", i + 1, 1e3 * off), text("readings[%zu]", i));
    }
  }
  if (size > 1.05) answer.warn("unusual_ratio", text("A ratio of %.2f is unusual: the device moves more than the wheel. Check which column is which.", size), "readings");
  answer.assume("The tape lies along the device's own line (or straight up for a link), and the wheel's height is read over its centre.");
  if (z.size() < 5) answer.assume("Too few readings to see whether the ratio changes along the travel; a straight line is taken.");
  answer.result = std::move(r);
  return answer;
}

}  // namespace rollwright::kinematics
