import { describe, expect, it } from "vitest";
import jobSchema from "../../docs/job.schema.json";
import {
  type Entry,
  enteredValue,
  exampleOf,
  fieldsOf,
  isRepeated,
  isTooLong,
  type SchemaNode,
  typedOf,
} from "../src/panels/fields.ts";
import { TABLES } from "../src/panels/tables.ts";

const schema = jobSchema as SchemaNode;

const found = (table: string, key: string, known = {}) => {
  const field = fieldsOf(schema, table, known).find((each) => each.key === key);
  if (!field) throw new Error(`${table} has no field ${key}`);
  return field;
};

describe("the job file's own schema gives the forms", () => {
  it("every table of the job file has a form, and no other", () => {
    expect([...TABLES].sort()).toEqual(Object.keys(schema.properties ?? {}).sort());
  });

  it.each(TABLES)("%s has a field for every key", (table) => {
    const fields = fieldsOf(schema, table);
    const node = schema.properties?.[table];
    const name = (node?.$ref ?? node?.items?.$ref ?? "").split("/").at(-1) ?? "";
    expect(fields.map((field) => field.key).sort()).toEqual(
      Object.keys(schema.$defs?.[name]?.properties ?? {}).sort(),
    );
    for (const field of fields) expect(field.entry === "choice").toBe(field.choices.length > 0);
  });

  it("knows choices, lists, points and what must be stated", () => {
    expect(found("job", "sheets").choices).toEqual(["us", "metric"]);
    expect(found("posts", "line_lengths").entry).toBe("list");
    expect(found("paper", "included").entry).toBe("texts");
    expect(found("site", "origin").entry).toBe("numbers");
    expect(found("obstacle", "points").entry).toBe("points");
    expect(found("reference", "at").entry).toBe("list");
    expect(found("site", "unstable").entry).toBe("flag");
    expect(found("gate", "opening").isRequired).toBe(true);
    expect(found("gate", "leaf").isRequired).toBe(false);
    expect([isRepeated(schema, "gate"), isRepeated(schema, "fence")]).toEqual([true, false]);
  });

  it("offers names that the job knows", () => {
    const known = { line: ["north", "lane"], "stock.kept": ["horses", "cattle"] };
    expect(found("gate", "line", known)).toMatchObject({ entry: "choice", choices: ["north", "lane"] });
    expect(found("stock", "kept", known)).toMatchObject({ entry: "list", examples: ["horses, cattle"] });
  });

  it("shows examples in the job's units", () => {
    const depth = found("rock", "depth");
    expect([exampleOf(depth, "us"), exampleOf(depth, "metric")]).toEqual(["47 in", "1.2 m"]);
    expect(exampleOf(found("site", "coldest"), "metric")).toBe("-29 C");
    expect(exampleOf(found("posts", "line_lengths"), "us")).toBe("47 in");
    for (const key of ["low", "high", "gap_low", "gap_high"]) {
      const allowed = found("top_line", key); // inches, not the height of a post
      expect([exampleOf(allowed, "us"), exampleOf(allowed, "metric")]).toEqual(["3 in", "75 mm"]);
      expect(allowed.hint).toMatch(/than nominal|nominal height/);
    }
  });

  it.each<[Entry, string, unknown]>([
    ["text", " 42 in ", "42 in"],
    ["text", "  ", null],
    ["number", "4", 4],
    ["number", "four", "four"],
    ["list", "7 ft, 8 ft", ["7 ft", "8 ft"]],
    ["numbers", "44.1, -90.5", [44.1, -90.5]],
    ["texts", "Old fence, taken down\nDisposal", ["Old fence, taken down", "Disposal"]],
    [
      "points",
      "0 ft, 5' 6\"\n10 ft, 3 ft",
      [
        ["0 ft", "5' 6\""],
        ["10 ft", "3 ft"],
      ],
    ],
    ["flag", "false", false],
    ["choice", "2", "2"],
  ])("reads what was typed: %s %j", (entry, typed, value) => {
    expect(enteredValue({ entry, isCount: false }, typed)).toEqual(value);
    if (value !== null) expect(enteredValue({ entry, isCount: false }, typedOf(value, entry))).toEqual(value);
  });

  it("a choice among numbers is a number in the file", () => {
    expect(enteredValue(found("brace", "bays"), "2")).toBe(2);
    expect(enteredValue(found("gate", "line", { line: ["1", "2"] }), "2")).toBe("2");
  });

  it("leaves a line of very many points to the plan", () => {
    const points = found("line", "points");
    expect(isTooLong(points, Array(500).fill(["0 m", "0 m"]))).toBe(true);
    expect(isTooLong(points, [["0 m", "0 m"]])).toBe(false);
  });
});
