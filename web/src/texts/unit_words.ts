/** Units that are words (`piece`, `bag`), as many as there are of them, in the page's language. */

import { nothing } from "lit";
import { plural } from "../units/plural.ts";
import { inPage, langOf } from "./program.ts";

/** A unit in the page's language: more than one of it where the plural is known there. */
export function unitWord(unit: string, value: number | null): string {
  const many = value === 1 ? unit : plural(unit);
  return langOf(many) === nothing ? inPage(many) : inPage(unit);
}
