#include "ops/shared/typical_candidates.h"

#include <algorithm>

#include "base/assert.h"
#include "ops/shared/typical_car.h"
#include "wire/read.h"

namespace rollwright::ops {

namespace unit = base::unit;

const CandidateSheet& typical_candidates() {
  static const CandidateSheet sheet = [] {
    const auto json = wire::parse(typical_candidates_text(), "candidates.json");
    ROLLWRIGHT_ASSERT(json.has_value());
    auto read = wire::read_as<CandidateSheet>(*json);
    ROLLWRIGHT_ASSERT(read.has_value());
    return std::move(*read);
  }();
  return sheet;
}

namespace {

bool changes_bar_at(const std::vector<Candidate>& list, bool front) {
  return std::any_of(list.begin(), list.end(), [&](const Candidate& c) { return c.what == CandidateKind::bar && (front ? c.change.front : c.change.rear).changes_bar(); });
}

bool has_sheet_at(const std::vector<BarSheet>& bars, AxleName axle) {
  return std::any_of(bars.begin(), bars.end(), [&](const auto& b) { return b.axle == axle; });
}

}  // namespace

std::vector<Candidate> typical_candidates_for(const CarSheet& car, const std::vector<Candidate>& own, const std::vector<BarSheet>& bars) {
  std::vector<Candidate> all;
  for (Candidate candidate : typical_candidates().candidates) {
    if (std::any_of(own.begin(), own.end(), [&](const auto& c) { return c.name == candidate.name; })) continue;
    if (candidate.what == CandidateKind::bar) {
      const bool front = candidate.change.front.changes_bar();
      if (changes_bar_at(own, front) || has_sheet_at(bars, front ? AxleName::front : AxleName::rear)) continue;
      const AxleSheet& axle = front ? car.front : car.rear;
      if (axle.bar_rate_per_side && axle.bar_rate_per_side->value.si() == 0.0) {
        CarSheet without = car;
        (front ? without.front : without.rear).bar_rate_per_side.reset();
        const auto completed = complete(without);
        AxleChange& change = front ? candidate.change.front : candidate.change.rear;
        change = AxleChange{};
        change.bar_rate_per_side = (front ? completed.sheet.front : completed.sheet.rear).bar_rate_per_side;
        candidate.name = front ? "a front bar where there is none" : "a rear bar where there is none";
        candidate.notes = "Rate typical of the class; check that the body has mounts for it.";
      }
    }
    all.push_back(std::move(candidate));
  }
  return all;
}

void convert_prices(Candidate& candidate, double rate, const std::string& from, const std::string& to) {
  for (auto* price : {&candidate.price, &candidate.price_low, &candidate.price_high}) {
    if (*price) **price = base::Money(rate * (*price)->si());
  }
  for (auto& also : candidate.knock_on) also.price = base::Money(rate * also.price.si());
  candidate.origin += candidate.origin.empty() ? "" : "; ";
  candidate.origin += "price turned from " + from + " into " + to + " at your rate";
}

std::vector<Candidate> candidates_of_bars(const std::vector<BarSheet>& sheets, const std::vector<BarRates>& rates, const std::vector<Candidate>& own) {
  std::vector<Candidate> all;
  for (std::size_t i = 0; i < sheets.size(); ++i) {
    const auto picks = [&](const Candidate& c) { return c.change.front.bar == sheets[i].name || c.change.rear.bar == sheets[i].name; };
    if (!sheets[i].axle || std::any_of(own.begin(), own.end(), picks)) continue;
    const bool front = *sheets[i].axle == AxleName::front;
    for (const auto& setting : rates[i].settings) {
      Candidate c;
      c.name = sheets[i].name + " " + setting.id;
      c.what = CandidateKind::bar;
      AxleChange& change = front ? c.change.front : c.change.rear;
      change.bar = sheets[i].name;
      change.setting = setting.id;
      // [TradeValues: price.bar.part, hours.bar.front, hours.bar.rear]
      c.price_low = base::Money(150);
      c.price = base::Money(250);
      c.price_high = base::Money(600);
      c.work_low = unit::hours(front ? 1.5 : 0.75);
      c.work = unit::hours(front ? 3 : 1.5);
      c.work_high = unit::hours(front ? 6 : 3);
      c.origin = "rate from its bar sheet; price and hours: trade values, until you give your own";
      all.push_back(std::move(c));
    }
  }
  return all;
}

}  // namespace rollwright::ops
