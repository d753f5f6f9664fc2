import { describe, expect, it } from "vitest";
import { heldMark, marksAt, marksOf, placeOf } from "../src/panels/standing.ts";
import { EMPTY_PLAN } from "../src/plan/model.ts";

const FOOT_M = 0.3048;
const asked = {
  gate: [
    { line: "north", at: "20 ft", opening: "12 ft" },
    { name: "lane", line: "north", at: "80 ft", opening: "12 ft" },
  ],
  strain: [{ line: "north", at: "5' 6 1/2\"" }],
  rock: [{ line: "south", at: "1.69 m", depth: "20 in" }],
};

describe("what stands on the lines", () => {
  it("is listed by table, each with line and station", () => {
    const marks = marksOf(asked);
    expect(marks.map((mark) => [mark.table, mark.row])).toEqual([
      ["gate", 0],
      ["gate", 1],
      ["strain", 0],
      ["rock", 0],
    ]);
    expect(marks[2]?.station_m).toBeCloseTo(5.541667 * FOOT_M, 6);
    expect(marks[1]?.words).toBe("lane · north, 80 ft, 12 ft");
  });

  it("is found at a post's station, on its own line alone", () => {
    expect(marksAt(asked, "north", 1.7).map((mark) => mark.table)).toEqual(["strain"]);
    expect(marksAt(asked, "south", 1.7).map((mark) => mark.table)).toEqual(["rock"]);
    expect(marksAt(asked, "north", 3)).toEqual([]);
  });

  it("a gate is held as the plan holds it, another mark by its row", () => {
    const [first, , strain] = marksOf(asked).map(heldMark);
    expect(first).toMatchObject({ kind: "gate", id: "gate 1" });
    expect(strain).toMatchObject({ kind: "mark", table: "strain", row: 0 });
  });

  it("has a place where its line is drawn", () => {
    const points = [[0, 0] as const, [10, 0] as const, [10, 5] as const];
    const model = { ...EMPTY_PLAN, lines: [{ name: "north", points, isClosed: false }] };
    expect(placeOf(model, "north", 12)).toEqual([10, 2]);
    expect(placeOf(model, "south", 12)).toBeNull();
    expect(placeOf(model, "north", Number.NaN)).toBeNull();
  });
});
