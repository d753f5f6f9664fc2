/** What was typed into a short form and not yet accepted: it stays for its thing while other panels are looked at. */

interface Typed {
  text: string;
  /** What stood in the field when it was typed; null where that was still to follow an edit accepted before. */
  stood: string | null;
  /** It was accepted: it stands till the design has come that shows it. */
  isSent?: boolean;
  /** It was typed over what was sent, which is accepted: the next value that stands is that one, not a newer. */
  isOverSent?: boolean;
}

/** Fields by form; each form is that of one thing. */
const kept = new Map<string, Map<string, Typed>>();

const formOf = (thing: string, form: string): string => JSON.stringify([thing, form]);

/** Keep what is typed over what stood in a field; null where that is not yet what the job says. */
export function keepTyped(
  thing: string,
  form: string,
  field: string,
  text: string,
  stood: string | null,
): void {
  const name = formOf(thing, form);
  const fields = kept.get(name) ?? new Map<string, Typed>();
  kept.set(name, fields.set(field, { text, stood }));
}

/**
 * What stands in a field: what was typed, unless another revision has set it since. While the design of an accepted
 * edit is on its way (`isBehind`), what comes with it is no newer than what was typed.
 */
export function typedOver(
  thing: string,
  form: string,
  field: string,
  stood: string,
  isBehind = false,
): string {
  const fields = kept.get(formOf(thing, form));
  const typed = fields?.get(field);
  if (typed?.isSent && isBehind) typed.stood = null;
  else if (typed && !typed.isSent && !isBehind) typed.stood ??= stood;
  if (typed?.isOverSent && typed.stood !== stood) {
    typed.stood = stood;
    typed.isOverSent = false;
  }
  if (typed && (typed.stood === stood || (typed.stood === null && isBehind))) return typed.text;
  fields?.delete(field);
  if (fields?.size === 0) kept.delete(formOf(thing, form));
  return stood;
}

/** Whether anything is typed in a form and not yet accepted: what holds it stands open. */
export function isTypedIn(thing: string, form: string): boolean {
  return [...(kept.get(formOf(thing, form))?.values() ?? [])].some(({ isSent }) => !isSent);
}

/**
 * What was sent is accepted: where a value stood, the new one stands till its design has come, and what stood empty is
 * empty again. What was typed over it meanwhile stays.
 */
export function acceptTyped(thing: string, form: string, sent: Readonly<Record<string, string>>): void {
  const fields = kept.get(formOf(thing, form));
  for (const [field, typed] of fields ?? []) {
    if (typed.text.trim() !== sent[field]) typed.isOverSent = typed.stood !== null;
    else if (typed.stood === "") fields?.delete(field);
    else typed.isSent = true;
  }
  if (fields?.size === 0) kept.delete(formOf(thing, form));
}
