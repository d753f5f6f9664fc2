/** Columns of the page's tables: shown in the job's units, sorted by the number behind, each with a name of its own. */

import { describe, expect, test } from "vitest";
import type { CheckRow, OrderRow, PostRow } from "../src/api/records.ts";
import {
  checkColumns,
  orderColumns,
  postColumns,
  pullColumns,
  rollColumns,
  siteCheckColumns,
  tensionColumns,
} from "../src/panels/columns.ts";
import { arranged, csvOf } from "../src/panels/rows.ts";

const post = (id: string, cut_m: number | null, cut: boolean) =>
  ({
    id,
    line: "a",
    station_m: 3.048,
    role: "line",
    cut_m,
    cut,
    hole_diameter_m: 0.3048,
    hole_depth_m: 0.9144,
  }) as PostRow;

describe("columns", () => {
  test("of rows that are still being computed can be filtered", () => {
    expect(arranged([{ id: "P1" } as PostRow], postColumns("us"), "p1", null)).toHaveLength(1);
  });

  test("have names of their own in every table", () => {
    const all = [postColumns, rollColumns, pullColumns, tensionColumns, siteCheckColumns, checkColumns];
    for (const columns of [orderColumns(), ...all.map((of) => of("us"))]) {
      const keys = (columns as { key: string }[]).map((column) => column.key);
      expect(new Set(keys).size).toBe(keys.length);
    }
  });

  test("show the job's units and sort by the number behind", () => {
    const columns = postColumns("us");
    const text = (key: string, row: PostRow) => columns.find((column) => column.key === key)?.text(row);
    const rows = [post("P1", 0.2032, true), post("P2", 0.1016, true), post("P3", 0.5, false)];
    expect(rows.map((row) => text("cut", row))).toEqual(["8 in", "4 in", "to string"]);
    expect(text("station", rows[0] as PostRow)).toBe("10.0 ft");
    expect(text("hole", rows[0] as PostRow)).toBe("12 in × 36 in");
    expect(arranged(rows, columns, "", { key: "cut", down: false }).map((row) => row.id)).toEqual([
      "P2",
      "P1",
      "P3",
    ]);
    expect(arranged(rows, columns, "8 in", null).map((row) => row.id)).toEqual(["P1"]);
  });

  test("give a check's amounts in its own unit, and whole numbers without decimals", () => {
    const check = { demand: 4448.2216, capacity: 0.0254, unit: "N" } as CheckRow;
    const [demand, capacity] = ["demand", "capacity"].map((key) =>
      checkColumns("us").find((each) => each.key === key),
    );
    expect(demand?.text(check)).toBe("1,000 lbf");
    expect(capacity?.text({ ...check, unit: "m" })).toBe("1 in");
    const order = [{ item: "rail", size: "", net: 1200, order: 2.5, unit: "roll", why: "" }] as OrderRow[];
    expect(
      csvOf(
        order,
        orderColumns().filter((column) => column.isNumber),
      ),
    ).toBe('Net,To order\r\n"1,200",2.5\r\n');
  });
});
