/** The page's words: one file a language, chosen once, read by key. */

import en from "./en.json";
import es from "./es.json";

export type Key = keyof typeof en;

const LANGUAGES: Record<string, Record<Key, string>> = { en, es };
const KEPT_AS = "fencewright-language";

let language = chosen();

function chosen(): string {
  const asked = kept() ?? (typeof navigator === "undefined" ? "en" : navigator.language.slice(0, 2));
  return asked in LANGUAGES ? asked : "en";
}

function kept(): string | null {
  try {
    return localStorage.getItem(KEPT_AS);
  } catch {
    return null; // a browser may refuse storage
  }
}

/** The languages shipped. */
export const languages: readonly string[] = Object.keys(LANGUAGES);

/** The language in use. */
export function languageInUse(): string {
  return language;
}

/** Change the language; the caller draws the page again. */
export function setLanguage(code: string): void {
  if (!(code in LANGUAGES)) return;
  language = code;
  document.documentElement.lang = code;
  try {
    localStorage.setItem(KEPT_AS, code);
  } catch {
    // it holds for this page alone
  }
}

/** A text by key, with `{name}` filled in from the values. */
export function say(key: Key, values: Record<string, string | number> = {}): string {
  return filled((LANGUAGES[language] ?? en)[key] ?? en[key], values);
}

/** The same in English, for what is kept with the job: the program's own labels of edits are English. */
export function sayInEnglish(key: Key, values: Record<string, string | number> = {}): string {
  return filled(en[key], values);
}

function filled(text: string, values: Record<string, string | number>): string {
  return text.replace(/\{(\w+)\}/g, (whole, name: string) => (name in values ? String(values[name]) : whole));
}

/** Every text of the page in the language in use. */
export function ownTexts(): readonly string[] {
  return Object.values(LANGUAGES[language] ?? en);
}

/** A text by a key that may not be there: then the word that was given. */
export function wordOr(key: string, word: string): string {
  return key in en ? say(key as Key) : word;
}
