// The figures by which choices are held against each other, of one car without doubt.
//
// Most are closed forms. Four are not: the limit and the understeer gradient at 4 m/s² come from the steady engine, delay and
// swing from the transient engine made linear about straight running (linear_model.h; its tests say how near that is to the
// whole engine in an ordinary corner). Both cost some thirty times as much. For those each car also gets a closed form
// that is near:
//
//   limit        smaller of the two axles' a_y with Σ peak(N ± ΔN a_y) = m_axle a_y       (linear load transfer, upright tyres)
//   understeer   two-freedom value + what cornering stiffness loses to load transfer at 4 m/s²
//   delay        three freedoms (side, yaw, roll) and the tyres' relaxation length over speed
//   swing        the same three freedoms
//
// and choice_cars.h carries the engine's difference from it over to all draws. SI units.
#pragma once

#include <array>
#include <cstddef>
#include <optional>

#include "vehicle/car.h"

namespace rollwright::ops {

enum ChoiceFigure : std::size_t {
  kChoiceLean,           // roll gradient, body to road [rad/(m/s²)]
  kChoiceFrontShare,     // of the lateral load transfer
  kChoiceUndersteer,     // at 4 m/s² [rad/(m/s²)]
  kChoiceGrip,           // largest steady lateral acceleration [m/s²]
  kChoiceDelay,          // of side force behind steer in a 1 Hz weave, tyre lag included [s]
  kChoiceSwing,          // lean per steer in a 1 Hz weave over its steady value
  kChoiceOneWheel,       // mean one-wheel rate of the axles [N/m]
  kChoiceTwoWheel,       // mean two-wheel rate of the axles [N/m]
  kChoiceInnerDriven,    // load of the inner driven wheel at 0.5 g over its load at rest
  kChoiceStopInCorner,   // lateral acceleration at which an outer wheel meets its bump stop [m/s²]
  kChoiceDip,            // vertical speed that the travel to the bump stop takes up, smaller axle [m/s]
  kChoiceFigures
};
using ChoiceFigures = std::array<double, kChoiceFigures>;

// Everything by closed forms, for a car that `vehicle::check` would pass or that differs from such a one by parts; nullopt where
// it cannot stand.
std::optional<ChoiceFigures> closed_form_figures(const vehicle::Car& car, double speed);
// The same with limit and understeer from the steady engine, delay and swing from the transient one, for any car. Play of
// a bar's links counts as taken up: in a corner it is.
std::optional<ChoiceFigures> engine_figures(const vehicle::Car& car, double speed);

}  // namespace rollwright::ops
