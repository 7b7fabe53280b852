#include "ops/test_log.h"

#include "ops/shared/sentences.h"

namespace rollwright::ops {

namespace unit = base::unit;

void TestLogRequest::describe(base::RecordType<TestLogRequest>& r) {
  r.field<&TestLogRequest::files>("files", "Logs of one setup: one table, or one file a sensor, or several recordings.").required();
  r.field<&TestLogRequest::phone>("phone", "Where and how the phone rode.");
  r.field<&TestLogRequest::steering>("steering", "Of the car, for understeer from a steering angle in the log; left out, understeer is not read.");
  r.field<&TestLogRequest::columns>("columns", "Corrections of what the columns were taken for.");
  r.field<&TestLogRequest::left_out>("left_out", "Stretches not to be used.");
  r.field<&TestLogRequest::marked>("marked", "Runs that you marked; each takes the place of found ones that it touches.");
  r.field<&TestLogRequest::traces>("traces", "Also give lean over time.");
}

void TestLogResult::describe(base::RecordType<TestLogResult>& r) {
  r.field<&TestLogResult::meaning>("meaning", "What it means, in a sentence.");
  r.field<&TestLogResult::roll_gradient>("roll_gradient", unit::deg_per_g, "Lean of the body against the road (roll gradient).");
  r.field<&TestLogResult::flags>("flags", "Faults and peculiarities of the recording.");
  r.field<&TestLogResult::outing>("outing", "Everything that was found.");
}

base::Outcome<base::Answer<TestLogResult>> test_log(const TestLogRequest& request, Context& context) {
  if (request.files.empty()) return base::fail(base::input_problem("missing", "files", "No log was given.", "at least one file"));
  context.progress.report(0.1, "reading");
  const auto outing = signal::analyse_files(request.files, outing_options(request.phone, request.left_out, request.marked, request.steering), read_options(request.columns));
  if (!outing) return base::fail(outing.error());
  base::Answer<TestLogResult> answer;
  auto& result = answer.result;
  result.outing = outing_record(*outing, request.traces);
  result.roll_gradient = result.outing.roll_gradient;
  result.flags = result.outing.flags;
  int used = 0;
  for (const auto& pass : outing->passes) used += pass.is_used ? 1 : 0;
  result.meaning = "The body leans " + interval_text(result.roll_gradient, unit::deg_per_g) +
                   (outing->is_from_slalom ? ", from " + std::to_string(used) + (used == 1 ? " pass" : " passes") + " through the slalom."
                                           : ", from the whole drive; a slalom would tell it better.");
  if (const auto& k = result.outing.understeer.gradient) {
    result.meaning += " " + result.outing.understeer.text + " Understeer gradient " + interval_text(*k, unit::deg_per_g) + " at the front wheels.";
  }
  for (const auto& flag : outing->flags) {
    if (flag.is_serious) answer.warn(flag.code, flag.text);
  }
  outing_footing(answer);
  return answer;
}

Operation test_log_operation() {
  return operation<&test_log>("test", "log", "How much does the car lean, by my phone's log?")
      .helped("Reads logs of accelerometer and gyroscope (and speed, when there is one) in any shape of table, finds how the phone lay, finds the slalom "
              "passes, and gives the steady lean per lateral g with its interval, by two readings that must agree. Says what spoiled a recording, and "
              "refuses where the data cannot tell. A phone's own roll angle is never used: cornering draws it away from the truth.")
      .shown_by("test log logs/wren-before.csv --set phone.height_mm=620")
      .takes_long();
}

}  // namespace rollwright::ops
