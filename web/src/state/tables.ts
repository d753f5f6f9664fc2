/** The design as the live stream sends it: tables of columns, changed by splices; rows are made where they are asked. */

export interface Splice {
  start: number;
  remove: number;
  values: unknown[];
  /** Rows that then take the values of `changed`; not there where none does. */
  rows?: number[];
  changed?: unknown[];
}

export interface TableChange {
  rows: number;
  columns: Record<string, Splice>;
}

export interface Table {
  rows: number;
  columns: Readonly<Record<string, readonly unknown[]>>;
}

export type Tables = Readonly<Record<string, Table>>;

/** The tables after a stage's changes; tables that it did not touch are the same objects as before. */
export function changed(tables: Tables, changes: Readonly<Record<string, TableChange>>): Tables {
  const next: Record<string, Table> = { ...tables };
  for (const [name, change] of Object.entries(changes)) {
    const columns: Record<string, readonly unknown[]> = change.rows ? { ...tables[name]?.columns } : {};
    for (const [key, splice] of Object.entries(change.columns)) {
      columns[key] = spliced(columns[key] ?? [], splice);
    }
    next[name] = { rows: change.rows, columns };
  }
  return next;
}

/** Tables with these columns alone. */
export function keptOnly(tables: Tables, names: Readonly<Record<string, readonly string[]>>): Tables {
  const kept: Record<string, Table> = {};
  for (const [table, columns] of Object.entries(names)) {
    const { rows, columns: all } = tables[table] ?? { rows: 0, columns: {} };
    kept[table] = { rows, columns: Object.fromEntries(columns.map((name) => [name, all[name] ?? []])) };
  }
  return kept;
}

function spliced(before: readonly unknown[], splice: Splice): readonly unknown[] {
  const { start, remove, values, rows = [], changed: single = [] } = splice;
  if (start === 0 && remove >= before.length && !rows.length) return values;
  const isInPlace = values.length === remove && start + remove <= before.length;
  const after = isInPlace
    ? before.slice()
    : before.slice(0, start).concat(values, before.slice(start + remove));
  if (isInPlace) for (let place = 0; place < remove; place++) after[start + place] = values[place];
  for (const [place, row] of rows.entries()) after[row] = single[place];
  return after;
}

/** A column of a table; null where it is stale or has not come yet. */
export function column<Value>(tables: Tables, table: string, key: string): readonly Value[] | null {
  const found = tables[table];
  const values = found?.columns[key];
  return found && values && values.length === found.rows ? (values as readonly Value[]) : null;
}

/** A number column; where it is stale, so many NaN. */
export function numbers(tables: Tables, table: string, key: string): readonly number[] {
  const found = column<number | null>(tables, table, key);
  if (!found) return new Array(tables[table]?.rows ?? 0).fill(Number.NaN);
  return found as readonly number[];
}

/** A text column; where it is stale, so many empty texts. */
export function texts(tables: Tables, table: string, key: string): readonly string[] {
  return column<string>(tables, table, key) ?? new Array(tables[table]?.rows ?? 0).fill("");
}

/** The rows of a table with every column that is not stale, or with those of some columns. */
export function rowsOf<Row>(tables: Tables, table: string, keys: readonly string[] | null = null): Row[] {
  const found = tables[table];
  if (!found) return [];
  const fresh = Object.entries(found.columns).filter(
    ([key, values]) => values.length === found.rows && (keys === null || keys.includes(key)),
  );
  return Array.from({ length: found.rows }, (_, place) => {
    const row: Record<string, unknown> = {};
    for (const [key, values] of fresh) row[key] = values[place];
    return row;
  }) as Row[];
}

/** One row of a table by the value of a column; null where there is none. */
export function rowBy<Row>(tables: Tables, table: string, key: string, value: unknown): Row | null {
  const row = column(tables, table, key)?.indexOf(value) ?? -1;
  const found = tables[table];
  if (row < 0 || !found) return null;
  const fresh = Object.entries(found.columns).filter(([, values]) => values.length === found.rows);
  return Object.fromEntries(fresh.map(([name, values]) => [name, values[row]])) as Row;
}
