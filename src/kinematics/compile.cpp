#include "kinematics/compile.h"

#include <cmath>

#include "base/assert.h"

namespace rollwright::kinematics {

namespace {

using base::input_problem;

constexpr double kNear = 1e-4;  // points nearer than 0.1 mm are taken for a slip of the pen

Vec3 axle_direction(const WheelAtRest& wheel) {
  const double c = wheel.camber.si(), t = wheel.toe_in.si();
  return {std::sin(t) * std::cos(c), std::cos(t) * std::cos(c), -std::sin(c)};
}

RodTie rod_tie(Vec3 body_end, Vec3 wheel_end, bool moves_with_rack, std::string name) {
  RodTie r;
  r.body_end = body_end;
  r.wheel_end = wheel_end;
  r.length = (wheel_end - body_end).norm();
  r.moves_with_rack = moves_with_rack;
  r.name = std::move(name);
  return r;
}

std::array<Vec3, 3> car_axes() { return {Vec3::UnitX(), Vec3::UnitY(), Vec3::UnitZ()}; }

// Two unit vectors square to `along`.
std::array<Vec3, 2> across(const Vec3& along) {
  const Vec3 a = along.normalized();
  const Vec3 first = a.cross(std::abs(a.x()) < 0.7 ? Vec3::UnitX() : Vec3::UnitZ()).normalized();
  return {first, a.cross(first)};
}

class Checker {
 public:
  explicit Checker(base::Problems& problems) : problems_(problems) {}

  void need(const std::optional<Point>& p, const char* key, const char* what) {
    if (!p) {
      problems_.push_back(input_problem("missing_point", key, std::string("This linkage needs ") + what + ".", "x, y, z in the car's axes"));
    } else {
      finite(*p, key);
    }
  }
  void finite(const Point& p, const std::string& key) {
    for (const auto& c : p) {
      if (!std::isfinite(c.si()) || std::abs(c.si()) > 20.0) {
        problems_.push_back(input_problem("out_of_range", key, "A coordinate is not a place on a car.", "within 20 m"));
        return;
      }
    }
  }
  void left(const std::optional<Point>& p, const char* key) {
    if (p && (*p)[1].si() < 0.0) {
      problems_.push_back(input_problem("wrong_side", key, "This point lies on the right of the car; the left side is asked for.",
                                        "y above 0", "Turn the sign of y, or give the left side's point."));
    }
  }
  void apart(const std::optional<Point>& a, const std::optional<Point>& b, const char* key, const char* what) {
    if (a && b && (metres(*a) - metres(*b)).norm() < kNear) {
      problems_.push_back(input_problem("points_coincide", key, std::string(what) + " lie in one place.", "at least 0.1 mm apart"));
    }
  }

 private:
  base::Problems& problems_;
};

void check_carried(const CarriedPoint& c, const Linkage& linkage, const std::string& key, base::Problems& problems) {
  const auto wrong = [&](const std::string& message, const std::string& allowed) {
    problems.push_back(input_problem("unknown_part", key, message, allowed));
  };
  const bool has_lower = linkage.kind == LinkageKind::double_wishbone || linkage.kind == LinkageKind::strut;
  if (c.on == Carrier::lower_arm && !has_lower) wrong("This linkage has no lower arm.", "wheel_carrier or rod");
  if (c.on == Carrier::upper_arm && linkage.kind != LinkageKind::double_wishbone) wrong("This linkage has no upper arm.", "wheel_carrier or rod");
  if (c.on == Carrier::rod) {
    bool found = false;
    std::string names;
    for (const Rod& r : linkage.rods) {
      found = found || r.name == c.rod;
      names += (names.empty() ? "" : ", ") + r.name;
    }
    if (!found) wrong("There is no rod called '" + c.rod + "'.", names.empty() ? "a linkage with rods" : names);
    if (!(c.fraction >= 0.0 && c.fraction <= 1.0)) wrong("The place along a rod is a fraction of its length.", "0 to 1");
  }
}

}  // namespace

double wheel_radius(const WheelAtRest& wheel) { return wheel.centre[2].si() / std::cos(wheel.camber.si()); }

base::Problems check(const Linkage& l) {
  base::Problems problems;
  Checker c(problems);
  c.finite(l.wheel.centre, "wheel.centre");
  c.left(l.wheel.centre, "wheel.centre");
  if (!(l.wheel.centre[2].si() > 0.1)) {
    problems.push_back(input_problem("out_of_range", "wheel.centre", "The wheel's centre must lie over the road, where z is 0.", "z above 100 mm",
                                     "Measure heights from the ground."));
  }
  if (!(l.wheel.centre[1].si() > 0.2)) problems.push_back(input_problem("out_of_range", "wheel.centre", "The wheel stands too near the car's centre plane.", "y above 200 mm"));
  if (!(std::abs(l.wheel.camber.si()) < 0.35) || !(std::abs(l.wheel.toe_in.si()) < 0.35)) {
    problems.push_back(input_problem("out_of_range", "wheel", "Camber and toe at rest are small angles.", "within 20 deg", "Are they given in degrees?"));
  }
  switch (l.kind) {
    case LinkageKind::double_wishbone:
      c.need(l.upper_inner_front, "upper_inner_front", "the upper arm's front pivot");
      c.need(l.upper_inner_rear, "upper_inner_rear", "the upper arm's rear pivot");
      c.need(l.upper_ball, "upper_ball", "the upper ball joint");
      c.left(l.upper_ball, "upper_ball");
      c.apart(l.upper_inner_front, l.upper_inner_rear, "upper_inner_rear", "The upper arm's pivots");
      c.apart(l.upper_ball, l.lower_ball, "upper_ball", "The ball joints");
      [[fallthrough]];
    case LinkageKind::strut:
      c.need(l.lower_inner_front, "lower_inner_front", "the lower arm's front pivot");
      c.need(l.lower_inner_rear, "lower_inner_rear", "the lower arm's rear pivot");
      c.need(l.lower_ball, "lower_ball", "the lower ball joint");
      c.need(l.track_rod_inner, "track_rod_inner", "the track rod's inner end (on a rear axle: the toe link's)");
      c.need(l.track_rod_outer, "track_rod_outer", "the track rod's outer end (on a rear axle: the toe link's)");
      c.left(l.lower_ball, "lower_ball");
      c.left(l.track_rod_outer, "track_rod_outer");
      c.apart(l.lower_inner_front, l.lower_inner_rear, "lower_inner_rear", "The lower arm's pivots");
      c.apart(l.track_rod_inner, l.track_rod_outer, "track_rod_outer", "The track rod's ends");
      if (l.kind == LinkageKind::strut) {
        c.need(l.strut_top, "strut_top", "the strut's top mount");
        c.need(l.strut_lower, "strut_lower", "a second point on the strut's sliding line");
        c.left(l.strut_top, "strut_top");
        c.apart(l.strut_top, l.strut_lower, "strut_lower", "The strut's points");
      }
      break;
    case LinkageKind::five_link:
      if (l.rods.size() != 5) problems.push_back(input_problem("wrong_count", "rods", "A five-link suspension has five rods.", "5 rods", "An arm with two pivots counts as two rods to one ball joint."));
      break;
    case LinkageKind::semi_trailing_arm:
      c.need(l.arm_pivot_inner, "arm_pivot_inner", "the inner point of the line about which the arm turns");
      c.need(l.arm_pivot_outer, "arm_pivot_outer", "the outer point of the line about which the arm turns");
      c.apart(l.arm_pivot_inner, l.arm_pivot_outer, "arm_pivot_outer", "The arm's pivots");
      break;
    case LinkageKind::twist_beam:
      c.need(l.beam_bush, "beam_bush", "the arm's body bush");
      c.need(l.beam_shear_centre, "beam_shear_centre", "the shear centre of the beam on the centre plane");
      c.left(l.beam_bush, "beam_bush");
      if (l.beam_shear_centre && std::abs((*l.beam_shear_centre)[1].si()) > 1e-3) {
        problems.push_back(input_problem("off_centre", "beam_shear_centre", "The beam's point lies on the car's centre plane.", "y = 0"));
      }
      break;
    case LinkageKind::solid_axle: {
      int stiff = l.watt ? 1 : 0, soft = 0;
      for (const Rod& r : l.rods) (r.is_soft ? soft : stiff) += 1;
      if (l.rods.empty() || stiff > 4 || stiff + soft < 4) {
        problems.push_back(input_problem("wrong_count", "rods",
            "A solid axle keeps two freedoms, so four rods hold it (a rocker linkage counts as one); it has " + std::to_string(stiff) +
            " stiff and " + std::to_string(soft) + " soft ones.", "four stiff rods, or fewer with the others marked soft",
            stiff > 4 ? "With four trailing links and a lateral rod mark the four links as soft: their rubber gives." : "Is a rod missing?"));
      }
      if (soft > 4) problems.push_back(input_problem("wrong_count", "rods", "At most four rods can be soft.", "4"));
      break;
    }
  }
  for (std::size_t i = 0; i < l.rods.size(); ++i) {
    const std::string key = "rods[" + std::to_string(i) + "]";
    c.finite(l.rods[i].body_end, key + ".body_end");
    c.finite(l.rods[i].wheel_end, key + ".wheel_end");
    c.apart(l.rods[i].body_end, l.rods[i].wheel_end, key.c_str(), "The rod's ends");
  }
  if (l.watt) {
    if (direction(l.watt->axis).norm() < 1e-6) problems.push_back(input_problem("no_direction", "watt.axis", "The rocker's axis has no direction.", "not all zero"));
    c.apart(l.watt->first.body_end, l.watt->first.wheel_end, "watt.first", "The rod's ends");
    c.apart(l.watt->second.body_end, l.watt->second.wheel_end, "watt.second", "The rod's ends");
    c.apart(l.watt->pivot, l.watt->first.wheel_end, "watt.pivot", "The rocker's pivot and end");
    c.apart(l.watt->pivot, l.watt->second.wheel_end, "watt.pivot", "The rocker's pivot and end");
  }
  for (const auto& [key, device] : {std::pair{"spring", &l.spring}, {"damper", &l.damper}}) {
    if (!*device) continue;
    check_carried((*device)->wheel_side, l, std::string(key) + ".wheel_side", problems);
    if ((*device)->wheel_side.on != Carrier::rod) c.apart((*device)->wheel_side.point, (*device)->body_side, key, "The device's ends");
  }
  if (l.bar) {
    check_carried(l.bar->pickup, l, "bar.pickup", problems);
    c.finite(l.bar->bushing, "bar.bushing");
    for (const auto& [key, d] : {std::pair{"bar.axis", l.bar->axis}, {"bar.pickup_bolt", l.bar->pickup_bolt}, {"bar.hole_bolt", l.bar->hole_bolt}}) {
      if (!(direction(d).norm() > 1e-6)) problems.push_back(input_problem("no_direction", key, "This direction has no length.", "not all zero"));
    }
    if (l.bar->holes.empty()) problems.push_back(input_problem("missing", "bar.holes", "The bar's arm has no hole.", "at least one"));
    const Vec3 axis = direction(l.bar->axis).normalized();
    for (std::size_t i = 0; i < l.bar->holes.size(); ++i) {
      const std::string key = "bar.holes[" + std::to_string(i) + "]";
      c.finite(l.bar->holes[i].point, key);
      if ((metres(l.bar->holes[i].point) - metres(l.bar->bushing)).cross(axis).norm() < 0.01) {
        problems.push_back(input_problem("no_lever", key, "This hole lies on the line about which the bar turns.", "at least 10 mm off it"));
      }
      if (l.bar->pickup.on != Carrier::rod && (metres(l.bar->holes[i].point) - metres(l.bar->pickup.point)).norm() < 0.005) {
        problems.push_back(input_problem("points_coincide", key, "Hole and pick-up lie in one place: there is no link.", "a link of at least 5 mm"));
      }
      const double y_hole = l.bar->holes[i].point[1].si();
      if (l.bar->pickup.on != Carrier::rod && y_hole * l.bar->pickup.point[1].si() < 0.0) {
        problems.push_back(input_problem("sides_swapped", key, "Hole and pick-up lie on different sides of the car.", "both left, y above 0",
                                         "Left and right seem swapped: turn the sign of y of one of them."));
      }
    }
  }
  return problems;
}

System side_system(const Linkage& l, bool is_left) {
  const auto at = [is_left](const Point& p) { return is_left ? metres(p) : mirrored(metres(p)); };
  System s;
  switch (l.kind) {
    case LinkageKind::double_wishbone:
      s.ties.emplace_back(rod_tie(at(*l.upper_inner_front), at(*l.upper_ball), false, "upper_front"));
      s.ties.emplace_back(rod_tie(at(*l.upper_inner_rear), at(*l.upper_ball), false, "upper_rear"));
      [[fallthrough]];
    case LinkageKind::strut:
      s.ties.emplace_back(rod_tie(at(*l.lower_inner_front), at(*l.lower_ball), false, "lower_front"));
      s.ties.emplace_back(rod_tie(at(*l.lower_inner_rear), at(*l.lower_ball), false, "lower_rear"));
      s.ties.emplace_back(rod_tie(at(*l.track_rod_inner), at(*l.track_rod_outer), true, "track_rod"));
      if (l.kind == LinkageKind::strut) {
        const Vec3 top = at(*l.strut_top), lower = at(*l.strut_lower);
        for (const Vec3& e : across(top - lower)) s.ties.emplace_back(SlideTie{0, top, lower, e});
      }
      break;
    case LinkageKind::five_link:
      for (const Rod& r : l.rods) s.ties.emplace_back(rod_tie(at(r.body_end), at(r.wheel_end), r.moves_with_rack, r.name));
      break;
    case LinkageKind::semi_trailing_arm: {
      const Vec3 a = at(*l.arm_pivot_inner), b = at(*l.arm_pivot_outer);
      for (const Vec3& e : car_axes()) s.ties.emplace_back(PointTie{0, -1, a, a, e});
      for (const Vec3& e : across(b - a)) s.ties.emplace_back(PointTie{0, -1, b, b, e});
      break;
    }
    default:
      ROLLWRIGHT_ASSERT(false);
  }
  const Vec3 axle = axle_direction(l.wheel);
  s.wheels.push_back({0, at(l.wheel.centre), is_left ? axle : mirrored(axle), wheel_radius(l.wheel), is_left});
  return s;
}

System joint_system(const Linkage& l) {
  System s;
  const Vec3 axle = axle_direction(l.wheel), centre = metres(l.wheel.centre);
  const double radius = wheel_radius(l.wheel);
  if (l.kind == LinkageKind::twist_beam) {
    s.bodies = 2;
    const Vec3 bush = metres(*l.beam_bush), shear = metres(*l.beam_shear_centre);
    for (int b = 0; b < 2; ++b) {
      const Vec3 at = b == 0 ? bush : mirrored(bush);
      s.ties.emplace_back(PointTie{b, -1, at, at, Vec3::UnitX()});
      s.ties.emplace_back(PointTie{b, -1, at, at, Vec3::UnitZ()});
    }
    s.ties.emplace_back(SharedTie{0, 1, bush, mirrored(bush), Vec3::UnitY()});
    for (const Vec3& e : car_axes()) s.ties.emplace_back(PointTie{0, 1, shear, shear, e});
    // A second point of the shared line, one metre along it, so that lengths and angles weigh alike.
    const Vec3 second = shear + Vec3::UnitY();
    s.ties.emplace_back(PointTie{0, 1, second, second, Vec3::UnitX()});
    s.ties.emplace_back(PointTie{0, 1, second, second, Vec3::UnitZ()});
    s.wheels = {{0, centre, axle, radius, true}, {1, mirrored(centre), mirrored(axle), radius, false}};
    return s;
  }
  for (const Rod& r : l.rods) {
    RodTie tie = rod_tie(metres(r.body_end), metres(r.wheel_end), r.moves_with_rack, r.name);
    if (r.is_soft) tie.soft = s.soft_count++;
    s.ties.emplace_back(tie);
  }
  if (l.watt) {
    s.has_rocker = true;
    s.rocker = {0, metres(l.watt->pivot), direction(l.watt->axis).normalized()};
    for (const Rod* r : {&l.watt->first, &l.watt->second}) {
      RodTie tie = rod_tie(metres(r->body_end), metres(r->wheel_end), false, r->name);
      tie.on_rocker = true;
      s.ties.emplace_back(tie);
    }
  }
  // Four stiff rods leave two freedoms; none needs to give then.
  s.wheels = {{0, centre, axle, radius, true}, {0, mirrored(centre), mirrored(axle), radius, false}};
  return s;
}

}  // namespace rollwright::kinematics
