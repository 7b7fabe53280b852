#include "ops/shared/typical_car.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "ops/shared/car_model.h"
#include "tyre/typical_tyres.h"
#include "vehicle/check.h"
#include "vehicle/steady.h"

namespace rollwright::ops {
namespace {

using base::Estimate;
using base::Origin;
namespace unit = base::unit;

struct Typical {
  double low, value, high;  // 95 % range around the usual value
};

struct ClassValues {
  Typical kerb_mass_kg, front_share_percent, wheelbase_mm, track_mm, cg_height_mm, ride_hz;
  bool is_light_truck;  // which inertia regression
};

// [TradeValues: mass.kerb.*, wf.*, wheelbase.*, track.*, cg.*]; ride frequencies: common practice, no source.
ClassValues values_of(CarClass c) {
  switch (c) {
    case CarClass::small_sports: return {{900, 1050, 1250}, {48, 51, 54}, {2200, 2300, 2600}, {1380, 1430, 1550}, {420, 460, 500}, {1.3, 1.5, 1.8}, false};
    case CarClass::front_drive_hatch: return {{950, 1250, 1500}, {58, 62, 66}, {2400, 2600, 2700}, {1420, 1520, 1600}, {500, 540, 580}, {1.1, 1.3, 1.6}, false};
    case CarClass::rear_drive_saloon: return {{1250, 1500, 1800}, {49, 52, 56}, {2500, 2750, 2950}, {1430, 1530, 1620}, {490, 530, 570}, {1.1, 1.3, 1.6}, false};
    case CarClass::all_wheel_saloon: return {{1350, 1500, 1750}, {55, 58, 61}, {2500, 2650, 2850}, {1470, 1530, 1600}, {490, 530, 570}, {1.2, 1.4, 1.7}, false};
    case CarClass::large_coupe: return {{1450, 1650, 1900}, {52, 54, 58}, {2550, 2720, 2950}, {1500, 1580, 1650}, {490, 530, 570}, {1.1, 1.3, 1.6}, false};
    case CarClass::suv_or_pickup: return {{1600, 2000, 2700}, {50, 55, 60}, {2600, 2850, 3600}, {1500, 1600, 1750}, {600, 670, 750}, {1.2, 1.4, 1.8}, true};
    case CarClass::van: return {{1700, 2300, 3500}, {48, 53, 60}, {2800, 3200, 4000}, {1550, 1680, 1800}, {650, 770, 950}, {1.2, 1.4, 1.8}, true};
    case CarClass::light_kit: return {{500, 650, 800}, {44, 48, 52}, {2200, 2350, 2500}, {1250, 1380, 1500}, {320, 380, 440}, {1.4, 1.8, 2.3}, false};
  }
  return {};
}

double spring_at_wheel(const AxleSheet& a) {
  if (a.spring_rate && a.spring_motion_ratio) return a.spring_rate->value.si() * std::pow(a.spring_motion_ratio->value.si(), 2);
  return a.wheel_rate->value.si();
}

class Completion {
 public:
  explicit Completion(const CarSheet& given) : done_{given, {}, {}}, values_(values_of(given.car_class)) {}

  CompletedCar run() {
    CarSheet& c = done_.sheet;
    constexpr double kDriver = 80;  // [TradeValues: mass.driver]
    const Typical kerb = values_.kerb_mass_kg;
    put(c.mass, "mass_kg", unit::kg, {kerb.low + kDriver, kerb.value + kDriver, kerb.high + kDriver});
    put(c.front_weight_share, "front_weight_share_percent", unit::percent, values_.front_share_percent);
    put(c.wheelbase, "wheelbase_mm", unit::mm, values_.wheelbase_mm);
    put(c.cg_height, "cg_height_mm", unit::mm, values_.cg_height_mm);
    tracks();
    unsprung(c.front, "front.");
    unsprung(c.rear, "rear.");
    inertias();
    axle(c.front, "front.", true);
    axle(c.rear, "rear.", false);
    like_the_front_tyres();
    measured_grip();
    return std::move(done_);
  }

 private:
  template <class Q>
  bool put(std::optional<Estimate<Q>>& place, const std::string& key, const base::UnitOf<Q>& unit, Typical t,
           Origin origin = Origin::typical) {
    if (place) return false;
    place = Estimate<Q>::from_pm(unit(t.value), unit(0.5 * (t.high - t.low)), origin);
    done_.filled.push_back(key);
    return true;
  }

  void tracks() {
    CarSheet& c = done_.sheet;
    constexpr double kApart = 20.0;  // tracks of one car differ by ±20 mm: common practice, no source
    if (c.rear.track && !c.front.track) {
      const double mm = unit::mm.of(c.rear.track->value), half = std::hypot(kApart, unit::mm.of(c.rear.track->pm()));
      put(c.front.track, "front.track_mm", unit::mm, {mm - half, mm, mm + half});
    }
    put(c.front.track, "front.track_mm", unit::mm, values_.track_mm);
    const double mm = unit::mm.of(c.front.track->value);
    done_.goes_along.rear_track = put(c.rear.track, "rear.track_mm", unit::mm, {mm - kApart, mm, mm + kApart});
  }

  void unsprung(AxleSheet& a, const std::string& at) {
    // [TradeValues: unsprung.corner 25-38-60 kg, growing with the car; a solid axle adds its beam]
    const double per_axle = 2 * 38 * std::sqrt(mass() / 1300) + (a.suspension == SuspensionKind::solid_axle ? 60 : 0);
    along(at).unsprung_mass = put(a.unsprung_mass, at + "unsprung_mass_kg", unit::kg, {0.7 * per_axle, per_axle, 1.4 * per_axle});
    put(a.unsprung_cg_height, at + "unsprung_cg_height_mm", unit::mm, {260, 300, 350});
  }

  // Regressions on measured cars [Heydinger 1999]: I = slope · mass + intercept ± 1.96 · residual, whole car about its CG. Outside
  // the masses of nine tenths of those cars a line says nothing (it would give a light car the inertia of its wheels
  // alone): there the radius of gyration at the nearest end, and its scatter, are kept.
  void inertias() {
    CarSheet& c = done_.sheet;
    const double m = mass();
    const double wheels_roll = 0.25 * (c.front.unsprung_mass->value.si() * std::pow(c.front.track->value.si(), 2) +
                                       c.rear.unsprung_mass->value.si() * std::pow(c.rear.track->value.si(), 2));
    const double share = c.front_weight_share->value.si(), length = c.wheelbase->value.si();
    const double wheels_pitch = c.front.unsprung_mass->value.si() * std::pow((1 - share) * length, 2) +
                                c.rear.unsprung_mass->value.si() * std::pow(share * length, 2);
    const bool truck = values_.is_light_truck;
    const double known = truck ? std::clamp(m, 1284.0, 2186.0) : std::clamp(m, 927.0, 1579.0);
    const auto fitted = [m, known](double slope, double intercept, double residual, double wheels) {
      const double scale = m / known, value = scale * (slope * known + intercept) - wheels, half = 1.96 * residual * scale;
      return Typical{value - half, value, value + half};
    };
    auto& goes = done_.goes_along;
    goes.roll_inertia = put(c.roll_inertia, "roll_inertia_kg_m2", unit::kg_m2,
                            truck ? fitted(0.608796, -355.53, 115.6, wheels_roll) : fitted(0.496719, -181.44, 51.9, wheels_roll));
    goes.pitch_inertia = put(c.pitch_inertia, "pitch_inertia_kg_m2", unit::kg_m2,
                             truck ? fitted(3.181676, -2107.5, 618, wheels_pitch) : fitted(3.079446, -1728.8, 244, wheels_pitch));
    goes.yaw_inertia = put(c.yaw_inertia, "yaw_inertia_kg_m2", unit::kg_m2,
                           truck ? fitted(3.167771, -2021.3, 585, 0.0) : fitted(3.176148, -1754.2, 239, 0.0));
  }

  void axle(AxleSheet& a, const std::string& at, bool is_front) {
    const bool solid = a.suspension == SuspensionKind::solid_axle, twist = a.suspension == SuspensionKind::twist_beam;
    const double share = done_.sheet.front_weight_share->value.si();
    const double corner = 0.5 * (mass() * (is_front ? share : 1 - share) - a.unsprung_mass->value.si());

    // [TradeValues: rc.*]
    put(a.roll_centre_height, at + "roll_centre_height_mm", unit::mm,
        solid ? Typical{180, 280, 400} : twist ? Typical{80, 140, 220} : is_front ? Typical{-20, 50, 120} : Typical{20, 90, 160});

    if (a.spring_rate && a.spring_motion_ratio) {
      // Known by parts; the wheel rate follows from them.
    } else if (!a.wheel_rate) {
      const double usual_ratio = is_front ? 0.95 : 0.75;  // [TradeValues: mr.spring.*]
      if (a.spring_rate) {
        put(a.spring_motion_ratio, at + "spring_motion_ratio", unit::one, {usual_ratio - 0.2, usual_ratio, std::min(usual_ratio + 0.2, 1.05)});
      } else {
        const auto at_hz = [corner](double hz) { return corner * std::pow(2 * std::numbers::pi * hz, 2) / 1000; };
        const Typical hz = values_.ride_hz;
        along(at).wheel_rate = put(a.wheel_rate, at + "wheel_rate_n_per_mm", unit::n_per_mm, {at_hz(hz.low), at_hz(hz.value), at_hz(hz.high)});
      }
    }
    const double wheel_rate = spring_at_wheel(a);

    // [TradeValues: mr.link.*]; a front link sits on the strut or on the arm: the range spans both.
    put(a.bar_motion_ratio, at + "bar_motion_ratio", unit::one,
        solid ? Typical{0.55, 0.75, 0.95} : is_front ? Typical{0.5, 0.8, 1.0} : Typical{0.4, 0.65, 0.95});
    // The fitted bar adds, at the wheel in roll, about two thirds of the spring at the front and a third at the rear:
    // common practice, no source. The whole number is a guess until the bar is measured.
    const double part = is_front ? 0.65 : 0.35;
    const double at_link = part * wheel_rate / std::pow(a.bar_motion_ratio->value.si(), 2) / 1000;
    along(at).bar_rate = put(a.bar_rate_per_side, at + "bar_rate_per_side_n_per_mm", unit::n_per_mm, {0.3 * at_link, at_link, 1.7 * at_link}, Origin::guess);

    // Stops, steer and camber: common practice, no source, except camber loss [TradeValues: camber.roll_loss.*].
    put(a.bump_stop_gap, at + "bump_stop_gap_mm", unit::mm, {30, 60, 90});
    put(a.bump_stop_rate, at + "bump_stop_rate_n_per_mm", unit::n_per_mm, {30, 80, 130});
    put(a.droop_travel, at + "droop_travel_mm", unit::mm, {50, 85, 120});
    put(a.roll_steer, at + "roll_steer", unit::one, is_front ? Typical{-0.10, -0.04, 0.02} : Typical{-0.03, 0.02, 0.07});
    put(a.compliance_steer, at + "compliance_steer_deg_per_kn", unit::deg_per_kn, is_front ? Typical{-0.22, -0.12, -0.02} : Typical{-0.03, 0.03, 0.09});
    put(a.camber_loss, at + "camber_loss", unit::one, solid ? Typical{-0.05, 0.0, 0.05} : twist ? Typical{0.1, 0.4, 0.7} : Typical{0.4, 0.75, 1.0});
    put(a.static_camber, at + "static_camber_deg", unit::deg, solid ? Typical{-0.5, 0.0, 0.5} : Typical{-1.8, -0.8, 0.2});

    // Half bump, half rebound around a damping ratio of 0.3 [TradeValues: damping.road], bump softer than rebound.
    put(a.damper.motion_ratio, at + "damper.motion_ratio", unit::one, is_front ? Typical{0.8, 0.95, 1.0} : Typical{0.55, 0.8, 1.0});
    const double critical = 2 * std::sqrt(wheel_rate * corner) / std::pow(a.damper.motion_ratio->value.si(), 2);
    along(at).bump = put(a.damper.bump, at + "damper.bump_n_s_per_m", unit::n_s_per_m, {0.12 * critical, 0.20 * critical, 0.28 * critical});
    along(at).rebound = put(a.damper.rebound, at + "damper.rebound_n_s_per_m", unit::n_s_per_m, {0.25 * critical, 0.40 * critical, 0.55 * critical});

    tyre(a.tyre, at, is_front);
  }

  void tyre(TyreSheet& t, const std::string& at, bool is_front) {
    // [TradeValues: tyre.vertical_stiffness, tyre.relaxation_length, tyre.skidpad.*: spread within a kind about 6 %]
    if (const auto size = tyre::tyre_size(t.size)) {
      put(t.pressure, at + "tyre.pressure_bar", unit::bar, {1.9, 2.2, 2.5});  // common practice, no source
      const double k = tyre::vertical_stiffness(*size, t.pressure->value).si() / 1000;
      // ±10 % of the formula, and nearly all of the stiffness is the pressure's.
      const double half = k * std::hypot(0.10, 0.85 * t.pressure->pm().si() / t.pressure->value.si());
      put(t.vertical_rate, at + "tyre.vertical_rate_n_per_mm", unit::n_per_mm, {k - half, k, k + half});
    } else {
      done_.goes_along.rear_vertical_rate = put(t.vertical_rate, at + "tyre.vertical_rate_n_per_mm", unit::n_per_mm, {150, 210, 270}) && !is_front;
    }
    put(t.relaxation_length, at + "tyre.relaxation_length_mm", unit::mm, {250, 500, 750});
    if (is_front) {
      front_grip_put_ = put(t.grip, at + "tyre.grip", unit::one, {0.93, 1.0, 1.07});
      front_stiffness_put_ = put(t.cornering_stiffness, at + "tyre.cornering_stiffness", unit::one, {0.75, 1.0, 1.25});
    }
  }

  // What is not known of the rear tyres is what is not known of the front ones, where both are of one kind: the same make, the
  // same road. What is left is the spread within a kind, 2 % of grip [TradeValues: tyre.skidpad.example2005]; 6 % of cornering
  // stiffness and 8 % of vertical stiffness are common practice, no source.
  void like_the_front_tyres() {
    auto &front = done_.sheet.front.tyre, &rear = done_.sheet.rear.tyre;
    const bool one_kind = front.kind == rear.kind && !front.law && !rear.law;
    auto& goes = done_.goes_along;
    const auto narrow = [](auto& estimate, double relative) { estimate->sd = estimate->value * (relative / base::kCoverage95); };
    const auto follow = [&](const auto& of_front, auto& place, const char* key, bool front_put, Typical alone, double relative) {
      const bool both = one_kind && front_put;
      if (!put(place, key, unit::one, alone) || !both) return false;
      place->value = of_front->value;
      narrow(place, relative);
      return true;
    };
    goes.rear_grip = follow(front.grip, rear.grip, "rear.tyre.grip", front_grip_put_, {0.93, 1.0, 1.07}, 0.02);
    goes.rear_cornering_stiffness = follow(front.cornering_stiffness, rear.cornering_stiffness, "rear.tyre.cornering_stiffness", front_stiffness_put_, {0.75, 1.0, 1.25}, 0.06);
    const bool front_rate_put = std::find(done_.filled.begin(), done_.filled.end(), "front.tyre.vertical_rate_n_per_mm") != done_.filled.end();
    goes.rear_vertical_rate = goes.rear_vertical_rate && front_rate_put && !tyre::tyre_size(front.size);
    if (goes.rear_vertical_rate) narrow(rear.vertical_rate, 0.08);
  }

  // A limit measured on this car, as it is described, says how much grip there is: the scale is moved until the forecast limit
  // is the measured one. Each round leaves a quarter of what was amiss, so four are enough.
  void measured_grip() {
    CarSheet& c = done_.sheet;
    if (!c.measured_limit || !front_grip_put_) return;
    const bool rear_too = done_.goes_along.rear_grip;
    const double wanted = c.measured_limit->value.si();
    for (int round = 0; round < 4; ++round) {
      const auto standing = vehicle::stand(car_model(c, Setup{}, nullptr, nullptr));
      if (!standing) return;  // 'car check' says what is wrong with such a car
      vehicle::SteadyOptions options;
      options.keep_points = false;
      const auto curve = vehicle::SteadyTurn(standing->plant, options).to_limit();
      if (!curve) return;
      const auto scale = tyre::grip_scale_from_limit(c.front.tyre.grip->value, curve->limit.lateral_acceleration, base::Acceleration(wanted));
      c.front.tyre.grip->value = std::clamp(scale.si(), 0.2, 2.0);
      if (rear_too) c.rear.tyre.grip->value = c.front.tyre.grip->value;
    }
    c.front.tyre.grip->sd = c.front.tyre.grip->value * (c.measured_limit->sd.si() / wanted);
    c.front.tyre.grip->origin = Origin::derived;
    if (rear_too) c.rear.tyre.grip->origin = Origin::derived;
  }

  GoesAlong::Axle& along(const std::string& at) { return at == "front." ? done_.goes_along.front : done_.goes_along.rear; }

  [[nodiscard]] double mass() const { return done_.sheet.mass->value.si(); }

  CompletedCar done_;
  ClassValues values_;
  bool front_grip_put_ = false, front_stiffness_put_ = false;
};

template <class Q>
void scale(std::optional<Estimate<Q>>& number, bool goes, double factor) {
  if (goes) number->value = factor * number->value;
}

void axle_goes_along(const GoesAlong::Axle& goes, const AxleSheet& usual, AxleSheet& drawn, double mass, double sprung) {
  scale(drawn.unsprung_mass, goes.unsprung_mass, std::sqrt(mass));
  scale(drawn.wheel_rate, goes.wheel_rate, sprung);
  const double springs = spring_at_wheel(drawn) / spring_at_wheel(usual);
  const double ratio = drawn.bar_motion_ratio->value.si() / usual.bar_motion_ratio->value.si();
  scale(drawn.bar_rate_per_side, goes.bar_rate, springs / (ratio * ratio));
  const double damping = std::sqrt(std::max(springs * sprung, 0.0));
  scale(drawn.damper.bump, goes.bump, damping);
  scale(drawn.damper.rebound, goes.rebound, damping);
}

}  // namespace

CompletedCar complete(const CarSheet& sheet) { return Completion(sheet).run(); }

void go_along(const CompletedCar& completed, CarSheet& drawn) {
  const CarSheet& usual = completed.sheet;
  const GoesAlong& goes = completed.goes_along;
  const double mass = drawn.mass->value.si() / usual.mass->value.si();
  const double front = drawn.front_weight_share->value.si() / usual.front_weight_share->value.si();
  const double rear = (1.0 - drawn.front_weight_share->value.si()) / (1.0 - usual.front_weight_share->value.si());
  axle_goes_along(goes.front, usual.front, drawn.front, mass, mass * front);
  axle_goes_along(goes.rear, usual.rear, drawn.rear, mass, mass * rear);
  scale(drawn.roll_inertia, goes.roll_inertia, mass);
  scale(drawn.pitch_inertia, goes.pitch_inertia, mass);
  scale(drawn.yaw_inertia, goes.yaw_inertia, mass);
  if (goes.rear_track) drawn.rear.track->value += drawn.front.track->value - usual.front.track->value;
  const auto with_front = [](const auto& usual_front, const auto& drawn_front, auto& rear_number, bool does) {
    if (does) rear_number->value = (drawn_front->value.si() / usual_front->value.si()) * rear_number->value;
  };
  with_front(usual.front.tyre.grip, drawn.front.tyre.grip, drawn.rear.tyre.grip, goes.rear_grip);
  with_front(usual.front.tyre.cornering_stiffness, drawn.front.tyre.cornering_stiffness, drawn.rear.tyre.cornering_stiffness, goes.rear_cornering_stiffness);
  with_front(usual.front.tyre.vertical_rate, drawn.front.tyre.vertical_rate, drawn.rear.tyre.vertical_rate, goes.rear_vertical_rate);
}

}  // namespace rollwright::ops
