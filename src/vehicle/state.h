// Order of the states of motion: speeds v, r, z', φ', θ', z1'..z4'; positions z, φ, θ, z1..z4; lagged slips α1'..α4';
// friction forces of the bars; X, Y, heading of the point at ground level below the sprung CG.
#pragma once

namespace rollwright::vehicle {

enum StateIndex : int {
  kStateSideSpeed = 0, kStateYawRate = 1, kStateHeaveRate = 2, kStateRollRate = 3, kStatePitchRate = 4, kStateWheelRate = 5,
  kStateHeave = 9, kStateRoll = 10, kStatePitch = 11, kStateWheelHeight = 12,
  kStateSlip = 16, kStateBarFriction = 20, kStateX = 22, kStateY = 23, kStateHeading = 24,
  kStateCount = 25
};
// The part of the state that decides the motion: all but bar friction and the place on the ground.
inline constexpr int kLinearStates = 20;

}  // namespace rollwright::vehicle
