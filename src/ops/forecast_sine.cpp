#include "ops/forecast_sine.h"

#include <cmath>
#include <complex>

#include "ops/shared/sentences.h"
#include "ops/shared/vehicle_question.h"
#include "vehicle/check.h"
#include "vehicle/linear_model.h"
#include "vehicle/response.h"
#include "vehicle/steady.h"

namespace rollwright::ops {

namespace unit = base::unit;

void SineRequest::describe(base::RecordType<SineRequest>& r) {
  describe_vehicle_question(r);
  r.field<&SineRequest::speed>("speed", unit::km_per_h, "Speed.").between(15, 200);
  r.field<&SineRequest::lateral>("lateral", unit::m_per_s2, "Lateral acceleration that the steer amplitude would hold in a steady turn.").between(0.2, 12);
  r.field<&SineRequest::frequencies>("frequencies", unit::hz, "Steering frequencies; without any, eight from 0.2 to 2 Hz.").between(0.05, 5);
  describe_draws(r, 5000);
}

void SinePoint::describe(base::RecordType<SinePoint>& r) {
  r.about("One steering frequency. Phases are against the steering unless said; negative is late.");
  r.field<&SinePoint::setup>("setup", "The setup.");
  r.field<&SinePoint::frequency>("frequency", unit::hz, "Steering frequency.");
  r.field<&SinePoint::roll_per_lateral>("roll_per_lateral", unit::deg_per_g, "Lean per lateral acceleration in small weaves.");
  r.field<&SinePoint::roll_phase>("roll_phase", unit::deg, "Phase of lean against lateral acceleration.");
  r.field<&SinePoint::yaw_gain>("yaw_gain", unit::percent, "Yaw rate per steer, against that of slow steering.");
  r.field<&SinePoint::yaw_phase>("yaw_phase", unit::deg, "Phase of the yaw rate.");
  r.field<&SinePoint::lateral_phase>("lateral_phase", unit::deg, "Phase of the lateral acceleration.");
  r.field<&SinePoint::roll_amplitude>("roll_amplitude", unit::deg, "Lean to each side at the asked amplitude.");
  r.field<&SinePoint::lateral_amplitude>("lateral_amplitude", unit::g, "Lateral acceleration reached at the asked amplitude.");
  r.field<&SinePoint::roll_per_lateral_driven>("roll_per_lateral_driven", unit::deg_per_g, "Lean per lateral acceleration at the asked amplitude.");
}

void MotionMode::describe(base::RecordType<MotionMode>& r) {
  r.about("A natural motion of the car at this speed.");
  r.field<&MotionMode::setup>("setup", "The setup.");
  r.field<&MotionMode::frequency>("frequency", unit::hz, "Natural frequency.");
  r.field<&MotionMode::damping>("damping", unit::one, "Damping ratio.");
}

void SineResult::describe(base::RecordType<SineResult>& r) {
  r.field<&SineResult::meaning>("meaning", "What it means, in a sentence.");
  r.field<&SineResult::points>("points", "Every setup at every frequency.");
  r.field<&SineResult::modes>("modes", "Natural motions below 4 Hz: yaw with side speed, roll, heave and pitch.");
}

namespace {

constexpr std::size_t kPerFrequency = 5;  // roll/lateral, its phase, yaw gain, yaw phase, lateral phase

std::optional<FigureRow> sine_figures(const vehicle::Car& car, double speed, const std::vector<base::Frequency>& frequencies) {
  if (!vehicle::check_stable(car, base::Speed(speed)).empty()) return std::nullopt;
  const vehicle::LinearModel model(vehicle::make_plant(car), speed);
  const double slow = std::abs(model.to_steer(0.01).yaw_rate);
  FigureRow f;
  for (const auto& frequency : frequencies) {
    const auto r = model.to_steer(frequency.si());
    f.push_back(std::abs(r.roll / r.lateral_acceleration));
    f.push_back(std::arg(r.roll / r.lateral_acceleration));
    f.push_back(std::abs(r.yaw_rate) / slow);
    f.push_back(std::arg(r.yaw_rate));
    f.push_back(std::arg(r.lateral_acceleration));
  }
  return f;
}

}  // namespace

base::Outcome<base::Answer<SineResult>> forecast_sine(const SineRequest& request, Context& context) {
  auto question = vehicle_question(request.car, request.bars, request.setups, request.draws, request.seed);
  if (!question) return base::fail(question.error());
  std::vector<base::Frequency> frequencies = request.frequencies;
  if (frequencies.empty()) {
    for (const double hz : {0.2, 0.3, 0.5, 0.7, 1.0, 1.3, 1.6, 2.0}) frequencies.emplace_back(hz);
  }
  base::Problems problems;
  if (frequencies.size() > 100) problems.push_back(base::input_problem("too_many", "frequencies", "More than a hundred frequencies.", "1 to 100"));
  std::vector<vehicle::Car> cars;
  for (const auto& setup : question->setups) {
    cars.push_back(nominal_car(*question, setup));
    for (auto& p : base::prefixed(vehicle::check_stable(cars.back(), request.speed), setup.name)) problems.push_back(std::move(p));
  }
  if (!problems.empty()) return base::fail(std::move(problems));
  const auto f = sample_figures(*question, [&](const vehicle::Car& car, std::size_t) { return sine_figures(car, request.speed.si(), frequencies); }, context);
  if (context.progress.is_cancelled()) return base::fail(base::no_answer("cancelled", "", "The work was given up."));

  base::Answer<SineResult> answer;
  for (std::size_t i = 0; i < cars.size(); ++i) {
    const vehicle::Plant plant = vehicle::make_plant(cars[i]);
    const std::string& name = question->setups[i].name;
    bool spoken = false;
    for (std::size_t k = 0; k < frequencies.size(); ++k) {
      const auto range = [&](std::size_t which) { return value_range(f, i, k * kPerFrequency + which); };
      SinePoint p;
      p.setup = name;
      p.frequency = frequencies[k];
      p.roll_per_lateral = range(0).as<base::AnglePerAcceleration>();
      p.roll_phase = range(1).as<base::Angle>();
      p.yaw_gain = range(2).as<base::Ratio>();
      p.yaw_phase = range(3).as<base::Angle>();
      p.lateral_phase = range(4).as<base::Angle>();
      vehicle::SineOptions options;
      options.speed = request.speed;
      options.lateral_acceleration = request.lateral;
      const auto driven = vehicle::sine_steer(plant, frequencies[k], options);
      if (driven) {
        p.roll_amplitude = base::Angle(driven->roll.amplitude);
        p.lateral_amplitude = base::Acceleration(driven->lateral_acceleration.amplitude);
        p.roll_per_lateral_driven = driven->roll_per_lateral_acceleration;
      } else if (!spoken) {
        spoken = true;
        answer.warn("amplitude_left_out", "\"" + name + "\" cannot be driven at the asked amplitude: " + driven.error().front().message +
                                              " Only small weaves are answered; ask for less lateral acceleration.", "lateral");
      }
      answer.result.points.push_back(std::move(p));
    }
    for (const auto& mode : vehicle::LinearModel(plant, request.speed.si()).modes()) {
      if (mode.eigenvalue.imag() > 0.0 && mode.frequency < 4.0) answer.result.modes.push_back({name, base::Frequency(mode.frequency), base::Ratio(mode.damping)});
    }
  }
  const auto& slow = answer.result.points.front();
  const auto& quick = answer.result.points[frequencies.size() - 1];
  answer.result.meaning = "\"" + slow.setup + "\" leans " + interval_text(slow.roll_per_lateral, unit::deg_per_g) + " when weaved at " +
                          pm_text(slow.frequency.si(), 0.0, "Hz") + " and " + interval_text(quick.roll_per_lateral, unit::deg_per_g) + " at " +
                          pm_text(quick.frequency.si(), 0.0, "Hz") + "; quick weaving shows another lean than a steady corner, so compare like with like.";
  vehicle_footing(*question, f.refused, answer);
  answer.cite("ISO 7401");
  return answer;
}

Operation forecast_sine_operation() {
  return operation<&forecast_sine>("forecast", "sine", "How does it follow a weaving wheel?")
      .helped("The wheel weaves at one frequency after another. Answers lean per lateral acceleration, its delay, yaw gain and phases, "
              "first for small weaves with intervals (linear, from 0.2 to 2 Hz), then at the asked amplitude with the full tyres at the "
              "stated values; and the natural frequencies and damping of the car at this speed.")
      .shown_by("forecast sine wren.json bars/wren-front-two-hole.json bars/wren-rear-three-hole.json");
}

}  // namespace rollwright::ops
