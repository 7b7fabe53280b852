#include "ops/car_typical.h"

#include <algorithm>
#include <array>
#include <optional>

#include "kinematics/typical_linkage.h"
#include "ops/shared/typical_car.h"

namespace rollwright::ops {

namespace unit = base::unit;

void CarTypicalRequest::describe(base::RecordType<CarTypicalRequest>& r) {
  r.field<&CarTypicalRequest::car>("car", "A car sheet to fill; without one, an empty one of the class.");
  r.field<&CarTypicalRequest::car_class>("class", "Class to use when no car sheet is given.");
}

void CarTypicalResult::describe(base::RecordType<CarTypicalResult>& r) {
  r.field<&CarTypicalResult::meaning>("meaning", "What it means, in a sentence.");
  r.field<&CarTypicalResult::filled_in>("filled_in", "Numbers that were put in.");
  r.field<&CarTypicalResult::car>("car", "The whole car sheet.");
  r.field<&CarTypicalResult::linkages>("linkages", "What a linkage of the kind that such a car usually has does, from invented points of that kind at this car's size; ranges are the trade's.");
}

void TypicalLinkage::describe(base::RecordType<TypicalLinkage>& r) {
  r.about("A typical linkage of one axle, both ways of looking at it: what its points give, and how far cars of the kind differ.");
  r.field<&TypicalLinkage::axle>("axle", "Front or rear.");
  r.field<&TypicalLinkage::kind>("kind", "The kind taken for this class.");
  r.field<&TypicalLinkage::roll_centre_height>("roll_centre_height", unit::mm, "Height of the roll centre above the road.");
  r.field<&TypicalLinkage::camber_loss>("camber_loss", unit::one, "Lean of the wheels against the road per body roll.");
  r.field<&TypicalLinkage::spring_motion_ratio>("spring_motion_ratio", unit::one, "Spring travel per wheel travel.");
  r.field<&TypicalLinkage::bar_motion_ratio>("bar_motion_ratio", unit::one, "Travel of the bar's link per wheel travel, in roll.");
  r.field<&TypicalLinkage::damper_motion_ratio>("damper_motion_ratio", unit::one, "Damper travel per wheel travel.");
  r.field<&TypicalLinkage::roll_steer>("roll_steer", unit::one, "Steer to the left per roll, degrees per degree, by the links alone.");
}

namespace {

using kinematics::TypicalKind;

// Usual kinds by class: common practice, no source. What the sheet says of the suspension goes before.
TypicalKind kind_of(const CarSheet& car, bool front) {
  const auto& axle = front ? car.front : car.rear;
  if (axle.suspension == SuspensionKind::twist_beam) return TypicalKind::twist_beam;
  if (axle.suspension == SuspensionKind::solid_axle) return TypicalKind::panhard_axle;
  switch (car.car_class) {
    case CarClass::small_sports:
    case CarClass::light_kit: return TypicalKind::double_wishbone;
    case CarClass::suv_or_pickup: return front ? TypicalKind::double_wishbone : TypicalKind::five_link;
    case CarClass::van:
    case CarClass::rear_drive_saloon: return front ? TypicalKind::strut : TypicalKind::semi_trailing_arm;
    default: return front ? TypicalKind::strut : TypicalKind::five_link;
  }
}

struct KindRow {
  const char* name;
  std::array<double, 2> rc_mm, camber, spring, link;
};

// [TradeValues: rc.*, camber.roll_loss.*, mr.spring.*, mr.link.*]; rows that the trade has not (camber of trailing arms and twist
// beams, springs of both) are common practice, no source.
KindRow row_of(TypicalKind kind) {
  switch (kind) {
    case TypicalKind::strut: return {"strut, link on the strut", {-20, 120}, {0.7, 1.0}, {0.95, 1.0}, {0.85, 1.0}};
    case TypicalKind::double_wishbone: return {"double wishbone, spring and link on the lower arm", {-20, 120}, {0.3, 0.75}, {0.55, 0.85}, {0.45, 0.85}};
    case TypicalKind::five_link: return {"five links, spring on a lower one", {20, 160}, {0.3, 0.85}, {0.55, 0.95}, {0.4, 0.95}};
    case TypicalKind::semi_trailing_arm: return {"semi-trailing arm", {20, 160}, {0.4, 1.0}, {0.55, 0.95}, {0.4, 0.95}};
    case TypicalKind::twist_beam: return {"twist beam", {80, 220}, {0.1, 0.7}, {0.5, 0.95}, {0.2, 0.95}};
    case TypicalKind::panhard_axle: return {"solid axle with a Panhard rod", {180, 400}, {0.0, 0.05}, {0.95, 1.05}, {0.55, 0.95}};
    case TypicalKind::watt_axle: return {"solid axle with a Watt linkage", {180, 400}, {0.0, 0.05}, {0.95, 1.05}, {0.55, 0.95}};
  }
  return {};
}

// The value of the points, in the range of the trade; the range is widened where the points lie outside it.
template <class Q>
base::Interval<Q> between(double value, const std::array<double, 2>& range, double size = 1.0) {
  return {Q(value), Q(std::min(value, range[0] * size)), Q(std::max(value, range[1] * size))};
}

std::optional<TypicalLinkage> typical_linkage_of(const CarSheet& car, bool front) {
  const auto kind = kind_of(car, front);
  const auto& axle = front ? car.front : car.rear;
  const auto model = kinematics::AxleModel::compile(kinematics::typical_linkage(kind, axle.track->value, axle.unsprung_cg_height->value));
  if (!model) return std::nullopt;
  const auto f = kinematics::figures_at_rest(*model);
  const KindRow row = row_of(kind);
  TypicalLinkage t;
  t.axle = front ? "front" : "rear";
  t.kind = row.name;
  t.roll_centre_height = between<base::Length>(f.roll_centre_height.si(), row.rc_mm, 1e-3);
  t.camber_loss = between<base::Ratio>(f.camber_loss.si(), row.camber);
  t.spring_motion_ratio = between<base::Ratio>(f.spring_ratio->si(), row.spring);
  t.bar_motion_ratio = between<base::Ratio>(f.link_ratio_in_roll->si(), row.link);
  t.damper_motion_ratio = *f.damper_ratio;
  t.roll_steer = f.roll_steer;
  return t;
}

}  // namespace

base::Outcome<base::Answer<CarTypicalResult>> car_typical(const CarTypicalRequest& request, Context&) {
  CarSheet sheet;
  sheet.name = "typical car";
  sheet.car_class = request.car_class;
  if (request.car) sheet = *request.car;
  auto completed = complete(sheet);
  base::Answer<CarTypicalResult> answer;
  answer.result.meaning = std::to_string(completed.filled.size()) + " numbers are typical of the class, with their ranges. Replace them one by one as you measure; 'car next' says where to begin.";
  answer.result.filled_in = std::move(completed.filled);
  answer.result.car = std::move(completed.sheet);
  for (const bool front : {true, false}) {
    if (auto t = typical_linkage_of(answer.result.car, front)) answer.result.linkages.push_back(std::move(*t));
  }
  answer.assume("The linkages' points are invented, one for each kind; measured points ('fit travel') or a tape ('car ratio') go before them.");
  answer.assume("Class values are recollections of the trade, read as 95 % intervals; inertias follow from the mass as on measured cars.");
  answer.cite("TradeValues");
  answer.cite("Heydinger 1999");
  return answer;
}

Operation car_typical_operation() {
  return operation<&car_typical>("car", "typical", "What is typical for a car like mine?")
      .helped("Fills every number that a car sheet leaves out with a typical value of its class and an honest range. Numbers that say something "
              "about others are used: a heavy car gets a heavy car's inertias and springs.")
      .shown_by("car typical bittern.json --json");
}

}  // namespace rollwright::ops
