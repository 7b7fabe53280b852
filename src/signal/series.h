// Series3: three readings against time, of any length in bounded memory.
//
// Up to kMostSamples readings are kept as they come. When more arrive, neighbours are averaged in pairs and from then on
// twice as many readings make one kept sample. What would be lost by that is counted first, on the readings as they come:
// intervals, gaps, jitter, stuck and repeated values, and how rough the signal is.
#pragma once

#include <array>
#include <cstddef>
#include <vector>

namespace rollwright::signal {

inline constexpr std::size_t kMostSamples = std::size_t{1} << 20;

// What the readings looked like before any averaging.
struct SeriesHealth {
  std::size_t readings = 0;
  std::size_t out_of_order = 0;      // readings whose time was not after the one before; dropped
  double usual_interval = 0.0;       // median of the first 20,000 [s]
  double interval_jitter = 0.0;      // robust standard deviation of the interval, as a share of the usual one
  double longest_interval = 0.0;     // [s]
  std::array<double, 3> largest{};   // greatest absolute reading per axis
  std::array<std::size_t, 3> stuck_at_largest{};  // readings in runs of three or more that equal the greatest one exactly
  double roughness = 0.0;            // rms of the difference of neighbours over √2: noise and vibration, own unit
};

class Series3 {
 public:
  // Makes room for about so many readings, so that memory is not moved while they come.
  void expect(std::size_t readings);
  // Readings must come in order of time; others are counted and dropped.
  void add(double t, double x, double y, double z);
  void finish();
  void scale(double factor);               // all readings, and the health figures with them
  void scale_axis(int axis, double factor);
  // What was kept between two times, with the health of the whole.
  [[nodiscard]] Series3 part(double from, double to) const;

  [[nodiscard]] bool is_empty() const { return t_.empty(); }
  [[nodiscard]] std::size_t size() const { return t_.size(); }
  [[nodiscard]] const std::vector<double>& time() const { return t_; }
  [[nodiscard]] const std::vector<float>& axis(int i) const { return value_[static_cast<std::size_t>(i)]; }
  [[nodiscard]] const SeriesHealth& health() const { return health_; }
  [[nodiscard]] std::size_t averaged() const { return group_; }  // readings per kept sample

 private:
  void keep();
  void halve();

  std::vector<double> t_;
  std::array<std::vector<float>, 3> value_;
  SeriesHealth health_;
  std::size_t group_ = 1;
  std::size_t in_group_ = 0;
  double group_time_ = 0.0;
  std::array<double, 3> group_sum_{};
  double last_time_ = 0.0;
  std::array<double, 3> last_{};
  std::array<std::array<double, 2>, 3> extreme_{};        // lowest, highest
  std::array<std::array<std::size_t, 2>, 3> run_{}, stuck_{};
  double squared_steps_ = 0.0;
  std::vector<float> intervals_;
};

}  // namespace rollwright::signal
