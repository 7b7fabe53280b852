#include <gtest/gtest.h>
#include <zlib.h>

#include <cmath>
#include <cstdio>
#include <numbers>

#include "base/random.h"
#include "signal/clean_drive.h"
#include "signal/earth.h"
#include "signal/gpx.h"
#include "signal/log_file.h"
#include "signal/recording.h"
#include "signal/table_shape.h"
#include "signal/text_lines.h"
#include "signal/time_text.h"

namespace rollwright::signal {
namespace {

constexpr double kDegree = std::numbers::pi / 180.0;

base::InputFile file(std::string name, std::string text) { return base::text_source(std::move(name), std::move(text)); }

std::string gzip(const std::string& text) {
  z_stream z{};
  deflateInit2(&z, 6, Z_DEFLATED, 15 + 16, 8, Z_DEFAULT_STRATEGY);
  std::string out(text.size() + 1000, '\0');
  z.next_in = reinterpret_cast<Bytef*>(const_cast<char*>(text.data()));
  z.avail_in = static_cast<uInt>(text.size());
  z.next_out = reinterpret_cast<Bytef*>(out.data());
  z.avail_out = static_cast<uInt>(out.size());
  deflate(&z, Z_FINISH);
  out.resize(z.total_out);
  deflateEnd(&z);
  return out;
}

// A log of a phone at rest with a slow wag, 100 readings a second for `seconds`.
struct Style {
  std::string heading = "t_s,acc_x_mps2,acc_y_mps2,acc_z_mps2,gyr_x_radps,gyr_y_radps,gyr_z_radps";
  char separator = ',';
  char decimal = '.';
  double force_unit = 1.0, rate_unit = 1.0, time_unit = 1.0, time_zero = 0.0;
  int decimals = 6;
};
std::string log_text(const Style& s, double seconds = 8.0) {
  std::string text = s.heading.empty() ? "" : s.heading + "\n";
  const int n = static_cast<int>(seconds * 100);
  for (int i = 0; i < n; ++i) {
    const double t = 0.01 * i;
    const double v[7] = {(s.time_zero + t) / s.time_unit, 0.3 / s.force_unit, 0.5 * std::sin(t) / s.force_unit, 9.81 / s.force_unit,
                         0.01 / s.rate_unit, 0.2 * std::sin(t) / s.rate_unit, 0.3 * std::cos(t) / s.rate_unit};
    for (int c = 0; c < 7; ++c) {
      char cell[64];
      std::snprintf(cell, sizeof cell, "%.*f", s.decimals, v[c]);
      for (char* p = cell; *p; ++p) {
        if (*p == '.') *p = s.decimal;
      }
      if (c > 0) text += s.separator;
      text += cell;
    }
    text += '\n';
  }
  return text;
}

void expect_the_wag(const Recording& r, double tolerance = 2e-4) {
  ASSERT_EQ(r.specific_force.size(), 800u);
  ASSERT_EQ(r.angular_rate.size(), 800u);
  const double zero = r.specific_force.time().front();
  for (std::size_t i = 0; i < 800; i += 97) {
    const double t = 0.01 * static_cast<double>(i);
    EXPECT_NEAR(r.specific_force.time()[i] - zero, t, 1e-4);  // stamps of a microsecond or coarser, epoch in a double
    EXPECT_NEAR(r.specific_force.axis(0)[i], 0.3, tolerance);
    EXPECT_NEAR(r.specific_force.axis(1)[i], 0.5 * std::sin(t), tolerance);
    EXPECT_NEAR(r.specific_force.axis(2)[i], 9.81, tolerance);
    EXPECT_NEAR(r.angular_rate.axis(1)[i], 0.2 * std::sin(t), tolerance);
    EXPECT_NEAR(r.angular_rate.axis(2)[i], 0.3 * std::cos(t), tolerance);
  }
}

TEST(Reading, TheSameDriveReadsTheSameInEveryShape) {
  std::vector<Style> styles(9);
  styles[1].heading = "Zeit [ms];Beschleunigung x [g];Beschleunigung y [g];Beschleunigung z [g];Drehrate x [Grad/s];Drehrate y [Grad/s];Drehrate z [Grad/s]";
  styles[1].separator = ';';
  styles[1].decimal = ',';
  styles[1].force_unit = 9.80665;
  styles[1].rate_unit = kDegree;
  styles[1].time_unit = 1e-3;
  styles[2].heading = "temps\taccélération x (m/s²)\taccélération y (m/s²)\taccélération z (m/s²)\trotation x (°/s)\trotation y (°/s)\trotation z (°/s)";
  styles[2].separator = '\t';
  styles[2].rate_unit = kDegree;
  styles[3].heading = "";                       // no heading at all
  styles[3].separator = ' ';
  styles[4].heading = "timestamp_ns,ax,ay,az,gx,gy,gz";
  styles[4].time_unit = 1e-9;
  styles[4].time_zero = 1.7e9;
  styles[5].heading = "# made by a logger\n# second note\ntime|accel_x|accel_y|accel_z|gyro_x|gyro_y|gyro_z";
  styles[5].separator = '|';
  styles[6].heading = "time,x acc,y acc,z acc,wx,wy,wz\ns,mg,mg,mg,deg/s,deg/s,deg/s";  // a line of units
  styles[6].force_unit = 9.80665e-3;
  styles[6].rate_unit = kDegree;
  styles[7].heading = "tiempo (s);aceleración x (m/s^2);aceleración y (m/s^2);aceleración z (m/s^2);giroscopio x (rad/s);giroscopio y (rad/s);giroscopio z (rad/s)";
  styles[7].separator = ';';
  styles[8].heading = "epoch_us,acc_x_g,acc_y_g,acc_z_g,gyr_x_dps,gyr_y_dps,gyr_z_dps";
  styles[8].force_unit = 9.80665;
  styles[8].rate_unit = kDegree;
  styles[8].time_unit = 1e-6;
  styles[8].time_zero = 1.7e9;
  for (std::size_t i = 0; i < styles.size(); ++i) {
    SCOPED_TRACE(i);
    const auto r = read_recordings({file("log.txt", log_text(styles[i]))});
    ASSERT_TRUE(r) << r.error()[0].message;
    ASSERT_EQ(r->size(), 1u);
    expect_the_wag(r->front());
  }
}

TEST(Reading, UnitsSpeltWithUnderscoresAreUnderstood) {
  struct Row {
    const char* heading;
    Meaning meaning;
    double to_si;
  };
  for (const Row& row : {Row{"gx_rad_s", Meaning::rate_x, 1.0}, Row{"gyro_y_deg_s", Meaning::rate_y, kDegree}, Row{"speed_m_s", Meaning::speed, 1.0},
                         Row{"speed_km_h", Meaning::speed, 1.0 / 3.6}, Row{"acc_x_m_s2", Meaning::acceleration_x, 1.0}, Row{"ay_m_s_2", Meaning::acceleration_y, 1.0},
                         Row{"accel z m per s2", Meaning::acceleration_z, 1.0}, Row{"wz_rad_per_s", Meaning::rate_z, 1.0}, Row{"gyro_x_deg_per_sec", Meaning::rate_x, kDegree},
                         Row{"velocity_metres_per_second", Meaning::speed, 1.0}, Row{"acc_y_m_per_second_squared", Meaning::acceleration_y, 1.0},
                         Row{"rotation_z_degrees_per_second", Meaning::rate_z, kDegree}, Row{"time_ms", Meaning::time, 1e-3}, Row{"t_s", Meaning::time, 1.0},
                         Row{"acc_x_g", Meaning::acceleration_x, 9.80665}, Row{"gyr_z_dps", Meaning::rate_z, kDegree}, Row{"gps_speed_kmh", Meaning::speed, 1.0 / 3.6},
                         Row{"speed_mi_h", Meaning::speed, 0.44704}}) {
    const auto guess = guess_columns({row.heading}, {""}, FileTopic::unknown).front();
    EXPECT_EQ(guess.meaning, row.meaning) << row.heading;
    EXPECT_NEAR(guess.to_si, row.to_si, 1e-12 + 1e-9 * row.to_si) << row.heading << " with unit " << guess.unit;  // the same constants, round-off only
  }
}

TEST(Reading, GzipAndUtf16ReadTheSame) {
  const std::string text = log_text({});
  const auto packed = read_recordings({file("log.csv.gz", gzip(text))});
  ASSERT_TRUE(packed) << packed.error()[0].message;
  expect_the_wag(packed->front());
  std::string wide = "\xFF\xFE";
  for (const char c : text) {
    wide += c;
    wide += '\0';
  }
  const auto utf16 = read_recordings({file("log.csv", wide)});
  ASSERT_TRUE(utf16) << utf16.error()[0].message;
  expect_the_wag(utf16->front());
}

TEST(Reading, WindowsAndOldLineEndsReadTheSame) {
  for (const char* end : {"\r\n", "\r"}) {
    std::string text;
    for (const char c : log_text({})) {
      if (c == '\n') text += end;
      else text += c;
    }
    const auto r = read_recordings({file("log.csv", text)});
    ASSERT_TRUE(r) << r.error()[0].message;
    expect_the_wag(r->front());
  }
}

TEST(Reading, ClockOfTheDayRunsPastMidnight) {
  std::string text = "time,ax,ay,az,wx,wy,wz\n";
  for (int i = 0; i < 1000; ++i) {
    const double t = 86395.0 + 0.01 * i, day = std::fmod(t, 86400.0);
    const int hour = static_cast<int>(day / 3600), minute = static_cast<int>(day / 60) % 60;
    char row[128];
    std::snprintf(row, sizeof row, "%02d:%02d:%06.3f,0,0,9.81,0,0,0.1\n", hour, minute, std::fmod(day, 60.0));
    text += row;
  }
  const auto r = read_recordings({file("log.csv", text)});
  ASSERT_TRUE(r) << r.error()[0].message;
  EXPECT_EQ(r->front().specific_force.size(), 1000u);
  EXPECT_NEAR(r->front().specific_force.time().back() - r->front().specific_force.time().front(), 9.99, 1e-6);
}

TEST(Reading, FilesOfOneRecordingAreJoinedByTime) {
  std::string force = "epoch_ms,x,y,z\n", rate = "epoch_ms,x,y,z\n", place = "epoch_ms,speed_mps,course_deg\n";
  for (int i = 0; i < 800; ++i) {
    char row[128];
    std::snprintf(row, sizeof row, "%.0f,0.3,0,9.81\n", 1.7e12 + 10.0 * i);
    force += row;
    std::snprintf(row, sizeof row, "%.0f,0.01,0.02,0.03\n", 1.7e12 + 10.0 * i + 3.0);
    rate += row;
    if (i % 100 == 0) {
      std::snprintf(row, sizeof row, "%.0f,%d,90\n", 1.7e12 + 10.0 * i, i / 100);
      place += row;
    }
  }
  const auto r = read_recordings({file("a_gyroscope.csv", rate), file("a_location.csv", place), file("a_accelerometer.csv", force)});
  ASSERT_TRUE(r) << r.error()[0].message;
  ASSERT_EQ(r->size(), 1u);
  EXPECT_EQ(r->front().specific_force.size(), 800u);
  EXPECT_EQ(r->front().angular_rate.size(), 800u);
  EXPECT_EQ(r->front().fixes.size(), 8u);
  EXPECT_NEAR(r->front().fixes[3].speed, 3.0, 1e-12);
}

std::string code_of(const std::vector<base::InputFile>& files) {
  const auto r = read_recordings(files);
  return r ? std::string("read") : r.error()[0].code;
}

TEST(Reading, ALongTableIsTakenApartBySensor) {
  std::string text = "timestamp_ms,sensor,x,y,z\n";
  char row[200];
  for (int i = 0; i < 800; ++i) {
    const double t = 0.01 * i;
    std::snprintf(row, sizeof row, "%.0f,ACC,0.3,%.6f,9.81\n%.0f,GYRO,0.01,%.6f,%.6f\n%.0f,LinearAcceleration,1,1,1\n", 1000 * t, 0.5 * std::sin(t), 1000 * t + 1,
                  0.2 * std::sin(t), 0.3 * std::cos(t), 1000 * t + 2);
    text += row;
  }
  const auto r = read_recordings({file("log.csv", text)});
  ASSERT_TRUE(r) << r.error()[0].message;
  expect_the_wag(r->front());
}

TEST(Reading, LateralAndLongitudinalAreAxesAndNotPlaces) {
  Style s;
  s.heading = "time_s,long_acc_g,lat_acc_g,vert_acc_g,roll_rate_dps,pitch_rate_dps,yaw_rate_dps";
  s.force_unit = 9.80665;
  s.rate_unit = kDegree;
  const auto r = read_recordings({file("log.csv", log_text(s))});
  ASSERT_TRUE(r) << r.error()[0].message;
  expect_the_wag(r->front());
}

TEST(Reading, LinearAccelerationIsRefusedWithTheReason) {
  Style s;
  s.heading = "t_s,linear_acc_x_mps2,linear_acc_y_mps2,linear_acc_z_mps2,gyr_x_radps,gyr_y_radps,gyr_z_radps";
  const auto r = read_recordings({file("log.csv", log_text(s))});
  ASSERT_FALSE(r);
  EXPECT_EQ(r.error()[0].code, "gravity_removed");
  EXPECT_NE(r.error()[0].message.find("gravity"), std::string::npos);
}

TEST(Reading, AccelerationsThatHoldNoGravityAreRefusedWhateverTheirName) {
  std::string text = "t,ax,ay,az,wx,wy,wz\n";
  for (int i = 0; i < 500; ++i) text += std::to_string(0.01 * i) + ",0.4,-0.3,0.1,0.01,0.02,0.1\n";
  EXPECT_EQ(code_of({file("log.csv", text)}), "gravity_removed");
}

TEST(Reading, EarthAxesAndAttitudeAloneAreRefused) {
  Style s;
  s.heading = "t_s,acc_north_mps2,acc_east_mps2,acc_up_earth_mps2,gyr_x_radps,gyr_y_radps,gyr_z_radps";
  EXPECT_EQ(code_of({file("log.csv", log_text(s))}), "gravity_removed");
  s.heading = "t_s,acc_x_mps2,acc_y_mps2,acc_z_mps2,roll_deg,pitch_deg,yaw_deg";
  const auto r = read_recordings({file("log.csv", log_text(s))});
  ASSERT_FALSE(r);
  EXPECT_EQ(r.error()[0].code, "no_gyroscope");
  EXPECT_NE(r.error()[0].message.find("roll angle"), std::string::npos);
}

TEST(Reading, AWrongUnitInTheHeadingIsCorrectedAloud) {
  Style s;  // says g, holds m/s²
  s.heading = "t_s,acc_x_g,acc_y_g,acc_z_g,gyr_x_radps,gyr_y_radps,gyr_z_radps";
  const auto r = read_recordings({file("log.csv", log_text(s))});
  ASSERT_TRUE(r);
  expect_the_wag(r->front());
  ASSERT_FALSE(r->front().footing.warnings.empty());
  EXPECT_EQ(r->front().footing.warnings[0].code, "units_corrected");
}

TEST(Reading, MissingAxesAreNamed) {
  std::string text = "t,ax,ay,az,wz\n";
  for (int i = 0; i < 100; ++i) text += std::to_string(0.01 * i) + ",0,0,9.8,0.1\n";
  EXPECT_EQ(code_of({file("log.csv", text)}), "missing_axes");
}

TEST(Reading, AColumnCanBeCorrected) {
  Style s;
  s.heading = "t_s,p,q,r,gyr_x_radps,gyr_y_radps,gyr_z_radps";
  EXPECT_EQ(code_of({file("log.csv", log_text(s))}), "no_accelerometer");
  ReadOptions options;
  options.columns = {{"p", Meaning::acceleration_x, "m/s2"}, {"q", Meaning::acceleration_y, "m/s2"}, {"r", Meaning::acceleration_z, "m/s2"}};
  const auto r = read_recordings({file("log.csv", log_text(s))}, options);
  ASSERT_TRUE(r) << r.error()[0].message;
  expect_the_wag(r->front());
  options.columns = {{"nonsense", Meaning::time, ""}};
  const auto unknown = read_recordings({file("log.csv", log_text({}))}, options);
  ASSERT_FALSE(unknown);
  EXPECT_EQ(unknown.error()[0].code, "unknown_column");
}

TEST(Reading, BadFilesAreRefusedByName) {
  EXPECT_EQ(code_of({file("a.csv", "")}), "empty_file");
  EXPECT_EQ(code_of({file("a.csv", "hello\nworld\n")}), "no_table");
  EXPECT_EQ(code_of({file("a.csv", std::string("a,b\n1,2\n\0\0\0", 11))}), "not_text");
  EXPECT_EQ(code_of({file("a.csv", std::string(1 << 17, 'x'))}), "line_too_long");
  EXPECT_EQ(code_of({file("a.zip", "PK\x03\x04whatever")}), "zip_archive");
  EXPECT_EQ(code_of({file("a.gz", gzip(log_text({})).substr(0, 3000))}), "unreadable");
  EXPECT_EQ(code_of({file("a.xml", "<html></html>")}), "not_gpx");
  EXPECT_EQ(code_of({file("a.csv", "t,ax,ay,az\n0,1,0,2,0,3,0,4\n0,2,0,2,0,3,0,4\n0,3,0,2,0,3,0,4\n")}), "ambiguous_commas");
  EXPECT_EQ(code_of({}), "no_files");
}

TEST(Reading, AFileThatBreaksOffMidRowKeepsItsRows) {
  std::string text = log_text({});
  text.resize(text.size() - 12);
  const auto r = read_recordings({file("log.csv", text)});
  ASSERT_TRUE(r);
  EXPECT_EQ(r->front().specific_force.size(), 799u);
}

TEST(Reading, NumbersAreTheNearestDoublesOfTheirText) {
  // The C library's conversion is the reference; equality is exact.
  base::Random random(5);
  for (int i = 0; i < 20000; ++i) {
    char cell[64];
    std::snprintf(cell, sizeof cell, "%.*f", static_cast<int>(random.below(12)), random.normal() * std::pow(10.0, random.uniform(-6.0, 9.0)));
    double value = 0.0;
    ASSERT_TRUE(parse_number(cell, '.', value)) << cell;
    ASSERT_EQ(value, std::strtod(cell, nullptr)) << cell;
  }
  for (const char* cell : {"1e5", "-2.5E-3", ".5", "5.", "-0", "007.25", "123456789012345678", "0.000000000000000000001"}) {
    double value = 0.0;
    ASSERT_TRUE(parse_number(cell, '.', value)) << cell;
    EXPECT_EQ(value, std::strtod(cell, nullptr)) << cell;
  }
  for (const char* cell : {"", "-", ".", "nan", "inf", "-inf", "1.2.3", "1,2", "0x10", "1e999", "--1", "1 2"}) {
    double value = 0.0;
    EXPECT_FALSE(parse_number(cell, '.', value)) << cell;
  }
}

TEST(Reading, RubbishNeverCrashesOrHangs) {
  // Seeded mutations of a good log: any outcome but a crash, a hang or a number that is not finite.
  const std::string good = log_text({}, 2.0);
  for (std::uint64_t seed = 0; seed < 300; ++seed) {
    base::Random random(seed);
    std::string text = good;
    const auto changes = 1 + random.below(200);
    for (std::uint64_t i = 0; i < changes; ++i) {
      const auto at = random.below(text.size());
      switch (random.below(4)) {
        case 0: text[at] = static_cast<char>(random.below(256)); break;
        case 1: text.erase(at, random.below(50)); break;
        case 2: text.insert(at, text.substr(random.below(text.size()), random.below(80))); break;
        default: text[at] = ",;\n\t\"-eE.:"[random.below(10)]; break;
      }
      if (text.empty()) text = "x";
    }
    const auto r = read_recordings({file("log.csv", text)});
    if (!r) continue;
    for (const auto& recording : *r) {
      for (const double t : recording.specific_force.time()) ASSERT_TRUE(std::isfinite(t)) << seed;
      for (int a = 0; a < 3; ++a) {
        for (const float v : recording.specific_force.axis(a)) ASSERT_TRUE(std::isfinite(v)) << seed;
      }
    }
  }
}

// Packed bombs: a line without an end, and empty lines without number, each 128 MiB from a file of 130 kB.
TEST(Reading, APackedFileThatUnpacksToNonsenseIsRefused) {
  for (const char what : {'0', '\n', ','}) {
    const std::string bomb = gzip(std::string(128U << 20, what));
    ASSERT_LT(bomb.size(), 200U << 10);
    EXPECT_FALSE(read_recordings({file("log.csv.gz", bomb)})) << what;
  }
}

TEST(Reading, ALongLogKeepsItsMemoryAndItsMean) {
  Series3 s;
  const std::size_t n = 3 * kMostSamples;
  for (std::size_t i = 0; i < n; ++i) s.add(0.01 * static_cast<double>(i), i % 2 ? 1.0 : -1.0, 9.8, 0.001 * static_cast<double>(i % 1000));
  s.finish();
  EXPECT_LE(s.size(), kMostSamples);
  EXPECT_EQ(s.health().readings, n);
  double sum = 0.0;
  for (const float v : s.axis(2)) sum += v;
  EXPECT_NEAR(sum / static_cast<double>(s.size()), 0.4995, 1e-3);  // single precision and the last group
}

TEST(TimeText, StampsConvertAsPublished) {
  // [published area 7, sig-26]: stamps from public sample files, conversion by an independent library.
  EXPECT_DOUBLE_EQ(parse_time("2009-10-17T18:37:26Z")->seconds, 1255804646.0);
  EXPECT_NEAR(parse_time("2024-07-10T08:07:29.329Z")->seconds, 1720598849.329, 1e-6);
  EXPECT_DOUBLE_EQ(parse_time("2009-10-17T20:37:26+02:00")->seconds, 1255804646.0);
  EXPECT_DOUBLE_EQ(parse_time("17.10.2009 18:37:26")->seconds, 1255804646.0);
}

TEST(TimeText, OtherTextIsNotATime) {
  for (const char* text : {"", "12", "25:00", "12:60:00", "2024-13-01T00:00:00", "12:00:00x", "1.5", "::::"}) {
    EXPECT_FALSE(parse_time(text).has_value()) << text;
  }
}

TEST(Earth, OneDegreeHasTheTabledLength) {
  // WGS 84 table (from memory), kilometres to three decimals; a degree is centred on the latitude to that accuracy.
  const double latitude[] = {0, 15, 30, 45, 60, 75};
  const double north[] = {110.574, 110.649, 110.852, 111.132, 111.412, 111.618};
  const double east[] = {111.320, 107.550, 96.486, 78.847, 55.800, 28.902};
  for (int i = 0; i < 6; ++i) {
    EXPECT_NEAR(metres_per_latitude(latitude[i] * kDegree) * kDegree / 1000.0, north[i], 0.0006);
    EXPECT_NEAR(metres_per_longitude(latitude[i] * kDegree) * kDegree / 1000.0, east[i], 0.0006);
  }
}

TEST(Gpx, TrackPointsHavePlaceTimeSpeedAndCourse) {
  const std::string text =
      "<?xml version=\"1.0\"?><!-- a > b --><gpx version=\"1.1\" creator=\"invented\" xmlns=\"http://www.topografix.com/GPX/1/1\"><trk><trkseg>"
      "<trkpt lat=\"45.0\" lon='8.0'><ele>5</ele><time>2024-07-10T08:07:29Z</time></trkpt>\n"
      "<trkpt lat=\"45.0001\" lon=\"8.0\"><time>2024-07-10T08:07:30.5Z</time><extensions><q:speed>7.5</q:speed><q:course>90</q:course></extensions></trkpt>"
      "<trkpt lat=\"95\" lon=\"8.0\"><time>2024-07-10T08:07:31Z</time></trkpt></trkseg></trk></gpx>";
  const auto points = read_gpx(*file("a.gpx", text));
  ASSERT_TRUE(points) << points.error()[0].message;
  ASSERT_EQ(points->size(), 2u);  // the third lies outside the earth
  EXPECT_NEAR((*points)[1].time - (*points)[0].time, 1.5, 1e-6);
  EXPECT_NEAR((*points)[1].speed, 7.5, 1e-12);
  EXPECT_NEAR((*points)[1].course, std::numbers::pi / 2, 1e-12);
}

TEST(Gpx, ATrackThatBreaksOffIsRefused) {
  EXPECT_EQ(code_of({file("a.gpx", "<gpx><trk><trkseg><trkpt lat=\"1\" lon=\"2\"><time>2024-07-10T08:07:29Z</time></trkpt>")}), "truncated");
}

TEST(Gpx, ATrackAloneHoldsNoRoll) {
  std::string text = "<gpx><trk><trkseg>";
  for (int i = 0; i < 30; ++i) {
    text += "<trkpt lat=\"" + std::to_string(45.0 + 1e-4 * i) + "\" lon=\"8\"><time>2024-07-10T08:07:" + std::to_string(10 + i) + "Z</time></trkpt>";
  }
  EXPECT_EQ(code_of({file("a.gpx", text + "</trkseg></trk></gpx>")}), "no_accelerometer");
}

}  // namespace
}  // namespace rollwright::signal
