#include "vehicle/linear_model.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <numbers>

namespace rollwright::vehicle {
namespace {
constexpr int kN = kLinearStates;
// Size of the differences per state: speeds, positions, slips. Central differences of a smooth law err by h²: 1e-10 here.
constexpr double kStep = 1e-6;
using Matrix = Eigen::Matrix<double, kN, kN, Eigen::RowMajor>;
}  // namespace

LinearModel::LinearModel(const Plant& plant, double speed) : plant_(plant), speed_(speed), a_(kN * kN), steer_(kN), road_(kN * 4), side_(kN) {
  const TransientEquations equations(plant);
  Inputs straight;
  straight.speed = speed;
  State rest{};
  std::array<WheelMotion, 4> wheels;
  const auto side_of = [&]() {
    double sum = 0.0;
    for (const auto& w : wheels) sum += w.side_force * std::cos(w.steer);
    return sum / plant.mass;
  };
  State up, down;
  for (int i = 0; i < kN; ++i) {
    State s = rest;
    s[i] = kStep;
    equations.rate(s, straight, up, wheels);
    const double side_up = side_of();
    s[i] = -kStep;
    equations.rate(s, straight, down, wheels);
    side_[i] = (side_up - side_of()) / (2.0 * kStep);
    for (int k = 0; k < kN; ++k) a_[k * kN + i] = (up[k] - down[k]) / (2.0 * kStep);
  }
  Inputs in = straight;
  in.steer = kStep;
  equations.rate(rest, in, up);
  in.steer = -kStep;
  equations.rate(rest, in, down);
  for (int k = 0; k < kN; ++k) steer_[k] = (up[k] - down[k]) / (2.0 * kStep);
  for (std::size_t w = 0; w < 4; ++w) {
    in = straight;
    in.road[w] = kStep;
    equations.rate(rest, in, up);
    in.road[w] = -kStep;
    equations.rate(rest, in, down);
    for (int k = 0; k < kN; ++k) road_[k * 4 + w] = (up[k] - down[k]) / (2.0 * kStep);
    load_by_height_[w] = plant.axle_of(w).kt;
  }
}

std::vector<Mode> LinearModel::modes() const {
  const Matrix a = Eigen::Map<const Matrix>(a_.data());
  const auto values = Eigen::EigenSolver<Eigen::Matrix<double, kN, kN>>(a, false).eigenvalues();
  std::vector<Mode> out;
  for (int i = 0; i < kN; ++i) {
    const std::complex<double> value = values(i);
    if (value.imag() < 0.0) continue;
    Mode mode;
    mode.eigenvalue = value;
    mode.frequency = std::abs(value) / (2.0 * std::numbers::pi);
    mode.damping = std::abs(value) > 0.0 ? -value.real() / std::abs(value) : 0.0;
    out.push_back(mode);
  }
  std::sort(out.begin(), out.end(), [](const Mode& x, const Mode& y) { return x.eigenvalue.real() > y.eigenvalue.real(); });
  return out;
}

bool LinearModel::is_stable() const { return modes().front().eigenvalue.real() < 0.0; }

std::vector<std::complex<double>> LinearModel::solve(double f, const std::vector<std::complex<double>>& right) const {
  using CMatrix = Eigen::Matrix<std::complex<double>, kN, kN>;
  using CVector = Eigen::Matrix<std::complex<double>, kN, 1>;
  const std::complex<double> s(0.0, 2.0 * std::numbers::pi * f);
  const CMatrix left = s * CMatrix::Identity() - Eigen::Map<const Matrix>(a_.data()).cast<std::complex<double>>();
  const CVector x = left.partialPivLu().solve(Eigen::Map<const CVector>(right.data()));
  return {x.data(), x.data() + kN};
}

LinearResponse LinearModel::to_steer(double f) const {
  const auto x = solve(f, std::vector<std::complex<double>>(steer_.begin(), steer_.end()));
  LinearResponse out;
  out.yaw_rate = x[kStateYawRate];
  out.roll = x[kStateRoll];
  for (int i = 0; i < kN; ++i) out.lateral_acceleration += side_[i] * x[i];
  out.sideslip = (x[kStateSideSpeed] + plant_.x_cg * x[kStateYawRate]) / speed_;
  return out;
}

LinearModel::RoadResponse LinearModel::to_road(double f, const std::array<std::complex<double>, 4>& road) const {
  std::vector<std::complex<double>> right(kN);
  for (int k = 0; k < kN; ++k) {
    for (int w = 0; w < 4; ++w) right[k] += road_[k * 4 + w] * road[w];
  }
  const auto x = solve(f, right);
  const std::complex<double> s(0.0, 2.0 * std::numbers::pi * f);
  RoadResponse out;
  out.side = s * x[kStateSideSpeed];
  out.yaw = s * x[kStateYawRate];
  out.heave = s * x[kStateHeaveRate];
  out.roll = s * x[kStateRollRate];
  out.pitch = s * x[kStatePitchRate];
  out.roll_angle = x[kStateRoll];
  for (std::size_t w = 0; w < 4; ++w) out.load[w] = load_by_height_[w] * (road[w] - x[kStateWheelHeight + w]);
  return out;
}

}  // namespace rollwright::vehicle
