// Mass matrix of the nine speeds [v, r, z', φ', θ', z1'..z4'] and its inverse.
//
//   M = Σ m (row)(row)ᵀ over the side and vertical speeds of the sprung mass and of the four wheels, plus Ixx, Iyy, Izz and
//   the product −Ixz between yaw and roll.
//
// Only motion needs it: equilibria are found without, which is why it is no part of the plant.
#pragma once

#include <array>

#include "vehicle/plant.h"

namespace rollwright::vehicle {

struct MassMatrix {
  std::array<double, kSpeeds * kSpeeds> matrix{};
  std::array<double, kSpeeds * kSpeeds> inverse{};
};

MassMatrix make_mass_matrix(const Plant& plant);

}  // namespace rollwright::vehicle
