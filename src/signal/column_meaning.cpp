#include "signal/column_meaning.h"

#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <numbers>

namespace rollwright::signal {
namespace {

using Words = std::vector<std::string>;

// Letters with marks become plain ones, so that "Beschleunigung ä", "prędkość" and "m/s²" can be compared as ASCII.
// Text that is not UTF-8 is taken as Latin-1.
std::string plain(std::string_view text) {
  static const struct { unsigned code; const char* letters; } kTable[] = {
      {0xB0, "deg"}, {0xB2, "2"}, {0xB5, "u"}, {0xB7, "."}, {0x3BC, "u"}, {0x3C9, "w"}, {0x2C6, ""}, {0xE4, "a"}, {0xE0, "a"},
      {0xE1, "a"}, {0xE2, "a"}, {0xE3, "a"}, {0xE5, "a"}, {0x105, "a"}, {0xE7, "c"}, {0x107, "c"}, {0xE9, "e"}, {0xE8, "e"},
      {0xEA, "e"}, {0xEB, "e"}, {0x119, "e"}, {0xED, "i"}, {0xEC, "i"}, {0xEE, "i"}, {0xEF, "i"}, {0x142, "l"}, {0xF1, "n"},
      {0x144, "n"}, {0xF6, "o"}, {0xF3, "o"}, {0xF2, "o"}, {0xF4, "o"}, {0xF5, "o"}, {0xF8, "o"}, {0x15B, "s"}, {0xDF, "ss"},
      {0xFC, "u"}, {0xFA, "u"}, {0xF9, "u"}, {0xFB, "u"}, {0x17C, "z"}, {0x17A, "z"}, {0xC4, "A"}, {0xD6, "O"}, {0xDC, "U"},
      {0xC9, "E"}, {0x2070, "0"}, {0x22C5, "."}, {0x2032, "'"}, {0x207B, "-"}, {0xB9, "1"}};
  std::string out;
  for (std::size_t i = 0; i < text.size();) {
    const auto c = static_cast<unsigned char>(text[i]);
    unsigned code = c;
    std::size_t length = 1;
    const auto follows = [&](std::size_t k) { return i + k < text.size() && (static_cast<unsigned char>(text[i + k]) & 0xC0) == 0x80; };
    if (c >= 0xC2 && c < 0xE0 && follows(1)) {
      code = ((c & 0x1Fu) << 6) | (static_cast<unsigned char>(text[i + 1]) & 0x3Fu);
      length = 2;
    } else if (c >= 0xE0 && c < 0xF0 && follows(1) && follows(2)) {
      code = ((c & 0x0Fu) << 12) | ((static_cast<unsigned char>(text[i + 1]) & 0x3Fu) << 6) |
             (static_cast<unsigned char>(text[i + 2]) & 0x3Fu);
      length = 3;
    }
    if (code < 0x80) {
      out += static_cast<char>(code);
    } else {
      for (const auto& row : kTable) {
        if (row.code == code) out += row.letters;
      }
    }
    i += length;
  }
  return out;
}

std::string lower(std::string text) {
  for (char& c : text) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return text;
}

// "userAcceleration.x (m/s^2)" gives user, acceleration, x.
Words words_of(const std::string& text) {
  Words words;
  std::string word;
  const auto flush = [&] {
    if (!word.empty()) words.push_back(lower(word));
    word.clear();
  };
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    const bool is_letter = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9');
    if (!is_letter) {
      flush();
      continue;
    }
    const bool is_upper = c >= 'A' && c <= 'Z';
    const bool was_lower = i > 0 && text[i - 1] >= 'a' && text[i - 1] <= 'z';
    if (is_upper && was_lower) flush();
    word += c;
  }
  flush();
  return words;
}

bool has(const Words& words, std::initializer_list<const char*> any) {
  return std::any_of(any.begin(), any.end(), [&](const char* w) { return std::find(words.begin(), words.end(), w) != words.end(); });
}

bool begins(const Words& words, std::initializer_list<const char*> any) {
  return std::any_of(any.begin(), any.end(), [&](const char* w) {
    return std::any_of(words.begin(), words.end(), [&](const std::string& word) { return word.rfind(w, 0) == 0; });
  });
}

constexpr double kDegree = std::numbers::pi / 180.0;
constexpr double kGravity = 9.80665;

// Whether text at the end of a heading is a unit. A single letter is an axis or the second, and only the second and g are units.
bool is_known_unit(const std::string& text) {
  return factor_of_unit(text, Meaning::rate_x) != 0.0 || factor_of_unit(text, Meaning::speed) != 0.0 || factor_of_unit(text, Meaning::time) != 0.0 ||
         (text.size() > 1 && factor_of_unit(text, Meaning::acceleration_x) != 0.0) || lower(text) == "g" || lower(text) == "rad" || lower(plain(text)) == "deg";
}

// The unit in brackets, or after the last underscores or blanks where it is one.
struct Split {
  std::string name, unit;
};
Split split_unit(const std::string& heading) {
  for (const auto& [open, close] : {std::pair{'[', ']'}, std::pair{'(', ')'}, std::pair{'{', '}'}}) {
    const auto from = heading.find(open);
    const auto to = heading.rfind(close);
    if (from != std::string::npos && to != std::string::npos && to > from + 1) {
      return {heading.substr(0, from) + heading.substr(to + 1), heading.substr(from + 1, to - from - 1)};
    }
  }
  // Units spelt with underscores or blanks come in up to four pieces: "gx_rad_s", "acc_x_m_per_s2", "speed km h". More pieces win, since the
  // last of them alone is often a unit, too: the s of rad_s is no second here.
  std::vector<std::size_t> starts;  // of the pieces, from the last
  for (std::size_t at = heading.size(); starts.size() < 4;) {
    const auto gap = at == 0 ? std::string::npos : heading.find_last_of("_ ", at - 1);
    if (gap == std::string::npos || gap == 0) break;
    starts.push_back(gap + 1);
    at = gap;
  }
  for (std::size_t k = starts.size(); k >= 1; --k) {
    const std::string tail = heading.substr(starts[k - 1]);
    std::string unit = tail;
    if (k > 1) {
      // "rad_s" is rad/s: the first gap is the stroke, unless the word "per" says where it is.
      const auto gap = tail.find_first_of("_ ");
      if (lower(tail).find("per") == std::string::npos) unit[gap] = '/';
    }
    if (is_known_unit(unit)) return {heading.substr(0, starts[k - 1] - 1), unit};
  }
  return {heading, ""};
}

struct Axis {
  int index = -1;  // 0, 1, 2
  double sign = 1.0;
};

// The axis in the words. Axes that point right or down are turned, so that the three make a right-handed frame.
Axis axis_of(const Words& words) {
  if (has(words, {"forward", "forwards", "front", "longitudinal", "long", "vorwarts", "langs", "surge", "avant"})) return {0, 1.0};
  if (has(words, {"left", "links", "gauche", "izquierda", "lateral", "lat", "quer", "sway"})) return {1, 1.0};
  if (has(words, {"right", "rechts", "droite", "derecha"})) return {1, -1.0};
  if (has(words, {"up", "vertical", "vert", "oben", "hoch", "haut", "arriba", "heave"})) return {2, 1.0};
  if (has(words, {"down", "unten", "bas", "abajo"})) return {2, -1.0};
  for (auto word = words.rbegin(); word != words.rend(); ++word) {
    if (*word == "x" || *word == "1") return {0, 1.0};
    if (*word == "y" || *word == "2") return {1, 1.0};
    if (*word == "z" || *word == "3") return {2, 1.0};
  }
  for (auto word = words.rbegin(); word != words.rend(); ++word) {
    static const char* kStems[] = {"a", "acc", "accel", "accelerometer", "acceleration", "g", "w", "gyr", "gyro", "gyroscope",
                                   "omega", "rot", "rotation", "rotationrate", "rate", "f", "beschl", "beschleunigung",
                                   "drehrate", "lin", "linacc", "la", "m", "mag", "grav", "gravity", "r", "u", "gforce", "force"};
    for (const char* stem : kStems) {
      const std::string s(stem);
      if (word->size() == s.size() + 1 && word->rfind(s, 0) == 0) {
        if (word->back() == 'x') return {0, 1.0};
        if (word->back() == 'y') return {1, 1.0};
        if (word->back() == 'z') return {2, 1.0};
      }
      if (word->size() == s.size() + 1 && word->substr(1) == s) {
        if (word->front() == 'x') return {0, 1.0};
        if (word->front() == 'y') return {1, 1.0};
        if (word->front() == 'z') return {2, 1.0};
      }
    }
  }
  return {};
}

Meaning with_axis(Meaning first, int axis) { return static_cast<Meaning>(static_cast<int>(first) + axis); }

bool is_about(const Words& words, std::initializer_list<const char*> stems) { return begins(words, stems); }

ColumnGuess guess_one(const std::string& heading, const std::string& unit_line, FileTopic topic) {
  ColumnGuess g;
  g.name = heading;
  const Split split = split_unit(plain(heading));
  g.unit = !split.unit.empty() ? split.unit : plain(unit_line);
  const Words words = words_of(split.name);
  const std::string unit = lower(g.unit);
  const auto take = [&](Meaning m, std::string reason, double sign = 1.0) {
    g.meaning = m;
    g.reason = std::move(reason);
    g.sign = sign;
    g.to_si = factor_of_unit(g.unit, m);
  };
  if (words.empty()) {
    g.reason = "no name";
    return g;
  }
  if (is_about(words, {"accuracy", "genauigkeit", "precision", "error", "sigma", "variance"}) ||
      has(words, {"sd", "std", "pdop", "hdop", "vdop", "dop", "epe", "bias", "offset", "temperature", "temp", "fix", "satellites",
                  "pressure", "battery", "date", "index", "id"})) {
    g.reason = "not needed";
    return g;
  }
  const bool rate_unit = factor_of_unit(unit, Meaning::rate_x) != 0.0 && unit != "deg" && unit != "rad";
  const bool rate_word = is_about(words, {"gyr", "rotation", "angular", "omega", "drehrate", "winkelgeschw", "girosc", "rollrate",
                                          "pitchrate", "yawrate", "gierrate", "wankrate", "nickrate", "zyroskop", "giro"}) ||
                         has(words, {"rate", "wx", "wy", "wz", "rot"}) || rate_unit;
  const bool roll_word = is_about(words, {"roll", "wank", "roulis"});
  const bool pitch_word = is_about(words, {"pitch", "nick", "tangage"});
  const bool yaw_word = is_about(words, {"yaw", "gier", "lacet"});
  const bool gravity_word = is_about(words, {"gravity", "gravitation", "schwerkraft", "erdbeschl", "graved", "gravite", "zwaartekracht"}) ||
                            has(words, {"grav"});
  const bool without_word = has(words, {"without", "ohne", "sans", "sin", "senza", "zonder", "excl", "excluding", "no"});
  const bool with_word = has(words, {"with", "mit", "avec", "con", "met", "incl", "including", "inclusive", "including", "total", "raw"});
  const bool linear_word = has(words, {"linear", "lineare", "lineaire", "lineal", "lineaal", "lin", "user", "linacc", "useracceleration",
                                       "linearacceleration", "dynamic", "worldacceleration"}) ||
                           is_about(words, {"linearacc", "linacc", "useracc", "linjar"});
  const bool earth_word = has(words, {"earth", "world", "global", "enu", "ned", "north", "east", "nord", "ost", "absolute", "erde", "south",
                                      "west", "inertial"});
  const bool acc_word = is_about(words, {"acc", "beschl", "acel", "versnelling", "przysp", "akcel"}) ||
                        has(words, {"ax", "ay", "az", "gforce", "force", "f", "fx", "fy", "fz", "a"}) ||
                        (factor_of_unit(unit, Meaning::acceleration_x) != 0.0 && !rate_word && unit != "deg");
  const bool place_word = is_about(words, {"gps", "gnss", "location", "position"});
  const Axis axis = axis_of(words);

  // Time first: its names are plain.
  if (is_about(words, {"time", "zeit", "temps", "tiempo", "tempo", "tijd", "czas", "epoch", "millis", "elapsed", "clock", "uhr"}) ||
      has(words, {"t", "tid", "stamp", "utc", "hora", "heure", "ora", "seconds", "sekunden", "ts"})) {
    if (!place_word || has(words, {"timestamp"})) {
      take(Meaning::time, "name of a time");
      if (g.to_si == 0.0) {
        if (has(words, {"millis", "milliseconds", "millisekunden"})) g.to_si = 1e-3;
        if (has(words, {"seconds", "sekunden"})) g.to_si = 1.0;
        if (has(words, {"nanos", "nanoseconds"})) g.to_si = 1e-9;
        if (has(words, {"micros", "microseconds"})) g.to_si = 1e-6;
      }
      return g;
    }
  }
  if (is_about(words, {"magnet", "compass", "kompass", "brujula"}) || has(words, {"mag", "magx", "magy", "magz", "mx", "my", "mz"})) {
    g.reason = "magnetic field, not needed";
    return g;
  }
  if (is_about(words, {"latit", "breite", "szerok"}) || (words.size() <= 2 && has(words, {"lat"}) && !acc_word && !rate_word)) {
    take(Meaning::latitude, "name of a latitude");
    return g;
  }
  if (is_about(words, {"longitude", "lange", "longitud", "dlugosc"}) || has(words, {"lon", "lng"}) ||
      (words.size() == 1 && words[0] == "long")) {
    take(Meaning::longitude, "name of a longitude");
    return g;
  }
  if (rate_word && !is_about(words, {"accel"})) {
    if (earth_word) {
      take(Meaning::earth_axes, "rates in earth-fixed axes have lost the direction of the car");
      return g;
    }
    if (roll_word) take(Meaning::rate_x, "name of a roll rate");
    else if (pitch_word) take(Meaning::rate_y, "name of a pitch rate");
    else if (yaw_word) take(Meaning::rate_z, "name of a yaw rate");
    else if (axis.index >= 0) take(with_axis(Meaning::rate_x, axis.index), "name or unit of an angular rate", axis.sign);
    if (g.meaning != Meaning::ignored) return g;
  }
  // Before the phone's own angles: "steering angle" is one, too, but of the car.
  if ((is_about(words, {"steer", "lenk", "volant", "sterz", "stuur", "ratt", "kierownic", "volante", "direccion"}) || has(words, {"swa", "sas", "handwheel"})) &&
      !rate_word && !is_about(words, {"torque", "moment", "couple", "kraft", "force"}) && !has(words, {"speed", "velocity", "status", "button"})) {
    const bool is_road = is_about(words, {"road", "tyre", "tire", "roadwheel", "vorderrad", "front"}) || has(words, {"rad", "roue", "rueda", "ruota"});
    take(is_road ? Meaning::road_wheel : Meaning::hand_wheel, is_road ? "name of the front wheels' steer angle" : "name of a steering-wheel angle");
    return g;
  }
  if (roll_word || pitch_word || yaw_word ||
      is_about(words, {"attitude", "orient", "euler", "quat", "azimut", "neigung", "inclin", "lean", "tilt", "winkel", "lage", "bank"}) ||
      has(words, {"qw", "qx", "qy", "qz", "angle", "ypr", "rpy"})) {
    take(Meaning::attitude,
         "the phone's own attitude is pulled over by cornering and moves several times the true roll, so it is not used");
    return g;
  }
  if (is_about(words, {"speed", "velocity", "geschw", "vitesse", "velocid", "velocit", "snelheid", "hastig", "predkosc", "velocidade", "tempo"}) ||
      (words.size() == 1 && (words[0] == "v" || words[0] == "vel")) ||
      (factor_of_unit(unit, Meaning::speed) != 0.0 && unit != "kn" && !acc_word && !has(words, {"vertical"}))) {
    if (has(words, {"vertical", "climb", "vz", "up", "down"})) {
      g.reason = "vertical speed, not needed";
      return g;
    }
    take(Meaning::speed, "name or unit of a speed");
    return g;
  }
  if (is_about(words, {"course", "kurs", "bearing", "track", "rumbo", "rumo", "rotta", "koers", "peilung", "heading", "richtung"}) || has(words, {"cap", "cog"})) {
    take(Meaning::course, "name of a course");
    return g;
  }
  if (acc_word || linear_word || gravity_word || topic == FileTopic::without_gravity) {
    if (earth_word) {
      take(Meaning::earth_axes, "accelerations in earth-fixed axes have lost the direction of the car");
    } else if ((linear_word && !with_word) || (gravity_word && without_word) || topic == FileTopic::without_gravity) {
      take(Meaning::without_gravity,
           "gravity was taken out with the phone's own attitude, which cornering pulls over, so it is not used");
    } else if (gravity_word && !acc_word) {
      g.reason = "the phone's own idea of gravity, not used";
    } else if (axis.index >= 0) {
      take(with_axis(Meaning::acceleration_x, axis.index), "name or unit of an acceleration", axis.sign);
    }
    if (g.reason.empty()) g.reason = "an acceleration without an axis";
    return g;
  }
  // Bare x, y, z: the file's name says of what.
  if (axis.index >= 0 && words.size() <= 2) {
    switch (topic) {
      case FileTopic::accelerometer: take(with_axis(Meaning::acceleration_x, axis.index), "axis in an accelerometer file", axis.sign); return g;
      case FileTopic::gyroscope: take(with_axis(Meaning::rate_x, axis.index), "axis in a gyroscope file", axis.sign); return g;
      case FileTopic::attitude: take(Meaning::attitude, "the phone's own attitude is pulled over by cornering, so it is not used"); return g;
      default: break;
    }
    g.reason = "an axis of an unknown sensor";
    return g;
  }
  g.reason = "not recognised";
  return g;
}

}  // namespace

std::optional<Meaning> meaning_of_name(std::string_view name) {
  for (std::size_t i = 0; i < kMeaningNames.size(); ++i) {
    if (kMeaningNames[i] == name) return static_cast<Meaning>(i);
  }
  return std::nullopt;
}

FileTopic topic_of_file(std::string_view file_name) {
  const std::string name = lower(plain(file_name));
  const auto mentions = [&](std::initializer_list<const char*> any) {
    return std::any_of(any.begin(), any.end(), [&](const char* w) { return name.find(w) != std::string::npos; });
  };
  if (mentions({"linear", "useracc", "linacc", "without", "ohne", "gravityfree"})) return FileTopic::without_gravity;
  if (mentions({"orientation", "attitude", "euler", "quaternion", "lage"})) return FileTopic::attitude;
  if (mentions({"gyro", "rotation", "drehrate", "angular", "giroscop", "zyroskop"})) return FileTopic::gyroscope;
  if (mentions({"magnet", "gravity", "barometer", "pressure", "light", "battery", "proximity", "compass", "annotation", "metadata",
                "pedometer", "activity", "mikro", "microphone"})) {
    return FileTopic::other;
  }
  if (mentions({"accel", "beschl", "acelero", "akcel"})) return FileTopic::accelerometer;
  if (mentions({"location", "gps", "gnss", "position", "ort", "ubicacion"})) return FileTopic::location;
  if (name.find("acc") != std::string::npos) return FileTopic::accelerometer;
  if (name.find("gyr") != std::string::npos) return FileTopic::gyroscope;
  return FileTopic::unknown;
}

double factor_of_unit(std::string_view text, Meaning meaning) {
  std::string u;
  for (const char c : lower(plain(text))) {
    if (c != ' ' && c != '^' && c != '*' && c != '.' && c != '_' && c != '[' && c != ']' && c != '(' && c != ')') u += c;
  }
  if (const auto per = u.find("per"); per != std::string::npos && per > 0) u.replace(per, 3, "/");
  for (const auto& [word, letter] : {std::pair{"squared", "2"}, std::pair{"seconds", "s"}, std::pair{"second", "s"}, std::pair{"hour", "h"}, std::pair{"radians", "rad"}, std::pair{"radian", "rad"},
                                     std::pair{"meters", "m"}, std::pair{"metres", "m"}, std::pair{"meter", "m"}, std::pair{"metre", "m"}}) {
    // Only in compound units: "seconds" alone stays the name of a time.
    const auto at = u.find('/') != std::string::npos ? u.find(word) : std::string::npos;
    if (at != std::string::npos) u.replace(at, std::string_view(word).size(), letter);
  }
  const auto is = [&](std::initializer_list<const char*> any) {
    return std::any_of(any.begin(), any.end(), [&](const char* w) { return u == w; });
  };
  switch (meaning) {
    case Meaning::acceleration_x:
    case Meaning::acceleration_y:
    case Meaning::acceleration_z:
    case Meaning::without_gravity:
    case Meaning::earth_axes:
      if (is({"m/s2", "mps2", "ms2", "ms-2", "m/s/s", "m/sec2", "m/s**2", "m/ss", "m/s²"})) return 1.0;
      if (is({"g", "gs", "gforce", "g's", "gn", "g0"})) return kGravity;
      if (is({"mg", "milli-g", "millig"})) return kGravity * 1e-3;
      if (is({"cm/s2", "gal"})) return 0.01;
      if (is({"ft/s2", "ftps2"})) return 0.3048;
      return 0.0;
    case Meaning::rate_x:
    case Meaning::rate_y:
    case Meaning::rate_z:
      if (is({"rad/s", "radps", "rads", "rad/sec", "rads-1", "1/s", "rps"})) return 1.0;
      if (is({"deg/s", "degps", "dps", "deg/sec", "grad/s", "gradps", "degs-1", "degs", "gr/s", "o/s", "degre/s", "gradi/s", "grados/s",
              "graden/s", "grader/s", "degres/s", "degree/s", "degrees/s", "grad/sek"})) return kDegree;
      if (is({"mdps", "mdeg/s"})) return kDegree * 1e-3;
      if (is({"rpm"})) return std::numbers::pi / 30.0;
      return 0.0;
    case Meaning::speed:
      if (is({"m/s", "mps", "ms-1", "m/sec", "meters/sec", "m/sek"})) return 1.0;
      if (is({"km/h", "kmh", "kph", "kmph", "kmh-1", "km/u", "km/std"})) return 1.0 / 3.6;
      if (is({"mph", "mi/h", "miles/h"})) return 0.44704;
      if (is({"kn", "kt", "kts", "knots", "knot", "knoten"})) return 1852.0 / 3600.0;
      return 0.0;
    case Meaning::course:
    case Meaning::latitude:
    case Meaning::longitude:
    case Meaning::attitude:
    case Meaning::hand_wheel:
    case Meaning::road_wheel:
      if (is({"rad"})) return 1.0;
      if (is({"deg", "grad", "degree", "degrees", "o", "gradi", "grados", "degt"})) return kDegree;
      return 0.0;
    case Meaning::time:
      if (is({"s", "sec", "seconds", "second", "sek", "sekunden", "secs"})) return 1.0;
      if (is({"ms", "msec", "millis", "milliseconds", "millisekunden"})) return 1e-3;
      if (is({"us", "usec", "micros", "microseconds", "mus"})) return 1e-6;
      if (is({"ns", "nsec", "nanos", "nanoseconds"})) return 1e-9;
      if (is({"min", "minutes"})) return 60.0;
      return 0.0;
    case Meaning::ignored:
      return 0.0;
  }
  return 0.0;
}

std::vector<ColumnGuess> guess_columns(const std::vector<std::string>& names, const std::vector<std::string>& units, FileTopic topic) {
  std::vector<ColumnGuess> guesses;
  for (std::size_t i = 0; i < names.size(); ++i) {
    guesses.push_back(guess_one(names[i], i < units.size() ? units[i] : std::string(), topic));
  }
  const auto count = [&](Meaning m) { return std::count_if(guesses.begin(), guesses.end(), [&](const auto& g) { return g.meaning == m; }); };
  // gx, gy, gz: rates where other columns are the accelerations, else accelerations in g.
  const auto g_columns = [&](const std::string& name) {
    const std::string n = lower(plain(split_unit(name).name));
    return n == "gx" || n == "gy" || n == "gz";
  };
  const bool other_acceleration = count(Meaning::acceleration_x) > 0;
  for (auto& g : guesses) {
    if (g.meaning == Meaning::ignored && g_columns(g.name)) {
      const int axis = lower(plain(split_unit(g.name).name))[1] - 'x';
      g.meaning = with_axis(other_acceleration ? Meaning::rate_x : Meaning::acceleration_x, axis);
      g.to_si = factor_of_unit(g.unit, g.meaning);
      g.reason = other_acceleration ? "gx, gy, gz beside accelerations are rates" : "gx, gy, gz alone are accelerations";
    }
  }
  return guesses;
}

std::vector<ColumnGuess> guess_columns_by_content(const std::vector<std::vector<double>>& rows, FileTopic topic) {
  const std::size_t columns = rows.empty() ? 0 : rows.front().size();
  std::vector<ColumnGuess> guesses(columns);
  for (std::size_t j = 0; j < columns; ++j) {
    guesses[j].name = "column " + std::to_string(j + 1);
    guesses[j].reason = "not recognised without a heading";
  }
  if (rows.size() < 3) return guesses;
  const auto column = [&](std::size_t j) {
    std::vector<double> values;
    for (const auto& row : rows) {
      if (std::isfinite(row[j])) values.push_back(row[j]);
    }
    return values;
  };
  // Time: the first column that never falls and rises over the part seen.
  std::size_t time = columns;
  for (std::size_t j = 0; j < columns && time == columns; ++j) {
    const auto values = column(j);
    if (values.size() < rows.size() || !(values.back() > values.front())) continue;
    std::size_t rising = 0;
    bool falls = false;
    for (std::size_t i = 1; i < values.size(); ++i) {
      rising += values[i] > values[i - 1];
      falls = falls || values[i] < values[i - 1];
    }
    if (!falls && 2 * rising > values.size()) time = j;
  }
  if (time < columns) {
    guesses[time].meaning = Meaning::time;
    guesses[time].reason = "rises from row to row";
  }
  // Accelerations: three neighbours whose length hardly changes and is a gravity in some unit.
  const auto is_gravity = [](double length) {
    for (const double unit : {kGravity, 1.0, 1000.0, 100.0 * kGravity}) {
      if (std::abs(length / unit - 1.0) < 0.06) return true;
    }
    return false;
  };
  std::size_t acceleration = columns;
  for (std::size_t j = 0; j + 2 < columns && acceleration == columns; ++j) {
    if (time >= j && time <= j + 2 && time < columns) continue;
    std::vector<double> lengths;
    for (const auto& row : rows) {
      const double length = std::hypot(row[j], row[j + 1], row[j + 2]);
      if (std::isfinite(length)) lengths.push_back(length);
    }
    if (lengths.size() * 2 < rows.size()) continue;
    std::nth_element(lengths.begin(), lengths.begin() + static_cast<std::ptrdiff_t>(lengths.size() / 2), lengths.end());
    if (is_gravity(lengths[lengths.size() / 2])) acceleration = j;
  }
  const auto take_three = [&](std::size_t from, Meaning first, const char* reason) {
    for (int k = 0; k < 3; ++k) {
      auto& g = guesses[from + static_cast<std::size_t>(k)];
      g.meaning = with_axis(first, k);
      g.reason = reason;
    }
  };
  std::size_t after = time < columns ? time + 1 : 0;
  if (acceleration < columns) {
    take_three(acceleration, Meaning::acceleration_x, "length of the three is a gravity");
    after = acceleration + 3;
  } else if (topic == FileTopic::accelerometer && after + 3 <= columns) {
    take_three(after, Meaning::acceleration_x, "three columns of an accelerometer file");
    after += 3;
  }
  if ((acceleration < columns || topic == FileTopic::gyroscope) && after + 3 <= columns && !(time >= after && time < after + 3)) {
    take_three(after, Meaning::rate_x, acceleration < columns ? "three columns after the accelerations" : "three columns of a gyroscope file");
    after += 3;
  }
  if (after < columns && (acceleration < columns || topic == FileTopic::location)) {
    const auto values = column(after);
    if (!values.empty() && *std::min_element(values.begin(), values.end()) >= 0.0) {
      guesses[after].meaning = Meaning::speed;
      guesses[after].reason = "never below zero";
      if (after + 1 < columns) {
        const auto next = column(after + 1);
        if (!next.empty() && *std::min_element(next.begin(), next.end()) >= 0.0 && *std::max_element(next.begin(), next.end()) <= 360.0) {
          guesses[after + 1].meaning = Meaning::course;
          guesses[after + 1].reason = "between 0 and 360";
        }
      }
    }
  }
  return guesses;
}

}  // namespace rollwright::signal
