import { describe, expect, it } from "vitest";
import { plural } from "../src/units/plural.ts";

describe("the plural of a unit", () => {
  it.each([
    ["roll", "rolls"],
    ["days", "days"],
    ["day", "days"],
    ["box", "boxes"],
    ["delivery", "deliveries"],
    ["foot", "feet"],
    ["glass", "glasses"],
    ["gal", "gal"],
    ["each", "each"],
    ["m3", "m3"],
    ["ft", "ft"],
    ["USD", "USD"],
  ])("of %s is %s", (unit, many) => {
    expect(plural(unit)).toBe(many);
  });
});
