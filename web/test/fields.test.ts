import { describe, expect, it } from "vitest";
import jobSchema from "../../docs/job.schema.json";
import { enteredValue, fieldsOf, type SchemaNode, typedOf } from "../src/panels/fields.ts";

const schema = jobSchema as SchemaNode;

describe("the job file's own schema gives the forms", () => {
  it.each(["job", "site", "fence", "posts", "holes", "brace", "top_line", "tension", "strength", "rolls"])(
    "%s has fields",
    (table) => {
      const fields = fieldsOf(schema, table);
      expect(fields.length).toBeGreaterThan(0);
      for (const field of fields) expect(field.entry === "choice").toBe(field.choices.length > 0);
    },
  );

  it("knows choices, lists and lengths", () => {
    const of = (table: string, key: string) => fieldsOf(schema, table).find((field) => field.key === key);
    expect(of("job", "sheets")?.choices).toEqual(["us", "metric"]);
    expect(of("posts", "line_lengths")?.entry).toBe("list");
    expect(of("site", "frost_depth")?.entry).toBe("text");
    expect(of("site", "unstable")?.entry).toBe("flag");
  });

  it("reads what was typed, an empty entry as the default", () => {
    const field = (entry: "text" | "number" | "list" | "flag") => ({
      key: "k",
      title: "",
      hint: "",
      entry,
      choices: [],
      example: "",
    });
    expect(enteredValue(field("text"), " 42 in ")).toBe("42 in");
    expect(enteredValue(field("text"), "  ")).toBeNull();
    expect(enteredValue(field("number"), "4")).toBe(4);
    expect(enteredValue(field("number"), "four")).toBe("four");
    expect(enteredValue(field("list"), "7 ft, 8 ft")).toEqual(["7 ft", "8 ft"]);
    expect(enteredValue(field("flag"), "false")).toBe(false);
    expect(typedOf(["7 ft", "8 ft"])).toBe("7 ft, 8 ft");
    expect(typedOf(null)).toBe("");
  });
});
