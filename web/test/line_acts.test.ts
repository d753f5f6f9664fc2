import { expect, test } from "vitest";
import { isFromFile, joinable } from "../src/panels/line_acts.ts";

const ring = { name: "ring", isClosed: true };
const lane = { name: "lane", isClosed: false };
const walk = { name: "walk", isClosed: false };

test("only open lines are joined, and with open ones", () => {
  expect(joinable([ring, lane, walk], lane)).toEqual([walk]);
  expect(joinable([ring, lane, walk], ring)).toEqual([]);
});

test("only a line from a file can be given its own points", () => {
  expect(isFromFile({ name: "walk", file: "walk.gpx", points: null })).toBe(true);
  expect(isFromFile({ name: "lane", file: null, points: [["0 m", "0 m"]] })).toBe(false);
  expect(isFromFile(undefined)).toBe(false);
});
