/** What a hand asks for on plan and section. */

import { describe, expect, test } from "vitest";
import { drawnEdit, movedEdit, topEdit } from "../src/app/asked_edits.ts";
import { EMPTY_SKETCH, legOf, type Sketch } from "../src/plan/hands.ts";

describe("a hand on plan and section", () => {
  test("moves a corner, and slides a gate by its name or by its place among the gates", () => {
    const corner = { kind: "corner" as const, id: "a/2", line: "a", corner: 2 };
    expect(movedEdit({}, { held: corner, to: [3, 4] })).toEqual({
      kind: "move_corner",
      line: "a",
      corner: 2,
      to: [3, 4],
    });
    const asked = { gate: [{ at: "3 m" }, { at: "9 m", name: "yard" }] };
    const gate = (id: string) => ({ held: { kind: "gate" as const, id }, to: [0, 0] as const, station_m: 5 });
    expect(movedEdit(asked, gate("yard"))).toEqual({ kind: "slide", table: "gate", item: 1, at: 5 });
    expect(movedEdit(asked, gate("gate 1"))).toEqual({ kind: "slide", table: "gate", item: 0, at: 5 });
    expect(movedEdit(asked, gate("gone"))).toBeNull();
    expect(movedEdit(asked, { held: { kind: "post", id: "P1" }, to: [0, 0] })).toBeNull();
  });

  test("leaves the other fence at a corner where it is asked to, and moves one point of an obstacle", () => {
    const corner = { kind: "corner" as const, id: "a/2", line: "a", corner: 2 };
    expect(movedEdit({}, { held: corner, to: [3, 4], isAlone: true })).toMatchObject({ shared: false });
    const point = { kind: "obstacle" as const, id: "stream", row: 1, point: 2 };
    expect(movedEdit({}, { held: point, to: [3, 4] })).toEqual({
      kind: "move_obstacle",
      item: 1,
      point: 2,
      to: [3, 4],
    });
  });

  test("pins a top where its post stands", () => {
    const post = { id: "P5", line: "a", role: "line", station_m: 12.192 };
    expect(topEdit(post, 1.25)).toEqual({ kind: "pin_top", line: "a", at: 12.192, height: 1.25 });
  });

  test("draws a line in metres, and a thing in the way as the job file has it", () => {
    const points = [
      [0, 0],
      [30.48, 0],
    ] as const;
    expect(drawnEdit({ tool: "draw", points, closed: false }, "tree", "us")).toEqual({
      kind: "add_line",
      points: [
        [0, 0],
        [30.48, 0],
      ],
      closed: false,
    });
    expect(drawnEdit({ tool: "obstacle", points, closed: true }, "pond", "us")).toEqual({
      kind: "add",
      table: "obstacle",
      values: {
        kind: "pond",
        points: [
          ["0 ft", "0 ft"],
          ["100 ft", "0 ft"],
        ],
        closed: true,
      },
    });
  });
});

test("the leg to the hand has a length and a bearing, and none where the hand is at the last point", () => {
  const sketch = (next: [number, number]): Sketch => ({
    ...EMPTY_SKETCH,
    points: [[0, 0]],
    next: { point: next, caught: "point", guides: [] },
  });
  expect(legOf(sketch([0, 4]))).toMatchObject({ length_m: 4, bearing_deg: 0 });
  expect(legOf(sketch([0, 0]))).toBeNull();
});
