// The program's hints name its questions ('car ratio'), as the command line does. On the page each has a place of its
// own; here is what that place is called and where it is.

export interface Place {
  name: string;
  at: string; // the address after '#/'
}

// What has no place of its own is found on the sheet of its group.
const SHEETS: Record<string, Place> = {
  car: { name: "the car sheet", at: "car" },
  bar: { name: "the bars sheet", at: "bars" },
  forecast: { name: "the forecast sheet", at: "forecast" },
  choose: { name: "the choose sheet", at: "choose" },
  fit: { name: "the fit sheet", at: "fit" },
  test: { name: "the test sheet", at: "test" },
  verdict: { name: "the verdict sheet", at: "verdict" },
};
const PLACES: Record<string, Place> = {
  "car check": { name: "‘Worth a look’ on the car sheet", at: "car" },
  "car next": { name: "‘Measure next’ on the car sheet", at: "car" },
  "car cg": { name: "the axle-lift sheet", at: "car/cg" },
  "car ratio": { name: "the jack-and-tape sheet", at: "car/ratio" },
  "car weights": { name: "the four-scales sheet", at: "car/weights" },
  "car sill": { name: "the sill-load sheet", at: "car/sill" },
  "car health": SHEETS.test!,
  "bar weigh": { name: "the bar on the scales", at: "bars/weigh" },
  "bar hang": { name: "the hanging-weights sheet", at: "bars/hang" },
  "bar curve": { name: "‘At large travel’ on the bars sheet", at: "bars/curve" },
  "bar claim": { name: "‘What does the seller claim?’ on the bars sheet", at: "bars/claim" },
  "test plan": { name: "the plan on the test sheet", at: "test" },
};

export const placeOf = (operation: string): Place | null =>
  PLACES[operation] ?? SHEETS[operation.split(" ")[0]!] ?? null;

// A text in pieces: words, and places where it names a question of the program.
export function withPlaces(text: string): (string | Place)[] {
  const pieces: (string | Place)[] = [];
  let from = 0;
  for (const m of text.matchAll(/['‘](?:rollwright )?([a-z]+ [a-z]+)['’]/g)) {
    const found = placeOf(m[1]!);
    if (!found) continue;
    if (m.index > from) pieces.push(text.slice(from, m.index));
    pieces.push(found);
    from = m.index + m[0].length;
  }
  if (from < text.length) pieces.push(text.slice(from));
  return pieces;
}

// Where a home measurement of one number of the car sheet is made: its own sheet, else the number itself.
export function measuredAt(key: string): Place {
  const axle = key.startsWith("front.") ? "front" : "rear";
  const number = key.replace(/^(front|rear)\./, "");
  const ratio = { spring_motion_ratio: "spring", "damper.motion_ratio": "damper", bar_motion_ratio: "link" }[number];
  if (ratio) return { name: "Jack and tape", at: `car/ratio/${axle}/${ratio}` };
  if (number === "cg_height_mm") return { name: "Lift an axle on scales", at: "car/cg" };
  if (number === "mass_kg" || number === "front_weight_share_percent")
    return { name: "Four scales", at: "car/weights" };
  if (number === "bar_rate_per_side_n_per_mm") return { name: "Load the sills, links on and off", at: "car/sill" };
  return { name: "Write it on the drawing", at: `car/number/${key}` };
}

// "front.tyre.vertical_rate_n_per_mm" for people: "front tyre vertical rate".
export const keyInWords = (key: string) =>
  key.replace(/_(n_per_mm|nm_per_deg|deg_per_g|kg_m2|percent|mm|kg|deg|bar|g)(?=$|[.[])/g, "").replaceAll(/[._]/g, " ");
