/** Where the names of lines, and of what lies in the way, may stand: the best first. */

import { distance, type Point } from "../flat/bearing.ts";
import { type Flat, placeOn, pointAtStation, stations } from "../flat/polyline.ts";
import type { PlanObstacle } from "./model.ts";

/** Places along a line that are looked at. */
const TRIED = 19;
/** A place must be so much clearer to be taken before one nearer to the middle. */
const CLEARER = 1.1;
/** A name is so many times as wide as it is high: a fence beside it must be so much farther than one above it. */
const WIDE = 8;
/** Where along its leg the name of a line may stand: aside of the middle, where most else is pressed. */
const NAMED_AT = [0.3, 0.7, 0.5, 0.4, 0.6, 0.2, 0.8];
/** Of the name of a line from its leg. [pixels] */
const OVER_LEG_PX = -13;
const UNDER_LEG_PX = 14;
/** Of a name from the one place that it names. [pixels] */
const BESIDE_PX = {
  above: { right_px: 0, down_px: -14, align: "center" },
  below: { right_px: 0, down_px: 15, align: "center" },
  left: { right_px: -12, down_px: 0, align: "right" },
  right: { right_px: 12, down_px: 0, align: "left" },
} as const;
/** A fence that is nearer to a tree runs through a name above it. [pixels] */
const CLEAR_PX = 70;
/** Places across and up an area that are looked at, and how far outside of it its name stands. */
const IN_AREA = 7;
const OUTSIDE_PX = 11;
/** What it costs a name to stand at the next place, on the other side, outside of its area. */
const COST = { next: 0.2, side: 1, outside: 2 };
const ON_FENCE_M = 0.01;

/** A place that a name may have: so far from a point, which way it is written from there, and turned. */
export interface NameChoice {
  at: Point;
  right_px: number;
  down_px: number;
  align: "left" | "right" | "center";
  /** Clockwise. */
  turn_rad: number;
  /** What it costs to stand there, beside what it lies on. */
  cost: number;
}

/** Where a name stands, and the way from the fence that is nearest to it; along a line as the name sees it, that is wide. */
export interface NamePlace {
  at: Point;
  /** Of length 1; null where there is no fence. */
  away: Point | null;
  /** How far the fence is. [m] */
  clear_m: number;
}

/** Of a pipe or a stream the place along it that is farthest from the fence; of a tree the tree; null of an area. */
export function namePlace({ shape, points }: PlanObstacle, fences: readonly Flat[]): NamePlace | null {
  const [first] = points;
  if (!first || shape === "area") return null;
  if (shape === "point" || points.length < 2) return beside(first, fences);
  return along(points.flat(), fences);
}

function along(flat: Flat, fences: readonly Flat[]): NamePlace {
  const narrowed = fences.map((fence) => Float64Array.from(fence, (one, i) => (i % 2 ? one : one / WIDE)));
  const places = alongFlat(flat).map(([x, y]) => ({
    ...beside([x / WIDE, y], narrowed),
    at: [x, y] as const,
  }));
  return places.reduce((best, each) => (each.clear_m > CLEARER * best.clear_m ? each : best));
}

/** Places along a line, from its middle out. */
function alongFlat(flat: Flat): Point[] {
  const length_m = stations(flat).at(-1) ?? 0;
  return Array.from({ length: TRIED }, (_, place) => {
    const steps = Math.ceil(place / 2) * (place % 2 ? 1 : -1);
    return pointAtStation(flat, length_m * (0.5 + steps / (TRIED + 1)));
  });
}

function beside(at: Point, fences: readonly Flat[]): NamePlace {
  let best: NamePlace = { at, away: null, clear_m: Number.POSITIVE_INFINITY };
  for (const fence of fences) {
    const near = placeOn(fence, at);
    if (!near || Math.abs(near.offset_m) >= best.clear_m) continue;
    const clear_m = Math.abs(near.offset_m);
    const to = clear_m > ON_FENCE_M ? at : leftOf(fence, near.leg, near.point);
    const far_m = distance(near.point, to);
    best = { at, away: [(to[0] - near.point[0]) / far_m, (to[1] - near.point[1]) / far_m], clear_m };
  }
  return best;
}

/** A point a metre to the left of a leg. */
function leftOf(flat: Flat, leg: number, from: Point): Point {
  const [x0 = 0, y0 = 0, x1 = 0, y1 = 0] = Array.from({ length: 4 }, (_, i) => flat[2 * leg + i] ?? 0);
  const long_m = Math.hypot(x1 - x0, y1 - y0);
  return [from[0] - (y1 - y0) / long_m, from[1] + (x1 - x0) / long_m];
}

/** Of a line: along its longest leg, the way that the leg runs, above it rather than below. */
export function lineChoices(flat: Flat, { leg, length_m } = longestLeg(flat)): NameChoice[] {
  if (length_m === 0) return [];
  const [x, y, east, north] = legOf(flat, leg);
  const steep_rad = Math.atan2(north, east);
  // words stand upright: a leg that runs west is read from its other end
  const isBack = Math.abs(steep_rad) > Math.PI / 2 + 1e-9;
  const turn_rad = -(isBack ? steep_rad - Math.PI * Math.sign(steep_rad) : steep_rad);
  return [OVER_LEG_PX, UNDER_LEG_PX].flatMap((down_px, side) =>
    NAMED_AT.map((share, place) => ({
      at: [x + share * east, y + share * north] as const,
      right_px: 0,
      down_px,
      align: "center" as const,
      turn_rad,
      cost: COST.next * place + COST.side * side,
    })),
  );
}

export function longestLeg(flat: Flat): { leg: number; length_m: number } {
  let [best, square] = [0, 0];
  for (let at = 0; at + 3 < flat.length; at += 2) {
    const [east, north] = [(flat[at + 2] ?? 0) - (flat[at] ?? 0), (flat[at + 3] ?? 0) - (flat[at + 1] ?? 0)];
    const squared = east * east + north * north;
    if (squared > square) [best, square] = [at / 2, squared];
  }
  return { leg: best, length_m: Math.sqrt(square) };
}

function legOf(flat: Flat, leg: number): [x: number, y: number, east: number, north: number] {
  const [x0 = 0, y0 = 0, x1 = 0, y1 = 0] = Array.from({ length: 4 }, (_, i) => flat[2 * leg + i] ?? 0);
  return [x0, y0, x1 - x0, y1 - y0];
}

/** Of what lies in the way, where it is clear of the fence first; where a pixel is so many metres. */
export function obstacleChoices(
  thing: PlanObstacle,
  best: NamePlace | null,
  metres_px: number,
): NameChoice[] {
  if (thing.shape === "area" && thing.points.length) return areaChoices(thing.points, metres_px);
  if (!best) return [];
  if (thing.shape === "point" || thing.points.length < 2) return sideChoices(best, metres_px);
  const others = alongFlat(thing.points.flat());
  return [best.at, ...others].map((at, place) => ({ ...ACROSS, at, cost: COST.next * place }));
}

const ACROSS = { right_px: 0, down_px: 0, align: "center", turn_rad: 0 } as const;

/** Beside a tree: on its side of the fence where that is near. */
function sideChoices({ at, away, clear_m }: NamePlace, metres_px: number): NameChoice[] {
  const [east, north] = away && clear_m / metres_px < CLEAR_PX ? away : [0, 1];
  const isAside = Math.abs(east) > Math.abs(north);
  const best = isAside ? (east > 0 ? "right" : "left") : north > 0 ? "above" : "below";
  const sides = [best, ...(["above", "right", "left", "below"] as const).filter((side) => side !== best)];
  return (sides as (keyof typeof BESIDE_PX)[]).map((side, place) => ({
    at,
    ...BESIDE_PX[side],
    turn_rad: 0,
    cost: COST.next * place,
  }));
}

/** Inside an area, nearest to its middle first; or else above and below it. */
function areaChoices(points: readonly Point[], metres_px: number): NameChoice[] {
  const [east, north] = [points.map(([x]) => x), points.map(([, y]) => y)];
  const [left, right] = [Math.min(...east), Math.max(...east)];
  const [low, high] = [Math.min(...north), Math.max(...north)];
  const middle: Point = [(left + right) / 2, (low + high) / 2];
  const steps = Array.from({ length: IN_AREA }, (_, place) => (place + 1) / (IN_AREA + 1));
  const inside = steps
    .flatMap((across) => steps.map((up): Point => [left + across * (right - left), low + up * (high - low)]))
    .filter((at) => isInside(points, at))
    .sort((a, b) => distance(a, middle) - distance(b, middle))
    .map((at) => ({ ...ACROSS, at, cost: (COST.next * distance(at, middle)) / (OUTSIDE_PX * metres_px) }));
  const outside = [
    { at: [middle[0], high] as const, down_px: -OUTSIDE_PX },
    { at: [middle[0], low] as const, down_px: OUTSIDE_PX },
  ].map((each) => ({ ...ACROSS, ...each, cost: COST.outside }));
  return [...inside, ...outside];
}

/** Whether a point lies inside of a ring. */
function isInside(ring: readonly Point[], [x, y]: Point): boolean {
  let isIn = false;
  ring.forEach(([x1, y1], i) => {
    const [x0, y0] = ring.at(i - 1) as Point;
    if (y0 > y !== y1 > y && x < x0 + ((y - y0) / (y1 - y0)) * (x1 - x0)) isIn = !isIn;
  });
  return isIn;
}
