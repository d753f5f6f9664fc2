/** Names on the plan: clear of each other, of the fence and of what lies in the ground. */

import { expect, test } from "vitest";
import type { Point } from "../src/flat/bearing.ts";
import {
  EMPTY_PLAN,
  type PlanGate,
  type PlanModel,
  type PlanObstacle,
  type PlanPost,
} from "../src/plan/model.ts";
import { type Box, Boxes, lengthInside, overlap } from "../src/plan/name_boxes.ts";
import { inTwo, type NameSet, PlanNames } from "../src/plan/plan_names.ts";

/** A gate 4 m wide in a line that runs east, or north, its leaf opening to the left (1) or right (-1) of that. */
function gateAt(x: number, name: string, opens: 1 | -1 = 1, latch: Point = [x + 4, 0]): PlanGate {
  return { name, line: "a", station_m: x, hinge: [x, 0], latch, opens, leaf_m: 3.8 };
}

function thing(name: string, shape: PlanObstacle["shape"], ...points: Point[]): PlanObstacle {
  return { name, kind: "pipe", shape, points, colour: "", letter: "", reach_m: 0 };
}

function post(id: string, at: Point, role = "end"): PlanPost {
  return { id, role, at, line: "a", station_m: 0, utilisation: null };
}

const namesOf = (model: Partial<PlanModel>) => new PlanNames({ ...EMPTY_PLAN, ...model });
const line = (name: string, ...points: Point[]) => ({ name, points, isClosed: false });

const downs = (metres_px: number, ...gates: PlanGate[]) => {
  const names = namesOf({ gates });
  return gates.map((_, place) => names.gate(place, metres_px)?.down_px);
};

test.each([
  ["below a gate whose leaf opens up", [0, 0], [4, 0], 1, { down_px: 18, align: "center" }],
  ["above a gate whose leaf opens down", [0, 0], [4, 0], -1, { down_px: -32, align: "center" }],
  ["left of a gate whose leaf opens to the right", [0, 0], [0, 4], -1, { right_px: -18, align: "right" }],
] as const)("a gate's name stands %s, at the middle of its opening", (_, hinge, latch, opens, set) => {
  const gate = { name: "gate 1", line: "a", station_m: 0, hinge, latch, opens, leaf_m: 3.8 } as const;
  const at = [(hinge[0] + latch[0]) / 2, (hinge[1] + latch[1]) / 2];
  expect(namesOf({ gates: [gate] }).gate(0, 0.1)).toMatchObject({ ...set, at });
});

test("a name that would lie upon that of a gate before it goes a line farther from the fence", () => {
  const row = [gateAt(0, "yard gate"), gateAt(6, "field gate"), gateAt(60, "lane gate")];
  expect(downs(0.1, ...row)).toEqual([18, 34, 18]);
  expect(downs(0.05, ...row)).toEqual([18, 18, 18]); // there is room for all
  expect(downs(0.1, gateAt(0, "yard gate", -1), gateAt(6, "field gate", -1))).toEqual([-32, -48]); // above the fence: up
});

test("names on either side of the fence do not meet, and one beside a line that runs north may meet another", () => {
  expect(downs(0.1, gateAt(0, "yard gate"), gateAt(6, "field gate", -1))).toEqual([18, -32]);
  const lane = gateAt(3, "lane gate", 1, [3, 4]); // its name begins right of the line, level with its middle
  const sets = namesOf({ gates: [gateAt(0, "yard gate", -1), lane] });
  expect(sets.gate(1, 0.1)).toMatchObject({ right_px: 18, down_px: 16, align: "left" });
  expect(sets.gate(1, 0.05)?.down_px).toBeCloseTo(0, 9);
});

test("where gates lie in one place a name with no room has none, but where it is asked for; from far none has any", () => {
  const gates = Array.from({ length: 40 }, (_, i) => gateAt(i / 100, `gate ${i}`));
  const names = namesOf({ gates });
  const shown = gates.filter((_, place) => names.gate(place, 0.5));
  expect(shown.length).toBeGreaterThan(5);
  expect(shown.length).toBeLessThan(20);
  expect(names.gate(39, 0.5)).toBeUndefined();
  expect(names.gate(39, 0.5, true)).toBeDefined();
  expect([names.gate(0, 2), names.gate(0, 2, true)?.down_px]).toEqual([undefined, 18]);
});

test("a name keeps within what is shown where all of it is", () => {
  const fence = line("a", [0, 0], [0, 200]);
  const gate = gateAt(0, "a gate with a long name", 1, [0, 4]); // its leaf opens to the west, where the fence ends
  const east = line("b", [30, 0], [30, 200]);
  expect(namesOf({ gates: [gate], lines: [fence, east] }).gate(0, 0.1)?.align).toBe("left");
  const west = line("b", [-30, 0], [-30, 200]);
  expect(namesOf({ gates: [gate], lines: [fence, west] }).gate(0, 0.1)?.align).toBe("right");
});

test("a long name of a gate stands in two lines, and farther from the fence by half a line", () => {
  expect(["lane gate", "mill paddock gate to the lane", "averylongnameofonewordalone"].map(inTwo)).toEqual([
    "lane gate",
    "mill paddock\ngate to the lane",
    "averylongnameofonewordalone",
  ]);
  expect(downs(0.1, gateAt(0, "mill paddock gate to the lane"))).toEqual([26]);
});

/** The gate's name at 0.1 m a pixel, as its box in metres east and north: left, low, right, high. */
function boxOf(name: string, { at, right_px, down_px, align }: NameSet): [number, number, number, number] {
  const width_m = 0.75 * name.length;
  const left = at[0] + right_px / 10 - { left: 0, center: width_m / 2, right: width_m }[align];
  const middle = at[1] - down_px / 10;
  return [left, middle - 0.6, left + width_m, middle + 0.6];
}

function crosses([left, low, right, high]: number[], points: readonly Point[]): boolean {
  const box: Box = {
    x_px: ((left as number) + (right as number)) / 2,
    y_px: ((low as number) + (high as number)) / 2,
    half_width_px: ((right as number) - (left as number)) / 2,
    half_height_px: ((high as number) - (low as number)) / 2,
    turn_rad: 0,
  };
  return points.slice(1).some((to, i) => lengthInside(box, ...(points[i] as Point), ...to) > 0);
}

test("a gate's name keeps from a pipe in the ground, from another fence, and from the name of its line", () => {
  const gate = gateAt(20, "paddock gate");
  const pipe: Point[] = [
    [-50, -1.8],
    [90, -1.8],
  ];
  const fence = line("paddock", [0, 0], [44, 0]);
  const alone = namesOf({ gates: [gate], lines: [fence] }).gate(0, 0.1) as NameSet;
  expect(crosses(boxOf(gate.name, alone), pipe)).toBe(true); // where it would stand
  const beside = namesOf({ gates: [gate], lines: [fence], obstacles: [thing("gas", "line", ...pipe)] });
  expect(crosses(boxOf(gate.name, beside.gate(0, 0.1) as NameSet), pipe)).toBe(false);
  const other = namesOf({ gates: [gate], lines: [fence, line("lane", ...pipe)] });
  expect(crosses(boxOf(gate.name, other.gate(0, 0.1) as NameSet), pipe)).toBe(false);
});

test("the name of a line keeps from what crosses its leg near it, from gates and from posts", () => {
  const fence = line("paddock", [0, 0], [100, 0]);
  const at = (model: Partial<PlanModel> = {}) =>
    namesOf({ lines: [fence], ...model }).line("paddock", 0.1)?.at;
  expect(at()).toEqual([30, 0]);
  expect(at({ obstacles: [thing("", "line", [31, -5], [31, 5])] })).toEqual([70, 0]);
  expect(at({ gates: [gateAt(28, "gate", -1)] })).toEqual([30, 0]); // that stands above it
  expect(at({ gates: [gateAt(26, "gate to the lane", 1, [30, 0])] })).toEqual([30, 0]); // and that below
  expect(at({ posts: [post("P12", [28, 0]), post("P13", [31, 0])] })).toEqual([70, 0]);
  const steep = namesOf({ lines: [line("west", [0, 0], [0, 100])] }).line("west", 0.1);
  expect(steep).toMatchObject({ at: [0, 30], turn_rad: -Math.PI / 2 });
  const back = namesOf({ lines: [line("west", [100, 0], [0, 0])] }).line("west", 0.1);
  expect(back?.turn_rad).toBeCloseTo(0, 12); // read from its other end
});

test("the names of a pond and of a pipe that runs under it do not lie on one another", () => {
  const pond = thing("duck pond", "area", [0, 0], [12, 0], [12, 12], [0, 12]);
  const pipe = thing("gas to the house", "line", [-60, 6], [72, 6]);
  expect(namesOf({ obstacles: [pond] }).obstacle(0, 0.1)?.at).toEqual([6, 6]);
  const names = namesOf({ obstacles: [pond, pipe] });
  const [of, under] = [names.obstacle(0, 0.1) as NameSet, names.obstacle(1, 0.1) as NameSet];
  expect(crosses(boxOf(pond.name, of), pipe.points)).toBe(false);
  const [a, b] = [boxOf(pond.name, of), boxOf(pipe.name, under)];
  expect(a[0] < b[2] && b[0] < a[2] && a[1] < b[3] && b[1] < a[3]).toBe(false);
});

test("a tree is named on its side of a fence that is near, and on another where a name stands there", () => {
  const lines = [line("west", [-60, -50], [-60, 50]), line("east", [0, -50], [0, 50])];
  const tree = thing("oak", "point", [-3, 40]);
  const names = namesOf({ lines, obstacles: [tree, thing("ash", "point", [-2.8, 40])] });
  expect(names.obstacle(0, 0.1)).toMatchObject({ align: "right" });
  expect(names.obstacle(1, 0.1)?.down_px).toBe(-14);
  expect(names.obstacle(0, 0.02)?.down_px).toBe(-14); // from near, the fence is far
});

test("of posts that stand close each has its name beside it, or none: no two lie on one another", () => {
  const posts = [
    post("P1", [0, 0]),
    post("P2", [1, 0]),
    post("P3", [2, 0]),
    post("P4", [3, 0]),
    post("P5", [9, 0]),
  ];
  const names = namesOf({ posts: [...posts, post("P6", [20, 0], "line")] });
  expect(posts.map(({ id }) => names.post(id, 0.1)?.down_px)).toEqual([-16, 16, -16, 16, -16]);
  const close = namesOf({ posts: Array.from({ length: 6 }, (_, i) => post(`P${i}`, [i / 10, 0])) });
  const shown = Array.from({ length: 6 }, (_, i) => close.post(`P${i}`, 0.1)).filter(Boolean);
  expect(shown.map((set) => set?.align)).toEqual(["center", "center", "right", "left"]);
  expect(names.post("P6", 0.1)).toBeUndefined(); // a line post has its name from nearer
  expect(names.post("P1", 0.3)).toBeUndefined();
});

test("boxes that are turned overlap as they lie; a leg counts by what of it lies inside", () => {
  const box = (x_px: number, y_px: number, turn_rad = 0): Box => ({
    x_px,
    y_px,
    half_width_px: 20,
    half_height_px: 5,
    turn_rad,
  });
  expect(overlap(box(0, 0), box(39, 9))).toBe(true);
  expect(overlap(box(0, 0), box(39, 11))).toBe(false);
  expect(overlap(box(0, 0), box(24, 0, Math.PI / 2))).toBe(true);
  expect(overlap(box(0, 0), box(26, 0, Math.PI / 2))).toBe(false);
  expect(overlap(box(0, 0), box(25, 25, Math.PI / 4))).toBe(false);
  expect(lengthInside(box(0, 0), -50, 0, 50, 0)).toBeCloseTo(40, 9);
  expect(lengthInside(box(0, 0, Math.PI / 2), -50, 0, 50, 0)).toBeCloseTo(10, 9);
  expect(lengthInside(box(0, 0), -50, 6, 50, 6)).toBe(0);
  expect(lengthInside(box(0, 0), 0, 0, 0, 100)).toBeCloseTo(5, 9);
  const boxes = new Boxes();
  for (let i = 0; i < 50; i += 1) boxes.add(box(100 * i, -100 * i));
  expect([boxes.upon(box(310, -302)), boxes.upon(box(350, -350))]).toEqual([1, 0]);
});
