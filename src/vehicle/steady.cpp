#include "vehicle/steady.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <functional>

#include "base/units.h"
#include "vehicle/small_linear.h"
#include "vehicle/steady_equations.h"

namespace rollwright::vehicle {
namespace {

constexpr int kN = kUnknowns;
constexpr double kAirDensity = 1.2;  // [kg/m³] at 20 °C and sea level

// A point on the curve and the direction of the curve there, of unit length in the metric below.
struct CurvePoint {
  SteadyVector x{};
  SteadyVector tangent{};
};

class Follower {
 public:
  // `close` is the residual, as a share of the weight, at which an equilibrium is taken.
  Follower(const Plant& plant, SpeedLaw law, double close = 1e-12)
      : equations_(plant, law), scale_(equations_.scales()), close_(close) {
    // Lengths along the curve: 8 m/s² of lateral acceleration, 0.15 rad of slip and 0.1 of sideslip count alike.
    metric_[kSideSpeed] = 1.0 / (0.1 * std::max(law.speed, 10.0));
    metric_[kSteerFront] = metric_[kSteerRear] = 1.0 / 0.15;
    metric_[kRoll] = 1.0 / 0.15;
    metric_[kLateral] = 1.0 / 8.0;
  }

  [[nodiscard]] const SteadyEquations& equations() const { return equations_; }

  // Newton's method on the eleven equations and one condition: a·x = b, which fixes a_y or the place along the curve.
  // On success the tangent at the answer is filled in, pointing the way `towards` points.
  bool solve(CurvePoint& point, const SteadyVector& condition, double value, const SteadyVector& towards) const {
    SteadyVector x = point.x, from = point.x;
    std::array<double, kN> residual;
    std::array<double, kN * kColumns> jacobian;
    std::array<double, kColumns * kColumns> matrix;
    std::array<double, kColumns> step{};
    double last = 1e300, factor = 1.0;
    int halvings = 0;
    for (int iteration = 0; iteration < 60; ++iteration) {
      equations_.evaluate(x, residual, &jacobian);
      double off = -value;
      for (int i = 0; i < kColumns; ++i) off += condition[i] * x[i];
      const double norm = size(residual, off);
      // Converged, or nearly so and no longer falling.
      if (norm < close_ || (norm < 1e-10 && norm >= 0.5 * last)) {
        point.x = x;
        fill(jacobian, condition, matrix);
        return tangent(matrix, towards, point.tangent);
      }
      // A wheel that lifts or a stop that is met bends the equations: shorten the step while it makes matters worse.
      // The first step is spared: it may climb away from a poor start.
      if (!(norm < last * (1.0 - 0.1 * factor)) && iteration > 1 && halvings < 8 && last > 1e-9) {
        factor *= 0.5;
        ++halvings;
        for (int i = 0; i < kColumns; ++i) x[i] = from[i] + factor * step[i];
        continue;
      }
      if (!std::isfinite(norm)) return false;
      last = norm;
      halvings = 0;
      from = x;
      fill(jacobian, condition, matrix);
      for (int i = 0; i < kN; ++i) step[i] = -residual[i] / scale_[i];
      step[kN] = -off;
      if (!solve_in_place<kColumns>(matrix, step)) return false;
      // Slip angles in one step: beyond 0.1 rad the tyre's slope says nothing.
      const double largest = std::max({std::abs(step[kSteerFront]), std::abs(step[kSteerRear]), std::abs(step[kRoll]),
                                       std::abs(step[kSideSpeed]) / std::max(equations_.speed(x), 1.0)});
      factor = largest > 0.1 ? 0.1 / largest : 1.0;
      for (int i = 0; i < kColumns; ++i) x[i] += factor * step[i];
    }
    return false;
  }

  // Length of the straight line between two points, in the metric of the curve.
  [[nodiscard]] double distance(const CurvePoint& a, const CurvePoint& b) const {
    double sum = 0.0;
    for (int c = 0; c < kColumns; ++c) sum += metric_[c] * metric_[c] * (a.x[c] - b.x[c]) * (a.x[c] - b.x[c]);
    return std::sqrt(sum);
  }

  // Equilibrium at a given lateral acceleration, starting from point.x.
  bool at_lateral(CurvePoint& point, double a_y) const {
    SteadyVector condition{}, towards{};
    condition[kLateral] = 1.0;
    towards[kLateral] = a_y < 0.0 ? -1.0 : 1.0;
    point.x[kLateral] = a_y;
    return solve(point, condition, a_y, towards);
  }

  // A step of the given length along the curve. `bend`, where known, is the change of the tangent per length.
  bool along(const CurvePoint& from, double length, CurvePoint& to, const SteadyVector* bend = nullptr) const {
    SteadyVector condition{};
    double value = length;
    for (int i = 0; i < kColumns; ++i) {
      condition[i] = metric_[i] * metric_[i] * from.tangent[i];
      value += condition[i] * from.x[i];
      to.x[i] = from.x[i] + length * (from.tangent[i] + (bend ? 0.5 * length * (*bend)[i] : 0.0));
    }
    return solve(to, condition, value, from.tangent);
  }

 private:
  double size(const std::array<double, kN>& residual, double off) const {
    double sum = std::abs(off) * 1e-1;
    for (int i = 0; i < kN; ++i) sum += std::abs(residual[i]) / scale_[i];
    return sum;
  }

  void fill(const std::array<double, kN * kColumns>& jacobian, const SteadyVector& condition,
            std::array<double, kColumns * kColumns>& matrix) const {
    for (int i = 0; i < kN; ++i) {
      const double inverse = 1.0 / scale_[i];
      for (int c = 0; c < kColumns; ++c) matrix[i * kColumns + c] = jacobian[i * kColumns + c] * inverse;
    }
    for (int c = 0; c < kColumns; ++c) matrix[kN * kColumns + c] = condition[c];
  }

  bool tangent(std::array<double, kColumns * kColumns>& matrix, const SteadyVector& towards, SteadyVector& out) const {
    for (int c = 0; c < kColumns; ++c) matrix[kN * kColumns + c] = metric_[c] * metric_[c] * towards[c];
    std::array<double, kColumns> t{};
    t[kN] = 1.0;
    if (!solve_in_place<kColumns>(matrix, t)) return false;
    double length = 0.0;
    for (int c = 0; c < kColumns; ++c) length += metric_[c] * metric_[c] * t[c] * t[c];
    length = std::sqrt(length);
    if (!(length > 0.0) || !std::isfinite(length)) return false;
    for (int c = 0; c < kColumns; ++c) out[c] = t[c] / length;
    return true;
  }

  SteadyEquations equations_;
  std::array<double, kN> scale_;
  double close_;
  SteadyVector metric_{};
};

double drive_available(const Plant& p, const std::array<SteadyWheel, 4>& w) {
  double each_axle[2] = {0.0, 0.0};
  for (std::size_t a = 0; a < 2; ++a) {
    double force[2];
    for (std::size_t i = 0; i < 2; ++i) {
      const auto& wheel = w[2 * a + i];
      force[i] = std::sqrt(std::max(wheel.peak * wheel.peak - wheel.side_force * wheel.side_force, 0.0));
    }
    const double weak = std::min(force[0], force[1]), strong = std::max(force[0], force[1]);
    switch (p.drive.differential) {
      case Differential::open: each_axle[a] = 2.0 * weak; break;
      case Differential::limited_slip: each_axle[a] = weak + std::min(strong, p.drive.torque_bias * weak); break;
      case Differential::locked: each_axle[a] = weak + strong; break;
    }
  }
  switch (p.drive.axle) {
    case DrivenAxle::front: return each_axle[0];
    case DrivenAxle::rear: return each_axle[1];
    case DrivenAxle::both: return each_axle[0] + each_axle[1];
  }
  return 0.0;
}

double drive_needed(const SteadyEquations& e, const SteadyVector& x, const std::array<SteadyWheel, 4>& w,
                    const SteadyOptions& options) {
  const Plant& p = e.plant();
  const double u = e.speed(x), r = e.yaw_rate(x), v = x[kSideSpeed];
  double force = options.rolling_resistance * p.mass * kGravity + 0.5 * kAirDensity * options.drag_area.si() * u * u;
  force -= r * p.m_s * v;
  for (std::size_t i = 0; i < 4; ++i) {
    force += w[i].side_force * std::sin(w[i].steer) - r * p.axle_of(i).m_unsprung_wheel * (v + p.wheel[i].x * r);
  }
  return force;
}

SteadyState state_of(const SteadyEquations& e, const CurvePoint& point, const SteadyOptions& options) {
  const SteadyVector& x = point.x;
  const auto w = e.wheels(x);
  SteadyState s;
  const double u = e.speed(x), r = e.yaw_rate(x), a_y_along = point.tangent[kLateral];
  s.lateral_acceleration = base::Acceleration(x[kLateral]);
  s.speed = base::Speed(u);
  s.steer = base::Angle(e.steering(x));
  s.roll = base::Angle(x[kRoll]);
  s.twist = base::Angle(x[kTwist]);
  s.pitch = base::Angle(x[kPitch]);
  s.sideslip = base::Angle(std::atan2(x[kSideSpeed] + e.plant().x_cg * r, u));
  s.heave = base::Length(x[kHeave]);
  s.yaw_rate = base::AngularRate(r);
  // At the very top a_y stands still along the curve: gradients there are unbounded. 1e6 keeps them finite.
  const double divisor = std::copysign(std::max(std::abs(a_y_along), 1e-9), a_y_along);
  const double wheelbase_term = options.radius ? 0.0 : e.plant().wheelbase / (u * u);
  s.understeer_gradient = base::AnglePerAcceleration(e.steering_along(x, point.tangent) / divisor - wheelbase_term);
  s.roll_gradient = base::AnglePerAcceleration(point.tangent[kRoll] / divisor);
  for (std::size_t i = 0; i < 4; ++i) {
    s.load[i] = base::Force(w[i].load);
    s.side_force[i] = base::Force(w[i].side_force);
    s.slip[i] = base::Angle(w[i].slip);
    s.lean[i] = base::Angle(w[i].lean);
    s.travel[i] = base::Length(w[i].travel);
  }
  for (std::size_t a = 0; a < 2; ++a) {
    const double peak = w[2 * a].peak + w[2 * a + 1].peak;
    s.grip_used[a] = peak > 0.0 ? std::abs(w[2 * a].side_force + w[2 * a + 1].side_force) / peak : 0.0;
  }
  s.drive_needed = base::Force(drive_needed(e, x, w, options));
  s.drive_available = base::Force(drive_available(e.plant(), w));
  return s;
}

// Change of the tangent per length between two points.
SteadyVector bend_between(const CurvePoint& a, const CurvePoint& b, double length) {
  SteadyVector bend{};
  for (int c = 0; c < kColumns; ++c) bend[c] = (b.tangent[c] - a.tangent[c]) / length;
  return bend;
}

// Where f changes sign between `from` and `to`, `length` apart, by regula falsi with the Illinois rule. f must have changed
// sign at the end. `close`, as a share of f at the start, and of the length where f jumps, is good enough.
template <class F>
bool locate(const Follower& follower, const CurvePoint& from, const CurvePoint& to, double length, const F& f, double close, CurvePoint& out) {
  const SteadyVector bend = bend_between(from, to, length);
  double low = 0.0, high = length, f_low = f(from), f_high = f(to);
  const double close_enough = close * std::abs(f_low);
  out = to;
  int last_side = 0;
  for (int i = 0; i < 80 && high - low > 1e-3 * close * length && std::abs(f_high) > 0.0; ++i) {
    double s = high - (high - low) * f_high / (f_high - f_low);
    if (!(s > low && s < high)) s = 0.5 * (low + high);
    // Over a corner of the curve the bend is no guide.
    if (!follower.along(from, s, out, &bend) && !follower.along(from, s, out)) return false;
    const double value = f(out);
    if (std::abs(value) < close_enough) return true;
    const int side = (value > 0.0) == (f_low > 0.0) ? -1 : 1;
    if (side < 0) {
      low = s;
      f_low = value;
      if (last_side == side) f_high *= 0.5;
    } else {
      high = s;
      f_high = value;
      if (last_side == side) f_low *= 0.5;
    }
    last_side = side;
  }
  return true;
}

base::Problem no_equilibrium(double a_y) {
  char text[160];
  std::snprintf(text, sizeof text, "The car finds no balance at %.2f m/s² of lateral acceleration.", a_y);
  return base::no_answer("no_equilibrium", "car", text, {},
                         "Check spring and bar rates, height of the centre of gravity and tyre data.");
}

// Refines a step length so that the curve is followed without skipping over a bend.
constexpr double kBaseStep = 0.06;
// A maximum at which more slip would bring an axle less than this share of its first slope is the limit. Any other is a
// dip, where a wheel lifts or a stop is met, and the curve may rise higher after it.
constexpr double kExhausted = 0.1;
// How far past a maximum the curve is followed: past the limit by 0.15 rad of slip, since what lies beyond is a long slide
// whose lateral acceleration may creep up again at angles that no driver holds; past a dip by more.
constexpr double kFollowPast = 1.0;
constexpr double kFollowDip = 4.0;

}  // namespace

SteadyTurn::SteadyTurn(const Plant& plant, SteadyOptions options) : plant_(plant), options_(options) {}

base::Outcome<SteadyCurve> SteadyTurn::to_limit() const {
  // 1e-12 of the weight is 1e-8 N; where only the limit is wanted 1e-8 does, since it is a maximum. For the same reason the
  // place of the maximum may then be missed by a thousandth of a step, which costs a millionth of what the step brought.
  const bool quick = !options_.keep_points;
  const Follower follower(plant_, {options_.speed.si(), options_.radius ? options_.radius->si() : 0.0}, quick ? 1e-8 : 1e-12);
  const double close = quick ? 1e-3 : 1e-9;
  const SteadyEquations& e = follower.equations();
  SteadyCurve curve;
  CurvePoint here;
  if (!follower.at_lateral(here, options_.radius ? 0.05 : 0.0)) return base::fail(no_equilibrium(0.0));
  if (!quick) curve.points.push_back(state_of(e, here, options_));
  curve.states.resize(options_.states_at.size());
  std::size_t asked = 0;

  const auto load_of = [&](const CurvePoint& c, std::size_t w) {
    return plant_.wheel[w].n0 - plant_.axle_of(w).kt * c.x[kWheelHeight + w];
  };
  const auto travel_at = [&](const CurvePoint& c, std::size_t w) {
    const auto& wheel = plant_.wheel[w];
    return c.x[kWheelHeight + w] - c.x[kHeave] - wheel.y * (c.x[kRoll] + wheel.along * c.x[kTwist]) + wheel.x * c.x[kPitch];
  };
  const auto drive_margin = [&](const CurvePoint& c) {
    const auto w = e.wheels(c.x);
    return drive_available(plant_, w) - drive_needed(e, c.x, w, options_);
  };
  // How much more side force an axle would give for more slip, against what it gave at first: near 0 at its limit.
  const auto least_reserve = [&](const CurvePoint& c) {
    const auto w = e.wheels(c.x);
    double least = 1.0;
    for (std::size_t a = 0; a < 2; ++a) {
      const auto& law = plant_.axle[a].law;
      double slope = 0.0, first = 0.0;
      for (std::size_t i = 2 * a; i < 2 * a + 2; ++i) {
        slope -= law.with_derivatives(w[i].slip, w[i].load, w[i].lean).by_slip;
        first += law.cornering_stiffness(w[i].load);
      }
      if (first > 0.0) least = std::min(least, slope / first);
    }
    return least;
  };
  // Passing from one side to the other of a bound, each with the list it goes to.
  struct Watch {
    std::function<double(const CurvePoint&)> value;
    std::vector<WheelEvent>* list;
    std::size_t wheel;
    bool done = false;
  };
  std::vector<Watch> watches;
  for (std::size_t w = 0; w < 4 && !quick; ++w) {
    watches.push_back({[&, w](const CurvePoint& c) { return load_of(c, w); }, &curve.lifts, w});
    if (plant_.wheel[w].bump_gap < 1.0) {
      watches.push_back({[&, w](const CurvePoint& c) { return plant_.wheel[w].bump_gap - travel_at(c, w); }, &curve.bump_contacts, w});
    }
    if (plant_.wheel[w].droop < 1.0) {
      watches.push_back({[&, w](const CurvePoint& c) { return plant_.wheel[w].droop + travel_at(c, w); }, &curve.droop_contacts, w});
    }
  }

  const double usual = kBaseStep * options_.step * (quick ? 3.0 : 1.0);
  double length = usual, best = 0.0;
  bool found = false, is_final = false, has_bend = false;
  SteadyVector bend{};
  double past = 0.0;
  CurvePoint top;
  double drive_before = quick ? 0.0 : drive_margin(here);
  for (int i = 0; i < 2000; ++i) {
    CurvePoint next;
    // A corrector that lands far from where it was sent has found another part of the curve.
    if (!follower.along(here, length, next, has_bend ? &bend : nullptr) || follower.distance(here, next) > 1.5 * length) {
      length *= 0.5;
      has_bend = false;
      if (length < 1e-6) break;
      continue;
    }
    // The curve must not turn sharply within a step, or a maximum could be stepped over.
    double turn = 0.0;
    turn = next.tangent[kLateral] * here.tangent[kLateral] < 0.0 ? 0.0 : std::abs(next.tangent[kLateral] - here.tangent[kLateral]) / 8.0;
    if (turn > 0.35 && length > 1e-3) {
      length *= 0.5;
      continue;
    }
    if (!found) {
      for (auto& watch : watches) {
        if (watch.done || watch.value(here) <= 0.0 || watch.value(next) > 0.0) continue;
        CurvePoint event;
        if (here.tangent[kLateral] > 0.0 && locate(follower, here, next, length, watch.value, close, event)) {
          watch.list->push_back({watch.wheel, base::Acceleration(event.x[kLateral])});
        }
        watch.done = true;
      }
      const double drive_now = quick ? 0.0 : drive_margin(next);
      if (!curve.drive_limit && drive_before > 0.0 && drive_now <= 0.0) {
        CurvePoint event;
        if (locate(follower, here, next, length, drive_margin, close, event)) curve.drive_limit = base::Acceleration(event.x[kLateral]);
      }
      drive_before = drive_now;
      for (; asked < curve.states.size() && options_.states_at[asked].si() <= next.x[kLateral]; ++asked) {
        const double wanted = options_.states_at[asked].si(), rise = next.x[kLateral] - here.x[kLateral];
        const double part = rise > 0.0 ? std::clamp((wanted - here.x[kLateral]) / rise, 0.0, 1.0) : 0.0;
        CurvePoint there;
        for (int c = 0; c < kColumns; ++c) there.x[c] = here.x[c] + part * (next.x[c] - here.x[c]);
        if (follower.at_lateral(there, wanted)) curve.states[asked] = state_of(e, there, options_);
      }
    }
    if (!is_final && here.tangent[kLateral] > 0.0 && next.tangent[kLateral] <= 0.0) {
      CurvePoint peak;
      if (!locate(follower, here, next, length, [](const CurvePoint& c) { return c.tangent[kLateral]; }, close, peak)) peak = next;
      if (peak.x[kLateral] > best) {
        best = peak.x[kLateral];
        past = 0.0;
        top = peak;
        found = true;
        is_final = least_reserve(peak) < kExhausted;
        if (!quick) curve.points.push_back(state_of(e, peak, options_));
      }
    }
    bend = bend_between(here, next, length);
    has_bend = true;
    here = next;
    if (is_final && (quick || here.x[kLateral] > best)) break;
    if (!quick) curve.points.push_back(state_of(e, here, options_));
    if (found && (here.x[kLateral] < best * (1.0 - options_.past_limit) || (past += length) > (is_final ? kFollowPast : kFollowDip))) break;
    if (here.x[kLateral] < 0.0) break;
    length = std::min(length * (turn < 0.1 ? 1.3 : 1.0), usual);
  }
  const double nothing = 1e-3 * plant_.mass * kGravity;
  const auto both_inner_up = [&](const CurvePoint& c) { return load_of(c, kFrontLeft) < nothing && load_of(c, kRearLeft) < nothing; };
  if (!found && both_inner_up(here)) {
    // Where the last inner wheel lifts, the curve turns back on itself: the car tips from here on.
    top = here;
    found = true;
    for (auto& watch : watches) {
      if (watch.list == &curve.lifts && !watch.done && std::abs(watch.value(here)) < nothing) {
        curve.lifts.push_back({watch.wheel, base::Acceleration(here.x[kLateral])});
      }
    }
  }
  if (!found) return base::fail(no_equilibrium(here.x[kLateral]));

  curve.limit = state_of(e, top, options_);
  const auto by_a_y = [](const WheelEvent& a, const WheelEvent& b) { return a.lateral_acceleration < b.lateral_acceleration; };
  for (auto* list : {&curve.lifts, &curve.bump_contacts, &curve.droop_contacts}) std::sort(list->begin(), list->end(), by_a_y);
  const auto& used = curve.limit.grip_used;
  curve.limited_by = used[0] >= used[1] ? Limit::front : Limit::rear;
  curve.other_axle_margin = 1.0 - std::min(used[0].si(), used[1].si());
  if (both_inner_up(top) && std::max(used[0].si(), used[1].si()) < 0.9) curve.limited_by = Limit::tips_over;
  return curve;
}

base::Outcome<SteadyState> SteadyTurn::at(base::Acceleration a_y) const {
  auto several = at(std::vector<base::Acceleration>{a_y});
  if (!several) return base::fail(several.error());
  return several->front();
}

base::Outcome<std::vector<SteadyState>> SteadyTurn::at(const std::vector<base::Acceleration>& wanted) const {
  const Follower follower(plant_, {options_.speed.si(), options_.radius ? options_.radius->si() : 0.0});
  std::vector<std::size_t> order(wanted.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
  std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return std::abs(wanted[a].si()) < std::abs(wanted[b].si()); });
  std::vector<SteadyState> out(wanted.size());
  // Left and right turns start again from straight running; each answer is the start of the next.
  CurvePoint last[2];
  bool has[2] = {false, false};
  for (const std::size_t i : order) {
    const double target = wanted[i].si();
    const int side = target < 0.0 ? 1 : 0;
    CurvePoint point = last[side];
    if (!has[side]) {
      point = CurvePoint{};
      if (options_.radius) point.x[kLateral] = 0.05;
      if (!follower.at_lateral(point, options_.radius ? std::copysign(0.05, target) : 0.0)) return base::fail(no_equilibrium(0.0));
      last[side] = point;
      has[side] = true;
    }
    // Steps along the tangent, halved where they fail or land on the falling branch.
    double reached = point.x[kLateral], step = target - reached;
    bool arrived = std::abs(step) < 1e-15;
    for (int trial = 0; trial < 60 && !arrived; ++trial) {
      CurvePoint next = point;
      const double slope = point.tangent[kLateral];
      if (std::abs(slope) > 1e-9) {
        for (int c = 0; c < kColumns; ++c) next.x[c] += step / slope * point.tangent[c];
      }
      const bool ok = follower.at_lateral(next, reached + step) && std::abs(next.x[kSteerFront] - point.x[kSteerFront]) < 0.1 &&
                      std::abs(next.x[kSteerRear] - point.x[kSteerRear]) < 0.1 &&
                      std::abs(next.x[kSideSpeed] - point.x[kSideSpeed]) < 0.15 * std::max(follower.equations().speed(next.x), 1.0);
      if (ok) {
        point = next;
        reached += step;
        step = target - reached;
        arrived = std::abs(step) <= 1e-12 * std::abs(target);
      } else {
        step *= 0.4;
        if (std::abs(step) < 1e-4) break;
      }
    }
    if (!arrived) {
      SteadyOptions quick = options_;
      quick.keep_points = false;
      const auto curve = SteadyTurn(plant_, quick).to_limit();
      if (!curve) return base::fail(curve.error());
      char text[200];
      std::snprintf(text, sizeof text, "This car cannot corner steadily at %.2f g: its limit is %.2f g.",
                    std::abs(target) / kGravity, curve->limit.lateral_acceleration.si() / kGravity);
      char allowed[80];
      std::snprintf(allowed, sizeof allowed, "below %.2f g", curve->limit.lateral_acceleration.si() / kGravity);
      return base::fail(base::no_answer("beyond_limit", "lateral_acceleration", text, allowed));
    }
    last[side] = point;
    out[i] = state_of(follower.equations(), point, options_);
  }
  return out;
}

}  // namespace rollwright::vehicle
