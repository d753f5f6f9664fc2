/**
 * What the program says in English, in the page's language: findings, labels of edits, names of things and values.
 *
 * The program's words come whole, with their numbers in them. A language has a file of phrases, each the program's own
 * with its values as holes (`move corner {number} of {thing}`), and what it is in that language; a hole written
 * `{~thing}` there is translated in turn. What no phrase fits stays English and is marked as such.
 * tests/docs/page_reader.py reads the phrases in the same way: what changes here changes there.
 */

import { nothing } from "lit";
import findingsEn from "./findings.en.json";
import { languageInUse, ownTexts, wordOr } from "./say.ts";

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
  own: string;
  /** Its longest stretch between holes: a text without it does not fit, which is seen at once. */
  stretch: string;
  /** Holes that take as little as they can, the first little and the rest much, or much: `42 in in sand` is read one way only. */
  fits: () => readonly [RegExp, ...RegExp[]];
  holes: readonly string[];
  as: string;
  /** Letters that are the phrase's own. */
  literal: number;
}

const LEAST_LITERAL = 12;
/** Words that a value has at most: `give {files}` is not meant for half a sentence. */
const MOST_WORDS = 3;
/** What is the same in every language: numbers with their units, names of posts, files, ids, what stands in quotes. */
const BARE =
  /^(?:"[^"]*"|'[^']*'|`[^`]*`|(?:price|programme):[\w.-]+|[A-Z]+\d[\w-]*|[\w./-]+\.\w{2,7}|[A-Z]+(?:[a-z]+[A-Z]+)*|(?:in|ft[23]?|mi|mm|m[23]?|km|yd3|lb|lbf|kN|kg|deg|psf|psi|h|x)(?![a-z])|[^A-Za-z])+$/;
/** One of several people or places: nobody translates a name. */
const NAME = /^[A-Z][\w.'-]*(?: [A-Z][\w.'-]*)*$/;

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
  return languageInUse() === PROGRAM || translated(text) !== null || BARE.test(text) ? nothing : PROGRAM;
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

/** What holds a fault, in the page's language: `gate 2 "main", opening`; null where the program's words for it are not known. */
export function placeInPage(item: string): string | null {
  return languageInUse() === PROGRAM ? item : (placeWords(item) ?? translated(item));
}

/** A table of the job, its row, key and value, by their own words: `gate 1 "main", opening`, `[paper] logo`, `fence rails 3`. */
function placeWords(item: string): string | null {
  const [, own = "", key = "", value = ""] = /^([a-z_]+) ([a-z_]+) (\S.*)$/s.exec(item) ?? [];
  const title = fieldWords(own, key)?.title;
  if (title !== undefined) return `${tableInPage(own) ?? own}, ${title}: ${value}`;
  const steps = /^\[(\w+)\] (\w+)$/.exec(item)?.slice(1) ?? item.split(/, (?=[^"]*(?:"[^"]*"[^"]*)*$)/);
  const [first = "", ...rest] = steps;
  const table = /^[a-z_]+/.exec(first.replace(/[[\]]/g, ""))?.[0] ?? "";
  const said = [stepWords(first, ""), ...rest.map((step) => stepWords(step, table))];
  return said.every((word) => word !== null) ? said.join(", ") : null;
}

/** One step of it: a word, numbers of rows, a name. */
function stepWords(step: string, table: string): string | null {
  const [, word = "", numbers = "", name] =
    /^(?:\[\[)?([A-Za-z_]*(?: [a-z]+)*)(?:\]\])?((?: ?[\dA-F]+)*)(?: ?"(.*)")?$/s.exec(step) ?? [];
  if (!word && !numbers) return null;
  const known = word === "" ? "" : table ? keyInPage(table, word) : tableInPage(word);
  return known === null ? null : `${known}${numbers}${name === undefined ? "" : ` «${name}»`}`;
}

function tableInPage(table: string): string | null {
  return wordOr(`row_${table}`, wordOr(`table_${table}`, "")) || translated(table.replaceAll("_", " "));
}

/** A key by the title of its field; what has none is named as it stands in the file. */
function keyInPage(table: string, key: string): string {
  return fieldWords(table, key)?.title ?? translated(key.replaceAll("_", " ")) ?? key;
}

/** The same for a sentence that may be the page's own, such as a refusal. */
export function langOfSaid(text: string): string | typeof nothing {
  if (languageInUse() === PROGRAM || text === "") return nothing;
  return ownPatterns().some(({ stretch, fits }) => text.includes(stretch) && fits()[0].test(text))
    ? nothing
    : langOf(text);
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
  const stretches = phrase.split(/\{\w+\}/);
  let made: [RegExp, ...RegExp[]] | undefined;
  return {
    own: phrase,
    stretch: stretches.reduce((longest, each) => (each.length > longest.length ? each : longest)),
    fits: () => {
      made ??= fitsOf(stretches); // most phrases are never needed
      return made;
    },
    holes: (phrase.match(/\{\w+\}/g) ?? []).map((hole) => hole.slice(1, -1)),
    as,
    literal: literal(phrase),
  };
}

function fitsOf(stretches: readonly string[]): [RegExp, ...RegExp[]] {
  const [first = "", ...rest] = stretches.map((each) => each.replace(/[.*+?^${}()|[\]\\]/g, "\\$&"));
  const fitting = (one: string, others: string) =>
    new RegExp(
      `^${rest.reduce((text, each, place) => `${text}${place ? others : one}${each}`, first)}$`,
      "s",
    );
  return [fitting("(.+?)", "(.+?)"), fitting("(.+?)", "(.+)"), fitting("(.+)", "(.+)")];
}

function inTurn(text: string, phrases: Phrases): string | null {
  const known = phrases.exact.get(text) ?? phrases.done.get(text);
  if (known !== undefined) return known;
  const found =
    (text.includes("; ") ? byPattern(text, phrases, "; ") : null) ??
    several(text, phrases) ??
    byPattern(text, phrases) ??
    rowName(text, phrases) ??
    withSize(text, phrases) ??
    held(text, phrases) ??
    listed(text, phrases);
  if (phrases.done.size > 5000) phrases.done.clear(); // a long day of edits must not fill the memory
  phrases.done.set(text, found);
  return found;
}

/** A value inside a phrase: where nothing fits it whole, a list of known things, or what is no word at all. */
function insideOf(text: string, phrases: Phrases): string | null {
  return inTurn(text, phrases) ?? (BARE.test(text) ? text : placeWords(text));
}

/** What parts the things of a list, and what does so in the page's language. */
const COMMAS = [
  [", ", ", "],
  [" and ", " y "],
  [" or ", " o "],
] as const;

/** `clay, silty sand and 3 more`: every one of them known. */
function listed(text: string, phrases: Phrases): string | null {
  for (const [comma, own] of COMMAS) {
    const parts = text.split(comma);
    if (parts.length < 2) continue;
    const known = parts.map((part) => insideOf(part, phrases) ?? (NAME.test(part) ? part : null));
    if (known.every((part) => part !== null)) return known.join(own);
  }
  return null;
}

/** A thing with its size behind it: `round post 4.5 in x 8 ft`. */
function withSize(text: string, phrases: Phrases): string | null {
  const [, thing = "", size = ""] = /^([a-z][a-z ,-]*?) (\d[^"]*)$/.exec(text) ?? [];
  const known = BARE.test(size) ? inTurn(thing, phrases) : null;
  return known === null ? null : `${known} ${size}`;
}

/** A sentence behind what holds the fault, as the command line prints it: `job.toml: programme, work_days: ...`. */
function held(text: string, phrases: Phrases): string | null {
  const [, file = "", rest = ""] = /^([^\s:]+\.\w+: )?(.+)$/s.exec(text) ?? [];
  const whole = file ? inTurn(rest, phrases) : null;
  if (whole !== null) return `${file}${whole}`;
  const [, item = "", sentence = ""] = /^([\w[\] ",]+): (.+)$/s.exec(rest) ?? [];
  const known = sentence ? inTurn(sentence, phrases) : null;
  const holder = known === null ? null : (placeWords(item) ?? (BARE.test(item) ? item : null));
  return holder === null ? null : `${file}${holder}: ${known}`;
}

/** The phrase that fits: one of those alone that part something, where that is given. */
function byPattern(text: string, phrases: Phrases, parting = ""): string | null {
  let best: Filled | null = null;
  for (const pattern of phrases.patterns) {
    if (!text.includes(pattern.stretch) || !pattern.own.includes(parting)) continue;
    for (const fits of pattern.fits()) {
      const found = withValues(pattern, fits.exec(text), phrases);
      if (found?.doubts === 0) return found.text;
      // a phrase of few words of its own may fit what it was not meant for
      const may = !parting && pattern.literal >= LEAST_LITERAL;
      if (found && may && found.doubts < (best?.doubts ?? Infinity)) best = found;
    }
  }
  return best?.text ?? null;
}

/** A phrase with its values. */
interface Filled {
  text: string;
  /** Ten for each value that is to be translated and is not known, one for each that looks like half a sentence. */
  doubts: number;
}

function withValues({ holes, as }: Pattern, match: RegExpExecArray | null, phrases: Phrases): Filled | null {
  if (!match) return null;
  let doubts = 0;
  const text = as.replace(/\{(~?)(\w+)\}/g, (_, inside: string, hole: string) => {
    const value = match[holes.indexOf(hole) + 1] ?? "";
    const known = inside ? insideOf(value, phrases) : value;
    doubts += known === null ? 10 : Number(!inside && !mayStand(value));
    return known ?? value;
  });
  return { text, doubts };
}

/** Whether a value may be one of a phrase's, and is no half of another sentence. */
function mayStand(value: string): boolean {
  const words = value.replace(/"[^"]*"|`[^`]*`/g, "").match(/(?<!\S)[a-z]{2,}(?![\w.])/g) ?? [];
  return words.length <= MOST_WORDS;
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
  const known = parts.map((part) => insideOf(part, phrases));
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
