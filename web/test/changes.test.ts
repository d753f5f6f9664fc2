import { describe, expect, it } from "vitest";
import type { Summary } from "../src/api/records.ts";
import { changesOf, type Whole } from "../src/state/changes.ts";
import { isNothing } from "../src/state/no_changes.ts";

function whole(stations: number[], tops: number[], bags: number, posts4: number): Whole {
  const ids = stations.map((_, i) => `P${i + 1}`);
  const same = (value: unknown) => stations.map(() => value);
  const columns = {
    id: ids,
    line: same("north"),
    station_m: stations,
    x_m: stations,
    y_m: same(0),
    above_ground_m: tops,
    cut_m: same(0.1),
    stock_length_m: same(2.4384),
    hole_depth_m: same(0.9),
    set: same("tamped"),
  };
  const order = { id: ["post"], item: ["round post"], size: ["4 in"], unit: ["piece"], order: [posts4] };
  return {
    tables: { posts: { rows: ids.length, columns }, order: { rows: 1, columns: order } },
    summary: {
      fence_length_m: 30,
      rail_length_m: 120,
      rolls: 1,
      pulls: 4,
      bags,
      posts: {
        line: ids.length,
        end: 0,
        gate: 0,
        corner: 0,
        bend: 0,
        strain: 0,
        tee: 0,
        crossing: 0,
        brace: 0,
      },
    } as unknown as Summary,
  };
}

describe("what an edit changed", () => {
  const before = whole([0, 10, 20, 30], [1.4, 1.4, 1.4, 1.4], 8, 4);

  it("is nothing between a design and itself", () => {
    expect(isNothing(changesOf(before, before))).toBe(true);
  });

  it("names the post that moved, the top that rose, and where the post stood", () => {
    const after = whole([0, 10.5, 20, 30], [1.4, 1.4, 1.45, 1.4], 8, 4);
    const changes = changesOf(before, after);
    expect(changes.moved).toEqual(["P2"]);
    expect(changes.tops).toEqual([{ id: "P3", before_m: 1.4, after_m: 1.45 }]);
    expect(changes.spacing).toEqual([
      { id: "P1–P2", before_m: 10, after_m: 10.5 },
      { id: "P2–P3", before_m: 10, after_m: 9.5 },
    ]);
    expect(changes.were).toEqual([[10, 0]]);
    expect(changes.added).toEqual([]);
  });

  it("counts posts that are new or gone, and the order that follows", () => {
    const after = whole([0, 10, 15, 20, 30], [1.4, 1.4, 1.4, 1.4, 1.4], 9.2, 5);
    const changes = changesOf(before, after);
    expect(changes.added).toEqual(["P3"]);
    expect(changes.moved).toEqual([]);
    expect(changes.sums).toContainEqual({ key: "posts", before: 4, after: 5 });
    expect(changes.sums).toContainEqual({ key: "bags_net", before: 8, after: 10 });
    expect(changes.order).toEqual([{ item: "round post, 4 in", unit: "piece", before: 4, after: 5 }]);
    expect(changesOf(after, before).gone).toBe(1);
  });
});

describe("what a moved corner and a new name change", () => {
  const before = whole([0, 10, 20, 30], [1.4, 1.4, 1.4, 1.4], 8, 4);
  const posts = (columns: Record<string, unknown[]>): Whole => {
    const table = before.tables.posts;
    if (!table) throw new Error("no posts");
    return {
      ...before,
      tables: { ...before.tables, posts: { ...table, columns: { ...table.columns, ...columns } } },
    };
  };

  it("is nothing for posts that stand where they stood, whatever their stations are now", () => {
    const shifted = posts({ station_m: [0, 13, 23, 33], x_m: [-3, 10, 20, 30] });
    const changes = changesOf(before, shifted);
    expect(changes.moved).toEqual(["P1"]);
    expect(changes.spacing).toEqual([{ id: "P1–P2", before_m: 10, after_m: 13 }]);
  });

  it("is nothing for a line that has another name", () => {
    const named = posts({ line: ["yard", "yard", "yard", "yard"] });
    expect(isNothing(changesOf(before, named))).toBe(true);
  });
});
