import { describe, expect, it } from "vitest";
import {
  type System,
  showForce,
  showLong,
  showSmall,
  showStock,
  showTemperature,
  typedLength,
} from "../src/units/show.ts";
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

  it("what is not known is a dash", () => {
    expect(showLong(null, "us")).toBe("–");
    expect(showSmall(Number.NaN, "metric")).toBe("–");
    expect(showForce(undefined, "us")).toBe("–");
  });
});

describe("typed lengths", () => {
  it.each(fixture.typed)("$text", (row) => {
    expect(typedLength(row.text, "us")).toBeCloseTo(row.m, 9);
  });

  it("a bare number is in the job's unit, nonsense is none", () => {
    expect(typedLength("200", "us")).toBeCloseTo(60.96);
    expect(typedLength("200", "metric")).toBe(200);
    for (const text of ["", "ft", "3 furlongs", "12 ft x"]) expect(typedLength(text, "us")).toBeNaN();
  });
});
