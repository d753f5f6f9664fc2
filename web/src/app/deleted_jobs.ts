/** Jobs that were deleted and can still be brought back. */

import { css, html, LitElement, nothing, type TemplateResult } from "lit";
import { customElement, property, query, state } from "lit/decorators.js";
import { api, type JobSummary, Refusal } from "../api/client.ts";
import { controls } from "../look/controls.ts";
import { inPage, langOfSaid } from "../texts/program.ts";
import { languageInUse, say } from "../texts/say.ts";

/** Tells `restored` once a job is back among the others. */
@customElement("deleted-jobs")
export class DeletedJobs extends LitElement {
  static override styles = [
    controls,
    css`
      :host { display: block; margin-top: 1.5rem; }
      summary { min-height: 2.75rem; display: flex; align-items: center; cursor: pointer; font-weight: 600; }
      summary::before { content: "▸"; margin-right: 0.5rem; }
      details[open] > summary::before { content: "▾"; }
      ul { list-style: none; margin: 0.5rem 0; padding: 0; display: grid; gap: 0.5rem; }
      li { display: flex; flex-wrap: wrap; gap: 0.3rem 0.8rem; align-items: center; border-top: 1px solid var(--line); padding-top: 0.5rem; }
      li > span { flex: 1 1 12rem; overflow-wrap: anywhere; }
      small { display: block; }
    `,
  ];

  /** The job deleted last: with another one the list is fetched anew. */
  @property({ attribute: false }) last: JobSummary | null = null;
  @state() private jobs: JobSummary[] | null = null;
  @state() private keptDays = 0;
  @state() private refused = "";
  @query("details") private details!: HTMLDetailsElement;

  override updated(changed: Map<string, unknown>): void {
    if (changed.has("last") && this.details.open) this.fetch();
  }

  private async doing(act: () => Promise<void>): Promise<void> {
    this.refused = "";
    try {
      await act();
      const [jobs, about] = await Promise.all([api.deletedJobs(), api.about()]);
      this.jobs = jobs;
      this.keptDays = about.deleted_kept_days;
    } catch (error) {
      const isTold = error instanceof Refusal && !error.isLost;
      this.refused = isTold ? error.message : say("lost");
    }
  }

  private fetch(): void {
    void this.doing(async () => undefined);
  }

  private putBack(job: JobSummary): void {
    void this.doing(async () => {
      await api.restoreJob(job.id);
      this.dispatchEvent(new CustomEvent("restored"));
    });
  }

  override render(): TemplateResult {
    return html`<details @toggle=${() => this.details.open && this.fetch()}>
      <summary>${say("deleted_jobs")}</summary>
      ${this.refused ? html`<p class="refused" role="alert" lang=${langOfSaid(this.refused)}>${inPage(this.refused)}</p>` : nothing}
      ${this.jobs === null ? nothing : html`<p class="quiet">${say(this.jobs.length ? "deleted_kept" : "no_deleted_jobs", { days: this.keptDays })}</p>`}
      <ul>${(this.jobs ?? []).map((job) => this.one(job))}</ul>
    </details>`;
  }

  private one(job: JobSummary): TemplateResult {
    const when = new Date(job.deleted_ms ?? 0).toLocaleString(languageInUse(), {
      dateStyle: "medium",
      timeStyle: "short",
    });
    return html`<li><span>${job.name}<small>${say("deleted_on", { when })}</small></span>
      <button @click=${() => this.putBack(job)} aria-label=${`${say("put_back")}: ${job.name}`}>${say("put_back")}</button></li>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    "deleted-jobs": DeletedJobs;
  }
}
