#include "ops/fit_travel.h"

#include <algorithm>
#include <cmath>

#include "fitup/travel.h"
#include "fitup/way_up.h"
#include "ops/shared/fit_common.h"

namespace rollwright::ops {

namespace unit = base::unit;

void FitObstacle::describe(base::RecordType<FitObstacle>& r) {
  r.about("Something that link or arm could meet, left side, at ride height. Cylinders have flat ends: a shaft boot, a tyre.");
  r.field<&FitObstacle::name>("name", "Name.").required();
  r.field<&FitObstacle::shape>("shape", "box, cylinder or plane.");
  r.field<&FitObstacle::on>("on", "What it is fixed to and moves with: body, wheel_carrier (tyre, upright) or lower_arm.");
  r.field<&FitObstacle::from>("from", unit::mm, "Box: one corner. Cylinder: one end of its axis.");
  r.field<&FitObstacle::to>("to", unit::mm, "Box: the opposite corner. Cylinder: the other end.");
  r.field<&FitObstacle::diameter>("diameter", unit::mm, "Cylinder: diameter.").between(0, 1500);
  r.field<&FitObstacle::through>("through", unit::mm, "Plane: a point of it.");
  r.field<&FitObstacle::towards_bar>("towards_bar", "Plane: direction of its free side.");
  r.field<&FitObstacle::wanted_gap>("wanted_gap", unit::mm, "Gap that must stay; 10 mm is common practice, more near a tyre or a boot.").between(0, 200);
}

void FitTravelRequest::describe(base::RecordType<FitTravelRequest>& r) {
  r.about("The suspension with its bar, the links as set, how far the wheels go, and what is in the way.");
  r.field<&FitTravelRequest::linkage>("linkage", "The suspension and the bar's arm.");
  r.field<&FitTravelRequest::left_hole>("left_hole", "Hole used on the left; the first when not named.");
  r.field<&FitTravelRequest::right_hole>("right_hole", "Hole used on the right.");
  r.field<&FitTravelRequest::left_length>("left_length", unit::mm, "Left link, joint centre to joint centre; as drawn when not given.").between(20, 900);
  r.field<&FitTravelRequest::right_length>("right_length", unit::mm, "Right link.").between(20, 900);
  r.field<&FitTravelRequest::droop>("droop", unit::mm, "How far a hung wheel drops.").between(0, 300);
  r.field<&FitTravelRequest::bump>("bump", unit::mm, "How far a wheel rises to its stop.").between(0, 300);
  r.field<&FitTravelRequest::rack>("rack", unit::mm, "Rack travel from centre to lock; 0 without steering.").between(0, 150);
  r.field<&FitTravelRequest::link_diameter>("link_diameter", unit::mm, "Thickness of the link.").between(0, 80);
  r.field<&FitTravelRequest::arm_diameter>("arm_diameter", unit::mm, "Thickness of the bar's arm.").between(0, 80);
  r.field<&FitTravelRequest::pickup_tilt_rating>("pickup_tilt_rating", unit::deg, "Tilt that the joint at the suspension allows to either side.").between(1, 60);
  r.field<&FitTravelRequest::hole_tilt_rating>("hole_tilt_rating", unit::deg, "Tilt that the joint at the bar allows.").between(1, 60);
  r.field<&FitTravelRequest::arm_line>("arm_line", unit::mm, "Places along the left arm between bushing and hole, for clearance and for which way up an angled bar goes.");
  r.field<&FitTravelRequest::obstacles>("obstacles", "What could be in the way.");
}

void FitTravelAt::describe(base::RecordType<FitTravelAt>& r) {
  r.about("The worst of an angle over all scenes.");
  r.field<&FitTravelAt::what>("what", "What.");
  r.field<&FitTravelAt::value>("value", unit::deg, "Its worst.");
  r.field<&FitTravelAt::allowed>("allowed", unit::deg, "Allowed.");
  r.field<&FitTravelAt::link>("link", "Which link.");
  r.field<&FitTravelAt::where>("where", "Where it happens.");
  r.field<&FitTravelAt::is_good>("is_good", "True when it is allowed.");
}

void FitGap::describe(base::RecordType<FitGap>& r) {
  r.about("The least gap to an obstacle over all scenes.");
  r.field<&FitGap::obstacle>("obstacle", "The obstacle.");
  r.field<&FitGap::part>("part", "link or bar arm.");
  r.field<&FitGap::gap>("gap", unit::mm, "Least gap; below 0 they meet.");
  r.field<&FitGap::wanted>("wanted", unit::mm, "Wanted.");
  r.field<&FitGap::at>("at", unit::mm, "Place on the part then.");
  r.field<&FitGap::side>("side", "Side.");
  r.field<&FitGap::where>("where", "Where it happens.");
  r.field<&FitGap::is_good>("is_good", "True when the gap is kept.");
}

void FitTravelCurve::describe(base::RecordType<FitTravelCurve>& r) {
  r.about("The left wheel alone through its travel, rack at centre.");
  r.field<&FitTravelCurve::travel>("travel", unit::mm, "Wheel up.");
  r.field<&FitTravelCurve::camber>("camber", unit::deg, "Top outward positive.");
  r.field<&FitTravelCurve::toe_in>("toe_in", unit::deg, "Front inward positive.");
  r.field<&FitTravelCurve::half_track_change>("half_track_change", unit::mm, "Contact point outward.");
  r.field<&FitTravelCurve::roll_centre>("roll_centre", unit::mm, "Height at which this wheel's line of side force cuts the centre plane; of the axle for solid axles.");
  r.field<&FitTravelCurve::arm_angle>("arm_angle", unit::deg, "Bar arm from drawn, hole rising positive.");
  r.field<&FitTravelCurve::link_arm_angle>("link_arm_angle", unit::deg, "Link against arm; 90 is best.");
  r.field<&FitTravelCurve::pickup_tilt>("pickup_tilt", unit::deg, "Tilt of the joint at the suspension.");
  r.field<&FitTravelCurve::hole_tilt>("hole_tilt", unit::deg, "Tilt of the joint at the bar.");
  r.field<&FitTravelCurve::hole_ratio>("hole_ratio", unit::one, "Arc of the hole per wheel travel: the bar's ratio.");
  r.field<&FitTravelCurve::link_axial_ratio>("link_axial_ratio", unit::one, "Pick-up speed along the link per wheel travel; negative: the link pulls in bump.");
  r.field<&FitTravelCurve::pickup_ratio>("pickup_ratio", unit::one, "Rise of the pick-up per wheel travel.");
  r.field<&FitTravelCurve::spring_ratio>("spring_ratio", unit::one, "Spring travel per wheel travel.");
  r.field<&FitTravelCurve::damper_ratio>("damper_ratio", unit::one, "Damper travel per wheel travel.");
}

void FitTravelResult::describe(base::RecordType<FitTravelResult>& r) {
  r.field<&FitTravelResult::meaning>("meaning", "What it means, in a sentence or two.");
  r.field<&FitTravelResult::is_safe>("is_safe", "True when nothing found speaks against driving.");
  r.field<&FitTravelResult::worst>("worst", "The worst angles.");
  r.field<&FitTravelResult::gaps>("gaps", "The least gaps.");
  r.field<&FitTravelResult::locks_at_one_wheel>("locks_at_one_wheel", unit::mm, "Droop of one wheel at which arm and link come into line and the bar locks.");
  r.field<&FitTravelResult::locks_at_both_wheels>("locks_at_both_wheels", unit::mm, "The same with both wheels hanging.");
  r.field<&FitTravelResult::jacking>("jacking", "What to write on the sheet about lifting.");
  r.field<&FitTravelResult::way_up>("way_up", "Which way up an angled bar goes.");
  r.field<&FitTravelResult::twist_at_full_lock>("twist_at_full_lock", unit::deg, "Twist of the bar from steering alone, at full lock on level ground.");
  r.field<&FitTravelResult::curve>("curve", "Through the travel.").detail();
  r.field<&FitTravelResult::scenes>("scenes", "Poses looked at.");
}

namespace {

kinematics::Vec3 place(const Point& p) { return kinematics::metres(p); }

std::optional<fitup::Obstacle> obstacle(const FitObstacle& o, const std::string& where, const kinematics::Linkage& linkage, base::Problems& problems) {
  fitup::Obstacle out;
  out.name = o.name;
  out.wanted_gap = o.wanted_gap.si();
  out.fixed_to = o.on == ObstacleOn::body ? fitup::FixedTo::body : o.on == ObstacleOn::wheel_carrier ? fitup::FixedTo::wheel_carrier : fitup::FixedTo::lower_arm;
  const auto problem = [&](const std::string& message, const std::string& allowed) {
    problems.push_back(base::input_problem("bad_obstacle", where, message, allowed));
    return std::nullopt;
  };
  if (out.fixed_to == fitup::FixedTo::lower_arm && linkage.kind != kinematics::LinkageKind::double_wishbone && linkage.kind != kinematics::LinkageKind::strut) {
    return problem("This suspension has no lower arm.", "body or wheel_carrier");
  }
  if (o.shape == ObstacleShape::plane) {
    if (!o.through || kinematics::direction(o.towards_bar).norm() < 1e-9) return problem("A plane needs a point and a direction.", "through_mm and towards_bar");
    out.shape = fitup::HalfSpace{place(*o.through), kinematics::direction(o.towards_bar)};
    return out;
  }
  if (!o.from || !o.to) return problem(o.shape == ObstacleShape::box ? "A box needs two opposite corners." : "A cylinder needs the ends of its axis.", "from_mm and to_mm");
  const kinematics::Vec3 a = place(*o.from), b = place(*o.to);
  if (o.shape == ObstacleShape::box) {
    out.shape = fitup::Box{a.cwiseMin(b), a.cwiseMax(b)};
  } else {
    if ((a - b).norm() < 1e-4 || o.diameter.si() <= 0.0) return problem("A cylinder needs a length and a diameter.", "ends apart, diameter_mm above 0");
    out.shape = fitup::RoundSolid{a, b, 0.5 * o.diameter.si()};
  }
  return out;
}

}  // namespace

base::Outcome<base::Answer<FitTravelResult>> fit_travel(const FitTravelRequest& q, Context&) {
  auto model = bar_linkage(q.linkage);
  if (!model) return base::fail(std::move(model.error()));
  base::Problems problems;
  fitup::LinkSetup setup;
  setup.left_hole = q.left_hole;
  setup.right_hole = q.right_hole;
  if (auto p = settle_hole(*model, setup.left_hole, "left_hole")) problems.push_back(*p);
  if (setup.right_hole.empty()) setup.right_hole = setup.left_hole;
  if (auto p = settle_hole(*model, setup.right_hole, "right_hole")) problems.push_back(*p);
  std::vector<fitup::Obstacle> obstacles;
  for (std::size_t i = 0; i < q.obstacles.size(); ++i) {
    if (auto o = obstacle(q.obstacles[i], "obstacles[" + std::to_string(i) + "]", model->linkage(), problems)) obstacles.push_back(*o);
  }
  if (q.droop.si() + q.bump.si() < 0.001) problems.push_back(base::input_problem("no_travel", "droop_mm", "Without travel there is nothing to check.", "droop and bump above 0"));
  if (!problems.empty()) return base::fail(std::move(problems));
  setup.left_length = q.left_length ? q.left_length->si() : kinematics::drawn_link_length(*model, setup.left_hole);
  setup.right_length = q.right_length ? q.right_length->si() : kinematics::drawn_link_length(*model, setup.right_hole);
  setup.link_radius = 0.5 * q.link_diameter.si();
  setup.arm_radius = 0.5 * q.arm_diameter.si();
  for (const Point& p : q.arm_line) setup.arm_line.push_back(place(p));
  setup.pickup_tilt_allowed = q.pickup_tilt_rating ? q.pickup_tilt_rating->si() : 0.0;
  setup.hole_tilt_allowed = q.hole_tilt_rating ? q.hole_tilt_rating->si() : 0.0;
  fitup::TravelRange range{-q.droop.si(), q.bump.si(), q.rack.si(), 0.005};
  auto found = fitup::check_travel(*model, setup, range, obstacles);
  if (!found) return base::fail(std::move(found.error()));

  base::Answer<FitTravelResult> answer;
  FitTravelResult& r = answer.result;
  r.scenes = found->scenes;
  const double allowed_margin = 30.0 * unit::kDegree;  // common practice, no source
  const auto side = [](bool is_left) { return std::string(is_left ? "left" : "right"); };
  bool reaches = true;
  if (found->over_centre.value < 1e8) {
    const auto& w = found->over_centre;
    r.worst.push_back({"link and arm off one line (over-centre margin)", base::Angle(w.value), base::Angle(allowed_margin), side(w.is_left), w.scene, w.value >= allowed_margin});
    const auto tilt = [&](const char* what, const fitup::Worst& t, const std::optional<base::Angle>& rating) {
      FitTravelAt at{what, base::Angle(std::abs(t.value)), rating, side(t.is_left), t.scene, !rating || std::abs(t.value) <= rating->si()};
      r.worst.push_back(at);
    };
    tilt("tilt of the joint at the suspension", found->pickup_tilt, q.pickup_tilt_rating);
    tilt("tilt of the joint at the bar", found->hole_tilt, q.hole_tilt_rating);
    r.worst.push_back({"bar arm up from drawn", base::Angle(found->arm_up.value), {}, side(found->arm_up.is_left), found->arm_up.scene, true});
    r.worst.push_back({"bar arm down from drawn", base::Angle(found->arm_down.value), {}, side(found->arm_down.is_left), found->arm_down.scene, true});
  }
  std::vector<std::string> bad;
  for (const auto& w : found->locks) {
    reaches = false;
    answer.warn("link_in_line", sentence("The %s link cannot reach with %s: arm and link would pass one line and the bar locks or snaps over. Do not drive; use a hole nearer the arm's end, "
                                         "another link length, or limit the droop.", w.is_left ? "left" : "right", w.scene.c_str()), w.is_left ? "left_length_mm" : "right_length_mm");
    if (bad.size() < 3) bad.push_back("a link passes in line with " + w.scene);
  }
  for (const auto& w : r.worst) {
    if (w.is_good) continue;
    answer.warn(w.what[0] == 'l' ? "over_centre" : "joint_tilt", sentence("%c%s: %.1f deg, %.1f deg allowed, with %s.", std::toupper(w.what[0]), w.what.c_str() + 1, w.value.si() / unit::kDegree,
                                                                         w.allowed->si() / unit::kDegree, w.where.c_str()), "worst");
    bad.push_back(w.what);
  }
  for (const auto& g : found->gaps) {
    if (g.gap > 1e8) continue;
    FitGap gap{g.obstacle, g.part, base::Length(g.gap), base::Length(g.wanted), {}, side(g.where.is_left), g.where.scene, g.gap >= g.wanted};
    for (int i = 0; i < 3; ++i) gap.at[static_cast<std::size_t>(i)] = base::Length(g.point[i]);
    if (!gap.is_good) {
      answer.warn(g.gap < 0.0 ? "contact" : "small_gap", sentence("%s: %s %s, %.0f mm wanted, %s side, with %s.", g.obstacle.c_str(), g.part.c_str(),
                                                                  g.gap < 0.0 ? "would meet it" : sentence("comes within %.0f mm", 1e3 * g.gap).c_str(), 1e3 * g.wanted, side(g.where.is_left).c_str(),
                                                                  g.where.scene.c_str()), "gaps");
      bad.push_back(g.part + " near " + g.obstacle);
    }
    r.gaps.push_back(gap);
  }
  if (found->lock_droop_one < 0.0) r.locks_at_one_wheel = base::Length(-found->lock_droop_one);
  if (found->lock_droop_both < 0.0) r.locks_at_both_wheels = base::Length(-found->lock_droop_both);
  double lock = std::max(found->lock_droop_one < 0.0 ? -found->lock_droop_one : 0.0, 0.0);
  if (found->lock_droop_both < 0.0) lock = lock > 0.0 ? std::min(lock, -found->lock_droop_both) : -found->lock_droop_both;
  if (lock > 0.0 && lock < 1.25 * q.droop.si()) {
    r.jacking = sentence("Never let a wheel of this axle hang more than %.0f mm: the bar locks at %.0f mm. Undo one link before lifting with the wheels hanging, or fit droop limiters.", 1e3 * std::max(0.0, lock - 0.015), 1e3 * lock);
  } else {
    r.jacking = "Links may stay on when the axle is lifted; lift both wheels alike when undoing them.";
  }
  if (q.rack.si() > 0.0) {
    const auto twist = [&](double rack) -> std::optional<double> {
      const auto pose = model->pose({0, 0, 0, rack});
      if (!pose) return std::nullopt;
      const auto l = kinematics::bar_link(*model, *pose, setup.left_hole, setup.left_length, true), right = kinematics::bar_link(*model, *pose, setup.right_hole, setup.right_length, false);
      if (!l || !right) return std::nullopt;
      return l->arm_angle - right->arm_angle;
    };
    const auto at_lock = twist(q.rack.si()), straight = twist(0.0);
    if (at_lock && straight) r.twist_at_full_lock = base::Angle(std::abs(*at_lock - *straight));
  }
  if (fitup::asymmetry(model->linkage(), setup) > 0.002) {
    auto ways = fitup::compare_ways_up(model->linkage(), setup, range, obstacles);
    if (ways) {
      r.way_up = ways->makes_a_difference ? std::string(ways->drawn_is_better ? "As drawn. " : "Turned over. ") + ways->reason : "Either way up: " + ways->reason;
      if (!ways->drawn_is_better) answer.warn("turn_bar_over", "The bar fits better turned over. " + ways->reason, "arm_line_mm");
    }
  } else {
    r.way_up = "Either: arm and joints lie in one plane with the bar's line.";
  }
  kinematics::AxlePose last;
  bool has_last = false;
  for (double z = -q.droop.si(); z <= q.bump.si() + 1e-9; z += 0.005) {
    const auto pose = model->pose({z, 0, 0, 0}, has_last ? &last : nullptr);
    if (!pose) continue;
    last = *pose;
    has_last = true;
    const auto link = kinematics::bar_link(*model, *pose, setup.left_hole, setup.left_length, true);
    if (!link) continue;
    const auto s = model->state(*pose);
    FitTravelCurve c;
    c.travel = base::Length(z);
    c.camber = base::Angle(s.left.camber);
    c.toe_in = base::Angle(s.left.toe_in);
    c.half_track_change = base::Length(s.left.half_track_change);
    c.roll_centre = base::Length(model->is_joint() ? s.roll_centre.height : s.left.one_wheel_roll_centre);
    c.arm_angle = base::Angle(link->arm_angle);
    c.link_arm_angle = base::Angle(link->link_arm_angle);
    c.pickup_tilt = base::Angle(link->pickup_joint_tilt);
    c.hole_tilt = base::Angle(link->bar_joint_tilt);
    c.hole_ratio = link->hole_travel_ratio;
    c.link_axial_ratio = link->link_axial_ratio;
    c.pickup_ratio = link->pickup_vertical_ratio;
    if (s.left.spring) c.spring_ratio = s.left.spring->ratio;
    if (s.left.damper) c.damper_ratio = s.left.damper->ratio;
    r.curve.push_back(c);
  }
  r.is_safe = bad.empty() && reaches;
  std::string list;
  for (const auto& b : bad) list += (list.empty() ? "" : "; ") + b;
  r.meaning = r.is_safe ? sentence("Through %.0f mm droop, %.0f mm bump%s nothing binds or meets: least margin %.0f deg from one line.", 1e3 * q.droop.si(), 1e3 * q.bump.si(), q.rack.si() > 0.0 ? " and both locks" : "",
                                   found->over_centre.value / unit::kDegree)
                        : "Do not drive like this: " + list + ".";
  if (!q.pickup_tilt_rating || !q.hole_tilt_rating) answer.assume("Joints without a stated rating are not judged: read the maker's tilt, or move the joint by hand to its stop and measure.");
  answer.assume("Rigid parts without bushing give; poses every 5 mm: both wheels, each alone, one up and one down, at centre and at both locks. Check by hand through the whole travel, spring out, before driving.");
  answer.assume("30 deg from one line is the least margin taken as safe (common practice, no source).");
  return answer;
}

Operation fit_travel_operation() {
  return operation<&fit_travel>("fit", "travel", "Do links, joints and arms stay free through all the suspension can do?")
      .helped("Takes a linkage sheet, the links as set, travel to droop and bump stops, rack travel, joint tilt ratings and measured obstacles. Answers the worst angle of each kind and the "
              "least gap to each obstacle with the scene where it happens, the lifting restriction, and which way up an angled bar goes.")
      .shown_by("fit travel linkages/wren-rear.json --droop-mm 70 --bump-mm 60 --hole-tilt-rating-deg 13");
}

}  // namespace rollwright::ops
