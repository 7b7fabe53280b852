// Laws and closed forms for each kind of linkage, and what is refused. All hard points here are invented.
#include "kinematics/axle.h"

#include <gtest/gtest.h>

#include "base/random.h"
#include "kinematics/bar_link.h"
#include "kinematics/case_files_for_tests.h"

namespace rollwright::kinematics::testing {
namespace {

Linkage double_wishbone() { return linkage_from(read_case("double-wishbone")["inputs"]); }
Linkage strut() { return linkage_from(read_case("strut")["inputs"]); }

// The same double wishbone written as five rods.
Linkage as_five_links(const Linkage& w) {
  Linkage l;
  l.kind = LinkageKind::five_link;
  l.wheel = w.wheel;
  l.rods = {{"a", *w.lower_inner_front, *w.lower_ball, false, false},
            {"b", *w.lower_inner_rear, *w.lower_ball, false, false},
            {"c", *w.upper_inner_front, *w.upper_ball, false, false},
            {"d", *w.upper_inner_rear, *w.upper_ball, false, false},
            {"e", *w.track_rod_inner, *w.track_rod_outer, false, true}};
  return l;
}

// Level, parallel arms whose balls move on circles of 300 mm in the plane square to the car; as five rods.
Linkage parallelogram() {
  Linkage l;
  l.kind = LinkageKind::five_link;
  l.wheel = {mm_point(0, 700, 300), unit::deg(0), unit::deg(0)};
  const auto rod = [](const char* name, double x_in, double x_out, double z) {
    return Rod{name, mm_point(x_in, 360, z), mm_point(x_out, 660, z), false, false};
  };
  l.rods = {rod("lower_front", 100, 0, 200), rod("lower_rear", -100, 0, 200), rod("upper_front", 80, 0, 420), rod("upper_rear", -80, 0, 420),
            rod("toe", -150, -150, 250)};
  return l;
}

Linkage trailing(const Point& inner, const Point& outer, double camber_deg = -1.0, double toe_deg = 0.2) {
  Linkage l;
  l.kind = LinkageKind::semi_trailing_arm;
  l.wheel = {mm_point(0, 700, 300), unit::deg(camber_deg), unit::deg(toe_deg)};
  l.arm_pivot_inner = inner;
  l.arm_pivot_outer = outer;
  return l;
}

Linkage twist_beam(double shear_x = 300, double shear_z = 330) {
  Linkage l;
  l.kind = LinkageKind::twist_beam;
  l.wheel = {mm_point(0, 720, 295), unit::deg(-1), unit::deg(0.1)};
  l.beam_bush = mm_point(420, 560, 300);
  l.beam_shear_centre = mm_point(shear_x, 0, shear_z);
  return l;
}

// Solid axle on level trailing rods with a Watt rocker on it, all symmetric.
Linkage watt_axle(double pivot_z = 290) {
  Linkage l;
  l.kind = LinkageKind::solid_axle;
  l.wheel = {mm_point(0, 705, 290), unit::deg(0), unit::deg(0)};
  l.rods = {{"lower_left", mm_point(500, 500, 240), mm_point(0, 500, 240), false, false},
            {"lower_right", mm_point(500, -500, 240), mm_point(0, -500, 240), false, false},
            {"upper", mm_point(400, 0, 420), mm_point(0, 0, 420), false, false}};
  WattRocker w;
  w.pivot = mm_point(-100, 0, pivot_z);
  w.first = {"watt_left", mm_point(-100, 500, pivot_z + 60), mm_point(-100, 0, pivot_z + 60), false, false};
  w.second = {"watt_right", mm_point(-100, -500, pivot_z - 60), mm_point(-100, 0, pivot_z - 60), false, false};
  l.watt = w;
  return l;
}

TEST(Axle, FiveRodsMoveLikeTheDoubleWishboneTheyDescribe) {
  const AxleModel wishbone = compiled(double_wishbone());
  const AxleModel rods = compiled(as_five_links(double_wishbone()));
  for (const RoadInput& road : {RoadInput{0.07, -0.07, 0.05, 0.03}, RoadInput{-0.06, 0.02, -0.03, -0.03}}) {
    const AxleState a = wishbone.state(posed(wishbone, road)), b = rods.state(posed(rods, road));
    // Both solve to round-off.
    EXPECT_LT((a.left.centre - b.left.centre).norm(), 1e-12);
    EXPECT_NEAR(a.right.camber, b.right.camber, 1e-12);
    EXPECT_NEAR(a.right.toe_in_rate, b.right.toe_in_rate, 1e-10);
  }
}

TEST(Axle, ParallelEqualArmsKeepTheWheelUprightOnACircle) {
  const AxleModel m = compiled(parallelogram());
  for (const double z : {-0.08, -0.03, 0.05, 0.1}) {
    const AxleState s = m.state(posed(m, {z, 0, 0, 0}));
    EXPECT_NEAR(s.left.camber, 0.0, 1e-12);
    EXPECT_NEAR(s.left.toe_in, 0.0, 1e-12);
    EXPECT_NEAR(s.left.centre.y(), 0.4 + std::sqrt(0.09 - z * z), 1e-12);
    EXPECT_NEAR(s.left.lateral_slope, -z / std::sqrt(0.09 - z * z), 1e-11);
  }
  EXPECT_NEAR(m.state(posed(m, {})).roll_centre.even_split_height, 0.0, 1e-12);
}

TEST(Axle, SemiTrailingArmTurnsTheWheelAboutItsLine) {
  const Vec3 inner(0.35, 0.15, 0.28), outer(0.45, 0.62, 0.31);
  const AxleModel m = compiled(trailing(mm_point(350, 150, 280), mm_point(450, 620, 310)));
  const Vec3 axis = (inner - outer).normalized(), W(0, 0.7, 0.3);
  const double camber = -kDeg, toe = 0.2 * kDeg;
  const Vec3 a0(std::sin(toe) * std::cos(camber), std::cos(toe) * std::cos(camber), -std::sin(camber));
  for (const double angle : {-0.15, -0.05, 0.08, 0.2}) {
    // Rodrigues' formula written out, not the code's own rotation.
    const auto turned = [&](const Vec3& v) -> Vec3 {
      return std::cos(angle) * v + std::sin(angle) * axis.cross(v) + (1 - std::cos(angle)) * axis.dot(v) * axis;
    };
    const Vec3 centre = inner + turned(W - inner), a = turned(a0);
    const double contact_z = centre.z() - m.wheel_radius() * std::sqrt(1 - a.z() * a.z());
    const AxleState s = m.state(posed(m, {contact_z, 0, 0, 0}));
    EXPECT_LT((s.left.centre - centre).norm(), 1e-11);
    EXPECT_NEAR(s.left.camber, std::asin(-a.z()), 1e-11);
    EXPECT_NEAR(s.left.toe_in, std::atan2(a.x(), a.y()), 1e-11);
  }
}

TEST(Axle, PureTrailingArmsHaveTheirRollCentreOnTheRoad) {
  const AxleModel m = compiled(trailing(mm_point(450, 300, 290), mm_point(450, 600, 290), 0.0, 0.0));
  const AxleState s = m.state(posed(m, {0.05, 0.05, 0, 0}));
  EXPECT_NEAR(s.roll_centre.even_split_height, 0.0, 1e-12);
  EXPECT_NEAR(s.left.half_track_change, 0.0, 1e-12);
}

TEST(Axle, TwistBeamInHeaveIsATrailingArm) {
  const AxleModel beam = compiled(twist_beam());
  Linkage arm = trailing(mm_point(420, 300, 300), mm_point(420, 560, 300));
  arm.wheel = twist_beam().wheel;
  const AxleModel trailing_arm = compiled(arm);
  for (const double z : {-0.08, 0.06}) {
    const AxleState a = beam.state(posed(beam, {z, z, 0, 0})), b = trailing_arm.state(posed(trailing_arm, {z, z, 0, 0}));
    EXPECT_LT((a.left.centre - b.left.centre).norm(), 1e-11);
    EXPECT_NEAR(a.right.camber, b.right.camber, 1e-11);
  }
}

TEST(Axle, TwistBeamInRollTurnsEachArmAboutBushAndShearCentre) {
  // To first order an antisymmetric twist leaves the shear centre on the centre plane at rest, so each half turns about
  // the line from its bush to it: a semi-trailing arm with those two pivots.
  const AxleModel beam = compiled(twist_beam());
  Linkage arm = trailing(mm_point(300, 0, 330), mm_point(420, 560, 300));
  arm.wheel = twist_beam().wheel;
  const AxleModel semi = compiled(arm);
  const AxleState s = semi.state(posed(semi, {}));
  constexpr double kStep = 1e-5;
  const AxleState up = beam.state(posed(beam, {kStep, -kStep, 0, 0})), down = beam.state(posed(beam, {-kStep, kStep, 0, 0}));
  // Central differences over 10 µm: error of the order of 1e-8 relative; rates are of order 1.
  EXPECT_NEAR((up.left.camber - down.left.camber) / (2 * kStep), s.left.camber_rate, 1e-5);
  EXPECT_NEAR((up.left.toe_in - down.left.toe_in) / (2 * kStep), s.left.toe_in_rate, 1e-5);
  EXPECT_NEAR(beam.state(posed(beam, {})).roll_centre.even_split_height, s.roll_centre.even_split_height, 1e-9);
}

TEST(Axle, TwistBeamBehindItsBushesRollSteersAndHasARaisedRollCentre) {
  const AxleState s = [] {
    const AxleModel m = compiled(twist_beam());
    return m.state(posed(m, {}));
  }();
  EXPECT_GT(s.roll_centre.even_split_height, 0.0);
}

TEST(Axle, WattRockerPutsTheRollCentreAtItsPivot) {
  for (const double z : {250.0, 290.0, 330.0}) {
    const AxleModel m = compiled(watt_axle(z));
    const AxleState s = m.state(posed(m, {}));
    EXPECT_NEAR(1e3 * s.roll_centre.height, z, 1e-7);
  }
}

TEST(Axle, WattRockerHoldsTheAxleInTheMiddleWhereAPanhardRodDoesNot) {
  const AxleModel watt = compiled(watt_axle());
  Linkage l = watt_axle();
  l.watt.reset();
  l.rods.push_back({"panhard", mm_point(-100, -500, 290), mm_point(-100, 500, 290), false, false});
  const AxleModel panhard = compiled(l);
  const double z = 0.06;
  const AxleState a = watt.state(posed(watt, {z, z, 0, 0})), b = panhard.state(posed(panhard, {z, z, 0, 0}));
  // Rod of 1 m: its end runs on a circle, 1 − √(1 − z²) sideways; the trailing rods also draw it 4 mm forward, which with
  // the 100 mm it lies behind the wheels moves the contacts by some hundredths of a millimetre more.
  EXPECT_NEAR(b.body_shift_left, 1.0 - std::sqrt(1.0 - z * z), 1e-4);
  // A Watt pivot leaves the line only with a higher power of travel; 0.1 mm at 60 mm here.
  EXPECT_LT(std::abs(a.body_shift_left), 1e-4);
}

TEST(Axle, MirroredInputsGiveMirroredAnswers) {
  for (const Linkage& l : {double_wishbone(), strut(), twist_beam()}) {
    const AxleModel m = compiled(l);
    const AxleState a = m.state(posed(m, {0.04, -0.03, 0.02, 0.01})), b = m.state(posed(m, {-0.03, 0.04, -0.02, -0.01}));
    EXPECT_NEAR(a.left.camber, b.right.camber, 1e-11);
    EXPECT_NEAR(a.right.toe_in, b.left.toe_in, 1e-11);
    EXPECT_NEAR(a.left.lateral_slope, -b.right.lateral_slope, 1e-10);
    EXPECT_NEAR(a.roll_centre.height, b.roll_centre.height, 1e-8);
  }
}

TEST(Axle, RatesAreTheDifferencesOfPoses) {
  for (const Linkage& l : {double_wishbone(), strut(), twist_beam(), watt_axle(), linkage_from(read_case("axle-panhard")["inputs"])}) {
    const AxleModel m = compiled(l);
    const RoadInput at{0.03, -0.02, 0.02, 0.0};
    constexpr double kStep = 1e-5;
    RoadInput up = at, down = at;
    up.left += kStep;
    down.left -= kStep;
    const AxleState s = m.state(posed(m, at)), a = m.state(posed(m, up)), b = m.state(posed(m, down));
    // Central differences: h² ~ 1e-10 times curvature, round-off 1e-15/1e-5.
    EXPECT_NEAR((a.left.camber - b.left.camber) / (2 * kStep), s.left.camber_rate, 1e-6);
    EXPECT_NEAR((a.left.toe_in - b.left.toe_in) / (2 * kStep), s.left.toe_in_rate, 1e-6);
    const Vec3 y = road_normal(at.roll).cross(Vec3::UnitX());
    EXPECT_NEAR((a.left.contact - b.left.contact).dot(y) / (2 * kStep), s.left.lateral_slope, 1e-7);
    EXPECT_NEAR((a.right.contact - b.right.contact).dot(y) / (2 * kStep), s.right.lateral_slope_to_other, 1e-7);
  }
}

TEST(Axle, RigidPartsKeepTheirLengthsThroughTravel) {
  const Linkage l = double_wishbone();
  const AxleModel m = compiled(l);
  const AxlePose p = posed(m, {0.07, -0.06, 0.04, 0.02});
  const Pose& upright = p.system[0].body[0];
  const auto length = [&](const Point& inner, const Point& outer, double rack) {
    return (upright.at(metres(outer)) - metres(inner) - Vec3(0, rack, 0)).norm() - (metres(outer) - metres(inner)).norm();
  };
  EXPECT_NEAR(length(*l.lower_inner_front, *l.lower_ball, 0), 0.0, 1e-13);
  EXPECT_NEAR(length(*l.upper_inner_rear, *l.upper_ball, 0), 0.0, 1e-13);
  EXPECT_NEAR(length(*l.track_rod_inner, *l.track_rod_outer, 0.02), 0.0, 1e-13);
}

TEST(Axle, PointOnARodStaysOnIt) {
  Linkage l = parallelogram();
  l.spring = Device{{Carrier::rod, {}, "lower_front", 0.6}, mm_point(40, 540, 600)};
  const AxleModel m = compiled(l);
  const double z = 0.05;
  const AxleState s = m.state(posed(m, {z, 0, 0, 0}));
  // The rod's outer end runs on a circle of 0.3 m square to the car; the point is 0.6 of the way to it, at x = 0.04.
  const double y = 0.36 + 0.6 * std::sqrt(0.09 - z * z), h = 0.2 + 0.6 * z;
  EXPECT_NEAR(s.left.spring->length, std::hypot(0.54 - y, 0.6 - h), 1e-12);
  const double dy = -0.6 * z / std::sqrt(0.09 - z * z), L = s.left.spring->length;
  EXPECT_NEAR(s.left.spring->ratio, ((0.6 - h) * 0.6 + (0.54 - y) * dy) / L, 1e-11);
}

TEST(Axle, LinkageThatLocksWithinTravelIsRefusedWithItsPlace) {
  Linkage l = parallelogram();
  const AxleModel m = compiled(l);
  const auto p = m.pose({0.31, 0, 0, 0});  // arms of 300 mm cannot rise by 310
  ASSERT_FALSE(p);
  EXPECT_EQ(p.error()[0].code, "linkage_locks");
  EXPECT_EQ(p.error()[0].kind, base::ProblemKind::no_answer);
  EXPECT_EQ(p.error()[0].where, "left");
  // Locks at 300 of 310 mm: 97 % of the way, rounded.
  EXPECT_NE(p.error()[0].message.find("after 97 %"), std::string::npos) << p.error()[0].message;
}

TEST(Axle, LinkageThatIsLooseOrLockedAtRestIsRefused) {
  Linkage l = parallelogram();
  l.rods[4] = l.rods[0];  // a rod given twice: the wheel can steer freely
  const auto m = AxleModel::compile(l);
  ASSERT_FALSE(m);
  EXPECT_EQ(m.error()[0].code, "cannot_assemble");
}

TEST(Axle, WhatIsMissingOrOnTheWrongSideIsNamedAllAtOnce) {
  Linkage l = double_wishbone();
  l.upper_ball.reset();
  l.lower_ball = mm_point(8, -680, 168);
  l.wheel.centre = mm_point(0, 715, -5);
  const auto m = AxleModel::compile(l);
  ASSERT_FALSE(m);
  std::string places;
  for (const auto& p : m.error()) places += p.where + " ";
  EXPECT_NE(places.find("upper_ball"), std::string::npos);
  EXPECT_NE(places.find("lower_ball"), std::string::npos);
  EXPECT_NE(places.find("wheel.centre"), std::string::npos);
}

TEST(Axle, FiveStiffRodsOnAnAxleAreRefusedWithTheRemedy) {
  Linkage l = linkage_from(read_case("axle-panhard")["inputs"]);
  for (Rod& r : l.rods) r.is_soft = false;
  const auto m = AxleModel::compile(l);
  ASSERT_FALSE(m);
  EXPECT_EQ(m.error()[0].code, "wrong_count");
  EXPECT_NE(m.error()[0].hint.find("soft"), std::string::npos);
}

TEST(Axle, SwappedSidesOfHoleAndPickupAreRecognised) {
  Linkage l = double_wishbone();
  for (BarHole& h : l.bar->holes) h.point[1] = -h.point[1];
  const auto m = AxleModel::compile(l);
  ASSERT_FALSE(m);
  EXPECT_EQ(m.error()[0].code, "sides_swapped");
}

TEST(Axle, WildPointsAreRefusedOrGiveFiniteNumbers) {
  base::Random random(20);
  int posed_count = 0, refused = 0;
  const Linkage starts[] = {double_wishbone(), strut(), twist_beam(), watt_axle(), linkage_from(read_case("axle-panhard")["inputs"])};
  for (int i = 0; i < 400; ++i) {
    Linkage l = starts[i % 5];
    const auto shake = [&](Point& p) {
      for (auto& c : p) c += base::Length(random.uniform(-0.15, 0.15));
    };
    for (auto* p : {&l.lower_inner_front, &l.lower_inner_rear, &l.lower_ball, &l.upper_inner_front, &l.upper_inner_rear, &l.upper_ball, &l.track_rod_inner, &l.track_rod_outer, &l.strut_top,
                    &l.strut_lower, &l.beam_bush}) {
      if (*p) shake(**p);
    }
    for (Rod& r : l.rods) shake(r.body_end), shake(r.wheel_end);
    const auto m = AxleModel::compile(l);
    if (!m) {
      ++refused;
      continue;
    }
    for (const double z : {-0.12, -0.05, 0.05, 0.12}) {
      const auto p = m->pose({z, -z, 0.5 * z, 0.02});
      if (!p) {
        ++refused;
        continue;
      }
      ++posed_count;
      const AxleState s = m->state(*p);
      for (const WheelState* w : {&s.left, &s.right}) {
        for (const double v : {w->camber, w->toe_in, w->camber_rate, w->lateral_slope, w->contact.y(), w->forward_slope}) ASSERT_TRUE(std::isfinite(v)) << i;
        EXPECT_NEAR(w->contact.dot(road_normal(0.5 * z)), w == &s.left ? z : -z, 1e-9) << i;
      }
      ASSERT_TRUE(std::isfinite(s.roll_centre.height));
    }
  }
  EXPECT_GT(posed_count, 200);
  EXPECT_GT(refused, 10);
}

TEST(BarLink, VirtualWorkJoinsWheelAndBar) {
  // The force the bar asks of the hole, square to the arm, does the same work as the wheel force it makes:
  // F_link·axial ratio = F_hole·hole ratio, with F_hole = F_link·cos of the angle between link and arc.
  for (const Linkage& l : {double_wishbone(), strut()}) {
    const AxleModel m = compiled(l);
    const AxlePose p = posed(m, {0.05, 0, 0, 0});
    for (const char* hole : {"1", "2", "3"}) {
      const auto s = bar_link(m, p, hole, drawn_link_length(m, hole), true);
      ASSERT_TRUE(s);
      const Vec3 link = (s->hole - s->pickup).normalized();
      const Vec3 lever = s->hole - s->bushing, arm(lever.x(), 0.0, lever.z());
      Vec3 arc = Vec3::UnitY().cross(arm).normalized();
      if (arc.z() < 0.0) arc = -arc;
      EXPECT_NEAR(s->link_axial_ratio, s->hole_travel_ratio * link.dot(arc), 1e-12);
    }
  }
}

TEST(BarLink, RodPickupWorksOnBothSides) {
  Linkage l = parallelogram();
  BarArm bar;
  bar.bushing = mm_point(300, 300, 330);
  bar.pickup = {Carrier::rod, {}, "lower_front", 0.7};
  bar.holes = {{"1", mm_point(100, 570, 320)}};
  l.bar = bar;
  const AxleModel m = compiled(l);
  const AxlePose p = posed(m, {0.04, 0.04, 0, 0});
  const auto left = bar_link(m, p, "1", drawn_link_length(m, "1"), true), right = bar_link(m, p, "1", drawn_link_length(m, "1"), false);
  ASSERT_TRUE(left && right);
  EXPECT_NEAR(left->arm_angle, right->arm_angle, 1e-12);
  EXPECT_NEAR(left->pickup_vertical_ratio, 0.7, 1e-12);
}

}  // namespace
}  // namespace rollwright::kinematics::testing
