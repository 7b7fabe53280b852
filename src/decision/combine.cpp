#include "decision/combine.h"

#include <algorithm>
#include <map>
#include <utility>

namespace rollwright::decision {
namespace {

bool contains(const std::vector<std::size_t>& list, std::size_t what) { return std::find(list.begin(), list.end(), what) != list.end(); }

class Search {
 public:
  Search(const std::vector<Part>& parts, const Budget& budget) : parts_(parts), budget_(budget) {}

  Combinations run() {
    extend(0);
    return std::move(found_);
  }

 private:
  [[nodiscard]] bool goes_with_chosen(std::size_t i) const {
    return std::none_of(chosen_.begin(), chosen_.end(), [&](std::size_t c) { return contains(parts_[i].excludes, c) || contains(parts_[c].excludes, i); });
  }

  // Prerequisites come before or after in the order; those that lie before `next` and are not chosen can no longer come.
  [[nodiscard]] bool can_still_be_completed(std::size_t next) const {
    for (const std::size_t c : chosen_) {
      for (const std::size_t need : parts_[c].needs) {
        if (need < next && !contains(chosen_, need)) return false;
      }
    }
    return true;
  }

  void extend(std::size_t next) {
    if (!found_.is_complete) return;
    auto set = priced(parts_, chosen_);
    if (set.price > budget_.money || set.hours > budget_.hours || !can_still_be_completed(next)) return;
    if (can_still_be_completed(parts_.size())) {
      if (found_.sets.size() >= budget_.most_sets) {
        found_.is_complete = false;
        return;
      }
      found_.sets.push_back(std::move(set));
    }
    if (chosen_.size() >= budget_.most_parts) return;
    for (std::size_t i = next; i < parts_.size(); ++i) {
      if (!goes_with_chosen(i)) continue;
      chosen_.push_back(i);
      extend(i + 1);
      chosen_.pop_back();
    }
  }

  const std::vector<Part>& parts_;
  const Budget& budget_;
  std::vector<std::size_t> chosen_;
  Combinations found_;
};

}  // namespace

Combination priced(const std::vector<Part>& parts, std::vector<std::size_t> chosen) {
  Combination set;
  std::map<std::string, Extra> extras;
  for (const std::size_t i : chosen) {
    set.price += parts[i].price;
    set.hours += parts[i].hours;
    for (const auto& extra : parts[i].extras) {
      auto& once = extras[extra.what];
      once.price = std::max(once.price, extra.price);
      once.hours = std::max(once.hours, extra.hours);
    }
  }
  for (const auto& [what, extra] : extras) {
    set.price += extra.price;
    set.hours += extra.hours;
  }
  set.parts = std::move(chosen);
  return set;
}

Combinations combinations(const std::vector<Part>& parts, const Budget& budget) { return Search(parts, budget).run(); }

}  // namespace rollwright::decision
