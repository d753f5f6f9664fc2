/** What the plan draws, in metres of the job's plane, east and north. */

import type { Point } from "../flat/bearing.ts";

export interface PlanLine {
  name: string;
  /** Corners as drawn; the first is not repeated where the line is closed. */
  points: readonly Point[];
  isClosed: boolean;
}

export interface PlanPost {
  id: string;
  role: string;
  at: Point;
  line: string;
  station_m: number;
  /** Greatest demand over capacity; null while it is being computed. */
  utilisation: number | null;
}

export interface PlanBrace {
  id: string;
  from: Point;
  to: Point;
}

export interface PlanGate {
  name: string;
  line: string;
  station_m: number;
  hinge: Point;
  latch: Point;
  /** Way in which the leaf opens as seen from above: 1 counterclockwise, -1 clockwise. */
  opens: 1 | -1;
  leaf_m: number;
}

export interface PlanObstacle {
  name: string;
  kind: string;
  shape: "point" | "line" | "area";
  points: readonly Point[];
  /** Colour of the public-works code, or none. */
  colour: string;
  letter: string;
  reach_m: number;
}

export interface PlanModel {
  lines: readonly PlanLine[];
  posts: readonly PlanPost[];
  braces: readonly PlanBrace[];
  gates: readonly PlanGate[];
  obstacles: readonly PlanObstacle[];
  /** Where posts stood before the last edit that stand there no more. */
  were: readonly Point[];
}

export const EMPTY_PLAN: PlanModel = { lines: [], posts: [], braces: [], gates: [], obstacles: [], were: [] };

/** The corners of a line as one flat list, closed by its first corner where it is closed. */
export function flatOf(line: PlanLine): number[] {
  const flat = line.points.flatMap((point) => [point[0], point[1]]);
  const first = line.points[0];
  return line.isClosed && first ? [...flat, first[0], first[1]] : flat;
}

/** Lowest and highest east and north of all that is there; null where there is nothing. */
export function extentOf(model: PlanModel): [number, number, number, number] | null {
  let [west, south, east, north] = [Infinity, Infinity, -Infinity, -Infinity];
  const take = ([x, y]: Point) => {
    if (x < west) west = x;
    if (y < south) south = y;
    if (x > east) east = x;
    if (y > north) north = y;
  };
  for (const { points } of model.lines) points.forEach(take);
  for (const { at } of model.posts) take(at);
  for (const { points } of model.obstacles) points.forEach(take);
  return west <= east ? [west, south, east, north] : null;
}

/** How far posts stand from one to the next along their lines, on the whole; 0 where there are none. [m] */
export function usualBay(model: PlanModel): number {
  let [sum_m, count] = [0, 0];
  let last: PlanPost | null = null;
  const ends = new Map<string, number>();
  for (const post of model.posts) {
    // as a rule a line's posts stand one after another: its end is looked up only where another line comes between
    if (last && last.line !== post.line) ends.set(last.line, last.station_m);
    const before_m = last?.line === post.line ? last.station_m : ends.get(post.line);
    last = post;
    if (before_m === undefined || post.station_m <= before_m) continue;
    sum_m += post.station_m - before_m;
    count += 1;
  }
  return count ? sum_m / count : 0;
}
