/** What catches a corner, an obstacle's point or a gate that a hand drags: the same as while drawing. */

import { bearingDeg, distance, type Point } from "../flat/bearing.ts";
import { type Flat, placeOn, pointAtStation } from "../flat/polyline.ts";
import { type Guide, type SnapField, type Snapped, snap } from "../flat/snap.ts";
import { flatOf, type PlanModel } from "./model.ts";

/** Corners nearer than this are one place, as the server has it. [m] */
const SAME_PLACE_M = 1e-3;

const isAt = (place: Point) => (point: Point) => distance(point, place) <= SAME_PLACE_M;

/** Lines with a corner at a place, each with the number of that corner. */
export function cornersAt(model: PlanModel, place: Point): { line: string; corner: number }[] {
  return model.lines.flatMap((line) =>
    line.points.flatMap((point, corner) => (isAt(place)(point) ? [{ line: line.name, corner }] : [])),
  );
}

/**
 * What a dragged corner may be caught by: right angles and extensions of the legs beside it, the right angle and the
 * straight of its own, points and lines of other fences. Fences that share its place go along, unless it moves alone:
 * their legs beside it give guides too, and nothing else of them catches it.
 */
export function cornerField(model: PlanModel, name: string, corner: number, isAlone = false): SnapField {
  const line = model.lines.find((each) => each.name === name);
  const place = line?.points[corner];
  if (!line || !place) return { points: [], lines: [], drawn: [] };
  const along = isAlone ? [] : cornersAt(model, place).filter((each) => each.line !== name);
  const moving = new Set([name, ...along.map((each) => each.line)]);
  const rest = { ...model, lines: model.lines.filter((each) => !moving.has(each.name)) };
  const own = guidesAt(line.points, corner, line.isClosed);
  const shared = along.flatMap((each) => {
    const other = model.lines.find(({ name }) => name === each.line);
    return other ? [guidesAt(other.points, each.corner, other.isClosed)] : [];
  });
  const all = [own, ...shared];
  return {
    ...othersOf(rest, place, moving),
    ...own,
    guides: all.flatMap((each) => each.guides ?? []),
    anchors: all.flatMap((each) => each.anchors ?? []),
  };
}

/** What a dragged point of an obstacle may be caught by: its neighbours, as a corner, and the fences. */
export function obstacleField(model: PlanModel, row: number, point: number): SnapField {
  const thing = model.obstacles[row];
  const place = thing?.points[point];
  if (!thing || !place) return { points: [], lines: [], drawn: [] };
  const others = othersOf(model, [Number.NaN, Number.NaN], new Set());
  if (thing.shape === "point") return others;
  return { ...others, ...guidesAt(thing.points, point, thing.shape === "area") };
}

/** Points and legs of fences, those at a place left out. */
function othersOf(model: PlanModel, place: Point, moving: ReadonlySet<string>): SnapField {
  const isHere = isAt(place);
  const posts = model.posts.filter((post) => post.role !== "line" && !moving.has(post.line));
  const points = [...model.lines.flatMap((line) => line.points), ...posts.map((post) => post.at)];
  const legs = model.lines.flatMap((line) => legsOf(flatOf(line)));
  return {
    points: points.filter((point) => !isHere(point)),
    lines: legs.filter(([x0, y0, x1, y1]) => !isHere([x0, y0]) && !isHere([x1, y1])),
    drawn: [],
  };
}

type Leg = [number, number, number, number];

function legsOf(flat: readonly number[]): Leg[] {
  return Array.from(
    { length: Math.max(0, flat.length / 2 - 1) },
    (_, leg) => flat.slice(2 * leg, 2 * leg + 4) as Leg,
  );
}

/** Guides at a point of a chain or ring from its neighbours, and the two that its own right angle stands between. */
function guidesAt(
  points: readonly Point[],
  place: number,
  isClosed: boolean,
): Pick<SnapField, "guides" | "anchors" | "between"> {
  const at = (step: number): Point | undefined => {
    const index = place + step;
    if (!isClosed || points.length < 3) return points[index];
    const wrapped = points[(index + points.length) % points.length];
    return wrapped === points[place] ? undefined : wrapped;
  };
  const guides: Guide[] = [];
  for (const way of [-1, 1]) {
    const [near, far] = [at(way), at(2 * way)];
    if (!near || !far) continue;
    const along = bearingDeg(far, near);
    guides.push(
      { through: near, bearing_deg: along + 90, caught: "right angle" },
      { through: near, bearing_deg: along, caught: "extension" },
    );
  }
  const [before, after] = [at(-1), at(1)];
  const isBetween = before && after && before !== after;
  if (isBetween)
    guides.push({ through: before, bearing_deg: bearingDeg(before, after), caught: "extension" });
  const anchors = [before, after].filter((point) => point !== undefined);
  return { guides, anchors, ...(isBetween ? { between: [before, after] as const } : {}) };
}

/** Stations of a line that catch a gate on it: straight across from other fences' corners and gate posts. [m] */
export function gateStations(model: PlanModel, name: string): number[] {
  const line = model.lines.find((each) => each.name === name);
  if (!line) return [];
  const flat = flatOf(line);
  const corners = model.lines.filter((each) => each !== line).flatMap((each) => each.points);
  const gates = model.gates.filter((gate) => gate.line !== name).flatMap((gate) => [gate.hinge, gate.latch]);
  return [...corners, ...gates].flatMap((point) => {
    const place = placeOn(flat, point);
    return place ? [place.station_m] : [];
  });
}

/** A gate's station caught by the nearest of some within reach; and its place on the line. */
export function caughtStation(
  flat: Flat,
  station_m: number,
  reach_m: number,
  stations: readonly number[],
): { station_m: number; at: Snapped } {
  const away = (each: number) => Math.abs(each - station_m);
  const [best] = stations.filter((each) => away(each) <= reach_m).sort((a, b) => away(a) - away(b));
  const held = best ?? station_m;
  const point = pointAtStation(flat, held);
  return { station_m: held, at: { point, caught: best === undefined ? "free" : "opposite" } };
}

/** Where a dragged point goes: caught within a reach, or free where the reach is 0. */
export function caughtPoint(hand: Point, reach_m: number, field: SnapField): Snapped {
  return reach_m > 0 ? snap(hand, reach_m, field) : { point: hand, caught: "free" };
}
