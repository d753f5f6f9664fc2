/** What panels share that ask for edits: short forms whose fields become one, and buttons that are one. */

import { html, LitElement, nothing, type TemplateResult } from "lit";
import { property, state } from "lit/decorators.js";
import { keyed } from "lit/directives/keyed.js";
import { live } from "lit/directives/live.js";
import type { Edit } from "../api/client.ts";
import { inPage, langOfSaid } from "../texts/program.ts";
import { type Key, say } from "../texts/say.ts";
import { type EditAsked, expectFrom } from "./asking.ts";
import { whenNear } from "./near.ts";
import { acceptTyped, isTypedIn, keepTyped, typedOver } from "./typed_kept.ts";

/** A field of a short form: its key in the job file, what it is called, and what stands in it. */
export type ShortField = readonly [key: string, words: string, value: string];

export class AskingPanel extends LitElement {
  @property({ type: Boolean }) locked = false;
  /** The design of an accepted edit is on its way: what stands in the fields is of the one before. */
  @property({ type: Boolean }) behind = false;
  @state() protected refused = "";
  /** Form and field that were refused: the sentence stands there, and what was typed stays. */
  @state() private refusedIn = "";
  @state() private refusedAt = "";

  /** What the forms are about: those of another thing begin with nothing typed. */
  private about = "";

  /** Begin anew where another thing is chosen. */
  protected isAbout(thing: string): void {
    if (thing === this.about) return;
    this.about = thing;
    this.refused = "";
  }

  protected ask(edit: Edit, done?: () => void): void {
    this.askFrom(edit, "", {}, done);
  }

  private askFrom(edit: Edit, form: string, typed: Record<string, string>, done?: () => void): void {
    const answered: EditAsked["answered"] = (refused, place) => {
      this.refused = refused;
      this.refusedIn = form;
      this.refusedAt = refused ? fieldOf(refused, place ?? [], typed) : "";
      if (!refused) done?.();
    };
    this.tell("edit-asked", { edit, answered } satisfies EditAsked);
  }

  protected tell(name: string, detail: unknown): void {
    this.dispatchEvent(new CustomEvent(name, { detail, bubbles: true, composed: true }));
  }

  /**
   * A form whose fields become an edit, known by the keys of its texts; what cannot be read here is refused here. What stands in its fields follows the
   * job until something is typed; what was typed stays for this thing, the panel gone and come again, until it is
   * accepted or another revision sets the field.
   */
  protected form(
    title: Key,
    fields: readonly ShortField[],
    make: (typed: Record<string, string>) => Edit | string,
    name: Key = title,
  ): TemplateResult {
    const { about } = this;
    const taken = (sent: Record<string, string>) => {
      acceptTyped(about, name, sent);
      this.requestUpdate();
    };
    const typedIn = (form: HTMLFormElement): Record<string, string> =>
      Object.fromEntries([...new FormData(form)].map(([key, value]) => [key, String(value).trim()]));
    const expects = (event: Event) => {
      const form = (event.currentTarget as HTMLElement).closest("form");
      const edit = form ? make(typedIn(form)) : "";
      if (typeof edit !== "string") expectFrom(this, edit);
    };
    const typing = (event: Event) => {
      const { name: key, value: text } = event.target as HTMLInputElement;
      const stood = fields.find(([each]) => each === key)?.[2] ?? "";
      keepTyped(about, name, key, text, this.behind ? null : stood);
      expects(event);
    };
    const sent = (event: Event) => {
      event.preventDefault();
      const form = event.target as HTMLFormElement;
      const typed = typedIn(form);
      const edit = make(typed);
      if (typeof edit !== "string") return this.askFrom(edit, name, typed, () => taken(typed));
      if (!edit) taken(typed);
      this.refused = edit;
      this.refusedIn = name;
      this.refusedAt = fields.length === 1 ? (fields[0]?.[0] ?? "") : "";
    };
    const isRefused = this.refused !== "" && this.refusedIn === name;
    const sentence = html`<span class="refused" role="alert" lang=${langOfSaid(this.refused)}>${inPage(this.refused)}</span>`;
    const one = ([key, words, value]: ShortField) => {
      const isHere = isRefused && this.refusedAt === key;
      return html`<label for=${`${name}-${key}`}><span>${words}</span><input id=${`${name}-${key}`} name=${key} .value=${live(typedOver(about, name, key, value, this.behind))} ?disabled=${this.locked} aria-invalid=${isHere} autocomplete="off" />${isHere ? sentence : nothing}</label>`;
    };
    const made = html`<form @submit=${sent} @input=${typing} aria-label=${say(name)}><div class="row">${fields.map(one)}
      <button ?disabled=${this.locked} ${whenNear(expects)}>${say(title)}</button></div>
      ${isRefused && !this.refusedAt ? html`<p>${sentence}</p>` : nothing}</form>`;
    return html`${keyed(about, made)}`;
  }

  /** Something is typed in a form of this thing and not yet accepted. */
  protected isTypedIn(form: Key): boolean {
    return isTypedIn(this.about, form);
  }

  protected act(words: string, edit: Edit, done?: () => void): TemplateResult {
    const expects = () => expectFrom(this, edit);
    return html`<button ?disabled=${this.locked} ${whenNear(expects)} @click=${() => this.ask(edit, done)}>${words}</button>`;
  }

  /** A refusal that no form holds. */
  protected refusal(): TemplateResult | typeof nothing {
    return this.refused && !this.refusedIn
      ? html`<p class="refused" role="alert" lang=${langOfSaid(this.refused)}>${inPage(this.refused)}</p>`
      : nothing;
  }

  protected showPlaceButton(act: () => void): TemplateResult {
    return html`<button @click=${act}>${say("show_place")}</button>`;
  }
}

/** Which of the typed fields a refusal is about: the one it names, or the one whose text it quotes. */
function fieldOf(
  refused: string,
  place: readonly (string | number)[],
  typed: Record<string, string>,
): string {
  const named = place.findLast((step) => String(step) in typed);
  if (named !== undefined) return String(named);
  const quoted = Object.entries(typed).filter(
    ([, text]) => refused.startsWith(`'${text}'`) || refused.startsWith(`"${text}"`),
  );
  return quoted.length === 1 ? (quoted[0]?.[0] ?? "") : "";
}
