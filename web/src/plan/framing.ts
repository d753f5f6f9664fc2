/** Which part of the job the plan shows: all of it once, a place that is asked for, what a hand was at. */

import type OlMap from "ol/Map.js";
import type { Point } from "../flat/bearing.ts";
import { EMPTY_PLAN, extentOf, type PlanModel } from "./model.ts";

/** Room about all of the job, for names and the tools' glass: above, right, below, left. [pixels] */
const ROOM_PX: Padding = [48, 40, 106, 40];
/** Between the fence and what it keeps clear of. [pixels] */
const GAP_PX = 12;

type Padding = [number, number, number, number];

/** A size on the screen. [pixels] */
export interface Box {
  width: number;
  height: number;
}

/** Room about an extent that keeps it clear of what lies in the view's upper left corner: below or beside that, where it is shown larger. */
export function roomBeside(extent: readonly number[], view: Box, corner: Box | null): Padding {
  if (!corner) return ROOM_PX;
  const [left = 0, low = 0, right = 0, high = 0] = extent;
  const [above, beyond, below, before] = ROOM_PX;
  const scale = ([top, end, bottom, start]: Padding): number =>
    Math.min(
      (view.width - start - end) / Math.max(right - left, 1),
      (view.height - top - bottom) / Math.max(high - low, 1),
    );
  const under: Padding = [Math.max(above, corner.height + GAP_PX), beyond, below, before];
  const beside: Padding = [above, beyond, below, Math.max(before, corner.width + GAP_PX)];
  return scale(under) >= scale(beside) ? under : beside;
}

/** Metres a pixel at which a place is shown: its posts have their names. */
const PLACE_M = 0.2;

export class Framing {
  /** A line was drawn here: the view stays where the hand is. */
  hasDrawn = false;
  private fitted = "";
  private framed: readonly number[] = [];

  constructor(
    private readonly map: OlMap,
    private readonly model: () => PlanModel,
    /** Bounds of the backgrounds; null where there are none. */
    private readonly behind: () => readonly number[] | null,
  ) {
    map.on("change:size", (event) => this.keepUnderHand((event.oldValue ?? []) as number[]));
  }

  /**
   * Show all of the job once, with room below for a form that opens there and clear of what lies in the upper left
   * `corner`; `name` says which job, so that an edit does not move the view.
   */
  fit(name: string, again = false, corner: Box | null = null): void {
    if (this.fitted === name && !again) return;
    const behind = this.behind();
    const extent = extentOf(this.model()) ?? behind;
    if (!extent) return;
    this.fitted = name;
    this.map.updateSize();
    // a line drawn over a background leaves the view where the hand is
    if (!again && this.hasDrawn && behind && contains(this.map.getView().calculateExtent(), extent)) return;
    const [width = 0, height = 0] = this.map.getSize() ?? [];
    const padding = roomBeside(extent, { width, height }, corner);
    this.map.getView().fit([...extent], { padding, minResolution: 0.02 });
  }

  /** Show all of these points, where some lie out of sight. */
  holdPoints(points: readonly Point[]): void {
    const extent = extentOf({ ...EMPTY_PLAN, lines: [{ name: "", points, isClosed: false }] });
    const view = this.map.getView();
    const size = this.map.getSize();
    if (extent && size && !contains(view.calculateExtent(size), extent))
      view.fit(extent, { padding: [60, 60, 60, 60] });
  }

  /** Bring a place to the middle, near enough to read what stands there. */
  showPlace(point: Point): void {
    const view = this.map.getView();
    view.setCenter([...point]);
    if ((view.getResolution() ?? 0) > PLACE_M) view.setResolution(PLACE_M);
  }

  /** A form that opens below takes height from the plan: what was under the hand stays under it. */
  private keepUnderHand(was: readonly number[]): void {
    const [width = 0, height = 0] = this.map.getSize() ?? [];
    const view = this.map.getView();
    const center = view.getCenter();
    if (!center || width === 0 || height === 0) return;
    // a plan that another panel hides has no size for a while: what it had before counts
    const [wide = 0, high = 0] = was[0] && was[1] ? was : this.framed;
    this.framed = [width, height];
    if (wide !== width || high === height) return;
    const up_m = ((high - height) / 2) * (view.getResolution() ?? 0);
    view.setCenter([center[0] ?? 0, (center[1] ?? 0) + up_m]);
  }
}

function contains(outer: readonly number[], inner: readonly number[]): boolean {
  const [left, low, right, high] = outer;
  const [a, b, c, d] = inner;
  return (
    [left, low, right, high, a, b, c, d].every((each) => each !== undefined) &&
    (a as number) >= (left as number) &&
    (b as number) >= (low as number) &&
    (c as number) <= (right as number) &&
    (d as number) <= (high as number)
  );
}
