import { describe, expect, it } from "vitest";
import { pictureAddress, shareOf } from "./sharing";

describe("a share file", () => {
  it("is told from anything else a person may drop", () => {
    expect(shareOf('{"kind": "share/1", "worth": "worth_it"}')).toMatchObject({ worth: "worth_it" });
    for (const other of ["", "time,roll", "[]", "null", '{"kind": "car/1"}', '{"kind": "share/1"']) {
      expect(shareOf(other)).toBeNull();
    }
  });

  it("has a picture whose address survives signs that addresses do not", () => {
    expect(decodeURIComponent(pictureAddress("<svg>± # %</svg>").split(",").slice(1).join(","))).toBe(
      "<svg>± # %</svg>",
    );
  });
});
