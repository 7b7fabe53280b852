#include "bar/centreline.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <numbers>

namespace rollwright::bar {

namespace {

constexpr double kSamePoint = 1e-4;      // 0.1 mm: nearer points are one point typed twice
constexpr double kStraightAngle = 1e-6;  // a corner that turns less is none [rad]

Vec3 vec(const Point& p) { return {p[0].si(), p[1].si(), p[2].si()}; }

std::string mm(double metres) {
  char text[32];
  std::snprintf(text, sizeof text, "%.1f mm", metres * 1000.0);
  return text;
}

// Smallest distance of two straight segments [Ericson 2004 §5.1.9, the usual clamped solution].
double segment_distance(const Vec3& p1, const Vec3& q1, const Vec3& p2, const Vec3& q2) {
  const Vec3 d1 = q1 - p1, d2 = q2 - p2, r = p1 - p2;
  const double a = dot(d1, d1), e = dot(d2, d2), f = dot(d2, r), c = dot(d1, r), b = dot(d1, d2);
  const double denominator = a * e - b * b;
  double s = denominator > 1e-18 ? std::clamp((b * f - c * e) / denominator, 0.0, 1.0) : 0.0;
  double t = (b * s + f) / e;
  if (t < 0.0) {
    t = 0.0;
    s = std::clamp(-c / a, 0.0, 1.0);
  } else if (t > 1.0) {
    t = 1.0;
    s = std::clamp((b - c) / a, 0.0, 1.0);
  }
  return norm((p1 + s * d1) - (p2 + t * d2));
}

struct Corner {
  double turn = 0.0;     // θ [rad]
  double radius = 0.0;
  double tangent = 0.0;  // ρ·tan(θ/2)
};

}  // namespace

base::Outcome<Centreline> Centreline::make(const std::vector<CentrelinePoint>& given, double half_size,
                                           const std::string& where) {
  base::Problems problems;
  const auto at = [&](std::size_t i) { return where + "[" + std::to_string(i) + "]"; };
  const auto refuse = [&](const char* code, std::string place, std::string message, std::string allowed,
                          std::string hint) {
    problems.push_back(base::input_problem(code, std::move(place), std::move(message), std::move(allowed), std::move(hint)));
  };
  const std::size_t n = given.size();
  if (n < 2) {
    refuse("too_few_points", where, "A centreline needs at least its two ends.", "2 to 200 points",
           "List the right arm's end first, then each corner, then the left arm's end.");
    return base::fail(problems);
  }
  if (n > 200) {
    refuse("too_many_points", where, "This centreline has " + std::to_string(n) + " points.", "2 to 200 points",
           "Give the corners with their bend radii rather than points along the curves.");
    return base::fail(problems);
  }

  std::vector<Vec3> p(n);
  for (std::size_t i = 0; i < n; ++i) p[i] = vec(given[i].point);
  for (std::size_t i = 0; i < n; ++i) {
    if (!std::isfinite(norm(p[i])) || norm(p[i]) > 10.0) {
      refuse("point_out_of_range", at(i) + ".point_mm", "This point lies more than 10 m from the origin.",
             "within 10000 mm", "Check the unit: points are in millimetres.");
    }
  }
  for (std::size_t i = 1; i < n; ++i) {
    if (norm(p[i] - p[i - 1]) < kSamePoint) {
      refuse("doubled_point", at(i) + ".point_mm", "This point is the same as the one before it.",
             "at least 0.1 mm apart", "Remove one of the two.");
    }
  }
  if (!problems.empty()) return base::fail(problems);

  std::vector<Corner> corner(n);
  for (std::size_t i = 0; i < n; ++i) {
    const double radius = given[i].bend_radius ? given[i].bend_radius->si() : 0.0;
    if (i == 0 || i + 1 == n) {
      if (radius > 0.0) {
        refuse("bend_at_end", at(i) + ".bend_radius_mm", "The end of the bar cannot have a bend.", "null",
               "Give null here, or add the point where the bar goes on after the bend.");
      }
      continue;
    }
    const Vec3 a = unit(p[i] - p[i - 1]), b = unit(p[i + 1] - p[i]);
    const double turn = std::atan2(norm(cross(a, b)), dot(a, b));
    if (turn > 170.0 * std::numbers::pi / 180.0) {
      refuse("line_doubles_back", at(i) + ".point_mm", "The line turns back on itself at this point.",
             "a turn of at most 170 deg", "Check the order of the points: right end first, left end last.");
      continue;
    }
    if (radius < 0.0) {
      refuse("bend_radius_negative", at(i) + ".bend_radius_mm", "A bend radius cannot be negative.", "0 mm or more",
             "0 is a sharp mitred corner.");
      continue;
    }
    if (turn < kStraightAngle) continue;
    if (radius > 0.0 && radius < half_size) {
      refuse("bend_too_tight", at(i) + ".bend_radius_mm",
             "A centreline radius of " + mm(radius) + " is less than half the bar's thickness, " + mm(half_size) + ".",
             "at least " + mm(half_size), "Measure to the middle of the bar, not to its inner side; 0 is a sharp corner.");
      continue;
    }
    corner[i] = {turn, radius, radius * std::tan(0.5 * turn)};
  }
  for (std::size_t i = 1; i < n; ++i) {
    const double straight = norm(p[i] - p[i - 1]);
    const double before = corner[i - 1].tangent, after = corner[i].tangent;
    constexpr double kSlack = 1e-9;  // round-off of bends that touch exactly
    if (before + after <= straight + kSlack) continue;
    // Name the bend that is too large on its own, or both when only their sum is.
    if (before <= straight && after <= straight) {
      refuse("bends_overlap", at(i - 1) + ".bend_radius_mm",
             "The bends at points " + std::to_string(i - 1) + " and " + std::to_string(i) + " overlap: they need " +
                 mm(before + after) + " of the " + mm(straight) + " between their corners.",
             "together at most " + mm(straight), "Make a radius smaller or move the corners apart.");
    } else {
      const std::size_t which = after > straight ? i : i - 1;
      refuse("bend_does_not_fit", at(which) + ".bend_radius_mm",
             "This bend needs " + mm(std::max(before, after)) + " of straight beside its corner; there are " +
                 mm(straight) + ".",
             "a radius of at most " + mm(straight / std::tan(0.5 * corner[which].turn)),
             "Make the radius smaller or move the corners apart.");
    }
  }
  // A bar passes itself at no less than its own thickness. Neighbours share a corner and are left out.
  for (std::size_t i = 1; i < n; ++i) {
    for (std::size_t j = i + 2; j < n; ++j) {
      if (segment_distance(p[i - 1], p[i], p[j - 1], p[j]) < std::min(half_size, 0.5 * norm(p[j - 1] - p[i]))) {
        refuse("line_crosses_itself", at(j - 1), "The stretch from point " + std::to_string(j - 1) + " to " +
               std::to_string(j) + " runs through the stretch from point " + std::to_string(i - 1) + " to " +
               std::to_string(i) + ".", "stretches that keep clear of each other",
               "Check the order of the points and their signs: y is positive to the left.");
      }
    }
  }
  if (!problems.empty()) return base::fail(problems);

  Centreline line;
  double station = 0.0;
  Vec3 from = p[0];
  for (std::size_t i = 1; i < n; ++i) {
    const Vec3 t = unit(p[i] - p[i - 1]);
    const Vec3 to = p[i] - corner[i].tangent * t;
    const double length = dot(to - from, t);
    if (length > 1e-9) {
      line.pieces_.push_back({station, station + length, from, t, {}, 0.0});
      station += length;
    }
    from = to;
    if (corner[i].radius > 0.0) {
      const Vec3 next = unit(p[i + 1] - p[i]);
      const double arc = corner[i].radius * corner[i].turn;
      line.pieces_.push_back({station, station + arc, to, t, unit(square_to(next, t)), corner[i].radius});
      station += arc;
      from = p[i] + corner[i].tangent * next;
    }
  }
  return line;
}

std::size_t Centreline::piece_at(double station) const {
  for (std::size_t i = 0; i + 1 < pieces_.size(); ++i) {
    if (station < pieces_[i].end) return i;
  }
  return pieces_.size() - 1;
}

Vec3 Centreline::point(const Piece& q, double station) {
  const double s = station - q.start;
  if (q.radius == 0.0) return q.point + s * q.tangent;
  const double angle = s / q.radius;
  return q.point + (q.radius * std::sin(angle)) * q.tangent + (q.radius * (1.0 - std::cos(angle))) * q.to_centre;
}

Vec3 Centreline::tangent(const Piece& q, double station) {
  if (q.radius == 0.0) return q.tangent;
  const double angle = (station - q.start) / q.radius;
  return std::cos(angle) * q.tangent + std::sin(angle) * q.to_centre;
}

Vec3 Centreline::to_centre(const Piece& q, double station) {
  if (q.radius == 0.0) return {};
  const double angle = (station - q.start) / q.radius;
  return std::cos(angle) * q.to_centre - std::sin(angle) * q.tangent;
}

Centreline::Nearest Centreline::nearest(const Vec3& p) const {
  Nearest best{0.0, 1e300, false};
  for (const Piece& q : pieces_) {
    double s;
    if (q.radius == 0.0) {
      s = std::clamp(dot(p - q.point, q.tangent), 0.0, q.end - q.start);
    } else {
      const Vec3 centre = q.point + q.radius * q.to_centre;
      const Vec3 d = p - centre;
      const double angle = std::atan2(dot(d, q.tangent), -dot(d, q.to_centre));
      s = std::clamp(angle, 0.0, (q.end - q.start) / q.radius) * q.radius;
    }
    const double distance = norm(p - point(q, q.start + s));
    if (distance < best.distance) best = {q.start + s, distance, false};
  }
  if (best.distance > 0.0) {
    const Vec3 first = -pieces_.front().tangent;
    const Piece& last = pieces_.back();
    const Vec3 end_tangent = tangent(last, last.end);
    if (best.station <= 1e-12) best.is_beyond_end = dot(p - pieces_.front().point, first) > 0.7 * best.distance;
    if (best.station >= length() - 1e-12) {
      best.is_beyond_end = dot(p - point(last, last.end), end_tangent) > 0.7 * best.distance;
    }
  }
  return best;
}

}  // namespace rollwright::bar
