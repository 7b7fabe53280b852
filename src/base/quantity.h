// Quantities: a double in SI units that knows its physical dimension.
//
// Public structs hold quantities, so that a length cannot be stored where a mass belongs; numerical kernels unwrap
// them once with si() and work in plain doubles. Conversion to and from other units happens where text becomes numbers
// and where numbers become text (units.h), nowhere else.
//
// Angle counts as a dimension of its own, so a torsional stiffness [N·m/rad] and a moment [N·m] are different types,
// and so does money. A ratio (dimensionless) converts from and to double freely.
#pragma once

#include <compare>

namespace rollwright::base {

template <int L, int M, int T, int A = 0, int C = 0>
struct Dimension {
  static constexpr int length = L, mass = M, time = T, angle = A, money = C;
};

template <class D>
class Quantity;

template <class D1, class D2>
using ProductDimension = Dimension<D1::length + D2::length, D1::mass + D2::mass, D1::time + D2::time,
                                   D1::angle + D2::angle, D1::money + D2::money>;
template <class D1, class D2>
using QuotientDimension = Dimension<D1::length - D2::length, D1::mass - D2::mass, D1::time - D2::time,
                                    D1::angle - D2::angle, D1::money - D2::money>;

template <class D>
class Quantity {
 public:
  using dimension = D;

  constexpr Quantity() = default;
  constexpr explicit Quantity(double si) : si_(si) {}

  // The value in SI units (m, kg, s, rad and their products; money in the user's own currency).
  [[nodiscard]] constexpr double si() const { return si_; }

  constexpr Quantity operator-() const { return Quantity(-si_); }
  constexpr Quantity& operator+=(Quantity other) { si_ += other.si_; return *this; }
  constexpr Quantity& operator-=(Quantity other) { si_ -= other.si_; return *this; }
  friend constexpr Quantity operator+(Quantity a, Quantity b) { return Quantity(a.si_ + b.si_); }
  friend constexpr Quantity operator-(Quantity a, Quantity b) { return Quantity(a.si_ - b.si_); }
  friend constexpr Quantity operator*(double factor, Quantity q) { return Quantity(factor * q.si_); }
  friend constexpr Quantity operator*(Quantity q, double factor) { return Quantity(factor * q.si_); }
  friend constexpr Quantity operator/(Quantity q, double divisor) { return Quantity(q.si_ / divisor); }
  friend constexpr auto operator<=>(Quantity a, Quantity b) = default;

 private:
  double si_ = 0.0;
};

// A dimensionless quantity is a number and behaves like one.
template <>
class Quantity<Dimension<0, 0, 0>> {
 public:
  using dimension = Dimension<0, 0, 0>;

  constexpr Quantity() = default;
  constexpr Quantity(double si) : si_(si) {}  // NOLINT: meant to convert
  constexpr operator double() const { return si_; }  // NOLINT: meant to convert
  [[nodiscard]] constexpr double si() const { return si_; }

 private:
  double si_ = 0.0;
};

template <class D1, class D2>
constexpr auto operator*(Quantity<D1> a, Quantity<D2> b) {
  return Quantity<ProductDimension<D1, D2>>(a.si() * b.si());
}
template <class D1, class D2>
constexpr auto operator/(Quantity<D1> a, Quantity<D2> b) {
  return Quantity<QuotientDimension<D1, D2>>(a.si() / b.si());
}

using Ratio = Quantity<Dimension<0, 0, 0>>;
using Length = Quantity<Dimension<1, 0, 0>>;
using Area = Quantity<Dimension<2, 0, 0>>;
using Mass = Quantity<Dimension<0, 1, 0>>;
using Duration = Quantity<Dimension<0, 0, 1>>;
using Angle = Quantity<Dimension<0, 0, 0, 1>>;
using Speed = Quantity<Dimension<1, 0, -1>>;
using Acceleration = Quantity<Dimension<1, 0, -2>>;
using Frequency = Quantity<Dimension<0, 0, -1>>;
using AngularRate = Quantity<Dimension<0, 0, -1, 1>>;
using Force = Quantity<Dimension<1, 1, -2>>;
using Moment = Quantity<Dimension<2, 1, -2>>;                  // [N·m]
using Energy = Moment;                                         // [J]
using Stress = Quantity<Dimension<-1, 1, -2>>;                 // [Pa]
using StressPerTravel = Quantity<Dimension<-2, 1, -2>>;        // [Pa/m]
using Stiffness = Quantity<Dimension<0, 1, -2>>;               // [N/m]
using AngularStiffness = Quantity<Dimension<2, 1, -2, -1>>;    // [N·m/rad]
using Damping = Quantity<Dimension<0, 1, -1>>;                 // [N·s/m]
using Density = Quantity<Dimension<-3, 1, 0>>;
using Inertia = Quantity<Dimension<2, 1, 0>>;
using AnglePerAcceleration = Quantity<Dimension<-1, 0, 2, 1>>; // roll and understeer gradient [rad/(m/s²)]
using AnglePerForce = Quantity<Dimension<-1, -1, 2, 1>>;       // compliance steer [rad/N]
using AnglePerLength = Quantity<Dimension<-1, 0, 0, 1>>;       // camber or steer gain along travel [rad/m]
using Money = Quantity<Dimension<0, 0, 0, 0, 1>>;

// Standard gravity [CGPM 1901, resolution 2]: exact by definition.
inline constexpr Acceleration kStandardGravity{9.80665};

}  // namespace rollwright::base
