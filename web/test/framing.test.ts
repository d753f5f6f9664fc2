import { expect, test } from "vitest";
import { roomBeside } from "../src/plan/framing.ts";

const PHONE = { width: 390, height: 560 };
const LEGEND = { width: 130, height: 150 };

test("without a legend the room is the same on every side as ever", () => {
  expect(roomBeside([0, 0, 60, 40], PHONE, null)).toEqual([48, 40, 106, 40]);
});

test("a wide fence is shown below the legend, a tall one beside it", () => {
  expect(roomBeside([0, 0, 60, 40], PHONE, LEGEND)).toEqual([162, 40, 106, 40]);
  expect(roomBeside([0, 0, 20, 90], PHONE, LEGEND)).toEqual([48, 40, 106, 142]);
});

test("a plan that a form has left low keeps its fence beside the legend", () => {
  expect(roomBeside([0, 0, 60, 40], { width: 390, height: 300 }, LEGEND)).toEqual([48, 40, 106, 142]);
});
