import { describe, expect, it } from "vitest";
import type { ChangeInfo } from "../src/api/client.ts";
import { changeWords } from "../src/panels/change_words.ts";

function change(more: Partial<ChangeInfo>): ChangeInfo {
  const none = { row: null, new_row: null, key: "", before: null, after: null };
  return { table: "fence", item: "fence", ...none, ...more } as ChangeInfo;
}

describe("what changed between two revisions", () => {
  it("says each word once", () => {
    const book = { table: "price", item: "price", key: "book", after: "prices.csv" };
    expect(changeWords(change(book))).toBe("Price, book: – → prices.csv");
    const height = { table: "pin", row: 1, new_row: 0, item: "pin 2", key: "height" };
    expect(changeWords(change({ ...height, before: "54 in", after: "55 in" }))).toBe(
      "pin 2, height: 54 in → 55 in",
    );
    const gate = { table: "gate", row: 0, new_row: 0, item: 'gate "main"', key: "hinge" };
    expect(changeWords(change({ ...gate, before: "near", after: "far" }))).toBe(
      "gate “main”, hinge: near → far",
    );
  });

  it("says a whole row by its keys and values", () => {
    const pin = { line: "winter", at: "54.889 m", post: true };
    expect(changeWords(change({ table: "pin", new_row: 0, item: "pin 1", after: pin }))).toBe(
      "pin 1: – → line winter, at 54.889 m, post yes",
    );
    expect(changeWords(change({ table: "pin", row: 0, item: "pin 1", before: pin }))).toBe(
      "pin 1: line winter, at 54.889 m, post yes → –",
    );
  });

  it("says of points those that came or went", () => {
    const line = { table: "line", row: 0, new_row: 0, item: 'line "north"', key: "points" };
    const before = [...Array(30).keys()].map((one) => [`${one} m`, "0 m"]);
    const after = before.with(20, ["20 m", "1.5 m"]);
    expect(changeWords(change({ ...line, before, after }))).toBe(
      "line “north”, points: 20 m 0 m → 20 m 1.5 m",
    );
  });

  it("says flags, lists and tables without brackets, and not for ever", () => {
    const lengths = { table: "posts", item: "posts", key: "line_lengths", before: ["8 ft", "9 ft"] };
    expect(changeWords(change(lengths))).toContain(": 8 ft, 9 ft → –");
    const other = { table: "alternative", row: 0, new_row: 0, item: 'alternative "b"', key: "fence" };
    expect(changeWords(change({ ...other, after: { rails: 3 } }))).toBe(
      "alternative “b”, fence: – → rails 3",
    );
    expect(changeWords(change({ key: "rail", after: "x".repeat(200) }))).toMatch(/→ x{79}…$/);
  });
});
