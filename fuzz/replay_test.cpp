// Replays the corpora, each file as it is and with seeded damage: the same inputs on every machine. What a long search
// found lies in the corpora too, so that it is tried again by everybody.
#include <gtest/gtest.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "mutate.h"
#include "targets.h"

namespace rollwright::fuzz {
namespace {

namespace fs = std::filesystem;

std::vector<fs::path> corpus(const Target& target) {
  std::vector<fs::path> files;
  for (const auto& entry : fs::directory_iterator(fs::path(ROLLWRIGHT_SOURCE_DIR) / "fuzz" / "corpus" / target.name)) files.push_back(entry.path());
  std::sort(files.begin(), files.end());
  return files;
}

std::string text_of(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  std::stringstream text;
  text << file.rdbuf();
  return text.str();
}

class Replay : public testing::TestWithParam<Target> {};

// ROLLWRIGHT_FUZZ_KEEP names a folder for the inputs that break something. Where a crash leaves nothing to say so, the
// file "last" there is the one that was being tried.
void attempt(const Target& target, const std::string& bytes) {
  const char* keep = std::getenv("ROLLWRIGHT_FUZZ_KEEP");
  const auto save = [&](const std::string& name) { std::ofstream(fs::path(keep) / (target.name + ("-" + name)), std::ios::binary) << bytes; };
  if (keep != nullptr) save("last");
  try {
    target.run(bytes);
  } catch (const std::exception& broken) {
    ADD_FAILURE() << broken.what() << "\n" << bytes.substr(0, 300);
    if (keep != nullptr) save(std::to_string(std::hash<std::string>()(bytes)));
  }
}

TEST_P(Replay, TheCorpusAndItsDamagedCopiesDoNoHarm) {
  const auto& target = GetParam();
  const auto files = corpus(target);
  ASSERT_FALSE(files.empty()) << "no seeds for " << target.name;
  const char* times = std::getenv("ROLLWRIGHT_FUZZ_TIMES");
  const std::size_t rounds = target.mutations * (times != nullptr ? std::strtoul(times, nullptr, 10) : 1);
  const char* first = std::getenv("ROLLWRIGHT_FUZZ_SEED");
  const std::uint64_t seed = first != nullptr ? std::strtoull(first, nullptr, 10) : 0;
  for (std::size_t f = 0; f < files.size(); ++f) {
    const auto good = text_of(files[f]);
    attempt(target, good);
    // Small seeds first and all of them: a large one is damaged less often, so that the whole takes seconds.
    const std::size_t share = std::max<std::size_t>(1, good.size() > 20000 ? rounds / 10 : rounds);
    for (std::size_t round = 0; round < share; ++round) {
      auto random = base::Random::for_part(seed + f, round);
      attempt(target, target.is_json && random.below(3) != 0 ? damaged_tree(good, random) : damaged_bytes(good, random));
    }
  }
}

INSTANTIATE_TEST_SUITE_P(Fuzz, Replay, testing::ValuesIn(targets()), [](const auto& each) { return std::string(each.param.name); });

}  // namespace
}  // namespace rollwright::fuzz
