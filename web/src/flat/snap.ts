/** Where a drawn point is caught: a corner, a line, a right angle or the extension of the last leg. */

import { bearingDeg, distance, type Point, pointAt } from "./bearing.ts";
import { type Flat, placeOn } from "./polyline.ts";

/** A point so near a line lies on it. [m] */
const ON_LINE_M = 1e-3;

export type Caught = "point" | "line" | "right angle" | "extension" | "opposite" | "free";

export interface Snapped {
  point: Point;
  caught: Caught;
  /** Where the guides begin that caught it. */
  guides?: readonly Point[];
}

/** A straight through a point that catches the hand. */
export interface Guide {
  through: Point;
  bearing_deg: number;
  caught: Caught;
}

export interface SnapField {
  /** Points to catch: corners, gate posts, obstacles. */
  points: readonly Point[];
  /** Lines to catch, each flat. */
  lines: readonly Flat[];
  /** The corners drawn so far, oldest first; its last leg gives right angles and extensions. */
  drawn: readonly Point[];
  /** Guides that are there anyway, as beside a corner that is dragged. */
  guides?: readonly Guide[];
  /** Points from which a leg may come square on a line; left out: the last that is drawn. */
  anchors?: readonly Point[];
  /** Two points that the hand's own right angle may stand between. */
  between?: readonly [Point, Point];
}

/** The place where a hand's point is caught within a reach; points first, then guides and what they cross, then lines. */
export function snap(hand: Point, reach_m: number, field: SnapField): Snapped {
  const point = nearest(hand, reach_m, field.points);
  if (point) return { point, caught: "point" };
  const guides = [
    ...guidesOf(field.drawn),
    ...(field.drawn.length === 1 ? squareStarts(field.drawn[0], field.lines) : []),
    ...(field.guides ?? []),
  ];
  const near = guides
    .map((guide) => ({ guide, point: foot(hand, guide.through, guide.bearing_deg) }))
    .filter((each) => distance(hand, each.point) <= reach_m)
    .sort((a, b) => distance(hand, a.point) - distance(hand, b.point));
  const leg = nearestLeg(hand, reach_m, field.lines);
  return (
    onCrossing(hand, reach_m, near) ??
    (leg && squareOnLeg(hand, reach_m, leg, near, field.anchors ?? field.drawn.slice(-1))) ??
    onGuide(hand, reach_m, near, field.between) ??
    (leg ? { point: leg.point, caught: "line" } : { point: hand, caught: "free" })
  );
}

function nearest(hand: Point, reach_m: number, points: readonly Point[]): Point | null {
  let best: Point | null = null;
  let least = reach_m;
  for (const point of points) {
    const away = distance(hand, point);
    if (away <= least) {
      least = away;
      best = point;
    }
  }
  return best;
}

/** The leg of a line nearest to a hand, as a straight, and the place on it. */
interface NearLeg {
  point: Point;
  from: Point;
  to: Point;
}

function nearestLeg(hand: Point, reach_m: number, lines: readonly Flat[]): NearLeg | null {
  let best: NearLeg | null = null;
  let least = reach_m;
  for (const line of lines) {
    const place = placeOn(line, hand);
    if (!place || Math.abs(place.offset_m) > least) continue;
    least = Math.abs(place.offset_m);
    best = { point: place.point, from: cornerOf(line, place.leg), to: cornerOf(line, place.leg + 1) };
  }
  return best;
}

function cornerOf(line: Flat, corner: number): Point {
  return [line[2 * corner] ?? Number.NaN, line[2 * corner + 1] ?? Number.NaN];
}

/** A point that lies on a line: what goes on from it may stand square on the legs there. */
function squareStarts(start: Point | undefined, lines: readonly Flat[]): Guide[] {
  if (!start) return [];
  const guides: Guide[] = [];
  for (const line of lines) {
    for (let leg = 0; 2 * leg + 3 < line.length; leg += 1) {
      const [from, to] = [cornerOf(line, leg), cornerOf(line, leg + 1)];
      const place = placeOn([...from, ...to], start);
      if (!place || Math.abs(place.offset_m) > ON_LINE_M) continue;
      guides.push({ through: start, bearing_deg: bearingDeg(from, to) + 90, caught: "right angle" });
    }
  }
  return guides;
}

/** The last leg's extension and the right angle to it; in a closed figure the right angle to the first leg as well. */
function guidesOf(drawn: readonly Point[]): Guide[] {
  const last = drawn.at(-1);
  const before = drawn.at(-2);
  if (!last || !before || distance(last, before) === 0) return [];
  const along = bearingDeg(before, last);
  const guides: Guide[] = [
    { through: last, bearing_deg: along, caught: "extension" },
    { through: last, bearing_deg: along + 90, caught: "right angle" },
  ];
  const first = drawn.at(0);
  const second = drawn.at(1);
  if (drawn.length >= 3 && first && second) {
    guides.push({ through: first, bearing_deg: bearingDeg(first, second) + 90, caught: "right angle" });
  }
  return guides;
}

interface NearGuide {
  guide: Guide;
  point: Point;
}

/** Where the nearest guides cross near the hand. */
function onCrossing(hand: Point, reach_m: number, near: readonly NearGuide[]): Snapped | null {
  for (const [place, { guide }] of near.entries()) {
    for (const other of near.slice(place + 1)) {
      const crossing = crossingOf(guide, other.guide);
      if (crossing && distance(hand, crossing) <= reach_m)
        return { point: crossing, caught: "right angle", guides: [guide.through, other.guide.through] };
    }
  }
  return null;
}

/** Where a guide meets the leg that the hand is on; else where a leg from an anchor comes square on it. */
function squareOnLeg(
  hand: Point,
  reach_m: number,
  { from, to }: NearLeg,
  near: readonly NearGuide[],
  anchors: readonly Point[],
): Snapped | null {
  const bearing_deg = bearingDeg(from, to);
  const along: Guide = { through: from, bearing_deg, caught: "line" };
  const isOn = (point: Point) => distance(hand, point) <= reach_m && isWithin(point, from, to);
  for (const { guide } of near) {
    const point = crossingOf(guide, along);
    if (point && isOn(point)) return { point, caught: guide.caught, guides: [guide.through] };
  }
  for (const anchor of anchors) {
    const point = foot(anchor, from, bearing_deg);
    if (distance(anchor, point) > ON_LINE_M && isOn(point))
      return { point, caught: "right angle", guides: [anchor] };
  }
  return null;
}

function isWithin(point: Point, from: Point, to: Point): boolean {
  const length = distance(from, to);
  return distance(point, from) <= length + ON_LINE_M && distance(point, to) <= length + ON_LINE_M;
}

/** The nearest of the guides, or the place where the hand's own angle between two points is right. */
function onGuide(
  hand: Point,
  reach_m: number,
  near: readonly NearGuide[],
  between: SnapField["between"],
): Snapped | null {
  const [nearest] = near;
  const own = between && onCircle(hand, ...between);
  const away = own ? distance(hand, own) : Number.POSITIVE_INFINITY;
  if (own && between && away <= reach_m && !(nearest && distance(hand, nearest.point) <= away))
    return { point: own, caught: "right angle", guides: between };
  if (!nearest) return null;
  return { point: nearest.point, caught: nearest.guide.caught, guides: [nearest.guide.through] };
}

/** The place nearest to the hand from which two points lie at a right angle: on the circle over their chord. */
function onCircle(hand: Point, a: Point, b: Point): Point | null {
  const middle: Point = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
  const away = distance(middle, hand);
  if (away === 0) return null;
  const radius = distance(a, b) / 2 / away;
  return [middle[0] + (hand[0] - middle[0]) * radius, middle[1] + (hand[1] - middle[1]) * radius];
}

function crossingOf(a: Guide, b: Guide): Point | null {
  const [ax, ay] = pointAt([0, 0], a.bearing_deg, 1);
  const [bx, by] = pointAt([0, 0], b.bearing_deg, 1);
  const cross = ax * by - ay * bx;
  if (Math.abs(cross) < 1e-6) return null;
  const along = ((b.through[0] - a.through[0]) * by - (b.through[1] - a.through[1]) * bx) / cross;
  return [a.through[0] + along * ax, a.through[1] + along * ay];
}

function foot(hand: Point, through: Point, bearing_deg: number): Point {
  const way = pointAt([0, 0], bearing_deg, 1);
  const along = (hand[0] - through[0]) * way[0] + (hand[1] - through[1]) * way[1];
  return [through[0] + along * way[0], through[1] + along * way[1]];
}
