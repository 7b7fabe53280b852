#include "signal/gpx.h"

#include <cstring>
#include <numbers>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>

#include "signal/table_shape.h"
#include "signal/text_lines.h"
#include "signal/time_text.h"

namespace rollwright::signal {
namespace {

constexpr double kDegree = std::numbers::pi / 180.0;
constexpr std::size_t kLongestTag = 1 << 14;
constexpr std::size_t kMostPoints = std::size_t{1} << 21;

// Tags and the text between them, one at a time.
class Tags {
 public:
  explicit Tags(std::unique_ptr<base::ByteStream> stream) : stream_(std::move(stream)) {}

  // Text before the next tag goes to `text` (cut at a sensible length), the inside of the tag to `tag`.
  bool next(std::string& text, std::string& tag) {
    text.clear();
    tag.clear();
    char c;
    while (get(c)) {
      if (c == '<') break;
      if (text.size() < 256) text += c;
    }
    while (get(c)) {
      if (tag.rfind("!--", 0) == 0) {
        if (c == '>' && tag.size() >= 5 && tag.compare(tag.size() - 2, 2, "--") == 0) return true;
        tag += c;
        if (tag.size() > 64) tag = "!--" + tag.substr(tag.size() - 8);  // comments may be long; only their end matters
        continue;
      }
      if (c == '>') return true;
      tag += c;
      if (tag.size() > kLongestTag) throw std::runtime_error("a tag is longer than 16384 characters");
    }
    return false;
  }

 private:
  bool get(char& c) {
    if (at_ == size_) {
      size_ = stream_->read(buffer_, sizeof buffer_);
      at_ = 0;
      if (size_ == 0) return false;
    }
    c = buffer_[at_++];
    return true;
  }
  std::unique_ptr<base::ByteStream> stream_;
  char buffer_[1 << 14];
  std::size_t at_ = 0, size_ = 0;
};

std::string_view local_name(std::string_view tag) {
  if (!tag.empty() && tag.front() == '/') tag.remove_prefix(1);
  const auto end = tag.find_first_of(" \t\r\n/");
  tag = tag.substr(0, end);
  const auto colon = tag.find(':');
  return colon == std::string_view::npos ? tag : tag.substr(colon + 1);
}

std::optional<double> attribute(std::string_view tag, std::string_view name) {
  std::size_t at = 0;
  while ((at = tag.find(name, at)) != std::string_view::npos) {
    const char before = at == 0 ? ' ' : tag[at - 1];
    std::size_t i = at + name.size();
    while (i < tag.size() && tag[i] == ' ') ++i;
    if ((before == ' ' || before == '\t' || before == '\n' || before == '\r') && i < tag.size() && tag[i] == '=') {
      ++i;
      while (i < tag.size() && tag[i] == ' ') ++i;
      if (i < tag.size() && (tag[i] == '"' || tag[i] == '\'')) {
        const auto close = tag.find(tag[i], i + 1);
        double value;
        if (close != std::string_view::npos && parse_number(tag.substr(i + 1, close - i - 1), '.', value)) return value;
      }
      return std::nullopt;
    }
    at += name.size();
  }
  return std::nullopt;
}

}  // namespace

bool looks_like_xml(std::string_view head) {
  const auto first = head.find_first_not_of(" \t\r\n");
  return first != std::string_view::npos && head[first] == '<';
}

base::Outcome<std::vector<TrackPoint>> read_gpx(const base::ByteSource& source) {
  std::vector<TrackPoint> points;
  bool is_gpx = false, is_in_point = false, has_time = false, is_closed = false;
  try {
    Tags tags(open_text(source));
    std::string text, tag;
    TrackPoint point;
    while (tags.next(text, tag)) {
      const std::string_view name = local_name(tag);
      const bool is_end = !tag.empty() && tag.front() == '/';
      if (name == "gpx") (is_end ? is_closed : is_gpx) = true;
      if (name == "trkpt" && !is_end) {
        const auto latitude = attribute(tag, "lat"), longitude = attribute(tag, "lon");
        is_in_point = latitude && longitude && *latitude >= -90.0 && *latitude <= 90.0 && *longitude >= -180.0 && *longitude <= 180.0;
        has_time = false;
        point = TrackPoint{};
        if (is_in_point) point.place = {*latitude * kDegree, *longitude * kDegree};
      } else if (is_in_point && is_end) {
        double value;
        if (name == "time") {
          std::string_view t = text;
          while (!t.empty() && (t.front() == '\n' || t.front() == '\r' || t.front() == '\t')) t.remove_prefix(1);
          while (!t.empty() && (t.back() == '\n' || t.back() == '\r' || t.back() == '\t')) t.remove_suffix(1);
          if (const auto stamp = parse_time(t); stamp && stamp->has_date) {
            point.time = stamp->seconds;
            has_time = true;
          }
        } else if (name == "speed" && parse_number(text, '.', value) && value >= 0.0 && value < 150.0) {
          point.speed = value;
        } else if (name == "course" && parse_number(text, '.', value) && value >= 0.0 && value <= 360.0) {
          point.course = value * kDegree;
        } else if (name == "trkpt") {
          if (has_time && points.size() < kMostPoints && (points.empty() || point.time > points.back().time)) points.push_back(point);
          is_in_point = false;
        }
      }
    }
  } catch (const std::runtime_error& error) {
    return base::fail(base::input_problem("unreadable", source.name(), std::string("Cannot be read: ") + error.what() + "."));
  }
  if (!is_gpx) {
    return base::fail(base::input_problem("not_gpx", source.name(), "The file is XML but not a GPX track.", "GPX 1.1 or a text table"));
  }
  if (!is_closed) {
    return base::fail(base::input_problem("truncated", source.name(), "The GPX file breaks off before its end.", "", "Export it again."));
  }
  if (points.empty()) {
    return base::fail(base::input_problem("no_track", source.name(), "The GPX file holds no track point with a time.",
                                          "trkpt elements with lat, lon and time"));
  }
  return points;
}

}  // namespace rollwright::signal
