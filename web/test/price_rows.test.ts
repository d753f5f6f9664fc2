import { expect, test } from "vitest";
import type { NeededPrice } from "../src/api/client.ts";
import {
  byKind,
  type Draft,
  isTyped,
  keepingEdit,
  keyOf,
  parted,
  shownOf,
  today,
} from "../src/panels/price_rows.ts";

function price(more: Partial<NeededPrice>): NeededPrice {
  return {
    item: "round post",
    size: "6 in x 9 ft",
    kind: "material",
    unit: "piece",
    pack: "1",
    price: null,
    low: null,
    high: null,
    date: "",
    supplier: "",
    where: "",
    why: "",
    quantity: 5,
    used_for: ["round post"],
    ...more,
  };
}

const post = price({});
const wage = price({
  item: "labourer",
  size: "",
  kind: "labour",
  unit: "h",
  price: "27.00",
  low: "25.00",
  high: "32.00",
  where: "p.csv, row 2",
});

test("what is missing stands apart, hours first", () => {
  expect(parted([post, wage])).toEqual({ missing: [post], known: [wage] });
  expect(byKind([post, wage]).map(([kind]) => kind)).toEqual(["labour", "material"]);
});

test("a price is the same before and after it is kept", () => {
  expect(keyOf(post)).toBe(keyOf({ ...post, price: "36.50", where: "p.csv, row 9" }));
  expect(keyOf(post)).not.toBe(keyOf({ ...post, size: "6 in x 8 ft" }));
});

test("only what differs counts as typed", () => {
  expect(isTyped(post, undefined)).toBe(false);
  expect(isTyped(post, { price: " " })).toBe(false);
  expect(isTyped(post, { price: "36.50" })).toBe(true);
  expect(isTyped(wage, { price: "27.00" })).toBe(false);
  expect(isTyped(wage, { high: "40" })).toBe(true);
  expect(isTyped(wage, { price: "" })).toBe(true);
});

test("what was typed goes out as it was typed, as one edit", () => {
  const drafts = new Map<string, Draft>([
    [keyOf(post), { price: "36,50" }],
    [keyOf(wage), { high: "40" }],
  ]);
  expect(shownOf(wage, drafts.get(keyOf(wage)), "low")).toBe("25.00");
  expect(keepingEdit([post, wage], drafts, { date: "2026-11-26", supplier: "" })).toEqual({
    kind: "prices",
    prices: [
      {
        item: "round post",
        size: "6 in x 9 ft",
        kind: "material",
        unit: "piece",
        price: "36,50",
        date: "2026-11-26",
        supplier: "",
      },
      {
        item: "labourer",
        size: "",
        kind: "labour",
        unit: "h",
        price: "27.00",
        low: "25.00",
        high: "40",
        date: "2026-11-26",
        supplier: "",
      },
    ],
  });
});

test("a day is written as a price book has it", () => {
  expect(today(new Date(2026, 2, 5))).toBe("2026-03-05");
});
