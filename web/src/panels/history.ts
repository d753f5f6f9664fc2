/** The history of a job: every revision, a name for it, and what changed since. */

import { css, html, LitElement, nothing, type TemplateResult } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import { api, type ChangeInfo, type RevisionInfo } from "../api/client.ts";
import { controls } from "../look/controls.ts";
import { inPage, langOf, langOfSaid } from "../texts/program.ts";
import { languageInUse, say } from "../texts/say.ts";
import { changeWords } from "./change_words.ts";
import { answered } from "./kept_answers.ts";

@customElement("job-history")
export class JobHistory extends LitElement {
  static override styles = [
    controls,
    css`
      ol { list-style: none; padding: 0; margin: 0; }
      li { border-bottom: 1px solid var(--line); padding: 0.4rem 0; display: grid; gap: 0.3rem; }
      li[aria-current="true"] { border-left: 5px solid var(--accent); padding-left: 0.6rem; }
      .undone { color: var(--soft); text-decoration: line-through; }
      .changes { margin: 0; padding-left: 1.2rem; font-size: 0.9rem; }
    `,
  ];

  @property() jobId = "";
  @property({ type: Number }) head = 0;
  @property({ type: Boolean }) locked = false;
  @state() private revisions: RevisionInfo[] = [];
  @state() private changes: { of: number; rows: ChangeInfo[] } | null = null;
  @state() private refused = "";

  override updated(changed: Map<string, unknown>): void {
    if (changed.has("head") || changed.has("jobId") || changed.has("locked"))
      void this.doing(() => this.load());
  }

  private async load(): Promise<void> {
    const asked = () => api.history(this.jobId);
    this.revisions = await answered(`${this.jobId} ${this.head} history`, !this.locked, asked);
  }

  private async doing(act: () => Promise<void>): Promise<void> {
    try {
      await act();
      this.refused = "";
    } catch (error) {
      this.refused = error instanceof Error && error.message ? error.message : say("lost");
    }
  }

  private name(revision: RevisionInfo, event: Event): void {
    const typed = (event.target as HTMLInputElement).value.trim();
    void this.doing(async () => {
      await api.nameRevision(this.jobId, revision.number, typed);
      await this.load();
    });
  }

  override render(): TemplateResult {
    return html`<h2>${say("panel_history")}</h2>${this.refused ? html`<p class="refused" role="alert" lang=${langOfSaid(this.refused)}>${inPage(this.refused)}</p>` : nothing}
      <ol>${[...this.revisions].reverse().map((revision) => this.one(revision))}</ol>`;
  }

  private one(revision: RevisionInfo): TemplateResult {
    const when = new Date(revision.made_ms).toLocaleString(languageInUse(), {
      dateStyle: "medium",
      timeStyle: "medium",
    });
    const open = this.changes?.of === revision.number ? this.changes.rows : null;
    return html`<li aria-current=${revision.present}>
      <span class=${revision.done ? "" : "undone"}>${revision.number}. <span lang=${langOf(revision.label)}>${inPage(revision.label)}</span> <small>${when}</small>${revision.aside ? html` <small>${say("kept_aside")}</small>` : nothing}</span>
      <div class="row">
        <label for=${`n-${revision.number}`}><span>${say("name")}</span><input id=${`n-${revision.number}`} .value=${revision.name} @change=${(event: Event) => this.name(revision, event)} /></label>
        <button @click=${() =>
          void this.doing(async () => {
            this.changes = {
              of: revision.number,
              rows: await api.changes(this.jobId, revision.number, this.head),
            };
          })} ?disabled=${revision.present}>${say("changes_since")}</button>
        <button ?disabled=${revision.present || this.locked} @click=${() =>
          void this.doing(async () => {
            const state = await api.returnTo(this.jobId, this.head, revision.number);
            this.dispatchEvent(
              new CustomEvent("job-adopted", { detail: state, bubbles: true, composed: true }),
            );
          })} aria-label=${`${say("return_to")}: ${revision.number}`}>${say("return_to")}</button>
      </div>
      ${open ? html`<ul class="changes">${open.length === 0 ? html`<li>${say("no_changes")}</li>` : open.map((change) => html`<li>${changeWords(change)}</li>`)}</ul>` : nothing}
    </li>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    "job-history": JobHistory;
  }
}
