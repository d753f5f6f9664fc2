/** Sorting, filtering and CSV of a table's rows: pure, so that it can be tested without a page. */

export type Cell = string | number | boolean | null | undefined;

export interface Column<Row> {
  /** Stable name, also the CSV heading. */
  key: string;
  /** Heading as shown. */
  title: string;
  /** What is shown. */
  text: (row: Row) => string;
  /** Language of that text, where it is not the page's. */
  lang?: (row: Row) => unknown;
  /** What it is sorted by; left out: the text. */
  value?: (row: Row) => Cell;
  /** Numbers stand right, in tabular figures. */
  isNumber?: boolean;
  /** Words that may run over several rows. */
  isLong?: boolean;
  /** Whole sentences: in smaller letters, and where the table is pushed aside anyway wide enough for two rows. */
  isWide?: boolean;
  /** Its text in parts, none of which runs over rows; left out: only a number and its unit stay together. */
  parts?: (row: Row) => readonly string[];
}

export interface Order {
  key: string;
  down: boolean;
}

/** Rows whose shown text holds every word of the filter, in the order asked; the given order breaks ties. */
export function arranged<Row>(
  rows: readonly Row[],
  columns: readonly Column<Row>[],
  filter: string,
  order: Order | null,
): Row[] {
  const words = filter.toLowerCase().split(/\s+/).filter(Boolean);
  const kept = words.length
    ? rows.filter((row) => {
        const text = columns.map((column) => column.text(row).toLowerCase()).join(" ");
        return words.every((word) => text.includes(word));
      })
    : [...rows];
  const column = order && columns.find((each) => each.key === order.key);
  if (!column) return kept;
  const value = column.value ?? column.text;
  const way = order.down ? -1 : 1;
  return kept
    .map((row, place) => ({ row, place, value: value(row) }))
    .sort((a, b) => way * compared(a.value, b.value) || a.place - b.place)
    .map((each) => each.row);
}

const collator = new Intl.Collator("en", { numeric: true });

/** Numbers by size, texts with their numbers by size (P2 before P10), what is missing last. */
function compared(a: Cell, b: Cell): number {
  const [gone_a, gone_b] = [isMissing(a), isMissing(b)];
  if (gone_a || gone_b) return Number(gone_a) - Number(gone_b);
  if (typeof a === "number" && typeof b === "number") return a - b;
  return collator.compare(String(a), String(b));
}

function isMissing(value: Cell): boolean {
  return (
    value === null ||
    value === undefined ||
    value === "" ||
    (typeof value === "number" && Number.isNaN(value))
  );
}

/** The rows as CSV with CRLF; no cell can start a formula in a spreadsheet. */
export function csvOf<Row>(rows: readonly Row[], columns: readonly Column<Row>[]): string {
  const lines = [columns.map((column) => quoted(column.title))];
  for (const row of rows) lines.push(columns.map((column) => quoted(column.text(row))));
  return lines.map((cells) => `${cells.join(",")}\r\n`).join("");
}

function quoted(text: string): string {
  const isNumber = /^-?[\d.,]+$/.test(text);
  const safe = /^[=+\-@\t\r]/.test(text) && !isNumber ? `'${text}` : text;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}

/** A text that may run over several rows, in which no number parts from its unit. */
export function keptTogether(text: string): string {
  return text.replace(/(\d) (?=[a-z°%])/g, "$1\u00a0");
}
