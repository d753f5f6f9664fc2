/** What was typed into a short form and not yet accepted: it stays for its thing while other panels are looked at. */

interface Typed {
  text: string;
  /** What stood in the field when it was typed. */
  stood: string;
}

/** Fields by form; each form is that of one thing. */
const kept = new Map<string, Map<string, Typed>>();

const formOf = (thing: string, form: string): string => JSON.stringify([thing, form]);

/** Keep what is typed over what stood in a field. */
export function keepTyped(thing: string, form: string, field: string, text: string, stood: string): void {
  const name = formOf(thing, form);
  const fields = kept.get(name) ?? new Map<string, Typed>();
  kept.set(name, fields.set(field, { text, stood }));
}

/** What stands in a field: what was typed, unless another revision has set it since. */
export function typedOver(thing: string, form: string, field: string, stood: string): string {
  const fields = kept.get(formOf(thing, form));
  const typed = fields?.get(field);
  if (typed?.stood === stood) return typed.text;
  fields?.delete(field);
  if (fields?.size === 0) forgetTyped(thing, form);
  return stood;
}

/** Whether anything is typed in a form: what holds it stands open. */
export function isTypedIn(thing: string, form: string): boolean {
  return kept.has(formOf(thing, form));
}

/** It was accepted. */
export function forgetTyped(thing: string, form: string): void {
  kept.delete(formOf(thing, form));
}
