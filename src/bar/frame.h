// A frame of straight Timoshenko beam elements with twelve freedoms each: the second opinion on linear_rate.
//
// It shares the sections and the centreline with the section-force integral and nothing of its method: stiffness
// matrices of straight elements between nodes on the line, arcs as polygons, mounts and links as constraints or springs,
// one sparse solve. Polygons make bends a little stiff: at 5 mm elements the rate is about 0.01 % high, falling with the
// square of the element length. Element: [Przemieniecki 1968 §5.6], shear parameter Φ = 12EI/(kGA·L²).
#pragma once

#include "bar/model.h"
#include "bar/rate.h"

namespace rollwright::bar {

struct FrameSolution {
  LinearRate rate;
  std::vector<MountReaction> reactions;  // for left +1 m, right −1 m, by station
  std::size_t nodes = 0;
};

// `element_length` [m]: longest element; 5 mm is plenty.
FrameSolution frame_solution(const BarModel& model, const ModelSetting& setting, double element_length = 5e-3);

}  // namespace rollwright::bar
