/** Prices as they are typed: what each is of, what was typed and not kept yet, and the edit that keeps them. */

import type { Edit, NeededPrice } from "../api/client.ts";

/** What was typed for one price; a field that was not touched is left out. */
export interface Draft {
  price?: string;
  low?: string;
  high?: string;
}

export type Figure = keyof Draft;

/** Kinds in the order in which they are asked for: what hours cost moves a price most. */
export const KINDS = ["labour", "material", "plant", "travel", "other"] as const;

/** The same price before and after it was written into a book. */
export function keyOf(price: NeededPrice): string {
  return [price.item, price.size, price.unit, price.where === "the job" ? price.where : ""].join("|");
}

/** What has no price yet, and what has one; those of the job's own extras are changed with the extra. */
export function parted(prices: readonly NeededPrice[]): { missing: NeededPrice[]; known: NeededPrice[] } {
  const missing = prices.filter((one) => one.price === null);
  return { missing, known: prices.filter((one) => one.price !== null) };
}

/** Prices by kind, none of them empty. */
export function byKind(
  prices: readonly NeededPrice[],
): [kind: (typeof KINDS)[number], rows: NeededPrice[]][] {
  return KINDS.map((kind): [(typeof KINDS)[number], NeededPrice[]] => [
    kind,
    prices.filter((one) => one.kind === kind),
  ]).filter(([, rows]) => rows.length > 0);
}

/** A figure as it is shown in its field: as typed, else as the book has it. */
export function shownOf(price: NeededPrice, draft: Draft | undefined, figure: Figure): string {
  return draft?.[figure] ?? price[figure] ?? "";
}

/** Whether what was typed differs from what the book has. */
export function isTyped(price: NeededPrice, draft: Draft | undefined): boolean {
  if (!draft) return false;
  return (Object.keys(draft) as Figure[]).some(
    (figure) => (draft[figure] ?? "").trim() !== (price[figure] ?? ""),
  );
}

/** The edit that keeps what was typed, several prices as one; the program reads the figures, and refuses. */
export function keepingEdit(
  prices: readonly NeededPrice[],
  drafts: ReadonlyMap<string, Draft>,
  from: { date: string; supplier: string },
): Edit {
  return {
    kind: "prices",
    prices: prices.map((one) => {
      const draft = drafts.get(keyOf(one));
      const { item, size, kind, unit } = one;
      const range = one.low === null && one.high === null ? {} : rangeOf(one, draft);
      return { item, size, kind, unit, price: shownOf(one, draft, "price"), ...range, ...from };
    }),
  };
}

function rangeOf(one: NeededPrice, draft: Draft | undefined): { low: string; high: string } {
  return { low: shownOf(one, draft, "low"), high: shownOf(one, draft, "high") };
}

/** Today where the person is, as a price book has it. */
export function today(now = new Date()): string {
  const two = (part: number) => String(part).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}
