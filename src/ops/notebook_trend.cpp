#include "ops/notebook_trend.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "ops/shared/garage.h"
#include "ops/shared/sentences.h"
#include "stats/control_chart.h"
#include "wire/json_text.h"
#include "wire/read.h"

namespace rollwright::ops {

namespace unit = base::unit;

void NotebookTrendRequest::describe(base::RecordType<NotebookTrendRequest>& r) {
  r.field<&NotebookTrendRequest::outings>("outings", "The outings; without any, those of the notebook.");
  r.field<&NotebookTrendRequest::car>("car", "Only outings of this car.");
  r.field<&NotebookTrendRequest::false_alarm_rate>("false_alarm_rate", unit::percent, "How often an outing may alarm though nothing changed.").between(0.01, 20);
  r.field<&NotebookTrendRequest::day_to_day>("day_to_day", unit::percent, "How much lean differs from day to day with nothing changed: tyres, load, surface (standard deviation).").between(0.1, 30);
}

void TrendPoint::describe(base::RecordType<TrendPoint>& r) {
  r.about("One outing on the chart.");
  r.field<&TrendPoint::date>("date", "The day.");
  r.field<&TrendPoint::name>("name", "The outing.");
  r.field<&TrendPoint::setup>("setup", "Its setup.");
  r.field<&TrendPoint::roll_gradient>("roll_gradient", unit::deg_per_g, "Measured lean.");
  r.field<&TrendPoint::expected>("expected", unit::deg_per_g, "Centre and alarm limits, from the outings before it with the same setup.");
  r.field<&TrendPoint::alarm>("alarm", "What sticks out.");
}

void NotebookTrendResult::describe(base::RecordType<NotebookTrendResult>& r) {
  r.field<&NotebookTrendResult::meaning>("meaning", "What it means, in a sentence.");
  r.field<&NotebookTrendResult::is_alarmed>("is_alarmed", "True when the last outing of a setup in use alarms.");
  r.field<&NotebookTrendResult::hints>("hints", "What it may be and what to look at first.");
  r.field<&NotebookTrendResult::chance_of_false_alarm>("chance_of_false_alarm", unit::percent, "Chance that at least one of the outings judged here alarms though nothing changed, at most.");
  r.field<&NotebookTrendResult::points>("points", "The outings in order of their dates.");
}

namespace {

constexpr const char* kCaution =
    "Before the next drive: car on stands on level ground, wheels chocked; look at both links, their joints and locknuts, the bar's brackets and their bolts, and the bushings, and tighten by the car maker's manual.";

base::Outcome<std::vector<OutingSheet>> outings_of(const NotebookTrendRequest& request, const Context& context, base::Footing& footing) {
  auto outings = request.outings;
  if (outings.empty()) {
    const auto notebook = open_notebook(context);
    if (!notebook) return base::fail(notebook.error());
    const auto lines = (*notebook)->documents("outing/1");
    if (!lines) return base::fail(lines.error());
    for (const auto& line : *lines) {
      const auto version = (*notebook)->version(line.latest.id);
      if (!version) return base::fail(version.error());
      const auto json = wire::parse(version->text, version->name);
      auto sheet = json ? wire::read_as<OutingSheet>(*json) : base::Outcome<OutingSheet>(base::fail(json.error()));
      if (!sheet) {
        footing.warn("not_ready", "The outing \"" + version->name + "\" was left out: " + sheet.error().front().where + ": " + sheet.error().front().message, version->name);
        continue;
      }
      outings.push_back(std::move(*sheet));
    }
  }
  if (!request.car.empty()) std::erase_if(outings, [&](const auto& o) { return o.car != request.car; });
  // By date; on one day in the order in which they were given.
  if (request.outings.empty()) std::reverse(outings.begin(), outings.end());
  std::stable_sort(outings.begin(), outings.end(), [](const auto& a, const auto& b) { return a.date < b.date; });
  return outings;
}

// The name under which outings are compared with each other.
std::string series_of(const OutingSheet& o) { return o.car + "\n" + (o.bars_unhooked ? "unhooked" : o.setup); }

// Has the difference between left and right changed by more than chance? Two standard errors besides the usual ±.
bool sides_came_apart(const std::vector<const OutingSheet*>& before, const OutingSheet& now) {
  if (!now.left_right_difference) return false;
  double sum = 0.0, variance = 0.0;
  int count = 0;
  for (const auto* o : before) {
    if (!o->left_right_difference) continue;
    sum += o->left_right_difference->value.si();
    variance += std::pow(o->left_right_difference->sd.si(), 2);
    ++count;
  }
  if (count == 0) return false;
  const double error = std::sqrt(variance / count / count + std::pow(now.left_right_difference->sd.si(), 2) + 0.02 * 0.02);
  return std::abs(now.left_right_difference->value.si() - sum / count) > 3.0 * error;
}

void hints_for(TrendAlarm alarm, const OutingSheet& now, double centre, const std::vector<const OutingSheet*>& before, const OutingSheet* unhooked, std::vector<std::string>& hints) {
  const double value = now.roll_gradient.value.si();
  if (alarm == TrendAlarm::step_up && sides_came_apart(before, now)) {
    hints.push_back("It leans more, and left and right have come apart: a torn or loose bracket holds in one direction and lifts off in the other. Look at the brackets and their bolts first.");
  } else if (alarm == TrendAlarm::step_up && unhooked != nullptr && (value - centre) > 0.7 * (unhooked->roll_gradient.value.si() - centre)) {
    hints.push_back("It leans nearly as with both bars unhooked: both bars may do nothing (dead bar). Look whether links were left off after other work.");
  } else if (alarm == TrendAlarm::step_up) {
    hints.push_back("It leans more since this outing, the same both ways as far as was measured: one bar may do nothing (failed link, lost nut, broken bar). Look at every link first.");
    hints.push_back("A spring that broke, lower tyre pressure, softer tyres or more load up high do the same.");
  } else if (alarm == TrendAlarm::drift_up) {
    hints.push_back("It leans more little by little: worn or soft bushings, growing play in the links' joints, or bracket bolts that settle.");
  } else if (alarm == TrendAlarm::step_down || alarm == TrendAlarm::drift_down) {
    hints.push_back("It leans less than it did. A bar that binds in dry bushings, bump stops that touch because the ride height sank, higher tyre pressure, or a phone held differently do that. A bar that binds also loads its links and brackets more.");
  }
}

}  // namespace

base::Outcome<base::Answer<NotebookTrendResult>> notebook_trend(const NotebookTrendRequest& request, Context& context) {
  base::Answer<NotebookTrendResult> answer;
  auto& result = answer.result;
  const auto found = outings_of(request, context, answer);
  if (!found) return base::fail(found.error());
  const auto& outings = *found;
  if (outings.empty()) return base::fail(base::no_answer("no_outings", "outings", "There are no outings to look at.", "documents of kind outing/1", "Keep your outings with 'rollwright notebook add'."));
  std::map<std::string, std::vector<std::size_t>> series;
  for (std::size_t i = 0; i < outings.size(); ++i) {
    series[series_of(outings[i])].push_back(i);
    const auto& o = outings[i];
    const auto k = o.roll_gradient;
    result.points.push_back({o.date, o.name, o.bars_unhooked ? "bars unhooked" : o.setup, base::Interval<base::AnglePerAcceleration>::from_sd(k.value, k.sd), std::nullopt, TrendAlarm::none});
  }
  int judged = 0;
  for (const auto& [name, members] : series) {
    std::vector<stats::ChartReading> readings;
    for (const auto i : members) readings.push_back({outings[i].roll_gradient.value.si(), outings[i].roll_gradient.sd.si()});
    stats::ChartOptions options;
    options.false_alarm_rate = request.false_alarm_rate;
    options.day_to_day = request.day_to_day * readings.front().value;
    const auto chart = stats::control_chart(readings, options);
    std::vector<const OutingSheet*> before;
    for (std::size_t j = 0; j < members.size(); ++j) {
      const auto& o = outings[members[j]];
      auto& point = result.points[members[j]];
      point.alarm = static_cast<TrendAlarm>(static_cast<int>(chart[j].alarm));
      if (chart[j].is_judged) {
        ++judged;
        point.expected = {base::AnglePerAcceleration(chart[j].centre), base::AnglePerAcceleration(chart[j].low), base::AnglePerAcceleration(chart[j].high)};
      }
      if (point.alarm == TrendAlarm::none) {
        before.push_back(&o);
      } else if (j + 1 == members.size() && !o.bars_unhooked) {
        const OutingSheet* unhooked = nullptr;
        for (const auto& other : outings) {
          if (other.bars_unhooked && other.car == o.car) unhooked = &other;
        }
        result.is_alarmed = true;
        hints_for(point.alarm, o, chart[j].centre, before, unhooked, result.hints);
      }
    }
  }
  result.chance_of_false_alarm = 1.0 - std::pow(1.0 - request.false_alarm_rate, judged);
  const auto& last = result.points.back();
  if (result.is_alarmed) {
    result.meaning = "Something has changed: the lean no longer fits the outings before. " + std::string(kCaution);
  } else if (judged == 0) {
    result.meaning = "Nothing can be compared yet: no setup has more than one outing. Go out again with the same setup.";
  } else {
    result.meaning = "Nothing sticks out: " + std::to_string(judged) + (judged == 1 ? " outing fits" : " outings fit") + " those before with the same setup. The last one leans " + interval_text(last.roll_gradient, unit::deg_per_g) + ".";
  }
  answer.assume("Outings with the same words for the setup are the same setup, measured the same way.");
  answer.assume("From day to day the lean differs by " + pm_text(request.day_to_day * 100, 0, "%") + " (standard deviation) with nothing changed; a typical figure from practice, no source. The outings themselves correct it.");
  answer.cite("Hawkins 1987");
  answer.cite("Siegmund 1985");
  return answer;
}

Operation notebook_trend_operation() {
  return operation<&notebook_trend>("notebook", "trend", "Is the car still as it was?")
      .helped("A control chart of the lean over your outings, each compared with those before it with the same setup. It alarms when an outing sticks "
              "out or the lean drifts, with the stated rate of false alarms, and says what a failed link, torn bracket or dead bar would look like. "
              "No alarm does not replace looking at the parts.")
      .shown_by("notebook trend outings/wren-2026-04-12.json outings/wren-2026-06-07.json outings/wren-2026-08-23.json outings/wren-2026-10-18.json");
}

}  // namespace rollwright::ops
