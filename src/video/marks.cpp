#include "video/marks.h"

#include <algorithm>
#include <cmath>

namespace rollwright::video {
namespace {

// The name without the word for the side, so that "lamp_left" and "lamp_right" meet.
std::string without_side(std::string name) {
  for (const char* word : {"left", "right", "Left", "Right"}) {
    const auto at = name.find(word);
    if (at != std::string::npos) return name.erase(at, std::string(word).size());
  }
  return name;
}

std::string place_of(std::size_t i) { return "marks[" + std::to_string(i) + "]"; }

}  // namespace

std::vector<std::pair<int, int>> body_pairs(const std::vector<Mark>& marks) {
  std::vector<std::pair<int, int>> pairs;
  std::vector<int> lefts, rights;
  for (int i = 0; i < static_cast<int>(marks.size()); ++i) {
    if (marks[i].role != MarkRole::body) continue;
    if (marks[i].side == MarkSide::left) lefts.push_back(i);
    if (marks[i].side == MarkSide::right) rights.push_back(i);
  }
  if (lefts.size() == 1 && rights.size() == 1) return {{lefts[0], rights[0]}};
  for (int l : lefts) {
    for (int r : rights) {
      if (without_side(marks[l].name) == without_side(marks[r].name)) {
        pairs.emplace_back(l, r);
        break;
      }
    }
  }
  return pairs;
}

std::optional<LevelLine> level_line(const Marks& all) {
  const Mark* ends[2] = {nullptr, nullptr};
  for (const Mark& m : all.marks) {
    if (m.role == MarkRole::level && m.side != MarkSide::middle) ends[m.side == MarkSide::left ? 0 : 1] = &m;
  }
  if (ends[0] == nullptr || ends[1] == nullptr) return std::nullopt;
  const double length = std::hypot(ends[1]->at.x - ends[0]->at.x, ends[1]->at.y - ends[0]->at.y);
  return LevelLine{line_angle(ends[0]->at, ends[1]->at), std::hypot(all.sd_of(*ends[0]), all.sd_of(*ends[1])) / std::max(length, 1.0)};
}

base::Problems check_marks(const Marks& all, int width, int height) {
  using base::input_problem;
  base::Problems problems;
  const auto& marks = all.marks;
  int body = 0, contacts[2] = {0, 0}, centres[2] = {0, 0};
  for (std::size_t i = 0; i < marks.size(); ++i) {
    const Mark& m = marks[i];
    if (!std::isfinite(m.at.x) || !std::isfinite(m.at.y) ||
        (width > 0 && (m.at.x < 0 || m.at.y < 0 || m.at.x > width - 1 || m.at.y > height - 1))) {
      problems.push_back(input_problem("mark_outside", place_of(i), "The mark '" + m.name + "' lies outside the picture.",
                                       width > 0 ? "0 to " + std::to_string(width - 1) + " and 0 to " + std::to_string(height - 1) + " px" : "",
                                       "Pixels count on the upright picture, from its top-left corner."));
    }
    for (std::size_t j = 0; j < i; ++j) {
      if (std::hypot(m.at.x - marks[j].at.x, m.at.y - marks[j].at.y) < 4.0) {
        problems.push_back(input_problem("marks_coincide", place_of(i), "The marks '" + marks[j].name + "' and '" + m.name +
                                         "' are on the same spot.", "at least 4 px apart"));
      }
    }
    const int side = m.side == MarkSide::left ? 0 : 1;
    if (m.role == MarkRole::body) ++body;
    if (m.role == MarkRole::tyre_contact && m.side != MarkSide::middle) ++contacts[side];
    if (m.role == MarkRole::wheel_centre && m.side != MarkSide::middle) ++centres[side];
  }
  std::vector<std::size_t> level;
  for (std::size_t i = 0; i < marks.size(); ++i) {
    if (marks[i].role == MarkRole::level) level.push_back(i);
  }
  if (!level.empty()) {
    const bool is_pair = level.size() == 2 && marks[level[0]].side != marks[level[1]].side && marks[level[0]].side != MarkSide::middle && marks[level[1]].side != MarkSide::middle;
    if (!is_pair) {
      problems.push_back(input_problem("level_marks", place_of(level[0]), "A level thing needs its two ends.", "one left and one right, as seen in the picture",
                                       "Leave it out when there is none."));
    } else {
      const Mark& left = marks[level[0]].side == MarkSide::left ? marks[level[0]] : marks[level[1]];
      const Mark& right = marks[level[0]].side == MarkSide::left ? marks[level[1]] : marks[level[0]];
      // Nobody holds a camera twenty degrees askew and films on; it is a line that runs away from the camera.
      if (right.at.x - left.at.x < 60.0 || std::abs(line_angle(left.at, right.at)) > 0.35) {
        problems.push_back(input_problem("level_marks", place_of(level[0]), "The level thing is too short, too steep, or its ends are swapped.",
                                         "at least 60 px wide and within 20° of the picture's own level", "A sill, eaves or the horizon, facing the camera."));
      }
    }
  }
  const auto pairs = body_pairs(marks);
  if (body < 2 || pairs.empty()) {
    problems.push_back(input_problem("body_marks", "marks", "Roll needs a left and a right point of the body at the same height.",
                                     "at least one left–right pair of body marks; two pairs are better",
                                     "Mark the same corner of both rear lamps, and both upper corners of the rear window."));
  }
  const bool has_contacts = contacts[0] == 1 && contacts[1] == 1, has_centres = centres[0] == 1 && centres[1] == 1;
  const int tyre_marks = contacts[0] + contacts[1] + centres[0] + centres[1];
  if ((!has_contacts && !has_centres) || tyre_marks != 2) {
    problems.push_back(input_problem("tyre_marks", "marks", "Roll against the road needs both tyres of one axle.",
                                     "exactly two: the tyre contact points, or the wheel centres, one left and one right"));
  }
  if (!problems.empty()) return problems;

  Pixel tyre[2];
  for (const Mark& m : marks) {
    if (m.role == MarkRole::tyre_contact || m.role == MarkRole::wheel_centre) tyre[m.side == MarkSide::left ? 0 : 1] = m.at;
  }
  // Seen from behind the car's left is the picture's left; seen from the front it is its right.
  const double direction = tyre[1].x - tyre[0].x;
  if (std::abs(direction) < 30.0) {
    problems.push_back(input_problem("car_too_small", "marks", "The tyres are only " +
                                     std::to_string(static_cast<int>(std::abs(direction))) + " px apart.", "at least 30 px, better 300",
                                     "Mark a frame in which the car is near, and film with a longer lens."));
  }
  for (const auto& [l, r] : pairs) {
    if ((marks[r].at.x - marks[l].at.x) * direction <= 0.0) {
      problems.push_back(input_problem("sides_swapped", place_of(static_cast<std::size_t>(l)), "The body marks '" + marks[l].name + "' and '" +
                                       marks[r].name + "' are swapped against the tyres.", "left means the car's left"));
    }
  }
  const double ground = 0.5 * (tyre[0].y + tyre[1].y);
  const double reach = 1.6 * std::abs(direction);
  for (std::size_t i = 0; i < marks.size(); ++i) {
    const Mark& m = marks[i];
    if (m.role != MarkRole::body) continue;
    const double middle = 0.5 * (tyre[0].x + tyre[1].x);
    if (m.at.y > ground || std::abs(m.at.x - middle) > reach || ground - m.at.y > 2.5 * std::abs(direction)) {
      problems.push_back(input_problem("mark_off_car", place_of(i), "The body mark '" + m.name +
                                       "' is not where a body can be, judged by the tyres.", "above the tyres and near them"));
    }
  }
  return problems;
}

}  // namespace rollwright::video
