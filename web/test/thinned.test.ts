/** A line with fewer points lies where the line of all its points lay. */

import { expect, test } from "vitest";
import { ThinnedLine } from "../src/flat/thinned.ts";

const TOLERANCE = 0.2;

function thinned(points: readonly number[]): number[] {
  const line = new ThinnedLine(TOLERANCE);
  for (let at = 0; at < points.length; at += 2) line.add(points[at] as number, points[at + 1] as number);
  return line.take();
}

const line = (count: number, step: number, height: (x: number) => number): number[] =>
  Array.from({ length: count }, (_, place) => [step * place, height(step * place)]).flat();

/** How far above or below a line its points lie, at most. */
function farthest(points: readonly number[], kept: readonly number[]): number {
  let [most, leg] = [0, 0];
  for (let at = 0; at < points.length; at += 2) {
    const [x, y] = [points[at] as number, points[at + 1] as number];
    while (leg + 4 < kept.length && (kept[leg + 2] as number) < x) leg += 2;
    const [x0, y0, x1, y1] = kept.slice(leg, leg + 4) as [number, number, number, number];
    most = Math.max(most, Math.abs(y0 + ((y1 - y0) * (x - x0)) / (x1 - x0) - y));
  }
  return most;
}

test("a straight line needs its ends alone", () => {
  const points = line(1000, 0.1, (x) => 3 - 2 * x);
  expect(thinned(points)).toEqual([...points.slice(0, 2), ...points.slice(-2)]);
});

test("a wave of many points is the same wave with few", () => {
  const points = line(5000, 0.15, (x) => 60 * Math.sin(x / 40));
  const kept = thinned(points);
  expect(kept.length).toBeLessThan(points.length / 10);
  expect(farthest(points, kept)).toBeLessThan(2 * TOLERANCE);
});

test("a single post that stands out is kept, also where two stand at one place", () => {
  const points = [0, 0, 1, 0, 2, 0, 2, 30, 2, 0, 3, 0, 4, 0];
  const kept = thinned(points);
  expect(kept).toEqual([0, 0, 2, 0, 2, 30, 2, 0, 4, 0]);
});

test("points that differ by less than can be seen are one line; nothing and one point stay what they are", () => {
  const points = line(200, 0.5, (x) => (x % 1 ? 0.05 : -0.05));
  expect(thinned(points)).toHaveLength(4);
  expect(thinned([])).toEqual([]);
  expect(thinned([1, 2])).toEqual([1, 2]);
});
