#include "ops/shared/home_measurements.h"

namespace rollwright::ops {

const std::vector<HomeMeasurement>& home_measurements() {
  static const std::vector<HomeMeasurement> all{
      {"weigh each axle", 45, {{"mass_kg", 15, 0}, {"front_weight_share_percent", 0.8, 0}},
       "Weigh front and rear axle on a public scale, or each corner with lever and scale on level ground, driver aboard."},
      {"measure both tracks and the wheelbase", 15, {{"front.track_mm", 4, 0}, {"rear.track_mm", 4, 0}, {"wheelbase_mm", 5, 0}},
       "Plumb line from the middle of each tyre to the floor, tape between the marks."},
      {"height of the centre of gravity by lifting one axle", 90, {{"cg_height_mm", 24, 0}},
       "Weigh the front axle level and with the rear raised by 400 mm or more, dampers locked solid. Chock the wheels on the ground, lift at the "
       "maker's points, put stands under before you go near, nobody inside or under the car. Then 'car cg'."},
      {"front spring ratio with jack and tape", 40, {{"front.spring_motion_ratio", 0.02, 0}},
       "Spring out or unloaded, raise the hub in 10 mm steps and read spring length; car on stands. Then 'car ratio'."},
      {"rear spring ratio with jack and tape", 40, {{"rear.spring_motion_ratio", 0.02, 0}},
       "Spring out or unloaded, raise the hub in 10 mm steps and read spring length; car on stands. Then 'car ratio'."},
      {"front bar ratio with jack and tape", 30, {{"front.bar_motion_ratio", 0.02, 0}},
       "Link off at the bar, raise the hub in 10 mm steps and read how far the link end moves; car on stands. Then 'car ratio'."},
      {"rear bar ratio with jack and tape", 30, {{"rear.bar_motion_ratio", 0.02, 0}},
       "Link off at the bar, raise the hub in 10 mm steps and read how far the link end moves; car on stands. Then 'car ratio'."},
      {"measure the fitted front bar", 25, {{"front.bar_rate_per_side_n_per_mm", 0, 0.06}},
       "Diameter by caliper on bare metal, straight and arms by tape, a bar sheet, then 'bar rate'."},
      {"measure the fitted rear bar", 25, {{"rear.bar_rate_per_side_n_per_mm", 0, 0.06}},
       "Diameter by caliper on bare metal, straight and arms by tape, a bar sheet, then 'bar rate'."},
      {"read the front spring's rate", 20, {{"front.spring_rate_n_per_mm", 0, 0.05}},
       "From the maker's figure or colour mark; or wire diameter, coil diameter and free coils."},
      {"read the rear spring's rate", 20, {{"rear.spring_rate_n_per_mm", 0, 0.05}},
       "From the maker's figure or colour mark; or wire diameter, coil diameter and free coils."},
      {"front wheel rate by a load on the sills", 45, {{"front.wheel_rate_n_per_mm", 0, 0.08}},
       "Bars unhooked, sit people or sandbags over the axle and read arch height with the tape, up and down. Then 'car sill'."},
      {"rear wheel rate by a load on the sills", 45, {{"rear.wheel_rate_n_per_mm", 0, 0.08}},
       "Bars unhooked, load the boot and read arch height with the tape, up and down. Then 'car sill'."},
      {"roll centre at the front from link points", 90, {{"front.roll_centre_height_mm", 25, 0}},
       "Mark the joints' places with strings and plumb line, car at its own height on level ground."},
      {"roll centre at the rear from link points", 90, {{"rear.roll_centre_height_mm", 25, 0}},
       "Mark the joints' places with strings and plumb line, car at its own height on level ground."},
      {"tyre stiffness from a load on the axle", 30, {{"front.tyre.vertical_rate_n_per_mm", 0, 0.10}, {"rear.tyre.vertical_rate_n_per_mm", 0, 0.10}},
       "Read hub height with and without a known load, pressures set first."},
      {"phone slalom before the change", 120, {{"front.tyre.grip", 0.04, 0}, {"rear.tyre.grip", 0.04, 0}},
       "On private ground with permission: 'test plan', then 'test log' and 'test learn'. It also checks the whole lean forecast at once."},
  };
  return all;
}

}  // namespace rollwright::ops
