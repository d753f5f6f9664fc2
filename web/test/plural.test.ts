import { describe, expect, it, vi } from "vitest";
import { readLaterWords } from "../src/texts/program.ts";
import { setLanguage } from "../src/texts/say.ts";
import { unitWord } from "../src/texts/unit_words.ts";
import { plural } from "../src/units/plural.ts";
import fixture from "./fixtures/plural.json";

describe("the plural of a unit is the program's own", () => {
  it.each(fixture.plurals)("of '$word' it is '$plural'", ({ word, plural: many }) => {
    expect(plural(word)).toBe(many);
  });
});

describe("a unit beside its number", () => {
  it("agrees with it, where it is a word", () => {
    expect([unitWord("piece", 1), unitWord("piece", 76), unitWord("bag", 0), unitWord("h", 96.8)]).toEqual([
      "piece",
      "pieces",
      "bags",
      "h",
    ]);
  });
  it("in Spanish too", async () => {
    await readLaterWords("es");
    vi.stubGlobal("document", { documentElement: { lang: "" } });
    setLanguage("es");
    expect([unitWord("roll", 10), unitWord("roll", 1), unitWord("bag", 2)]).toEqual([
      "rollos",
      "rollo",
      "sacos",
    ]);
    setLanguage("en");
    vi.unstubAllGlobals();
  });
});
