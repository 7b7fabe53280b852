#include "signal/run_times.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>

#include "signal/table_shape.h"

namespace rollwright::signal {
namespace {

constexpr std::size_t kMostRuns = 10000;
constexpr double kShortest = 1.0, kLongest = 3600.0;  // [s]

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && std::isspace(static_cast<unsigned char>(text.front())) != 0) text.remove_prefix(1);
  while (!text.empty() && std::isspace(static_cast<unsigned char>(text.back())) != 0) text.remove_suffix(1);
  return text;
}

std::string lower(std::string_view text) {
  std::string out(trimmed(text));
  for (char& c : out) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return out;
}

template <std::size_t N>
bool is_one_of(const std::string& word, const std::array<std::string_view, N>& words) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

// Headings in the languages of column_meaning.h, as far as they name a run's table.
constexpr std::array<std::string_view, 10> kTimeWords{"time", "time_s", "time s", "time (s)", "time [s]", "seconds", "zeit", "temps", "tiempo", "tempo"};
constexpr std::array<std::string_view, 8> kSetupWords{"setup", "side", "car", "bar", "hole", "which", "variante", "stand"};
constexpr std::array<std::string_view, 8> kConeWords{"cones", "cones hit", "cones_hit", "hit", "hits", "penalties", "hütchen", "pylonen"};
constexpr std::array<std::string_view, 6> kVoidWords{"void", "x", "dnf", "dns", "ungültig", "invalid"};
constexpr std::array<std::string_view, 7> kNumberWords{"run", "run no", "no", "nr", "#", "number", "lauf"};
constexpr std::array<std::string_view, 5> kBeforeWords{"a", "before", "vorher", "avant", "old"};
constexpr std::array<std::string_view, 5> kAfterWords{"b", "after", "nachher", "après", "new"};

bool starts_with_any(const std::string& word, std::initializer_list<std::string_view> starts) {
  return std::any_of(starts.begin(), starts.end(), [&](std::string_view s) { return word.rfind(s, 0) == 0; });
}

// "32.41", "32,41", "0:32.41", "1:02,3".
std::optional<double> seconds_of(std::string_view cell) {
  cell = trimmed(cell);
  double minutes = 0.0;
  const auto colon = cell.find(':');
  if (colon != std::string_view::npos) {
    if (!parse_number(cell.substr(0, colon), '.', minutes) || minutes < 0.0 || minutes != std::floor(minutes)) return std::nullopt;
    cell = cell.substr(colon + 1);
  }
  if (!cell.empty() && (cell.back() == 's' || cell.back() == 'S')) cell = trimmed(cell.substr(0, cell.size() - 1));
  double seconds;
  const char decimal = cell.find(',') != std::string_view::npos ? ',' : '.';
  if (!parse_number(cell, decimal, seconds) || seconds < 0.0 || (colon != std::string_view::npos && seconds >= 60.0)) return std::nullopt;
  return 60.0 * minutes + seconds;
}

enum class Role { none, time, setup, cones, voided, speed, number };

Role role_of(const std::string& heading) {
  if (is_one_of(heading, kTimeWords)) return Role::time;
  if (is_one_of(heading, kSetupWords)) return Role::setup;
  if (is_one_of(heading, kConeWords)) return Role::cones;
  if (is_one_of(heading, kVoidWords)) return Role::voided;
  if (starts_with_any(heading, {"speed", "entry", "tempo km", "geschwindigkeit", "vitesse"})) return Role::speed;
  if (is_one_of(heading, kNumberWords)) return Role::number;
  return Role::none;
}

struct Line {
  std::size_t number = 0;
  std::string text;
};

class TimesReader {
 public:
  TimesReader(std::string_view text, const std::string& name, std::optional<bool> is_after) : name_(name), given_side_(is_after) {
    std::size_t number = 0;
    while (!text.empty()) {
      const auto end = text.find_first_of("\r\n");
      std::string_view line = text.substr(0, end);
      ++number;
      if (end != std::string_view::npos && text[end] == '\r' && end + 1 < text.size() && text[end + 1] == '\n') text.remove_prefix(end + 2);
      else text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
      if (const auto note = line.find('#'); note != std::string_view::npos && note + 1 < line.size()) line = line.substr(0, note);
      line = trimmed(line);
      if (!line.empty()) lines_.push_back({number, std::string(line)});
    }
  }

  base::Outcome<std::vector<RunTime>> read() {
    if (lines_.empty()) return base::fail(base::input_problem("empty_file", name_, "There are no times.", "one run a line: setup and time"));
    choose_separator();
    if (!problems_.empty()) return base::fail(std::move(problems_));
    std::vector<std::string_view> cells;
    for (const auto& line : lines_) {
      split_line(line.text, separator_, cells);
      if (runs_.empty() && is_heading(cells)) continue;
      take(line, cells);
      if (runs_.size() > kMostRuns) {
        problems_.push_back(base::input_problem("too_many_runs", name_, "There are more than 10000 lines.", "one run a line"));
        break;
      }
    }
    if (problems_.empty() && runs_.empty()) problems_.push_back(base::input_problem("no_table", name_, "No line holds a time.", "one run a line: setup and time, for example 'A 32.41'"));
    if (!problems_.empty()) return base::fail(std::move(problems_));
    return std::move(runs_);
  }

 private:
  void choose_separator() {
    const auto count = [&](char c) {
      return std::count_if(lines_.begin(), lines_.end(), [&](const Line& l) { return l.text.find(c) != std::string::npos; });
    };
    const auto most = static_cast<std::ptrdiff_t>(lines_.size() + 1) / 2;
    if (count(';') >= most) separator_ = ';';
    else if (count('\t') >= most) separator_ = '\t';
    else if (count('|') >= most) separator_ = '|';
    else if (count(',') >= most && (count('.') >= most || count(':') >= most)) separator_ = ',';
    else if (count(',') >= most && count(' ') < most && given_side_ == std::nullopt) {
      problems_.push_back(base::input_problem("ambiguous_commas", name_, "Commas seem to stand both between and inside the numbers.",
                                              "semicolons between the cells, or points in the numbers", "Write 'A 32.41' or 'A; 32,41'."));
    }
  }

  bool is_heading(const std::vector<std::string_view>& cells) {
    if (!roles_.empty()) return false;
    std::vector<Role> roles;
    for (const auto cell : cells) roles.push_back(role_of(lower(cell)));
    if (std::find(roles.begin(), roles.end(), Role::time) == roles.end()) return false;
    roles_ = std::move(roles);
    for (std::size_t i = 0; i < cells.size(); ++i) {
      if (roles_[i] == Role::speed && lower(cells[i]).find("m/s") != std::string::npos) speed_factor_ = 1.0;
      if (roles_[i] == Role::speed && lower(cells[i]).find("mph") != std::string::npos) speed_factor_ = 0.44704;
    }
    return true;
  }

  void refuse(const Line& line, const char* code, std::string message, std::string allowed) {
    if (problems_.size() < 20) problems_.push_back(base::input_problem(code, name_ + ":" + std::to_string(line.number), std::move(message), std::move(allowed)));
  }

  std::optional<bool> side_of(const Line& line, std::string_view cell) {
    const std::string word = lower(cell);
    if (is_one_of(word, kBeforeWords)) return false;
    if (is_one_of(word, kAfterWords)) return true;
    for (std::size_t i = 0; i < setups_.size(); ++i) {
      if (setups_[i] == word) return i == 1;
    }
    if (setups_.size() == 2) {
      refuse(line, "three_setups", "\"" + word.substr(0, 40) + "\" is a third setup beside \"" + setups_[0] + "\" and \"" + setups_[1] + "\".", "two setups, before and after");
      return std::nullopt;
    }
    setups_.push_back(word);
    return setups_.size() == 2;
  }

  void take(const Line& line, const std::vector<std::string_view>& cells) {
    RunTime run;
    std::optional<bool> side;
    std::string setup;
    bool has_time = false;
    for (std::size_t i = 0; i < cells.size(); ++i) {
      const std::string word = lower(cells[i]);
      if (word.empty()) continue;
      const Role role = i < roles_.size() ? roles_[i] : Role::none;
      const auto number = seconds_of(cells[i]);
      if (is_one_of(word, kVoidWords) && role != Role::setup) {
        run.is_void = true;
      } else if (role == Role::number || role == Role::voided) {
        run.is_void = run.is_void || (role == Role::voided && word != "0" && word != "no" && word != "-");
      } else if (role == Role::cones) {
        if (!number) return refuse(line, "not_a_count", "\"" + word.substr(0, 40) + "\" is no number of cones.", "0, 1, 2 …");
        run.cones_hit = static_cast<int>(std::min(*number, 1000.0));
      } else if (role == Role::speed) {
        if (!number) return refuse(line, "not_a_speed", "\"" + word.substr(0, 40) + "\" is no speed.", "a number in km/h");
        run.speed = *number * speed_factor_;
      } else if (role == Role::setup || (roles_.empty() && !number)) {
        setup += (setup.empty() ? "" : " ") + word;  // "soft hole" is one name
      } else if (role == Role::time || (roles_.empty() && !has_time)) {
        if (!number) return refuse(line, "not_a_time", "\"" + word.substr(0, 40) + "\" is no time.", "seconds, or minutes:seconds");
        if (*number < kShortest || *number > kLongest) return refuse(line, "time_out_of_range", "A run of " + word.substr(0, 40) + " s is no run.", "1 to 3600 s");
        run.seconds = *number;
        has_time = true;
      } else if (roles_.empty() && number && *number == std::floor(*number) && *number < 100.0) {
        run.cones_hit = static_cast<int>(*number);
      }
    }
    if (!setup.empty()) {
      side = side_of(line, setup);
      if (!side) return;
    } else {
      side = given_side_;
    }
    if (!side) return refuse(line, "no_setup", "The line does not say which setup was driven.", "A or B, before or after, at the start of the line");
    if (!has_time && !run.is_void) return refuse(line, "no_time", "The line holds no time.", "setup and time, for example 'A 32.41'");
    run.is_after = *side;
    runs_.push_back(run);
  }

  const std::string& name_;
  std::optional<bool> given_side_;
  std::vector<Line> lines_;
  char separator_ = ' ';
  std::vector<Role> roles_;
  double speed_factor_ = 1.0 / 3.6;
  std::vector<std::string> setups_;
  std::vector<RunTime> runs_;
  base::Problems problems_;
};

}  // namespace

base::Outcome<std::vector<RunTime>> read_run_times(std::string_view text, const std::string& name, std::optional<bool> is_after) {
  return TimesReader(text, name, is_after).read();
}

}  // namespace rollwright::signal
