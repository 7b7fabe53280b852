// Forecasts with doubt: many cars that the sheet allows, every setup on each of them.
//
// A draw fixes every uncertain number of the car sheet, of the setups and of the bars; all setups are evaluated on the
// same draw, so that a change has its own interval, narrower than that of the values it lies between.
#pragma once

#include <array>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "base/answer.h"
#include "ops/context.h"
#include "ops/shared/bar_rates.h"
#include "ops/shared/car_model.h"
#include "ops/shared/typical_car.h"

namespace rollwright::ops {

// The figures of one car with one setup, in SI units.
enum Figure : std::size_t {
  kRollGradient,            // body to road [rad/(m/s²)]
  kSuspensionRollGradient,  // body to axles
  kFrontShare,              // of the total lateral load transfer
  kUndersteer,              // at small lateral acceleration [rad/(m/s²)]
  kUndersteerMid,           // at 4 m/s²
  kLimit,                   // largest steady lateral acceleration [m/s²]
  kLimitingAxle,            // 0 front, 1 rear
  kFrontLift, kRearLift,    // where the inner wheel leaves the road, straight-line [m/s²]
  kFrontTransfer, kRearTransfer,  // per side and lateral acceleration [kg]
  kFrontStatic, kRearStatic,      // wheel load at rest [N]
  kFrontBar, kRearBar,            // rate per side at the link [N/m]
  kFrontOneWheel, kRearOneWheel, kFrontTwoWheel, kRearTwoWheel, kFrontRollRate, kRearRollRate,  // [N/m]
  kRollFrequency,           // [Hz]
  kRollDamping,
  kFigures
};
using Figures = std::array<double, kFigures>;

struct ForecastQuestion {
  CompletedCar car;
  std::vector<Setup> setups;
  std::vector<std::string> places;  // of the setups in the request: "car.setups[1]"; empty for the car as described
  std::vector<BarRates> bars;
  double speed = 80 / 3.6;     // [m/s]
  bool limit_of_draws = true;  // the sweep to the limit costs most of the time; without it draws keep the nominal limit
  std::size_t draws = 400;
  std::uint64_t seed = 1;
};

struct Forecast {
  std::vector<Figures> nominal;              // by setup
  std::vector<std::vector<Figures>> sampled; // [setup][draw], draws that have an answer in every setup
  std::vector<std::string> drawn;            // paths of the uncertain numbers, bars last
  std::vector<double> z;                     // draw by draw, for sensitivities; rows as in `sampled`
  std::size_t refused = 0;                   // draws that describe no possible car
};

// Problems name the setup whose car is impossible. `setups` must pick bars that exist (see find_bars).
base::Outcome<Forecast> forecast(const ForecastQuestion& question, Context& context);

// The 95 % interval of a figure of draws around its nominal value, in SI. The function is given the draw's number.
struct Range {
  double value = 0.0, low = 0.0, high = 0.0;
  template <class Q>
  [[nodiscard]] base::Interval<Q> as() const { return {Q(value), Q(low), Q(high)}; }
};
// The same drawn cars for any other figures: `figures_of` answers for one car, nothing where that car cannot do it.
// Runs on several threads. Rows of draws that fail in one setup are left out in all.
using FigureRow = std::vector<double>;
struct SampledFigures {
  std::vector<FigureRow> nominal;               // by setup; empty where the stated car itself cannot do it
  std::vector<std::vector<FigureRow>> sampled;  // [setup][draw]
  std::size_t refused = 0;
};
SampledFigures sample_figures(const ForecastQuestion& question,
                              const std::function<std::optional<FigureRow>(const vehicle::Car& car, std::size_t setup)>& figures_of,
                              Context& context);
// The same where many drawn cars are asked at once: `figures_of` answers for a list of cars and the setup of each. It is
// given `at_once` draws of all setups at a time and leaves the nominal rows to the caller.
using BatchFigures = std::function<std::vector<std::optional<FigureRow>>(const std::vector<vehicle::Car>& cars, const std::vector<std::size_t>& setups)>;
SampledFigures sample_batches(const ForecastQuestion& question, const BatchFigures& figures_of, std::size_t at_once, Context& context);
// Ranges of figure number `which`, of its difference and of its ratio (minus one) between two setups.
Range value_range(const SampledFigures& f, std::size_t setup, std::size_t which);
Range difference_range(const SampledFigures& f, std::size_t from, std::size_t to, std::size_t which);
Range change_range(const SampledFigures& f, std::size_t from, std::size_t to, std::size_t which);

// The setups of a question: those of the request, or, without any, the car as its sheet says and then the sheet's own.
void take_setups(ForecastQuestion& question, const std::vector<Setup>& of_request, const std::vector<Setup>& of_sheet);
// Where setup `i` stands in the request.
std::string place_of_setup(const ForecastQuestion& question, std::size_t i);

// Checks every bar and setting that the setups pick; problems name what exists. The first form says "setups[i]".
base::Problems check_bars(const std::vector<Setup>& setups, const std::vector<BarRates>& bars);
base::Problems check_bars(const ForecastQuestion& question);
// Problems of the stated car in one setup, with their place in the car sheet.
base::Problems check_car(const ForecastQuestion& question, std::size_t setup, const vehicle::Car& car);

// The car of one setup at the stated values.
vehicle::Car nominal_car(const ForecastQuestion& question, const Setup& setup);

Range range_of(double nominal, std::vector<double> draws);


// Ranges of one figure, of the difference and of the ratio (minus one) of two setups.
Range value_range(const Forecast& f, std::size_t setup, const std::function<double(const Figures&)>& of);
Range difference_range(const Forecast& f, std::size_t from, std::size_t to, const std::function<double(const Figures&)>& of);
Range change_range(const Forecast& f, std::size_t from, std::size_t to, const std::function<double(const Figures&)>& of);

// Picks one figure, for the functions above.
inline auto figure(Figure which) {
  return [which](const Figures& f) { return f[which]; };
}

// Warnings, assumptions and sources that every forecast carries.
void forecast_footing(const ForecastQuestion& question, const Forecast& forecast, base::Footing& footing);

}  // namespace rollwright::ops
