import { describe, expect, it } from "vitest";
import { lineOfPlace, lineSaid } from "../src/panels/text_place.ts";

const TEXT = `[job]
name = "Two gates"

[[gate]]
line = "home"
leaf = "steel"

[[gate]]
line = "home"
leaf = "wood"

[[alternative]]
name = "one"
[alternative.fence]
rails = 3

[[alternative]]
name = "two"
[[alternative.gate]]
leaf = "none"
`;

describe("a place of the job file is found in its text", () => {
  it.each([
    [["job", "name"], 2],
    [["gate", 0, "leaf"], 6],
    [["gate", 1, "leaf"], 10],
    [["gate", 1, "opening"], 8],
    [["gate"], 4],
    [["alternative", 0, "fence", "rails"], 15],
    [["alternative", 1, "gate", 0, "leaf"], 20],
    [["site", "soil"], 0],
    [[], 0],
  ])("%j is on line %i", (place, line) => {
    expect(lineOfPlace(TEXT, place as (string | number)[])).toBe(line);
  });

  it("takes the line that the reader names", () => {
    expect(lineSaid("line 3 is not valid TOML: nothing stands behind the =: write a value")).toBe(3);
    expect(lineSaid("'half' is no ratio")).toBe(0);
  });
});
