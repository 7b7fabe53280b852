#include "bar/rate.h"

#include <algorithm>
#include <cmath>

#include "base/assert.h"

namespace rollwright::bar {

namespace {

// One self-balanced set of forces on the bar.
struct State {
  double left = 0.0, right = 0.0;  // link forces along the links
  Vec3 moment_at_mount;            // applied at mount `mount`
  Vec3 force_at_mount;
  std::size_t mount = 0;
  bool has_mount_load = false;
  double spring_flex = 0.0;        // own spring's flexibility, beside the radial ones
  // Found from balance:
  Vec3 first, last;                // reactions of the two carrying mounts, square to the axis
  double stop = 0.0;               // along the axis
};

// The reactions that balance the state's other loads. The torque about the axis must balance already.
void balance(const BarModel& m, const ModelHole& left, const ModelHole& right, State& s) {
  const ModelMount& a = m.mounts[m.first];
  const ModelMount& b = m.mounts[m.last];
  Vec3 force = s.left * left.link + s.right * right.link;
  Vec3 moment = cross(left.r - a.r, s.left * left.link) + cross(right.r - a.r, s.right * right.link);
  if (s.has_mount_load) {
    force += s.force_at_mount;
    moment += s.moment_at_mount + cross(m.mounts[s.mount].r - a.r, s.force_at_mount);
  }
  const double span = dot(b.r - a.r, m.axis);
  s.last = (1.0 / span) * cross(m.axis, square_to(moment, m.axis));
  s.first = -square_to(force, m.axis) - s.last;
  s.stop = -dot(force, m.axis);
}

double lever(const BarModel& m, const ModelHole& hole) {
  return dot(m.axis, cross(hole.r - m.mounts[m.first].r, hole.link));
}

State balanced_pair(const BarModel& m, const ModelHole& left, const ModelHole& right) {
  const double x_left = lever(m, left), x_right = lever(m, right);
  // Scaled so that the larger force is 1.
  const double scale = std::max(std::abs(x_left), std::abs(x_right));
  State pair;
  pair.left = x_right / scale;
  pair.right = -x_left / scale;
  balance(m, left, right, pair);
  return pair;
}

using StateSet = std::vector<State>;

StateSet make_states(const BarModel& m, const ModelHole& left, const ModelHole& right) {
  StateSet set;
  const double x_right = lever(m, right);
  const auto add = [&](State s) {
    balance(m, left, right, s);
    set.push_back(s);
  };
  set.push_back(balanced_pair(m, left, right));
  const Vec3 e1 = square_unit(m.axis, {1, 0, 0});
  const Vec3 e2 = cross(m.axis, e1);
  for (std::size_t i = 0; i < m.mounts.size(); ++i) {
    const ModelMount& mount = m.mounts[i];
    State s;
    s.mount = i;
    s.has_mount_load = true;
    if (mount.stiff_tilt > 0.0) {
      s.spring_flex = 1.0 / mount.stiff_tilt;
      s.moment_at_mount = e1;
      add(s);
      s.moment_at_mount = e2;
      add(s);
    }
    if (mount.stiff_torsion > 0.0) {
      State t = s;
      t.spring_flex = 1.0 / mount.stiff_torsion;
      t.moment_at_mount = m.axis;
      t.right = -1.0 / x_right;
      add(t);
    }
    if (i != m.first && i != m.last) {
      State r;
      r.mount = i;
      r.has_mount_load = true;
      r.spring_flex = mount.flex_radial;
      r.force_at_mount = e1;
      add(r);
      r.force_at_mount = e2;
      add(r);
    }
  }
  return set;
}

// Walks along the line from right to left and keeps the force and moment (about the origin) of all loads passed.
class Walker {
 public:
  Walker(const BarModel& m, const ModelHole& left, const ModelHole& right, const State& s) {
    add(right.station, right.r, s.right * right.link, {});
    for (std::size_t i = 0; i < m.mounts.size(); ++i) {
      Vec3 force, moment;
      if (i == m.first) force += s.first;
      if (i == m.last) force += s.last;
      if (i == m.side_stop) force += s.stop * m.axis;
      if (s.has_mount_load && i == s.mount) {
        force += s.force_at_mount;
        moment = s.moment_at_mount;
      }
      add(m.mounts[i].station, m.mounts[i].r, force, moment);
    }
    add(left.station, left.r, s.left * left.link, {});
  }

  // Stations must not decrease from call to call.
  void at(double station, const Vec3& r, Vec3& force, Vec3& moment) {
    while (next_ < count_ && station_[next_] < station) {
      force_ += f_[next_];
      moment_ += m_[next_];
      ++next_;
    }
    force = force_;
    moment = moment_ - cross(r, force_);
  }

 private:
  void add(double station, const Vec3& r, const Vec3& f, const Vec3& moment) {
    station_[count_] = station;
    f_[count_] = f;
    m_[count_] = moment + cross(r, f);
    ++count_;
  }
  std::array<double, 2 + kMostMounts> station_;
  std::array<Vec3, 2 + kMostMounts> f_, m_;
  std::size_t count_ = 0, next_ = 0;
  Vec3 force_, moment_;
};

struct Local {
  double torsion, moment_2, moment_3, axial;
  Vec3 shear;
};

Local local(const LinePoint& p, const Vec3& force, const Vec3& moment) {
  const double axial = dot(force, p.t);
  return {dot(moment, p.t), dot(moment, p.e2), dot(moment, p.e3), axial, force - axial * p.t};
}

double energy(const LinePoint& p, const Local& a, const Local& b) {
  return p.weight * (a.torsion * b.torsion * p.flex_torsion + a.moment_2 * b.moment_2 * p.flex_2 +
                     a.moment_3 * b.moment_3 * p.flex_3 + dot(a.shear, b.shear) * p.flex_shear +
                     a.axial * b.axial * p.flex_axial);
}

// ∫ of the pair's own energy: the common case of two plain mounts, kept free of the state loops.
double pair_flexibility(const BarModel& m, const ModelHole& left, const ModelHole& right, const State& pair) {
  Walker walk(m, left, right, pair);
  double sum = 0.0;
  for (const LinePoint& p : m.points) {
    if (p.station < right.station) continue;
    if (p.station > left.station) break;
    Vec3 force, moment;
    walk.at(p.station, p.r, force, moment);
    const double T = dot(moment, p.t), M2 = dot(moment, p.e2), M3 = dot(moment, p.e3);
    const double N = dot(force, p.t), V2 = dot(force, force) - N * N;
    sum += p.weight * (T * T * p.flex_torsion + M2 * M2 * p.flex_2 + M3 * M3 * p.flex_3 + V2 * p.flex_shear + N * N * p.flex_axial);
  }
  return sum + dot(pair.first, pair.first) * m.mounts[m.first].flex_radial + dot(pair.last, pair.last) * m.mounts[m.last].flex_radial;
}

struct Flexibility {
  explicit Flexibility(std::size_t size) : f(size * size, 0.0), n(size) {}
  double& at(std::size_t i, std::size_t j) { return f[i * n + j]; }
  std::vector<double> f;
  std::size_t n;
};

Flexibility flexibility(const BarModel& m, const ModelHole& left, const ModelHole& right, const StateSet& set) {
  const std::size_t n = set.size();
  Flexibility F(n);
  std::vector<Walker> walk;
  walk.reserve(n);
  for (const State& s : set) walk.emplace_back(m, left, right, s);
  std::vector<Local> here(n);
  for (const LinePoint& p : m.points) {
    if (p.station < right.station) continue;
    if (p.station > left.station) break;
    for (std::size_t j = 0; j < n; ++j) {
      Vec3 force, moment;
      walk[j].at(p.station, p.r, force, moment);
      here[j] = local(p, force, moment);
    }
    for (std::size_t i = 0; i < n; ++i) {
      for (std::size_t j = 0; j <= i; ++j) F.at(i, j) += energy(p, here[i], here[j]);
    }
  }
  const double flex_first = m.mounts[m.first].flex_radial, flex_last = m.mounts[m.last].flex_radial;
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = 0; j <= i; ++j) {
      F.at(i, j) += dot(set[i].first, set[j].first) * flex_first + dot(set[i].last, set[j].last) * flex_last;
    }
    F.at(i, i) += set[i].spring_flex;
  }
  for (const ModelJoint& joint : m.joints) {
    LinePoint p;
    p.weight = 1.0;
    p.t = joint.t;
    p.e2 = square_unit(p.t, {0, 0, 1});
    p.e3 = cross(p.t, p.e2);
    p.flex_torsion = joint.flex_torsion;
    p.flex_2 = p.flex_3 = joint.flex_bending;
    for (std::size_t j = 0; j < n; ++j) {
      Walker from_right(m, left, right, set[j]);
      Vec3 force, moment;
      from_right.at(joint.station, joint.r, force, moment);
      here[j] = local(p, force, moment);
    }
    for (std::size_t i = 0; i < n; ++i) {
      for (std::size_t j = 0; j <= i; ++j) F.at(i, j) += energy(p, here[i], here[j]);
    }
  }
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = i + 1; j < n; ++j) F.at(i, j) = F.at(j, i);
  }
  return F;
}

// x = F⁻¹·rhs for the two right-hand sides (link forces of the states), by Cholesky with the rows scaled first: forces,
// moments and torques of very different size stand side by side.
void solve(Flexibility F, const StateSet& set, std::vector<double>& x_left, std::vector<double>& x_right) {
  const std::size_t n = F.n;
  std::vector<double> scale(n);
  x_left.assign(n, 0.0);
  x_right.assign(n, 0.0);
  for (std::size_t i = 0; i < n; ++i) scale[i] = 1.0 / std::sqrt(F.at(i, i));
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = 0; j < n; ++j) F.at(i, j) *= scale[i] * scale[j];
    x_left[i] = set[i].left * scale[i];
    x_right[i] = set[i].right * scale[i];
  }
  for (std::size_t j = 0; j < n; ++j) {
    for (std::size_t k = 0; k < j; ++k) F.at(j, j) -= F.at(j, k) * F.at(j, k);
    ROLLWRIGHT_ASSERT(F.at(j, j) > 0.0);
    F.at(j, j) = std::sqrt(F.at(j, j));
    for (std::size_t i = j + 1; i < n; ++i) {
      for (std::size_t k = 0; k < j; ++k) F.at(i, j) -= F.at(i, k) * F.at(j, k);
      F.at(i, j) /= F.at(j, j);
    }
  }
  for (auto* x : {&x_left, &x_right}) {
    for (std::size_t i = 0; i < n; ++i) {
      for (std::size_t k = 0; k < i; ++k) (*x)[i] -= F.at(i, k) * (*x)[k];
      (*x)[i] /= F.at(i, i);
    }
    for (std::size_t i = n; i-- > 0;) {
      for (std::size_t k = i + 1; k < n; ++k) (*x)[i] -= F.at(k, i) * (*x)[k];
      (*x)[i] /= F.at(i, i);
    }
    for (std::size_t i = 0; i < n; ++i) (*x)[i] *= scale[i];
  }
}

void finish(LinearRate& r) {
  r.force_left = r.stiffness[0][0] - r.stiffness[0][1];
  r.force_right = r.stiffness[1][0] - r.stiffness[1][1];
  r.per_side = 0.5 * (r.force_left - r.force_right);
  r.relative = 0.5 * r.per_side;
}

LinearRate rate_from(const Flexibility& F, const StateSet& set, std::vector<double>& q_left,
                     std::vector<double>& q_right) {
  LinearRate r;
  solve(F, set, q_left, q_right);
  for (std::size_t i = 0; i < F.n; ++i) {
    const State& s = set[i];
    r.stiffness[0][0] += s.left * q_left[i];
    r.stiffness[0][1] += s.left * q_right[i];
    r.stiffness[1][0] += s.right * q_left[i];
    r.stiffness[1][1] += s.right * q_right[i];
  }
  finish(r);
  return r;
}

}  // namespace

LinearRate linear_rate(const BarModel& m, const ModelSetting& setting) {
  const ModelHole& left = m.holes[setting.left];
  const ModelHole& right = m.holes[setting.right];
  if (m.is_plain) {
    const State pair = balanced_pair(m, left, right);
    const double c = pair_flexibility(m, left, right, pair);
    LinearRate r;
    r.stiffness = {{{pair.left * pair.left / c, pair.left * pair.right / c}, {pair.left * pair.right / c, pair.right * pair.right / c}}};
    finish(r);
    return r;
  }
  const StateSet set = make_states(m, left, right);
  std::vector<double> q_left, q_right;
  return rate_from(flexibility(m, left, right, set), set, q_left, q_right);
}

LinearSolution linear_solution(const BarModel& m, const ModelSetting& setting) {
  return linear_solution(m, setting, 1.0, -1.0);
}

LinearSolution linear_solution(const BarModel& m, const ModelSetting& setting, double left_travel, double right_travel) {
  const ModelHole& left = m.holes[setting.left];
  const ModelHole& right = m.holes[setting.right];
  const StateSet set = make_states(m, left, right);
  std::vector<double> q_left, q_right;
  LinearSolution out;
  out.rate = rate_from(flexibility(m, left, right, set), set, q_left, q_right);

  // All states together are one state of balanced loads.
  struct MountLoad {
    Vec3 force, moment;
  };
  std::vector<MountLoad> mount(m.mounts.size());
  double force_left = 0.0, force_right = 0.0;
  for (std::size_t i = 0; i < set.size(); ++i) {
    const State& s = set[i];
    const double q = q_left[i] * left_travel + q_right[i] * right_travel;
    force_left += q * s.left;
    force_right += q * s.right;
    mount[m.first].force += q * s.first;
    mount[m.last].force += q * s.last;
    mount[m.side_stop].force += (q * s.stop) * m.axis;
    out.side_stop_force += q * s.stop;
    if (s.has_mount_load) {
      mount[s.mount].force += q * s.force_at_mount;
      mount[s.mount].moment += q * s.moment_at_mount;
    }
  }
  out.loads.push_back({right.station, right.r, force_right * right.link, {}});
  for (std::size_t i = 0; i < m.mounts.size(); ++i) {
    out.loads.push_back({m.mounts[i].station, m.mounts[i].r, mount[i].force, mount[i].moment});
    out.reactions.push_back({m.mounts[i].index, mount[i].force, mount[i].moment});
  }
  out.loads.push_back({left.station, left.r, force_left * left.link, {}});

  double torsion = 0.0, bending = 0.0, shear = 0.0, axial = 0.0, bushings = 0.0, joints = 0.0;
  Vec3 force, moment;
  for (const LinePoint& p : m.points) {
    if (p.station < right.station || p.station > left.station) continue;
    out.section(p.station, p.r, force, moment);
    const Local l = local(p, force, moment);
    torsion += p.weight * l.torsion * l.torsion * p.flex_torsion;
    bending += p.weight * (l.moment_2 * l.moment_2 * p.flex_2 + l.moment_3 * l.moment_3 * p.flex_3);
    shear += p.weight * dot(l.shear, l.shear) * p.flex_shear;
    axial += p.weight * l.axial * l.axial * p.flex_axial;
  }
  for (std::size_t i = 0; i < m.mounts.size(); ++i) {
    const ModelMount& mm = m.mounts[i];
    const Vec3 radial = square_to(mount[i].force, m.axis);
    bushings += dot(radial, radial) * mm.flex_radial;
    const double twist = dot(mount[i].moment, m.axis);
    const Vec3 tilt = square_to(mount[i].moment, m.axis);
    if (mm.stiff_torsion > 0.0) bushings += twist * twist / mm.stiff_torsion;
    if (mm.stiff_tilt > 0.0) bushings += dot(tilt, tilt) / mm.stiff_tilt;
  }
  for (const ModelJoint& j : m.joints) {
    out.section(j.station, j.r, force, moment);
    const double t = dot(moment, j.t);
    joints += t * t * j.flex_torsion + (dot(moment, moment) - t * t) * j.flex_bending;
  }
  const double sum = torsion + bending + shear + axial + bushings + joints;
  if (sum > 0.0) out.share = {torsion / sum, bending / sum, shear / sum, axial / sum, bushings / sum, joints / sum};
  return out;
}

void LinearSolution::section(double station, const Vec3& r, Vec3& force, Vec3& moment) const {
  force = moment = {};
  for (const Load& l : loads) {
    if (l.station >= station) break;
    force += l.force;
    moment += l.moment + cross(l.r - r, l.force);
  }
}

BarModel with_ovalised_bends(const BarModel& model) {
  BarModel m = model;
  for (LinePoint& p : m.points) {
    const Piece& piece = m.line.pieces()[m.line.piece_at(p.station)];
    if (piece.radius == 0.0) continue;
    const SectionProperties s = properties_of(m.section_at(p.station), m.poisson);
    if (!s.is_round || s.inner_radius == 0.0) continue;
    const double mean = 0.5 * (s.half_2 + s.inner_radius);
    const double h = (s.half_2 - s.inner_radius) * piece.radius / (mean * mean);
    const double factor = (10.0 + 12.0 * h * h) / (1.0 + 12.0 * h * h);
    p.flex_2 *= factor;
    p.flex_3 *= factor;
  }
  return m;
}

}  // namespace rollwright::bar
