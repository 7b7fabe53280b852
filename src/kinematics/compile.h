// Compile: from a linkage's points to systems of bodies and ties. Used by axle.cpp only.
#pragma once

#include "base/problem.h"
#include "kinematics/system.h"

namespace rollwright::kinematics {

// What is missing, coincides or lies on the wrong side.
base::Problems check(const Linkage& linkage);

// The left (or right) side of an independent suspension; the linkage must have passed `check`.
System side_system(const Linkage& linkage, bool is_left);
// Both wheels of a twist beam or solid axle.
System joint_system(const Linkage& linkage);

double wheel_radius(const WheelAtRest& wheel);

}  // namespace rollwright::kinematics
