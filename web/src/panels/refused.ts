/** A refusal that has no field of its own on screen: file, item and sentence, as the command line prints it. */

import { html, nothing, type TemplateResult } from "lit";
import { type ErrorText, Refusal } from "../api/client.ts";
import { inPage, langOfSaid, placeInPage } from "../texts/program.ts";
import { say } from "../texts/say.ts";

export type Told = Pick<ErrorText, "sentence" | "file" | "item">;

/** What an error says; one without words of its own is a line that was lost. */
export function toldOf(error: unknown): Told {
  if (error instanceof Refusal) return error.told;
  return { sentence: error instanceof Error ? error.message : String(error), file: "", item: "" };
}

/** What holds the fault, before the sentence: `orchard.toml: gate 2, leaf: `; `file` is left out where it goes without saying. */
export function holderOf({ file, item }: Told, own = ""): string {
  return [file === own ? "" : file, placeInPage(item) ?? item]
    .filter(Boolean)
    .map((part) => `${part}: `)
    .join("");
}

export function refusedWhole(told: Told, own = ""): TemplateResult {
  const { sentence, item } = told;
  return html`<p class="refused" role="alert"><span lang=${item && placeInPage(item) === null ? "en" : nothing}>${holderOf(told, own)}</span><span lang=${langOfSaid(sentence)}>${inPage(sentence) || say("lost")}</span></p>`;
}
