#include "vehicle/path.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <string>

#include "vehicle/bicycle.h"
#include "vehicle/roll_balance.h"

namespace rollwright::vehicle {
namespace {

// Where on the path something is: piece number and fraction, kept as one number.
struct PathPlace {
  double x, y, dx, dy, heading, curvature, speed;  // dx, dy per unit of the piece's parameter
};

class Spline {
 public:
  explicit Spline(const std::vector<PathPoint>& points) : p_(points) {}
  [[nodiscard]] double end() const { return static_cast<double>(p_.size() - 1); }

  [[nodiscard]] PathPlace at(double s) const {
    s = std::clamp(s, 0.0, end());
    const std::size_t i = std::min(static_cast<std::size_t>(s), p_.size() - 2);
    const double f = s - static_cast<double>(i);
    const PathPoint &b = p_[i], &c = p_[i + 1];
    // Beyond the ends the path goes on straight.
    const PathPoint a = i > 0 ? p_[i - 1] : PathPoint{2 * b.x - c.x, 2 * b.y - c.y, b.speed};
    const PathPoint d = i + 2 < p_.size() ? p_[i + 2] : PathPoint{2 * c.x - b.x, 2 * c.y - b.y, c.speed};
    const auto value = [&](double pa, double pb, double pc, double pd, int derivative) {
      const double c1 = 0.5 * (pc - pa), c2 = pa - 2.5 * pb + 2.0 * pc - 0.5 * pd, c3 = 0.5 * (pd - pa) + 1.5 * (pb - pc);
      switch (derivative) {
        case 0: return pb + f * (c1 + f * (c2 + f * c3));
        case 1: return c1 + f * (2.0 * c2 + f * 3.0 * c3);
        default: return 2.0 * c2 + 6.0 * c3 * f;
      }
    };
    PathPlace out{};
    out.x = value(a.x, b.x, c.x, d.x, 0);
    out.y = value(a.y, b.y, c.y, d.y, 0);
    out.dx = value(a.x, b.x, c.x, d.x, 1);
    out.dy = value(a.y, b.y, c.y, d.y, 1);
    const double ddx = value(a.x, b.x, c.x, d.x, 2), ddy = value(a.y, b.y, c.y, d.y, 2);
    const double length = std::hypot(out.dx, out.dy);
    out.heading = std::atan2(out.dy, out.dx);
    out.curvature = (out.dx * ddy - out.dy * ddx) / (length * length * length);
    out.speed = b.speed + f * (c.speed - b.speed);
    return out;
  }

 private:
  const std::vector<PathPoint>& p_;
};

}  // namespace

base::Outcome<PathDrive> drive_path(const Plant& plant, const std::vector<PathPoint>& path, const Driver& driver,
                                    const TransientOptions& options) {
  base::Problems problems;
  if (path.size() < 4) problems.push_back(base::input_problem("too_short", "path", "A path needs at least four points."));
  double duration = 0.0, fastest = 0.0, slowest = 1e9;
  for (std::size_t i = 0; i < path.size(); ++i) {
    fastest = std::max(fastest, path[i].speed);
    slowest = std::min(slowest, path[i].speed);
    if (i == 0) continue;
    const double step = std::hypot(path[i].x - path[i - 1].x, path[i].y - path[i - 1].y);
    if (!(step >= 0.1 && step <= 200.0)) {
      problems.push_back(base::input_problem("out_of_range", "path[" + std::to_string(i) + "]", "This point lies too near to or too far from the one before.", "0.1 to 200 m"));
      break;
    }
    duration += step / std::max(0.5 * (path[i].speed + path[i - 1].speed), 0.1);
  }
  if (!path.empty() && !(slowest >= 1.0 && fastest <= 120.0)) {
    problems.push_back(base::input_problem("out_of_range", "path.speed", "Speeds along the path must lie between 1 and 120 m/s.", "3.6 to 432 km/h"));
  }
  if (!problems.empty()) return base::fail(std::move(problems));
  const auto balance = roll_balance(plant);
  if (!balance) return base::fail(balance.error());
  const auto model = bicycle(plant, *balance, base::Speed(fastest));
  if (!model) return base::fail(model.error());
  const double understeer = model->understeer.si();

  const Spline spline(path);
  const PathPlace first = spline.at(0.0);
  TransientOptions run = options;
  run.start[kStateX] = first.x;
  run.start[kStateY] = first.y;
  run.start[kStateHeading] = first.heading;
  double place = 0.0, hands = 0.0, last_time = 0.0, largest = 0.0;
  bool arrived = false;
  const std::function<Inputs(const Moment&)> steer = [&](const Moment& m) {
    const double h = m.t - last_time;
    last_time = m.t;
    // The nearest place moves on with the car: a step of Newton's method along the path from where it was.
    PathPlace here = spline.at(place);
    for (int i = 0; i < 3; ++i) {
      const double along = (m.x - here.x) * here.dx + (m.y - here.y) * here.dy;
      place = std::clamp(place + std::clamp(along / (here.dx * here.dx + here.dy * here.dy), -0.5, 0.5), 0.0, spline.end());
      here = spline.at(place);
    }
    arrived = arrived || place >= spline.end() - 1e-9;
    const double u = here.speed, per_place = std::hypot(here.dx, here.dy);
    const double error = -(m.x - here.x) * std::sin(here.heading) + (m.y - here.y) * std::cos(here.heading);
    if (m.t > 2.0 && !arrived) largest = std::max(largest, std::abs(error));
    const double off_course = std::remainder(m.heading + std::atan2(m.lateral_speed, u) - here.heading, 2.0 * 3.14159265358979323846);
    const double preview = driver.preview.si(), lead = driver.lag.si() + 0.15;  // 0.15 s: how late cars follow the wheel
    const double ahead = spline.at(place + u * lead / per_place).curvature;
    const double correction = -driver.gain * 2.0 / (u * preview * u * preview) * (error + preview * u * std::sin(off_course));
    const double per_curvature = std::max(plant.wheelbase + understeer * u * u, 0.2 * plant.wheelbase);
    const double wanted = std::clamp(per_curvature * (ahead + correction), -driver.full_lock.si(), driver.full_lock.si());
    hands += h * std::clamp((wanted - hands) / std::max(driver.lag.si(), 0.02), -driver.fastest_hands.si(), driver.fastest_hands.si());
    Inputs in;
    in.steer = hands;
    in.speed = u;
    const PathPlace next = spline.at(place + 0.05);
    in.speed_rate = arrived ? 0.0 : (next.speed - here.speed) / std::max(0.05 * per_place / u, 1e-3);
    return in;
  };
  auto trace = drive_closed_loop(plant, duration, steer, run);
  if (!trace) return base::fail(trace.error());
  return PathDrive{std::move(*trace), largest};
}

}  // namespace rollwright::vehicle
