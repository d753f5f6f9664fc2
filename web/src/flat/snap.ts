/** Where a drawn point is caught: a corner, a line, a right angle or the extension of the last leg. */

import { bearingDeg, distance, type Point, pointAt } from "./bearing.ts";
import { type Flat, placeOn } from "./polyline.ts";

export type Caught = "point" | "line" | "right angle" | "extension" | "free";

export interface Snapped {
  point: Point;
  caught: Caught;
}

export interface SnapField {
  /** Points to catch: corners, gate posts, obstacles. */
  points: readonly Point[];
  /** Lines to catch, each flat. */
  lines: readonly Flat[];
  /** The corners drawn so far, oldest first; its last leg gives right angles and extensions. */
  drawn: readonly Point[];
}

/** The place where a hand's point is caught within a reach; points first, then guides, then lines. */
export function snap(hand: Point, reach_m: number, field: SnapField): Snapped {
  const point = nearest(hand, reach_m, field.points);
  if (point) return { point, caught: "point" };
  const guided = onGuide(hand, reach_m, field.drawn);
  if (guided) return guided;
  const beside = nearestOnLines(hand, reach_m, field.lines);
  return beside ? { point: beside, caught: "line" } : { point: hand, caught: "free" };
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

function nearestOnLines(hand: Point, reach_m: number, lines: readonly Flat[]): Point | null {
  const places = lines.map((line) => placeOn(line, hand)?.point).filter((place) => place !== undefined);
  return nearest(hand, reach_m, places);
}

interface Guide {
  through: Point;
  bearing_deg: number;
  caught: Caught;
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

/** Where two guides cross near the hand; else the foot of the hand on the nearest guide within reach. */
function onGuide(hand: Point, reach_m: number, drawn: readonly Point[]): Snapped | null {
  const near = guidesOf(drawn)
    .map((guide) => ({ guide, point: foot(hand, guide.through, guide.bearing_deg) }))
    .filter((each) => distance(hand, each.point) <= reach_m)
    .sort((a, b) => distance(hand, a.point) - distance(hand, b.point));
  const [nearest, second] = near;
  if (!nearest) return null;
  const crossing = second && crossingOf(nearest.guide, second.guide);
  if (crossing && distance(hand, crossing) <= reach_m) return { point: crossing, caught: "right angle" };
  return { point: nearest.point, caught: nearest.guide.caught };
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
