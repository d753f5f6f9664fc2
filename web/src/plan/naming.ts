/** Where the names of what lies in the way stand: clear of the fence, which is drawn over them. */

import type Feature from "ol/Feature.js";
import OlPoint from "ol/geom/Point.js";
import type VectorSource from "ol/source/Vector.js";
import { distance, type Point } from "../flat/bearing.ts";
import { type Flat, placeOn, pointAtStation, stations } from "../flat/polyline.ts";
import { flatOf, type PlanModel, type PlanObstacle } from "./model.ts";

/** Places along a line that are looked at. */
const TRIED = 19;
/** A place must be so much clearer to be taken before one nearer to the middle. */
const CLEARER = 1.1;
/** A name is so many times as wide as it is high: a fence beside it must be so much farther than one above it. */
const WIDE = 8;
/** Where along its leg the name of a line may stand, the first the best where all are clear by this part of the leg. */
const NAMED_AT = [0.3, 0.7, 0.5, 0.85, 0.15];
const CLEAR_OF_LEG = 0.15;
const ON_FENCE_M = 0.01;

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
  const length_m = stations(flat).at(-1) ?? 0;
  const narrowed = fences.map((fence) => Float64Array.from(fence, (one, i) => (i % 2 ? one : one / WIDE)));
  const places = Array.from({ length: TRIED }, (_, place) => {
    const steps = Math.ceil(place / 2) * (place % 2 ? 1 : -1); // from the middle out
    const [x, y] = pointAtStation(flat, length_m * (0.5 + steps / (TRIED + 1)));
    return { ...beside([x / WIDE, y], narrowed), at: [x, y] as const };
  });
  return places.reduce((best, each) => (each.clear_m > CLEARER * best.clear_m ? each : best));
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

/** Of a line beside a leg: aside of the middle, where most else is pressed, unless something lies in the way there. */
export function lineNamePlace(start: Point, [east, north]: Point, things: readonly Flat[]): Point {
  const enough_m = CLEAR_OF_LEG * Math.hypot(east, north);
  let best = { at: start, clear_m: -1 };
  for (const share of NAMED_AT) {
    const at: Point = [start[0] + share * east, start[1] + share * north];
    const clear_m = Math.min(...things.map((thing) => clearOf(thing, at)), enough_m);
    if (clear_m > best.clear_m) best = { at, clear_m };
  }
  return best.at;
}

function clearOf(thing: Flat, at: Point): number {
  const near = placeOn(thing, at);
  return near ? Math.abs(near.offset_m) : distance([thing[0] ?? 0, thing[1] ?? 0], at);
}

/** Set the names of all that lies in the way where they are clear of a model's lines. */
export function placeNames(source: VectorSource<Feature>, model: PlanModel): void {
  const fences = model.lines.map(flatOf);
  for (const mark of source.getFeatures()) {
    const thing = mark.get("kind") === "obstacle" ? model.obstacles[mark.get("row")] : undefined;
    const place = thing && namePlace(thing, fences);
    if (!place) continue;
    const before = mark.get("named") as NamePlace | undefined;
    if (before && distance(before.at, place.at) === 0 && before.clear_m === place.clear_m) continue;
    mark.set("name_at", new OlPoint([...place.at]), true);
    mark.set("named", place);
  }
}
