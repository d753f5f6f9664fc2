import { describe, expect, it } from "vitest";
import {
  type System,
  showForce,
  showLong,
  showSmall,
  showStock,
  showTemperature,
  smallInField,
  withCommas,
} from "../src/units/show.ts";
import { lengthRefused, typedLength } from "../src/units/typed_length.ts";
import fixture from "./fixtures/units.json";

describe("numbers are printed as on the sheets", () => {
  it.each(fixture.shown)("$si in $system", (row) => {
    const system = row.system as System;
    expect(showLong(row.si, system)).toBe(row.long);
    expect(showSmall(row.si, system)).toBe(row.small);
    expect(showStock(row.si, system)).toBe(row.stock);
    expect(showForce(row.si * 100, system)).toBe(row.force);
    expect(showTemperature(row.si / 100, system)).toBe(row.temperature);
  });

  it("thousands are set apart as the browser's own words for English do it", () => {
    for (const value of [0, 7, 999, 1000, -1000, 123456, 1234567.25, -98765.4, 1e9, 0.5, -0.25])
      expect(withCommas(String(value))).toBe(value.toLocaleString("en-US"));
    expect(withCommas("1000.0001234")).toBe("1,000.0001234");
  });

  it("stand in a field so that the program takes them back: no digit is grouped", () => {
    expect(smallInField(1.4936, "metric")).toBe("1494 mm");
    expect(smallInField(1.317625, "us")).toBe("51 7/8 in");
    expect(smallInField(null, "us")).toBe("");
    for (const row of fixture.shown)
      expect(smallInField(row.si, row.system as System).replace(/^–$/, "")).not.toContain(",");
  });

  it("what is not known is a dash", () => {
    expect(showLong(null, "us")).toBe("–");
    expect(showSmall(Number.NaN, "metric")).toBe("–");
    expect(showForce(undefined, "us")).toBe("–");
  });
});

describe("typed lengths", () => {
  it.each(fixture.typed)("$text", (row) => {
    expect(typedLength(row.text)).toBeCloseTo(row.m, 9);
  });

  it.each(fixture.refused)("$text is none, in the program's words", (row) => {
    expect(typedLength(row.text)).toBeNaN();
    expect(lengthRefused(row.text)).toBe(row.sentence);
  });

  it("a bare number is none, nor is nothing at all: every quantity carries its unit", () => {
    expect(typedLength("200")).toBeNaN();
    expect(typedLength("0.5")).toBeNaN();
    expect(typedLength("")).toBeNaN();
  });
});
