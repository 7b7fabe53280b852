// What the phone's browser tells of its motion, as lines of a log that the program reads. Pure: no browser in here.
//
// Axes are the phone's own: x to the right of the screen, y to its top, z out of it. Rates come as degrees per second
// about x (alpha), y (beta), z (gamma) [W3C Device Orientation and Motion §4.3]; accelerations with gravity, in m/s², so
// that a phone lying with its screen up reads +9.8 along z. Some browsers turn all three accelerations round; what the
// person says about how the phone lies tells which (`signOf`).

export const HEADING =
  "time_s,acc_x_m_s2,acc_y_m_s2,acc_z_m_s2,gyro_x_rad_s,gyro_y_rad_s,gyro_z_rad_s,speed_m_s,course_deg,latitude_deg,longitude_deg";

export interface Motion {
  time: number; // s on the recording's clock
  force: readonly [number, number, number]; // m/s²
  rate: readonly [number, number, number]; // deg/s about x, y, z
}
export interface Fix {
  time: number;
  speed: number | null; // m/s
  course: number | null; // degrees clockwise from north
  latitude: number;
  longitude: number;
}

export type Lies = "screen_up" | "screen_down" | "top_up";
export const LIES: readonly { value: Lies; label: string }[] = [
  { value: "screen_up", label: "flat, screen up" },
  { value: "screen_down", label: "flat, screen down" },
  { value: "top_up", label: "standing, top edge up" },
];

// −1 where this browser turns accelerations round, +1 where not, null while the phone does not lie as was said.
export function signOf(lies: Lies, force: readonly [number, number, number]): 1 | -1 | null {
  const up = lies === "top_up" ? force[1] : lies === "screen_up" ? force[2] : -force[2];
  // Within 45 degrees of how it was said to lie: 9.8·cos 45° = 6.9.
  if (Math.abs(up) < 6.9) return null;
  return up > 0 ? 1 : -1;
}

const RAD = Math.PI / 180;
const cell = (v: number | null, digits: number) => (v === null || !Number.isFinite(v) ? "" : v.toFixed(digits));

export function lineOf(m: Motion, sign: 1 | -1, fix: Fix | null): string {
  return [
    cell(m.time, 4),
    ...m.force.map((f) => cell(f * sign, 4)),
    ...m.rate.map((r) => cell(r * RAD, 6)),
    cell(fix?.speed ?? null, 2),
    cell(fix?.course ?? null, 1),
    cell(fix?.latitude ?? null, 7),
    cell(fix?.longitude ?? null, 7),
  ].join(",");
}

// "phone-2026-05-01-1830.csv"
export function nameOf(moment: Date): string {
  const two = (n: number) => String(n).padStart(2, "0");
  return `phone-${moment.getFullYear()}-${two(moment.getMonth() + 1)}-${two(moment.getDate())}-${two(moment.getHours())}${two(moment.getMinutes())}.csv`;
}

export function lengthInWords(seconds: number): string {
  const whole = Math.floor(seconds);
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, "0")}`;
}

// Why this browser cannot record, in words; null when it may.
export function whyNot(w: { isSecureContext: boolean; hasMotion: boolean }): string | null {
  if (!w.isSecureContext)
    return "Browsers give motion sensors only to pages whose connection is secret. Start the program with ‘rollwright serve --lan’ and open the address it prints, which begins with https.";
  if (!w.hasMotion) return "This browser has no access to motion sensors. A laptop has none; use a phone.";
  return null;
}
