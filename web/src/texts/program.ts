/**
 * What the program says in English, in the page's language: findings, labels of edits, names of things and values.
 *
 * The program's words come whole, with their numbers in them. A language has a file of phrases, each the program's own
 * with its values as holes (`move corner {number} of {thing}`), and what it is in that language; a hole written
 * `{~thing}` there is translated in turn. What no phrase fits stays English and is marked as such.
 */

import { nothing } from "lit";
import findingsEn from "./findings.en.json";
import { languageInUse, ownTexts } from "./say.ts";

interface FindingWords {
  heading: string;
  /** What mends it in general, where the program's own sentence is in another language. */
  mends?: string;
  says?: Record<string, string>;
}

interface ProgramWords {
  findings: Readonly<Record<string, FindingWords>>;
  /** By table and key: name and help. */
  fields: Readonly<Record<string, Readonly<Record<string, string[]>>>>;
  phrases: Readonly<Record<string, string>>;
}

interface Phrases {
  exact: ReadonlyMap<string, string>;
  patterns: readonly Pattern[];
  done: Map<string, string | null>;
}

interface Pattern {
  /** Holes that take as little as they can, and as much: `42 in in sand` is read one way only. */
  fits: readonly [RegExp, RegExp];
  holes: readonly string[];
  as: string;
  /** Letters that are the phrase's own. */
  literal: number;
}

const LEAST_LITERAL = 12;

/** The language that the program itself speaks. */
const PROGRAM = "en";

type Source = () => Promise<{ default: ProgramWords }>;

/** Of each language the words of the first sight, and those of what comes later. */
const SOURCES: Record<string, { first: Source; later: Source }> = {
  es: { first: () => import("./program.es.ts"), later: () => import("./later.es.ts") },
};
const words: Record<string, ProgramWords> = {
  [PROGRAM]: { findings: findingsEn, fields: {}, phrases: {} },
};
const read: Record<string, Phrases> = {};
/** Languages whose later words have come too. */
const whole = new Set<string>();

/** Fetch a language's words for what the program says; without them, that stays English and is marked so. */
export async function readProgramWords(language: string): Promise<void> {
  const source = SOURCES[language];
  if (language in words || !source) return;
  try {
    words[language] = (await source.first()).default;
  } catch {
    // the program cannot be reached: it is asked for again with the next change of language
  }
}

/** Fetch its words for the panels that come later too; gives whether there is more to say than before. */
export async function readLaterWords(language: string): Promise<boolean> {
  await readProgramWords(language);
  const source = SOURCES[language];
  if (!source || whole.has(language)) return false;
  try {
    const later = (await source.later()).default;
    const first = words[language];
    if (!first || whole.has(language)) return false;
    whole.add(language);
    words[language] = {
      fields: { ...first.fields, ...later.fields },
      findings: { ...first.findings, ...later.findings },
      phrases: { ...first.phrases, ...later.phrases },
    };
    delete read[language];
    return true;
  } catch {
    return false; // as above
  }
}

/** What the words of the program are told from now: the same object as long as they stay the same; null where there are none. */
export function wordsInUse(): object | null {
  return words[languageInUse()] ?? null;
}

/** A finding's heading in the page's language, and what mends it where the program says that in another one. */
export function findingWords(code: string): FindingWords {
  return words[languageInUse()]?.findings[code] ?? words[PROGRAM]?.findings[code] ?? { heading: code };
}

/** Name and help of a key of the job file, where the page's language is not that of the file's own schema. */
export function fieldWords(table: string, key: string): { title: string; hint: string } | null {
  const [title, hint] = words[languageInUse()]?.fields[table]?.[key] ?? [];
  return title === undefined ? null : { title, hint: hint ?? "" };
}

/** What the program says, in the page's language where that is known. */
export function inPage(text: string): string {
  return translated(text) ?? text;
}

/** The language that a text of the program stands in once it is shown, for the `lang` of its element. */
export function langOf(text: string): string | typeof nothing {
  return languageInUse() === PROGRAM || translated(text) !== null ? nothing : PROGRAM;
}

/**
 * What is said, in parts: words that a translation quotes (`«12 in auger»`) because nobody translated them stand in the
 * program's language, and are marked so. A name that the program itself had in quotes is nobody's to translate.
 */
export function partsInPage(text: string): readonly { words: string; lang: string | typeof nothing }[] {
  const lang = langOf(text);
  const parts = translated(text)?.split(/(?<=«)([^«»]+)(?=»)/) ?? [text];
  return parts.map((words, place) => {
    const isQuoted = place % 2 === 1 && text.includes(words) && !text.includes(`"${words}"`);
    return { words, lang: isQuoted ? PROGRAM : lang };
  });
}

/** The same for a sentence that may be the page's own, such as a refusal. */
export function langOfSaid(text: string): string | typeof nothing {
  if (languageInUse() === PROGRAM || text === "") return nothing;
  return ownPatterns().some(({ fits }) => fits[0].test(text)) ? nothing : langOf(text);
}

function translated(text: string): string | null {
  const language = languageInUse();
  if (language === PROGRAM) return null;
  const own = words[language];
  if (!own) return null;
  read[language] ??= phrasesOf(own);
  return inTurn(text, read[language]);
}

/** Longest text first, so that the phrase that says most of a sentence is the one that fits. */
function phrasesOf({ findings, fields, phrases }: ProgramWords): Phrases {
  const sayings = Object.values(findings).flatMap((each) => Object.entries(each.says ?? {}));
  const keys = Object.values(fields).flatMap((table) =>
    Object.entries(table).map(([key, [title = key]]): [string, string] => [key.replaceAll("_", " "), title]),
  );
  const all = [...keys, ...sayings, ...Object.entries(phrases)];
  const patterns = all
    .filter(([phrase]) => /\{\w+\}/.test(phrase))
    .sort(([a], [b]) => literal(b) - literal(a))
    .map(([phrase, as]) => patternOf(phrase, as));
  return { exact: new Map(all), patterns, done: new Map() };
}

function literal(phrase: string): number {
  return phrase.replace(/\{\w+\}/g, "").length;
}

function patternOf(phrase: string, as: string): Pattern {
  const holes: string[] = [];
  const parts = phrase.split(/(\{\w+\})/).map((part) => {
    if (!/^\{\w+\}$/.test(part)) return part.replace(/[.*+?^${}()|[\]\\]/g, "\\$&");
    holes.push(part.slice(1, -1));
    return null;
  });
  const fitting = (hole: string) => new RegExp(`^${parts.map((part) => part ?? hole).join("")}$`, "s");
  return { fits: [fitting("(.+?)"), fitting("(.+)")], holes, as, literal: literal(phrase) };
}

function inTurn(text: string, phrases: Phrases): string | null {
  const known = phrases.exact.get(text) ?? phrases.done.get(text);
  if (known !== undefined) return known;
  const found = several(text, phrases) ?? byPattern(text, phrases) ?? rowName(text, phrases);
  if (phrases.done.size > 5000) phrases.done.clear(); // a long day of edits must not fill the memory
  phrases.done.set(text, found);
  return found;
}

function byPattern(text: string, phrases: Phrases): string | null {
  for (const pattern of phrases.patterns) {
    const [first, last] = pattern.fits.map((fits) => withValues(pattern, fits.exec(text), phrases));
    const best = first?.isWhole ? first : (last ?? first);
    // a phrase of few words of its own may fit what it was not meant for
    if (best && (best.isWhole || pattern.literal >= LEAST_LITERAL)) return best.text;
  }
  return null;
}

/** A phrase with its values; whole where every value that is to be translated was known. */
function withValues(
  { holes, as }: Pattern,
  match: RegExpExecArray | null,
  phrases: Phrases,
): { text: string; isWhole: boolean } | null {
  if (!match) return null;
  let isWhole = true;
  const text = as.replace(/\{(~?)(\w+)\}/g, (_, inside: string, hole: string) => {
    const value = match[holes.indexOf(hole) + 1] ?? "";
    const known = inside ? inTurn(value, phrases) : value;
    isWhole &&= known !== null;
    return known ?? value;
  });
  return { text, isWhole };
}

/** A row of the job file: `gate "main"`, or `gate 2` where it has no name. */
function rowName(text: string, phrases: Phrases): string | null {
  const [, kind = "", name, number] = /^([a-z ]+) (?:"(.+)"|(\d+))$/.exec(text) ?? [];
  const word = phrases.exact.get(kind);
  if (word === undefined) return null;
  return name === undefined ? `${word} ${number}` : `${word} «${name}»`;
}

/** Labels of edits made as one, or things told one after another; a semicolon in brackets parts nothing. */
function several(text: string, phrases: Phrases): string | null {
  const parts = text.split(/; (?![^(]*\))/);
  if (parts.length < 2) return null;
  const known = parts.map((part) => inTurn(part, phrases));
  return known.every((part) => part !== null) ? known.join("; ") : null;
}

const own: Record<string, Pattern[]> = {};

/** Sentences of the page itself in the language in use; short ones could fit anything. */
function ownPatterns(): readonly Pattern[] {
  const language = languageInUse();
  own[language] ??= ownTexts()
    .filter((text) => literal(text) >= LEAST_LITERAL)
    .map((text) => patternOf(text, ""));
  return own[language];
}
