#include "kinematics/system.h"

#include <algorithm>

namespace rollwright::kinematics {

namespace {

using Matrix = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::ColMajor, 20, 20>;
using Vector = Eigen::Matrix<double, Eigen::Dynamic, 1, Eigen::ColMajor, 20, 1>;

Vec3 lowest_direction(const Vec3& axle, const Vec3& normal) { return (normal - normal.dot(axle) * axle).normalized(); }

// Writes the derivative of u·(velocity of the body's point at P) into a row.
void add_row(Matrix& J, int row, int body, const Vec3& u, const Vec3& P, double factor = 1.0) {
  J.block<1, 3>(row, 6 * body) += factor * u.transpose();
  J.block<1, 3>(row, 6 * body + 3) += factor * P.cross(u).transpose();
}

struct Equations {
  Vector g, s;
  Matrix G, S;
};

// Where the wheel end of a rod is, and its derivative to the rocker's angle.
Vec3 wheel_end(const System& system, const SystemPose& q, const RodTie& rod, Vec3& per_rocker) {
  const Pose& pose = q.body[rod.body];
  if (!rod.on_rocker) {
    per_rocker.setZero();
    return pose.at(rod.wheel_end);
  }
  const Rocker& rocker = system.rocker;
  const Vec3 arm = rotation(q.rocker * rocker.axis) * (rod.wheel_end - rocker.pivot);
  per_rocker = pose.R * rocker.axis.cross(arm);
  return pose.at(rocker.pivot + arm);
}

Equations evaluate(const System& system, const SystemPose& q, const RoadInput& road) {
  const int n = system.unknowns();
  int rows = static_cast<int>(system.wheels.size()), soft = 0;
  for (const Tie& tie : system.ties) {
    const auto* rod = std::get_if<RodTie>(&tie);
    rod && rod->soft >= 0 ? ++soft : ++rows;
  }
  Equations e;
  e.g.setZero(rows);
  e.G.setZero(rows, n);
  e.s.setZero(soft);
  e.S.setZero(soft, n);
  int row = 0;
  for (const Tie& tie : system.ties) {
    if (const auto* rod = std::get_if<RodTie>(&tie)) {
      Vec3 per_rocker;
      const Vec3 P = wheel_end(system, q, *rod, per_rocker);
      const Vec3 B = rod->body_end + Vec3(0.0, rod->moves_with_rack ? road.rack : 0.0, 0.0);
      const double length = (P - B).norm();
      const Vec3 u = (P - B) / length;
      Matrix& J = rod->soft >= 0 ? e.S : e.G;
      const int at = rod->soft >= 0 ? rod->soft : row++;
      (rod->soft >= 0 ? e.s : e.g)(at) = length - rod->length;
      add_row(J, at, rod->body, u, P);
      if (rod->on_rocker) J(at, n - 1) = u.dot(per_rocker);
    } else if (const auto* point = std::get_if<PointTie>(&tie)) {
      const Vec3 A = q.body[point->a].at(point->point_a);
      const Vec3 B = point->b < 0 ? point->point_b : q.body[point->b].at(point->point_b);
      e.g(row) = point->along.dot(A - B);
      add_row(e.G, row, point->a, point->along, A);
      if (point->b >= 0) add_row(e.G, row, point->b, point->along, B, -1.0);
      ++row;
    } else if (const auto* shared = std::get_if<SharedTie>(&tie)) {
      const Vec3 A = q.body[shared->a].at(shared->point_a), B = q.body[shared->b].at(shared->point_b);
      e.g(row) = shared->along.dot(A - shared->point_a + B - shared->point_b);
      add_row(e.G, row, shared->a, shared->along, A);
      add_row(e.G, row, shared->b, shared->along, B);
      ++row;
    } else {
      const auto& slide = std::get<SlideTie>(tie);
      const Pose& pose = q.body[slide.body];
      const Vec3 across = pose.R * slide.across, P = pose.at(slide.line_point);
      // The direction turns with the body too: d/dt across·(place − P) = ω·(across × (place − P)) − across·Ṗ.
      e.g(row) = across.dot(slide.place - P);
      e.G.block<1, 3>(row, 6 * slide.body + 3) += across.cross(slide.place - P).transpose();
      add_row(e.G, row, slide.body, across, P, -1.0);
      ++row;
    }
  }
  const Vec3 normal = road_normal(road.roll);
  for (const Wheel& wheel : system.wheels) {
    const Pose& pose = q.body[wheel.body];
    const Vec3 a = pose.R * wheel.axle, W = pose.at(wheel.centre);
    const double na = normal.dot(a), m = std::sqrt(1.0 - na * na);
    e.g(row) = normal.dot(W) - wheel.radius * m - (wheel.is_left ? road.left : road.right);
    add_row(e.G, row, wheel.body, normal, W);
    // d(−r·m) = r·(n·a)/m · n·(ω × a)
    e.G.block<1, 3>(row, 6 * wheel.body + 3) += (wheel.radius * na / m) * a.cross(normal).transpose();
    ++row;
  }
  return e;
}

void apply(const System& system, SystemPose& q, const Vector& d) {
  for (int b = 0; b < system.bodies; ++b) q.body[b].move({d.segment<3>(6 * b), d.segment<3>(6 * b + 3)});
  if (system.has_rocker) q.rocker += d(6 * system.bodies);
}

// Newton from q; false when it does not settle. `orientation` receives the sign of the determinant (0 with soft rods).
bool settle(const System& system, SystemPose& q, const RoadInput& road, int& orientation) {
  const int limit = system.soft_count > 0 ? 40 : 15;
  double last = 1e9;
  for (int i = 0; i < limit; ++i) {
    const Equations e = evaluate(system, q, road);
    Vector d;
    if (system.soft_count == 0) {
      const Eigen::PartialPivLU<Matrix> lu(e.G);
      d = lu.solve(-e.g);
      orientation = lu.determinant() > 0.0 ? 1 : -1;
    } else {
      const int n = system.unknowns(), m = static_cast<int>(e.g.size());
      Matrix K = Matrix::Zero(n + m, n + m);
      K.topLeftCorner(n, n) = e.S.transpose() * e.S;
      K.topRightCorner(n, m) = e.G.transpose();
      K.bottomLeftCorner(m, n) = e.G;
      Vector b(n + m);
      b << -(e.S.transpose() * e.s), -e.g;
      d = K.partialPivLu().solve(b).head(n);
      orientation = 0;
    }
    const double size = d.norm();
    if (!(size < 0.5)) return false;
    if (i > 4 && size > 10.0 * last) return false;
    last = size;
    apply(system, q, d);
    if (size < 2e-14 || (i > 0 && size < 1e-12)) {
      const Equations after = evaluate(system, q, road);
      for (int k = 0; k < after.s.size(); ++k) q.stretch[k] = after.s(k);
      q.at = road;
      return after.g.norm() < 1e-10;
    }
  }
  return false;
}

RoadInput between(const RoadInput& a, const RoadInput& b, double t) {
  const auto mix = [t](double x, double y) { return x + t * (y - x); };
  return {mix(a.left, b.left), mix(a.right, b.right), mix(a.roll, b.roll), mix(a.rack, b.rack)};
}

}  // namespace

Vec3 contact_point(const Wheel& wheel, const Pose& pose, const Vec3& normal) {
  return pose.at(wheel.centre) - wheel.radius * lowest_direction(pose.R * wheel.axle, normal);
}

Vec3 contact_velocity(const Wheel& wheel, const Pose& pose, const Twist& twist, const Vec3& normal) {
  const Vec3 a = pose.R * wheel.axle, da = twist.w.cross(a);
  const Vec3 m = normal - normal.dot(a) * a, dm = -normal.dot(da) * a - normal.dot(a) * da;
  const double size = m.norm();
  const Vec3 u = m / size, du = (dm - u.dot(dm) * u) / size;
  return twist.at(pose.at(wheel.centre)) - wheel.radius * du;
}

std::variant<SystemPose, Stuck> follow(const System& system, const SystemPose& from, const RoadInput& to) {
  // Steps that keep Newton's start well inside the branch: 20 mm of travel, 3 deg of roll, 20 mm of rack.
  const auto& a = from.at;
  const double far = std::max({std::abs(to.left - a.left) / 0.02, std::abs(to.right - a.right) / 0.02,
                               std::abs(to.roll - a.roll) / 0.05, std::abs(to.rack - a.rack) / 0.02});
  SystemPose q = from;
  int start = 0;
  if (system.soft_count == 0) start = evaluate(system, q, a).G.partialPivLu().determinant() > 0.0 ? 1 : -1;
  const double longest = 1.0 / std::max(1.0, std::ceil(far));
  double done = 0.0, step = longest;
  int trials = 0;
  while (done < 1.0) {
    const double next = done + step > 1.0 - 1e-12 ? 1.0 : done + step;
    SystemPose trial = q;
    int orientation = 0;
    // A pose that turns a body by more than 0.5 rad within a short step is another way of assembling it.
    bool good = settle(system, trial, between(a, to, next), orientation) && orientation == start;
    for (int b = 0; good && b < system.bodies; ++b) {
      good = rotation_vector(trial.body[b].R * q.body[b].R.transpose()).norm() < 0.5;
    }
    if (good) {
      q = trial;
      done = next;
      step = std::min(longest, 2.0 * step);
    } else {
      // Two micrometres of travel tell well enough where it locks; the limit on trials ends a creep along a fold.
      step *= 0.25;
      if (step * std::max(1.0, far) < 1e-4 || ++trials > 60) return Stuck{done};
    }
  }
  q.at = to;
  return q;
}

std::vector<SystemRate> rates(const System& system, const SystemPose& pose) {
  std::vector<SystemRate> out(system.wheels.size());
  if (system.soft_count == 0) {
    const Equations e = evaluate(system, pose, pose.at);
    const Eigen::PartialPivLU<Matrix> lu(e.G);
    const int first = static_cast<int>(e.g.size() - static_cast<Eigen::Index>(system.wheels.size()));
    for (std::size_t w = 0; w < system.wheels.size(); ++w) {
      Vector b = Vector::Zero(e.g.size());
      b(first + static_cast<int>(w)) = 1.0;
      const Vector d = lu.solve(b);
      for (int k = 0; k < system.bodies; ++k) out[w].body[k] = {d.segment<3>(6 * k), d.segment<3>(6 * k + 3)};
    }
    return out;
  }
  constexpr double kStep = 5e-4;  // [m]; fourth order: 5e-4⁴ against the 1e-12 of the solution over 5e-4
  for (std::size_t w = 0; w < system.wheels.size(); ++w) {
    Vec3 turn = Vec3::Zero(), shift = Vec3::Zero();
    bool settled = true;
    for (const auto& [k, weight] : {std::pair{-2.0, 1.0}, {-1.0, -8.0}, {1.0, 8.0}, {2.0, -1.0}}) {
      RoadInput road = pose.at;
      (system.wheels[w].is_left ? road.left : road.right) += k * kStep;
      SystemPose q = pose;
      int orientation = 0;
      settled = settled && settle(system, q, road, orientation);
      turn += weight / (12.0 * kStep) * rotation_vector(q.body[0].R * pose.body[0].R.transpose());
      shift += weight / (12.0 * kStep) * q.body[0].p;
    }
    if (settled) {
      out[w].body[0] = {shift - turn.cross(pose.body[0].p), turn};
      continue;
    }
    // Within a millimetre of the place where the axle locks there is no pose to either side; the same equations without
    // the curvature of the soft rods serve, good to some parts in a thousand.
    const Equations e = evaluate(system, pose, pose.at);
    const int n = system.unknowns(), m = static_cast<int>(e.g.size());
    Matrix K = Matrix::Zero(n + m, n + m);
    K.topLeftCorner(n, n) = e.S.transpose() * e.S;
    K.topRightCorner(n, m) = e.G.transpose();
    K.bottomLeftCorner(m, n) = e.G;
    Vector b = Vector::Zero(n + m);
    b(n + m - static_cast<int>(system.wheels.size()) + static_cast<int>(w)) = 1.0;
    const Vector d = K.partialPivLu().solve(b);
    out[w].body[0] = {d.segment<3>(0), d.segment<3>(3)};
  }
  return out;
}

double stiffness_condition(const System& system) {
  const Equations e = evaluate(system, {}, {});
  Matrix all(e.G.rows() + e.S.rows(), e.G.cols());
  all << e.G, e.S;
  const auto singular = Eigen::JacobiSVD<Eigen::MatrixXd>(Eigen::MatrixXd(all)).singularValues();
  return singular(std::min(all.rows(), all.cols()) - 1) / singular(0);
}

}  // namespace rollwright::kinematics
