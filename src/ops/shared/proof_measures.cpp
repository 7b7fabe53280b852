#include "ops/shared/proof_measures.h"

#include <cmath>
#include <cstdio>

#include "ops/shared/film_measure.h"
#include "ops/shared/stopwatch_measure.h"

namespace rollwright::ops {

namespace unit = base::unit;

void OrderRecord::describe(base::RecordType<OrderRecord>& r) {
  r.about("Whether the order of the runs explains part of the change: practice, heat, a phone that works loose.");
  r.field<&OrderRecord::text>("text", "What it means, in a sentence or two.");
  r.field<&OrderRecord::driven>("driven", "The order driven, a letter a run: A before, B after; a blank between recordings.");
  r.field<&OrderRecord::trend_per_run>("trend_per_run", unit::percent, "Change from one run to the next, whatever is fitted; nothing where there are too few runs.");
  r.field<&OrderRecord::change_without_trend>("change_without_trend", unit::percent, "The change with the trend taken out.");
  r.field<&OrderRecord::is_corrected>("is_corrected", "True when the change reported has the trend taken out.");
  r.field<&OrderRecord::is_balanced>("is_balanced", "True when the order cancels a trend by itself, as A B B A does.");
}

void MeasuredChange::describe(base::RecordType<MeasuredChange>& r) {
  r.about("Another measurement compared before and after.");
  r.field<&MeasuredChange::kind>("kind", "Which kind.");
  r.field<&MeasuredChange::what>("what", "What was measured.");
  r.field<&MeasuredChange::text>("text", "What it means, in a sentence or two.");
  r.field<&MeasuredChange::answer>("answer", "Changed, no change, or cannot tell.");
  r.field<&MeasuredChange::change>("change", unit::percent, "Change, negative for less; null when the data set no bound.");
  r.field<&MeasuredChange::is_practical>("is_practical", "True when it is large enough to notice.");
  r.field<&MeasuredChange::no_change_larger_than>("no_change_larger_than", unit::percent, "Any change is smaller than this, at 95 %.");
  r.field<&MeasuredChange::runs_before>("runs_before", "Runs that count, before.");
  r.field<&MeasuredChange::runs_after>("runs_after", "Runs that count, after.");
  r.field<&MeasuredChange::value_before>("value_before", "Before, with unit and ±.");
  r.field<&MeasuredChange::value_after>("value_after", "After, with unit and ±.");
  r.field<&MeasuredChange::order>("order", "Whether the order of the runs explains part of it.");
  r.field<&MeasuredChange::flags>("flags", "What limits the comparison.");
}

namespace {

base::Interval<base::Ratio> ratio_of_log(const stats::Mean& m) {
  return {base::Ratio(std::expm1(m.value)), base::Ratio(std::expm1(m.low())), base::Ratio(std::expm1(m.high()))};
}

std::string text(const char* format, auto... values) {
  char buffer[400];
  std::snprintf(buffer, sizeof buffer, format, values...);
  return buffer;
}

}  // namespace

OrderRecord order_record(const stats::OrderEffect& effect, const std::string& driven, bool is_known, bool is_corrected, const std::string& of_what) {
  OrderRecord r;
  r.driven = driven;
  r.trend_per_run = ratio_of_log(effect.trend);
  r.change_without_trend = ratio_of_log(effect.corrected);
  r.is_corrected = is_corrected;
  // A quarter more of the interval is what nobody notices (invented).
  r.is_balanced = effect.inflation < 1.25;
  const auto& t = *r.trend_per_run;
  const bool is_sure = static_cast<double>(t.low) > 0.0 || static_cast<double>(t.high) < 0.0;
  const std::string trend = text("%+.1f %% a run (%+.1f to %+.1f)", 100.0 * double(t.value), 100.0 * double(t.low), 100.0 * double(t.high));
  if (!is_known) r.text = "The order of the recordings is not known, so before is taken to have come first. ";
  r.text += is_sure ? "From run to run " + of_what + " moved by " + trend + ", whatever was fitted. " : "No trend over the runs can be told: " + trend + ". ";
  if (r.is_balanced) r.text += is_corrected ? "It is taken out, and the order was balanced." : "The order was balanced, so a trend falls out of the change by itself.";
  else if (is_corrected) r.text += "It is taken out of the change; a balanced order (A B B A) would have cost less.";
  else r.text += "In this order a steady trend cannot be told apart from the parts: with one taken out the change is " +
                 text("%+.0f %% (%+.0f to %+.0f).", 100.0 * double(r.change_without_trend->value), 100.0 * double(r.change_without_trend->low),
                      100.0 * double(r.change_without_trend->high)) + " A B B A would settle it.";
  return r;
}

const std::vector<ProofMeasure>& proof_measures() {
  static const std::vector<ProofMeasure> measures{&stopwatch_measure, &film_measure};
  return measures;
}

}  // namespace rollwright::ops
