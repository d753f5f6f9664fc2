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
  partsInPage,
  placeInPage,
  readLaterWords,
} from "../src/texts/program.ts";
import { sayInEnglish, setLanguage } from "../src/texts/say.ts";

beforeEach(async () => {
  await readLaterWords("es");
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

  it.each([
    [
      "Pull R1-1 (polymer rail, 629.3 ft) has no tension that both summer and winter allow: at 68 F it needs 180 lbf so as to sag no more than 2 in at 130 F (rail in the sun), and may have 150 lbf so as to stay within what its corner P3 carries at -20 F; 30 lbf are missing.",
      "La tirada R1-1 (riel de polímero, 629.3 ft) no tiene tensión que sirva en verano y en invierno: a 68 F necesita 180 lbf para no colgar más de 2 in a 130 F (riel al sol), y puede tener 150 lbf para no pasar de lo que aguanta su esquina P3 a -20 F; faltan 30 lbf.",
    ],
    [
      "Any of: set [tension] spring_keeper = true, a spring-loaded keeper on each rail; divide it by [[strain]] posts into 2 straight pulls of about 314.6 ft; take a rail that may carry 900 lbf on the coldest day; take a lighter-coloured or lighter rail, a shorter [fence] spacing_limit, or a larger [tension] sag_limit.",
      "Cualquiera de estas: ponga [tension] spring_keeper = true, un tensor de resorte en cada riel; divídala con postes [[strain]] en 2 tiradas rectas de unos 314.6 ft; use un riel que pueda llevar 900 lbf el día más frío; use un riel más claro o más liviano, un [fence] spacing_limit menor, o un [tension] sag_limit mayor.",
    ],
    [
      "notes.csv closes to within 3/8 in over 196.8 ft of plan (exact); 1/8 in in height; residuals 2.4 times what tape and level promise",
      "notes.csv cierra con 3/8 in en 196.8 ft de planta (exacto); 1/8 in en altura; residuos de 2.4 veces lo que prometen cinta y nivel",
    ],
    [
      "P4 does not hold at the rock, 20 in down (150%); no depth that can be dug would pass.",
      "P4 no aguanta en la roca, a 20 in (150%); ninguna profundidad que se pueda cavar pasaría.",
    ],
    [
      "In this order: move it up to 6 in back or 0 in ahead; cast a collar 24 in wide round it from the rock up; or drill a socket 10 in wide 12 in into the rock and grout the post in.",
      "En este orden: muévalo hasta 6 in hacia atrás o 0 in hacia adelante; hágale un collar de concreto de 24 in de ancho desde la roca hacia arriba; o perfore en la roca un hueco de 10 in de ancho y 12 in de hondo y fije ahí el poste con mortero.",
    ],
    [
      "The hole of P7 (corner) reaches 3 in into the clearance of tree 2.",
      "El hoyo de P7 (esquina) entra 3 in en la distancia libre de árbol 2.",
    ],
    [
      "Move it as far away, or have the buried gas located and its clearance made smaller.",
      "Muévalo otro tanto más lejos, o haga localizar el servicio (gas enterrado) y reduzca su distancia libre.",
    ],
    [
      "The job states neither overhead nor margin: 10 % and 15 % are taken (common practice, no source).",
      "El trabajo no declara gastos generales ni margen: se toman 10 % y 15 % (práctica común, sin fuente).",
    ],
    [
      'the ground (dem.tif, raster in cells of 3.3 ft) has no height for line "north" from station 10.0 ft to 20.0 ft',
      "El terreno (dem.tif, ráster de celdas de 3.3 ft) no tiene altura para la línea «north» de la progresiva 10.0 ft a 20.0 ft.",
    ],
    [
      'Use thicker posts, [posts] end_diameter = "8 in"; a roller or bracket that stands further off, [tension] corner_bracket = "3 in"; or two bends, a span apart, in place of one.',
      'Use postes más gruesos, [posts] end_diameter = "8 in"; un rodillo o soporte más separado, [tension] corner_bracket = "3 in"; o dos quiebros, a un vano uno de otro, en vez de uno.',
    ],
    [
      "Measured post offset: 2 in; designed 0 in, -1 in to 1 in is in tolerance.",
      "Medido, desplazamiento del poste: 2 in; según diseño, 0 in; en tolerancia, de -1 in a 1 in.",
    ],
    [
      "1 line has no price, and the total leaves out what they cost: gate (piece).",
      "1 renglón está sin precio, y el total deja fuera lo que cuestan: puerta (pza.).",
    ],
    ["3 prices without a date: post, rail, bag.", "3 precios sin fecha: poste, riel, saco."],
    [
      "old.shp is in NAD27, of another datum than NAD83 / UTM zone 16N: it may lie off against other files by an unknown amount, maybe tens of feet",
      "old.shp está en NAD27, de otro datum que NAD83 / UTM zone 16N: puede quedar corrido respecto de otros archivos una cantidad desconocida, quizá decenas de pies.",
    ],
  ])("puts a finding into Spanish whole: %s", (said, own) => {
    expect(inPage(said)).toBe(own);
    expect(langOf(said)).toBe(nothing);
  });

  it.each([
    [
      "2 in above nominal, for a smooth line; level with the post across the gate",
      "2 in sobre la nominal, para una línea pareja; a nivel con el poste del otro lado de la puerta",
    ],
    ['88% used, governed by the case "cold pull"', "88% usado, gobernado por el caso «tirada en frío»"],
    [
      "auger holes, sand, to 9 in: done in an hour by a gang of 2; holes 36 in deep, moving from hole to hole included; hours grow with depth",
      "barrenar hoyos, arena, hasta 9 in: lo que hace en una hora una cuadrilla de 2; hoyos de 36 in, con el paso de hoyo a hoyo; las horas crecen con la profundidad",
    ],
    [
      "the run of 820.2 ft is longer than one pull's 656.2 ft",
      "el tramo de 820.2 ft pasa de los 656.2 ft de una tirada",
    ],
    ["seed of the draws", "semilla de los sorteos"],
  ])("puts a reason into Spanish whole: %s", (said, own) => {
    expect(inPage(said)).toBe(own);
    expect(langOf(said)).toBe(nothing);
  });

  it("quotes a trade default's reason in an origin that is in its own language", () => {
    expect(inPage("trade default holes.auger, why nobody says (common practice, no source)")).toBe(
      "valor habitual holes.auger, «why nobody says» (práctica común, sin fuente)",
    );
    expect(partsInPage("trade default holes.auger, why nobody says (common practice, no source)")).toEqual([
      { words: "valor habitual holes.auger, «", lang: nothing },
      { words: "why nobody says", lang: "en" },
      { words: "» (práctica común, sin fuente)", lang: nothing },
    ]);
    expect(inPage("trade default holes.auger, 12 in auger (common practice, no source)")).toBe(
      "valor habitual holes.auger, «barrena de 12 in» (práctica común, sin fuente)",
    );
    expect(partsInPage("never said before")).toEqual([{ words: "never said before", lang: "en" }]);
    const named = partsInPage('End "Norte" on "Sur" and start a new line beyond it.');
    expect(named.map(({ lang }) => lang)).toEqual(named.map(() => nothing));
  });

  it.each([
    [
      "it is a PNG picture, not GPX: give it its right name, or another file",
      "es una imagen PNG, no GPX: póngale su nombre correcto, o dé otro archivo",
    ],
    [
      "this name leaves the job's folder: give the file to the job, and name it alone",
      "este nombre sale de la carpeta del trabajo: dé el archivo al trabajo y escriba solo su nombre",
    ],
    [
      "this edit cannot be read: 5 characters are too few: write at least 6",
      "este cambio no se puede leer: 5 caracteres son muy pocos: escriba al menos 6",
    ],
    ["anchor and pull, fence builder", "anclar y tirar, alambrador"],
    ["round post 4.5 in x 8 ft", "poste redondo 4.5 in x 8 ft"],
    ["crew 1, crew 2, mixer", "cuadrilla 1, cuadrilla 2, mezcladora"],
    ["over 3 days off: Memorial Day, weekend", "con 3 días libres en medio: Memorial Day, fin de semana"],
    ["the job with fence rails 3", "el trabajo con Rieles, rieles: 3"],
    [
      "job.toml: programme, work_days: no day of the week is a working day: name at least one",
      "job.toml: Programa, días de trabajo: ningún día de la semana es de trabajo: nombre al menos uno",
    ],
  ])("puts a sentence into Spanish whole: %s", (said, told) => {
    expect(inPage(said)).toBe(told);
    expect(langOf(said)).toBe(nothing);
  });

  it("names what holds a fault by the words of its table and key, and a key without a title as it stands", () => {
    expect(placeInPage('gate 1 "main, north", opening')).toBe("puerta 1 «main, north», luz");
    expect(placeInPage("[paper] logo")).toBe("Documentos, logotipo");
    expect(placeInPage('row 2 "a", point 3')).toBe("fila 2 «a», punto 3");
    expect(placeInPage('rail "own", face_height')).toBe("riel «own», face_height");
    expect(placeInPage("nobody knows 3 of these")).toBeNull();
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
      "línea «north»: no hay esquina 9: la línea tiene 4",
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

describe("what a finding names", () => {
  it.each([
    [
      "P40 and 1 more: bending of the post is at 390 % (1.59 kN of 408 N) under wind (nds, 4.2).",
      /^P40 y 1 más: .*\(1\.59 kN de 408 N\)/,
    ],
    ["Between P16 and P17 the ground comes 2 in too near the lowest rail.", /^Entre P16 y P17 el suelo/],
    ["Between P16 and P17 the gap under the lowest rail is 2 in too large.", /^Entre P16 y P17 la luz/],
    [
      "The tops of P64 and P65 cannot be level: their bands miss each other by 2 in.",
      /^Las puntas de P64 y P65 no/,
    ],
  ])("leaves no English in between: %s", (said, shown) => {
    expect(inPage(said)).toMatch(shown);
  });
});
