import { afterEach, describe, expect, it, vi } from "vitest";
import { openVault } from "./vault";

const numbers = (stored: unknown) => (typeof stored === "number" ? stored : null);

describe("the vault", () => {
  afterEach(() => vi.restoreAllMocks());

  it("keeps a change over a reload", () => {
    openVault("v", 1, numbers).change("two", () => 2);
    expect(openVault("v", 1, numbers).value.value).toBe(2);
  });

  it("takes changes back and makes them again, also after a reload", () => {
    const first = openVault("v", 1, numbers);
    first.change("two", () => 2);
    first.change("three", () => 3);
    first.settle();
    const again = openVault("v", 1, numbers);
    expect(again.undoLabel.value).toBe("three");
    again.undo();
    again.undo();
    expect(again.value.value).toBe(1);
    expect(again.undoLabel.value).toBeNull();
    again.redo();
    expect(again.value.value).toBe(2);
  });

  it("forgets what was taken back when something new is entered", () => {
    const v = openVault("v", 1, numbers);
    v.change("two", () => 2);
    v.undo();
    v.change("five", () => 5);
    expect(v.redoLabel.value).toBeNull();
  });

  it("does not record a change that changes nothing", () => {
    const v = openVault("v", 1, numbers);
    v.change("same", (n) => n);
    expect(v.undoLabel.value).toBeNull();
  });

  it("starts afresh from damaged or foreign contents instead of failing", () => {
    for (const text of ["{", "null", "[]", '"text"', '{"past":3}']) {
      localStorage.setItem("v", text);
      localStorage.setItem("v-history", text);
      expect(openVault("v", 1, numbers).value.value).toBe(1);
    }
  });

  it("keeps the present even when its history is damaged or never was saved", () => {
    openVault("v", 0, numbers).change("two", () => 2);
    localStorage.setItem("v-history", '{"past":[null,{"label":1}],"future":"x"}');
    const v = openVault("v", 0, numbers);
    expect(v.value.value).toBe(2);
    expect(v.undoLabel.value).toBeNull();
  });

  it("gives up history before the present when the store is full", () => {
    const v = openVault("v", 0, numbers);
    for (let i = 1; i <= 40; i++) v.change(String(i), () => i);
    v.settle();
    const real = Storage.prototype.setItem;
    vi.spyOn(Storage.prototype, "setItem").mockImplementation(function (this: Storage, k: string, text: string) {
      if ((this.getItem("v-history")?.length ?? 0) + text.length > 600)
        throw new DOMException("full", "QuotaExceededError");
      real.call(this, k, text);
    });
    v.change("41", () => 41);
    v.settle();
    expect(v.isSaved.value).toBe(true);
    expect(openVault("v", 0, numbers).value.value).toBe(41);
  });

  const words = (stored: unknown) => (typeof stored === "object" ? (stored as Record<string, number>) : null);

  it("joins what another tab saved instead of writing over it", () => {
    const [one, two] = [openVault("v", {}, words), openVault("v", {}, words)];
    one.change("a", (g) => ({ ...g, a: 1 }));
    two.change("b", (g) => ({ ...g, b: 2 }));
    expect(two.value.value).toEqual({ a: 1, b: 2 });
    one.change("c", (g) => ({ ...g, c: 3 }));
    expect(one.value.value).toEqual({ a: 1, b: 2, c: 3 });
  });

  it("takes back its own change and leaves what came from elsewhere", () => {
    const v = openVault<Record<string, number>>("v", {}, words);
    v.change("mine", (g) => ({ ...g, mine: 1 }));
    v.adopt((g) => ({ ...g, theirs: 2 }));
    expect(v.undoLabel.value).toBe("mine");
    v.undo();
    expect(v.value.value).toEqual({ theirs: 2 });
    v.redo();
    expect(v.value.value).toEqual({ mine: 1, theirs: 2 });
  });

  it("says so when nothing can be kept", () => {
    const v = openVault("v", 0, numbers);
    vi.spyOn(Storage.prototype, "setItem").mockImplementation(() => {
      throw new DOMException("full", "QuotaExceededError");
    });
    v.change("1", () => 1);
    expect(v.isSaved.value).toBe(false);
    expect(v.value.value).toBe(1);
  });
});
