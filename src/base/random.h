// Random: a seeded stream of random numbers that is the same on every machine.
//
// The standard library's distributions differ between implementations, so the conversions are our own: a uniform
// double from the top 53 bits of a 64-bit Mersenne twister, a normal one by the inverse distribution's polar method.
#pragma once

#include <cmath>
#include <cstdint>
#include <random>

namespace rollwright::base {

class Random {
 public:
  explicit Random(std::uint64_t seed) : engine_(seed) {}

  // In [0, 1).
  double uniform() { return static_cast<double>(engine_() >> 11) * 0x1.0p-53; }
  double uniform(double low, double high) { return low + (high - low) * uniform(); }

  // Mean 0, standard deviation 1 [Marsaglia & Bray 1964, polar method].
  double normal() {
    if (has_spare_) {
      has_spare_ = false;
      return spare_;
    }
    double u, v, s;
    do {
      u = uniform(-1.0, 1.0);
      v = uniform(-1.0, 1.0);
      s = u * u + v * v;
    } while (s >= 1.0 || s == 0.0);
    const double scale = std::sqrt(-2.0 * std::log(s) / s);
    spare_ = v * scale;
    has_spare_ = true;
    return u * scale;
  }
  double normal(double mean, double sd) { return mean + sd * normal(); }

  // A whole number in [0, count).
  std::uint64_t below(std::uint64_t count) { return static_cast<std::uint64_t>(uniform() * static_cast<double>(count)); }

  // A stream of its own for part `index` of a larger job, so that parts can run in any order.
  [[nodiscard]] static Random for_part(std::uint64_t seed, std::uint64_t index) {
    std::seed_seq mix{static_cast<std::uint32_t>(seed), static_cast<std::uint32_t>(seed >> 32),
                      static_cast<std::uint32_t>(index), static_cast<std::uint32_t>(index >> 32)};
    Random random(0);
    random.engine_.seed(mix);
    return random;
  }

 private:
  std::mt19937_64 engine_;
  double spare_ = 0.0;
  bool has_spare_ = false;
};

}  // namespace rollwright::base
