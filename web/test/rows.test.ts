import { describe, expect, it } from "vitest";
import { arranged, type Column, csvOf, keptTogether } from "../src/panels/rows.ts";

interface Row {
  id: string;
  top: number | null;
}

const rows: Row[] = [
  { id: "P10", top: 1.2 },
  { id: "P2", top: null },
  { id: "P1", top: 1.5 },
];
const columns: Column<Row>[] = [
  { key: "id", title: "Post", text: (row) => row.id },
  {
    key: "top",
    title: "Top",
    text: (row) => (row.top === null ? "–" : `${row.top} m`),
    value: (row) => row.top,
    isNumber: true,
  },
];

describe("tables", () => {
  it("sort names with their numbers by size", () => {
    expect(arranged(rows, columns, "", { key: "id", down: false }).map((row) => row.id)).toEqual([
      "P1",
      "P2",
      "P10",
    ]);
  });

  it("leave what is missing last in rising order", () => {
    expect(arranged(rows, columns, "", { key: "top", down: false }).map((row) => row.id)).toEqual([
      "P10",
      "P1",
      "P2",
    ]);
  });

  it("keep rows that hold every word", () => {
    expect(arranged(rows, columns, "p1 1.5", null).map((row) => row.id)).toEqual(["P1"]);
    expect(arranged(rows, columns, "", null)).toEqual(rows);
  });

  it("never start a spreadsheet formula", () => {
    const text = csvOf([{ id: '=SUM(A1)"x', top: -1 }], columns);
    expect(text).toBe('Post,Top\r\n"\'=SUM(A1)""x",\'-1 m\r\n');
  });
});

describe("words that run over several rows", () => {
  it("part no number from its unit", () => {
    expect(keptTogether("120 mm x 2.40 m")).toBe("120\u00a0mm x 2.40\u00a0m");
    expect(keptTogether("roll of 201.2 m")).toBe("roll of 201.2\u00a0m");
    expect(keptTogether("4 1/2 in, 80 lb; 5 % waste")).toBe("4 1/2\u00a0in, 80\u00a0lb; 5\u00a0% waste");
  });
});
