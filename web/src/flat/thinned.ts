/** Fewer points for a line that looks the same. */

/** On a slope steeper than this the line is held as near to a point, upward, as on this one. */
const STEEPEST = 10;
/** Points that stand over each other are taken to be so far apart, so that a slope can be told. */
const LEAST_STEP = 1e-9;

/**
 * A line that runs from left to right, without the points that it passes near enough.
 *
 * From each point that is kept, the slopes are held that pass all points since within the tolerance; the first point
 * that lies outside of them ends the stretch at the point before it. One pass; first and last point are always kept.
 */
export class ThinnedLine {
  private kept: number[] = [];
  private fromX = 0;
  private fromY = 0;
  private lastX = 0;
  private lastY = 0;
  private lowest = 0;
  private highest = 0;
  private count = 0;

  /** `tolerance`: how far from the line a point left out may lie, square to it, in the unit of the points. */
  constructor(private readonly tolerance: number) {}

  /** Go on to a point; x never falls. */
  add(x: number, y: number): void {
    if (this.count === 0) this.keep(x, y);
    else if (!this.isPassed(x, y)) {
      this.keep(this.lastX, this.lastY);
      this.isPassed(x, y);
    }
    this.lastX = x;
    this.lastY = y;
    this.count += 1;
  }

  /** The line so far, as x and y of each point in turn; it begins anew. */
  take(): number[] {
    const { kept } = this;
    if (this.count > 1) kept.push(this.lastX, this.lastY);
    this.kept = [];
    this.count = 0;
    return kept;
  }

  private keep(x: number, y: number): void {
    this.kept.push(x, y);
    this.fromX = x;
    this.fromY = y;
    this.lowest = Number.NEGATIVE_INFINITY;
    this.highest = Number.POSITIVE_INFINITY;
  }

  /** Whether a line to this point passes all since the last that was kept; if so, it is one of them from now on. */
  private isPassed(x: number, y: number): boolean {
    const step = Math.max(x - this.fromX, LEAST_STEP);
    const slope = (y - this.fromY) / step;
    if (slope < this.lowest || slope > this.highest) return false;
    const room = (this.tolerance * Math.min(Math.sqrt(1 + slope * slope), STEEPEST)) / step;
    this.lowest = Math.max(this.lowest, slope - room);
    this.highest = Math.min(this.highest, slope + room);
    return true;
  }
}
