import { describe, expect, it } from "vitest";
import { allSettings, barPicture, holeLabel, holePoint, settingOf } from "./barSheet";
import { asSimple, fromSimple, type SimpleBar, USUAL, withSimple } from "./simpleBar";

const BAR = fromSimple(USUAL, "mine", "rear");

describe("a plain bar in ten numbers", () => {
  it("comes back from its sheet unchanged", () => {
    const odd: SimpleBar = {
      ...USUAL,
      apart_mm: 901.5,
      splay_mm: -12,
      holes: 2,
      wall_mm: { value: 3, pm: 0.2, origin: "maker" },
    };
    expect(asSimple(fromSimple(USUAL, "mine", "rear"))).toEqual(USUAL);
    expect(asSimple(fromSimple(odd, "mine", "front"))).toEqual(odd);
  });

  it("keeps what the ten numbers do not say when one of them changes", () => {
    const steel = { ...BAR, material: { young_mpa: { value: 190000 } }, notes: "second hand" };
    const changed = withSimple(steel, { ...USUAL, arm_mm: 250 });
    expect(changed.material).toEqual(steel.material);
    expect(changed.notes).toBe("second hand");
    expect(asSimple(changed)!.arm_mm).toBe(250);
  });

  it("is the same left and right, with its straight on the axis", () => {
    const line = BAR.centreline_right_to_left;
    line.forEach((c, i) => {
      const other = line[line.length - 1 - i]!;
      expect(c.point_mm[1]).toBe(-other.point_mm[1]);
      expect(c.point_mm[0]).toBe(other.point_mm[0]);
    });
    expect(line[1]!.point_mm[0]).toBe(0);
  });

  it("is not claimed for a bar that is something else", () => {
    const bent = structuredClone(BAR);
    bent.centreline_right_to_left[1]!.point_mm[2] = 30;
    expect(asSimple(bent)).toBeNull();
    expect(asSimple({ ...BAR, holes: BAR.holes.slice(1) })).toBeNull();
    expect(asSimple({ ...BAR, section: { shape: "rectangular", width_mm: 20, thickness_mm: 10 } })).toBeNull();
    expect(asSimple({ ...BAR, centreline_right_to_left: BAR.centreline_right_to_left.slice(1) })).toBeNull();
  });
});

describe("holes and settings", () => {
  it("are called by what people call them", () => {
    expect(holeLabel("L2", "left")).toBe("2");
    expect(holeLabel("right_3", "right")).toBe("3");
    expect(holeLabel("outer", "left")).toBe("outer");
    expect(holeLabel("L", "left")).toBe("L");
  });

  it("make every pair, left first, and keep the names the sheet gives", () => {
    const all = allSettings({ ...BAR, settings: [{ id: "soft", left_hole: "L1", right_hole: "R1" }] });
    expect(all).toHaveLength(9);
    expect(all[0]!.id).toBe("soft");
    expect(settingOf(BAR, "L1", "R2")!.id).toBe("1/2");
  });

  it("lie where the sheet says, back from the arm's end", () => {
    const hole = BAR.holes.find((h) => h.id === "L2")!;
    // 15 + 25 mm back from the end of a straight arm that ends 230 mm behind the straight.
    expect(holePoint(BAR, hole)).toEqual([-190, 430, 0]);
    const far = { ...hole, back_from_arm_end_mm: 99_999 };
    for (const v of holePoint(BAR, far)) expect(Number.isFinite(v)).toBe(true);
  });

  it("stand on the drawing of their own side", () => {
    for (const h of barPicture(BAR).holes) expect(Math.sign(h.point[1])).toBe(h.side === "left" ? 1 : -1);
  });
});
