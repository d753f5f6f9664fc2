import { describe, expect, it } from "vitest";
import jobSchema from "../../docs/job.schema.json";
import type { SchemaNode } from "../src/panels/fields.ts";
import { inFormWords, placeOfPath, placesIn } from "../src/panels/form_words.ts";

const schema = jobSchema as SchemaNode;

describe("names of the job file in the words of its forms", () => {
  it("says table and field instead of brackets", () => {
    expect(inFormWords("Set [site] frost_depth.", schema)).toBe(
      "Set “Ground, soil and climate: frost depth”.",
    );
    expect(inFormWords('set [holes] brace_depth = "46 in"; or dig', schema)).toBe(
      "set “Holes and concrete: brace depth” = 46 in; or dig",
    );
  });

  it("leaves no bare key in what mends a pull with no window", () => {
    const mends = "a shorter [fence] spacing_limit, or a larger [tension] sag_limit"; // tests/tension holds the program to it
    expect(inFormWords(mends, schema)).not.toMatch(/_limit/);
  });

  it("leaves out the dots for what is to be stated", () => {
    expect(inFormWords("then set [site] soil = ... .", schema)).toBe(
      "then set “Ground, soil and climate: soil”.",
    );
  });

  it("names both of two keys of one table", () => {
    expect(inFormWords("Set [site] coldest and hottest from a station.", schema)).toMatch(
      /^Set “Ground, soil and climate: [^”]+” and “Ground, soil and climate: [^”]+” from a station\.$/,
    );
    expect(placesIn(["Set [site] coldest and hottest."], schema)).toEqual([
      { table: "site", key: "coldest" },
      { table: "site", key: "hottest" },
    ]);
    expect(inFormWords("[site] soil and dig", schema)).toMatch(/” and dig$/);
  });

  it("names each of three keys of one table", () => {
    const said = inFormWords("State [fence] rails, top_height and bottom_gap where yours differ.", schema);
    expect(said).toMatch(/^State “Rails: [^”]+”, “Rails: [^”]+” and “Rails: [^”]+” where yours differ\.$/);
    expect(said).not.toContain("_");
    expect(inFormWords("[fence] rails, posts and wire", schema)).toMatch(/”, posts and wire$/);
  });

  it("takes no word of the sentence for a key", () => {
    expect(inFormWords("State your own as [[rate]] in the job.", schema)).toMatch(
      /^State your own as “[^”]+” in the job\.$/,
    );
    expect(placesIn(["by [site] and [site] soil"], schema)).toEqual([
      { table: "site", key: "" },
      { table: "site", key: "soil" },
    ]);
  });

  it("finds the row and the field of a path", () => {
    expect(placeOfPath(["gate", 0, "at"])).toEqual({ table: "gate", row: 0, key: "at" });
    expect(placeOfPath(["line", 2, "points", 3])).toEqual({ table: "line", row: 2, key: "points" });
    expect(placeOfPath(["gate", 1])).toEqual({ table: "gate", row: 1, key: "" });
    expect(placeOfPath(["fence", "rails"])).toEqual({ table: "fence", key: "rails" });
    expect(placeOfPath(["ground"])).toBeNull();
    expect(placeOfPath([])).toBeNull();
  });

  it("leaves what is no table of the job file as it is", () => {
    expect(inFormWords("of [lb] or [barn] door", schema)).toBe("of [lb] or [barn] door");
    expect(placesIn(["[[reference]] twice: add two [[reference]]", "[lb]"], schema)).toEqual([
      { table: "reference", key: "" },
    ]);
  });
});
