/** Names of gates that stand near each other. */

import { expect, test } from "vitest";
import { GateNames } from "../src/plan/gate_names.ts";
import type { PlanGate } from "../src/plan/model.ts";

/** A gate 4 m wide in a line that runs east, or north, its leaf opening to the left (1) or right (-1) of that. */
function gateAt(x: number, name: string, opens: 1 | -1 = 1, latch: [number, number] = [x + 4, 0]): PlanGate {
  return { name, line: "a", station_m: x, hinge: [x, 0], latch, opens, leaf_m: 3.8 } as PlanGate;
}

const downs = (metres_px: number, ...gates: PlanGate[]) => {
  const names = new GateNames(gates);
  return gates.map((_, place) => names.setAt(place, metres_px)?.down_px);
};

test("a name that would lie upon that of a gate before it goes a line farther from the fence", () => {
  const row = [gateAt(0, "yard gate"), gateAt(6, "field gate"), gateAt(60, "lane gate")];
  expect(downs(0.1, ...row)).toEqual([18, 34, 18]);
  expect(downs(0.05, ...row)).toEqual([18, 18, 18]); // there is room for all
  expect(downs(2, ...row)).toEqual([18, 34, 50]);
  expect(downs(0.1, gateAt(0, "yard gate", -1), gateAt(6, "field gate", -1))).toEqual([-32, -48]); // above the fence: up
});

test("names on either side of the fence do not meet, and one beside a line that runs north may meet another", () => {
  expect(downs(0.1, gateAt(0, "yard gate"), gateAt(6, "field gate", -1))).toEqual([18, -32]);
  const lane = gateAt(3, "lane gate", 1, [3, 4]); // its name begins right of the line, level with its middle
  const sets = new GateNames([gateAt(0, "yard gate", -1), lane]);
  expect(sets.setAt(1, 0.1)).toEqual({ right_px: 18, down_px: 16, align: "left" });
  expect(sets.setAt(1, 0.05)?.down_px).toBeCloseTo(0, 9);
});

test("where all lie in one place the names end somewhere", () => {
  const gates = Array.from({ length: 6 }, (_, i) => gateAt(i / 100, `gate ${i}`));
  expect(downs(5, ...gates)).toEqual([18, 34, 50, 66, 66, 66]);
});
