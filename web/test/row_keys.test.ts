/** Rows of the job file are known again in the next state, and what is chosen is found there. */

import { expect, test } from "vitest";
import { heldNow, lineNow } from "../src/app/held_followed.ts";
import { followRows, rowKey } from "../src/state/row_keys.ts";

type Row = Record<string, unknown>;

const gate = (name: string, at = "10 ft"): Row => ({ name, line: "home", at });
const keysOf = (rows: unknown) => (rows as Row[]).map(rowKey);

/** Keys of the rows after, by the rows before: `1` for what was the second; null for a row that is new. */
function known(before: Row[], after: Row[]): (number | null)[] {
  followRows({ gate: before }, { gate: after });
  const keys = keysOf(before);
  return keysOf(after).map((key) => (keys.includes(key) ? keys.indexOf(key) : null));
}

test("rows are the same under other numbers where one came or went, wherever that was", () => {
  const [a, b, c] = [gate("a"), gate("b"), gate("c")];
  const copy = (...rows: Row[]) => structuredClone(rows);
  expect(known([a, b, c], copy(b, c))).toEqual([1, 2]);
  expect(known([a, b, c], copy(a, c))).toEqual([0, 2]);
  expect(known([a, b, c], copy(a, gate("new"), b, c))).toEqual([0, null, 1, 2]);
  expect(known([a, b, c], copy(c, a))).toEqual([2, 0]);
  expect(known([], copy(a))).toEqual([null]);
});

test("a row that was changed is the same; one that was changed while others went is not guessed at", () => {
  const [a, b, c] = [gate("a"), gate("b"), gate("c")];
  expect(known([a, b, c], [gate("a"), gate("b", "20 ft"), gate("c")])).toEqual([0, 1, 2]);
  expect(known([a, b, c], [gate("b", "20 ft"), gate("c")])).toEqual([null, 2]);
  expect(known([a, b, c], [gate("b", "20 ft"), gate("c"), gate("a"), gate("d")])).toEqual([null, 2, 0, null]);
});

test("rows that read alike keep their order, and an alternative's own tables are followed", () => {
  const twin = () => gate("twin");
  expect(known([gate("a"), twin(), twin()], [twin(), twin()])).toEqual([1, 2]);
  const way = (name: string, ...rails: string[]) => ({ name, strand: rails.map((rail) => ({ rail })) });
  const before = { alternative: [way("one", "a"), way("two", "b", "c")] };
  const after = { alternative: [way("two", "b", "c")] };
  followRows(before, after);
  expect(keysOf(after.alternative[0]?.strand)).toEqual(keysOf(before.alternative[1]?.strand));
});

const line = (name: string, ...xs: number[]): Row => ({ name, points: xs.map((x) => [`${x} ft`, "0 ft"]) });

test("a gate without a name, a mark and an obstacle are held under their new number, and let go where they are gone", () => {
  const before = {
    gate: [gate("", "5 ft"), gate("", "40 ft")],
    pin: [gate("", "8 ft"), gate("", "9 ft")],
    obstacle: [{ kind: "tree" }, { kind: "rock" }],
  };
  const after = { gate: [gate("", "40 ft")], pin: [gate("", "9 ft")], obstacle: [{ kind: "rock" }] };
  followRows(before, after);
  const held = (kind: "gate" | "mark" | "obstacle", id: string, row: number) =>
    heldNow({ kind, id, row, ...(kind === "mark" ? { table: "pin" } : {}) }, before, after);
  expect(held("gate", "gate 2", 1)).toMatchObject({ kind: "gate", id: "gate 1" });
  expect(held("gate", "gate 1", 0)).toBeNull();
  expect(held("mark", "pin 2", 1)).toMatchObject({ table: "pin", row: 0, station_m: 9 * 0.3048 });
  expect(held("mark", "pin 1", 0)).toBeNull();
  expect(held("obstacle", "rock", 1)).toMatchObject({ row: 0 });
  expect(held("obstacle", "tree", 0)).toBeNull();
});

test("a line is held under its new name, and a corner under its new number", () => {
  const before = { line: [line("away", 0, 9), line("home", 0, 50, 90)] };
  const corner = (at: number) => ({ kind: "corner", id: `home/${at}`, line: "home", corner: at }) as const;
  const to = (after: { line: Row[] }, at: number) => {
    followRows(before, after);
    return heldNow(corner(at), before, after);
  };
  expect(to({ line: [line("home", 0, 50, 90)] }, 2)).toEqual(corner(2)); // the other line went
  expect(to({ line: [line("away", 0, 9), line("home", 0, 20, 50, 90)] }, 1)).toMatchObject({ corner: 2 });
  expect(to({ line: [line("away", 0, 9), line("home", 0, 90)] }, 1)).toBeNull();
  expect(to({ line: [line("away", 0, 9), line("home", 0, 55, 90)] }, 1)).toEqual(corner(1)); // it was moved
  const renamed = { line: [line("away", 0, 9), line("yard", 0, 50, 90)] };
  expect(to(renamed, 1)).toMatchObject({ id: "yard/1", line: "yard" });
  expect(lineNow("home", before, renamed)).toBe("yard");
  expect(heldNow({ kind: "line", id: "home" }, before, renamed)).toMatchObject({ id: "yard" });
  const gone = { line: [line("away", 0, 9)] };
  followRows(before, gone);
  expect(heldNow({ kind: "line", id: "home" }, before, gone)).toBeNull();
});
