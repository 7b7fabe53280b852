// One target for libFuzzer; which one is chosen where this file is compiled.
#include <algorithm>
#include <cstddef>
#include <cstdint>

#include "mutate.h"
#include "targets.h"

extern "C" std::size_t LLVMFuzzerMutate(std::uint8_t* data, std::size_t size, std::size_t most);

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const auto* target = rollwright::fuzz::find_target(ROLLWRIGHT_FUZZ_TARGET);
  target->run({reinterpret_cast<const char*>(data), size});
  return 0;
}

// Trees are changed as trees two times of three; libFuzzer's own changes do the rest.
extern "C" std::size_t LLVMFuzzerCustomMutator(std::uint8_t* data, std::size_t size, std::size_t most, unsigned int seed) {
  static const auto* target = rollwright::fuzz::find_target(ROLLWRIGHT_FUZZ_TARGET);
  if (!target->is_json || seed % 3 == 0) return LLVMFuzzerMutate(data, size, most);
  rollwright::base::Random random(seed);
  const auto changed = rollwright::fuzz::damaged_tree(std::string(reinterpret_cast<const char*>(data), size), random);
  if (changed.size() > most || changed.empty()) return LLVMFuzzerMutate(data, size, most);
  std::copy(changed.begin(), changed.end(), data);
  return changed.size();
}
