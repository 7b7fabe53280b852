#include "vehicle/three_freedom.h"

#include <Eigen/Dense>
#include <numbers>

namespace rollwright::vehicle {

ThreeFreedom::ThreeFreedom(const Plant& p, double u, Tyres tyres) : speed_(u) {
  const double h = p.h_rs, x_s = -p.x_cg, a = p.a_cg, b = p.b_cg, m_h = p.m_s * h;
  roll_share_ = m_h / p.mass;
  std::array<double, 2> c{};
  double stiffness = -p.m_s * kGravity * h, damping = 0.0;
  for (std::size_t i = 0; i < 2; ++i) {
    const auto& axle = p.axle[i];
    const double raw =
        axle.law.cornering_stiffness(p.wheel[2 * i].n0) + axle.law.cornering_stiffness(p.wheel[2 * i + 1].n0);
    c[i] = raw / (1.0 - axle.compliance_steer * raw);
    const double half = 0.5 * axle.track * axle.track;
    const double k = half * (axle.kw + axle.kb), kt = half * axle.kt;
    stiffness += tyres == Tyres::series ? k * kt / (k + kt) : k;
    damping += half * 0.5 * (axle.c_bump + axle.c_rebound);
  }
  // Left: M (v', r', φ''); right: by states (v, r, φ, φ') and steer.
  Eigen::Matrix3d m;
  m << p.mass, 0, -m_h,                                //
      0, p.Izz, -(m_h * x_s + p.Ixz),                  //
      -m_h, -(m_h * x_s + p.Ixz), p.Ixx + p.m_s * h * h;
  const double ef = p.axle[0].roll_steer, er = p.axle[1].roll_steer, cf = c[0], cr = c[1];
  Eigen::Matrix<double, 3, 4> right;
  right << -(cf + cr) / u, -(a * cf - b * cr) / u - p.mass * u, cf * ef + cr * er, 0,            //
      -(a * cf - b * cr) / u, -(a * a * cf + b * b * cr) / u, a * cf * ef - b * cr * er, 0,      //
      0, m_h * u, -stiffness, -damping;
  const Eigen::Matrix3d inverse = m.inverse();
  const Eigen::Matrix<double, 3, 4> accelerations = inverse * right;
  const Eigen::Vector3d steer = inverse * Eigen::Vector3d(cf, a * cf, 0.0);
  const int row_of[3] = {0, 1, 3};
  for (int i = 0; i < 3; ++i) {
    for (int j = 0; j < 4; ++j) a_[row_of[i] * 4 + j] = accelerations(i, j);
    b_[row_of[i]] = steer(i);
  }
  a_[2 * 4 + 3] = 1.0;
}

std::vector<std::complex<double>> ThreeFreedom::eigenvalues() const {
  const Eigen::Matrix4d a = Eigen::Map<const Eigen::Matrix<double, 4, 4, Eigen::RowMajor>>(a_.data());
  const auto values = Eigen::EigenSolver<Eigen::Matrix4d>(a, false).eigenvalues();
  return {values.data(), values.data() + values.size()};
}

LinearResponse ThreeFreedom::response(double f) const {
  const Eigen::Matrix4d a = Eigen::Map<const Eigen::Matrix<double, 4, 4, Eigen::RowMajor>>(a_.data());
  const std::complex<double> s(0.0, 2.0 * std::numbers::pi * f);
  const Eigen::Matrix4cd left = s * Eigen::Matrix4cd::Identity() - a.cast<std::complex<double>>();
  const Eigen::Vector4cd x = left.fullPivLu().solve(Eigen::Map<const Eigen::Vector4d>(b_.data()).cast<std::complex<double>>());
  return {x(1), x(2), s * x(0) + speed_ * x(1) - roll_share_ * s * s * x(2), x(0) / speed_};
}

}  // namespace rollwright::vehicle
