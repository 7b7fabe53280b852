// A bar as a person with a tape sees it, and the shape that stands for it.
//
//        straight (corner to corner)
//     ┌────────────●────────────────────●────────────┐   ● bushing, `bushing_spacing` apart
//     │ arm: lever square to the straight             │
//     ○ hole 1 (farthest)                             ○
//
// Each arm is one straight from the corner to the end: `lever` square to the bar's axis, `sweep` sideways (outward
// positive), `drop` (downward positive), all to hole 1. Nearer holes lie on that line at their own lever. The bend at the
// corner has one radius. The mirror image makes the other side.
//
// A bar with more bends than that wants the exact entry; to_tape of such a bar replaces each arm by the line from its
// corner to hole 1 and says by how much the arm leaves that line.
#pragma once

#include <optional>
#include <vector>

#include "bar/bar.h"
#include "base/problem.h"

namespace rollwright::bar {

struct Tape {
  base::Length straight{};          // corner to corner, where the middles of straight and arm would meet
  base::Length bushing_spacing{};   // middle to middle
  base::Length bend_radius{};       // of the centreline; 0 is a sharp corner
  std::vector<base::Length> levers; // square to the straight, hole 1 first (the farthest)
  base::Length sweep{};             // of hole 1: how far outside its corner
  base::Length drop{};              // of hole 1: how far below the straight
  base::Length beyond{};            // arm left over past hole 1, along it
  bool points_forward = false;
};

// Centreline, bushings and holes ("1", "2", … on both sides); section and material are left as they are.
base::Outcome<Bar> from_tape(const Tape& tape, Bar bar = {});

struct TapeReading {
  Tape tape;
  base::Length arm_off_line{};   // how far the real arm leaves the straight line
  base::Length asymmetry{};      // largest difference between the sides
};
// The axis of the bar must lie along y within 1 deg.
base::Outcome<TapeReading> to_tape(const Bar& bar);

}  // namespace rollwright::bar
