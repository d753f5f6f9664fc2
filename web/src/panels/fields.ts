/** Fields of the job file as its schema describes them: what kind of entry each takes, and typed text to its value. */

export interface SchemaNode {
  $ref?: string;
  type?: string | string[];
  enum?: unknown[];
  const?: unknown;
  anyOf?: SchemaNode[];
  items?: SchemaNode;
  prefixItems?: SchemaNode[];
  properties?: Record<string, SchemaNode>;
  examples?: unknown[];
  default?: unknown;
  required?: string[];
  maxLength?: number;
  title?: string;
  description?: string;
  $defs?: Record<string, SchemaNode>;
}

/** `list` is typed with commas between, `texts` one a line, `points` one a line with a comma between its two lengths. */
export type Entry = "text" | "number" | "choice" | "flag" | "list" | "numbers" | "texts" | "points";

export interface Field {
  key: string;
  title: string;
  hint: string;
  entry: Entry;
  choices: readonly string[];
  /** Its choices are numbers in the job file (`bays = 2`). */
  isCount: boolean;
  examples: readonly string[];
  /** The job file must state it. */
  isRequired: boolean;
}

/** Names that a job may use, by `table.key` or by key: its lines, rails, soils, ... */
export type KnownNames = Readonly<Record<string, readonly string[]>>;

/** Keys that say too little by themselves. */
const TITLES: Readonly<Record<string, string>> = {
  crs: "coordinate system",
  ground_sd: "standard deviation of the ground",
  tape_sd: "standard deviation of the tape",
  leaf: "leaf length",
  lat_lon: "latitude and longitude",
};

const MOST_POINTS = 200; // a longer list of points is for the plan

const NONE_KNOWN: KnownNames = {};
/** Fields by schema and table, without names to pick from: a list of findings asks for them over and over. */
const fieldsRead = new WeakMap<SchemaNode, Map<string, readonly Field[]>>();

/** Fields of one table of the job file, of its rows where it is repeated; tables within it are left out. */
export function fieldsOf(
  schema: SchemaNode,
  table: string,
  known: KnownNames = NONE_KNOWN,
): readonly Field[] {
  if (known !== NONE_KNOWN) return readFields(schema, table, known);
  const tables = fieldsRead.get(schema) ?? new Map<string, readonly Field[]>();
  fieldsRead.set(schema, tables);
  const fields = tables.get(table) ?? readFields(schema, table, known);
  tables.set(table, fields);
  return fields;
}

function readFields(schema: SchemaNode, table: string, known: KnownNames): Field[] {
  const found = schema.properties?.[table];
  const whole = found && resolved(schema, found);
  const node = whole?.items ? resolved(schema, whole.items) : whole;
  const required = new Set(node?.required ?? []);
  return Object.entries(node?.properties ?? {}).flatMap(([key, part]) => {
    const field = fieldOf(schema, key, part, required.has(key));
    if (!field) return [];
    const names = known[`${table}.${key}`] ?? known[key] ?? [];
    if (names.length === 0) return [field];
    if (field.entry === "texts") return [{ ...field, entry: "list" as const, examples: [names.join(", ")] }];
    return [field.entry === "text" ? { ...field, entry: "choice" as const, choices: names } : field];
  });
}

/** Whether a table of the job file is repeated (`[[gate]]`). */
export function isRepeated(schema: SchemaNode, table: string): boolean {
  return schema.properties?.[table]?.type === "array";
}

function resolved(schema: SchemaNode, node: SchemaNode): SchemaNode {
  const name = node.$ref?.split("/").at(-1);
  const target = name ? schema.$defs?.[name] : undefined;
  if (target) return { ...target, ...node };
  const only = node.anyOf?.filter((each) => each.type !== "null") ?? [];
  const [first] = only;
  if (only.length === 1 && first)
    return { ...resolved(schema, first), ...(node.description ? { description: node.description } : {}) };
  return node;
}

function fieldOf(schema: SchemaNode, key: string, part: SchemaNode, isRequired: boolean): Field | null {
  const node = resolved(schema, part);
  const kinds = [node, ...(node.anyOf ?? []).map((each) => resolved(schema, each))];
  const allowed = kinds.flatMap((each) => each.enum ?? (each.const === undefined ? [] : [each.const]));
  const choices = allowed.map(String);
  const entry = choices.length ? "choice" : entryOf(kinds);
  if (!entry) return null;
  const own = kinds.flatMap((each) => each.examples ?? each.items?.examples ?? []);
  return {
    key,
    title: TITLES[key] ?? key.replaceAll("_", " "),
    hint: part.description ?? node.description ?? "",
    entry,
    choices,
    isCount: allowed.some((each) => typeof each === "number"),
    examples: own.map(String),
    isRequired,
  };
}

function entryOf(kinds: readonly SchemaNode[]): Entry | null {
  const of = (type: string) =>
    kinds.some((each) => each.type === type || (Array.isArray(each.type) && each.type.includes(type)));
  if (of("boolean")) return "flag";
  if (of("array")) return kinds.map(listOf).find((each) => each !== null) ?? null;
  if (of("string")) return "text";
  return of("number") || of("integer") ? "number" : null;
}

function listOf(node: SchemaNode): Entry | null {
  if (node.type !== "array") return null;
  const first = node.prefixItems?.[0];
  if (first) return first.type === "number" ? "numbers" : "list";
  const { items } = node;
  if (items?.type === "array") return "points";
  if (!items || items.type === "object" || items.properties) return null;
  return items.examples || items.enum ? "list" : "texts";
}

/** What is shown where nothing is typed: an example in the job's units. */
export function exampleOf(field: Field, system: "us" | "metric"): string {
  const { examples } = field;
  return (system === "us" ? examples[0] : examples.at(-1)) ?? "";
}

/** What was typed as the job file has it; an empty entry is null, so that the default holds. */
export function enteredValue(field: Pick<Field, "entry" | "isCount">, typed: string): unknown {
  const text = typed.trim();
  if (text === "") return null;
  switch (field.entry) {
    case "number":
      return numberOr(text);
    case "flag":
      return text === "true";
    case "list":
      return partsOf(text, /[;,\n]/);
    case "numbers":
      return partsOf(text, /[;,\n]/).map(numberOr);
    case "texts":
      return partsOf(text, /\n/);
    case "points":
      return partsOf(text, /\n/).map((line) => partsOf(line, /[;,]/));
    case "choice":
      return field.isCount ? numberOr(text) : text;
    default:
      // A text field may take a bare count (`rails = 4`), which the file has as a number.
      return text;
  }
}

function numberOr(text: string): number | string {
  return Number.isFinite(Number(text)) ? Number(text) : text;
}

function partsOf(text: string, between: RegExp): string[] {
  return text
    .split(between)
    .map((part) => part.trim())
    .filter(Boolean);
}

/** A value of the job file as it is typed. */
export function typedOf(value: unknown, entry: Entry = "text"): string {
  if (value === null || value === undefined) return "";
  if (!Array.isArray(value)) return String(value);
  if (entry === "points") return value.map((point) => typedOf(point)).join("\n");
  return value.map(String).join(entry === "texts" ? "\n" : ", ");
}

/** Whether a field is too long to be typed: a line of very many points. */
export function isTooLong(field: Field, value: unknown): boolean {
  return field.entry === "points" && Array.isArray(value) && value.length > MOST_POINTS;
}
