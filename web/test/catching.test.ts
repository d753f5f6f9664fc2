/** What catches a dragged corner, an obstacle's point and a gate: against shapely's answers, and by example. */

import { describe, expect, it } from "vitest";
import type { Point } from "../src/flat/bearing.ts";
import { snap } from "../src/flat/snap.ts";
import {
  caughtPoint,
  caughtStation,
  cornerField,
  cornersAt,
  gateStations,
  obstacleField,
} from "../src/plan/catching.ts";
import { type Held, takenOf } from "../src/plan/hands.ts";
import { EMPTY_PLAN, flatOf, type PlanModel, usualBay } from "../src/plan/model.ts";
import fixture from "./fixtures/catching.json";

const FEET = 0.3048;
const ft = (...points: Point[]): Point[] => points.map(([x, y]) => [x * FEET, y * FEET]);
const PADDOCK = { name: "paddock", points: ft([0, 0], [200, 0], [200, 120], [0, 120]), isClosed: true };
const LANE = { name: "lane", points: ft([200, 120], [300, 120]), isClosed: false };
const MODEL: PlanModel = { ...EMPTY_PLAN, lines: [PADDOCK, LANE] };

const onlyLine = (points: Point[], isClosed: boolean): PlanModel => ({
  ...EMPTY_PLAN,
  lines: [{ name: "a", points, isClosed }],
});

function expectNear(point: Point, [x, y]: readonly number[], within_m = 1e-6): void {
  expect(Math.abs(point[0] - (x ?? 0))).toBeLessThan(within_m);
  expect(Math.abs(point[1] - (y ?? 0))).toBeLessThan(within_m);
}

describe.each(fixture.corners.map((each, row) => [row, each] as const))("corner %i", (_, known) => {
  const ring = known.ring as unknown as Point[];
  const field = cornerField(onlyLine(ring, false), "a", 2);
  const nudged = ([x, y]: readonly number[]): Point => [(x ?? 0) + 1e-4, (y ?? 0) - 1e-4];

  it("is caught square to and straight on from its neighbour, and between both", () => {
    for (const name of ["square_before", "straight_before", "straight_between"] as const)
      expectNear(snap(nudged(known[name]), 1e-3, field).point, known[name], 2e-4);
    expect(snap(nudged(known.square_before), 1e-3, field).caught).toBe("right angle");
    expect(snap(nudged(known.straight_before), 1e-3, field).caught).toBe("extension");
  });

  it("is caught where the right angles of both its neighbours cross", () => {
    expect(known.crossing).not.toBeNull();
    const caught = snap(nudged(known.crossing as number[]), 1e-2, field);
    expect(caught.caught).toBe("right angle");
    expectNear(caught.point, known.crossing as number[], 1e-5);
    expect(caught.guides).toHaveLength(2);
  });

  it("is caught where its own angle is right", () => {
    const caught = snap(nudged(known.own_square), 1e-3, field);
    expect(caught.caught).toBe("right angle");
    expectNear(caught.point, known.own_square, 2e-4);
  });

  it("comes square on another line from its neighbour", () => {
    const [, before, , after, end] = ring as [Point, Point, Point, Point, Point];
    const [x = 0, y = 0] = known.foot_of_before;
    const [east, north] = [end[0] - after[0], end[1] - after[1]];
    const line = [x - east, y - north, x + east, y + north];
    const caught = snap(nudged([x, y]), 1e-3, { points: [], lines: [line], drawn: [before] });
    expect(caught.caught).toBe("right angle");
    expectNear(caught.point, [x, y], 2e-4);
  });
});

describe("a shared corner", () => {
  const field = cornerField(MODEL, "paddock", 2);

  it("is not held by the fence that goes along", () => {
    expect(caughtPoint([200.5 * FEET, 118 * FEET], 1, field).caught).not.toBe("point");
    expect(cornersAt(MODEL, PADDOCK.points[2] as Point)).toEqual([
      { line: "paddock", corner: 2 },
      { line: "lane", corner: 0 },
    ]);
  });

  it("dropped a foot from square stands square", () => {
    const caught = caughtPoint([221 * FEET, 121 * FEET], 0.5, field);
    expect(caught.caught).toBe("right angle");
    expectNear(caught.point, [221 * FEET, 120 * FEET]);
  });

  it("is free where nothing may catch it", () => {
    const hand: Point = [221 * FEET, 121 * FEET];
    expect(caughtPoint(hand, 0, field)).toEqual({ point: hand, caught: "free" });
  });
});

describe("other fences", () => {
  it("catch a dragged end at their points and along their legs", () => {
    const field = cornerField(MODEL, "lane", 1);
    expect(caughtPoint([200.4 * FEET, 0.3 * FEET], 0.3, field)).toEqual({
      point: PADDOCK.points[1],
      caught: "point",
    });
    const along = caughtPoint([0.3 * FEET, 60 * FEET], 0.3, field);
    expect(along.caught).toBe("line");
    expectNear(along.point, [0, 60 * FEET]);
  });

  it("give a cross fence that starts on them its right angle, and its end too", () => {
    const lines = [flatOf(PADDOCK)];
    const drawn: Point[] = [[18, 0]];
    const caught = snap([18.2, 20], 0.5, { points: [], lines, drawn });
    expect(caught.caught).toBe("right angle");
    expectNear(caught.point, [18, 20]);
    const across = snap([18.2, 120 * FEET - 0.2], 0.5, { points: [], lines, drawn });
    expect(across.caught).toBe("right angle");
    expectNear(across.point, [18, 120 * FEET]);
  });
});

describe("an obstacle's point", () => {
  const pond = {
    name: "pond",
    kind: "pond",
    shape: "area" as const,
    points: [
      [0, 0],
      [20, 0],
      [20, 10],
      [0, 10],
    ] as Point[],
    colour: "",
    letter: "",
    reach_m: 0,
  };

  it("is caught by its neighbours' angles, a tree by nothing of its own", () => {
    const model = {
      ...EMPTY_PLAN,
      obstacles: [pond, { ...pond, shape: "point" as const, points: [[5, 5]] as Point[] }],
    };
    const caught = caughtPoint([30, 10.2], 0.5, obstacleField(model, 0, 2));
    expectNear(caught.point, [30, 10]);
    expect(caughtPoint([30, 10.2], 0.5, obstacleField(model, 1, 0)).caught).toBe("free");
  });
});

describe("a gate", () => {
  const gate = {
    name: "g",
    line: "lane",
    station_m: 3,
    hinge: [70, 36.576] as Point,
    latch: [73, 36.576] as Point,
  };
  const model: PlanModel = {
    ...EMPTY_PLAN,
    lines: [
      PADDOCK,
      {
        name: "lane",
        points: [
          [0, -6],
          [60, -6],
        ] as Point[],
        isClosed: false,
      },
    ],
    gates: [{ ...gate, hinge: [20, -6], latch: [23, -6], opens: 1, leaf_m: 3 }],
  };

  it("is caught straight across from another fence's gate, within reach", () => {
    const stations = gateStations(model, "paddock");
    const caught = caughtStation(flatOf(PADDOCK), 20.3, 0.5, stations);
    expect(caught.station_m).toBeCloseTo(20);
    expect(caught.at).toEqual({ point: [20, 0], caught: "opposite" });
    expect(caughtStation(flatOf(PADDOCK), 21.2, 0.5, stations).at.caught).toBe("free");
  });
});

describe("a press", () => {
  const things: Held[] = [
    { kind: "post", id: "P3" },
    { kind: "line", id: "paddock" },
    { kind: "obstacle", id: "stream", row: 0 },
  ];

  it("takes the first, and at the same place again the next, round and round", () => {
    const taken: (Held | null)[] = [null];
    for (let press = 0; press < 4; press += 1) taken.push(takenOf(things, taken.at(-1) ?? null));
    expect(taken.slice(1).map((each) => each?.id)).toEqual(["P3", "paddock", "stream", "P3"]);
    expect(takenOf([], null)).toBeNull();
    expect(takenOf(things, { kind: "gate", id: "gone" })?.id).toBe("P3");
  });
});

it("the usual bay is the mean step along each line", () => {
  const post = { role: "line", at: [0, 0] as Point, utilisation: null };
  const posts = [0, 2, 4, 7].map((station_m, row) => ({ ...post, id: `P${row}`, line: "a", station_m }));
  expect(usualBay({ ...EMPTY_PLAN, posts })).toBeCloseTo(7 / 3);
  expect(usualBay(EMPTY_PLAN)).toBe(0);
});
