#include "ops/verdict_compare.h"

#include <algorithm>
#include <cmath>

#include "ops/shared/sentences.h"
#include "ops/shared/sharing.h"

namespace rollwright::ops {

namespace unit = base::unit;

void VerdictCompareRequest::describe(base::RecordType<VerdictCompareRequest>& r) {
  r.field<&VerdictCompareRequest::shares>("shares", "Share files; the first is the one that the others are held against.").required();
  r.check([](const VerdictCompareRequest& request, base::Problems& problems) {
    if (request.shares.size() < 2) problems.push_back(base::input_problem("too_few", "shares", "There is nothing to compare.", "at least two share files", "'verdict make --share-file NAME' writes one."));
  });
}

void ComparedShare::describe(base::RecordType<ComparedShare>& r) {
  using C = ComparedShare;
  r.about("One share file.");
  r.field<&C::name>("name", "Which one.");
  r.field<&C::worth>("worth", "Its own verdict.");
  r.field<&C::is_measured>("is_measured", "Whether the change was measured or only forecast.");
  r.field<&C::change>("change", unit::percent, "Change of lean.");
  r.field<&C::changed>("changed", "What was changed.");
  r.field<&C::cost>("cost", "Cost, hours included at their worth.");
  r.field<&C::cost_per_percent>("cost_per_percent", "Cost for each per cent of lean taken away.");
  r.field<&C::work>("work", unit::hours, "Hours of work.");
  r.field<&C::against_first>("against_first", "Held against the first.");
}

void VerdictCompareResult::describe(base::RecordType<VerdictCompareResult>& r) {
  r.field<&VerdictCompareResult::meaning>("meaning", "What it means, in a sentence.");
  r.field<&VerdictCompareResult::shares>("shares", "The changes.");
}

namespace {

const base::Interval<base::Ratio>& change_of(const ShareSheet& s) { return s.measured_change ? *s.measured_change : s.forecast_change; }

double half_width(const base::Interval<base::Ratio>& i) { return 0.5 * (double(i.high) - double(i.low)); }

std::string class_words(const ShareSheet& s) {
  std::string text = base::EnumNames<CarClass>::names()[static_cast<std::size_t>(s.car_class)];
  std::replace(text.begin(), text.end(), '_', ' ');
  return text;
}

// Two changes differ where the difference is larger than both doubts together (independent, added in squares).
std::string held_against(const ShareSheet& first, const ShareSheet& other) {
  const auto &a = change_of(first), &b = change_of(other);
  const double difference = 100 * (double(b.value) - double(a.value)), doubt = 100 * std::hypot(half_width(a), half_width(b));
  std::string text = std::abs(difference) <= doubt ? "no difference that the two can show (" + pm_text(difference, doubt, "points") + ")"
                                                   : pm_text(std::abs(difference), doubt, "points") + (difference < 0 ? " more lean taken away" : " less lean taken away");
  if (first.car_class != other.car_class || first.drive != other.drive) text += "; another kind of car";
  if (first.changed != other.changed) text += "; other parts";
  if (!first.measured_change || !other.measured_change) text += "; not both measured";
  return text;
}

}  // namespace

base::Outcome<base::Answer<VerdictCompareResult>> verdict_compare(const VerdictCompareRequest& request, Context&) {
  base::Answer<VerdictCompareResult> answer;
  auto& r = answer.result;
  bool same_money = true, same_cars = true;
  for (std::size_t i = 0; i < request.shares.size(); ++i) {
    const auto& s = request.shares[i];
    same_money = same_money && s.currency == request.shares[0].currency;
    same_cars = same_cars && s.car_class == request.shares[0].car_class;
    ComparedShare c;
    c.name = (i == 0 ? "first" : "number " + std::to_string(i + 1)) + std::string(" (") + class_words(s) + (s.month.empty() ? "" : ", " + s.month) + (s.invented ? ", invented)" : ")");
    c.worth = s.worth;
    c.is_measured = s.measured_change.has_value();
    c.change = change_of(s);
    for (const auto part : s.changed) c.changed += (c.changed.empty() ? "" : ", ") + std::string(part_words(part));
    c.work = s.work;
    if (s.total_cost) {
      c.cost = pm_text(s.total_cost->si(), 0, s.currency);
      const double gone = -100 * double(c.change.value);
      if (gone > 0.5) c.cost_per_percent = pm_text(s.total_cost->si() / gone, 0, s.currency);
    }
    if (i > 0) c.against_first = held_against(request.shares[0], s);
    r.shares.push_back(std::move(c));
  }
  const auto best = std::min_element(r.shares.begin(), r.shares.end(), [](const auto& a, const auto& b) { return double(a.change.value) < double(b.change.value); });
  r.meaning = "Most lean taken away: " + best->name + ", " + percent_text(best->change) + (best->is_measured ? " (measured)." : " (forecast only).");
  if (!same_cars) answer.warn("other_cars", "These are cars of different classes: what a bar does depends on the car, so the percentages compare, the causes do not.");
  if (!same_money) answer.warn("other_money", "The costs are in different currencies and are not held against each other.");
  answer.assume("A share file is what its sender says; nothing in it can be checked here.");
  return answer;
}

Operation verdict_compare_operation() {
  return operation<&verdict_compare>("verdict", "compare", "How does that compare with what others got?")
      .helped("Share files side by side: the change of lean with its interval, what was changed, cost and hours, and whether two really differ or their doubts overlap. "
              "Money of different currencies is not compared.")
      .shown_by("verdict compare shares/wren-both-bars.json shares/bittern-rear-bar.json");
}

}  // namespace rollwright::ops
