import { expect, test } from "vitest";
import type { PostRow } from "../src/api/records.ts";
import { whyThing } from "../src/app/why_thing.ts";
import type { Held } from "../src/plan/hands.ts";
import { EMPTY_PLAN, type PlanModel } from "../src/plan/model.ts";

const posts = [
  { id: "P1", line: "west", station_m: 0, x_m: 0.04, y_m: 0.05 },
  { id: "P2", line: "west", station_m: 179.8, x_m: 0, y_m: 179.8 },
  { id: "P3", line: "west", station_m: 183.4, x_m: 0, y_m: 183.4 },
  { id: "P4", line: "east", station_m: 179.8, x_m: 90, y_m: 179.8 },
] as unknown as PostRow[];
const points = [
  [0, 0],
  [0, 300],
] as const;
const model = {
  ...EMPTY_PLAN,
  lines: [{ name: "west", points, isClosed: false }],
} as unknown as PlanModel;
const asked = { crossing: [{ line: "west" }, { name: "brook", line: "west" }] };
const thing = (held: Partial<Held> | null) => whyThing(held as Held | null, model, asked, posts);

test("a post and a gate are asked by their names", () => {
  expect(thing({ kind: "post", id: "P2" })).toBe("P2");
  expect(thing({ kind: "gate", id: "gate 1" })).toBe("gate 1");
});

test("a strain post, chosen by its words, is asked by the post that stands there", () => {
  const strain = { kind: "mark", id: "strain post 1 · west, 590 m", table: "strain", row: 0 } as const;
  expect(thing({ ...strain, line: "west", station_m: 179.83 })).toBe("P2");
  expect(thing({ ...strain, line: "west", station_m: 181.6 })).toBe("");
  expect(thing({ ...strain, line: "east", station_m: 179.8 })).toBe("P4");
});

test("a crossing is asked by its name, or its number where it has none", () => {
  expect(thing({ kind: "mark", id: "x", table: "crossing", row: 0, line: "west" })).toBe("crossing 1");
  expect(thing({ kind: "mark", id: "x", table: "crossing", row: 1, line: "west" })).toBe("brook");
});

test("a corner is asked by its post; a line and an obstacle have no reasons", () => {
  expect(thing({ kind: "corner", id: "west/0", line: "west", corner: 0 })).toBe("P1");
  expect(thing({ kind: "corner", id: "west/1", line: "west", corner: 1 })).toBe("");
  expect(thing({ kind: "line", id: "west" })).toBe("");
  expect(thing({ kind: "obstacle", id: "0" })).toBe("");
  expect(thing(null)).toBe("");
});
