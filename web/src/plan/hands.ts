/** What a hand does on the plan: choose and move, draw, measure. A tool gets places in metres and tells what is wanted. */

import { bearingDeg, distance, type Point, turnDeg } from "../flat/bearing.ts";
import { placeOn } from "../flat/polyline.ts";
import { type SnapField, type Snapped, snap } from "../flat/snap.ts";
import { flatOf, type PlanModel } from "./model.ts";

export type Tool = "choose" | "box" | "draw" | "obstacle" | "measure";

/** A thing under the hand. */
export interface Held {
  kind: "corner" | "gate" | "post" | "line" | "obstacle" | "mark";
  id: string;
  line?: string;
  corner?: number;
  /** Table of the job file of a mark on a line, and its row there; the row alone of an obstacle. */
  table?: string;
  row?: number;
  /** Number of an obstacle's point, where a hand holds that alone. */
  point?: number;
  /** Where on a line it was pressed: station, and the place. [m] */
  station_m?: number;
  at?: Point;
  /** All that lay under the press, this too, nearest to the hand first. */
  here?: readonly Held[];
}

/** Whether two words of a thing mean the same one. */
export function isSame(a: Held | null | undefined, b: Held | null | undefined): boolean {
  if (!a || !b) return a === b;
  return a.kind === b.kind && a.id === b.id && a.table === b.table && a.row === b.row;
}

/** What a press takes of the things under it: the first, or at the same place again the one after what it took before. */
export function takenOf(things: readonly Held[], before: Held | null): Held | null {
  const place = before ? things.findIndex((thing) => isSame(thing, before)) : -1;
  return things[(place + 1) % Math.max(1, things.length)] ?? null;
}

export interface Moved {
  held: Held;
  to: Point;
  /** A corner leaves the others at its place behind. */
  isAlone?: boolean;
  /** Station along the held thing's line, for a gate. [m] */
  station_m?: number;
}

/** What has been drawn and what the hand would add. */
export interface Sketch {
  points: readonly Point[];
  next: Snapped | null;
  isClosing: boolean;
}

export const EMPTY_SKETCH: Sketch = { points: [], next: null, isClosing: false };

/** Everything that a drawn point may be caught by. */
export function fieldOf(model: PlanModel, drawn: readonly Point[]): SnapField {
  return {
    points: [
      ...model.lines.flatMap((line) => line.points),
      ...model.posts.filter((post) => post.role !== "line").map((post) => post.at),
    ],
    lines: model.lines.map(flatOf),
    drawn,
  };
}

/** The sketch with the hand at a place: caught where it may be, closing where it comes back to its first point. */
export function hovering(sketch: Sketch, hand: Point, reach_m: number, model: PlanModel): Sketch {
  if (reach_m <= 0) return { ...sketch, next: { point: hand, caught: "free" }, isClosing: false };
  const first = sketch.points[0];
  if (first && sketch.points.length > 2 && distance(hand, first) <= reach_m) {
    return { ...sketch, next: { point: first, caught: "point" }, isClosing: true };
  }
  return { ...sketch, next: snap(hand, reach_m, fieldOf(model, sketch.points)), isClosing: false };
}

/** The sketch with one more point; a point on the last one is left out. */
export function withPoint(sketch: Sketch, point: Point): Sketch {
  const last = sketch.points.at(-1);
  if (last && distance(last, point) < 1e-3) return sketch;
  return { points: [...sketch.points, point], next: null, isClosing: false };
}

/** Length, bearing and turn of the leg that the hand would add. */
export function legOf(sketch: Sketch): { length_m: number; bearing_deg: number; turn_deg: number } | null {
  const last = sketch.points.at(-1);
  const next = sketch.next?.point;
  if (!last || !next || distance(last, next) === 0) return null;
  const before = sketch.points.at(-2);
  const bearing_deg = bearingDeg(last, next);
  const turn_deg = before ? turnDeg(bearingDeg(before, last), bearing_deg) : Number.NaN;
  return { length_m: distance(last, next), bearing_deg, turn_deg };
}

/** Where a gate goes that a hand drags: the station on its line nearest to the hand. */
export function stationOnLine(model: PlanModel, name: string, hand: Point): number | null {
  const line = model.lines.find((each) => each.name === name);
  const place = line && placeOn(flatOf(line), hand);
  return place ? place.station_m : null;
}

/** Ids of the posts in the box between two of its opposite corners. */
export function postsInBox(model: PlanModel, from: Point, to: Point): string[] {
  const [left, right] = [Math.min(from[0], to[0]), Math.max(from[0], to[0])];
  const [low, high] = [Math.min(from[1], to[1]), Math.max(from[1], to[1])];
  return model.posts
    .filter(({ at }) => at[0] >= left && at[0] <= right && at[1] >= low && at[1] <= high)
    .map((post) => post.id);
}

/** The lines within reach of a hand, nearest first, each with the station on it and how far off it lies. [m] */
export function linesUnder(
  model: PlanModel,
  hand: Point,
  reach_m: number,
): { line: string; station_m: number; away_m: number }[] {
  return model.lines
    .flatMap((line) => {
      const place = placeOn(flatOf(line), hand);
      const away_m = Math.abs(place?.offset_m ?? Number.POSITIVE_INFINITY);
      return place && away_m <= reach_m ? [{ line: line.name, station_m: place.station_m, away_m }] : [];
    })
    .sort((a, b) => a.away_m - b.away_m);
}
