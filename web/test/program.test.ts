import { nothing } from "lit";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import en from "../src/texts/en.json";
import es from "../src/texts/es.json";
import {
  fieldWords,
  findingWords,
  inPage,
  langOf,
  langOfSaid,
  readProgramWords,
} from "../src/texts/program.ts";
import { sayInEnglish, setLanguage } from "../src/texts/say.ts";

beforeEach(async () => {
  await readProgramWords("es");
  vi.stubGlobal("document", { documentElement: { lang: "" } });
  setLanguage("es");
});

afterEach(() => {
  setLanguage("en");
  vi.unstubAllGlobals();
});

describe("the two languages of the page", () => {
  it("have the same texts with the same values in them", () => {
    const holes = (texts: Record<string, string>) =>
      Object.fromEntries(
        Object.entries(texts).map(([key, text]) => [key, (text.match(/\{\w+\}/g) ?? []).sort().join(" ")]),
      );
    expect(holes(es)).toEqual(holes(en));
  });
});

describe("what the program says", () => {
  it("stands in the page's language, with its numbers and names as they were", () => {
    expect(inPage("corner")).toBe("esquina");
    expect(inPage("The job states no frost depth: 12 in is assumed.")).toContain("12 in");
    expect(inPage('move corner 2 of line "paddock"')).toBe("mover esquina 2 de línea «paddock»");
    expect(inPage("13 1/2 in less between P166 and P197 would save a post.")).toBe(
      "Con 13 1/2 in menos entre P166 y P197 se ahorra un poste.",
    );
  });

  it("is translated inside, where a phrase says so", () => {
    expect(inPage("cold pull, gate swung open")).toBe("tirada en frío, puerta abierta");
    expect(
      inPage("143 tamped posts end above the frost line at 42 in in silty sand: frost may lift them."),
    ).toContain("arena limosa");
    expect(inPage("set spacing limit of fence")).toBe("declarar separación máxima de cerca");
  });

  it("keeps a person's own name that happens to be a word of the program", () => {
    expect(inPage('move line "corner"')).toBe("mover línea «corner»");
  });

  it("takes the phrase that says most of the text", () => {
    expect(inPage('remove corner 3 of line "north"')).toBe("quitar esquina 3 de línea «north»");
    expect(inPage('open line "north" at corner 3')).toBe("abrir línea «north» en la esquina 3");
  });

  it("says the labels of edits made together, each in turn", () => {
    expect(inPage("remove gate 2; add pin 3")).toBe("quitar puerta 2; agregar punto fijado 3");
    expect(inPage(sayInEnglish("several_pin", { count: 3 }))).toBe("Fijar las puntas de 3 postes");
  });

  it("says a list of things in turn", () => {
    const list =
      "emissivity 0.9 (from memory); 35% of its breaking load on the coldest day (common practice); no creep (wires of steel at this share of their strength; no source)";
    expect(inPage(`The data sheet of own rail leaves out what is assumed here: ${list}.`)).toBe(
      "La hoja técnica de own rail deja fuera lo que aquí se supone: emisividad 0.9 (de memoria); " +
        "35% de su carga de rotura en el día más frío (práctica común); " +
        "sin fluencia (alambres de acero a esta parte de su resistencia; sin fuente).",
    );
  });

  it("stays English where no phrase fits, and is marked so", () => {
    const unknown = "A sentence that nobody has put into another language.";
    expect(inPage(unknown)).toBe(unknown);
    expect(langOf(unknown)).toBe("en");
    expect(langOf("corner")).toBe(nothing);
  });

  it("is not marked on an English page", () => {
    setLanguage("en");
    expect(inPage("corner")).toBe("corner");
    expect(langOf("whatever it is")).toBe(nothing);
  });
});

describe("a refusal", () => {
  it("is marked where it is the program's, not where it is the page's own", () => {
    expect(langOfSaid("a sentence of the program that has no phrase yet")).toBe("en");
    expect(langOfSaid("there is no corner 9: the line has 4")).toBe(nothing);
    expect(inPage('line "north": there is no corner 9: the line has 4')).toBe(
      'line "north": no hay esquina 9: la línea tiene 4',
    );
    expect(langOfSaid(es.lost)).toBe(nothing);
    expect(langOfSaid(es.no_such_post.replace("{name}", "P99999999"))).toBe(nothing);
  });
});

describe("findings and keys of the job file", () => {
  it("have their headings and names", () => {
    expect(findingWords("frost-heave").heading).toBe("La helada puede levantar postes");
    expect(findingWords("frost-heave").mends).toContain("grava");
    expect(fieldWords("fence", "spacing_limit")?.title).toBe("separación máxima");
    setLanguage("en");
    expect(findingWords("frost-heave")).toEqual({ heading: "Frost may lift tamped posts" });
    expect(fieldWords("fence", "spacing_limit")).toBeNull();
  });
});
