/** What is being drawn on the plan: its points so far, the one that the hand would add, and how both look. */

import Feature from "ol/Feature.js";
import LineString from "ol/geom/LineString.js";
import OlPoint from "ol/geom/Point.js";
import { distance, type Point, pointAt } from "../flat/bearing.ts";
import type { Snapped } from "../flat/snap.ts";
import { type Key, say } from "../texts/say.ts";
import { type System, showLong } from "../units/show.ts";
import { EMPTY_SKETCH, hovering, legOf, type Sketch, type Tool, withPoint } from "./hands.ts";
import type { PlanSources } from "./map.ts";
import { replace } from "./map.ts";
import type { PlanModel } from "./model.ts";

/** The plan as the sketch sees it. */
export interface SketchBoard {
  readonly model: PlanModel;
  readonly tool: Tool;
  readonly system: System;
  readonly sources: PlanSources;
  tell(name: string, detail: unknown): void;
}

export class Sketching {
  sketch: Sketch = EMPTY_SKETCH;

  constructor(private readonly board: SketchBoard) {}

  /** The hand is at a place: caught within a reach of 0 by nothing. */
  hover(hand: Point, reach_m: number): void {
    this.sketch = hovering(this.sketch, hand, reach_m, this.board.model);
    this.draw();
  }

  /** Add a point to what is drawn. */
  add(point: Point): void {
    this.sketch = withPoint(this.sketch, point);
    this.draw();
  }

  /** Add a leg by its length and bearing, from the last point, or from 0, 0 where there is none. */
  addLeg(length_m: number, bearing_deg: number): void {
    if (this.sketch.points.length === 0) this.add([0, 0]);
    const last = this.sketch.points.at(-1);
    if (last) this.add(pointAt(last, bearing_deg, length_m));
  }

  /** Take the last point back. */
  back(): void {
    this.sketch = { ...EMPTY_SKETCH, points: this.sketch.points.slice(0, -1) };
    this.draw();
  }

  /** Have points in the hand again: what was drawn with them was refused. */
  takeUp(points: readonly Point[]): void {
    this.sketch = { ...EMPTY_SKETCH, points: [...points] };
    this.draw();
  }

  drop(): void {
    this.sketch = EMPTY_SKETCH;
    this.draw();
  }

  private draw(): void {
    const { points, next } = this.sketch;
    const { tool, sources, system } = this.board;
    const marks: Feature[] = points.map((point) => new Feature(new OlPoint([...point])));
    const all = next ? [...points, next.point] : [...points];
    const leg = legOf(this.sketch);
    if (all.length > 1) marks.push(stroke(all, tool === "measure"));
    if (next) {
      const along = leg ? `${showLong(leg.length_m, system)}  ${leg.bearing_deg.toFixed(1)}°` : "";
      marks.push(...handMarks(next, along));
    }
    replace(sources.sketched, marks);
    this.board.tell("sketched", { points: points.length, leg, total_m: lengthOf(all) });
  }
}

/** The place of a hand with what is said of it, and the guides that caught it. */
export function handMarks(at: Snapped, along: string): Feature[] {
  const hand = new Feature(new OlPoint([...at.point]));
  const caught = at.caught === "free" ? "" : say(`caught_${at.caught.replace(" ", "_")}` as Key);
  hand.set("said", [along, caught].filter(Boolean).join(" · "));
  return [...(at.guides ?? []).map((from) => stroke([from, at.point], true)), hand];
}

/** A line of what is drawn; a guide is dashed. */
export function stroke(points: readonly Point[], isGuide: boolean): Feature {
  const mark = new Feature(new LineString(points.map((point) => [...point])));
  mark.set("guide", isGuide);
  return mark;
}

/** The length of a chain of points. [m] */
function lengthOf(points: readonly Point[]): number {
  return points.reduce((sum, point, i) => sum + (i ? distance(points[i - 1] ?? point, point) : 0), 0);
}
