/** Where the name of a gate may stand: beside its opening, on one side or the other. */

import type { Point } from "../flat/bearing.ts";
import type { PlanGate } from "./model.ts";
import type { NameChoice } from "./naming.ts";

const LINE_PX = 16;
/** Of a name from its opening: clear of its posts, and above them of their names too; on the leaf's side clear of that. */
const UNDER_POSTS_PX = 18;
const OVER_NAMES_PX = 32;
const OVER_LEAF_PX = 12;
/** A name stands beside its gate in a line that runs north by more than this. */
const ASIDE = 0.5;
/** Lines by which a name goes farther from its gate, at most: beyond that it would be taken for another's. */
const MOST_LINES = 2;
const ONWARD = Array.from({ length: MOST_LINES + 1 }, (_, lines) => lines);
const BOTH_WAYS = ONWARD.flatMap((lines) => (lines ? [lines, -lines] : [0]));
/** What it costs a name to be a line farther, to be written from its end, to stand where the leaf swings. */
const COST = { line: 0.5, end: 0.8, leaf: 1.2 };

export function middleOf({ hinge, latch }: PlanGate): Point {
  return [(hinge[0] + latch[0]) / 2, (hinge[1] + latch[1]) / 2];
}

/** Square to the opening, of length 1, away from where the leaf swings: there its name has room. */
export function awayFrom({ hinge, latch, opens }: PlanGate): Point {
  const [east, north] = [latch[0] - hinge[0], latch[1] - hinge[1]];
  const size_m = Math.hypot(east, north) || 1;
  return [(opens * north) / size_m, (-opens * east) / size_m];
}

/** The places that a gate's name of so many lines may have where a pixel is so many metres, the best first. */
export function gateChoices(gate: PlanGate, metres_px: number, lines = 1): NameChoice[] {
  const [east, north] = awayFrom(gate);
  const leaf_px = gate.leaf_m / metres_px;
  const behind = sideChoices(gate, [east, north], 0, lines);
  const swung = sideChoices(gate, [-east, -north], leaf_px + OVER_LEAF_PX, lines);
  return [...behind, ...swung.map((each) => ({ ...each, cost: each.cost + COST.leaf }))];
}

/** Places on one side of the opening, at least so far from it, of a name so many lines tall. */
function sideChoices(gate: PlanGate, [east, north]: Point, least_px: number, tall: number): NameChoice[] {
  const at = middleOf(gate);
  const isAside = Math.abs(east) > ASIDE;
  const right_px = east * Math.max(least_px, UNDER_POSTS_PX);
  const near_px = Math.max(least_px, north > 0 ? OVER_NAMES_PX : UNDER_POSTS_PX);
  const first_px = -north * (near_px + ((tall - 1) * LINE_PX) / 2);
  const line_px = north > 0 ? -LINE_PX : LINE_PX;
  const aligns = isAside ? ([east > 0 ? "left" : "right"] as const) : (["center", "left", "right"] as const);
  return aligns.flatMap((align, place) =>
    (isAside ? BOTH_WAYS : ONWARD).map((lines) => ({
      at,
      right_px,
      down_px: first_px + lines * line_px,
      align,
      turn_rad: 0,
      cost: COST.line * Math.abs(lines) + (place ? COST.end : 0),
    })),
  );
}
