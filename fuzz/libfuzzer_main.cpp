// One target for libFuzzer; which one is chosen where this file is compiled, so that a reader's program contains no more
// than that reader.
#include <cstddef>
#include <cstdint>

#include "targets.h"

#ifdef ROLLWRIGHT_FUZZ_JSON
#include <algorithm>

#include "mutate.h"
#endif

extern "C" std::size_t LLVMFuzzerMutate(std::uint8_t* data, std::size_t size, std::size_t most);

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  rollwright::fuzz::ROLLWRIGHT_FUZZ_TARGET({reinterpret_cast<const char*>(data), size});
  return 0;
}

#ifdef ROLLWRIGHT_FUZZ_JSON
// Trees are changed as trees two times of three; libFuzzer's own changes do the rest.
extern "C" std::size_t LLVMFuzzerCustomMutator(std::uint8_t* data, std::size_t size, std::size_t most, unsigned int seed) {
  if (seed % 3 == 0) return LLVMFuzzerMutate(data, size, most);
  rollwright::base::Random random(seed);
  const auto changed = rollwright::fuzz::damaged_tree(std::string(reinterpret_cast<const char*>(data), size), random);
  if (changed.size() > most || changed.empty()) return LLVMFuzzerMutate(data, size, most);
  std::copy(changed.begin(), changed.end(), data);
  return changed.size();
}
#endif
