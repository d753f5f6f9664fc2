/** What an edit changed in the whole design: sums, the order, and which posts, tops, cuts and holes. */

import type { OrderRow, RollRow, Summary } from "../api/records.ts";
import { type PostChanges, postChangesOf, SAME_M } from "./post_changes.ts";
import { rowsOf, type Tables } from "./tables.ts";

export interface Whole {
  tables: Tables;
  summary: Summary;
}

export interface SumChange {
  key: "fence_length" | "rail_length" | "posts" | "panel_rolls" | "pulls" | "bags_net";
  before: number;
  after: number;
}

export interface OrderChange {
  item: string;
  unit: string;
  before: number;
  after: number;
}

export interface Changes extends PostChanges {
  sums: SumChange[];
  order: OrderChange[];
  /** Rolls that are cut otherwise. */
  rolls: number;
}

/** Compare two whole designs of one job. */
export function changesOf(before: Whole, after: Whole): Changes {
  return {
    ...postChangesOf(before.tables, after.tables),
    sums: compareSums(before.summary, after.summary),
    order: compareOrders(rowsOf<OrderRow>(before.tables, "order"), rowsOf<OrderRow>(after.tables, "order")),
    rolls: compareRolls(rowsOf<RollRow>(before.tables, "rolls"), rowsOf<RollRow>(after.tables, "rolls")),
  };
}

function compareSums(before: Summary, after: Summary): SumChange[] {
  const total = (summary: Summary) => Object.values(summary.posts).reduce((sum, count) => sum + count, 0);
  const rows: SumChange[] = [
    { key: "fence_length", before: before.fence_length_m ?? 0, after: after.fence_length_m ?? 0 },
    { key: "posts", before: total(before), after: total(after) },
    { key: "rail_length", before: before.rail_length_m ?? 0, after: after.rail_length_m ?? 0 },
    { key: "panel_rolls", before: before.rolls ?? 0, after: after.rolls ?? 0 },
    { key: "pulls", before: before.pulls, after: after.pulls },
    { key: "bags_net", before: Math.ceil(before.bags ?? 0), after: Math.ceil(after.bags ?? 0) },
  ];
  return rows.filter((row) => Math.abs(row.after - row.before) > SAME_M);
}

function compareOrders(before: readonly OrderRow[], after: readonly OrderRow[]): OrderChange[] {
  const rows = new Map<string, OrderChange>();
  for (const row of before)
    rows.set(row.id, { item: named(row), unit: row.unit, before: row.order ?? 0, after: 0 });
  for (const row of after) {
    const had = rows.get(row.id);
    rows.set(row.id, { item: named(row), unit: row.unit, before: had?.before ?? 0, after: row.order ?? 0 });
  }
  return [...rows.values()].filter((row) => Math.abs(row.after - row.before) > 1e-6);
}

function named(row: OrderRow): string {
  return row.size ? `${row.item}, ${row.size}` : row.item;
}

/** How many rolls of the new list are cut as none of the old one is. */
function compareRolls(before: readonly RollRow[], after: readonly RollRow[]): number {
  const as = (roll: RollRow) => JSON.stringify([roll.product, roll.from_yard, roll.length_m, roll.pieces]);
  const had = new Map<string, number>();
  for (const roll of before) had.set(as(roll), (had.get(as(roll)) ?? 0) + 1);
  return after.filter((roll) => {
    const left = had.get(as(roll)) ?? 0;
    had.set(as(roll), left - 1);
    return left <= 0;
  }).length;
}
