// Stress as hatching: closer and stronger where the steel works harder, with a key of numbers beside it.
// Distance between strokes is inversely proportional to stress, with a floor so that lines stay lines.

const PX_MPA = 950; // our own choice: 250 MPa gives strokes 3.8 px apart
const CLOSEST = 2.6; // px

// Thin bars in glare would fill up: there the strokes are half as wide again apart and need a bar of this many pixels.
export function hatchSpacing(mpa: number, isSun: boolean, barPx = 40): number {
  const closest = CLOSEST * (barPx < 16 ? 1.5 : 1);
  return Math.max(closest, PX_MPA / Math.max(1, mpa)) * (isSun ? 1.5 : 1);
}
export const hatchWeight = (mpa: number) => (mpa > 230 ? "mid" : mpa > 120 ? "thin" : "fine");
export const dyePercent = (mpa: number) => Math.max(0, Math.min(100, Math.round((mpa - 40) / 2.4)));
export const SHOW_FROM = 18; // MPa, below this the steel is as good as unloaded
