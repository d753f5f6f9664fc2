/** The job file's own text: what is typed stays while others go on, and a refusal leads to its line. */

import { css, html, LitElement, nothing, type TemplateResult } from "lit";
import { customElement, property, query, state } from "lit/decorators.js";
import type { JobState } from "../api/client.ts";
import { controls } from "../look/controls.ts";
import { say } from "../texts/say.ts";
import type { EditAsked } from "./asking.ts";
import { refusedWhole, type Told } from "./refused.ts";
import { lineOfPlace, lineSaid } from "./text_place.ts";

const FILE = "job.toml";

@customElement("job-text")
export class JobText extends LitElement {
  static override styles = [
    controls,
    css`
      :host { display: block; }
      textarea { width: 100%; min-height: 20rem; font-family: ui-monospace, "DejaVu Sans Mono", monospace; font-size: 0.85rem; padding: 0.5rem; }
    `,
  ];

  @property({ attribute: false }) job: JobState | null = null;
  @property({ type: Boolean }) locked = false;
  /** What is typed and not kept, and the text of the job that it began from. */
  @state() private typed: { text: string; before: string } | null = null;
  @state() private refused: Told | null = null;
  @state() private line = 0;
  @query("textarea") private area!: HTMLTextAreaElement;

  override willUpdate(changed: Map<string, unknown>): void {
    const before = changed.get("job") as JobState | null | undefined;
    if (before && before.id !== this.job?.id) this.takePresent();
  }

  private takePresent = (): void => {
    this.typed = null;
    this.refused = null;
  };

  private typing = (): void => {
    const { value } = this.area;
    const before = this.typed?.before ?? this.job?.text ?? "";
    this.typed = value === before ? null : { text: value, before };
  };

  private use = (event: Event): void => {
    event.preventDefault();
    const text = this.area.value;
    const answered: EditAsked["answered"] = (refused, field = [], told) => {
      this.refused = refused ? { sentence: refused, file: told?.file ?? "", item: told?.item ?? "" } : null;
      if (refused) this.goTo(lineSaid(refused) || lineOfPlace(text, field));
      else if (this.typed?.text === text) this.typed = null;
    };
    const detail: EditAsked = { edit: { kind: "replace_text", text }, answered };
    this.dispatchEvent(new CustomEvent("edit-asked", { detail, bubbles: true, composed: true }));
  };

  /** Put the cursor on a line of the text, the line chosen whole. */
  private goTo(line: number): void {
    this.line = line;
    if (!line) return;
    const lines = this.area.value.split("\n");
    const start = lines.slice(0, line - 1).reduce((sum, each) => sum + each.length + 1, 0);
    this.area.focus();
    this.area.setSelectionRange(start, start + (lines[line - 1]?.length ?? 0));
    this.area.scrollTop = (this.area.scrollHeight * (line - 1)) / lines.length - this.area.clientHeight / 2;
  }

  override render(): TemplateResult | typeof nothing {
    const { job, typed } = this;
    if (!job) return nothing;
    const isElsewhere = typed !== null && job.text !== typed.before && job.text !== typed.text;
    return html`<form @submit=${this.use}><label for="text"><span>${FILE}</span><textarea id="text" name="text" spellcheck="false" .value=${typed?.text ?? job.text} ?disabled=${this.locked} aria-invalid=${this.refused !== null} @input=${this.typing}></textarea></label>
      ${isElsewhere ? html`<p role="status">${say("text_changed_elsewhere")}</p><div class="row"><button type="button" @click=${this.takePresent}>${say("take_present_text")}</button></div><p></p>` : nothing}
      ${this.refused ? refusedWhole(this.refused, FILE) : nothing}
      ${this.refused && this.line ? html`<p class="quiet">${say("in_text_line", { number: String(this.line) })}</p>` : nothing}
      <button class="main" ?disabled=${this.locked}>${say("use_text")}</button></form>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    "job-text": JobText;
  }
}
