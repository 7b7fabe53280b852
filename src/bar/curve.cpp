#include "bar/curve.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <numbers>

#include <Eigen/Dense>

#include "bar/rate.h"
#include "bar/rotation.h"
#include "base/assert.h"

namespace rollwright::bar {

namespace {

constexpr double kLongestStep = 0.06;                                // [m]; the linear part of the moment is kept
constexpr double kLongestArc = 13.0 * std::numbers::pi / 180.0;      // [rad]
constexpr double kForceScale = 1000.0;                               // [N] per unit of an unknown force

struct Cell {
  double h = 0.0;
  Vec3 curvature;      // rest curvature in section directions
  Vec3 flex_moment;    // 1/GJ, 1/EI₂, 1/EI₃
  Vec3 flex_force;     // 1/EA, 1/kGA, 1/kGA
  Frame next;          // rest frame at the start of the next cell, seen from this cell's end (differs at mitres)
  bool turns_after = false;
  SectionProperties section;
};

enum class EventKind { none, mount, joint };

struct Event {
  std::size_t before_cell = 0;  // happens before this cell
  EventKind kind = EventKind::none;
  std::size_t index = 0;
};

constexpr Vec3 scaled(const Vec3& a, const Vec3& b) { return {a.x * b.x, a.y * b.y, a.z * b.z}; }

class Shooter {
 public:
  Shooter(const BarModel& m, const ModelSetting& setting)
      : m_(m), left_(m.holes[setting.left]), right_(m.holes[setting.right]) {
    lay_cells();
    size_ = 8 + 2 * static_cast<Eigen::Index>(m_.mounts.size());
    e1_ = square_unit(m_.axis, {1, 0, 0});
    e2_ = cross(m_.axis, e1_);
    across_left_ = across(left_);
  }

  [[nodiscard]] Eigen::Index size() const { return size_; }

  // Unknowns: right hole's displacement (3), right end's rotation (3), right link force, side stop force, then two
  // reactions for each mount. Residual: right link, side stop, left moment (3), left force across its link (2), left link,
  // then two displacements for each mount, beside what its softness allows.
  void shoot(const Eigen::VectorXd& x, double left_travel, double right_travel, Eigen::VectorXd& out) {
    ++shots;
    Vec3 r = right_.r + Vec3{x(0), x(1), x(2)};
    Frame f = turned_world(first_, {x(3), x(4), x(5)});
    right_at_ = r;
    force_right_ = kForceScale * x(6);
    const Vec3 link_right = link_direction(right_, r, right_travel);
    Vec3 n = -force_right_ * link_right;
    Vec3 moment;
    Eigen::Index next_unknown = 8;
    out.resize(size_);
    out(0) = link_gap(right_, r, right_travel);
    stress_ = 0.0;
    if (shape_) shape_->push_back(r);
    std::size_t event = 0;
    for (std::size_t c = 0; c < cells_.size(); ++c) {
      for (; event < events_.size() && events_[event].before_cell == c; ++event) {
        if (events_[event].kind == EventKind::mount) {
          pass_mount(events_[event].index, x, r, f, n, moment, next_unknown, out);
        } else {
          const ModelJoint& j = m_.joints[events_[event].index];
          const Vec3 t = f.to_world(joint_axis_[events_[event].index]);
          const double twist = dot(moment, t);
          f = turned_world(f, (j.flex_torsion * twist) * t + j.flex_bending * (moment - twist * t));
        }
      }
      advance(cells_[c], r, f, n, moment);
      if (shape_) shape_->push_back(r);
    }
    left_at_ = r;
    const Vec3 link_left = link_direction(left_, r, left_travel);
    force_left_ = dot(n, link_left);
    const Vec3 a = left_.has_link_end ? square_unit(link_left, across_left_) : across_left_;
    const Vec3 b = cross(link_left, a);
    // Moments over a metre, forces over the force scale: all residuals then are of the size of the unknowns.
    out(2) = moment.x / kForceScale;
    out(3) = moment.y / kForceScale;
    out(4) = moment.z / kForceScale;
    out(5) = dot(n, a) / kForceScale;
    out(6) = dot(n, b) / kForceScale;
    out(7) = link_gap(left_, r, left_travel);
  }

  // What a shot also keeps: the largest stress, the shape.
  void note(bool stress, std::vector<Vec3>* shape) {
    want_stress_ = stress;
    shape_ = shape;
  }
  [[nodiscard]] CurvePoint point(double left_travel, double right_travel) const {
    CurvePoint p;
    p.left_travel = left_travel;
    p.right_travel = right_travel;
    p.force_left = force_left_;
    p.force_right = force_right_;
    p.left_move = left_at_ - left_.r;
    p.right_move = right_at_ - right_.r;
    p.nominal_stress = stress_;
    return p;
  }

  // How far arm and link are from one line, 1 at right angles: below a little there is no answer.
  [[nodiscard]] double over_centre(double left_travel, double right_travel) const {
    const auto sine = [&](const ModelHole& h, const Vec3& at, double travel) {
      const Vec3 arm = square_to(at - m_.mounts[m_.first].r, m_.axis);
      const Vec3 link = square_to(link_direction(h, at, travel), m_.axis);
      return norm(cross(arm, link)) / std::max(1e-12, norm(arm) * norm(link));
    };
    return std::min(sine(left_, left_at_, left_travel), sine(right_, right_at_, right_travel));
  }

  int shots = 0;

 private:
  static Frame turned_world(const Frame& f, const Vec3& phi) {
    const ExpCoefficients e = exp_coefficients(dot(phi, phi));
    return {rotate(phi, e, f.t), rotate(phi, e, f.e2), rotate(phi, e, f.e3)};
  }
  static Vec3 across(const ModelHole& h) { return square_unit(h.link, {1, 0, 0}); }

  // Unit vector of the link, up, with the hole at `r`.
  [[nodiscard]] static Vec3 link_direction(const ModelHole& h, const Vec3& r, double travel) {
    if (!h.has_link_end) return h.link;
    const Vec3 d = unit(r - (h.link_end + travel * h.link));
    return dot(d, h.link) < 0.0 ? -d : d;
  }
  // Zero when the link has its length (or the hole its imposed height).
  [[nodiscard]] static double link_gap(const ModelHole& h, const Vec3& r, double travel) {
    if (!h.has_link_end) return dot(r - h.r, h.link) - travel;
    const double sense = dot(h.r - h.link_end, h.link) < 0.0 ? -1.0 : 1.0;
    return sense * (norm(r - (h.link_end + travel * h.link)) - norm(h.r - h.link_end));
  }

  void lay_cells() {
    bool is_first = true;
    Frame previous_end;
    for (const Stretch& q : m_.stretches) {
      if (q.start < right_.station - 1e-9 || q.end > left_.station + 1e-9) continue;
      for (std::size_t i = 0; i < m_.mounts.size(); ++i) {
        if (std::abs(m_.mounts[i].station - q.start) < 1e-9) {
          events_.push_back({cells_.size(), EventKind::mount, i});
        }
      }
      const Piece& piece = m_.line.pieces()[q.piece];
      const double length = q.end - q.start;
      int count = std::max(1, static_cast<int>(std::ceil(length / kLongestStep)));
      if (piece.radius > 0.0) count = std::max(1, static_cast<int>(std::ceil(length / piece.radius / kLongestArc)));
      if (q.is_tapered) count = std::max(count, static_cast<int>(std::ceil(length / 0.01)));
      const SectionProperties constant = properties_of(q.at_start, m_.poisson);
      for (int i = 0; i < count; ++i) {
        Cell c;
        c.h = length / count;
        const double at = q.start + c.h * i, mid = at + 0.5 * c.h;
        c.section = q.is_tapered ? properties_of(between(q.at_start, q.at_end, (mid - q.start) / length), m_.poisson) : constant;
        Frame here, end;
        // The frame turns with the line: along an arc the directions at the start are carried by the bend's own rotation.
        m_.frame_at(q, q.start, here.t, here.e2, here.e3);
        const auto carried = [&](double station) {
          if (piece.radius == 0.0) return here;
          const Vec3 normal = cross(here.t, Centreline::to_centre(piece, q.start));
          const double angle = (station - q.start) / piece.radius;
          return Frame{turned(here.t, normal, angle), turned(here.e2, normal, angle), turned(here.e3, normal, angle)};
        };
        const Frame start = carried(at);
        end = carried(at + c.h);
        if (piece.radius > 0.0) {
          const Vec3 normal = cross(start.t, Centreline::to_centre(piece, at));
          c.curvature = (1.0 / piece.radius) * start.to_local(normal);
        }
        c.flex_moment = {1.0 / (m_.shear * c.section.torsion_constant), 1.0 / (m_.young * c.section.second_moment_2),
                         1.0 / (m_.young * c.section.second_moment_3)};
        const double shear = 1.0 / (c.section.shear_factor * m_.shear * c.section.area);
        c.flex_force = {1.0 / (m_.young * c.section.area), shear, shear};
        if (is_first) {
          first_ = start;
          is_first = false;
        } else if (i == 0) {
          // Mitres and changes of direction names between stretches: a fixed turn of the frame.
          Cell& before = cells_.back();
          before.next = {previous_end.to_local(start.t), previous_end.to_local(start.e2), previous_end.to_local(start.e3)};
          before.turns_after = norm(cross(previous_end.t, start.t)) > 1e-12 || norm(cross(previous_end.e2, start.e2)) > 1e-12;
        }
        cells_.push_back(c);
        previous_end = end;
      }
      for (std::size_t i = 0; i < m_.joints.size(); ++i) {
        if (std::abs(m_.joints[i].station - q.end) < 1e-9) {
          events_.push_back({cells_.size(), EventKind::joint, i});
        }
      }
    }
    // Rest frames at the mounts and the joints' axes in the frame that passes them.
    rest_at_mount_.resize(m_.mounts.size());
    joint_axis_.resize(m_.joints.size());
    Frame f = first_;
    std::size_t event = 0;
    for (std::size_t c = 0; c < cells_.size(); ++c) {
      for (; event < events_.size() && events_[event].before_cell == c; ++event) {
        if (events_[event].kind == EventKind::mount) {
          rest_at_mount_[events_[event].index] = f;
        } else {
          joint_axis_[events_[event].index] = f.to_local(m_.joints[events_[event].index].t);
        }
      }
      f = turned(f, cells_[c].h * cells_[c].curvature);
      if (cells_[c].turns_after) f = {f.to_world(cells_[c].next.t), f.to_world(cells_[c].next.e2), f.to_world(cells_[c].next.e3)};
    }
  }

  void pass_mount(std::size_t i, const Eigen::VectorXd& x, const Vec3& r, const Frame& f, Vec3& n, Vec3& moment,
                  Eigen::Index& next, Eigen::VectorXd& out) const {
    const ModelMount& q = m_.mounts[i];
    const Vec3 moved = r - q.r;
    // The reaction is an unknown also where the mount is soft: a stiff spring driven by the place of the right end would
    // spoil the iteration's condition.
    const double f1 = kForceScale * x(next), f2 = kForceScale * x(next + 1);
    Vec3 force = f1 * e1_ + f2 * e2_;
    out(next) = dot(moved, e1_) + q.flex_radial * f1;
    out(next + 1) = dot(moved, e2_) + q.flex_radial * f2;
    next += 2;
    if (i == m_.side_stop) {
      force += (kForceScale * x(7)) * m_.axis;
      out(1) = dot(moved, m_.axis);
    }
    if (q.stiff_tilt > 0.0 || q.stiff_torsion > 0.0) {
      // The springs store ½θᵀKθ with the rotation vector θ; their moment is the derivative of that by a small turn,
      // Kθ + ½θ×Kθ + θ×(θ×Kθ)/12, so that going round a loop does no work.
      const Vec3 turn = rotation_between(rest_at_mount_[i], f);
      const double twist = dot(turn, m_.axis);
      const Vec3 spring = (q.stiff_torsion * twist) * m_.axis + q.stiff_tilt * (turn - twist * m_.axis);
      const Vec3 across = cross(turn, spring);
      moment += spring + 0.5 * across + (1.0 / 12.0) * cross(turn, across);
    }
    n -= force;
  }

  void advance(const Cell& c, Vec3& r, Frame& f, const Vec3& n, Vec3& moment) {
    const double h = c.h;
    // Moment half-way, with the place half-way from the rest shape: off by strain times step only.
    const Vec3 half_turn = (0.5 * h) * c.curvature;
    const ExpCoefficients half = exp_coefficients(dot(half_turn, half_turn));
    const Vec3 ahead = f.to_world({1, 0, 0});
    const Vec3 chord = c.curvature.x == 0.0 && c.curvature.y == 0.0 && c.curvature.z == 0.0
                           ? (0.5 * h) * ahead
                           : (0.5 * h) * f.to_world(Vec3{1, 0, 0} + half.b * cross(half_turn, {1, 0, 0}) +
                                                    half.c * cross(half_turn, cross(half_turn, {1, 0, 0})));
    const Vec3 m_mid = moment - cross(chord, n);
    const Vec3 back = -half_turn;
    const Vec3 n_local = rotate(back, half, f.to_local(n));
    Vec3 m_local = rotate(back, half, f.to_local(m_mid));
    Vec3 bend = scaled(c.flex_moment, m_local);
    m_local -= cross((0.5 * h) * bend, m_local);  // the section has turned elastically too by then
    bend = scaled(c.flex_moment, m_local);

    const Vec3 phi = h * (c.curvature + bend);
    const ExpCoefficients e = exp_coefficients(dot(phi, phi));
    const Vec3 stretch = Vec3{1, 0, 0} + scaled(c.flex_force, n_local);
    const Vec3 w = cross(phi, stretch);
    Vec3 step = h * (stretch + e.b * w + e.c * cross(phi, w));
    // The moment's linear part bends without turning the ends: −h³/12·κ' × t. m' = −t × n.
    const Vec3 slope = scaled(c.flex_moment, cross(n_local, {1, 0, 0}));
    step -= (h * h * h / 12.0) * rotate(half_turn, half, cross(slope, {1, 0, 0}));
    const Vec3 moved = f.to_world(step);
    if (want_stress_) {
      note_stress(c, f, n, moment);
    }
    r += moved;
    moment -= cross(moved, n);
    f = turned(f, phi, e);
    if (want_stress_) note_stress(c, f, n, moment);
    if (c.turns_after) f = {f.to_world(c.next.t), f.to_world(c.next.e2), f.to_world(c.next.e3)};
  }

  void note_stress(const Cell& c, const Frame& f, const Vec3& n, const Vec3& moment) {
    const Vec3 a = f.to_local(n), b = f.to_local(moment);
    stress_ = std::max(stress_, surface_stress(c.section, {a.x, a.y, a.z, b.x, b.y, b.z}).von_mises);
  }

  const BarModel& m_;
  const ModelHole& left_;
  const ModelHole& right_;
  std::vector<Cell> cells_;
  std::vector<Event> events_;
  std::vector<Frame> rest_at_mount_;
  std::vector<Vec3> joint_axis_;
  Frame first_;
  Vec3 e1_, e2_, across_left_;
  Eigen::Index size_ = 0;
  Vec3 left_at_, right_at_;
  double force_left_ = 0.0, force_right_ = 0.0, stress_ = 0.0;
  bool want_stress_ = false;
  std::vector<Vec3>* shape_ = nullptr;
};

// Quasi-Newton along a path of travels: the inverse Jacobian is kept and improved by Broyden's update, and built
// anew by differences only when convergence stalls.
class Path {
 public:
  explicit Path(Shooter& shooter) : shooter_(shooter), x_(Eigen::VectorXd::Zero(shooter.size())) {
    build_jacobian(0.0, 0.0);
    rest_inverse_ = inverse_;
  }

  void restart() {
    x_.setZero();
    inverse_ = rest_inverse_;
    history_.clear();
  }

  // The converged state once more, with stress.
  CurvePoint finish(double left, double right, bool with_shape) {
    std::vector<Vec3> shape;
    shooter_.note(true, with_shape ? &shape : nullptr);
    shooter_.shoot(x_, left, right, residual_);
    shooter_.note(false, nullptr);
    CurvePoint p = shooter_.point(left, right);
    p.shape = std::move(shape);
    return p;
  }

  bool go(double left, double right) {
    const Eigen::VectorXd from = x_;
    predict(left, right);
    if (iterate(left, right)) {
      remember(left, right);
      return true;
    }
    x_ = from;
    build_jacobian(history_.empty() ? 0.0 : history_.back().left, history_.empty() ? 0.0 : history_.back().right);
    if (iterate(left, right)) {
      remember(left, right);
      return true;
    }
    x_ = from;
    return false;
  }

 private:
  struct Past {
    double left, right;
    Eigen::VectorXd x;
  };

  // Straight on from the last two points; a first step goes along the linear answer by the iteration itself.
  void predict(double left, double right) {
    if (history_.empty()) return;
    const Past& b = history_.back();
    const std::size_t n = history_.size();
    const Eigen::VectorXd zero = Eigen::VectorXd::Zero(x_.size());
    const auto at = [&](std::size_t back) -> const Eigen::VectorXd& { return n >= back ? history_[n - back].x : zero; };
    const auto par = [&](std::size_t back) { return n >= back ? history_[n - back].left - history_[n - back].right : 0.0; };
    const double t = left - right, t1 = par(1), t2 = par(2), t3 = par(3);
    if (std::abs(t1 - t2) < 1e-12) return;
    if (n >= 2 && std::abs(t2 - t3) > 1e-12 && std::abs(t1 - t3) > 1e-12) {  // parabola through three
      const double l1 = (t - t2) * (t - t3) / ((t1 - t2) * (t1 - t3)), l2 = (t - t1) * (t - t3) / ((t2 - t1) * (t2 - t3)),
                   l3 = (t - t1) * (t - t2) / ((t3 - t1) * (t3 - t2));
      x_ = l1 * at(1) + l2 * at(2) + l3 * at(3);
    } else {
      x_ = b.x + (t - t1) / (t1 - t2) * (b.x - at(2));
    }
  }

  void remember(double left, double right) {
    history_.push_back({left, right, x_});
    if (history_.size() > 3) history_.erase(history_.begin());
  }

  bool iterate(double left, double right) {
    // 1e-8 of a residual is 10 nm or 0.01 mN: far below what is asked for.
    constexpr double kSmall = 1e-8;
    constexpr int kMost = 30;
    shooter_.shoot(x_, left, right, residual_);
    double size = residual_.norm();
    for (int i = 0; i < kMost && std::isfinite(size); ++i) {
      if (size < kSmall) return true;
      step_.noalias() = -(inverse_ * residual_);
      x_ += step_;
      shooter_.shoot(x_, left, right, next_);
      const double next_size = next_.norm();
      if (!(next_size < 10.0 * size + 1.0)) return false;
      // Broyden: inverse += (step − inverse·Δ)·(stepᵀ·inverse)/(stepᵀ·inverse·Δ)
      change_.noalias() = next_ - residual_;
      const Eigen::VectorXd moved = inverse_ * change_;
      const double denominator = step_.dot(moved);
      if (std::abs(denominator) > 1e-30) {
        const Eigen::RowVectorXd row = step_.transpose() * inverse_;
        inverse_.noalias() += (step_ - moved) / denominator * row;
      }
      residual_.swap(next_);
      size = next_size;
    }
    return std::isfinite(size) && size < kSmall;
  }

  void build_jacobian(double left, double right) {
    const Eigen::Index n = shooter_.size();
    Eigen::MatrixXd J(n, n);
    Eigen::VectorXd base, moved;
    shooter_.shoot(x_, left, right, base);
    Eigen::VectorXd x = x_;
    for (Eigen::Index j = 0; j < n; ++j) {
      constexpr double kStep = 1e-6;
      x(j) = x_(j) + kStep;
      shooter_.shoot(x, left, right, moved);
      x(j) = x_(j);
      J.col(j) = (moved - base) / kStep;
    }
    inverse_ = J.partialPivLu().inverse();
  }

  Shooter& shooter_;
  Eigen::VectorXd x_, residual_, next_, step_, change_;
  Eigen::MatrixXd inverse_, rest_inverse_;
  std::vector<Past> history_;
};

std::string mm(double metres) {
  char text[32];
  std::snprintf(text, sizeof text, "%.0f mm", metres * 1000.0);
  return text;
}

}  // namespace

base::Outcome<std::vector<CurvePoint>> travel_curve(const BarModel& m, const ModelSetting& setting,
                                                    const std::vector<std::pair<double, double>>& travels, bool with_shape) {
  Shooter shooter(m, setting);
  Path path(shooter);
  std::vector<CurvePoint> points;
  points.reserve(travels.size());
  double at_left = 0.0, at_right = 0.0;
  for (const auto& [left, right] : travels) {
    const int before = shooter.shots;
    // A reversal starts from rest again, so that nothing depends on the order.
    if (left * at_left < 0.0 || right * at_right < 0.0) {
      path.restart();
      at_left = at_right = 0.0;
    }
    // Halve the way when a step does not converge; a hundredth of a millimetre is the end.
    double part = 1.0, done = 0.0;
    const double from_left = at_left, from_right = at_right;
    bool lost = false;
    while (done < 1.0 && !lost) {
      const double to = std::min(1.0, done + part);
      const double l = from_left + to * (left - from_left), r = from_right + to * (right - from_right);
      if (path.go(l, r)) {
        done = to;
        at_left = l;
        at_right = r;
      } else {
        part *= 0.5;
        lost = part * std::max(std::abs(left - from_left), std::abs(right - from_right)) < 1e-5;
      }
    }
    if (lost || shooter.over_centre(left, right) < 0.05) {
      return base::fail(base::no_answer(
          "no_equilibrium", "settings." + setting.id,
          "The bar has no equilibrium beyond about " + mm(std::max(std::abs(at_left), std::abs(at_right))) +
              " of travel: arm and link come into one line there, or the bar snaps over.",
          "less travel", "Check the hole, the link's other end and the travel asked for."));
    }
    CurvePoint p = path.finish(left, right, with_shape);
    p.shots = shooter.shots - before;
    points.push_back(p);
  }
  return points;
}

base::Outcome<std::vector<CurvePoint>> roll_curve(const BarModel& m, const ModelSetting& setting, double most, double step,
                                                  bool with_shape) {
  ROLLWRIGHT_ASSERT(most > 0.0 && step > 0.0);
  const int count = std::max(1, static_cast<int>(std::ceil(most / step - 1e-9)));
  std::vector<std::pair<double, double>> travels;
  for (const double sense : {1.0, -1.0}) {
    for (int i = sense > 0 ? 0 : 1; i <= count; ++i) {
      const double z = sense * std::min(most, step * i);
      travels.emplace_back(z, -z);
    }
  }
  auto points = travel_curve(m, setting, travels, with_shape);
  if (points) {
    std::sort(points->begin(), points->end(), [](const CurvePoint& a, const CurvePoint& b) { return a.left_travel < b.left_travel; });
  }
  return points;
}

}  // namespace rollwright::bar
