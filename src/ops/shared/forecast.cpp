#include "ops/shared/forecast.h"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <map>
#include <mutex>
#include <optional>
#include <tuple>

#include "numerics/normal_draws.h"
#include "numerics/parallel.h"
#include "ops/shared/car_places.h"
#include "ops/shared/load_cases.h"
#include "ops/shared/uncertain.h"
#include "stats/sample.h"
#include "vehicle/bicycle.h"
#include "vehicle/check.h"
#include "vehicle/rates.h"
#include "vehicle/roll_balance.h"
#include "vehicle/steady.h"

namespace rollwright::ops {
namespace {

const BarRates* find_bar(const std::vector<BarRates>& bars, const std::string& name) {
  for (const auto& bar : bars) {
    if (bar.name == name) return &bar;
  }
  return nullptr;
}

// One uncertain car: its own copy of the sheet and setups, so that threads do not meet.
class CarSampler {
 public:
  explicit CarSampler(const ForecastQuestion& question) : question_(question), sheet_(question.car.sheet), setups_(question.setups) {
    sheet_.setups.clear();  // the setups of the question are the ones that count
    numbers_ = uncertain_numbers(base::type_of<CarSheet>(), &sheet_);
    for (std::size_t j = 0; j < numbers_.size(); ++j) column_.push_back(j);
    std::map<std::string, std::size_t> shared;
    columns_ = numbers_.size();
    for (std::size_t i = 0; i < setups_.size(); ++i) {
      auto& setup = setups_[i];
      if (setup.road == Road::wet && !setup.road_grip) setup.road_grip = wet_grip();
      const std::string place = place_of_setup(question, i);
      for (auto& number : uncertain_numbers(base::type_of<Setup>(), &setup, place)) {
        // One road is as wet for all setups, and one passenger as heavy: what has one name has one draw.
        const auto [found, is_new] = shared.emplace(name_of(setup, number, place), columns_);
        column_.push_back(found->second);
        if (is_new) ++columns_;
        numbers_.push_back(std::move(number));
      }
    }
    z_.resize(numbers_.size());
  }

  [[nodiscard]] std::size_t dimensions() const { return columns_ + question_.bars.size(); }

  [[nodiscard]] std::vector<std::string> paths() const {
    std::vector<std::string> all(columns_);
    for (std::size_t j = numbers_.size(); j-- > 0;) all[column_[j]] = numbers_[j].path;
    for (const auto& b : question_.bars) all.push_back("bar " + b.name);
    return all;
  }

  void draw(const double* z) {
    for (std::size_t j = 0; j < numbers_.size(); ++j) z_[j] = z[column_[j]];
    apply_draw(numbers_, z_.data());
    go_along(question_.car, sheet_);
    bar_z_ = z + columns_;
  }

  [[nodiscard]] vehicle::Car car(std::size_t setup) const {
    const Setup& s = setups_[setup];
    const auto front = fitted(s.front), rear = fitted(s.rear);
    return car_model(sheet_, s, front ? &*front : nullptr, rear ? &*rear : nullptr);
  }

 private:
  [[nodiscard]] std::optional<FittedBar> fitted(const AxleSetup& axle) const {
    if (axle.bar.empty()) return std::nullopt;
    for (std::size_t i = 0; i < question_.bars.size(); ++i) {
      if (question_.bars[i].name != axle.bar) continue;
      const auto* setting = question_.bars[i].find(axle.setting);
      FittedBar bar = setting->bar;
      if (bar_z_ != nullptr) bar.rate_per_side *= std::max(1.0 + bar_z_[i] * setting->relative_sd, 0.05);
      return bar;
    }
    return std::nullopt;
  }

  // The doubt that a number of a setup is about: its own, or one that it shares by name with other setups.
  static std::string name_of(const Setup& setup, const UncertainNumber& number, const std::string& place) {
    const std::string rest = number.path.substr(place.empty() ? 0 : place.size() + 1);
    if (rest == "road_grip") return "road_grip " + std::to_string(number.value) + " " + std::to_string(number.sd);
    const std::string list = "aboard[";
    if (!rest.starts_with(list)) return number.path;
    const auto close = rest.find(']');
    const auto which = static_cast<std::size_t>(std::stoul(rest.substr(list.size(), close - list.size())));
    return "aboard " + setup.aboard[which].name + rest.substr(close + 1) + " " + std::to_string(number.value) + " " + std::to_string(number.sd);
  }

  const ForecastQuestion& question_;
  CarSheet sheet_;
  std::vector<Setup> setups_;
  std::vector<UncertainNumber> numbers_;
  std::vector<std::size_t> column_;  // of each number in a draw
  std::size_t columns_ = 0;
  std::vector<double> z_;
  const double* bar_z_ = nullptr;
};

constexpr double kGentleCorner = 4.0;  // [m/s²], where bars begin to show in the balance

// Everything that is asked of one car; nullopt where no such car can stand or corner.
std::optional<Figures> figures_of(const vehicle::Car& car, double speed, bool wants_limit) {
  const auto standing = vehicle::stand(car);
  if (!standing) return std::nullopt;
  const vehicle::Plant& plant = standing->plant;
  const vehicle::RollBalance* balance = &standing->balance;
  const auto bicycle = vehicle::bicycle(plant, *balance, base::Speed(speed));
  if (!bicycle) return std::nullopt;
  const auto mode = vehicle::roll_mode(plant);
  Figures f{};
  f[kRollGradient] = balance->roll_gradient.si();
  f[kSuspensionRollGradient] = balance->suspension_roll_gradient.si();
  f[kFrontShare] = balance->front_transfer_share;
  f[kUndersteer] = bicycle->understeer.si();
  f[kRollFrequency] = mode.frequency.si();
  f[kRollDamping] = mode.damping;
  for (std::size_t a = 0; a < 2; ++a) {
    const auto rates = vehicle::wheel_rates(plant.axle[a]);
    f[kFrontLift + a] = balance->axle[a].inside_wheel_lift.si();
    f[kFrontTransfer + a] = balance->axle[a].transfer.total.si();
    f[kFrontStatic + a] = 0.5 * (plant.wheel[2 * a].n0 + plant.wheel[2 * a + 1].n0);
    f[kFrontBar + a] = (a == 0 ? car.front : car.rear).bar.rate_per_side.si();
    f[kFrontOneWheel + a] = rates.one_wheel.si();
    f[kFrontTwoWheel + a] = rates.two_wheel.si();
    f[kFrontRollRate + a] = rates.roll.si();
  }
  f[kUndersteerMid] = f[kUndersteer];
  if (wants_limit) {
    vehicle::SteadyOptions options;
    options.speed = base::Speed(speed);
    options.past_limit = 0.005;
    options.keep_points = false;
    options.states_at = {base::Acceleration(kGentleCorner)};
    const auto curve = vehicle::SteadyTurn(plant, options).to_limit();
    if (!curve) return std::nullopt;
    f[kLimit] = curve->limit.lateral_acceleration.si();
    f[kLimitingAxle] = curve->limited_by == vehicle::Limit::rear ? 1.0 : 0.0;
    // On a slippery road the car may not get that far; its balance in gentle corners then stands for it.
    if (const auto& there = curve->states[0]) f[kUndersteerMid] = there->understeer_gradient.si();
  }
  return f;
}

}  // namespace

void take_setups(ForecastQuestion& question, const std::vector<Setup>& of_request, const std::vector<Setup>& of_sheet) {
  question.setups = of_request;
  question.places.clear();
  for (std::size_t i = 0; i < of_request.size(); ++i) question.places.push_back("setups[" + std::to_string(i) + "]");
  if (!of_request.empty()) return;
  Setup as_described;
  as_described.name = "as the sheet says";
  question.setups.push_back(as_described);
  question.places.emplace_back();
  for (std::size_t i = 0; i < of_sheet.size(); ++i) {
    question.setups.push_back(of_sheet[i]);
    question.places.push_back("car.setups[" + std::to_string(i) + "]");
  }
}

std::string place_of_setup(const ForecastQuestion& question, std::size_t i) {
  return i < question.places.size() ? question.places[i] : "setups[" + std::to_string(i) + "]";
}

base::Problems check_bars(const std::vector<Setup>& setups, const std::vector<BarRates>& bars) {
  ForecastQuestion question;
  question.setups = setups;
  question.bars = bars;
  return check_bars(question);
}

base::Problems check_bars(const ForecastQuestion& question) {
  const auto& setups = question.setups;
  const auto& bars = question.bars;
  base::Problems problems;
  const auto names = [](const auto& list, auto name) {
    std::string all;
    for (const auto& entry : list) all += (all.empty() ? "" : ", ") + name(entry);
    return all.empty() ? std::string("none was given") : all;
  };
  for (std::size_t i = 0; i < setups.size(); ++i) {
    for (const auto& [key, axle] : {std::pair{"front", &setups[i].front}, std::pair{"rear", &setups[i].rear}}) {
      if (axle->bar.empty()) continue;
      const std::string where = place_of_setup(question, i) + "." + key;
      const auto* bar = find_bar(bars, axle->bar);
      if (bar == nullptr) {
        problems.push_back(base::input_problem("no_such_bar", where + ".bar", "There is no bar sheet named \"" + axle->bar + "\".",
                                               names(bars, [](const auto& b) { return b.name; }), "Give the bar's document as well."));
      } else if (bar->find(axle->setting) == nullptr) {
        problems.push_back(base::input_problem("no_such_setting", where + ".setting", "This bar has no setting \"" + axle->setting + "\".",
                                               names(bar->settings, [](const auto& s) { return s.id; })));
      }
    }
  }
  return problems;
}

base::Problems check_car(const ForecastQuestion& question, std::size_t setup, const vehicle::Car& car) {
  return in_sheet_words(vehicle::check(car), question.setups[setup].name, place_of_setup(question, setup));
}

vehicle::Car nominal_car(const ForecastQuestion& question, const Setup& setup) {
  ForecastQuestion one = question;
  one.setups = {setup};
  return CarSampler(one).car(0);
}

namespace {

// A setup can only change a spring whose way to the wheel is known.
base::Problems check_springs(const ForecastQuestion& question) {
  base::Problems problems;
  for (std::size_t i = 0; i < question.setups.size(); ++i) {
    const auto& setup = question.setups[i];
    for (const auto& [key, axle, sheet] : {std::tuple{"front", &setup.front, &question.car.sheet.front}, std::tuple{"rear", &setup.rear, &question.car.sheet.rear}}) {
      if (!axle->spring_rate || (sheet->spring_rate && sheet->spring_motion_ratio)) continue;
      problems.push_back(base::input_problem("spring_unknown", place_of_setup(question, i) + "." + key + ".spring_rate_n_per_mm",
                                             "The car sheet knows only the wheel rate of this axle, so another spring's effect at the wheel is not known.",
                                             "a car sheet with spring_rate_n_per_mm and spring_motion_ratio", "Measure the ratio: 'car ratio'."));
    }
  }
  return problems;
}

}  // namespace

base::Outcome<Forecast> forecast(const ForecastQuestion& question, Context& context) {
  if (auto problems = check_springs(question); !problems.empty()) return base::fail(std::move(problems));
  Forecast result;
  CarSampler nominal(question);
  for (std::size_t s = 0; s < question.setups.size(); ++s) {
    const auto car = nominal.car(s);
    auto problems = check_car(question, s, car);
    if (!problems.empty()) return base::fail(std::move(problems));
    const auto f = figures_of(car, question.speed, true);
    if (!f) {
      return base::fail(base::no_answer("no_such_car", question.setups[s].name, "With these numbers the car would fall over or cannot corner.",
                                        "springs and bars that hold it up", "Look at masses, heights and rates with 'car check'."));
    }
    result.nominal.push_back(*f);
  }
  const std::size_t dimensions = nominal.dimensions();
  result.drawn = nominal.paths();
  const std::size_t draws = dimensions == 0 ? 0 : question.draws;
  const auto z = numerics::normal_draws(draws, dimensions, question.seed);
  const std::size_t setups = question.setups.size();
  std::vector<Figures> rows(draws * setups);  // draw by draw
  std::vector<char> answered(draws, 0);
  constexpr std::size_t kGrain = 16;
  numerics::parallel_ranges(draws, kGrain, [&](std::size_t begin, std::size_t end) {
    if (context.progress.is_cancelled()) return;
    CarSampler sampler(question);
    for (std::size_t i = begin; i < end; ++i) {
      sampler.draw(&z[i * dimensions]);
      std::size_t s = 0;
      for (; s < setups; ++s) {
        const auto f = figures_of(sampler.car(s), question.speed, question.limit_of_draws);
        if (!f) break;
        rows[i * setups + s] = *f;
      }
      answered[i] = s == setups;
    }
  });
  if (context.progress.is_cancelled()) return base::fail(base::no_answer("cancelled", "", "The work was given up.", ""));
  context.progress.report(1.0, "cars drawn");
  result.sampled.resize(setups);
  for (auto& sampled : result.sampled) sampled.reserve(draws);
  for (std::size_t i = 0; i < draws; ++i) {
    if (!answered[i]) {
      ++result.refused;
      continue;
    }
    for (std::size_t s = 0; s < setups; ++s) result.sampled[s].push_back(rows[i * setups + s]);
    result.z.insert(result.z.end(), z.begin() + static_cast<std::ptrdiff_t>(i * dimensions), z.begin() + static_cast<std::ptrdiff_t>((i + 1) * dimensions));
  }
  return result;
}

SampledFigures sample_figures(const ForecastQuestion& question,
                              const std::function<std::optional<FigureRow>(const vehicle::Car&, std::size_t)>& figures_of,
                              Context& context) {
  SampledFigures result;
  CarSampler nominal(question);
  const std::size_t setups = question.setups.size();
  for (std::size_t s = 0; s < setups; ++s) result.nominal.push_back(figures_of(nominal.car(s), s).value_or(FigureRow{}));
  const std::size_t dimensions = nominal.dimensions();
  const std::size_t draws = dimensions == 0 ? 0 : question.draws;
  const auto z = numerics::normal_draws(draws, dimensions, question.seed);
  std::vector<std::vector<FigureRow>> rows(draws);
  std::atomic<std::size_t> done{0};
  std::mutex reporting;
  numerics::parallel_ranges(draws, 1, [&](std::size_t begin, std::size_t end) {
    CarSampler sampler(question);
    for (std::size_t i = begin; i < end; ++i) {
      if (context.progress.is_cancelled()) return;
      sampler.draw(&z[i * dimensions]);
      std::vector<FigureRow> row;
      for (std::size_t s = 0; s < setups; ++s) {
        const auto car = sampler.car(s);
        auto f = vehicle::check(car).empty() ? figures_of(car, s) : std::nullopt;
        if (!f) break;
        row.push_back(std::move(*f));
      }
      if (row.size() == setups) rows[i] = std::move(row);
      ++done;
    }
    const std::scoped_lock lock(reporting);
    context.progress.report(static_cast<double>(done.load()) / static_cast<double>(draws), "driving drawn cars");
  });
  result.sampled.resize(setups);
  for (auto& row : rows) {
    if (row.empty()) {
      ++result.refused;
      continue;
    }
    for (std::size_t s = 0; s < setups; ++s) result.sampled[s].push_back(std::move(row[s]));
  }
  return result;
}

SampledFigures sample_batches(const ForecastQuestion& question, const BatchFigures& figures_of, std::size_t at_once, Context& context) {
  SampledFigures result;
  const std::size_t setups = question.setups.size(), dimensions = CarSampler(question).dimensions();
  result.nominal.resize(setups);
  result.sampled.resize(setups);
  const std::size_t draws = dimensions == 0 ? 0 : question.draws, batches = (draws + at_once - 1) / std::max<std::size_t>(at_once, 1);
  const auto z = numerics::normal_draws(draws, dimensions, question.seed);
  std::vector<std::vector<std::optional<FigureRow>>> rows(draws, std::vector<std::optional<FigureRow>>(setups));
  std::atomic<std::size_t> done{0};
  std::mutex reporting;
  numerics::parallel_ranges(batches, 1, [&](std::size_t begin, std::size_t end) {
    CarSampler sampler(question);
    for (std::size_t batch = begin; batch < end; ++batch) {
      if (context.progress.is_cancelled()) return;
      std::vector<vehicle::Car> cars;
      std::vector<std::size_t> setup_of, draw_of;
      for (std::size_t i = batch * at_once; i < std::min(draws, (batch + 1) * at_once); ++i) {
        sampler.draw(&z[i * dimensions]);
        for (std::size_t s = 0; s < setups; ++s) {
          auto car = sampler.car(s);
          if (!vehicle::check(car).empty()) continue;
          cars.push_back(std::move(car));
          setup_of.push_back(s);
          draw_of.push_back(i);
        }
      }
      auto answers = figures_of(cars, setup_of);
      for (std::size_t k = 0; k < cars.size(); ++k) rows[draw_of[k]][setup_of[k]] = std::move(answers[k]);
      const std::scoped_lock lock(reporting);
      context.progress.report(static_cast<double>(++done) / static_cast<double>(batches), "driving drawn cars");
    }
  });
  for (auto& row : rows) {
    if (!std::all_of(row.begin(), row.end(), [](const auto& f) { return f.has_value(); })) {
      ++result.refused;
      continue;
    }
    for (std::size_t s = 0; s < setups; ++s) result.sampled[s].push_back(std::move(*row[s]));
  }
  return result;
}

Range value_range(const SampledFigures& f, std::size_t setup, std::size_t which) {
  std::vector<double> draws;
  for (const auto& row : f.sampled[setup]) draws.push_back(row[which]);
  return range_of(f.nominal[setup][which], std::move(draws));
}

Range difference_range(const SampledFigures& f, std::size_t from, std::size_t to, std::size_t which) {
  std::vector<double> draws;
  for (std::size_t i = 0; i < f.sampled[from].size(); ++i) draws.push_back(f.sampled[to][i][which] - f.sampled[from][i][which]);
  return range_of(f.nominal[to][which] - f.nominal[from][which], std::move(draws));
}

Range change_range(const SampledFigures& f, std::size_t from, std::size_t to, std::size_t which) {
  const auto ratio = [](double a, double b) {
    const double change = a != 0.0 ? b / a - 1.0 : 0.0;
    return std::abs(change) < 1e-12 ? 0.0 : change;  // equal but for round-off
  };
  std::vector<double> draws;
  for (std::size_t i = 0; i < f.sampled[from].size(); ++i) draws.push_back(ratio(f.sampled[from][i][which], f.sampled[to][i][which]));
  return range_of(ratio(f.nominal[from][which], f.nominal[to][which]), std::move(draws));
}

Range range_of(double nominal, std::vector<double> draws) {
  if (draws.size() < 2) return {nominal, nominal, nominal};
  return {nominal, std::min(nominal, stats::percentile(draws, 0.025)), std::max(nominal, stats::percentile(draws, 0.975))};
}

Range value_range(const Forecast& f, std::size_t setup, const std::function<double(const Figures&)>& of) {
  std::vector<double> draws;
  for (const auto& figures : f.sampled[setup]) draws.push_back(of(figures));
  return range_of(of(f.nominal[setup]), std::move(draws));
}

Range difference_range(const Forecast& f, std::size_t from, std::size_t to, const std::function<double(const Figures&)>& of) {
  std::vector<double> draws;
  for (std::size_t i = 0; i < f.sampled[from].size(); ++i) draws.push_back(of(f.sampled[to][i]) - of(f.sampled[from][i]));
  return range_of(of(f.nominal[to]) - of(f.nominal[from]), std::move(draws));
}

Range change_range(const Forecast& f, std::size_t from, std::size_t to, const std::function<double(const Figures&)>& of) {
  const auto ratio = [](double a, double b) { return a != 0.0 ? b / a - 1.0 : 0.0; };
  std::vector<double> draws;
  for (std::size_t i = 0; i < f.sampled[from].size(); ++i) draws.push_back(ratio(of(f.sampled[from][i]), of(f.sampled[to][i])));
  return range_of(ratio(of(f.nominal[from]), of(f.nominal[to])), std::move(draws));
}

void forecast_footing(const ForecastQuestion& question, const Forecast& forecast, base::Footing& footing) {
  footing.assume("Smooth level road, steady turn, tyres warm; the road's own lean is left out.");
  footing.assume("Left and right of the car are alike except for what is aboard and mixed holes.");
  footing.assume("Tyres give side force by a load-sensitive curve typical of their kind; the driven axle has all its grip for cornering.");
  footing.assume(question.car.sheet.body_torsion ? "The body twists on one torsion spring between the axles, two lumps as high as the whole." : "The body is rigid; body_torsion_nm_per_deg in the car sheet lets it twist.");
  if (!question.car.filled.empty()) {
    footing.assume(std::to_string(question.car.filled.size()) + " numbers of the car sheet are typical values of its class, with their ranges.");
  }
  if (std::any_of(question.setups.begin(), question.setups.end(), [](const Setup& s) { return s.road == Road::wet && !s.road_grip; })) {
    footing.assume("A wet road gives 0.60 to 0.85 of the dry grip, the same for every setup; standing water gives less and is left out.");
  }
  if (forecast.refused * 20 > question.draws) {
    footing.warn("doubtful_sheet", std::to_string(forecast.refused) + " of " + std::to_string(question.draws) +
                                       " drawn cars are impossible, so the doubts of the car sheet are too wide or contradict each other. 'car check' says where.");
  }
  footing.cite("TradeValues");
  footing.cite("Pacejka 2006");
}

}  // namespace rollwright::ops
