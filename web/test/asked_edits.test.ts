import { describe, expect, test } from "vitest";
import { remedyEdit, severalEdit, shiftEdit, stationOf, typedStation } from "../src/app/asked_edits.ts";
import { legAt } from "../src/flat/polyline.ts";
import { postsInBox } from "../src/plan/hands.ts";
import { sixDigits, useStep } from "../src/plan/inks.ts";
import { EMPTY_PLAN, type PlanPost } from "../src/plan/model.ts";
import { stationAlong } from "../src/section/model.ts";

const typed = (metres: number) => `${metres.toFixed(2)} m`;
const post = { id: "P5", line: "a", role: "line", station_m: 12.192 };

test("writes a station no finer than it can be set out", () => {
  expect(typedStation(54.88914, "metric")).toBe("54.889 m");
  expect(typedStation(54.88914, "us")).toBe("180.082 ft");
  expect(typedStation(12, "metric")).toBe("12 m");
});

describe("a finding's remedy", () => {
  test("sets keys and adds rows, as one edit", () => {
    const size = { line: "a", at: "3 m", set: "concrete" };
    expect(remedyEdit({ edits: [{ path: ["gate", 0, "swing"], value: "left" }], remedy: "turn it" })).toEqual(
      {
        kind: "set",
        path: ["gate", 0, "swing"],
        value: "left",
      },
    );
    expect(remedyEdit({ edits: [{ path: ["size"], append: size }], remedy: "" })).toEqual({
      kind: "add",
      table: "size",
      values: size,
    });
    const both = [
      { path: ["brace", "lean"], value: "2 in" },
      { path: ["size"], append: size },
    ];
    expect(remedyEdit({ edits: both, remedy: "x".repeat(300) })).toMatchObject({
      kind: "many",
      label: "x".repeat(200),
    });
    expect(remedyEdit({ edits: [], remedy: "" })).toBeNull();
  });
});

describe("a post moved along its line", () => {
  test("a line post gets a mark that holds it, once", () => {
    expect(shiftEdit({}, post, 0.308, typed)).toEqual({
      kind: "add",
      table: "pin",
      values: { line: "a", at: "12.50 m", post: true },
    });
    const asked = {
      pin: [
        { line: "b", at: "40 ft", post: true },
        { line: "a", at: "40 ft", post: true },
      ],
    };
    expect(shiftEdit(asked, post, -0.192, typed)).toEqual({ kind: "slide", table: "pin", item: 1, at: 12 });
  });
  test("a pinned top takes its post along; a gate's post slides the gate", () => {
    const pinned = { pin: [{ line: "a", at: "40 ft", height: "50 in" }] };
    expect(shiftEdit(pinned, post, 1, typed)).toMatchObject({ kind: "many" });
    const gate = { gate: [{ line: "a", at: "40 ft" }] };
    expect(shiftEdit(gate, { ...post, role: "gate" }, 1, typed)).toMatchObject({
      kind: "slide",
      table: "gate",
    });
  });
  test("a corner is not moved along a line", () => {
    expect(shiftEdit({}, { ...post, role: "corner" }, 1, typed)).toBeNull();
  });
});

test("posts chosen together: pins only where there are any to take away", () => {
  const posts = [post, { ...post, id: "P6", station_m: 15.24 }];
  const asked = {
    pin: [
      { line: "a", at: "50 ft", height: "50 in" },
      { line: "a", at: "40 ft", post: true },
    ],
  };
  expect(severalEdit("unpin", posts, asked, "", "")).toEqual({ kind: "unpin", line: "a", at: 15.24 });
  expect(severalEdit("unpin", [post], asked, "", "")).toBeNull();
  expect(severalEdit("pin", posts, asked, "51 in", "both")).toMatchObject({ kind: "many", label: "both" });
});

test("stations of the job file", () => {
  expect(stationOf("40 ft")).toBeCloseTo(12.192, 9);
  expect(stationOf("-3 m")).toBe(-3);
  expect(stationOf("40 ft 6 in")).toBeNaN();
});

test("the leg on which a station lies", () => {
  const corners = [
    [0, 0],
    [10, 0],
    [10, 5],
  ] as const;
  expect([0, 9.9, 10, 14.9, 15.1].map((station) => legAt(corners, station))).toEqual([0, 0, 1, 1, 2]);
});

test("a closed line's section begins past its first corner; its stations are the job's", () => {
  const line = {
    name: "a",
    start_m: 10,
    length_m: 100,
    posts: [],
    ground: { station_m: [], elevation_m: [] },
    openings: new Set<number>(),
  };
  expect([0, 50, 90, 95].map((along) => stationAlong(line, along))).toEqual([10, 60, 0, 5]);
  expect(stationAlong({ ...line, start_m: 0 }, 100)).toBe(100);
});

test("posts in a box, whichever corner comes first", () => {
  const at = (id: string, x: number, y: number): PlanPost => ({
    id,
    role: "line",
    at: [x, y],
    line: "a",
    station_m: 0,
    utilisation: null,
  });
  const plan = { ...EMPTY_PLAN, posts: [at("P1", 0, 0), at("P2", 5, 5), at("P3", 9, 1)] };
  expect(postsInBox(plan, [6, 6], [-1, -1])).toEqual(["P1", "P2"]);
});

test("a short ink grows to six digits; utilisation falls in its step", () => {
  expect(sixDigits("#a0f")).toBe("#aa00ff");
  expect(sixDigits("#12345f")).toBe("#12345f");
  expect([0, 0.5, 0.51, 1, 1.01, null].map(useStep)).toEqual([0, 0, 1, 2, 3, -1]);
});
