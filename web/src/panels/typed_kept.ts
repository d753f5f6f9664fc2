/** What was typed into a short form and not yet accepted: it stays for its thing while other panels are looked at. */

interface Typed {
  text: string;
  /** What stood in the field when it was typed; null where that was still to follow an edit accepted before. */
  stood: string | null;
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
  if (typed && typed.stood === null && !isBehind) typed.stood = stood;
  if (typed && (typed.stood === null || typed.stood === stood)) return typed.text;
  fields?.delete(field);
  if (fields?.size === 0) kept.delete(formOf(thing, form));
  return stood;
}

/** Whether anything is typed in a form: what holds it stands open. */
export function isTypedIn(thing: string, form: string): boolean {
  return kept.has(formOf(thing, form));
}

/** What was sent is accepted; what was typed over it meanwhile stays. */
export function forgetTyped(thing: string, form: string, sent: Readonly<Record<string, string>>): void {
  const name = formOf(thing, form);
  const newer = [...(kept.get(name) ?? [])].filter(([field, { text }]) => text.trim() !== sent[field]);
  if (newer.length === 0) kept.delete(name);
  else kept.set(name, new Map(newer.map(([field, { text }]) => [field, { text, stood: null }])));
}
