/** A table of the job file, or one of its rows, as a form: what was typed stays, a refusal stands at its field. */

import { css, html, LitElement, nothing, type TemplateResult } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import type { Edit } from "../api/client.ts";
import { rowKey } from "../state/row_keys.ts";
import { say } from "../texts/say.ts";
import type { System } from "../units/show.ts";
import { askFor, expectFrom } from "./asking.ts";
import { entryField, entryStyles } from "./entry.ts";
import {
  enteredValue,
  type Field,
  fieldsOf,
  isTooLong,
  type KnownNames,
  type SchemaNode,
  typedOf,
} from "./fields.ts";

interface Typed {
  text: string;
  /** What the job had when typing began. */
  before: string;
}

/** What the job has by now, where that is neither what it was when typing began nor what was typed. */
export function changedElsewhere(typed: Typed | undefined, kept: string): string | undefined {
  return typed && kept !== typed.before && kept !== typed.text ? kept : undefined;
}

@customElement("job-form")
export class JobForm extends LitElement {
  static override styles = [entryStyles, css`:host { display: block; }`];

  @property({ attribute: false }) schema: SchemaNode | null = null;
  /** The table's name in the job file, which says what its fields are. */
  @property() table = "";
  /** Where it stands in the job file; left out: the table itself. */
  @property({ attribute: false }) path: readonly (string | number)[] = [];
  /** Its values as the job file has them. */
  @property({ attribute: false }) values: Record<string, unknown> = {};
  @property({ attribute: false }) known: KnownNames = {};
  /** Keys that are changed elsewhere. */
  @property({ attribute: false }) omit: readonly string[] = [];
  /** Keys that are shown, in this order; left out: all. */
  @property({ attribute: false }) only: readonly string[] | null = null;
  @property() system: System = "us";
  @property({ type: Boolean }) locked = false;
  @state() private refusals: Record<string, string> = {};
  /** What stands in fields that are gone into, or hold what is not yet kept. */
  @state() private typed: Readonly<Record<string, Typed>> = {};

  override willUpdate(changed: Map<string, unknown>): void {
    if (!this.hasUpdated || this.isStill(changed)) return;
    this.refusals = {};
    this.typed = {};
  }

  /** Whether it is about what it was about: a row is the same under another number, and the table itself where it stands. */
  private isStill(changed: Map<string, unknown>): boolean {
    const values = (changed.get("values") ?? this.values) as object;
    if (typeof this.path.at(-1) === "number") return rowKey(values) === rowKey(this.values);
    const named = (path: readonly unknown[]) => path.filter((step) => typeof step === "string").join("/");
    return named((changed.get("path") ?? this.path) as readonly unknown[]) === named(this.path);
  }

  /** What the job has in a field now, as it is typed. */
  private kept(field: Field): string {
    return typedOf(this.values[field.key], field.entry);
  }

  private typing(field: Field, text: string): void {
    const before = this.typed[field.key]?.before ?? this.kept(field);
    this.typed = { ...this.typed, [field.key]: { text, before } };
    if (text !== this.kept(field)) expectFrom(this, this.edit(field, text));
  }

  /** What is typed in a field as an edit. */
  private edit(field: Field, text: string): Edit {
    const path = [...(this.path.length ? this.path : [this.table]), field.key];
    return { kind: "set", path, value: enteredValue(field, text) };
  }

  private forget(key: string): void {
    const { [key]: _, ...rest } = this.typed;
    this.typed = rest;
  }

  /** A field that is left as it was found shows again what the job has. */
  private left(field: Field): void {
    const typed = this.typed[field.key];
    if (typed?.text === typed?.before && !this.refusals[field.key]) this.forget(field.key);
  }

  private changed(field: Field, typed: string): void {
    this.typing(field, typed);
    askFor(this, this.edit(field, typed), (refused) => {
      this.refusals = { ...this.refusals, [field.key]: refused ? refused.sentence || say("lost") : "" };
      if (!refused && this.typed[field.key]?.text === typed) this.forget(field.key);
    });
  }

  /** Say at a field why something else was refused that needs it. */
  refuse(key: string, sentence: string): void {
    this.refusals = { ...this.refusals, [key]: sentence };
    void this.updateComplete.then(() => this.field(key)?.focus());
  }

  /** The entry of a key, to give it the focus. */
  field(key: string): HTMLElement | null {
    return this.renderRoot.querySelector<HTMLElement>(`[name="${key}"]`);
  }

  private get fields(): readonly Field[] {
    const all = this.schema ? fieldsOf(this.schema, this.table, this.known) : [];
    const { only } = this;
    return only ? only.flatMap((key) => all.filter((field) => field.key === key)) : all;
  }

  override render(): TemplateResult {
    const all = this.fields;
    const fields = all.filter(
      (field) => !this.omit.includes(field.key) && !isTooLong(field, this.values[field.key]),
    );
    return html`<form @submit=${(event: Event) => event.preventDefault()}>${
      fields.length
        ? fields.map((field) =>
            entryField(field, {
              table: this.table,
              value: this.values[field.key],
              typed: this.typed[field.key]?.text,
              elsewhere: changedElsewhere(this.typed[field.key], this.kept(field)),
              typing: (text) => this.typing(field, text),
              left: () => this.left(field),
              refused: this.refusals[field.key] ?? "",
              locked: this.locked,
              system: this.system,
              changed: (typed) => this.changed(field, typed),
            }),
          )
        : this.schema
          ? nothing
          : say("loading")
    }</form>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    "job-form": JobForm;
  }
}
