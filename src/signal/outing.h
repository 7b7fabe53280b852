// Outing: what the recordings of one setup on one day say about the roll of the car.
//
// The unit is the pass (one drive through the slalom): cones within it are not independent. The gradient is the mean of
// the passes, each the mean of two readings (roll_fit.h). Where no slalom is found, the regression over the whole drive
// answers with a wide interval, or the outing is refused.
//
// Uncertainty of the absolute gradient: scatter of passes, joined by what their residuals predict (kPriorPasses passes'
// worth), and a budget of what passes share: scale of the sensors, place of the phone, pendulum length, give of the mount,
// bank where it cannot cancel. For a change with one phone left in place most of the budget cancels (proof.h).
//
// Refused (no answer): too little cornering, one side only, readings that contradict each other.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "base/answer.h"
#include "base/problem.h"
#include "signal/recording.h"
#include "signal/roll_fit.h"
#include "stats/comparison.h"

namespace rollwright::signal {

// How the phone was held: decides the budget for its own lean.
enum class Mount { unknown, fixed, holder };  // fixed: wedged or taped flat to the floor; holder: an arm or a clip
inline constexpr std::array<std::string_view, 3> kMountNames{"unknown", "fixed", "holder"};

// A stretch of one recording, counted as the summary counts them, in seconds from its start.
struct Stretch {
  int recording = 0;
  double from = 0.0, to = 0.0;
};

// What turns a steering angle into an understeer gradient; asked, not guessed. Standard uncertainties beside.
struct SteeringFacts {
  std::optional<double> wheelbase;  // [m]
  double wheelbase_sd = 0.02;
  std::optional<double> ratio;      // hand wheel over road wheels
  double ratio_sd = 0.5;
};

struct OutingOptions {
  RollSetup setup;
  SteeringFacts steering;
  Mount mount = Mount::unknown;
  // Stretches that the person took out.
  std::vector<Stretch> left_out;
  // Runs that the person marked: each takes the place of found ones that it touches.
  std::vector<Stretch> marked;
};

// A fault or a peculiarity of the recording: a stable code, what it means and what to do.
struct Flag {
  std::string code;
  std::string text;
  bool is_serious = false;  // the gradient itself is in doubt
};

struct BudgetLine {
  std::string what;
  double sd = 0.0;              // of K [rad/(m/s²)]
  bool cancels_in_change = false;  // with the same phone in the same place
};

struct OutingPass : PassRoll {
  int recording = 0;
  bool is_used = true;
  std::string left_out_because;
};

struct RecordingSummary {
  std::string name;
  double start = 0.0;            // of its clock [s]
  double duration = 0.0;
  double rate_hz = 0.0;
  double gap_share = 0.0;
  double speed_mean = 0.0;       // over the passes, 0 unknown
  Alignment alignment;
};

// The lateral force over a whole recording, thinned for a drawing: of each step the strongest value.
struct Overview {
  double step = 0.0;             // [s]
  std::vector<double> lateral;   // specific force [m/s²]
};

// How much more steering the car wants per lateral acceleration (understeer.h), or in plain words what is missing for it.
struct UndersteerTrend {
  std::optional<stats::Mean> scatter;   // over passes only [rad/(m/s²)] at the road wheels
  std::optional<stats::Mean> gradient;  // with the whole budget
  std::string says;
};

struct OutingRoll {
  UndersteerTrend understeer;
  bool is_from_slalom = false;
  stats::Mean scatter;          // mean gradient with what differs from pass to pass only [rad/(m/s²)]
  stats::Mean gradient;         // the same with the whole budget
  double pass_deviation = 0.0;  // standard deviation of one pass [rad/(m/s²)]
  std::vector<BudgetLine> budget;
  std::vector<OutingPass> passes;
  std::vector<RollTrace> traces;  // one per pass
  double by_rate = 0.0, by_angle = 0.0;  // means of the two readings
  stats::Mean damping_lag;        // T [s]
  double natural_frequency = 0.0, natural_frequency_error = 0.0;  // [Hz], from K and the pendulum length
  double damping_ratio = 0.0, damping_ratio_error = 0.0;
  stats::Mean delay;              // [s]
  stats::Mean side_difference;    // (left − right)/mean of the gradients at the peaks
  double peak_lateral = 0.0;      // mean over corners and passes [m/s²]
  double largest_lateral = 0.0;
  double frequency = 0.0;         // of the slalom [Hz]
  double speed = 0.0;             // [m/s], 0 unknown
  RollSetup setup;
  Mount mount = Mount::unknown;
  std::vector<RecordingSummary> recordings;
  std::vector<Overview> overviews;  // one per recording
  std::vector<ColumnReport> columns;
  std::vector<Flag> flags;

  [[nodiscard]] bool has_flag(std::string_view code) const;
};

base::Outcome<OutingRoll> analyse_outing(const std::vector<Recording>& recordings, const OutingOptions& options = {});

// Reads and analyses in one go.
base::Outcome<OutingRoll> analyse_files(const std::vector<base::InputFile>& files, const OutingOptions& options = {},
                                        const ReadOptions& read = {});

}  // namespace rollwright::signal
