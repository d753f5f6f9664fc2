/** A line through many points on a canvas, with no more of them than can be seen. */

import { ThinnedLine } from "../flat/thinned.ts";

/** A point may be left out where the line passes it so near. [pixels] */
const UNSEEN_PX = 0.2;
/** Points of one stroke: a canvas draws several short ones in half the time of a long one. */
const STROKE_POINTS = 50;

type Path = Pick<CanvasRenderingContext2D, "moveTo" | "lineTo">;
type Strokes = Path & Pick<CanvasRenderingContext2D, "beginPath" | "stroke" | "lineJoin">;

/** Points gathered one after the other, from left to right; drawing them begins anew. */
export class Trace {
  private readonly line = new ThinnedLine(UNSEEN_PX);

  to(x: number, y: number): void {
    this.line.add(x, y);
  }

  /** The points that are seen, as x and y of each in turn. */
  taken(): number[] {
    return this.line.take();
  }
}

/** Add a line to a path. */
export function addLine(path: Path, flat: readonly number[], from = 0, end = flat.length): void {
  for (let at = from; at < end; at += 2) {
    if (at === from) path.moveTo(flat[at] as number, flat[at + 1] as number);
    else path.lineTo(flat[at] as number, flat[at + 1] as number);
  }
}

/** Go on with a path through a line's points from the last to the first. */
export function addBack(path: Path, flat: readonly number[]): void {
  for (let at = flat.length - 2; at >= 0; at -= 2) path.lineTo(flat[at] as number, flat[at + 1] as number);
}

/** Stroke a line that nothing shines through; its turns do not stand out in spikes where they are sharp. */
export function strokeLine(brush: Strokes, flat: readonly number[]): void {
  brush.lineJoin = "round";
  for (let from = 0; from + 2 < flat.length; from += 2 * STROKE_POINTS) {
    brush.beginPath();
    addLine(brush, flat, from, Math.min(flat.length, from + 2 * STROKE_POINTS + 2));
    brush.stroke();
  }
  brush.lineJoin = "miter";
}
