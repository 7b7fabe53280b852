#include "ops/demo.h"

#include <cmath>

#include "base/assert.h"
#include "ops/shared/bar_rates.h"
#include "ops/shared/car_model.h"
#include "ops/shared/demo_documents.h"
#include "ops/shared/typical_car.h"
#include "phone/engine_drive.h"
#include "phone/handset.h"
#include "phone/random_case.h"
#include "wire/read.h"

namespace rollwright::ops {

namespace unit = base::unit;

void DemoRequest::describe(base::RecordType<DemoRequest>& r) {
  r.field<&DemoRequest::seed>("seed", "Start of the random numbers: another day, another phone.").between(0, 1000000);
  r.field<&DemoRequest::logs>("logs", "Also give the simulated logs.");
}

void NamedFile::describe(base::RecordType<NamedFile>& r) {
  r.about("A file that belongs to an answer.");
  r.field<&NamedFile::name>("name", "Its name.");
  r.field<&NamedFile::text>("text", "What is in it.");
}

void DemoResult::describe(base::RecordType<DemoResult>& r) {
  r.field<&DemoResult::meaning>("meaning", "What it shows, in a sentence.");
  r.field<&DemoResult::car>("car", "The invented car.").detail();
  r.field<&DemoResult::bars>("bars", "Its invented bars.").detail();
  r.field<&DemoResult::before_setup>("before_setup", "The setup before.").detail();
  r.field<&DemoResult::after_setup>("after_setup", "The setup after.").detail();
  r.field<&DemoResult::phone>("phone", "Where the phone rode, as its owner noted it.").detail();
  r.field<&DemoResult::alternatives>("alternatives", "What the same money would have bought.").detail();
  r.field<&DemoResult::wanted_change>("wanted_change", unit::percent, "The change of lean that would make it worth it.").detail();
  r.field<&DemoResult::cost>("cost", "What the change cost.").detail();
  r.field<&DemoResult::verdict>("verdict", "The verdict.");
  r.field<&DemoResult::files>("files", "The documents and the simulated logs.").detail();
}

namespace {

template <class R>
R document(const std::string& text) {
  const auto json = wire::parse(text, "demo");
  ROLLWRIGHT_ASSERT(json.has_value());
  auto sheet = wire::read_as<R>(*json);
  ROLLWRIGHT_ASSERT(sheet.has_value());
  return std::move(*sheet);
}

// Nobody's car is exactly what its sheet says. The simulated one differs from the Wren's sheet as a real one would: by
// about one standard deviation here and there. All of it invented.
vehicle::Car real_car(const CarSheet& completed, const Setup& setup, const FittedBar* front, const FittedBar* rear) {
  auto car = car_model(completed, setup, front, rear);
  car.cg_height = base::Length(car.cg_height.si() + 0.010);
  car.front.roll_centre_height = base::Length(car.front.roll_centre_height.si() - 0.018);
  car.rear.spring.rate = base::Stiffness(0.985 * car.rear.spring.rate.si());
  car.front.tyre.vertical_stiffness = base::Stiffness(1.06 * car.front.tyre.vertical_stiffness.si());
  car.front.bar.motion_ratio = 1.02 * double(car.front.bar.motion_ratio);
  return car;
}

struct Logs {
  std::string before, after;
};

base::Outcome<Logs> simulated_logs(const CarSheet& completed, const Setup& before, const Setup& after, const BarRates& front, const BarRates& rear, int seed) {
  Logs logs;
  const auto phone = phone::draw_case(phone::Family::typical, 1.0, static_cast<std::uint64_t>(seed));
  for (const auto* setup : {&before, &after}) {
    const auto* f = setup->front.bar.empty() ? nullptr : front.find(setup->front.setting);
    const auto* r = setup->rear.bar.empty() ? nullptr : rear.find(setup->rear.setting);
    phone::EnginePlan plan;
    plan.passes = 4;
    plan.seed = static_cast<std::uint64_t>(seed) * 2 + (setup == &after ? 1 : 0);
    const auto drive = phone::drive_engine(real_car(completed, *setup, f ? &f->bar : nullptr, r ? &r->bar : nullptr), plan, phone.spot);
    if (!drive) return base::fail(drive.error());
    (setup == &before ? logs.before : logs.after) = phone::to_table(phone::record(drive->motion, phone.handset, plan.seed + 100));
  }
  return logs;
}

}  // namespace

base::Outcome<base::Answer<DemoResult>> demo(const DemoRequest& request, Context& context) {
  VerdictRequest verdict;
  std::vector<NamedFile> files;
  for (const auto& d : demo_documents()) {
    files.push_back({d.name, d.text});
    if (d.name == "wren.json") verdict.car = document<CarSheet>(d.text);
    else verdict.bars.push_back(document<BarSheet>(d.text));
  }
  const auto find = [&](const std::string& name) -> const BarSheet& {
    for (const auto& b : verdict.bars) {
      if (b.name == name) return b;
    }
    throw base::InternalError("the demo has no bar " + name);
  };
  verdict.before_setup = Setup{};
  verdict.before_setup->name = "as built";
  verdict.after_setup.name = "both bars";
  verdict.after_setup.front.bar = "front two-hole";
  verdict.after_setup.front.setting = "1/1";
  verdict.after_setup.rear.bar = "rear three-hole";
  verdict.after_setup.rear.setting = "2/2";
  const auto front = bar_rates(find("front two-hole")), rear = bar_rates(find("rear three-hole"));
  ROLLWRIGHT_ASSERT(front.has_value() && rear.has_value());

  context.progress.report(0.05, "driving the simulated car");
  const auto logs = simulated_logs(complete(verdict.car).sheet, *verdict.before_setup, verdict.after_setup, *front, *rear, request.seed);
  if (!logs) return base::fail(logs.error());
  verdict.before = {base::text_source("wren-before.csv", logs->before)};
  verdict.after = {base::text_source("wren-after.csv", logs->after)};
  const auto spot = phone::draw_case(phone::Family::typical, 1.0, static_cast<std::uint64_t>(request.seed)).spot;
  // What the club member noted about the phone's place: rounded, as people do.
  verdict.phone.height = base::Estimate<base::Length>::from_pm(base::Length(std::round(spot.height * 20) / 20), unit::mm(100), base::Origin::measured);
  verdict.phone.ahead = base::Estimate<base::Length>::from_pm(base::Length(std::round(spot.ahead * 5) / 5), unit::mm(300), base::Origin::measured);
  verdict.phone.mount = signal::Mount::fixed;
  verdict.cost.currency = "EUR";
  verdict.cost.parts = {{"front bar, two holes", base::Money(235)}, {"rear bar, three holes", base::Money(198)}, {"four adjustable links", base::Money(140)}, {"bushings and grease", base::Money(38)}};
  verdict.cost.work = unit::hours(7.5);
  verdict.cost.worth_of_an_hour = base::Money(15);
  Setup tyres;
  tyres.name = "sport tyres instead";
  tyres.front.tyre_kind = tyres.rear.tyre_kind = TyreKind::street_track;
  Setup springs;
  springs.name = "springs 30 % stiffer instead";
  springs.front.spring_rate = base::Estimate<base::Stiffness>::from_pm(unit::n_per_mm(32.5), unit::n_per_mm(1.5), base::Origin::maker);
  springs.rear.spring_rate = base::Estimate<base::Stiffness>::from_pm(unit::n_per_mm(60), unit::n_per_mm(2.5), base::Origin::maker);
  verdict.alternatives = {{tyres, base::Money(560)}, {springs, base::Money(420)}};
  verdict.feel = {{FeelQuestion::lean, 4, 8, true}, {FeelQuestion::turn_in, 5, 7, true}, {FeelQuestion::comfort, 7, 6, true}};
  verdict.wanted_change = -0.15;
  verdict.traces = true;

  auto answer = verdict_make(verdict, context);
  if (!answer) return base::fail(answer.error());
  base::Answer<DemoResult> result;
  static_cast<base::Footing&>(result) = *answer;
  result.assume("Everything here is invented: the car, its bars, the drive, the phone and the prices.");
  result.result.meaning = answer->result.meaning;
  result.result.car = verdict.car;
  result.result.bars = verdict.bars;
  result.result.before_setup = *verdict.before_setup;
  result.result.after_setup = verdict.after_setup;
  result.result.phone = verdict.phone;
  result.result.alternatives = verdict.alternatives;
  result.result.wanted_change = verdict.wanted_change;
  result.result.cost = verdict.cost;
  result.result.verdict = std::move(answer->result);
  if (request.logs) {
    files.push_back({"wren-before.csv", logs->before});
    files.push_back({"wren-after.csv", logs->after});
  }
  result.result.files = std::move(files);
  return result;
}

Operation demo_operation() {
  return operation<&demo>("", "demo", "Show me the whole job on an invented car.")
      .helped("The Wren, an invented hatchback, before and after two bars: its sheets, a forecast, two logs made by driving a simulated car with a simulated "
              "phone, the comparison and the verdict. --out FOLDER writes the documents, the logs and the report.")
      .shown_by("demo")
      .takes_long();
}

}  // namespace rollwright::ops
