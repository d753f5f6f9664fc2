/** Fetching what comes later, panels and their words: as soon as the drawing stands, so that it is there without the program too. */

import { readLaterWords } from "../texts/program.ts";
import { languageInUse } from "../texts/say.ts";

let isComing = false;

/** Fetch the panels once; where the program cannot be reached they are asked for again the next time. */
export function fetchLaterPanels(): void {
  if (isComing) return;
  isComing = true;
  import("./later_panels.ts").catch(() => {
    isComing = false;
  });
  void fetchLaterWords(languageInUse());
}

/** Words of a language have come that were not there before: what is shown is told again. */
export const wordsCame = new EventTarget();

/** Fetch the words of those panels in a language. */
export async function fetchLaterWords(language: string): Promise<void> {
  if (await readLaterWords(language)) wordsCame.dispatchEvent(new Event("words"));
}
