#include "ops/forecast_slalom.h"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "ops/shared/sentences.h"
#include "ops/shared/vehicle_question.h"
#include "stats/power.h"
#include "vehicle/check.h"
#include "vehicle/lane_slalom.h"
#include "vehicle/slalom.h"

namespace rollwright::ops {

namespace unit = base::unit;

void SlalomDriver::describe(base::RecordType<SlalomDriver>& r) {
  r.about("The driver: the same one for every setup.");
  r.field<&SlalomDriver::preview>("preview", unit::ms, "How far ahead in time he corrects what he sees.").between(200, 2500);
  r.field<&SlalomDriver::lag>("lag", unit::ms, "How long nerves and arms take.").between(20, 500);
  r.field<&SlalomDriver::fastest_hands>("fastest_hands", unit::deg_per_s, "How fast he turns the road wheels at most; 37 deg/s is 600 deg/s of the steering wheel.").between(2, 120);
  r.field<&SlalomDriver::practice_runs>("practice_runs", "Runs he learns from before the one that counts.").between(0, 20);
  r.field<&SlalomDriver::scatter>("scatter", unit::percent, "Standard deviation of his times from run to run; 1.5 % is an able amateur (common practice, no source).").between(0.1, 20);
}

void SlalomRequest::describe(base::RecordType<SlalomRequest>& r) {
  describe_vehicle_question(r);
  r.field<&SlalomRequest::course>("course", "A slalom, or the lane change of ISO 3888-2.");
  r.field<&SlalomRequest::cones>("cones", "Cones of the slalom.").between(3, 40);
  r.field<&SlalomRequest::spacing>("spacing", unit::m, "Distance from cone to cone.").between(5, 100);
  r.field<&SlalomRequest::margin>("margin", unit::mm, "Room between cone and body that the driver aims for.").between(0, 2000);
  r.field<&SlalomRequest::body_width>("body_width", unit::mm, "Width of the body without mirrors.").between(1200, 2400);
  r.field<&SlalomRequest::driver>("driver", "The driver.");
  r.field<&SlalomRequest::speed>("speed", unit::km_per_h, "Speed held; without it, the highest that leaves every cone standing.").between(10, 160);
  r.field<&SlalomRequest::runs>("runs", "Runs with each setup in your own test: how small a difference of time could they prove?").between(2, 100);
  describe_draws(r, 400);
}

void SlalomPass::describe(base::RecordType<SlalomPass>& r) {
  r.about("Passing one cone.");
  r.field<&SlalomPass::time>("time", unit::s, "When the middle of the car passes it.");
  r.field<&SlalomPass::clearance>("clearance", unit::mm, "Room between cone and body; negative is a hit.");
  r.field<&SlalomPass::roll>("roll", unit::deg, "Largest lean around this cone.");
  r.field<&SlalomPass::lateral>("lateral", unit::g, "Largest lateral acceleration around this cone.");
}

void SlalomMoment::describe(base::RecordType<SlalomMoment>& r) {
  r.about("An instant of the run, for the replay.");
  r.field<&SlalomMoment::time>("time", unit::s, "Time.");
  r.field<&SlalomMoment::x>("x", unit::m, "Place along the course; the first cone is at 0.");
  r.field<&SlalomMoment::y>("y", unit::m, "Place across it, positive to the left.");
  r.field<&SlalomMoment::heading>("heading", unit::deg, "Where the car points, positive to the left.");
  r.field<&SlalomMoment::roll>("roll", unit::deg, "Lean.");
  r.field<&SlalomMoment::steer>("steer", unit::deg, "Steer at the road wheels.");
  r.field<&SlalomMoment::lateral>("lateral", unit::g, "Lateral acceleration.");
}

void SlalomForecast::describe(base::RecordType<SlalomForecast>& r) {
  r.about("The course with one setup.");
  r.field<&SlalomForecast::name>("name", "The setup.");
  r.field<&SlalomForecast::speed>("speed", unit::km_per_h, "Speed of the run: the highest clean one, or the one asked for.");
  r.field<&SlalomForecast::time>("time", unit::s, "Time from first to last cone.");
  r.field<&SlalomForecast::roll_per_lateral>("roll_per_lateral", unit::deg_per_g, "Lean per lateral acceleration between the cones, more than in a steady corner.");
  r.field<&SlalomForecast::lateral_peak>("lateral_peak", unit::g, "Mean of the peaks of lateral acceleration.");
  r.field<&SlalomForecast::roll_delay>("roll_delay", unit::s, "How much later than the lateral acceleration the lean comes.");
  r.field<&SlalomForecast::clean>("clean", "Every cone stands.");
  r.field<&SlalomForecast::trouble>("trouble", "What goes wrong: in the run asked for, or just above the highest clean speed.");
  r.field<&SlalomForecast::passes>("passes", "Cone by cone.");
  r.field<&SlalomForecast::replay>("replay", "The run, every 50 ms.");
}

void SlalomChange::describe(base::RecordType<SlalomChange>& r) {
  r.about("A setup against the first one, same driver and same drawn cars.");
  r.field<&SlalomChange::name>("name", "The setup.");
  r.field<&SlalomChange::time>("time", unit::s, "Difference of time; negative is quicker.");
  r.field<&SlalomChange::speed>("speed", unit::km_per_h, "Difference of speed.");
  r.field<&SlalomChange::roll_per_lateral>("roll_per_lateral", unit::percent, "Change of lean per lateral acceleration.");
  r.field<&SlalomChange::provable>("provable", "Whether the asked number of runs could prove this difference of time.");
}

void ConePlace::describe(base::RecordType<ConePlace>& r) {
  r.about("A cone.");
  r.field<&ConePlace::x>("x", unit::m, "Along the course.");
  r.field<&ConePlace::y>("y", unit::m, "Across it.");
}

void SlalomResult::describe(base::RecordType<SlalomResult>& r) {
  r.field<&SlalomResult::meaning>("meaning", "What it means, in a sentence.");
  r.field<&SlalomResult::setups>("setups", "Every setup.");
  r.field<&SlalomResult::changes>("changes", "Every later setup against the first.");
  r.field<&SlalomResult::provable_time>("provable_time", unit::s, "Smallest difference of time that this many runs with each setup show four times in five.");
  r.field<&SlalomResult::cones>("cones", "Where the cones stand.");
}

namespace {

enum SlalomFigure : std::size_t { kSpeed, kTime, kRollPer, kPeak, kDelay, kSlalomFigures };

struct Track {
  vehicle::Course course;
  vehicle::BodySize body;
  vehicle::Driver driver;
};

base::Outcome<Track> track_of(const SlalomRequest& request) {
  Track t;
  t.body.width = request.body_width;
  auto course = request.course == CourseKind::slalom
                    ? vehicle::slalom_course({request.cones, request.spacing, request.margin}, t.body)
                    : vehicle::lane_change_course(t.body);
  if (!course) return base::fail(course.error());
  t.course = std::move(*course);
  t.driver.preview = request.driver.preview;
  t.driver.lag = request.driver.lag;
  t.driver.fastest_hands = request.driver.fastest_hands;
  t.driver.practice_runs = request.driver.practice_runs;
  return t;
}

struct Driven {
  base::Speed speed;
  vehicle::CourseRun run;
  std::string trouble;
};

base::Outcome<Driven> drive_once(const vehicle::Car& car, const Track& track, const SlalomRequest& request, const vehicle::BestOptions& options) {
  const vehicle::Plant plant = vehicle::make_plant(car);
  if (request.speed) {
    auto run = vehicle::drive_course(plant, track.course, track.body, track.driver, *request.speed);
    if (!run) return base::fail(run.error());
    Driven d{*request.speed, std::move(*run), {}};
    d.trouble = d.run.trouble;
    return d;
  }
  auto best = vehicle::best_clean_run(plant, track.course, track.body, track.driver, options);
  if (!best) return base::fail(best.error());
  return Driven{best->speed, std::move(best->run), best->too_fast.trouble};
}

FigureRow row_of(base::Speed speed, const vehicle::CourseRun& run) {
  FigureRow f(kSlalomFigures);
  f[kSpeed] = speed.si();
  f[kTime] = run.time.si();
  f[kRollPer] = run.roll_per_lateral_acceleration.si();
  f[kPeak] = run.mean_lateral_peak.si();
  f[kDelay] = run.roll_delay.si();
  return f;
}

SlalomForecast slalom_forecast(const Driven& d, const SampledFigures& f, std::size_t i) {
  const auto range = [&](std::size_t which) { return value_range(f, i, which); };
  SlalomForecast s;
  s.speed = range(kSpeed).as<base::Speed>();
  s.time = range(kTime).as<base::Duration>();
  s.roll_per_lateral = range(kRollPer).as<base::AnglePerAcceleration>();
  s.lateral_peak = range(kPeak).as<base::Acceleration>();
  s.roll_delay = range(kDelay).as<base::Duration>();
  s.clean = d.run.is_clean;
  s.trouble = d.trouble;
  for (const auto& p : d.run.passes) s.passes.push_back({p.time, p.clearance, p.roll_peak, p.lateral_peak});
  double next = 0.0;
  for (const auto& m : d.run.trace.moments) {
    if (m.t + 1e-9 < next) continue;
    next += 0.05;
    s.replay.push_back({base::Duration(m.t), base::Length(m.x), base::Length(m.y), base::Angle(m.heading), base::Angle(m.roll),
                        base::Angle(m.steer), base::Acceleration(m.lateral_acceleration)});
  }
  return s;
}

std::string provable_words(double difference, std::optional<double> smallest, int runs) {
  char text[200];
  if (!smallest) return "So few runs prove nothing.";
  if (std::abs(difference) >= *smallest) {
    std::snprintf(text, sizeof text, "%d runs with each setup would show it (they show %.2f s four times in five).", runs, *smallest);
  } else {
    std::snprintf(text, sizeof text, "%d runs with each setup would probably not show it: they show %.2f s four times in five.", runs, *smallest);
  }
  return text;
}

}  // namespace

base::Outcome<base::Answer<SlalomResult>> forecast_slalom(const SlalomRequest& request, Context& context) {
  auto question = vehicle_question(request.car, request.bars, request.setups, request.draws, request.seed);
  if (!question) return base::fail(question.error());
  const auto track = track_of(request);
  if (!track) return base::fail(track.error());
  base::Problems problems;
  std::vector<Driven> driven;
  const double share = 1.0 / static_cast<double>(question->setups.size() + (request.draws > 0 ? 4 : 0));
  for (std::size_t i = 0; i < question->setups.size(); ++i) {
    vehicle::BestOptions options;
    options.go_on = [&](double done) {
      context.progress.report(share * (static_cast<double>(i) + done), "driving among the cones");
      return !context.progress.is_cancelled();
    };
    auto d = drive_once(nominal_car(*question, question->setups[i]), *track, request, options);
    if (context.progress.is_cancelled()) return base::fail(base::no_answer("cancelled", "", "The work was given up."));
    if (d) {
      driven.push_back(std::move(*d));
    } else {
      for (auto& p : base::prefixed(d.error(), question->setups[i].name)) problems.push_back(std::move(p));
    }
  }
  if (!problems.empty()) return base::fail(std::move(problems));
  const auto figures_of = [&](const std::vector<vehicle::Car>& cars, const std::vector<std::size_t>& setups) {
    std::vector<vehicle::Plant> plants;
    vehicle::LaneRunOptions options;
    options.speed = request.speed;
    options.search.clear();
    for (std::size_t k = 0; k < cars.size(); ++k) {
      plants.push_back(vehicle::make_plant(cars[k]));
      // Drawn cars are sought near the stated one. To 0.02 m/s, or the search's own grain would look like doubt of a difference.
      vehicle::BestOptions search;
      search.slowest = base::Speed(std::max(0.75 * driven[setups[k]].speed.si(), 3.0));
      search.first_step = base::Speed(0.1 * driven[setups[k]].speed.si());
      search.tolerance = base::Speed(0.02);
      options.search.push_back(search);
    }
    options.go_on = [&](double) { return !context.progress.is_cancelled(); };
    std::vector<std::optional<FigureRow>> rows;
    for (const auto& run : vehicle::drive_courses(plants, track->course, track->body, track->driver, options)) {
      rows.push_back(run ? std::optional(row_of(run->speed, run->run)) : std::nullopt);
    }
    return rows;
  };
  auto f = sample_batches(*question, figures_of, 10, context);
  if (context.progress.is_cancelled()) return base::fail(base::no_answer("cancelled", "", "The work was given up."));
  for (std::size_t i = 0; i < driven.size(); ++i) f.nominal[i] = row_of(driven[i].speed, driven[i].run);

  base::Answer<SlalomResult> answer;
  const double first_time = driven.front().run.time.si();
  stats::PowerQuestion power;
  power.difference = 0.05 * std::max(first_time, 0.1);
  power.scatter = request.driver.scatter * std::max(first_time, 0.1);
  const auto smallest = stats::smallest_difference(power, request.runs);
  if (smallest) answer.result.provable_time = base::Duration(*smallest);
  for (const auto& cone : track->course.cones) answer.result.cones.push_back({base::Length(cone.x), base::Length(cone.y)});
  for (std::size_t i = 0; i < driven.size(); ++i) {
    answer.result.setups.push_back(slalom_forecast(driven[i], f, i));
    answer.result.setups.back().name = question->setups[i].name;
    if (i == 0) continue;
    SlalomChange c;
    c.name = question->setups[i].name;
    c.time = difference_range(f, 0, i, kTime).as<base::Duration>();
    c.speed = difference_range(f, 0, i, kSpeed).as<base::Speed>();
    c.roll_per_lateral = change_range(f, 0, i, kRollPer).as<base::Ratio>();
    c.provable = provable_words(c.time.value.si(), smallest, request.runs);
    answer.result.changes.push_back(std::move(c));
  }
  const auto& first = answer.result.setups.front();
  answer.result.meaning = "\"" + first.name + "\" " + (first.clean ? "gets through at " : "does not get through at ") + interval_text(first.speed, unit::km_per_h) +
                          (first.clean ? " in " + interval_text(first.time, unit::s) : ": " + first.trouble) + ".";
  for (const auto& c : answer.result.changes) {
    answer.result.meaning += " \"" + c.name + "\" differs by " + interval_text(c.time, unit::s) + ". " + c.provable;
  }
  for (std::size_t i = 0; i < driven.size(); ++i) {
    for (const auto& p : vehicle::check_stable(nominal_car(*question, question->setups[i]), driven[i].speed)) {
      answer.warn("unstable", "\"" + question->setups[i].name + "\": " + p.message + " Only the driver's corrections keep it on the road here.", question->setups[i].name);
    }
  }
  vehicle_footing(*question, f.refused, answer);
  answer.assume("The driver is a simple one with the same hands for every setup; he holds one speed. His numbers are for before and after, not for your best time.");
  answer.assume("Test only on private ground with room to run out on every side, never on a public road.");
  answer.cite("Cohen 1988");
  return answer;
}

Operation forecast_slalom_operation() {
  return operation<&forecast_slalom>("forecast", "slalom", "How fast and how does it go through the cones?")
      .helped("One driver with stated preview, lag and hands drives every setup through the same cones, practises, and finds the highest speed "
              "that leaves all standing, or drives at the speed asked for. Answers speed, time, lean and lateral acceleration at every "
              "cone, the delay of the lean, a replay, and how small a difference of time your own number of runs could prove. Draws "
              "give intervals. Private ground only.")
      .shown_by("forecast slalom wren.json bars/wren-front-two-hole.json bars/wren-rear-three-hole.json")
      .takes_long();
}

}  // namespace rollwright::ops
