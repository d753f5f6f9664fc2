/** An edit as a panel asks for it, and how it hears whether it was accepted. */

import type { Edit, ErrorText } from "../api/client.ts";
import type { Told } from "./refused.ts";

export interface EditAsked {
  edit: Edit;
  /** The refusal's sentence, or nothing where it was accepted; the place in the job file that it is about; and it whole. */
  answered?: (refused: string, field?: readonly (string | number)[], told?: ErrorText) => void;
}

/** Ask for an edit; `done` hears the whole refusal, or null where it was accepted, and the place that it is about. */
export function askFor(
  from: EventTarget,
  edit: Edit,
  done: (refused: Told | null, place: readonly (string | number)[]) => void,
): void {
  const answered: EditAsked["answered"] = (refused, place = [], told) =>
    done(refused ? (told ?? { sentence: refused, file: "", item: "" }) : null, place);
  const detail: EditAsked = { edit, answered };
  from.dispatchEvent(new CustomEvent("edit-asked", { detail, bubbles: true, composed: true }));
}

/** Say that an edit will probably be asked for, so that it is designed ahead. */
export function expectFrom(from: EventTarget, edit: Edit): void {
  from.dispatchEvent(new CustomEvent("edit-expected", { detail: edit, bubbles: true, composed: true }));
}
