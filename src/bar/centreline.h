// The centreline: straights and circular arcs through the corner points, with the length along it as parameter.
//
// A corner that turns by θ with centreline radius ρ takes the tangent length ρ·tan(θ/2) from each neighbouring
// straight and leaves an arc of length ρθ. Radius 0 leaves a sharp mitre.
//
// Refused, each with its place and a remedy: doubled points, a bend that does not fit between its neighbours, bends that
// overlap, a bend tighter than the bar's own radius, a line that doubles back or runs through itself.
#pragma once

#include <vector>

#include "bar/bar.h"
#include "bar/vec3.h"
#include "base/problem.h"

namespace rollwright::bar {

struct Piece {
  double start = 0.0, end = 0.0;  // stations [m]
  Vec3 point;                     // at start
  Vec3 tangent;                   // at start, unit
  Vec3 to_centre;                 // arcs: unit vector from start to the centre of the bend
  double radius = 0.0;            // 0: straight
};

class Centreline {
 public:
  // `largest_half_size`: half the bar's largest thickness [m], for the checks of tight bends and of crossing.
  static base::Outcome<Centreline> make(const std::vector<CentrelinePoint>& points, double largest_half_size,
                                        const std::string& where = "centreline_right_to_left");

  [[nodiscard]] double length() const { return pieces_.back().end; }
  [[nodiscard]] const std::vector<Piece>& pieces() const { return pieces_; }
  // Index of the piece that holds a station; at a joint the later one, at the left end the last.
  [[nodiscard]] std::size_t piece_at(double station) const;

  [[nodiscard]] Vec3 point(double station) const { return point(pieces_[piece_at(station)], station); }
  [[nodiscard]] static Vec3 point(const Piece& piece, double station);
  [[nodiscard]] static Vec3 tangent(const Piece& piece, double station);
  [[nodiscard]] static Vec3 to_centre(const Piece& piece, double station);

  struct Nearest {
    double station = 0.0;
    double distance = 0.0;  // [m]
    bool is_beyond_end = false;  // the point lies past an end of the line
  };
  [[nodiscard]] Nearest nearest(const Vec3& p) const;

 private:
  std::vector<Piece> pieces_;
};

}  // namespace rollwright::bar
