// Stress as hatching: closer and stronger where the steel works harder, with a key of numbers beside it.
// Distance between strokes is inversely proportional to stress, with a floor so that lines stay lines.

const PX_MPA = 950; // our own choice: a stress of 250 on a scale to 300 gives strokes 3.8 px apart
const CLOSEST = 2.6; // px
export const USUAL_FULL = 300; // MPa at the dense end of the key

// The stress at the dense end: a round number above the highest that is looked at, so that hatching never saturates.
export function fullScale(peakMpa: number): number {
  const steps = [120, 180, 240, 300, 420, 600, 900, 1200, 1800, 2400];
  return steps.find((s) => s >= peakMpa * 0.95) ?? Math.ceil(peakMpa / 600) * 600;
}

const level = (mpa: number, full: number) => (mpa * USUAL_FULL) / full;

// Thin bars in glare would fill up: there the strokes keep farther apart.
export function hatchSpacing(mpa: number, isSun: boolean, barPx = 40, full = USUAL_FULL): number {
  const closest = CLOSEST * (barPx < 16 ? 1.5 : 1);
  return Math.max(closest, PX_MPA / Math.max(1, level(mpa, full))) * (isSun ? 1.5 : 1);
}
export function hatchWeight(mpa: number, full = USUAL_FULL): "mid" | "thin" | "fine" {
  const l = level(mpa, full);
  return l > 230 ? "mid" : l > 120 ? "thin" : "fine";
}
export const dyePercent = (mpa: number, full = USUAL_FULL) =>
  Math.max(0, Math.min(100, Math.round((level(mpa, full) - 40) / 2.4)));
export const isWorking = (mpa: number, full = USUAL_FULL) => level(mpa, full) >= 18; // below this as good as unloaded
