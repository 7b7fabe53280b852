#include "bar/frame.h"

#include <algorithm>
#include <cmath>

#include <Eigen/Dense>
#include <Eigen/SparseLU>

#include "base/assert.h"

namespace rollwright::bar {

namespace {

using Matrix12 = Eigen::Matrix<double, 12, 12>;
using Triplet = Eigen::Triplet<double>;

// Stiffness in local axes 1 (along), 2, 3; freedoms u1 u2 u3 θ1 θ2 θ3 at both ends.
Matrix12 element(double L, double E, double G, const SectionProperties& p) {
  Matrix12 k = Matrix12::Zero();
  const double ea = E * p.area / L, gj = G * p.torsion_constant / L;
  k(0, 0) = k(6, 6) = ea;
  k(0, 6) = k(6, 0) = -ea;
  k(3, 3) = k(9, 9) = gj;
  k(3, 9) = k(9, 3) = -gj;
  const double shear = p.shear_factor * G * p.area;
  // Bending in the plane 1-2 turns about 3, in the plane 1-3 about 2 with the opposite sign.
  const auto bend = [&](int u, int r, double I, double sign) {
    const double phi = 12.0 * E * I / (shear * L * L);
    const double a = 12.0 * E * I / ((1.0 + phi) * L * L * L);
    const double b = sign * 6.0 * E * I / ((1.0 + phi) * L * L);
    const double c = (4.0 + phi) * E * I / ((1.0 + phi) * L), d = (2.0 - phi) * E * I / ((1.0 + phi) * L);
    const int f[4] = {u, r, u + 6, r + 6};
    const double m[4][4] = {{a, b, -a, b}, {b, c, -b, d}, {-a, -b, a, -b}, {b, d, -b, c}};
    for (int i = 0; i < 4; ++i)
      for (int j = 0; j < 4; ++j) k(f[i], f[j]) += m[i][j];
  };
  bend(1, 5, p.second_moment_3, 1.0);
  bend(2, 4, p.second_moment_2, -1.0);
  return k;
}

Eigen::Vector3d eigen(const Vec3& v) { return {v.x, v.y, v.z}; }
Vec3 vec3(const Eigen::Vector3d& v) { return {v.x(), v.y(), v.z()}; }

}  // namespace

FrameSolution frame_solution(const BarModel& m, const ModelSetting& setting, double element_length) {
  ROLLWRIGHT_ASSERT(element_length > 0.0);
  const ModelHole& left = m.holes[setting.left];
  const ModelHole& right = m.holes[setting.right];

  // Nodes: ends of all stretches, and between them as the element length asks. A yielding joint doubles its node.
  std::vector<double> station{m.stretches.front().start};
  std::vector<Triplet> entries;
  int next = 1;
  std::vector<std::pair<double, int>> first_node_at{{station[0], 0}};
  const auto spring = [&](int i, int j, const Eigen::Matrix3d& k) {
    for (int a = 0; a < 3; ++a) {
      for (int b = 0; b < 3; ++b) {
        entries.emplace_back(i + a, i + b, k(a, b));
        if (j >= 0) {
          entries.emplace_back(j + a, j + b, k(a, b));
          entries.emplace_back(i + a, j + b, -k(a, b));
          entries.emplace_back(j + a, i + b, -k(a, b));
        }
      }
    }
  };
  constexpr double kRigid = 1e12;  // [N/m], [N·m/rad]: 10⁵ and more above any part of a bar
  int node = 0;
  for (const Stretch& q : m.stretches) {
    for (const ModelJoint& joint : m.joints) {
      if (std::abs(joint.station - q.start) > 1e-9) continue;
      const int twin = next++;
      const Eigen::Vector3d t = eigen(joint.t);
      const Eigen::Matrix3d along = t * t.transpose();
      const Eigen::Matrix3d across = Eigen::Matrix3d::Identity() - along;
      spring(6 * node, 6 * twin, kRigid * Eigen::Matrix3d::Identity());
      spring(6 * node + 3, 6 * twin + 3, (joint.flex_torsion > 0 ? 1.0 / joint.flex_torsion : kRigid) * along +
                                             (joint.flex_bending > 0 ? 1.0 / joint.flex_bending : kRigid) * across);
      node = twin;
    }
    const Piece& piece = m.line.pieces()[q.piece];
    const int count = std::max(1, static_cast<int>(std::ceil((q.end - q.start) / element_length)));
    for (int i = 0; i < count; ++i) {
      const double a = q.start + (q.end - q.start) * i / count, b = q.start + (q.end - q.start) * (i + 1) / count;
      const Vec3 pa = Centreline::point(piece, a), pb = Centreline::point(piece, b);
      const double mid = 0.5 * (a + b);
      const double fraction = (mid - q.start) / (q.end - q.start);
      const Section section = q.is_tapered ? between(q.at_start, q.at_end, fraction) : q.at_start;
      Vec3 t, e2, e3;
      m.frame_at(q, mid, t, e2, e3);
      Eigen::Matrix3d R;
      R.row(0) = eigen(unit(pb - pa)).transpose();
      R.row(1) = eigen(e2).transpose();
      R.row(2) = eigen(e3).transpose();
      Matrix12 T = Matrix12::Zero();
      for (int blk = 0; blk < 4; ++blk) T.block<3, 3>(3 * blk, 3 * blk) = R;
      const Matrix12 k = T.transpose() * element(norm(pb - pa), m.young, m.shear, properties_of(section, m.poisson)) * T;
      const int other = next++;
      const int dof[2] = {6 * node, 6 * other};
      for (int x = 0; x < 12; ++x)
        for (int y = 0; y < 12; ++y) entries.emplace_back(dof[x / 6] + x % 6, dof[y / 6] + y % 6, k(x, y));
      node = other;
    }
    first_node_at.emplace_back(q.end, node);
  }
  const auto node_at = [&](double s) {
    for (const auto& [at, n] : first_node_at) {
      if (std::abs(at - s) < 1e-8) return n;
    }
    ROLLWRIGHT_ASSERT(!"a mount or hole without a node");
    return 0;
  };

  // Constraints by multipliers, appended behind the displacements: rigid mounts, the side stop, the two links.
  const int dofs = 6 * next;
  int rows = 0;
  struct Row {
    int node;
    Vec3 direction;
  };
  std::vector<Row> constraint;
  const auto constrain = [&](int at_node, const Vec3& d) {
    constraint.push_back({at_node, d});
    for (int a = 0; a < 3; ++a) {
      const double v = a == 0 ? d.x : a == 1 ? d.y : d.z;
      if (v == 0.0) continue;
      entries.emplace_back(dofs + rows, 6 * at_node + a, v);
      entries.emplace_back(6 * at_node + a, dofs + rows, v);
    }
    return rows++;
  };
  const Eigen::Vector3d axis = eigen(m.axis);
  const Eigen::Matrix3d along = axis * axis.transpose();
  const Eigen::Matrix3d across = Eigen::Matrix3d::Identity() - along;
  const Vec3 e1 = square_unit(m.axis, {1, 0, 0}), e2 = cross(m.axis, e1);
  struct Mounted {
    int node = 0, row = -1;
    Eigen::Matrix3d force = Eigen::Matrix3d::Zero(), moment = Eigen::Matrix3d::Zero();
  };
  std::vector<Mounted> mounted;
  for (const ModelMount& mount : m.mounts) {
    Mounted q;
    q.node = node_at(mount.station);
    if (mount.flex_radial > 0.0) {
      q.force = across / mount.flex_radial;
      spring(6 * q.node, -1, q.force);
    } else {
      q.row = constrain(q.node, e1);
      constrain(q.node, e2);
    }
    q.moment = mount.stiff_tilt * across + mount.stiff_torsion * along;
    spring(6 * q.node + 3, -1, q.moment);
    mounted.push_back(q);
  }
  constrain(node_at(m.mounts[m.side_stop].station), m.axis);
  const int row_left = constrain(node_at(left.station), left.link);
  const int row_right = constrain(node_at(right.station), right.link);

  Eigen::SparseMatrix<double> K(dofs + rows, dofs + rows);
  K.setFromTriplets(entries.begin(), entries.end());
  Eigen::SparseLU<Eigen::SparseMatrix<double>> lu;
  lu.compute(K);
  ROLLWRIGHT_ASSERT(lu.info() == Eigen::Success);

  FrameSolution out;
  out.nodes = static_cast<std::size_t>(next);
  Eigen::VectorXd roll = Eigen::VectorXd::Zero(dofs + rows);
  for (int side = 0; side < 2; ++side) {
    Eigen::VectorXd rhs = Eigen::VectorXd::Zero(dofs + rows);
    rhs(dofs + (side == 0 ? row_left : row_right)) = 1.0;
    const Eigen::VectorXd x = lu.solve(rhs);
    const auto j = static_cast<std::size_t>(side);
    // A multiplier is minus the force of its constraint on the bar.
    out.rate.stiffness[0][j] = -x(dofs + row_left);
    out.rate.stiffness[1][j] = -x(dofs + row_right);
    roll += side == 0 ? x : Eigen::VectorXd(-x);
  }
  out.rate.force_left = out.rate.stiffness[0][0] - out.rate.stiffness[0][1];
  out.rate.force_right = out.rate.stiffness[1][0] - out.rate.stiffness[1][1];
  out.rate.per_side = 0.5 * (out.rate.force_left - out.rate.force_right);
  out.rate.relative = 0.5 * out.rate.per_side;
  for (std::size_t i = 0; i < mounted.size(); ++i) {
    const Mounted& q = mounted[i];
    Eigen::Vector3d force = -q.force * roll.segment<3>(6 * q.node);
    if (q.row >= 0) force += -roll(dofs + q.row) * eigen(e1) - roll(dofs + q.row + 1) * eigen(e2);
    const Eigen::Vector3d moment = -q.moment * roll.segment<3>(6 * q.node + 3);
    out.reactions.push_back({m.mounts[i].index, vec3(force), vec3(moment)});
  }
  return out;
}

}  // namespace rollwright::bar
