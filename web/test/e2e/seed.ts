// Documents for a visit that begins in the middle: the invented examples of the project, put where the page keeps them.
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import type { Visit } from "./browser";

const example = (name: string) =>
  JSON.parse(readFileSync(fileURLToPath(new URL(`../../../examples/${name}.json`, import.meta.url)), "utf8"));

export function wrenGarage() {
  const none = { bar: null, setting: null };
  return {
    form: 1,
    isDemo: true,
    car: example("wren"),
    bars: { front: [example("bars/wren-front-two-hole")], rear: [example("bars/wren-rear-three-hole")] },
    before: { name: "as built", front: none, rear: none },
    after: { name: "after", front: none, rear: { bar: "rear three-hole", setting: "2/2" } },
  };
}

export async function seed(v: Visit, garage: unknown) {
  await v.page.evaluate((text) => localStorage.setItem("rollwright-garage", text), JSON.stringify(garage));
  await v.page.reload();
}

export async function go(v: Visit, room: string) {
  await v.page.evaluate((r) => {
    location.hash = `/${r}`;
  }, room);
  await v.page.locator("main h1").first().waitFor();
  await v.page.waitForLoadState("networkidle");
}

export const kept = (v: Visit) =>
  v.page.evaluate(() => JSON.parse(localStorage.getItem("rollwright-garage") ?? "null"));
