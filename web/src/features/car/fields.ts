// The numbers of the car sheet as fields: name in plain words, the trade word, what is allowed, how to measure it at
// home. Keys, units and ranges are those of car/1; the allowed range is checked again by the program.
import type { FieldSpec } from "@/widgets/NumberField";

export const WHOLE_CAR: readonly FieldSpec[] = [
  {
    key: "wheelbase_mm",
    name: "Wheelbase",
    unit: "mm",
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
    unit: "kg",
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
    unit: "percent",
    low: 20,
    high: 80,
    usualPm: 1.5,
    decimals: 1,
    howTo: "On the weighbridge, drive only the front wheels on and read; then the whole car. Front divided by whole.",
  },
  {
    key: "cg_height_mm",
    name: "Centre of gravity, height",
    unit: "mm",
    low: 150,
    high: 1500,
    usualPm: 25,
    howTo:
      "Lift one axle 400 mm onto stands and read how the load on the other changes. Until then the typical height is good enough.",
  },
];

export type AxlePath = "front" | "rear";

const AXLE: readonly Omit<FieldSpec, "name">[] = [
  {
    key: "track_mm",
    unit: "mm",
    low: 900,
    high: 2200,
    usualPm: 5,
    howTo:
      "On level ground, tape from the inner edge of one tyre to the outer edge of the other, where they touch the road.",
  },
  {
    key: "spring_rate_n_per_mm",
    unit: "n_per_mm",
    low: 1,
    high: 1500,
    usualPm: 2,
    howTo:
      "Painted or stamped on aftermarket springs. Else: wire diameter, coil diameter and number of free coils give it within a tenth.",
  },
  {
    key: "spring_motion_ratio",
    term: "motion ratio",
    unit: "",
    low: 0.1,
    high: 1.6,
    usualPm: 0.03,
    howTo:
      "On stands, move the wheel by 40 mm and tape how far the spring shortens. Spring travel divided by wheel travel.",
  },
  {
    key: "bar_rate_per_side_n_per_mm",
    term: "per-side rate",
    unit: "n_per_mm",
    low: 0,
    high: 2000,
    usualPm: 2,
    howTo:
      "Take it from the bar sheet, or hang weights on one end with the other held: twice that rate is this one. 0 for no bar.",
  },
  {
    key: "bar_motion_ratio",
    term: "motion ratio",
    unit: "",
    low: 0.1,
    high: 1.6,
    usualPm: 0.03,
    howTo:
      "With the bar in, move one wheel by 40 mm and tape how far its link moves. Link travel divided by wheel travel.",
  },
  {
    key: "tyre.vertical_rate_n_per_mm",
    unit: "n_per_mm",
    low: 80,
    high: 600,
    usualPm: 40,
    decimals: 0,
    howTo:
      "Hard to measure at home; the typical range is narrow enough. Higher pressure and lower side walls are stiffer.",
  },
  {
    key: "roll_centre_height_mm",
    term: "roll centre",
    unit: "mm",
    low: -300,
    high: 700,
    usualPm: 25,
    howTo: "Follows from where the arms are bolted. Leave it in pencil unless you have the points of the linkage.",
  },
];
const AXLE_NAMES: Record<string, string> = {
  track_mm: "Track",
  spring_rate_n_per_mm: "Spring",
  spring_motion_ratio: "Spring ratio",
  bar_rate_per_side_n_per_mm: "Fitted bar, at its link",
  bar_motion_ratio: "Bar link ratio",
  "tyre.vertical_rate_n_per_mm": "Tyre spring",
  roll_centre_height_mm: "Roll centre height",
};

export const axleFields = (axle: AxlePath): FieldSpec[] =>
  AXLE.map((f) => ({ ...f, key: `${axle}.${f.key}`, name: `${AXLE_NAMES[f.key]}, ${axle}` }));

// Less often known; they stand in a plain list below the drawing.
const RARE: readonly (Omit<FieldSpec, "name"> & { label: string })[] = [
  {
    key: "unsprung_mass_kg",
    label: "Moves with the wheels",
    term: "unsprung mass",
    unit: "kg",
    low: 15,
    high: 500,
    usualPm: 10,
  },
  {
    key: "wheel_rate_n_per_mm",
    label: "Spring at the wheel, if known instead",
    term: "wheel rate",
    unit: "n_per_mm",
    low: 1,
    high: 500,
    usualPm: 2,
  },
  {
    key: "damper.motion_ratio",
    label: "Damper ratio",
    term: "motion ratio",
    unit: "",
    low: 0.1,
    high: 1.6,
    usualPm: 0.03,
    howTo:
      "On stands, move the wheel in steps and tape the damper from eye to eye. Damper travel divided by wheel travel.",
  },
  { key: "bump_stop_gap_mm", label: "Travel to the bump stop", unit: "mm", low: 0, high: 300, usualPm: 10 },
  { key: "droop_travel_mm", label: "Travel to full droop", unit: "mm", low: 5, high: 400, usualPm: 15 },
  { key: "static_camber_deg", label: "Camber at rest", unit: "deg", low: -8, high: 4, usualPm: 0.3 },
  {
    key: "camber_loss",
    label: "Wheel lean per body lean",
    term: "0 upright, 1 with the body",
    unit: "",
    low: -0.5,
    high: 1.5,
    usualPm: 0.15,
  },
  { key: "tyre.grip", label: "Tyre grip against typical", unit: "", low: 0.2, high: 2, usualPm: 0.05 },
  { key: "tyre.pressure_bar", label: "Tyre pressure, cold", unit: "bar", low: 0.8, high: 6, usualPm: 0.1 },
];
export const rareFields = (axle: AxlePath): FieldSpec[] =>
  RARE.map(({ label, ...f }) => ({ ...f, key: `${axle}.${f.key}`, name: label }));

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
