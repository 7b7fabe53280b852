// The numbers of the car sheet as fields: name in plain words, the trade word, what is allowed, how to measure it at
// home. Keys, units and ranges are those of car/1; the allowed range is checked again by the program.
import { unitOfKey } from "@/base/units";
import type { FieldSpec } from "@/widgets/NumberField";

// A key carries its unit.
type Row = Omit<FieldSpec, "unit">;
const field = (row: Row): FieldSpec => ({ ...row, unit: unitOfKey(row.key) });

const WHOLE: readonly Row[] = [
  {
    key: "wheelbase_mm",
    name: "Wheelbase",
    low: 1200,
    high: 6000,
    usualPm: 5,
    howTo:
      "Wheels straight ahead. Tape from the middle of the front hub to the middle of the rear hub, left and right, and take the mean.",
  },
  {
    key: "mass_kg",
    name: "Weight, driver aboard",
    term: "mass",
    low: 300,
    high: 6000,
    usualPm: 20,
    howTo:
      "A weighbridge, with you in the seat and the tank as you drive it. The papers say what it weighs empty: add yourself and the fuel.",
  },
  {
    key: "front_weight_share_percent",
    name: "Weight on the front",
    term: "front share",
    low: 20,
    high: 80,
    usualPm: 1.5,
    decimals: 1,
    howTo: "On the weighbridge, drive only the front wheels on and read; then the whole car. Front divided by whole.",
  },
  {
    key: "cg_height_mm",
    name: "Centre of gravity, height",
    low: 150,
    high: 1500,
    usualPm: 25,
    howTo:
      "Lift one axle 400 mm onto stands and read how the load on the other changes. Until then the typical height is good enough.",
  },
];

export const WHOLE_CAR = WHOLE.map(field);

export type AxlePath = "front" | "rear";

const AXLE: readonly Row[] = [
  {
    key: "track_mm",
    name: "Track",
    low: 900,
    high: 2200,
    usualPm: 5,
    howTo:
      "On level ground, tape from the inner edge of one tyre to the outer edge of the other, where they touch the road.",
  },
  {
    key: "spring_rate_n_per_mm",
    name: "Spring",
    low: 1,
    high: 1500,
    usualPm: 2,
    howTo:
      "Painted or stamped on aftermarket springs. Else: wire diameter, coil diameter and number of free coils give it within a tenth.",
  },
  {
    key: "spring_motion_ratio",
    name: "Spring ratio",
    term: "motion ratio",
    low: 0.1,
    high: 1.6,
    usualPm: 0.03,
    howTo:
      "On stands, move the wheel by 40 mm and tape how far the spring shortens. Spring travel divided by wheel travel.",
  },
  {
    key: "bar_rate_per_side_n_per_mm",
    name: "Fitted bar, at its link",
    term: "per-side rate",
    low: 0,
    high: 2000,
    usualPm: 2,
    howTo:
      "Take it from the bar sheet, or hang weights on one end with the other held: twice that rate is this one. 0 for no bar.",
  },
  {
    key: "bar_motion_ratio",
    name: "Bar link ratio",
    term: "motion ratio",
    low: 0.1,
    high: 1.6,
    usualPm: 0.03,
    howTo:
      "With the bar in, move one wheel by 40 mm and tape how far its link moves. Link travel divided by wheel travel.",
  },
  {
    key: "tyre.vertical_rate_n_per_mm",
    name: "Tyre spring",
    low: 80,
    high: 600,
    usualPm: 40,
    decimals: 0,
    howTo:
      "Hard to measure at home; the typical range is narrow enough. Higher pressure and lower side walls are stiffer.",
  },
  {
    key: "roll_centre_height_mm",
    name: "Roll centre height",
    term: "roll centre",
    low: -300,
    high: 700,
    usualPm: 25,
    howTo: "Follows from where the arms are bolted. Leave it in pencil unless you have the points of the linkage.",
  },
];
export const axleFields = (axle: AxlePath): FieldSpec[] =>
  AXLE.map((f) => field({ ...f, key: `${axle}.${f.key}`, name: `${f.name}, ${axle}` }));

// Less often known; they stand in a plain list below the drawing.
const RARE: readonly Row[] = [
  {
    key: "unsprung_mass_kg",
    name: "Moves with the wheels",
    term: "unsprung mass",
    low: 15,
    high: 500,
    usualPm: 10,
  },
  {
    key: "wheel_rate_n_per_mm",
    name: "Spring at the wheel, if known instead",
    term: "wheel rate",
    low: 1,
    high: 500,
    usualPm: 2,
  },
  {
    key: "damper.motion_ratio",
    name: "Damper ratio",
    term: "motion ratio",
    low: 0.1,
    high: 1.6,
    usualPm: 0.03,
    howTo:
      "On stands, move the wheel in steps and tape the damper from eye to eye. Damper travel divided by wheel travel.",
  },
  { key: "bump_stop_gap_mm", name: "Travel to the bump stop", low: 0, high: 300, usualPm: 10 },
  { key: "droop_travel_mm", name: "Travel to full droop", low: 5, high: 400, usualPm: 15 },
  { key: "static_camber_deg", name: "Camber at rest", low: -8, high: 4, usualPm: 0.3 },
  {
    key: "camber_loss",
    name: "Wheel lean per body lean",
    term: "0 upright, 1 with the body",
    low: -0.5,
    high: 1.5,
    usualPm: 0.15,
  },
  { key: "tyre.grip", name: "Tyre grip against typical", low: 0.2, high: 2, usualPm: 0.05 },
  { key: "tyre.pressure_bar", name: "Tyre pressure, cold", low: 0.8, high: 6, usualPm: 0.1 },
];
export const rareFields = (axle: AxlePath): FieldSpec[] => RARE.map((f) => field({ ...f, key: `${axle}.${f.key}` }));

export const CLASSES = [
  { value: "small_sports", label: "small sports car" },
  { value: "front_drive_hatch", label: "front-drive hatchback" },
  { value: "rear_drive_saloon", label: "rear-drive saloon" },
  { value: "all_wheel_saloon", label: "all-wheel-drive saloon" },
  { value: "large_coupe", label: "large coupé" },
  { value: "suv_or_pickup", label: "off-roader or pick-up" },
  { value: "van", label: "van or camper" },
  { value: "light_kit", label: "light kit car" },
] as const;
export const DRIVES = [
  { value: "front", label: "front" },
  { value: "rear", label: "rear" },
  { value: "all", label: "all four" },
] as const;
export const DIFFERENTIALS = [
  { value: "open", label: "open" },
  { value: "limited", label: "limited slip" },
  { value: "locked", label: "locked" },
] as const;
export const SUSPENSIONS = [
  { value: "independent", label: "independent" },
  { value: "twist_beam", label: "twist beam" },
  { value: "solid_axle", label: "solid axle" },
] as const;
export const TYRES = [
  { value: "winter", label: "winter" },
  { value: "all_season", label: "all-season" },
  { value: "summer", label: "summer" },
  { value: "street_track", label: "street and track" },
  { value: "road_legal_race", label: "road-legal race" },
  { value: "slick", label: "slick" },
] as const;
