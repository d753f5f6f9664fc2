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
  title?: string;
  description?: string;
  $defs?: Record<string, SchemaNode>;
}

export type Entry = "text" | "number" | "choice" | "flag" | "list";

export interface Field {
  key: string;
  title: string;
  hint: string;
  entry: Entry;
  choices: string[];
  example: string;
}

/** Fields of one table of the job file; tables within it are left out. */
export function fieldsOf(schema: SchemaNode, table: string): Field[] {
  const found = schema.properties?.[table];
  const node = found && resolved(schema, found);
  return Object.entries(node?.properties ?? {}).flatMap(([key, part]) => {
    const field = fieldOf(schema, key, part);
    return field ? [field] : [];
  });
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

function fieldOf(schema: SchemaNode, key: string, part: SchemaNode): Field | null {
  const node = resolved(schema, part);
  const kinds = [node, ...(node.anyOf ?? []).map((each) => resolved(schema, each))];
  const of = (type: string) => kinds.some((each) => each.type === type);
  const choices = kinds
    .flatMap((each) => each.enum ?? (each.const === undefined ? [] : [each.const]))
    .map(String);
  const examples = kinds.flatMap((each) => each.examples ?? []);
  const entry: Entry | null = choices.length
    ? "choice"
    : of("boolean")
      ? "flag"
      : of("array")
        ? "list"
        : of("string")
          ? "text"
          : of("number") || of("integer")
            ? "number"
            : null;
  if (!entry) return null;
  if (entry === "list" && kinds.some((each) => each.items && isNested(resolved(schema, each.items))))
    return null;
  return {
    key,
    title: key.replaceAll("_", " "),
    hint: part.description ?? node.description ?? "",
    entry,
    choices,
    example: String(examples[0] ?? ""),
  };
}

function isNested(node: SchemaNode): boolean {
  return node.type === "object" || node.type === "array" || Boolean(node.properties);
}

/** What was typed as the job file has it; an empty entry is null, so that the default holds. */
export function enteredValue(field: Field, typed: string): unknown {
  const text = typed.trim();
  if (text === "") return null;
  if (field.entry === "number") return Number.isFinite(Number(text)) ? Number(text) : text;
  if (field.entry === "flag") return text === "true";
  if (field.entry === "list")
    return text
      .split(/[;,]/)
      .map((part) => part.trim())
      .filter(Boolean);
  // A text field may take a bare count (`rails = 4`), which the file has as a number.
  return text;
}

/** A value of the job file as it is typed. */
export function typedOf(value: unknown): string {
  if (value === null || value === undefined) return "";
  return Array.isArray(value) ? value.map(String).join(", ") : String(value);
}
