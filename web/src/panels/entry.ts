/** One field of the job file: its name, what is typed, what it means, and why it was refused. */

import { css, html, nothing, type TemplateResult } from "lit";
import { fieldWords, inPage, langOfSaid } from "../texts/program.ts";
import { say } from "../texts/say.ts";
import type { System } from "../units/show.ts";
import { exampleOf, type Field, typedOf } from "./fields.ts";

export interface EntryState {
  /** Table of the job file that it stands in. */
  table: string;
  /** As the job file has it. */
  value: unknown;
  /** As it was typed and not accepted. */
  typed: string | undefined;
  refused: string;
  locked: boolean;
  system: System;
  changed: (typed: string) => void;
  /** What the job has there by now, where another window changed it under what stands here. */
  elsewhere?: string | undefined;
  /** Told of every stroke, and of a field that is gone into or left. */
  typing?: (shown: string) => void;
  left?: () => void;
}

export const entryStyles = css`
  *, *::before, *::after { box-sizing: border-box; }
  form { display: grid; grid-template-columns: repeat(auto-fill, minmax(min(var(--field-width, 13.5rem), 100%), 1fr)); gap: 0.8rem 1rem; align-items: start; }
  .field { display: grid; gap: 0.2rem; }
  .field > label { display: block; font-weight: 600; }
  .field > label::first-letter { text-transform: uppercase; }
  small { color: var(--soft); }
  input, select, textarea { font: inherit; color: inherit; min-height: 2.75rem; padding: 0 0.6rem; border: 1px solid var(--soft); border-radius: 4px; background: var(--paper); width: 100%; font-variant-numeric: tabular-nums; }
  textarea { padding: 0.5rem 0.6rem; resize: vertical; }
  [aria-invalid="true"] { border: 2px solid var(--stop); }
  .elsewhere { color: var(--caution); overflow-wrap: anywhere; }
  .refused { color: var(--stop); font-weight: 600; overflow-wrap: anywhere; }
  :focus-visible { outline: 3px solid var(--accent); outline-offset: 1px; }
`;

const MOST_ROWS = 8;

export function entryField(field: Field, state: EntryState): TemplateResult {
  const id = `f-${field.key}`;
  const { title, hint } = fieldWords(state.table, field.key) ?? field;
  return html`<div class="field"><label for=${id}>${title}</label>
    ${control(field, id, state)}
    <small id=${`${id}-hint`}>${hint}</small>
    ${state.elsewhere === undefined ? nothing : html`<span class="elsewhere" role="status">${say("changed_elsewhere", { value: state.elsewhere || say("usual") })}</span>`}
    ${state.refused ? html`<span class="refused" role="alert" lang=${langOfSaid(state.refused)}>${inPage(state.refused)}</span>` : nothing}</div>`;
}

function control(field: Field, id: string, state: EntryState): TemplateResult {
  const shown = state.typed ?? typedOf(state.value, field.entry);
  const changed = (event: Event) => state.changed((event.target as HTMLInputElement).value);
  const typing = (event: Event) => state.typing?.((event.target as HTMLInputElement).value);
  const left = () => state.left?.();
  const isRefused = state.refused !== "";
  const hint = `${id}-hint`;
  if (field.entry === "choice" || field.entry === "flag") return choice(field, id, shown, state, changed);
  if (field.entry === "texts" || field.entry === "points") {
    const rows = Math.min(MOST_ROWS, Math.max(2, shown.split("\n").length));
    return html`<textarea id=${id} name=${field.key} rows=${rows} .value=${shown} ?disabled=${state.locked} spellcheck="false"
      placeholder=${say(field.entry === "points" ? "one_point_a_line" : "one_a_line")}
      aria-invalid=${isRefused} aria-describedby=${hint} @focus=${typing} @input=${typing} @change=${changed} @blur=${left}></textarea>`;
  }
  return html`<input id=${id} name=${field.key} .value=${shown} ?disabled=${state.locked} placeholder=${placeholder(field, state.system)}
    aria-invalid=${isRefused} aria-describedby=${hint} aria-required=${field.isRequired} autocomplete="off" @focus=${typing} @input=${typing} @change=${changed} @blur=${left} />`;
}

function placeholder(field: Field, system: System): string {
  const example = exampleOf(field, system);
  if (example) return say("for_example", { example });
  return field.isRequired ? say("must_be_stated") : say("usual");
}

/** A choice among the job's own lines: their names are nobody's to translate. */
function isOwnName(field: Field): boolean {
  return field.key === "line";
}

function choice(
  field: Field,
  id: string,
  shown: string,
  state: EntryState,
  changed: (event: Event) => void,
): TemplateResult {
  const own = field.entry === "flag" ? ["true", "false"] : field.choices;
  const choices = shown && !own.includes(shown) ? [...own, shown] : own;
  const words = (each: string) =>
    field.entry === "flag" ? say(each === "true" ? "yes" : "no") : isOwnName(field) ? each : inPage(each);
  return html`<select id=${id} name=${field.key} ?disabled=${state.locked} aria-invalid=${state.refused !== ""} aria-describedby=${`${id}-hint`} @change=${changed}>
    <option value="" ?selected=${shown === ""}>${field.isRequired ? "–" : say("usual")}</option>
    ${choices.map((each) => html`<option value=${each} ?selected=${each === shown}>${words(each)}</option>`)}
  </select>`;
}
