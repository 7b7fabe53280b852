#include "vehicle/mass_matrix.h"

#include "base/assert.h"
#include "vehicle/small_linear.h"

namespace rollwright::vehicle {

MassMatrix make_mass_matrix(const Plant& p) {
  constexpr int v = 0, r = 1, z = 2, phi = 3, theta = 4, wheels = 5;
  MassMatrix out;
  auto& m = out.matrix;
  const auto add = [&](const std::array<double, kSpeeds>& row, double mass) {
    for (int i = 0; i < kSpeeds; ++i) {
      for (int j = 0; j < kSpeeds; ++j) m[i * kSpeeds + j] += mass * row[i] * row[j];
    }
  };
  std::array<double, kSpeeds> row{};
  row[v] = 1.0;
  row[phi] = -p.h_s;
  add(row, p.m_s);
  row = {};
  row[z] = 1.0;
  row[phi] = p.y_s;
  add(row, p.m_s);
  m[phi * kSpeeds + phi] += p.Ixx;
  m[theta * kSpeeds + theta] += p.Iyy;
  m[r * kSpeeds + r] += p.Izz_sprung + p.m_s * p.y_s * p.y_s;
  m[r * kSpeeds + phi] -= p.Ixz;
  m[phi * kSpeeds + r] -= p.Ixz;
  for (std::size_t w = 0; w < 4; ++w) {
    const double mass = p.axle_of(w).m_unsprung_wheel;
    add(side_speed_row(p, w), mass);
    const int height = wheels + static_cast<int>(w);
    m[height * kSpeeds + height] += mass;
    m[r * kSpeeds + r] += mass * p.wheel[w].y * p.wheel[w].y;
  }
  ROLLWRIGHT_ASSERT(invert<kSpeeds>(out.matrix, out.inverse));
  return out;
}

}  // namespace rollwright::vehicle
