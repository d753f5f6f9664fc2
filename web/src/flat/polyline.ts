/** A line as flat coordinates [x0, y0, x1, y1, ...] in metres: stations, places, nearest points, offsets. */

import type { Point } from "./bearing.ts";

export type Flat = ArrayLike<number>;

export interface OnLine {
  /** Distance along the line. [m] */
  station_m: number;
  /** Left of the line is positive. [m] */
  offset_m: number;
  /** The nearest point of the line. */
  point: Point;
  /** Which leg it lies on, the first is 0. */
  leg: number;
}

function at(flat: Flat, index: number): Point {
  return [flat[2 * index] ?? Number.NaN, flat[2 * index + 1] ?? Number.NaN];
}

/** How many corners a flat line has. */
export function corners(flat: Flat): number {
  return Math.floor(flat.length / 2);
}

/** Station of each corner, the first is 0. [m] */
export function stations(flat: Flat): Float64Array {
  const count = corners(flat);
  const along = new Float64Array(count);
  for (let i = 1; i < count; i++) {
    const [x0, y0] = at(flat, i - 1);
    const [x1, y1] = at(flat, i);
    along[i] = (along[i - 1] ?? 0) + Math.hypot(x1 - x0, y1 - y0);
  }
  return along;
}

/** The point of a line at a station, held to its two ends. */
export function pointAtStation(flat: Flat, station_m: number): Point {
  const along = stations(flat);
  const last = along.length - 1;
  if (last < 1 || station_m <= 0) return at(flat, 0);
  for (let i = 1; i <= last; i++) {
    const end = along[i] ?? 0;
    const start = along[i - 1] ?? 0;
    if (station_m <= end && end > start) {
      const share = (station_m - start) / (end - start);
      const [x0, y0] = at(flat, i - 1);
      const [x1, y1] = at(flat, i);
      return [x0 + share * (x1 - x0), y0 + share * (y1 - y0)];
    }
  }
  return at(flat, last);
}

/** Where a point lies beside a line: the nearest place on it and how far left. */
export function placeOn(flat: Flat, point: Point): OnLine | null {
  const along = stations(flat);
  let best: OnLine | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (let i = 1; i < along.length; i++) {
    const [x0, y0] = at(flat, i - 1);
    const [x1, y1] = at(flat, i);
    const dx = x1 - x0;
    const dy = y1 - y0;
    const square = dx * dx + dy * dy;
    if (square === 0) continue;
    const share = Math.min(1, Math.max(0, ((point[0] - x0) * dx + (point[1] - y0) * dy) / square));
    const near: Point = [x0 + share * dx, y0 + share * dy];
    const away = Math.hypot(point[0] - near[0], point[1] - near[1]);
    if (away < least) {
      least = away;
      const side = dx * (point[1] - y0) - dy * (point[0] - x0);
      const station_m = (along[i - 1] ?? 0) + share * Math.sqrt(square);
      best = { station_m, offset_m: side < 0 ? -away : away, point: near, leg: i - 1 };
    }
  }
  return best;
}

/** A line moved to its left by a distance, its corners mitred; a negative distance goes right. */
export function offsetLine(flat: Flat, left_m: number): Float64Array {
  const count = corners(flat);
  const moved = new Float64Array(2 * count);
  for (let i = 0; i < count; i++) {
    const before = i > 0 ? normal(at(flat, i - 1), at(flat, i)) : null;
    const after = i < count - 1 ? normal(at(flat, i), at(flat, i + 1)) : null;
    const [x, y] = at(flat, i);
    const [nx, ny] = mitre(before ?? after, after ?? before);
    moved[2 * i] = x + left_m * nx;
    moved[2 * i + 1] = y + left_m * ny;
  }
  return moved;
}

/** The unit normal to the left of a leg; null where it has no length. */
function normal(from: Point, to: Point): Point | null {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  return length === 0 ? null : [-(to[1] - from[1]) / length, (to[0] - from[0]) / length];
}

function mitre(before: Point | null, after: Point | null): Point {
  if (!before || !after) return before ?? after ?? [0, 0];
  const [x, y] = [before[0] + after[0], before[1] + after[1]];
  const square = x * x + y * y;
  // A line that folds back on itself has no mitre: its corner moves with the leg before it.
  return square < 1e-12 ? before : [(2 * x) / square, (2 * y) / square];
}

/** Number of the corner after which a station lies, on corners not closed by their first; the last leg past the end. */
export function legAt(corners: readonly Point[], station_m: number): number {
  let along = 0;
  for (let leg = 0; leg + 1 < corners.length; leg += 1) {
    const [from, to] = [corners[leg], corners[leg + 1]];
    if (!from || !to) break;
    along += Math.hypot(to[0] - from[0], to[1] - from[1]);
    if (station_m < along) return leg;
  }
  return corners.length - 1;
}
