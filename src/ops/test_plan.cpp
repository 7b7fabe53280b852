#include "ops/test_plan.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <numbers>

#include "stats/power.h"

namespace rollwright::ops {

namespace unit = base::unit;

void TestPlanRequest::describe(base::RecordType<TestPlanRequest>& r) {
  r.about("The place, the change worth knowing, and what is known of the scatter.");
  r.field<&TestPlanRequest::site_length>("site_length", unit::m, "Length of the flat, free surface.").between(30, 2000);
  r.field<&TestPlanRequest::site_width>("site_width", unit::m, "Its width.").between(5, 500);
  r.field<&TestPlanRequest::surface>("surface", "Surface: dry, damp, wet or loose.");
  r.field<&TestPlanRequest::wanted_change>("wanted_change", unit::percent, "The smallest change of lean worth knowing.").between(2, 60);
  r.field<&TestPlanRequest::pass_scatter>("pass_scatter", unit::percent, "Scatter of the gradient from pass to pass (standard deviation); an earlier log says it, 3 % is usual.").between(0.5, 20);
  r.field<&TestPlanRequest::power>("power", unit::percent, "Chance wanted to show that change if it is there.").between(50, 99);
  r.field<&TestPlanRequest::lateral>("lateral", unit::g, "Lateral acceleration aimed at.").between(0.2, 0.8);
  r.field<&TestPlanRequest::fastest>("fastest", unit::km_per_h, "Fastest speed you want to drive there.").between(15, 100);
  r.field<&TestPlanRequest::car_width>("car_width", unit::m, "Width of the car.").between(1.2, 2.6);
  r.field<&TestPlanRequest::can_change_at_site>("can_change_at_site", "True where the hole or part can be changed at the place.");
  r.field<&TestPlanRequest::phone_stays_in_mount>("phone_stays_in_mount", "True where the phone stays in its mount between the setups.");
}

void PlannedCone::describe(base::RecordType<PlannedCone>& r) {
  r.about("A cone to put down.");
  r.field<&PlannedCone::number>("number", "From the start; gates are 0.");
  r.field<&PlannedCone::along>("along", unit::m, "Along the lane from its start.");
  r.field<&PlannedCone::aside>("aside", unit::m, "To the left of the lane's middle.");
  r.field<&PlannedCone::what>("what", "Start gate, slalom, or stop gate.");
}

void PassesAndChange::describe(base::RecordType<PassesAndChange>& r) {
  r.about("What a number of passes can show.");
  r.field<&PassesAndChange::passes>("passes", "Passes per setup.");
  r.field<&PassesAndChange::smallest_change>("smallest_change", unit::percent, "Smallest change that they show with the wanted chance.");
}

void TestPlanResult::describe(base::RecordType<TestPlanResult>& r) {
  r.field<&TestPlanResult::meaning>("meaning", "What it means, in a sentence or two.");
  r.field<&TestPlanResult::cones>("cones", "Slalom cones.");
  r.field<&TestPlanResult::cone_spacing>("cone_spacing", unit::m, "Distance from cone to cone.");
  r.field<&TestPlanResult::speed>("speed", unit::km_per_h, "Speed to hold through the slalom.");
  r.field<&TestPlanResult::lateral>("lateral", unit::g, "Lateral acceleration that gives.");
  r.field<&TestPlanResult::rhythm>("rhythm", unit::hz, "Rhythm of the slalom: full waves a second.");
  r.field<&TestPlanResult::run_in>("run_in", unit::m, "Way to gather speed before the first cone.");
  r.field<&TestPlanResult::run_out>("run_out", unit::m, "Way to stop after the last cone, with as much again in reserve.");
  r.field<&TestPlanResult::passes_per_setup>("passes_per_setup", "Passes with each setup, in fours; nothing where no number is enough.");
  r.field<&TestPlanResult::time_needed>("time_needed", unit::minutes, "Driving time for both setups with turns and rests.");
  r.field<&TestPlanResult::resolution>("resolution", "What other numbers of passes can show.");
  r.field<&TestPlanResult::order>("order", "What to do in which order.");
  r.field<&TestPlanResult::drivers_card>("drivers_card", "For the driver, to print.");
  r.field<&TestPlanResult::cannot_be_shown>("cannot_be_shown", "What cannot be proved there, and what could.");
  r.field<&TestPlanResult::cautions>("cautions", "Cautions.");
  r.field<&TestPlanResult::cone_plan>("cone_plan", "Where every cone stands.");
}

namespace {

constexpr double kGravity = base::kStandardGravity.si();

std::string text(const char* format, auto... values) {
  char buffer[500];
  std::snprintf(buffer, sizeof buffer, format, values...);
  return buffer;
}

// Share of the grip of an ordinary summer tyre (about 0.9 g) that a test may ask for on each surface: invented, careful.
double most_lateral(Surface surface) {
  switch (surface) {
    case Surface::dry: return 0.60 * kGravity;
    case Surface::damp: return 0.45 * kGravity;
    case Surface::wet: return 0.35 * kGravity;
    case Surface::loose: return 0.25 * kGravity;
  }
  return 0.25 * kGravity;
}

// What does not shrink with passes in a comparison: 0.5 % with the phone left in place, 3 % with it fitted anew (signal/proof.h).
double fixed_error(bool stays) { return stays ? 0.005 : 0.03; }

struct Layout {
  int cones = 0;
  double spacing = 0.0, speed = 0.0, run_in = 0.0, run_out = 0.0;
  [[nodiscard]] double length() const { return run_in + spacing * (cones - 1) + run_out; }
};

// Path y = A·sin(πx/d): a = A·(πv/d)², so v = d/π·√(a/A) and the rhythm √(a/A)/2π does not depend on the spacing.
Layout layout(double spacing, int cones, double lateral, double amplitude) {
  Layout l;
  l.spacing = spacing;
  l.cones = cones;
  l.speed = spacing / std::numbers::pi * std::sqrt(lateral / amplitude);
  l.run_in = l.speed * l.speed / (2.0 * 2.0) + spacing;         // gathering speed at 2 m/s², then one gap of steady driving
  l.run_out = 2.0 * l.speed * l.speed / (2.0 * 4.0) + spacing;  // stopping at 4 m/s², twice
  return l;
}

}  // namespace

base::Outcome<base::Answer<TestPlanResult>> test_plan(const TestPlanRequest& request, Context&) {
  const double length = request.site_length.si(), width = request.site_width.si();
  const double lateral = std::min(request.lateral.si(), most_lateral(request.surface));
  // The car's middle passes each cone at half its width and half a metre: the wave's half height.
  const double amplitude = 0.5 * request.car_width.si() + 0.5;
  base::Problems problems;
  const double need_width = 2.0 * amplitude + request.car_width.si() + 6.0;
  if (width < need_width) {
    problems.push_back(base::no_answer("site_too_narrow", "site_width_m",
                                       text("The slalom alone is %.0f m wide with 3 m of room on each side.", need_width),
                                       text("%.0f m or more", need_width), "Look for a wider place; do not use a public road."));
  }
  Layout best;
  for (const int cones : {8, 7, 6, 5}) {
    for (double spacing = 20.0; spacing >= 9.99; spacing -= 1.0) {
      const Layout l = layout(spacing, cones, lateral, amplitude);
      if (l.length() <= length && l.speed <= request.fastest.si() && best.cones == 0) best = l;
    }
  }
  if (best.cones == 0) {
    const Layout least = layout(10.0, 5, lateral, amplitude);
    problems.push_back(base::no_answer("site_too_short", "site_length_m",
                                       text("Five cones 10 m apart need %.0f m at %.0f km/h, with room to stop.", least.length(), 3.6 * least.speed),
                                       text("%.0f m or more, and %.0f km/h", least.length(), 3.6 * least.speed),
                                       "Look for a longer place, or use the sill test at home, which needs no driving."));
  }
  if (!problems.empty()) return base::fail(std::move(problems));

  base::Answer<TestPlanResult> answer;
  auto& r = answer.result;
  r.cones = best.cones;
  r.cone_spacing = base::Length(best.spacing);
  r.speed = base::Speed(best.speed);
  r.lateral = base::Acceleration(lateral);
  r.rhythm = base::Frequency(best.speed / (2.0 * best.spacing));
  r.run_in = base::Length(best.run_in);
  r.run_out = base::Length(best.run_out);

  stats::PowerQuestion question;
  question.difference = request.wanted_change;
  question.scatter = request.pass_scatter;
  question.fixed_error = fixed_error(request.phone_stays_in_mount);
  question.power = request.power;
  question.most_runs = 40;
  const auto needed = stats::runs_needed(question);
  // In fours: out and back beginning left, out and back beginning right, so that bank of the place cancels.
  if (needed) r.passes_per_setup = std::max(4, (*needed + 3) / 4 * 4);
  for (const int n : {4, 8, 12, 16}) {
    if (const auto change = stats::smallest_difference(question, n)) r.resolution.push_back({n, *change});
  }
  const int passes = r.passes_per_setup.value_or(16);
  const double pass_time = best.length() / std::max(4.0, 0.8 * best.speed) + 25.0;  // and a turn
  r.time_needed = base::Duration(2.0 * (passes * pass_time + 6.0 * 60.0));

  r.meaning = needed ? text("%d cones %.0f m apart at %.0f km/h give %.2f g. %d passes with each setup show a change of %.0f %% with a chance of %.0f %%.",
                            best.cones, best.spacing, 3.6 * best.speed, lateral / kGravity, passes, 100.0 * static_cast<double>(request.wanted_change),
                            100.0 * static_cast<double>(request.power))
                     : text("%d cones %.0f m apart at %.0f km/h give %.2f g, but no number of passes shows a change as small as %.0f %% with this scatter.",
                            best.cones, best.spacing, 3.6 * best.speed, lateral / kGravity, 100.0 * static_cast<double>(request.wanted_change));
  if (lateral < request.lateral.si()) {
    answer.warn("lateral_lowered", text("%.2f g is too much for this surface; %.2f g was planned.", request.lateral.si() / kGravity, lateral / kGravity), "lateral_g");
  }
  if (lateral < 0.3 * kGravity) {
    answer.warn("little_excitation", "Below 0.3 g road and noise are a large part of the roll seen. A dry surface answers much better.", "lateral_g");
  }
  if (!needed) {
    answer.warn("too_small_to_show", "Ask for a larger change, drive more evenly, or leave the phone in its mount: an error that passes do not shrink stands in the way.", "wanted_change_percent");
  }

  const std::string four = "out and back beginning with the first cone on the left, then out and back beginning on the right";
  r.order.push_back("Set tyre pressures cold and write them down. Drive ten minutes so that tyres and dampers are warm.");
  r.order.push_back("Fix the phone flat and firm (a push must not move it), begin recording, stand still for ten seconds with the engine running.");
  if (request.can_change_at_site) {
    const int half = std::max(4, passes / 2 / 4 * 4 == 0 ? 4 : passes / 2 / 4 * 4);
    r.order.push_back(text("Setup A: %d passes (%s).", half, four.c_str()));
    r.order.push_back(text("Change to setup B without moving the phone, then %d passes; stand still ten seconds before and after.", half));
    r.order.push_back(text("Setup B again: %d passes.", std::max(4, passes - half)));
    r.order.push_back(text("Back to setup A: %d passes. A B B A cancels what drifts: tyres, heat, practice.", std::max(4, passes - half)));
  } else {
    r.order.push_back(text("Before the change: %d passes (%s).", passes, four.c_str()));
    r.order.push_back("The same day, 4 passes with both bars unhooked where your car allows it: they join the two days (bridge).");
    r.order.push_back(text("After the change, on the other day: 4 passes unhooked first, then %d passes with the parts fitted.", passes));
  }
  r.order.push_back("Stand still for ten seconds at the end and stop the recording. Copy it off the phone before anything else.");

  r.drivers_card = {text("Speed %.0f km/h, held through all cones: lift or brake only after the last one.", 3.6 * best.speed),
                    text("%d cones, %.0f m apart. Pass each with half a metre to spare.", best.cones, best.spacing),
                    "Begin at half the speed and work up over three passes.",
                    "First cone: left, left, right, right, and so on.",
                    "Same line, same speed, same load, windows and fuel as they are. Count a pass with a hit cone or a slide as void.",
                    "Stop at once when anything smells, knocks or feels loose."};
  r.cannot_be_shown.push_back(needed && !r.resolution.empty()
                                  ? text("A change below %.1f %% with %d passes each.", 100.0 * static_cast<double>(r.resolution.front().smallest_change), r.resolution.front().passes)
                                  : std::string("A change as small as the one asked for."));
  r.cannot_be_shown.push_back("Which axle lets go first, and grip: that needs the limit and room for a mistake, which a slalom at this speed is not.");
  r.cannot_be_shown.push_back("Comfort. One-wheel bumps can be compared at walking speed over a board of known height.");
  if (lateral < 0.4 * kGravity) r.cannot_be_shown.push_back("Bump stops: they may touch only at higher g than this place allows.");
  r.cannot_be_shown.push_back("The lean itself to better than about 4 %: the phone's scale stands in the way. The change does not suffer from it.");

  r.cautions = {"Private ground with the owner's permission only; never a public road.",
                "Walk the surface first: holes, drains, gravel, kerbs. Nobody stands in line with the run-out.",
                "A second person watches and stops the test; seat belts, and helmets where the ground's rules ask for them.",
                text("Keep %.0f m free behind the last cone and 3 m on each side.", best.run_out),
                "After any work underneath: check torques before the first pass and again after it."};

  r.cone_plan.push_back({0, base::Length(0.0), base::Length(1.5), "start gate, left"});
  r.cone_plan.push_back({0, base::Length(0.0), base::Length(-1.5), "start gate, right"});
  for (int i = 0; i < best.cones; ++i) r.cone_plan.push_back({i + 1, base::Length(best.run_in + best.spacing * i), base::Length(0.0), "slalom"});
  r.cone_plan.push_back({0, base::Length(best.length()), base::Length(1.5), "stop gate, left"});
  r.cone_plan.push_back({0, base::Length(best.length()), base::Length(-1.5), "stop gate, right"});

  answer.assume("The driven path is a sine between the cones; lateral acceleration is its half height times (π × speed / spacing)².");
  answer.assume("Passes scatter independently of each other; practice and heat are met by the order.");
  answer.cite("Cohen 1988");
  return answer;
}

Operation test_plan_operation() {
  return operation<&test_plan>("test", "plan", "How do I test fairly in the place I have?")
      .helped("From the size of the place and its surface: how many cones how far apart, at which speed; from the change worth knowing and the scatter: how "
              "many passes. With the order that cancels drift, a card for the driver, and what cannot be shown there. A smaller place tests the "
              "same thing at lower speed: at the same lateral acceleration the rhythm stays.")
      .shown_by("test plan --site-length-m 150 --wanted-change-percent 10");
}

}  // namespace rollwright::ops
