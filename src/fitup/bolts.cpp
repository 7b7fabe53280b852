#include "fitup/bolts.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>

#include "base/assert.h"

namespace rollwright::fitup {

namespace {

constexpr double kPi = 3.14159265358979324;
constexpr double kWrench = 0.04;  // usual tolerance of a hand torque wrench [ISO 6789, from memory]

// Torque per newton of preload.
double torque_factor(const Thread& t, double mu) {
  const double mean = 0.5 * (bearing_face_diameter(t) + clearance_hole(t));
  return 0.16 * t.pitch + 0.58 * t.pitch_diameter() * mu + 0.5 * mean * mu;
}

// √(1 + 3·(torsion/tension)²) while tightening.
double twist_factor(const Thread& t, double mu) {
  const double d0 = 0.5 * (t.pitch_diameter() + t.root_diameter());
  const double k = 1.5 * t.pitch_diameter() / d0 * (t.pitch / (kPi * t.pitch_diameter()) + 1.155 * mu);
  return std::sqrt(1.0 + 3.0 * k * k);
}

double core_area(const Thread& t) {
  const double d0 = 0.5 * (t.pitch_diameter() + t.root_diameter());
  return 0.25 * kPi * d0 * d0;
}

std::string text(const char* format, auto... values) {
  char buffer[400];
  std::snprintf(buffer, sizeof buffer, format, values...);
  return buffer;
}

}  // namespace

FrictionRange friction_range(Friction condition) {
  switch (condition) {
    case Friction::unknown: return {0.08, 0.24};
    case Friction::dry: return {0.14, 0.24};
    case Friction::light_oil: return {0.10, 0.18};
    case Friction::oiled: return {0.08, 0.16};
    case Friction::paste: return {0.06, 0.10};
  }
  ROLLWRIGHT_ASSERT(false);
  return {};
}

double torque_for(const Thread& thread, double preload, double friction) { return preload * torque_factor(thread, friction); }
double preload_for(const Thread& thread, double torque, double friction) { return torque / torque_factor(thread, friction); }

double preload_at_yield_share(const Thread& thread, double yield, double share, double friction) {
  return share * yield * core_area(thread) / twist_factor(thread, friction);
}

std::optional<double> usual_prevailing_torque(const Thread& thread) {
  constexpr std::array<std::pair<double, double>, 7> kFirst{{{5, 1.6}, {6, 3.0}, {8, 6.0}, {10, 10.5}, {12, 15.5}, {14, 24.0}, {16, 32.0}}};
  for (const auto& [d, torque] : kFirst) {
    if (std::abs(1e3 * thread.diameter - d) < 0.01) return torque;
  }
  return std::nullopt;
}

bool is_plausible_torque(double value, double expected) { return value > 0.25 * expected && value < 1.5 * expected; }

std::optional<TorqueUnit> meant_torque(double value, double expected) {
  if (is_plausible_torque(value, expected)) return std::nullopt;
  // Newton-metres per unit; exact or to the digits shown.
  constexpr std::array<std::pair<const char*, double>, 5> kUnits{
      {{"lbf·ft", 1.3558179}, {"kgf·m", 9.80665}, {"lbf·in", 0.11298483}, {"kgf·cm", 0.0980665}, {"N·cm", 0.01}}};
  std::optional<TorqueUnit> best;
  double distance = 1e9;
  for (const auto& [unit, factor] : kUnits) {
    const double meant = value * factor;
    // Nearest in ratio, and well inside what is usual.
    const double away = std::abs(std::log(meant / expected));
    if (meant > 0.4 * expected && meant < 1.3 * expected && away < distance) {
      best = TorqueUnit{unit, meant};
      distance = away;
    }
  }
  return best;
}

base::Outcome<base::Answer<BoltAnswer>> bolt(const BoltJoint& joint, const std::string& where) {
  const Thread& t = joint.thread;
  if (!(t.diameter >= 0.003 && t.diameter <= 0.039 && t.pitch > 0.0 && t.pitch <= 0.2 * t.diameter)) {
    return base::fail(base::input_problem("unknown_thread", where + ".thread", "This is not a metric thread.", "like M10x1.5"));
  }
  const FrictionRange mu = friction_range(joint.friction);
  const GradeStrength strength = strength_of(joint.grade);
  base::Answer<BoltAnswer> answer;
  BoltAnswer& a = answer.result;
  a.stress_area = t.stress_area();
  a.proof = proof_load(t, joint.grade);
  a.tensile = tensile_load(t, joint.grade);
  if (joint.has_prevailing_nut) {
    a.prevailing = joint.prevailing_torque.value_or(0.5 * usual_prevailing_torque(t).value_or(0.0));
    if (!joint.prevailing_torque) {
      answer.assume("The locknut's own running torque is taken as half of the standard's largest; measure it by running the nut before it seats, and add it.");
      answer.cite("ISO 2320");
    }
  }
  const double safe = preload_at_yield_share(t, strength.yield, 0.75, mu.low);
  a.computed_torque = torque_for(t, safe, mu.low) + a.prevailing;
  if (joint.maker_torque) {
    const double given = *joint.maker_torque;
    // The reference for plausibility: 90 % of yield at ordinary friction, the common torque table.
    const double expected = torque_for(t, preload_at_yield_share(t, strength.yield, 0.9, 0.12), 0.12);
    if (!is_plausible_torque(given - a.prevailing, expected)) {
      const auto meant = meant_torque(given, expected);
      const std::string message = text("%.4g N·m is not a usual torque for an %s bolt of class %s; %.0f N·m is the table's value.", given, thread_name(t).c_str(),
                                       joint.grade == Grade::c8_8 ? "8.8" : joint.grade == Grade::c10_9 ? "10.9" : "12.9", expected);
      if (given > 1.5 * expected + a.prevailing || meant) {
        return base::fail(base::input_problem("torque_unit", where + ".maker_torque_nm", message, text("about %.0f to %.0f N·m", 0.25 * expected, 1.5 * expected),
                                              meant ? text("%.4g %s would be %.0f N·m: was that meant?", given, meant->unit.c_str(), meant->in_newton_metres)
                                                    : std::string("Check size, class and unit in the maker's manual.")));
      }
      answer.warn("low_torque", message + " Rubber bushes and pinch bolts have low figures for a reason; read the manual's line again.", where + ".maker_torque_nm");
    }
    a.torque = given;
    a.is_makers = true;
  } else {
    a.torque = a.computed_torque;
  }
  const double clamping = std::max(0.0, a.torque - a.prevailing);
  a.preload_low = preload_for(t, clamping * (1.0 - kWrench), mu.high);
  a.preload_high = preload_for(t, clamping * (1.0 + kWrench), mu.low);
  a.proof_use_low = a.preload_low / a.proof;
  a.proof_use_high = a.preload_high / a.proof;
  a.yield_use_high = a.preload_high * twist_factor(t, mu.low) / (core_area(t) * strength.yield);
  if (a.yield_use_high > 1.0) {
    answer.warn("may_yield", text("At %.0f N·m this bolt would reach %.0f %% of yield if its friction is as low as the stated condition allows. Tighten dry-specified bolts dry.",
                                  a.torque, 100.0 * a.yield_use_high), where);
  }
  a.engagement_wanted = (joint.into_aluminium ? 2.0 : 1.5) * t.diameter;
  const double engaged = joint.engagement > 0.0 ? joint.engagement : 0.8 * t.diameter;  // a full nut is 0.8 d high [ISO 4032]
  // Half of the pitch cylinder as shear area, 0.6 of the proof stress as shear strength: a low estimate (common practice).
  a.engagement_strips = 0.5 * kPi * t.pitch_diameter() * engaged * 0.6 * strength.proof;
  if (joint.engagement > 0.0 && joint.engagement < t.diameter * (joint.into_aluminium ? 1.5 : 1.0)) {
    answer.warn("short_engagement", text("Only %.1f mm of thread engaged; %.1f mm is wanted (%.1f diameters, common practice).", 1e3 * joint.engagement,
                                         1e3 * a.engagement_wanted, joint.into_aluminium ? 2.0 : 1.5), where + ".engagement_mm");
  }
  answer.assume(text("Friction %.2f to %.2f in thread and under the head alike; hexagon head, medium hole; wrench within 4 %%.", mu.low, mu.high));
  if (!joint.maker_torque) answer.assume("No maker's torque was given: the computed one is 75 % of yield at the low end of friction. The manual's figure wins.");
  answer.cite("VDI 2230");
  answer.cite("ISO 898-1");
  return answer;
}

}  // namespace rollwright::fitup
