import { expect, test } from "vitest";
import type { Point } from "../src/flat/bearing.ts";
import type { PlanObstacle } from "../src/plan/model.ts";
import { namePlace } from "../src/plan/naming.ts";

function thing(shape: PlanObstacle["shape"], ...points: Point[]): PlanObstacle {
  return { name: "", kind: "pipe", shape, points, colour: "", letter: "", reach_m: 0 };
}

// a lane between two fences 100 m apart, and a third fence across at 80 m
const FENCES = [
  [0, 0, 0, 200],
  [100, 0, 100, 200],
  [-50, 80, 150, 80],
];

test("the name of a pipe stands where the fence is farthest from it, not in its middle", () => {
  const place = namePlace(thing("line", [-20, 20], [100, 20]), FENCES);
  // every 6 m is looked at; the middle, 40 m, is less clear by a tenth and more, 52 m clearer by less than a tenth
  expect(place?.at).toEqual([46, 20]);
  expect(namePlace(thing("line", [-20, 20], [4, 20]), FENCES)?.at[0]).toBeLessThan(-17); // its middle is 8 m away
});

test("a name is wide: it keeps from fences beside it, and may be near to one below", () => {
  const below = [-50, 10, 150, 10];
  expect(namePlace(thing("line", [-20, 20], [100, 20]), [...FENCES, below])?.at).toEqual([46, 20]);
});

test("where there is no fence the name stands in the middle", () => {
  expect(namePlace(thing("line", [0, 0], [10, 0], [10, 10]), [])).toEqual({
    at: [10, 0],
    away: null,
    clear_m: Number.POSITIVE_INFINITY,
  });
});

test("a tree is named on its side of the fence; one in the fence has a side too", () => {
  expect(namePlace(thing("point", [3, 40]), FENCES)).toEqual({ at: [3, 40], away: [1, 0], clear_m: 3 });
  expect(namePlace(thing("point", [40, 76]), FENCES)).toEqual({ at: [40, 76], away: [0, -1], clear_m: 4 });
  expect(namePlace(thing("point", [0, 40]), FENCES)?.away).toEqual([-1, 0]);
});

test("an area is named inside, and what has no points nowhere", () => {
  expect(namePlace(thing("area", [0, 0], [1, 0], [1, 1]), FENCES)).toBeNull();
  expect(namePlace(thing("line"), FENCES)).toBeNull();
});
