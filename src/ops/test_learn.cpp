#include "ops/test_learn.h"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "decision/learning.h"
#include "ops/shared/bar_rates.h"
#include "ops/shared/car_model.h"
#include "ops/shared/forecast.h"
#include "ops/shared/typical_car.h"
#include "ops/shared/uncertain.h"
#include "vehicle/check.h"
#include "vehicle/rates.h"
#include "vehicle/roll_balance.h"

namespace rollwright::ops {

namespace unit = base::unit;

void SetupMeasured::describe(base::RecordType<SetupMeasured>& r) {
  r.about("What was measured on one setup; give what there is.");
  r.field<&SetupMeasured::setup>("setup", "Name of the setup; empty: the car as the sheet describes it.");
  r.field<&SetupMeasured::roll_gradient>("roll_gradient", unit::deg_per_g, "Lean per g, from 'test log'.").above(0).usual_pm(0.4);
  r.field<&SetupMeasured::roll_gradient_change>("roll_gradient_change", unit::percent,
                                                "Change of lean against the first entry of the list, from 'test prove'. Give this for later setups instead of their "
                                                "lean, because the phone's scale falls out of it.").between(-90, 200).usual_pm(5);
  r.field<&SetupMeasured::roll_stiffness>("roll_stiffness", unit::nm_per_deg, "Installed roll stiffness of springs and bars, from a sill test.").above(0).usual_pm(50);
  r.field<&SetupMeasured::roll_frequency>("roll_frequency", unit::hz, "Natural frequency in roll, from rocking the car by hand.").above(0).usual_pm(0.1);
}

void TestLearnRequest::describe(base::RecordType<TestLearnRequest>& r) {
  r.about("A car sheet and what was measured on that car.");
  r.field<&TestLearnRequest::car>("car", "The car.").required();
  r.field<&TestLearnRequest::bars>("bars", "Bar sheets that the setups pick from by name.");
  r.field<&TestLearnRequest::setups>("setups", "Setups that were measured or are to be forecast; without any, those of the car sheet.");
  r.field<&TestLearnRequest::measured>("measured", "The measurements.").required();
}

void LearnedNumber::describe(base::RecordType<LearnedNumber>& r) {
  r.about("A number of the sheet before and after.");
  r.field<&LearnedNumber::key>("key", "Which, with its unit.");
  r.field<&LearnedNumber::before>("before", "As the sheet said.");
  r.field<&LearnedNumber::before_pm>("before_pm", "± before (95 %).");
  r.field<&LearnedNumber::after>("after", "As the measurements say.");
  r.field<&LearnedNumber::after_pm>("after_pm", "± after (95 %).");
  r.field<&LearnedNumber::shift_sd>("shift_sd", "How far it moved, in standard deviations of its own doubt before. Beyond 2 look at it again.");
  r.field<&LearnedNumber::narrower>("narrower", unit::percent, "How much narrower its ± became.");
}

void LearnedFit::describe(base::RecordType<LearnedFit>& r) {
  r.about("A measurement and what the car predicts for it.");
  r.field<&LearnedFit::what>("what", "The measurement.");
  r.field<&LearnedFit::unit>("unit", "Unit of the numbers.");
  r.field<&LearnedFit::measured>("measured", "Measured.");
  r.field<&LearnedFit::measured_pm>("measured_pm", "± (95 %).");
  r.field<&LearnedFit::predicted_before>("predicted_before", "Forecast with the sheet as it was.");
  r.field<&LearnedFit::predicted_after>("predicted_after", "Forecast with what was learned.");
  r.field<&LearnedFit::predicted_after_pm>("predicted_after_pm", "± of that (95 %).");
}

void LearnedForecast::describe(base::RecordType<LearnedForecast>& r) {
  r.about("Forecast of lean for a setup, before and after learning.");
  r.field<&LearnedForecast::setup>("setup", "The setup.");
  r.field<&LearnedForecast::before>("before", unit::deg_per_g, "With the sheet as it was.");
  r.field<&LearnedForecast::after>("after", unit::deg_per_g, "With what was learned, all numbers moving together.");
  r.field<&LearnedForecast::narrower>("narrower", unit::percent, "How much narrower the interval became.");
}

void TestLearnResult::describe(base::RecordType<TestLearnResult>& r) {
  r.field<&TestLearnResult::meaning>("meaning", "What it means, in a sentence or two.");
  r.field<&TestLearnResult::probability>("probability", "Chance of a misfit as large as this if sheet and measurements are right; below 0.05 be wary.");
  r.field<&TestLearnResult::numbers>("numbers", "Numbers that moved or narrowed, the most first.");
  r.field<&TestLearnResult::fits>("fits", "Measurements against the car.");
  r.field<&TestLearnResult::forecasts>("forecasts", "Forecasts of lean, before and after.");
  r.field<&TestLearnResult::car>("car", "The car sheet with what was learned, to keep.");
}

namespace {

constexpr double kDegPerG = unit::deg_per_g.si_per_unit;

// One measurement, told apart by what it is of.
enum class What { gradient, change, stiffness, frequency };
struct Row {
  What what = What::gradient;
  std::size_t setup = 0;
};

std::string text(const char* format, auto... values) {
  char buffer[300];
  std::snprintf(buffer, sizeof buffer, format, values...);
  return buffer;
}

// The car of every setup for one z.
class Cars {
 public:
  Cars(const CompletedCar& car, std::vector<Setup> setups, const std::vector<BarRates>& bars)
      : sheet_(car.sheet), setups_(std::move(setups)), bars_(bars) {
    sheet_.setups.clear();
    numbers_ = uncertain_numbers(base::type_of<CarSheet>(), &sheet_);
    sheet_numbers_ = numbers_.size();
    for (std::size_t i = 0; i < setups_.size(); ++i) {
      const auto more = uncertain_numbers(base::type_of<Setup>(), &setups_[i], "setups[" + std::to_string(i) + "]");
      numbers_.insert(numbers_.end(), more.begin(), more.end());
    }
  }
  Cars(const Cars&) = delete;  // the numbers point into this object
  Cars& operator=(const Cars&) = delete;

  [[nodiscard]] std::size_t dimensions() const { return numbers_.size() + bars_.size(); }
  [[nodiscard]] std::size_t sheet_numbers() const { return sheet_numbers_; }
  [[nodiscard]] const std::vector<UncertainNumber>& numbers() const { return numbers_; }
  [[nodiscard]] const std::vector<BarRates>& bars() const { return bars_; }

  [[nodiscard]] std::optional<vehicle::Plant> plant(const std::vector<double>& z, std::size_t setup) const {
    apply_draw(numbers_, z.data());
    const auto front = fitted(setups_[setup].front, z), rear = fitted(setups_[setup].rear, z);
    const auto car = car_model(sheet_, setups_[setup], front ? &*front : nullptr, rear ? &*rear : nullptr);
    restore(numbers_);
    if (!vehicle::check(car).empty()) return std::nullopt;
    return vehicle::make_plant(car);
  }

 private:
  [[nodiscard]] std::optional<FittedBar> fitted(const AxleSetup& axle, const std::vector<double>& z) const {
    for (std::size_t i = 0; i < bars_.size(); ++i) {
      if (axle.bar.empty() || bars_[i].name != axle.bar) continue;
      const auto* setting = bars_[i].find(axle.setting);
      FittedBar bar = setting->bar;
      bar.rate_per_side *= std::max(1.0 + z[numbers_.size() + i] * setting->relative_sd, 0.05);
      return bar;
    }
    return std::nullopt;
  }

  CarSheet sheet_;
  std::vector<Setup> setups_;
  const std::vector<BarRates>& bars_;
  std::vector<UncertainNumber> numbers_;
  std::size_t sheet_numbers_ = 0;
};

std::optional<double> gradient_of(const Cars& cars, const std::vector<double>& z, std::size_t setup) {
  const auto plant = cars.plant(z, setup);
  if (!plant) return std::nullopt;
  const auto balance = vehicle::roll_balance(*plant);
  if (!balance) return std::nullopt;
  return balance->roll_gradient.si();
}

std::optional<double> predict_one(const Cars& cars, const std::vector<double>& z, const Row& row, std::size_t first) {
  if (row.what == What::gradient) return gradient_of(cars, z, row.setup);
  if (row.what == What::change) {
    const auto now = gradient_of(cars, z, row.setup), reference = gradient_of(cars, z, first);
    if (!now || !reference) return std::nullopt;
    return *now / *reference - 1.0;
  }
  const auto plant = cars.plant(z, row.setup);
  if (!plant) return std::nullopt;
  if (row.what == What::frequency) {
    const double f = vehicle::roll_mode(*plant).frequency.si();
    if (!(f > 0.0)) return std::nullopt;
    return f;
  }
  const auto balance = vehicle::roll_balance(*plant);
  if (!balance) return std::nullopt;
  return balance->axle[0].suspension.si() + balance->axle[1].suspension.si();
}

}  // namespace

base::Outcome<base::Answer<TestLearnResult>> test_learn(const TestLearnRequest& request, Context& context) {
  base::Problems problems;
  auto rated = rates_of_all(request.bars);
  if (!rated) problems = std::move(rated.error());
  std::vector<Setup> setups;
  Setup as_described;
  as_described.name = "as the sheet says";
  setups.push_back(as_described);
  const auto& given = !request.setups.empty() ? request.setups : request.car.setups;
  setups.insert(setups.end(), given.begin(), given.end());
  if (rated) {
    auto more = check_bars(given, *rated);
    problems.insert(problems.end(), more.begin(), more.end());
  }
  std::vector<Row> rows;
  std::vector<decision::Measured> measured;
  std::vector<std::string> units;
  std::vector<double> unit_sizes;
  std::size_t first = 0;
  for (std::size_t i = 0; i < request.measured.size(); ++i) {
    const auto& m = request.measured[i];
    const std::string where = "measured[" + std::to_string(i) + "]";
    std::size_t s = 0;
    if (!m.setup.empty()) {
      const auto found = std::find_if(setups.begin(), setups.end(), [&](const Setup& x) { return x.name == m.setup; });
      if (found == setups.end()) {
        std::string names;
        for (const auto& x : setups) names += (names.empty() ? "" : ", ") + x.name;
        problems.push_back(base::input_problem("no_such_setup", where + ".setup", "There is no setup named \"" + m.setup + "\".", names));
        continue;
      }
      s = static_cast<std::size_t>(found - setups.begin());
    }
    if (i == 0) first = s;
    const auto add = [&](What what, const auto& estimate, const char* key, const char* name, const base::Unit& u) {
      if (!estimate) return;
      if (!(estimate->sd.si() > 0.0)) {
        problems.push_back(base::input_problem("no_doubt", where + "." + key, "A measurement without ± cannot be weighed.", "a ± above zero", "Take the ± of 'test log' or 'test prove'."));
        return;
      }
      rows.push_back({what, s});
      measured.push_back({std::string(name) + " of \"" + setups[s].name + "\"", estimate->value.si(), estimate->sd.si()});
      units.emplace_back(u.symbol);
      unit_sizes.push_back(u.si_per_unit);
    };
    add(What::gradient, m.roll_gradient, "roll_gradient_deg_per_g", "lean", unit::deg_per_g);
    if (m.roll_gradient_change && i == 0) {
      problems.push_back(base::input_problem("no_reference", where + ".roll_gradient_change_percent", "The first entry is what the others are held against, so it has no change.",
                                             "a roll gradient", "Give the change with the second entry."));
    } else {
      add(What::change, m.roll_gradient_change, "roll_gradient_change_percent", "change of lean", unit::percent);
    }
    add(What::stiffness, m.roll_stiffness, "roll_stiffness_nm_per_deg", "roll stiffness", unit::nm_per_deg);
    add(What::frequency, m.roll_frequency, "roll_frequency_hz", "roll frequency", unit::hz);
  }
  if (rows.empty() && problems.empty()) {
    problems.push_back(base::input_problem("missing", "measured", "There is nothing to learn from.", "a roll gradient, a change, a roll stiffness or a frequency"));
  }
  if (!problems.empty()) return base::fail(std::move(problems));

  const CompletedCar completed = complete(request.car);
  const Cars cars(completed, setups, *rated);
  if (cars.dimensions() == 0) {
    return base::fail(base::input_problem("nothing_uncertain", "car", "Every number of the sheet is exact, so nothing can be learned.", "numbers with ±"));
  }
  context.progress.report(0.1, "comparing");
  const auto predict = [&](const std::vector<double>& z) -> std::optional<std::vector<double>> {
    std::vector<double> values;
    for (const auto& row : rows) {
      const auto v = predict_one(cars, z, row, first);
      if (!v) return std::nullopt;
      values.push_back(*v);
    }
    return values;
  };
  auto learned = decision::learn(cars.dimensions(), measured, predict);
  if (!learned) return base::fail(std::move(learned.error()));
  if (context.progress.is_cancelled()) return base::fail(base::no_answer("cancelled", "", "The work was stopped."));
  context.progress.report(0.8, "forecasting");

  base::Answer<TestLearnResult> answer;
  auto& r = answer.result;
  r.probability = learned->probability;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    r.fits.push_back({measured[i].what, units[i], measured[i].value / unit_sizes[i], base::kCoverage95 * measured[i].sd / unit_sizes[i],
                      learned->predicted_before[i] / unit_sizes[i], learned->predicted_after[i] / unit_sizes[i],
                      base::kCoverage95 * learned->normal_deviation[i] / unit_sizes[i]});
  }

  // The sheet with what was learned; numbers that nothing was learned about stay as they were, filled-in ones stay out.
  CarSheet updated = completed.sheet;
  updated.setups = request.car.setups;
  {
    CarSheet probe = completed.sheet;
    probe.setups.clear();
    std::vector<Setup> kept = std::move(updated.setups);
    updated.setups.clear();
    const auto numbers = uncertain_numbers(base::type_of<CarSheet>(), &updated);
    for (std::size_t i = 0; i < cars.sheet_numbers(); ++i) {
      const auto& n = cars.numbers()[i];
      const double shift = learned->mean[i], left = learned->deviation[i];
      const double value = std::clamp(n.value + shift * n.sd, n.low, n.high);
      if (std::abs(shift) > 0.02 || left < 0.99) {
        const double size = unit_of_key(base::type_of<CarSheet>(), n.path);
        r.numbers.push_back({n.path, n.value / size, base::kCoverage95 * n.sd / size, value / size, base::kCoverage95 * n.sd * left / size, shift, 1.0 - left});
        numbers[i].type->set(numbers[i].record, 0, value);
        numbers[i].type->set(numbers[i].record, 1, n.sd * left);
        numbers[i].type->set_choice(numbers[i].record, static_cast<int>(base::Origin::derived));
      }
    }
    updated.setups = std::move(kept);
  }
  for (std::size_t b = 0; b < cars.bars().size(); ++b) {
    const std::size_t i = cars.numbers().size() + b;
    if (std::abs(learned->mean[i]) > 0.02 || learned->deviation[i] < 0.99) {
      const double sd = cars.bars()[b].settings.empty() ? 0.0 : cars.bars()[b].settings.front().relative_sd;
      r.numbers.push_back({"rate of bar " + cars.bars()[b].name + " over its sheet's", 1.0, base::kCoverage95 * sd, 1.0 + learned->mean[i] * sd,
                           base::kCoverage95 * sd * learned->deviation[i], learned->mean[i], 1.0 - learned->deviation[i]});
    }
  }
  std::stable_sort(r.numbers.begin(), r.numbers.end(), [](const LearnedNumber& a, const LearnedNumber& b) {
    return std::max(std::abs(a.shift_sd), 2.0 * static_cast<double>(a.narrower)) > std::max(std::abs(b.shift_sd), 2.0 * static_cast<double>(b.narrower));
  });
  r.car = std::move(updated);

  // Forecasts: slopes at the learned point carry all doubts, with their covariance after.
  const std::size_t n = cars.dimensions();
  const std::vector<double> zero(n, 0.0);
  for (std::size_t s = 0; s < setups.size(); ++s) {
    const auto before = gradient_of(cars, zero, s), after = gradient_of(cars, learned->mean, s);
    if (!before || !after) continue;
    const auto slopes = [&](const std::vector<double>& at, double here) {
      std::vector<double> slope(n, 0.0);
      for (std::size_t i = 0; i < n; ++i) {
        auto z = at;
        z[i] += 0.2;
        const auto up = gradient_of(cars, z, s);
        z[i] -= 0.4;
        const auto down = gradient_of(cars, z, s);
        if (up && down) slope[i] = (*up - *down) / 0.4;
        else if (up) slope[i] = (*up - here) / 0.2;
        else if (down) slope[i] = (here - *down) / 0.2;
      }
      return slope;
    };
    const auto slope_before = slopes(zero, *before), slope_after = slopes(learned->mean, *after);
    double variance_before = 0.0, variance_after = 0.0;
    for (std::size_t i = 0; i < n; ++i) {
      variance_before += slope_before[i] * slope_before[i];
      for (std::size_t k = 0; k < n; ++k) variance_after += slope_after[i] * learned->covariance[i * n + k] * slope_after[k];
    }
    const double sd_before = std::sqrt(variance_before), sd_after = std::sqrt(std::max(0.0, variance_after));
    using base::AnglePerAcceleration;
    r.forecasts.push_back({setups[s].name, base::Interval<AnglePerAcceleration>::from_sd(AnglePerAcceleration(*before), AnglePerAcceleration(sd_before)),
                           base::Interval<AnglePerAcceleration>::from_sd(AnglePerAcceleration(*after), AnglePerAcceleration(sd_after)),
                           sd_before > 0.0 ? 1.0 - sd_after / sd_before : 0.0});
  }

  const auto& f = r.forecasts.front();
  r.meaning = text("The forecast of lean goes from %.2f ± %.2f to %.2f ± %.2f deg/g.", f.before.value.si() / kDegPerG, f.before.pm().si() / kDegPerG,
                   f.after.value.si() / kDegPerG, f.after.pm().si() / kDegPerG);
  if (!r.numbers.empty()) {
    r.meaning += text(" What moved most is %s, by %.1f of its own standard deviations.", r.numbers.front().key.c_str(), std::abs(r.numbers.front().shift_sd));
  }
  if (learned->probability < 0.05) {
    answer.warn("poor_fit", text("Sheet and measurements fit poorly (a misfit as large happens by chance in %.1f %% of cases). Look at the number that moved most.", 100.0 * learned->probability));
  }
  for (const auto& number : r.numbers) {
    if (std::abs(number.shift_sd) > 2.0) {
      answer.warn("large_shift", number.key + text(" moved by %.1f of its standard deviations. Measure it, or widen its ±.", std::abs(number.shift_sd)));
      break;
    }
  }
  if (learned->effective_share < 0.3) {
    answer.warn("not_normal", "The numbers do not move in straight lines here, so the new ± are only rough.");
  }
  answer.assume("Numbers of the sheet are independent of each other before, and normal within their ±. The new sheet keeps each number's own ±; what they "
                "say about each other is kept only in the forecasts listed here.");
  answer.assume("A measured lean is that of the linear range: springs, tyres and bars as at rest.");
  answer.cite("Tarantola 2005");
  return answer;
}

Operation test_learn_operation() {
  return operation<&test_learn>("test", "learn", "What do my measurements say about the car's uncertain numbers?")
      .helped("Takes the lean measured with one or more setups (and a sill test or a rocking frequency, where there is one) and moves the uncertain numbers of "
              "the car sheet to what fits both, each no further than its doubt allows. The next forecast is narrower. Where the measurements cannot "
              "be true of this car, nothing is changed and the one that fits worst is named.")
      .shown_by("test learn wren.json bars/wren-front-two-hole.json bars/wren-rear-three-hole.json --request readings/wren-learn.json")
      .takes_long();
}

}  // namespace rollwright::ops
