#include "ops/shared/choice_cars.h"

#include <algorithm>
#include <atomic>
#include <cmath>

#include "numerics/normal_draws.h"
#include "numerics/parallel.h"
#include "ops/shared/car_model.h"
#include "ops/shared/forecast.h"
#include "ops/shared/uncertain.h"
#include "stats/sample.h"
#include "vehicle/check.h"

namespace rollwright::ops {
namespace {

using base::Ratio;

// One uncertain car with its candidates: own copies, so that threads do not meet.
class ChoiceSampler {
 public:
  explicit ChoiceSampler(const ChoiceQuestion& question) : question_(question), sheet_(question.car.sheet), candidates_(question.candidates) {
    sheet_.setups.clear();
    numbers_ = uncertain_numbers(base::type_of<CarSheet>(), &sheet_);
    for (auto& candidate : candidates_) {
      const auto more = uncertain_numbers(base::type_of<CarChange>(), &candidate.change, candidate.name);
      numbers_.insert(numbers_.end(), more.begin(), more.end());
    }
  }

  [[nodiscard]] std::size_t dimensions() const { return numbers_.size() + question_.bars.size(); }
  [[nodiscard]] std::vector<std::string> paths() const {
    std::vector<std::string> all;
    for (const auto& n : numbers_) all.push_back(n.path);
    for (const auto& b : question_.bars) all.push_back("bar " + b.name);
    return all;
  }

  void draw(const double* z) {
    apply_draw(numbers_, z);
    bar_z_ = z + numbers_.size();
  }

  [[nodiscard]] vehicle::Car car(const std::vector<std::size_t>& combination) const {
    Setup setup;
    std::optional<FittedBar> front, rear;
    double lowered = 0.0;
    for (const std::size_t i : combination) {
      const CarChange& change = candidates_[i].change;
      outright(change.front, setup.front, front);
      outright(change.rear, setup.rear, rear);
      if (change.lowered) lowered += change.lowered->value.si();
      setup.aboard.insert(setup.aboard.end(), change.aboard.begin(), change.aboard.end());
    }
    if (lowered != 0.0) setup.lowered = base::Estimate<base::Length>::exact(base::Length(lowered));
    // The models know loads, not what is missing: what is taken out comes off the body itself.
    std::vector<LoadSheet> taken_out;
    std::erase_if(setup.aboard, [&](const LoadSheet& load) {
      if (load.mass.value.si() > 0.0) return false;
      taken_out.push_back(load);
      return true;
    });
    auto car = car_model(sheet_, setup, front ? &*front : nullptr, rear ? &*rear : nullptr);
    for (const std::size_t i : combination) {
      relative(candidates_[i].change.front, car.front);
      relative(candidates_[i].change.rear, car.rear);
    }
    for (const auto& load : taken_out) take_out(load, car);
    return car;
  }

 private:
  void outright(const AxleChange& change, AxleSetup& setup, std::optional<FittedBar>& fitted) const {
    if (!change.bar.empty()) fitted = bar_of(change);
    if (change.bar_unhooked) setup.bar_unhooked = true;
    if (change.bar_rate_per_side) setup.bar_rate_per_side = change.bar_rate_per_side;
    if (change.spring_rate) setup.spring_rate = change.spring_rate;
    if (change.tyre_kind) setup.tyre_kind = change.tyre_kind;
  }

  static void relative(const AxleChange& change, vehicle::Axle& axle) {
    const auto times = [](auto& quantity, const std::optional<base::Estimate<Ratio>>& factor) {
      if (factor) quantity = double(factor->value) * quantity;
    };
    times(axle.bar.rate_per_side, change.bar_factor);
    times(axle.spring.rate, change.spring_factor);
    times(axle.spring.wheel_rate_besides, change.spring_factor);
    for (auto* damping : {&axle.damper.bump, &axle.damper.rebound, &axle.damper.bump_fast, &axle.damper.rebound_fast}) times(*damping, change.damping);
    times(axle.tyre.grip_scale, change.grip);
    times(axle.tyre.stiffness_scale, change.cornering_stiffness);
    times(axle.tyre.vertical_stiffness, change.tyre_vertical_rate);
    if (change.camber) axle.static_camber += change.camber->value;
    if (change.unsprung_mass) axle.unsprung_mass += change.unsprung_mass->value;
    if (change.bump_stop_gap && axle.bump_stop) axle.bump_stop->gap = base::Length(std::max(axle.bump_stop->gap.si() + change.bump_stop_gap->value.si(), 0.0));
  }

  // Mass and centre of gravity by moments; the body's own inertia and the little that it rises are left as they are.
  static void take_out(const LoadSheet& load, vehicle::Car& car) {
    const double before = car.sprung_mass.si(), change = load.mass.value.si(), after = before + change;
    if (!(after > 0.0)) return;
    car.sprung_mass = base::Mass(after);
    car.cg_behind_front_axle = base::Length((before * car.cg_behind_front_axle.si() + change * load.behind_front_axle.value.si()) / after);
    car.cg_height = base::Length((before * car.cg_height.si() + change * load.height.value.si()) / after);
    car.cg_left_of_centre = base::Length((before * car.cg_left_of_centre.si() + change * load.left_of_centre.value.si()) / after);
  }

  [[nodiscard]] FittedBar bar_of(const AxleChange& change) const {
    for (std::size_t i = 0; i < question_.bars.size(); ++i) {
      if (question_.bars[i].name != change.bar) continue;
      const auto* setting = question_.bars[i].find(change.setting);
      FittedBar bar = setting->bar;
      if (bar_z_ != nullptr) bar.rate_per_side *= std::max(1.0 + bar_z_[i] * setting->relative_sd, 0.05);
      return bar;
    }
    return {};
  }

  const ChoiceQuestion& question_;
  CarSheet sheet_;
  std::vector<Candidate> candidates_;
  std::vector<UncertainNumber> numbers_;
  const double* bar_z_ = nullptr;
};

struct Row {
  bool is_refused = false;                            // the car as it is cannot stand
  ChoiceFigures before_engine{};
  std::vector<std::optional<ChoiceFigures>> closed;   // by combination
  std::vector<std::optional<ChoiceFigures>> engine;   // on anchors only
};

base::Problem cancelled() { return base::no_answer("cancelled", "", "The work was given up.", ""); }

// The figures that an engine knows better than a closed form.
constexpr std::array kByEngine{kChoiceGrip, kChoiceUndersteer, kChoiceDelay, kChoiceSwing};

bool is_ratio(ChoiceFigure figure) { return figure != kChoiceUndersteer; }

// What the engine says beyond the closed form: logarithm of the ratio, difference for understeer, which may be 0.
double beyond(ChoiceFigure figure, const ChoiceFigures& engine, const ChoiceFigures& closed) {
  return is_ratio(figure) ? std::log(engine[figure] / closed[figure]) : engine[figure] - closed[figure];
}

constexpr std::size_t kGrain = 8;

}  // namespace

bool is_relative(ChoiceFigure figure) {
  return figure != kChoiceFrontShare && figure != kChoiceUndersteer && figure != kChoiceInnerDriven;
}

double change_of(ChoiceFigure figure, double before, double after) {
  if (!is_relative(figure)) return after - before;
  return before != 0.0 ? after / before - 1.0 : 0.0;
}

bool change_the_same(const Candidate& a, const Candidate& b) {
  // New bushings go with a new bar; two bars do not go together.
  const bool bushings = (a.what == CandidateKind::bushings) != (b.what == CandidateKind::bushings);
  const bool tyres = a.what == CandidateKind::tyres && b.what == CandidateKind::tyres;
  const auto changes_tyre = [](const AxleChange& x) { return x.tyre_kind || x.grip || x.cornering_stiffness; };
  const auto axle = [&](const AxleChange& x, const AxleChange& y) {
    return (x.changes_bar() && y.changes_bar() && !bushings) || (x.changes_spring() && y.changes_spring()) || (x.damping && y.damping) ||
           (x.camber && y.camber) || (tyres && changes_tyre(x) && changes_tyre(y));
  };
  return axle(a.change.front, b.change.front) || axle(a.change.rear, b.change.rear);
}

vehicle::Car nominal_choice(const ChoiceQuestion& question, const std::vector<std::size_t>& combination) {
  return ChoiceSampler(question).car(combination);
}

std::vector<std::optional<std::vector<double>>> on_drawn_cars(const ChoiceQuestion& question, const ChoiceCars& cars, std::size_t combination, std::size_t draws,
                                                              const std::function<std::optional<std::vector<double>>(const vehicle::Car&)>& of) {
  std::vector<std::optional<std::vector<double>>> rows(std::min(draws, cars.draw_number.size()));
  numerics::parallel_ranges(rows.size(), kGrain, [&](std::size_t begin, std::size_t end) {
    ChoiceSampler sampler(question);
    for (std::size_t i = begin; i < end; ++i) {
      sampler.draw(cars.z.data() + i * cars.drawn.size());
      rows[i] = of(sampler.car(question.combinations[combination]));
    }
  });
  return rows;
}

base::Problems check_candidates(const ChoiceQuestion& question) {
  base::Problems problems;
  for (std::size_t i = 0; i < question.candidates.size(); ++i) {
    const auto& candidate = question.candidates[i];
    const std::string where = "candidates.candidates[" + std::to_string(i) + "]";
    Setup setup;
    setup.front.bar = candidate.change.front.bar;
    setup.front.setting = candidate.change.front.setting;
    setup.rear.bar = candidate.change.rear.bar;
    setup.rear.setting = candidate.change.rear.setting;
    for (auto& p : check_bars({setup}, question.bars)) {
      p.where = where + ".change" + p.where.substr(std::string("setups[0]").size());
      problems.push_back(std::move(p));
    }
    for (const auto& [key, change, axle] : {std::tuple{"front", &candidate.change.front, &question.car.sheet.front}, std::tuple{"rear", &candidate.change.rear, &question.car.sheet.rear}}) {
      if (change->spring_rate && !(axle->spring_rate && axle->spring_motion_ratio)) {
        problems.push_back(base::input_problem("spring_unknown", where + ".change." + key + ".spring_rate_n_per_mm",
                                               "The car sheet gives the rate at the wheel only, so a new spring's rate cannot be put in its place.", "spring_factor",
                                               "Give spring rate and spring ratio in the car sheet, or the new spring as a factor."));
      }
    }
    const auto known = [&](const std::string& name) {
      return std::any_of(question.candidates.begin(), question.candidates.end(), [&](const auto& c) { return c.name == name; });
    };
    for (const auto& name : candidate.needs) {
      if (!known(name)) problems.push_back(base::input_problem("no_such_candidate", where + ".needs", "There is no candidate named \"" + name + "\".", "the name of a candidate"));
      for (const auto& other : candidate.excludes) {
        if (other == name) problems.push_back(base::input_problem("contradiction", where, "\"" + candidate.name + "\" both needs and excludes \"" + name + "\".", "one of the two"));
      }
    }
    for (std::size_t j = 0; j < i; ++j) {
      if (question.candidates[j].name == candidate.name) problems.push_back(base::input_problem("same_name", where + ".name", "Two candidates are called \"" + candidate.name + "\".", "a name of its own for each"));
    }
  }
  return problems;
}

base::Outcome<ChoiceCars> choice_cars(const ChoiceQuestion& question, Context& context) {
  const std::size_t choices = question.combinations.size();
  ChoiceCars result;
  const ChoiceSampler nominal(question);
  auto problems = vehicle::check(nominal.car({}));
  if (!problems.empty()) return base::fail(base::prefixed(std::move(problems), "car"));
  for (const auto& combination : question.combinations) {
    const auto figures = engine_figures(nominal.car(combination), question.speed);
    if (!figures && result.nominal.empty()) {
      return base::fail(base::no_answer("no_such_car", "car", "With these numbers the car would fall over or cannot corner.", "springs and bars that hold it up",
                                        "Look at masses, heights and rates with 'car check'."));
    }
    result.nominal.push_back(figures.value_or(ChoiceFigures{}));
    result.is_possible.push_back(figures.has_value());
  }
  const std::size_t dimensions = nominal.dimensions();
  result.drawn = nominal.paths();
  // A sheet without any doubt still gets a draw: it is then the car itself.
  const std::size_t draws = dimensions == 0 ? 1 : question.draws;
  const auto z = numerics::normal_draws(draws, dimensions, question.seed);
  std::vector<Row> rows(draws);
  std::atomic<std::size_t> done{0};
  const std::size_t slices = std::max<std::size_t>(10, draws / 100);  // between slices the asking thread can report
  for (std::size_t slice = 0; slice < slices; ++slice) {
    const std::size_t from = draws * slice / slices, to = draws * (slice + 1) / slices;
    numerics::parallel_ranges(to - from, kGrain, [&](std::size_t begin, std::size_t end) {
      ChoiceSampler sampler(question);
      for (std::size_t i = from + begin; i < from + end; ++i) {
        if (context.progress.is_cancelled()) return;
        sampler.draw(z.data() + i * dimensions);
        Row& row = rows[i];
        const auto before = engine_figures(sampler.car({}), question.speed);
        if (!before) {
          row.is_refused = true;
          continue;
        }
        row.before_engine = *before;
        row.closed.resize(choices);
        const bool is_anchor = i < question.anchors;
        if (is_anchor) row.engine.resize(choices);
        for (std::size_t c = 0; c < choices; ++c) {
          if (!result.is_possible[c]) continue;
          const auto car = sampler.car(question.combinations[c]);
          row.closed[c] = closed_form_figures(car, question.speed);
          if (is_anchor) row.engine[c] = c == 0 ? before : engine_figures(car, question.speed);
        }
      }
      done += end - begin;
    });
    if (context.progress.is_cancelled()) return base::fail(cancelled());
    context.progress.report(0.8 * static_cast<double>(slice + 1) / static_cast<double>(slices), "drawing cars");
  }

  // Combinations that too many drawn cars cannot have are left out; of the rest, draws that any of them cannot have.
  constexpr double kTooOften = 0.05;
  std::size_t usable = 0;
  for (const auto& row : rows) usable += !row.is_refused;
  for (std::size_t c = 1; c < choices; ++c) {
    if (!result.is_possible[c]) continue;
    std::size_t failed = 0;
    for (const auto& row : rows) failed += !row.is_refused && !row.closed[c];
    if (static_cast<double>(failed) > kTooOften * static_cast<double>(usable)) result.is_possible[c] = false;
  }
  const auto is_usable = [&](const Row& row) {
    if (row.is_refused) return false;
    for (std::size_t c = 0; c < choices; ++c) {
      if (result.is_possible[c] && !row.closed[c]) return false;
    }
    return true;
  };

  // The engine's difference of each combination against that of the unchanged car, on the anchors.
  std::vector<ChoiceFigures> shift(choices, ChoiceFigures{});
  std::array<std::vector<double>, kChoiceFigures> misses;
  for (std::size_t c = 1; c < choices; ++c) {
    if (!result.is_possible[c]) continue;
    for (const auto figure : kByEngine) {
      std::vector<double> more;
      for (const auto& row : rows) {
        if (row.engine.empty() || row.is_refused || !row.closed[c] || !row.engine[c] || !row.closed[0]) continue;
        more.push_back(beyond(figure, *row.engine[c], *row.closed[c]) - beyond(figure, row.before_engine, *row.closed[0]));
      }
      if (more.empty()) continue;
      shift[c][figure] = stats::mean(more);
      for (const double m : more) misses[figure].push_back(m - shift[c][figure]);
    }
  }
  for (const auto figure : kByEngine) {
    if (misses[figure].size() > 1) result.scatter[figure] = stats::standard_deviation(misses[figure]);
  }

  result.sampled.resize(choices);
  for (std::size_t i = 0; i < draws; ++i) {
    const Row& row = rows[i];
    if (!is_usable(row)) {
      ++result.refused;
      continue;
    }
    for (std::size_t c = 0; c < choices; ++c) {
      if (!result.is_possible[c]) continue;
      ChoiceFigures f = *row.closed[c];
      for (const auto figure : kByEngine) {
        const double more = beyond(figure, row.before_engine, *row.closed[0]) + shift[c][figure];
        f[figure] = is_ratio(figure) ? f[figure] * std::exp(more) : f[figure] + more;
      }
      result.sampled[c].push_back(f);
    }
    result.draw_number.push_back(i);
    result.z.insert(result.z.end(), z.begin() + static_cast<std::ptrdiff_t>(i * dimensions), z.begin() + static_cast<std::ptrdiff_t>((i + 1) * dimensions));
  }
  if (result.draw_number.empty()) {
    return base::fail(base::no_answer("no_such_car", "car", "None of the cars that the sheet's doubts allow can stand or corner.", "numbers that agree with each other",
                                      "Look at the sheet with 'car check'."));
  }
  return result;
}

base::Outcome<ChoiceCars> refine(const ChoiceQuestion& question, ChoiceCars cars, const std::vector<std::size_t>& combinations, Context& context) {
  const std::size_t dimensions = cars.drawn.size(), rows = cars.draw_number.size();
  std::size_t done = 0;
  for (const std::size_t c : combinations) {
    if (c == 0 || !cars.is_possible[c]) continue;  // the unchanged car went through the engine already
    numerics::parallel_ranges(rows, kGrain, [&](std::size_t begin, std::size_t end) {
      ChoiceSampler sampler(question);
      for (std::size_t i = begin; i < end; ++i) {
        if (context.progress.is_cancelled()) return;
        sampler.draw(cars.z.data() + i * dimensions);
        // A draw that the engine cannot follow to the limit keeps the carried-over value.
        if (const auto f = engine_figures(sampler.car(question.combinations[c]), question.speed)) cars.sampled[c][i] = *f;
      }
    });
    if (context.progress.is_cancelled()) return base::fail(cancelled());
    cars.looked_at_closely.push_back(c);
    context.progress.report(0.8 + 0.2 * static_cast<double>(++done) / static_cast<double>(combinations.size()), "looking at the best ones closely");
  }
  return cars;
}

}  // namespace rollwright::ops
