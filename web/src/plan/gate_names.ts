/** Where the names of gates stand: clear of their leaves, and of each other. */

import type { Point } from "../flat/bearing.ts";
import type { PlanGate } from "./model.ts";

/** Width of a letter of a name on the plan, about. */
export const LETTER_PX = 7;
const LINE_PX = 16;
/** Of a name from its opening: clear of its posts, and above them of their names too. */
const UNDER_POSTS_PX = 18;
const OVER_NAMES_PX = 32;
/** A name stands beside its gate in a line that runs north by more than this. */
const ASIDE = 0.5;
/** Lines by which a name goes farther from its gate, at most: beyond that it would be taken for another's. */
const MOST_LINES = 3;

/** How the name of a gate is set: how far from the middle of its opening, and which way it is written from there. */
export interface NameSet {
  right_px: number;
  down_px: number;
  align: "left" | "right" | "center";
}

interface Box {
  left: number;
  right: number;
  middle: number;
}

export function middleOf({ hinge, latch }: PlanGate): Point {
  return [(hinge[0] + latch[0]) / 2, (hinge[1] + latch[1]) / 2];
}

/** Square to the opening, of length 1, away from where the leaf swings: there its name has room. */
export function awayFrom({ hinge, latch, opens }: PlanGate): Point {
  const [east, north] = [latch[0] - hinge[0], latch[1] - hinge[1]];
  const size_m = Math.hypot(east, north) || 1;
  return [(opens * north) / size_m, (-opens * east) / size_m];
}

/** The names of all gates of a plan, set once for each scale. */
export class GateNames {
  private metres_px = 0;
  private sets: readonly NameSet[] = [];

  constructor(private readonly gates: readonly PlanGate[]) {}

  /** How the name of a gate is set where a pixel is so many metres: a line farther for each name that it would lie upon. */
  setAt(place: number, metres_px: number): NameSet | undefined {
    if (metres_px !== this.metres_px) {
      this.metres_px = metres_px;
      const taken: Box[] = [];
      this.sets = this.gates.map((gate) => clear(gate, metres_px, taken));
    }
    return this.sets[place];
  }
}

/** Set one name clear of the boxes that are taken, and take its own. */
function clear(gate: PlanGate, metres_px: number, taken: Box[]): NameSet {
  const [east, north] = awayFrom(gate);
  const align = east > ASIDE ? "left" : east < -ASIDE ? "right" : "center";
  const right_px = east * UNDER_POSTS_PX;
  const first_px = -north * (north > 0 ? OVER_NAMES_PX : UNDER_POSTS_PX);
  const line_px = north > 0 ? -LINE_PX : LINE_PX;
  const [x, y] = middleOf(gate);
  const width_px = gate.name.length * LETTER_PX;
  const left = x / metres_px + right_px - { left: 0, center: width_px / 2, right: width_px }[align];
  for (let lines = 0; ; lines += 1) {
    const down_px = first_px + lines * line_px;
    const box = { left, right: left + width_px, middle: -y / metres_px + down_px };
    if (lines < MOST_LINES && taken.some((other) => isUpon(box, other))) continue;
    taken.push(box);
    return { right_px, down_px, align };
  }
}

function isUpon(box: Box, other: Box): boolean {
  return box.left < other.right && other.left < box.right && Math.abs(box.middle - other.middle) < LINE_PX;
}
