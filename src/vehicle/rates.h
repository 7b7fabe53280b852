// Rates at the wheel and at the ground, natural frequencies and damping: the harshness side of springs and bars.
//
//   both wheels together   kw                 one wheel, body and other wheel held   kw + kb/2, and −kb/2 at the other
//   pure roll              kw + kb            at the ground: each mode in series with the tyre
//   ride frequency         √(kw/(m_sa/2))/2π  ride damping ratio c/(2√(kw m_sa/2))
//   wheel hop              √((kw+kt)/m_w)/2π
//   roll                   √((K − m_s g h_rs)/(Ixx + m_s h_rs²))/2π on rigid tyres, damping Σ t² c/2
//
// c is the mean of bump and rebound below the knee. Bars with play or friction show their elastic rate here.
#pragma once

#include <array>

#include "vehicle/plant.h"

namespace rollwright::vehicle {

struct WheelRates {
  base::Stiffness two_wheel{};
  base::Stiffness one_wheel{};
  base::Stiffness roll{};
  base::Stiffness far_wheel_per_travel{};  // force at the other wheel, negative: the bar lifts it
  base::Stiffness two_wheel_at_ground{};
  base::Stiffness one_wheel_at_ground{};
  base::Stiffness roll_at_ground{};
};

struct AxleFrequencies {
  base::Frequency ride{};            // body on its springs
  base::Frequency ride_on_tyres{};   // springs and tyres in series
  base::Ratio ride_damping = 0.0;
  base::Frequency wheel_hop{};
};

struct RollMode {
  base::Frequency frequency{};       // on rigid tyres
  base::Ratio damping = 0.0;
  base::Inertia inertia_about_axis{};
  base::AngularStiffness net_stiffness{};  // less the gravity term
  base::Quantity<base::Dimension<2, 1, -1, -1>> damping_rate{};  // [N·m·s/rad]
};

WheelRates wheel_rates(const AxlePlant& axle);
AxleFrequencies axle_frequencies(const AxlePlant& axle);
// Frequency 0 where the body would fall over.
RollMode roll_mode(const Plant& plant);

}  // namespace rollwright::vehicle
