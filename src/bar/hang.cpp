#include "bar/hang.h"

#include <algorithm>
#include <cmath>

#include "base/units.h"
#include "stats/distributions.h"
#include "stats/regression.h"

namespace rollwright::bar {

namespace {

constexpr double kGravity = base::kStandardGravity.si();

}  // namespace

base::Outcome<base::Answer<HangResult>> rate_from_hanging(const Hanging& h) {
  base::Problems problems;
  const std::size_t n = h.readings.size();
  int loading = 0, unloading = 0;
  double least = 1e300, most = -1e300;
  for (std::size_t i = 0; i < n; ++i) {
    const auto& q = h.readings[i];
    ++(q.is_unloading ? unloading : loading);
    least = std::min(least, q.mass.si());
    most = std::max(most, q.mass.si());
    if (q.mass.si() < 0.0) {
      problems.push_back(base::input_problem("mass_negative", "readings[" + std::to_string(i) + "].mass_kg", "A hanging mass cannot be negative.", "0 kg or more"));
    }
  }
  if (n < 4) {
    problems.push_back(base::input_problem("too_few_readings", "readings", "A rate with an interval needs at least four readings; there are " + std::to_string(n) + ".",
                                           "4 or more", "Three weights up and the same three down are a good set."));
  } else if (!(most - least > 0.0)) {
    problems.push_back(base::input_problem("one_mass_only", "readings", "All readings are at the same mass.", "at least two different masses"));
  }
  if (!problems.empty()) return base::fail(std::move(problems));

  std::vector<double> one(n, 1.0), force(n), sense(n), z(n);
  for (std::size_t i = 0; i < n; ++i) {
    const auto& q = h.readings[i];
    force[i] = q.mass.si() * kGravity;
    sense[i] = q.is_unloading ? -1.0 : 1.0;
    z[i] = q.position.si() - q.held_end_position.si();
  }
  const bool both = loading > 0 && unloading > 0 && n >= 5;
  std::vector<std::vector<double>> columns{one, force};
  if (both) columns.push_back(sense);
  const auto fit = stats::least_squares(columns, z);
  if (!fit) {
    return base::fail(base::input_problem("readings_do_not_tell", "readings", "Mass and direction change together in these readings, so friction and rate cannot be told apart.",
                                          "the same masses up and down", "Read each mass once while adding and once while taking off."));
  }
  const double slope = fit->coefficient[1];
  const double slope_sd = std::hypot(fit->standard_error[1], slope * std::hypot(h.mass_scale_sd, h.position_scale_sd));
  const double t = stats::student_t_quantile(0.975, fit->degrees_of_freedom);
  // Student's factor for the scatter, the normal one for the scales.
  const double half = std::hypot(t * fit->standard_error[1], base::kCoverage95 * slope * std::hypot(h.mass_scale_sd, h.position_scale_sd));
  if (!(slope > 0.0) || slope < half) {
    return base::fail(base::no_answer("no_rate", "readings", slope > 0.0 ? "The readings scatter so much that the rate could be anything."
                                                                         : "The hole moves against the weight in these readings.",
                                      "movement that grows with the mass", "Check the sign of the positions, and read to half a millimetre or better with more mass."));
  }

  base::Answer<HangResult> answer;
  HangResult& r = answer.result;
  r.measured = {base::Stiffness(1.0 / slope), base::Stiffness(1.0 / (slope + half)), base::Stiffness(1.0 / (slope - half))};
  const auto scaled = [&](double k) {
    return base::Interval<base::Stiffness>{k * r.measured.value, k * r.measured.low, k * r.measured.high};
  };
  const bool relative = h.setup == HangSetup::one_end_held;
  r.relative = scaled(relative ? 1.0 : 0.5);
  r.per_side = scaled(relative ? 2.0 : 1.0);
  r.scatter = base::Length(fit->residual_deviation);
  r.readings = static_cast<int>(n);
  if (both) {
    const double f = -fit->coefficient[2] / slope;
    const double f_sd = std::hypot(fit->standard_error[2] / slope, f * slope_sd / slope);
    r.friction = base::Interval<base::Force>{base::Force(f), base::Force(f - t * f_sd), base::Force(f + t * f_sd)};
  } else {
    answer.warn("one_direction", "Readings go one way only, so friction cannot be seen. It does not bend the line, but a stick in the middle would; read the same weights on the way back.", "readings");
  }
  if (n >= 6) {
    std::vector<std::vector<double>> bent = columns;
    std::vector<double> square(n);
    const double middle = 0.5 * (force[0] + force[n - 1]);
    for (std::size_t i = 0; i < n; ++i) square[i] = (force[i] - middle) * (force[i] - middle);
    bent.push_back(square);
    const auto with_square = stats::least_squares(bent, z);
    if (with_square && with_square->standard_error.back() > 0.0) {
      r.curvature_t = with_square->coefficient.back() / with_square->standard_error.back();
      // Three standard errors, and at least 2 % between first and last slope: a bar itself bends the line by less.
      const double bend = 2.0 * with_square->coefficient.back() * (most - least) * kGravity / slope;
      if (std::abs(r.curvature_t) > 3.0 && std::abs(bend) > 0.02) {
        answer.warn("bent_line", "The movement does not grow evenly with the weight: something slips, settles or touches. Seat everything with one full load first, then read.", "readings");
      }
    }
  }
  if (r.friction && r.friction->value.si() > 0.2 * (most - least) * kGravity) {
    answer.warn("much_friction", "Friction takes a large part of the weight. Grease the bushings or loosen the brackets, or hang more.", "readings");
  }
  answer.cite("JCGM 100:2008");
  return answer;
}

Reconciliation reconcile(const HangResult& hung, const DoubtfulRate& computed) {
  Reconciliation r;
  const double measured = hung.per_side.value.si(), expected = computed.rate.per_side;
  r.ratio = measured / expected;
  const double measured_sd = (hung.per_side.high.si() - hung.per_side.low.si()) / (2.0 * base::kCoverage95 * measured);
  // Each side of the computed interval has its own reach.
  const double computed_sd = (r.ratio > 1.0 ? computed.high / expected - 1.0 : 1.0 - computed.low / expected) / base::kCoverage95;
  const double difference = std::log(r.ratio);
  r.difference_in_sd = difference / std::max(1e-9, std::hypot(measured_sd, computed_sd));
  r.agrees = std::abs(r.difference_in_sd) <= 2.0;
  const auto near = [&](double factor) { return std::abs(std::log(r.ratio / factor)) < 0.15; };
  r.looks_like_other_rate = !r.agrees && (near(2.0) || near(0.5));
  for (const Contribution& c : computed.contributions) {
    if (std::abs(c.relative) > 1e-6) r.suspects.push_back({c.from, difference / c.relative});
  }
  if (computed.width_gain > 1e-4 && difference > 0.0) {
    r.suspects.push_back({"width of the bushings", difference / (computed.width_gain / base::kCoverage95)});
  }
  if (computed.oval_loss > 1e-4 && difference < 0.0) {
    r.suspects.push_back({"flattening of tube bends", difference / (-computed.oval_loss / base::kCoverage95)});
  }
  if (measured_sd > 0.0) r.suspects.push_back({"the weighing itself", difference / measured_sd});
  std::sort(r.suspects.begin(), r.suspects.end(), [](const Suspect& a, const Suspect& b) { return std::abs(a.change_in_sd) < std::abs(b.change_in_sd); });
  return r;
}

}  // namespace rollwright::bar
