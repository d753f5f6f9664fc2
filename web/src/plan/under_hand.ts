/** What lies under a hand on the plan: all of it, in the order in which a press takes it. */

import type { FeatureLike } from "ol/Feature.js";
import type OlMap from "ol/Map.js";
import type MapBrowserEvent from "ol/MapBrowserEvent.js";
import type { Point } from "../flat/bearing.ts";
import { type Held, isSame, linesUnder } from "./hands.ts";
import { FENCE_Z } from "./map.ts";
import type { PlanModel } from "./model.ts";

/** How near a hand must come to be caught, and to what it presses. [pixels] */
const REACH_PX = { mouse: 14, touch: 26 };
const HIT_PX = { mouse: 5, touch: 14 };
/** So many of one kind are told at most. */
const MOST = 3;

/** A line lies before an area or a line in the way that it crosses, and after what is small. */
const RANKS: Record<string, number> = { corner: 1, gate: 2, post: 3, place: 4, line: 5, obstacle: 6 };
const FAR_LINE = 7;

export function isFinger(event: MapBrowserEvent): boolean {
  return (event.originalEvent as PointerEvent).pointerType === "touch";
}

/** How near a hand must come to be caught. [m] */
export function reachOf(map: OlMap, event: MapBrowserEvent): number {
  const pixels = isFinger(event) ? REACH_PX.touch : REACH_PX.mouse;
  return pixels * (map.getView().getResolution() ?? 1);
}

interface Ranked {
  held: Held;
  rank: number;
  away: number;
}

/** Everything under a hand: corners, gates and posts, the lines with the station pressed, what is in the way. */
export function thingsUnder(map: OlMap, event: MapBrowserEvent, model: PlanModel): Held[] {
  const hand = event.coordinate as unknown as Point;
  const metres_a_pixel = map.getView().getResolution() ?? 1;
  const hit_px = isFinger(event) ? HIT_PX.touch : HIT_PX.mouse;
  const found: Ranked[] = [];
  map.forEachFeatureAtPixel(
    event.pixel,
    (mark) => {
      const held = heldOf(mark);
      if (held) found.push({ held, rank: rankOf(mark), away: awayOf(mark, hand) });
      return false;
    },
    { hitTolerance: hit_px, layerFilter: (layer) => FENCE_Z.includes(layer.getZIndex() ?? 0) },
  );
  for (const { line, station_m, away_m } of linesUnder(model, hand, reachOf(map, event))) {
    const held: Held = { kind: "line", id: line, station_m, at: hand };
    const isHit = away_m <= hit_px * metres_a_pixel;
    found.push({ held, rank: isHit ? (RANKS.line ?? 0) : FAR_LINE, away: away_m });
  }
  found.sort((a, b) => a.rank - b.rank || a.away - b.away);
  const told = new Map<string, number>();
  const things: Held[] = [];
  for (const { held } of found) {
    const count = told.get(held.kind) ?? 0;
    const most = held.kind === "post" || held.kind === "gate" ? 1 : MOST;
    if (count >= most || things.some((each) => isSame(each, held))) continue;
    told.set(held.kind, count + 1);
    things.push(held);
  }
  return things;
}

function rankOf(mark: FeatureLike): number {
  const kind = String(mark.get("kind"));
  const isPlace = kind === "obstacle" && mark.getGeometry()?.getType() === "Point";
  return RANKS[isPlace ? "place" : kind] ?? FAR_LINE;
}

function awayOf(mark: FeatureLike, hand: Point): number {
  const geometry = mark.getGeometry();
  const near = geometry && "getClosestPoint" in geometry ? geometry.getClosestPoint([...hand]) : [];
  return Math.hypot((near[0] ?? 0) - hand[0], (near[1] ?? 0) - hand[1]);
}

/** The thing that a mark stands for; null where it stands for none that can be chosen. */
function heldOf(mark: FeatureLike): Held | null {
  const kind = String(mark.get("kind"));
  const id = String(mark.get("id"));
  if (kind === "corner")
    return { kind, id, line: String(mark.get("line")), corner: Number(mark.get("corner")) };
  if (kind === "obstacle" || kind === "obstacle-point") {
    const point = kind === "obstacle" ? {} : { point: Number(mark.get("point")) };
    return { kind: "obstacle", id, row: Number(mark.get("row")), ...point };
  }
  return kind === "post" || kind === "gate" ? { kind, id } : null;
}

/** The point of a chosen obstacle under a hand; null where there is none. */
export function handleUnder(map: OlMap, event: MapBrowserEvent): Held | null {
  let held: Held | null = null;
  let least = Number.POSITIVE_INFINITY;
  const hand = event.coordinate as unknown as Point;
  map.forEachFeatureAtPixel(
    event.pixel,
    (mark) => {
      const away = awayOf(mark, hand);
      if (mark.get("kind") !== "obstacle-point" || away >= least) return false;
      held = heldOf(mark);
      least = away;
      return false;
    },
    {
      hitTolerance: isFinger(event) ? HIT_PX.touch : HIT_PX.mouse,
      layerFilter: (layer) => layer.getZIndex() === FENCE_Z[0],
    },
  );
  return held;
}
