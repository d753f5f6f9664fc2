import { describe, expect, it } from "vitest";
import { changed, column, keptOnly, numbers, rowBy, rowsOf, type Tables } from "../src/state/tables.ts";

const start: Tables = changed(
  {},
  {
    posts: {
      rows: 3,
      columns: {
        id: { start: 0, remove: 0, values: ["P1", "P2", "P3"] },
        top_m: { start: 0, remove: 0, values: [1, 2, 3] },
      },
    },
    rolls: { rows: 0, columns: {} },
  },
);

describe("tables of columns", () => {
  it("take splices, and leave other tables as they are", () => {
    const next = changed(start, {
      posts: { rows: 3, columns: { top_m: { start: 1, remove: 1, values: [9] } } },
    });
    expect(column(next, "posts", "top_m")).toEqual([1, 9, 3]);
    expect(column(start, "posts", "top_m")).toEqual([1, 2, 3]);
    expect(next.rolls).toBe(start.rolls);
    expect(next.posts?.columns.id).toBe(start.posts?.columns.id);
  });

  it("take single rows after a splice, where the rows have their new numbers", () => {
    const column_m = { start: 1, remove: 1, values: [7, 8], rows: [0, 3], changed: [null, 9] };
    const next = changed(start, { posts: { rows: 4, columns: { top_m: column_m } } });
    expect(column(next, "posts", "top_m")).toEqual([null, 7, 8, 9]);
    expect(column(start, "posts", "top_m")).toEqual([1, 2, 3]);
    const alone = { start: 0, remove: 0, values: [], rows: [2], changed: [4] };
    expect(
      column(changed(start, { posts: { rows: 3, columns: { top_m: alone } } }), "posts", "top_m"),
    ).toEqual([1, 2, 4]);
  });

  it("hold back a column that has not the table's rows", () => {
    const next = changed(start, {
      posts: { rows: 4, columns: { id: { start: 3, remove: 0, values: ["P4"] } } },
    });
    expect(column(next, "posts", "id")).toHaveLength(4);
    expect(column(next, "posts", "top_m")).toBeNull();
    expect(numbers(next, "posts", "top_m")).toHaveLength(4);
    expect(rowsOf<{ id: string }>(next, "posts").at(3)).toEqual({ id: "P4" });
  });

  it("forget the columns of a table that has no rows, and take them whole when it has some again", () => {
    const none = changed(start, { posts: { rows: 0, columns: {} } });
    const id = { start: 0, remove: 0, values: ["P1", "P2"] };
    const again = changed(none, { posts: { rows: 2, columns: { id } } });
    expect(column(again, "posts", "id")).toEqual(["P1", "P2"]);
    expect(rowsOf(again, "posts")).toEqual([{ id: "P1" }, { id: "P2" }]);
  });

  it("keep some columns alone", () => {
    const kept = keptOnly(start, { posts: ["id"], drawn: ["name"] });
    expect(kept).toEqual({
      posts: { rows: 3, columns: { id: ["P1", "P2", "P3"] } },
      drawn: { rows: 0, columns: { name: [] } },
    });
  });

  it("give rows", () => {
    expect(rowsOf(start, "posts")).toEqual([
      { id: "P1", top_m: 1 },
      { id: "P2", top_m: 2 },
      { id: "P3", top_m: 3 },
    ]);
    expect(rowBy(start, "posts", "id", "P2")).toEqual({ id: "P2", top_m: 2 });
    expect(rowBy(start, "posts", "id", "P9")).toBeNull();
    expect(rowsOf(start, "nothing")).toEqual([]);
  });
});
